"""The version of the installed distribution, read when somebody asks."""

from functools import cache


@cache
def version() -> str:
    """Tell the version.

    Returns
    -------
    str
        ``"unknown"`` where the package runs without its metadata.
    """
    from importlib import metadata  # here: it costs more than the rest of the import

    try:
        return metadata.version("lastvolt")
    except metadata.PackageNotFoundError:
        return "unknown"
