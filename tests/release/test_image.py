"""The image and its deployment, as far as they can be held without an engine that builds images."""

import json
import os
import re
import shutil
import subprocess
import sysconfig
import time
import tomllib
import venv
from dataclasses import fields
from pathlib import Path

import kubernetes_validate
import pytest
import requests
import yaml

from lastvolt_service import gunicorn_conf
from lastvolt_service.config import PREFIX, Config

ROOT = Path(__file__).parents[2]
DOCKERFILE = (ROOT / "Dockerfile").read_text(encoding="utf-8")
# Comments away, continued lines joined.
STEPS = re.sub(r"^#.*\n", "", DOCKERFILE, flags=re.M).replace("\\\n", " ").splitlines()
MANIFEST = ROOT / "service" / "deploy" / "kubernetes.yaml"
KINDS = {part["kind"]: part for part in yaml.safe_load_all(MANIFEST.read_text(encoding="utf-8"))}
POD = KINDS["Deployment"]["spec"]["template"]["spec"]
(CONTAINER,) = POD["containers"]
SETTINGS = {PREFIX + field.name.upper() for field in fields(Config)}
VERSION = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]


def steps(name):
    return [step.removeprefix(f"{name} ") for step in STEPS if step.startswith(f"{name} ")]


def test_dockerfile_follows_the_rules_of_hadolint():
    linter = Path(sysconfig.get_path("scripts"), "hadolint")
    found = subprocess.run(
        [linter, "--no-color", ROOT / "Dockerfile"], capture_output=True, text=True, timeout=60
    )
    assert found.returncode == 0, found.stdout + found.stderr


def test_nothing_unpinned_goes_into_the_image():
    (base,) = {step.partition(" AS ")[0] for step in steps("FROM")}
    assert base == "${BASE}"
    (python,) = re.findall(r"^ARG BASE=python:(\d+\.\d+\.\d+)-slim-\w+$", DOCKERFILE, re.M)
    for lock in ("requirements.lock", "build.lock"):
        command = (ROOT / "service" / lock).read_text(encoding="utf-8").splitlines()[1]
        assert f"--python-version {python} " in command
    installs = [part for step in steps("RUN") for part in step.split("&&") if "pip" in part]
    installs = [part for part in installs if re.search(r"\b(install|wheel)\b", part)]
    assert len(installs) == 4
    for part in installs:
        assert "--require-hashes" in part or "--no-index" in part, part


def test_image_runs_without_rights():
    (user,) = steps("USER")
    assert re.fullmatch(r"[1-9]\d{3,}:[1-9]\d{3,}", user)
    assert user == "{runAsUser}:{runAsGroup}".format(**POD["securityContext"])


@pytest.mark.parametrize("kind", ["Deployment", "Service", "HorizontalPodAutoscaler"])
def test_manifest_is_valid(kind):
    kubernetes_validate.validate(KINDS[kind], kubernetes_validate.latest_version(), strict=True)


def test_manifest_names_what_there_is(client):
    assert CONTAINER["image"] == f"lastvolt:{VERSION}"
    assert {setting["name"] for setting in CONTAINER["env"]} <= SETTINGS
    for probe in ("startupProbe", "livenessProbe", "readinessProbe"):
        assert CONTAINER[probe]["httpGet"]["port"] == "http"
        assert client.get(CONTAINER[probe]["httpGet"]["path"]).status_code == 200
    ports = {port["name"]: port["containerPort"] for port in CONTAINER["ports"]}
    assert steps("EXPOSE") == [str(ports["http"])]
    given = {setting["name"]: setting["value"] for setting in CONTAINER["env"]}
    assert given["LASTVOLT_METRICS"].endswith(f":{ports['metrics']}")
    assert given["LASTVOLT_WORKERS"] == CONTAINER["resources"]["limits"]["cpu"]
    target = KINDS["HorizontalPodAutoscaler"]["spec"]["scaleTargetRef"]["name"]
    assert target == KINDS["Deployment"]["metadata"]["name"]


def test_pod_is_given_no_more_than_it_needs():
    assert POD["automountServiceAccountToken"] is False
    assert POD["securityContext"]["runAsNonRoot"] is True
    assert POD["securityContext"]["seccompProfile"] == {"type": "RuntimeDefault"}
    assert CONTAINER["securityContext"] == {
        "allowPrivilegeEscalation": False,
        "readOnlyRootFilesystem": True,
        "capabilities": {"drop": ["ALL"]},
    }
    assert set(CONTAINER["resources"]["limits"]) == {"cpu", "memory"}


def test_pod_is_given_the_time_to_finish():
    pause_s = CONTAINER["lifecycle"]["preStop"]["sleep"]["seconds"]
    assert pause_s >= 5
    assert POD["terminationGracePeriodSeconds"] > pause_s + gunicorn_conf.graceful_timeout


@pytest.mark.long
def test_steps_of_the_image_make_a_service_that_answers(tmp_path):
    """The pip steps as they stand in the Dockerfile, its command and its health check."""
    build, target, tools = (tmp_path / name for name in ("build", "lastvolt", "tools"))
    build.mkdir()
    for source, goal in (step.rsplit(" ", 1) for step in steps("COPY") if "--from" not in step):
        for name in source.split():
            copy = shutil.copytree if (ROOT / name).is_dir() else shutil.copy
            place = build / goal if (ROOT / name).is_dir() else build / goal / Path(name).name
            place.parent.mkdir(parents=True, exist_ok=True)
            copy(ROOT / name, place)
    venv.create(tools, with_pip=True)
    keep = {name: value for name, value in os.environ.items() if not name.startswith("LASTVOLT_")}
    environment = keep | {"PATH": f"{tools / 'bin'}:{keep['PATH']}"}
    for step in steps("RUN"):
        if "apt-get" not in step:
            step = step.replace("/opt/lastvolt", str(target))
            subprocess.run(["sh", "-ec", step], cwd=build, env=environment, check=True)
    environment = keep | {
        "PATH": f"{target / 'bin'}:{keep['PATH']}",
        "LASTVOLT_BIND": "127.0.0.1:18752",
    }
    command = json.loads(steps("CMD")[0])
    health = json.loads(steps("HEALTHCHECK")[0].partition(" CMD ")[2])
    with subprocess.Popen(command, cwd=tmp_path, env=environment) as server:
        try:
            end = time.monotonic() + 30
            while subprocess.run(health, env=environment, capture_output=True).returncode:
                assert time.monotonic() < end
                time.sleep(0.2)
            answer = requests.get("http://127.0.0.1:18752/readyz", timeout=5).json()
            assert answer["computed_by"]["service"] == VERSION
        finally:
            server.terminate()
