"""A Python client made by a public generator is whole and gets the SDK's answers."""

import importlib
import os
import pkgutil
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from lastvolt import Client

from .conftest import DOCUMENT, Asked, answer_of_the_sdk, operations, run

NAME = "generated_lastvolt_client"
# What the generator does not know is bytes to it.
SETTINGS = """
content_type_overrides:
  application/x-ndjson: application/octet-stream
  image/svg+xml: application/octet-stream
  image/png: application/octet-stream
"""


@pytest.fixture(scope="session")
def generated(tmp_path_factory: pytest.TempPathFactory) -> ModuleType:
    folder = tmp_path_factory.mktemp("python")
    settings = folder / "settings.yml"
    settings.write_text(SETTINGS, "utf-8")
    run(
        sys.executable, "-m", "openapi_python_client", "generate", "--path", DOCUMENT,
        "--meta", "none", "--output-path", folder / NAME, "--config", settings,
        "--fail-on-warning", cwd=folder,
        # It formats with the ruff that it finds there.
        PATH=os.pathsep.join((str(Path(sys.executable).parent), os.environ["PATH"])),
    )  # fmt: skip
    sys.path.insert(0, str(folder))
    try:
        return importlib.import_module(NAME)
    finally:
        sys.path.remove(str(folder))


def asked(generated: ModuleType, operation: Asked, body: Any, url: str) -> Any:
    module = importlib.import_module(f"{NAME}.api.{operation.tag}.{operation.operation_id}")
    with generated.Client(base_url=url) as client:
        return module.sync_detailed(client=client, body=body)


def body_of(operation: Asked) -> Any:
    models = importlib.import_module(f"{NAME}.models")
    return getattr(models, operation.request).from_dict(operation.example)


def test_every_module_can_be_imported(generated: ModuleType) -> None:
    names = [each.name for each in pkgutil.walk_packages(generated.__path__, f"{NAME}.")]
    assert len(names) > 100
    for name in names:
        importlib.import_module(name)


@pytest.mark.parametrize("operation", operations(), ids=lambda operation: operation.operation_id)
def test_it_gets_the_answers_of_the_sdk(
    generated: ModuleType, operation: Asked, server_url: str
) -> None:
    answer = asked(generated, operation, body_of(operation), server_url)
    assert answer.status_code == 200
    with Client(server_url) as client:
        assert answer.parsed.to_dict() == answer_of_the_sdk(client, operation)


def test_it_reads_tables_words_and_problems(generated: ModuleType, server_url: str) -> None:
    operation = next(each for each in operations() if each.operation_id == "wire_resistance")
    with Client(server_url) as client:
        sizes = client.call("conductors", {"standard": "SAE"})
        words = client.report("wire-resistance", operation.example)
    api = f"{NAME}.api"
    models = importlib.import_module(f"{NAME}.models")
    with generated.Client(base_url=server_url) as client:
        table = importlib.import_module(f"{api}.wires.conductors").sync(
            client=client, standard=models.ConductorsStandard.SAE
        )
        report = importlib.import_module(f"{api}.reports.report_md").sync(
            models.ReportMdOperation.WIRE_RESISTANCE, client=client, body=body_of(operation)
        )
    assert table.to_dict() == sizes
    assert report == words

    wrong = models.WireResistanceRequest(size="99 AWG", length_m=1.0)
    refused = asked(generated, operation, wrong, server_url)
    assert refused.status_code == 422
    assert [error.pointer for error in refused.parsed.errors] == ["#/size"]
