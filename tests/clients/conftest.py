"""The published document, a service that answers, and the tools that npm brings."""

import fcntl
import hashlib
import json
import os
import shutil
import subprocess
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

import pytest

from lastvolt import Client

DOCUMENT = Path(__file__).parents[2] / "service" / "lastvolt_service" / "openapi.json"
TYPESCRIPT = Path(__file__).parent / "typescript"
INSTALL_S = 240


@dataclass(frozen=True)
class Asked:
    """One operation with the name of its request and a worked example."""

    operation_id: str
    tag: str
    path: str
    request: str
    example: dict[str, Any]


def operations() -> list[Asked]:
    """Every operation of the published document that takes and gives JSON by POST."""
    found = []
    for path, methods in json.loads(DOCUMENT.read_text("utf-8"))["paths"].items():
        taken = methods.get("post", {}).get("requestBody", {}).get("content", {})
        if "application/json" in taken and "{" not in path:
            post, body = methods["post"], taken["application/json"]
            found.append(
                Asked(
                    operation_id=post["operationId"],
                    tag=post["tags"][0],
                    path=path,
                    request=body["schema"]["$ref"].rpartition("/")[2],
                    example=body["examples"]["worked"]["value"],
                )
            )
    return found


def answer_of_the_sdk(client: Client, operation: Asked) -> dict[str, Any]:
    """Ask for the example through the package, and write the answer as JSON has it."""
    name = operation.path.removeprefix("/v1/")
    if operation.tag != "batch":
        return client.call(name, operation.example)
    given = operation.example
    (piece,) = client.batch(
        name.removeprefix("batch/"), given["columns"], constants=given.get("constants")
    )
    answer: dict[str, Any] = json.loads(json.dumps(asdict(piece)))
    assert answer.pop("first_row") == 0
    return answer


@pytest.fixture(scope="session")
def node_modules(request: pytest.FixtureRequest) -> Path:
    """Install what the lock file names, once, into pytest's cache."""
    request.getfixturevalue("node")
    lock = (TYPESCRIPT / "package-lock.json").read_bytes()
    folder = request.config.cache.mkdir(f"npm-{hashlib.sha256(lock).hexdigest()[:16]}")
    with (folder / "lock").open("w") as guard:
        fcntl.flock(guard, fcntl.LOCK_EX)  # parallel runs install once
        if not (folder / "done").exists():
            for name in ("package.json", "package-lock.json", ".npmrc"):
                shutil.copy(TYPESCRIPT / name, folder)
            run("npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund", cwd=folder)
            (folder / "done").touch()
    return folder / "node_modules"


def run(*command: str | Path, cwd: Path, **environment: str) -> str:
    """Run a command; what it says is what a failure shows."""
    done = subprocess.run(
        command,
        cwd=cwd,
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        timeout=INSTALL_S,
    )
    assert done.returncode == 0, f"{command[0]} failed:\n{done.stdout}\n{done.stderr}"
    return done.stdout
