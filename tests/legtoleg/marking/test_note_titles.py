"""Titles of notes: every note that marking can give has words for people."""

from __future__ import annotations

import ast
import importlib
import re
from collections.abc import Iterator
from pathlib import Path

import legtoleg.marking
from dryerbench.registry import SLIPS
from legtoleg.marking.marking import _NOTHING
from legtoleg.marking.note_titles import _OTHERS, note_title
from legtoleg.marking.outcomes import ODD

ROOM = Path(legtoleg.marking.__file__).parent
_NOTE = re.compile(r"[a-z]+(_[a-z]+)*")


def _texts(node: ast.AST, module: str) -> Iterator[str]:
    for part in ast.walk(node):
        if isinstance(part, ast.Constant) and isinstance(part.value, str):
            yield part.value
        if isinstance(part, ast.Name) and part.id.isupper():
            yield getattr(importlib.import_module(f"legtoleg.marking.{module}"), part.id)


def _given(path: Path) -> Iterator[str]:
    """Yield the notes that a module names: in a ``Judgement``, by ``note=``, or second of what ``_wrong`` returns."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            named = [key.value for key in node.keywords if key.arg == "note"]
            placed = node.args[1:2] if isinstance(node.func, ast.Name) and node.func.id == "Judgement" else []
            for part in [*named, *placed]:
                yield from _texts(part, path.stem)
        if isinstance(node, ast.Return) and isinstance(node.value, ast.Tuple) and len(node.value.elts) == 3:
            yield from _texts(node.value.elts[1], path.stem)


def notes() -> set[str]:
    found = {note for path in ROOM.glob("*.py") for note in _given(path)} | set(_NOTHING) | set(ODD)
    return {note for note in found if _NOTE.fullmatch(note)}


def test_every_note_has_its_title_and_none_is_left_over() -> None:
    assert notes() - set(SLIPS) == set(_OTHERS)


def test_titles_are_words_and_no_two_are_alike() -> None:
    titles = [*_OTHERS.values(), *(slip.title for slip in SLIPS.values())]
    assert len({title.lower() for title in titles}) == len(titles)
    assert not [title for title in titles if "_" in title]


def test_several_slips_are_all_named() -> None:
    assert note_title("one_leg") == "Used one leg's volts"
    assert note_title("one_leg+times_ohms") == "Used one leg's volts / Multiplied volts by ohms"
    assert note_title("blank") == "Not answered"


def test_a_note_of_an_older_course_shows_no_code() -> None:
    assert note_title("gone_long_ago") == "A note of an older course"
