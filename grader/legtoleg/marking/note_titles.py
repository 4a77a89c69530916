"""Titles of notes: what people read where an outcome's note, a code for machines, would stand.

A note is one code, or several slips with ``+`` between them. Slips have their titles in the course; the other notes
have theirs here.
"""

from __future__ import annotations

from dryerbench.registry import SLIPS

_OTHERS = {
    "arithmetic_slip": "Right sum, worked out wrong",
    "bad_record": "Not an answer record",
    "bad_trail": "Acts that this bench cannot do",
    "blank": "Not answered",
    "everything_measured": "Right, but measured everything",
    "figures_off": "Right idea, wrong figures",
    "follow_through": "Right from a wrong earlier answer",
    "kernel_died": "Notebook stopped before this answer",
    "long_trail": "Too many states to weigh",
    "newer": "Question newer than the kit",
    "no_record": "Nothing was handed in",
    "other_machine": "Work on another dryer",
    "other_quantity": "Unit of another quantity",
    "over_limit": "OL in place of a number",
    "practice_machine": "Answer of the practice dryer",
    "python_error": "Python error in the cell",
    "right": "Right",
    "steps_missing": "Some steps are missing",
    "sum_differs": "Sum and answer differ",
    "too_few_figures": "Rounded too far",
    "two_records": "Two answers from one cell",
    "unreadable": "Answer could not be read",
    "unsafe_act": "Unsafe work on the bench",
    "wrong": "Wrong, and no usual mistake",
    "wrong_input": "Right sum, wrong number in it",
}
"""The titles of the notes that are no slips, by note."""


def note_title(note: str) -> str:
    """Return a note in words, several slips with `` / `` between them."""
    return " / ".join(_title(code) for code in note.split("+"))


def _title(code: str) -> str:
    return SLIPS[code].title if code in SLIPS else _OTHERS.get(code, "A note of an older course")
