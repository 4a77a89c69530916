"""Changes to a piece of JSON, to be refused by its schema."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any


def without(*path: Any) -> Callable[[Any], None]:
    """Return what takes away the entry at ``path``."""

    def change(one: Any) -> None:
        for key in path[:-1]:
            one = one[key]
        del one[path[-1]]

    return change


def put(value: Any, *path: Any) -> Callable[[Any], None]:
    """Return what puts ``value`` at ``path``."""

    def change(one: Any) -> None:
        for key in path[:-1]:
            one = one[key]
        one[path[-1]] = value

    return change
