"""Notes that go back to each apprentice beside the feedback: lessons signed off, what was missed, and the next card.

They are small files for the folder of the kit, and a convenience: the apprentice can write into them as well, so they
prove nothing. What counts is the book, and the cohort's own ledger of tries.
"""

from __future__ import annotations

import json
from datetime import date, datetime
from pathlib import Path
from typing import TypeVar, get_origin

from dryerbench.core.identity import TRIES
from dryerbench.notebook.progress import MISSED, SIGNED
from legtoleg.core.files import write_whole
from legtoleg.marking.missed import Missed

T = TypeVar("T", str, int, dict[str, object])


def kept(path: Path, form: type[T]) -> dict[str, T]:
    """Return what such a file holds, of the type ``form``; what is missing or damaged counts as nothing."""
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    found = content.items() if type(content) is dict else ()
    return {str(name): value for name, value in found if type(value) is (get_origin(form) or form)}


def _write(path: Path, before: dict[str, T], after: dict[str, T]) -> None:
    if after != before:
        write_whole(path, (json.dumps(after, indent=2, sort_keys=True) + "\n").encode("utf-8"))


def note_signed(folder: Path, lesson: str, *, signed: bool, day: date | None = None) -> None:
    """Keep in ``folder``, where an apprentice's feedback is, whether ``lesson`` is signed off, with the first day."""
    path = folder / SIGNED
    before = kept(path, str)
    after = {name: when for name, when in before.items() if name != lesson}
    if signed:
        today = day or datetime.now().astimezone().date()
        after[lesson] = before.get(lesson, today.isoformat())
    _write(path, before, after)


def note_missed(folder: Path, lesson: str, missed: Missed, day: date | None = None) -> None:
    """Keep in ``folder``, where an apprentice's feedback is, what the last hand-in of ``lesson`` missed, and when."""
    path = folder / MISSED
    before = kept(path, dict[str, object])
    after = {name: note for name, note in before.items() if name != lesson}
    if missed != Missed():
        note: dict[str, object] = {
            "drills": list(missed.drills),
            "cards": list(missed.cards),
            "safety": missed.safety,
            "benches": list(missed.benches),
        }
        old = before.get(lesson, {})
        today = (day or datetime.now().astimezone().date()).isoformat()
        after[lesson] = note | {"day": old.get("day", today) if old | note == old else today}
    _write(path, before, after)


def note_try(folder: Path, lesson: str, number: int) -> None:
    """Keep in ``folder``, where an apprentice's feedback is, which card of ``lesson`` is the one to work on."""
    path = folder / TRIES
    before = kept(path, int)
    _write(path, before, before | {lesson: number} if number > 1 else before)
