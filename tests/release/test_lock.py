"""The lock files: complete, hash-checked, above every floor; and the list of parts made of them."""

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.version import Version

ROOT = Path(__file__).parents[2]
LOCK = ROOT / "service" / "requirements.lock"
BUILD_LOCK = ROOT / "service" / "build.lock"
PYPROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
EXTRAS = PYPROJECT["project"]["optional-dependencies"]
# What a caller, a person at a terminal or a contributor needs, and the service does not.
NOT_IN_THE_IMAGE = {"cli", "dask", "dev", "units"}
PIN = re.compile(r"^([a-z0-9-]+)==(\S+) \\\n((?:    --hash=sha256:[0-9a-f]{64}(?: \\)?\n)+)", re.M)
# Floors of security, beyond which versions are known to be unsafe: marshmallow's advisory
# GHSA-428g-f7cq-pgp5 (CVE-2025-68480: a denial of service by a crafted request).
SAFE = {"marshmallow": "4.1.2"}


def pins(lock):
    """Version by name; a line that is neither pin, hash nor comment fails."""
    text = re.sub(r"^ *#.*\n", "", lock.read_text(encoding="utf-8"), flags=re.M)
    assert PIN.sub("", text) == ""
    found = {name: Version(version) for name, version, _ in PIN.findall(text)}
    assert len(found) == len(PIN.findall(text))
    return found


def asked(extra):
    """Requirements of an extra, those of extras that it names included."""
    for text in EXTRAS[extra]:
        requirement = Requirement(text)
        if requirement.name == PYPROJECT["project"]["name"]:
            for inner in sorted(requirement.extras):
                yield from asked(inner)
        else:
            yield requirement


def assert_locked(requirement, locked):
    name = requirement.name.lower().replace("_", "-")
    assert name in locked, requirement
    assert requirement.specifier.contains(locked[name], prereleases=True), requirement


@pytest.mark.parametrize("extra", sorted(set(EXTRAS) - NOT_IN_THE_IMAGE))
def test_lock_meets_every_requirement_of_the_service(extra):
    """If not, run the command at the top of the lock file."""
    command = LOCK.read_text(encoding="utf-8").splitlines()[1]
    assert f" --extra {extra} " in command
    locked = pins(LOCK)
    for requirement in asked(extra):
        assert_locked(requirement, locked)


def test_lock_meets_the_base_requirements():
    for text in PYPROJECT["project"]["dependencies"]:
        assert_locked(Requirement(text), pins(LOCK))


def test_build_is_locked():
    for text in PYPROJECT["build-system"]["requires"]:
        assert f"'{text}'" in BUILD_LOCK.read_text(encoding="utf-8").splitlines()[1]
        assert_locked(Requirement(text), pins(BUILD_LOCK))


@pytest.mark.parametrize("name", SAFE)
def test_no_version_that_is_known_to_be_unsafe(name):
    assert pins(LOCK)[name] >= Version(SAFE[name])
    (requirement,) = (each for each in asked("service") if each.name == name)
    below = Version(SAFE[name]).release
    assert not requirement.specifier.contains(f"{below[0]}.{below[1]}.{below[2] - 1}")


def test_list_of_parts(tmp_path):
    """The SBOM (CycloneDX) of a release lists what the lock pins, each with its hashes."""
    made = tmp_path / "sbom.json"
    subprocess.run(
        [sys.executable, "-m", "cyclonedx_py", "requirements", "--pyproject", "pyproject.toml",
         "--output-reproducible", "--validate", "--output-file", made, LOCK],
        cwd=ROOT, check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    listed = json.loads(made.read_text(encoding="utf-8"))
    assert listed["bomFormat"] == "CycloneDX"
    assert listed["metadata"]["component"]["name"] == "lastvolt"
    assert listed["metadata"]["component"]["version"] == PYPROJECT["project"]["version"]
    parts = {part["name"]: Version(part["version"]) for part in listed["components"]}
    assert parts == pins(LOCK)
    for part in listed["components"]:
        (source,) = part["externalReferences"]
        assert source["hashes"], part["name"]
