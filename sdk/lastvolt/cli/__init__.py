"""The command ``lastvolt`` (extra ``cli``)."""

import sys


def main() -> None:
    """Run the command line; say what is missing when the extra is not installed."""
    try:
        from lastvolt.cli.commands import lastvolt
    except ImportError as error:
        sys.exit(f"The command needs more packages ({error}): pip install 'lastvolt[cli]'")
    lastvolt()
