"""Commands: what they take, and the exit status they end with."""

import inspect
import json
import os
import sys
from contextlib import suppress
from http import HTTPStatus
from pathlib import Path
from typing import Any, NoReturn, cast

import click

from lastvolt import EMBEDDED, Client, LastvoltError, RequestRefused
from lastvolt._generated.service import MEDIA_TYPES
from lastvolt.cli import demo as story
from lastvolt.cli import flags, given, show
from lastvolt.cli import meter as readings
from lastvolt.cli.batch import batch

PASSED, FAILED, INTERRUPTED = 0, 1, 130
JSON = "json"
_FIELDS = {"operation", "request"}


class _Commands(click.Group):
    """Commands whose status 1 says that a check has failed, and nothing else."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; click ends with 1 where a pipe is closed, and where Ctrl-C ends it."""
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            sys.exit(INTERRUPTED)
        except OSError as error:
            # What is left in the buffer must not be tried again at the end.
            with suppress(OSError):
                os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            if isinstance(error, BrokenPipeError):  # whoever reads has enough
                sys.exit(show.COULD_NOT_RUN)
            show.stop(f"The answer could not be written: {error.strerror or error}")


@click.group(cls=_Commands)
@click.version_option(package_name="lastvolt")
def lastvolt() -> None:
    """Tell whether the last volt arrives: automotive DC circuit calculations."""


lastvolt.add_command(batch)


@lastvolt.command()
@click.option("--all", "whole", is_flag=True, help="Tell all of it, which is long.")
def demo(whole: bool) -> None:
    """Tell of an invented mobile-library coach that does not start hot.

    What to do, what it was measured by, and the proof. Needs no server and no network.
    """
    try:
        with Client(EMBEDDED) as client:
            for line in story.tell(client, show.width(), whole=whole):
                click.echo(line)
    except LastvoltError as error:
        show.error(error)
        sys.exit(show.COULD_NOT_RUN)


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


def _answer(operation: str, request: dict[str, Any], *, form: str, url: str | None) -> NoReturn:
    """Print what is asked in the form that is wanted, and end as its checks come out."""
    try:
        with Client(url) as client:
            answer = client.call(operation, request)
            told = _told(client, operation, request, answer, form)
    except LastvoltError as error:
        show.error(error)
        sys.exit(show.COULD_NOT_RUN)
    if sys.stdout.isatty():
        if isinstance(told, bytes):
            show.stop(f"A terminal cannot show this: --as {form} > FILE")
        if form == "txt":
            told = "\n".join(show.wrapped(told, show.width()))
    click.echo(told, nl=isinstance(told, str))
    _exit(answer)


def _told(
    client: Client, operation: str, request: dict[str, Any], answer: dict[str, Any], form: str
) -> str | bytes:
    if form == JSON:
        return json.dumps(answer, indent=2, ensure_ascii=False)
    try:
        told: str | bytes = client.report(operation, request, cast(Any, form))
    except RequestRefused as error:
        if error.status != HTTPStatus.NOT_FOUND:
            raise
        show.stop(f"There is no {form} of {operation}: --as json has all of it.")
    return told


_HOW = (
    click.Option(
        ["--as", "form"],
        type=click.Choice([*MEDIA_TYPES, JSON]),
        default="txt",
        show_default=True,
        help="Words as they can be posted, a page to print, a picture, or the raw answer.",
    ),
    click.Option(
        ["--url"], help="Service to ask; by default LASTVOLT_URL, else none but this process."
    ),
)


def _check(file: Path, **how: Any) -> None:
    """Answer one request FILE; - reads it from standard input.

    The file holds {"operation": "voltage-drop", "request": {...}}. Exit status: 0 all checks
    passed or none failed, 1 a check failed, 2 the request could not be answered.
    """
    _answer(*_read(file), **how)


lastvolt.add_command(
    click.Command(
        "check", callback=_check, params=[given.argument(), *_HOW], help=inspect.getdoc(_check)
    )
)
lastvolt.add_command(flags.command("quick-answer", _answer, *_HOW))
lastvolt.add_command(readings.group(_answer, *_HOW))


def _exit(answer: dict[str, Any]) -> NoReturn:
    failed = any(item["verdict"] == "fail" for item in answer.get("checks", ()))
    sys.exit(FAILED if failed else PASSED)


def _read(file: Path) -> tuple[str, dict[str, Any]]:
    found = given.json_object(file)
    if set(found) != _FIELDS:
        show.stop(f'{file}: the file must hold {{"operation": …, "request": …}} and nothing else')
    operation, request = found["operation"], found["request"]
    if not isinstance(operation, str) or not isinstance(request, dict):
        show.stop(f"{file}: operation must be text and request an object")
    return operation, request
