"""``python sdk/generate``: write `lastvolt._generated` anew from the OpenAPI document."""

import json
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "sdk"))  # in place of this folder, which python put there

from generate.render import rendered  # noqa: E402  only now is it found

DOCUMENT = ROOT / "service" / "lastvolt_service" / "openapi.json"
TARGET = ROOT / "sdk" / "lastvolt" / "_generated"


def main() -> None:
    """Write what has changed, and take away what is no longer made."""
    document = json.loads(DOCUMENT.read_text("utf-8"))
    made = {TARGET / path: text for path, text in rendered(document).items()}
    for path in set(TARGET.rglob("*.py")) - made.keys():
        path.unlink()
    for path, text in made.items():
        if not path.exists() or path.read_text("utf-8") != text:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, "utf-8")


if __name__ == "__main__":
    main()
