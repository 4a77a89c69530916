"""Slips: each is said once, in words for a person, and its cure is a part of a lesson."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

from dryerbench.course.questions import Question
from dryerbench.course.slips import OHMS_LAW
from dryerbench.registry import DRILLS, SHEETS, SLIPS, TASKS, members
from legtoleg.keys.answer_key import quantities, references

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from shop_words import unsaid

SOURCES = Path(__file__).resolve().parents[3] / "solutions"


def headings() -> set[str]:
    text = "\n".join(path.read_text(encoding="utf-8") for path in SOURCES.glob("*.md"))
    return {match.strip() for match in re.findall(r"^#+ (.*)$", text, re.MULTILINE)}


def slips_beside_tasks() -> set[str]:
    """Every slip that a reference names for letters, an order, a table, work or a fault."""
    found: set[str] = set()
    for lesson, paper in SHEETS.items():
        for reference in references(lesson):
            slips = getattr(reference, "slips", None) or {}
            for card in [paper.card(f"demo-{n:02d}") for n in range(20)] if callable(slips) else [None]:
                found |= set((slips(card) if callable(slips) else slips).values())
            found |= {getattr(reference, name, "") for name in ("over_limit_slip", "number_slip", "thin_slip")}
            found |= {rule.slip for rule in getattr(reference, "rules", ())}
            found |= {goal.slip for goal in getattr(reference, "goals", ())}
            for n in range(20) if hasattr(reference, "rows") else ():
                rows = reference.rows(paper.card(f"demo-{n:02d}")).values()
                found |= {code for row in rows for code in row.slips or {}}
    return found - {""}


def test_every_slip_in_use_is_in_the_catalogue_and_every_slip_is_in_use() -> None:
    used = {code for task in TASKS.values() for code in task.slips} | slips_beside_tasks()
    assert used <= set(SLIPS)
    assert set(SLIPS) - used == {"kilo", "sign"}  # those two are found on every quantity


def asked_with_slips() -> Iterator[tuple[str, str, str]]:
    """Yield where a quantity is asked for, its unit, and the code of each slip that may answer it."""
    for name, drill in DRILLS.items():
        yield from ((name, drill.unit, code) for code in TASKS[drill.task].slips)
    for lesson, paper in SHEETS.items():
        units = {question.name: question.unit for question in paper.questions if isinstance(question, Question)}
        for one in quantities(lesson):
            yield from ((one.question, units[one.question], code) for code in one.task.slips)


ASKED_IN = {"A": "amps", "mA": "amps", "V": "volts", "mV": "volts", "Ω": "ohms", "kΩ": "ohms", "W": "watts"}


def test_a_slip_says_the_law_of_the_quantity_that_is_asked_for() -> None:
    said = [
        (where, unit, law)
        for where, unit, code in asked_with_slips()
        for law, words in OHMS_LAW.items()
        if words in SLIPS[code].says
    ]
    assert {law for _, _, law in said} == set(OHMS_LAW)
    assert [one for one in said if ASKED_IN[one[1]] != one[2]] == []


def test_every_cure_is_a_heading_of_a_lesson() -> None:
    known = headings()
    for slip in SLIPS.values():
        assert slip.cure in known, slip.code


def test_every_slip_speaks_plainly() -> None:
    for slip in SLIPS.values():
        assert slip.says.endswith(".")
        assert "\n" not in slip.says


def test_every_slip_has_a_title_of_two_to_six_plain_words() -> None:
    """Two to six words is our own rule: what fits beside a count, and still says the mistake."""
    for slip in SLIPS.values():
        assert 2 <= len(slip.title.split()) <= 6, slip.title
        assert re.fullmatch(r"[A-Z0-9][^_.]*[^\s_.,:;]", slip.title), slip.title
        assert slip.title.lower() != slip.code.replace("_", " ")
        assert not unsaid(slip.title), slip.title


def test_no_two_titles_are_alike() -> None:
    titles = [slip.title.lower() for slip in SLIPS.values()]
    assert len(titles) == len(set(titles))


def test_no_code_task_or_drill_is_written_twice() -> None:
    for package, name in (("slips", "SLIPS"), ("models", "TASKS"), ("drills", "DRILLS")):
        modules = list(members(package).values())
        codes = [getattr(one, "code", one) for module in modules for one in getattr(module, name)]
        assert len(codes) == len(set(codes)), name
