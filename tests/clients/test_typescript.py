"""A TypeScript client made by a public generator compiles and gets the SDK's answers."""

import json
import shutil
from pathlib import Path

import pytest

from lastvolt import Client

from .conftest import DOCUMENT, TYPESCRIPT, answer_of_the_sdk, operations, run

HEAD = 'import { answered, blamed, client, wrong } from "./asking.js";\n'
TAIL = """
answers["blamed"] = await blamed();
answers["refused by the compiler"] = wrong.length;
console.log(JSON.stringify(answers));
"""


def program() -> str:
    """Ask for every operation, with the examples as literals that the compiler checks."""
    lines = [HEAD, "const answers: Record<string, unknown> = {};"]
    for each in operations():
        body = json.dumps(each.example)
        call = f'client.POST("{each.path}", {{ body: {body} }})'
        lines.append(f'answers["{each.operation_id}"] = answered(await {call});')
    return "\n".join(lines) + TAIL


@pytest.fixture
def project(tmp_path: Path, node_modules: Path) -> Path:
    for name in ("package.json", "tsconfig.json", "asking.ts"):
        shutil.copy(TYPESCRIPT / name, tmp_path)
    (tmp_path / "node_modules").symlink_to(node_modules)
    (tmp_path / "calls.ts").write_text(program(), "utf-8")
    return tmp_path


def test_it_compiles_and_gets_the_answers_of_the_sdk(project: Path, server_url: str) -> None:
    tools = project / "node_modules" / ".bin"
    run(
        tools / "openapi-typescript", DOCUMENT, "--output", "schema.ts",
        "--default-non-nullable=false", cwd=project,
    )  # fmt: skip
    run(tools / "tsc", "--project", ".", cwd=project)
    answers = json.loads(run("node", "built/calls.js", cwd=project, LASTVOLT_URL=server_url))
    assert answers.pop("blamed") == ["#/size"]
    assert answers.pop("refused by the compiler") > 0
    with Client(server_url) as client:
        expected = {each.operation_id: answer_of_the_sdk(client, each) for each in operations()}
    assert answers == expected
