"""Members: the modules of a package, found rather than listed, so that a lesson is added by adding its files."""

from __future__ import annotations

import pkgutil
from importlib import import_module
from types import ModuleType


def members(package: ModuleType, suffix: str = "") -> list[ModuleType]:
    """Return the modules directly in ``package``, by name, whose names end in ``suffix``."""
    names = sorted(found.name for found in pkgutil.iter_modules(package.__path__) if found.name.endswith(suffix))
    return [import_module(f"{package.__name__}.{name}") for name in names]
