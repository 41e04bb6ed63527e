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

import pytest
import requests
import yaml

from lastvolt_service import gunicorn_conf
from lastvolt_service.api.problems import PROBLEMS
from lastvolt_service.config import PREFIX, Config

ROOT = Path(__file__).parents[2]
DOCKERFILE = (ROOT / "Dockerfile").read_text(encoding="utf-8")
# Comments away, continued lines joined.
STEPS = re.sub(r"^#.*\n", "", DOCKERFILE, flags=re.M).replace("\\\n", " ").splitlines()
DEPLOY = ROOT / "service" / "deploy"
MANIFEST = DEPLOY / "kubernetes.yaml"
PROXY_CONFIG = (DEPLOY / "nginx.conf").read_text(encoding="utf-8")
KINDS = {part["kind"]: part for part in yaml.safe_load_all(MANIFEST.read_text(encoding="utf-8"))}
POD = KINDS["Deployment"]["spec"]["template"]["spec"]
(CONTAINER,) = POD["initContainers"]
(PROXY,) = POD["containers"]
GIVEN = {setting["name"]: setting["value"] for setting in CONTAINER["env"]}
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
    import kubernetes_validate  # only here: it takes seconds, and all workers collect

    kubernetes_validate.validate(KINDS[kind], kubernetes_validate.latest_version(), strict=True)


def test_manifest_names_what_there_is(client):
    assert CONTAINER["image"] == f"lastvolt:{VERSION}"
    assert GIVEN.keys() <= SETTINGS
    ports = {port["name"]: port["containerPort"] for port in CONTAINER["ports"]}
    for container, names in (
        (CONTAINER, ("startupProbe", "livenessProbe", "readinessProbe")),
        (PROXY, ("readinessProbe",)),
    ):
        named = {port["name"] for port in container["ports"]}
        for name in names:
            assert container[name]["httpGet"]["port"] in named
            assert client.get(container[name]["httpGet"]["path"]).status_code == 200
    assert GIVEN["LASTVOLT_PROBES"] == f"0.0.0.0:{ports['probes']}"
    assert GIVEN["LASTVOLT_METRICS"] == f"0.0.0.0:{ports['metrics']}"
    assert GIVEN["LASTVOLT_WORKERS"] == CONTAINER["resources"]["limits"]["cpu"]
    target = KINDS["HorizontalPodAutoscaler"]["spec"]["scaleTargetRef"]["name"]
    assert target == KINDS["Deployment"]["metadata"]["name"]


def told(directive):
    """Values of a directive of nginx.conf, wherever it stands."""
    return re.findall(rf"^ *{directive} ([^;{{]+);", PROXY_CONFIG, re.M)


def test_proxy_fits_the_service():
    """nginx.conf, the manifest and the settings say the same."""
    (listen,) = told("listen")
    assert [str(port["containerPort"]) for port in PROXY["ports"]] == [listen]
    assert KINDS["Service"]["spec"]["ports"][0]["targetPort"] == PROXY["ports"][0]["name"]
    assert {server.split()[0] for server in told("server")} == {GIVEN["LASTVOLT_BIND"]}
    assert steps("EXPOSE") == [GIVEN["LASTVOLT_BIND"].partition(":")[2]]
    probes = GIVEN["LASTVOLT_PROBES"].partition(":")[2]
    assert set(told("proxy_pass")) == {"http://lastvolt", f"http://127.0.0.1:{probes}"}
    assert GIVEN["LASTVOLT_TRUSTED_PROXIES"] == "1"
    limits = [int(limit.removesuffix("m")) * 1024**2 for limit in told("client_max_body_size")]
    assert limits == [Config().max_body_bytes, Config().max_batch_body_bytes, 0]
    # The service's own deadlines come first, with their answer.
    waits_s = [float(wait.removesuffix("s")) for wait in told("proxy_read_timeout")]
    assert waits_s[0] > Config().deadline_s
    assert waits_s[1] > Config().batch_deadline_s
    command = PROXY["command"]
    folders = {mount["mountPath"]: mount["name"] for mount in PROXY["volumeMounts"]}
    volumes = {volume["name"]: volume for volume in POD["volumes"]}
    assert "emptyDir" in volumes[folders[command[command.index("-p") + 1]]]
    config = Path(command[command.index("-c") + 1])
    kustomization = yaml.safe_load((DEPLOY / "kustomization.yaml").read_text(encoding="utf-8"))
    (generated,) = kustomization["configMapGenerator"]
    assert volumes[folders[str(config.parent)]]["configMap"]["name"] == generated["name"]
    assert generated["files"] == [config.name]
    assert kustomization["resources"] == [MANIFEST.name]


def test_problems_of_the_proxy_are_those_of_the_service():
    said = re.findall(r"^ *(\d+|default) '(\"type\":.*)';$", PROXY_CONFIG, re.M)
    assert len(said) == 12
    for status, text in said:
        problem = json.loads(f"{{{text}}}")
        assert problem.keys() == {"type", "title", "detail"}
        if problem["type"] != "about:blank":
            known = PROBLEMS[problem["type"].removeprefix("/problems/")]
            assert (problem["title"], problem["detail"], status) == (
                known.title, known.meaning, str(known.status),
            )  # fmt: skip


def test_proxy_takes_its_configuration(programs, tmp_path):
    (nginx,) = programs("nginx", packages="nginx-light")
    found = subprocess.run(
        [nginx, "-t", "-e", "stderr", "-p", tmp_path, "-c", DEPLOY / "nginx.conf"],
        capture_output=True, text=True, timeout=60,
    )  # fmt: skip
    assert found.returncode == 0, found.stderr
    assert "warn" not in found.stderr


def test_pod_is_given_no_more_than_it_needs():
    assert POD["automountServiceAccountToken"] is False
    assert POD["securityContext"]["runAsNonRoot"] is True
    assert POD["securityContext"]["seccompProfile"] == {"type": "RuntimeDefault"}
    for container in (CONTAINER, PROXY):
        assert container["securityContext"] == {
            "allowPrivilegeEscalation": False,
            "readOnlyRootFilesystem": True,
            "capabilities": {"drop": ["ALL"]},
        }
        assert set(container["resources"]["limits"]) == {"cpu", "memory"}


def test_pod_is_given_the_time_to_finish():
    """First the proxy ends, with what it has accepted, and only then the service."""
    assert CONTAINER["restartPolicy"] == "Always"
    pause_s = PROXY["lifecycle"]["preStop"]["sleep"]["seconds"]
    assert pause_s >= 5
    (running,) = told("worker_shutdown_timeout")
    running_s = float(running.removesuffix("s"))
    assert running_s > max(float(wait.removesuffix("s")) for wait in told("proxy_read_timeout"))
    whole_s = pause_s + running_s + gunicorn_conf.graceful_timeout
    assert POD["terminationGracePeriodSeconds"] > whole_s


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
        "LASTVOLT_PROBES": "127.0.0.1:18753",
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
