"""Slips: each is said once, in words for a person, and its cure is a part of a lesson."""

from __future__ import annotations

import re
from pathlib import Path

from dryerbench.slips import SLIPS
from dryerbench.tasks import TASKS

SOURCES = Path(__file__).resolve().parents[2] / "solutions"


def headings() -> set[str]:
    text = "\n".join(path.read_text(encoding="utf-8") for path in SOURCES.glob("*.md"))
    return {match.strip() for match in re.findall(r"^#+ (.*)$", text, re.MULTILINE)}


def test_every_slip_of_a_task_is_in_the_catalogue() -> None:
    used = {code for task in TASKS.values() for code in task.slips}
    assert used <= set(SLIPS)
    assert set(SLIPS) - used == {"kilo", "sign"}  # those two are found on every task


def test_every_cure_is_a_heading_of_a_lesson() -> None:
    known = headings()
    for slip in SLIPS.values():
        assert slip.cure in known, slip.code


def test_every_slip_speaks_plainly() -> None:
    for slip in SLIPS.values():
        assert slip.says.endswith(".")
        assert "\n" not in slip.says
