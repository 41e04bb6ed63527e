"""Commands of operations: each field that is no list a flag, as the document has it."""

import inspect
import re
from collections.abc import Callable, Iterator
from typing import Any, Literal, get_args, get_origin, get_type_hints

import click

from lastvolt import Client, Omit

# What says how an answer is made stands in `lastvolt check` alone.
_NOT_ASKED = {"self", "explain"}
_LINE = re.compile(r"^(\w+) : .*\n((?:^    .*\n?)+)", re.MULTILINE)


class _Number(click.ParamType[Any]):
    """A number, or text with its unit: the client converts that."""

    name = "number"

    def convert(self, value: Any, *_: Any) -> Any:
        """Take a number for one."""
        try:
            return float(value)
        except ValueError:
            return value


class _Whole(click.Choice[str]):
    """One of a few whole numbers."""

    def convert(self, value: Any, *rest: Any) -> Any:
        """Give the number."""
        return int(super().convert(value, *rest))


def command(
    operation: str,
    answer: Callable[..., None],
    *more: click.Parameter,
    left_out: frozenset[str] = frozenset(),
) -> click.Command:
    """Make the command of an operation.

    Parameters
    ----------
    operation : str
        As in its path.
    answer : callable
        Takes the operation, its request, and the values of `more` by name; prints and exits.
    *more : click.Parameter
        Flags beside the fields.
    left_out : frozenset of str
        Fields that come from elsewhere.
    """
    method = getattr(Client, operation.replace("-", "_"))
    names = {each.name for each in more}

    def run(**given: Any) -> None:
        options = {name: given.pop(name) for name in names & given.keys()}
        request = {name: value for name, value in given.items() if value is not None}
        answer(operation, request, **options)

    text = inspect.getdoc(method) or ""
    about = text.partition("\n\nParameters\n")[0]
    params = _options(method, left_out)
    return click.Command(operation, callback=run, params=[*params, *more], help=about)


def _options(method: Callable[..., Any], left_out: frozenset[str]) -> Iterator[click.Option]:
    lines = _LINE.findall(inspect.getdoc(method) or "")
    told = {name: " ".join(words.split()).replace("``", "") for name, words in lines}
    hints = get_type_hints(method)
    for name, each in inspect.signature(method).parameters.items():
        if name in _NOT_ASKED | left_out:
            continue
        kinds = [kind for kind in _parts(hints[name]) if kind is not Omit]
        flag = name.replace("_", "-")
        is_flag = kinds == [bool]
        yield click.Option(
            [f"--{flag}/--no-{flag}" if is_flag else f"--{flag}", name],
            type=None if is_flag else _type(kinds),
            default=None,
            required=each.default is inspect.Parameter.empty,
            help=told[name],
        )


def _parts(hint: Any) -> tuple[Any, ...]:
    if get_origin(hint) is Literal:
        return (hint,)
    return get_args(hint) or (hint,)


def _type(kinds: list[Any]) -> click.ParamType[Any]:
    first = kinds[0]
    if get_origin(first) is Literal:
        words = get_args(first)
        of = _Whole if isinstance(words[0], int) else click.Choice
        return of([str(word) for word in words])
    return _Number() if float in kinds else click.STRING
