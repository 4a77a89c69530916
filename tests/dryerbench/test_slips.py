"""Slips: each is said once, in words for a person, and its cure is a part of a lesson."""

from __future__ import annotations

import re
from pathlib import Path

from dryerbench.sheets import SHEETS
from dryerbench.slips import SLIPS
from dryerbench.tasks import TASKS
from grader.references import references

SOURCES = Path(__file__).resolve().parents[2] / "solutions"


def headings() -> set[str]:
    text = "\n".join(path.read_text(encoding="utf-8") for path in SOURCES.glob("*.md"))
    return {match.strip() for match in re.findall(r"^#+ (.*)$", text, re.MULTILINE)}


def codes_in(thing: object) -> set[str]:
    """Return every slip's code that stands anywhere in a reference: as text, in a mapping, in its rules and goals."""
    if isinstance(thing, str):
        return {thing} & set(SLIPS)
    if isinstance(thing, dict):
        return set().union(*(codes_in(one) for one in thing.values()))
    if isinstance(thing, tuple):
        return set().union(*(codes_in(one) for one in thing))
    fields = getattr(thing, "__dataclass_fields__", ())
    return set().union(*(codes_in(getattr(thing, name)) for name in fields))


def test_every_slip_is_used_and_every_code_is_in_the_catalogue() -> None:
    used = {code for task in TASKS.values() for code in task.slips}
    assert used <= set(SLIPS)
    for lesson in SHEETS:
        used |= codes_in(references(lesson))
    found_in_readings = {"phantom_read", "kilo", "sign"}  # found by the marking itself, or drawn with the card
    assert set(SLIPS) - used <= found_in_readings


def test_every_cure_is_a_heading_of_a_lesson() -> None:
    known = headings()
    for slip in SLIPS.values():
        assert slip.cure in known, slip.code


def test_every_slip_speaks_plainly() -> None:
    for slip in SLIPS.values():
        assert slip.says.endswith(".")
        assert "\n" not in slip.says
