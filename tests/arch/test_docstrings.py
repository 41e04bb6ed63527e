"""Docstrings: every parameter described, its unit that of its name, and every list complete."""

import importlib
import inspect
import pkgutil
import re
from types import ModuleType
from typing import Annotated, get_args, get_origin, get_type_hints

import pytest
from numpydoc.docscrape import ClassDoc, FunctionDoc

import lastvolt_service
from lastvolt_service import physics
from lastvolt_service.api import OPERATIONS
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.units import UNITS, unit_of

DESCRIBED = [each.described for each in OPERATIONS if each.described]
SYMBOLS = {unit.symbol for unit in UNITS}


def walk(package: ModuleType) -> list[ModuleType]:
    return [
        importlib.import_module(found.name)
        for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}.")
        if not found.name.endswith((".wsgi", ".gunicorn_conf"))
    ]


def public(module: ModuleType, kind) -> list[object]:
    """What a module defines for others."""
    return [
        member
        for name, member in inspect.getmembers(module, kind)
        if member.__module__ == module.__name__ and not name.startswith("_")
    ]


SERVICE = walk(lastvolt_service)
PHYSICS = walk(physics)
PHYSICS_FUNCTIONS = [
    function for module in PHYSICS for function in public(module, inspect.isfunction)
]
PHYSICS_CLASSES = [kind for module in PHYSICS for kind in public(module, inspect.isclass)]
PUBLIC = [
    member
    for module in SERVICE
    for member in (*public(module, inspect.isfunction), *public(module, inspect.isclass))
]


def label(member) -> str:
    return f"{member.__module__.removeprefix('lastvolt_service.')}.{member.__name__}"


def described(parameters) -> dict[str, str]:
    """Description of each parameter; numpydoc keeps "a, b : float" together."""
    return {
        name.strip().lstrip("*"): " ".join(parameter.desc)
        for parameter in parameters
        for name in parameter.name.split(",")
    }


def units_at_the_end(description: str) -> set[str]:
    """Units in brackets that end a description; "[V], [ohm]" serves parameters listed together."""
    tail = re.search(r"((?:\[[^\]]+\](?:, )?)+)\.?$", description)
    return set(re.findall(r"\[([^\]]+)\]", tail[1])) if tail else set()


def assert_units(parameters) -> None:
    for name, description in described(parameters).items():
        found = units_at_the_end(description) & SYMBOLS
        unit = unit_of(name)
        if unit is not None:
            assert unit.symbol in found, f"{name}: {description!r} does not end in [{unit.symbol}]"


@pytest.mark.parametrize("member", PUBLIC, ids=label)
def test_everything_public_has_a_sentence(member):
    first = (inspect.getdoc(member) or "").partition("\n")[0]
    assert first, label(member)
    # Not the signature that dataclasses write for themselves.
    assert not first.startswith(f"{member.__name__}("), label(member)
    assert first.endswith("."), first


@pytest.mark.parametrize("module", SERVICE, ids=lambda module: module.__name__)
def test_every_module_has_a_sentence(module):
    assert module.__doc__, module.__name__


@pytest.mark.parametrize("function", PHYSICS_FUNCTIONS, ids=label)
def test_physics_is_documented(function):
    parsed = FunctionDoc(function)
    asked = inspect.signature(function).parameters
    assert set(described(parsed["Parameters"])) == set(asked)
    assert all(described(parsed["Parameters"]).values())
    assert parsed["Returns"] or inspect.signature(function).return_annotation is None
    # Two quantities in the wrong order would stay unseen: they have names at every call.
    if len(asked) > 1:
        kinds = {parameter.kind for parameter in asked.values()}
        assert kinds == {inspect.Parameter.KEYWORD_ONLY}
    assert_units(parsed["Parameters"])
    assert_units(parsed["Returns"])


@pytest.mark.parametrize("kind", PHYSICS_CLASSES, ids=label)
def test_physics_classes_have_units(kind):
    parsed = ClassDoc(kind)
    assert_units([*parsed["Parameters"], *parsed["Attributes"]])


@pytest.mark.parametrize("operation", DESCRIBED, ids=lambda operation: operation.name)
def test_an_operation_takes_its_request_and_gives_an_outcome(operation):
    hints = get_type_hints(operation.solve)
    returned = hints.pop("return")
    assert [*hints.values()] == [operation.request]
    assert issubclass(returned, Outcome)
    summary, blank, *rest = operation.about.splitlines()
    assert summary.endswith(".")
    assert not blank
    assert rest


@pytest.mark.parametrize("operation", DESCRIBED, ids=lambda operation: operation.name)
def test_every_result_says_what_it_is(operation):
    for name, hint in get_type_hints(operation.result, include_extras=True).items():
        assert get_origin(hint) is Annotated, name
        assert get_args(hint)[1].strip(), name


@pytest.mark.parametrize("module", SERVICE, ids=lambda module: module.__name__)
def test_all_is_complete(module):
    if hasattr(module, "__all__"):
        members = (*public(module, inspect.isfunction), *public(module, inspect.isclass))
        assert set(module.__all__) == {member.__name__ for member in members}
