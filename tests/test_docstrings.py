"""The examples in the docstrings of both packages give what they say."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
from pathlib import Path

import pytest

import dryerbench
import legtoleg


def modules_with_examples() -> list[str]:
    """Return the names of the modules that hold an example, found by their text so that no other is imported."""
    found = []
    for package in (dryerbench, legtoleg):
        for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}.", onerror=lambda _: None):
            place = Path(str(package.__path__[0])).parent.joinpath(*module.name.split("."))
            path = place / "__init__.py" if module.ispkg else place.with_suffix(".py")
            if ">>> " in path.read_text(encoding="utf-8"):
                found.append(module.name)
    return found


@pytest.mark.parametrize("name", modules_with_examples())
def test_the_examples_of_a_module_hold(name: str) -> None:
    done = doctest.testmod(importlib.import_module(name))
    assert done.attempted > 0
    assert done.failed == 0


def test_examples_are_found() -> None:
    assert {"dryerbench.core.temperatures", "dryerbench.air.moist_air"} <= set(modules_with_examples())
