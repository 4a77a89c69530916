"""Signing off: a small file that goes back to each apprentice beside the feedback, so that the start page can show it.

It is a convenience for the apprentice, who can write into it as well: it proves nothing. What counts is the book.
"""

from __future__ import annotations

import json
from datetime import date, datetime
from pathlib import Path

from dryerbench.notebook.progress import SIGNED
from legtoleg.core.files import write_whole


def _kept(path: Path) -> dict[str, str]:
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return {str(name): day for name, day in content.items() if type(day) is str} if type(content) is dict else {}


def note_signed(folder: Path, lesson: str, *, signed: bool, day: date | None = None) -> None:
    """Keep in ``folder``, where an apprentice's feedback is, whether ``lesson`` is signed off, with the first day."""
    path = folder / SIGNED
    before = _kept(path)
    after = {name: when for name, when in before.items() if name != lesson}
    if signed:
        today = day or datetime.now().astimezone().date()
        after[lesson] = before.get(lesson, today.isoformat())
    if after != before:
        write_whole(path, (json.dumps(after, indent=2, sort_keys=True) + "\n").encode("utf-8"))
