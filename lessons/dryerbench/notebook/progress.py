"""Progress: what was practiced and answered, kept in one small file beside the lessons, on this computer alone."""

from __future__ import annotations

import json
import os
from dataclasses import dataclass, field
from pathlib import Path

from dryerbench.core.identity import MARK
from dryerbench.drawing.interactive_figure import MODE

FILE = "progress.json"
"""Beside the kit's mark; without a kit, beside the lessons."""

SIGNED = "signed_off.json"
"""What the instructor sends back with the feedback: lessons signed off, each with its date."""

MISSED = "missed.json"
"""What the instructor sends back with the feedback: what graded work missed, by lesson, for the ten minutes a day."""


def root(start: Path | None = None) -> Path | None:
    """Return the folder of the kit around ``start`` (default: where Python runs), or of the lessons, if any.

    Lessons beside an installed course have no ``dryerbench`` in their folder: there the start page tells it.
    """
    folder = (start or Path.cwd()).resolve()
    for place in (folder, *folder.parents):
        if any((place / sign).is_file() for sign in (MARK, "dryerbench/__init__.py", "00_start/00_start.ipynb")):
            return place
    return None


@dataclass
class Progress:
    """Drills done right, by name; questions answered, by lesson; lessons signed off, by date."""

    practiced: dict[str, int] = field(default_factory=dict)
    answered: dict[str, list[str]] = field(default_factory=dict)
    signed: dict[str, str] = field(default_factory=dict)


def _read(path: Path) -> dict[str, object]:
    try:
        content = json.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, ValueError):
        return {}
    return content if isinstance(content, dict) else {}


def _counts(content: object) -> dict[str, int]:
    found = content.items() if isinstance(content, dict) else ()
    return {str(name): count for name, count in found if type(count) is int and count > 0}


def _lists(content: object) -> dict[str, list[str]]:
    found = content.items() if isinstance(content, dict) else ()
    return {str(lesson): [str(name) for name in names] for lesson, names in found if isinstance(names, list)}


def load(start: Path | None = None) -> Progress:
    """Return the progress kept around ``start``; what is missing or damaged counts as nothing done yet."""
    folder = root(start)
    if folder is None:
        return Progress()
    kept, signed = _read(folder / FILE), _read(folder / SIGNED)
    dates = {str(lesson): str(date) for lesson, date in signed.items() if type(date) is str}
    practiced = kept.get("practiced", kept.get("practised"))  # the key's spelling before version 2
    return Progress(_counts(practiced), _lists(kept.get("answered")), dates)


def missed_benches(start: Path | None = None) -> dict[str, list[str]]:
    """Return by lesson the headings under which a bench stands that practices what graded work missed at one."""
    folder = root(start)
    notes = _read(folder / MISSED) if folder else {}
    return _lists({lesson: note.get("benches", []) for lesson, note in notes.items() if isinstance(note, dict)})


def _save(progress: Progress, start: Path | None) -> None:
    folder = root(start)
    if folder is None or os.environ.get(MODE) == "words":
        return
    text = json.dumps({"practiced": progress.practiced, "answered": progress.answered}, indent=2, sort_keys=True)
    new = folder / f"{FILE}.new"
    try:
        new.write_text(text + "\n", encoding="utf-8")
        new.replace(folder / FILE)
    except OSError:
        return  # a folder that cannot be written to: nothing is kept, and nothing else suffers


def note_practiced(drill: str, start: Path | None = None) -> None:
    """Keep that ``drill`` was done right once more."""
    progress = load(start)
    progress.practiced[drill] = progress.practiced.get(drill, 0) + 1
    _save(progress, start)


def note_answered(lesson: str, question: str, start: Path | None = None) -> None:
    """Keep that ``question`` of ``lesson`` was answered."""
    progress = load(start)
    names = progress.answered.setdefault(lesson, [])
    if question not in names:
        names.append(question)
        _save(progress, start)
