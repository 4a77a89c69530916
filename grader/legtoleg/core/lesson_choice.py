"""Which lesson is meant: by the name of its folder, or by its number."""

from __future__ import annotations

from collections.abc import Sequence

from dryerbench.core.errors import LegToLegError


def lesson_named(said: str, lessons: Sequence[str]) -> str:
    """Return the one of ``lessons`` that is meant by its name or its number; empty if there is none such."""
    found = [name for name in lessons if name == said or (said.isdecimal() and int(name[:2]) == int(said))]
    return found[0] if found else ""


def lesson_called(said: str, lessons: Sequence[str], error: type[LegToLegError], where: str = "") -> str:
    """Return the one of ``lessons`` that is meant by its name or its number.

    Raises
    ------
    LegToLegError
        An ``error``, if there is none such in ``where``; it names all.
    """
    if found := lesson_named(said.strip(), lessons):
        return found
    raise error(f"There is no lesson {said!r:.80}{where}; there are: {', '.join(lessons)}.")
