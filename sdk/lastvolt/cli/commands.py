"""Commands: what they take, and the exit status they end with."""

import json
import os
import sys
from pathlib import Path
from typing import Any, NoReturn

import click
from rich.console import Console

from lastvolt import EMBEDDED, Client, LastvoltError
from lastvolt.cli import demo as story
from lastvolt.cli import flags, show
from lastvolt.cli import meter as readings
from lastvolt.cli.batch import batch

PASSED, FAILED, COULD_NOT_RUN = 0, 1, 2
_FIELDS = {"operation", "request"}


@click.group()
@click.version_option(package_name="lastvolt")
def lastvolt() -> None:
    """Tell whether the last volt arrives: automotive DC circuit calculations."""


lastvolt.add_command(batch)


@lastvolt.command()
def demo() -> None:
    """Work through the starter circuit of an invented mobile-library coach.

    Needs no server and no network.
    """
    try:
        with Client(EMBEDDED) as client:
            story.tell(client, Console(highlight=False))
    except LastvoltError as error:
        show.error(error)
        sys.exit(COULD_NOT_RUN)


@lastvolt.command()
@click.option("--bind", metavar="HOST:PORT", help="Address to listen on, for LASTVOLT_BIND.")
@click.option("--workers", help="Processes, for LASTVOLT_WORKERS; one per core by default.")
def serve(bind: str | None, workers: str | None) -> None:
    """Serve the REST interface with gunicorn, by default on loopback only."""
    try:
        from gunicorn.app.wsgiapp import WSGIApplication
    except ImportError:
        raise click.ClickException("Serving needs gunicorn: pip install 'lastvolt[cli]'") from None
    # As settings, not as options of gunicorn: the service checks them, warns of an open address,
    # and listens for metrics beside it.
    for name, value in (("LASTVOLT_BIND", bind), ("LASTVOLT_WORKERS", workers)):
        if value is not None:
            os.environ[name] = value
    sys.argv = ["lastvolt serve", "--config", "python:lastvolt_service.gunicorn_conf"]
    WSGIApplication("%(prog)s").run()


@lastvolt.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the raw answer.")
@click.option("--url", help="Service to ask; by default LASTVOLT_URL, else none but this process.")
def check(file: Path, as_json: bool, url: str | None) -> None:
    """Answer one request FILE.

    The file holds {"operation": "voltage-drop", "request": {...}}. Exit status: 0 all checks
    passed or none failed, 1 a check failed, 2 the request could not be answered.
    """
    operation, request = _read(file)
    answer = _ask(operation, request, url)
    if as_json:
        _print_json(answer)
    else:
        show.answer(Console(highlight=False), operation, answer)
    _exit(answer)


def _in_words(operation: str, request: dict[str, Any], *, as_json: bool, url: str | None) -> None:
    """Answer what flags ask: in words, as they can be posted."""
    answer = _ask(operation, request, url)
    if as_json:
        _print_json(answer)
    else:
        click.echo(_report(operation, request, url))
    _exit(answer)


_HOW = (
    click.Option(["--json", "as_json"], is_flag=True, help="Print the raw answer."),
    click.Option(
        ["--url"], help="Service to ask; by default LASTVOLT_URL, else none but this process."
    ),
)
lastvolt.add_command(flags.command("quick-answer", _in_words, *_HOW))
lastvolt.add_command(readings.group(_in_words, *_HOW))


def _ask(operation: str, request: dict[str, Any], url: str | None) -> dict[str, Any]:
    try:
        with Client(url) as client:
            return client.call(operation, request)
    except LastvoltError as error:
        show.error(error)
        sys.exit(COULD_NOT_RUN)


def _report(operation: str, request: dict[str, Any], url: str | None) -> str:
    try:
        with Client(url) as client:
            return client.report(operation, request, "txt")
    except LastvoltError as error:
        show.error(error)
        sys.exit(COULD_NOT_RUN)


def _print_json(answer: dict[str, Any]) -> None:
    click.echo(json.dumps(answer, indent=2, ensure_ascii=False))


def _exit(answer: dict[str, Any]) -> NoReturn:
    failed = any(item["verdict"] == "fail" for item in answer.get("checks", ()))
    sys.exit(FAILED if failed else PASSED)


def _read(file: Path) -> tuple[str, dict[str, Any]]:
    try:
        given = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError) as error:
        _stop(f"{file}: {error}")
    if not isinstance(given, dict) or set(given) != _FIELDS:
        _stop(f'{file}: the file must hold {{"operation": …, "request": …}} and nothing else')
    operation, request = given["operation"], given["request"]
    if not isinstance(operation, str) or not isinstance(request, dict):
        _stop(f"{file}: operation must be text and request an object")
    return operation, request


def _stop(message: str) -> NoReturn:
    click.echo(message, err=True)
    sys.exit(COULD_NOT_RUN)
