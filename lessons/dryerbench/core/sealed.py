"""Sealed: what the bench has to know in the apprentice's own Python, and no attribute of anything may show.

The faults of a machine stand in no attribute, no ``repr``, no ``dir`` and no ``vars`` of a card or a bench; they are
kept beside them, by a holder that shows nothing. That is a curtain, not a lock: the machine is worked out in the same
Python that the apprentice writes in, and a determined programmer who reads this module can still look behind it. The
cure for a test that must prove something is a bench that runs on the class server and sends readings only.
"""

from __future__ import annotations

from typing import Generic, TypeVar, cast
from weakref import WeakKeyDictionary

T = TypeVar("T")


class Sealed(Generic[T]):
    """A holder of something that is not to be seen; it has no attribute and shows nothing."""

    __slots__ = ("__weakref__",)

    def __init__(self, content: T) -> None:
        _CONTENTS[self] = content

    def __repr__(self) -> str:
        return "sealed"


_CONTENTS: WeakKeyDictionary[object, object] = WeakKeyDictionary()


def unsealed(holder: Sealed[T]) -> T:
    """Return what ``holder`` holds: for the bench and for the marker."""
    return cast("T", _CONTENTS[holder])
