"""The examples as modules."""

import importlib.util
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest

EXAMPLES = Path(__file__).parents[2] / "sdk" / "examples"


@pytest.fixture(scope="session")
def example() -> Callable[[str], ModuleType]:
    """Load an example by its name."""

    def load(name: str) -> ModuleType:
        spec = importlib.util.spec_from_file_location(name, EXAMPLES / f"{name}.py")
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        return module

    return load
