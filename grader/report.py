"""The report: one page that says who is signed off, who is held and for what, and which slips to talk about."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from dryerbench.sheets import sheet
from dryerbench.slips import SLIPS
from grader.cohorts import Cohort
from grader.marks import Mark
from grader.outcomes import PASS_SHARE, Outcome, signed_off

TEMPLATES = Path(__file__).resolve().parent / "templates"


@dataclass(frozen=True)
class PersonRow:
    """One apprentice in one lesson, as the page shows them."""

    apprentice: str
    name: str
    points: float
    max_points: float
    state: str
    held_for: list[str]
    cells: list[dict[str, Any]]
    feedback: str


def _state(outcomes: list[Outcome]) -> str:
    if signed_off(outcomes):
        return "signed off"
    if any(outcome.safety == "held" for outcome in outcomes):
        return "held for safety"
    return "not yet"


def _cell(outcome: Outcome) -> dict[str, Any]:
    share = outcome.points / outcome.max_points if outcome.max_points else 0.0
    shade = "full" if share == 1.0 else "part" if share > 0 else "empty" if outcome.note == "blank" else "none"
    return {
        "points": f"{outcome.points:g}",
        "shade": shade,
        "note": outcome.note,
        "held": outcome.safety == "held",
        "answer": outcome.answer,
    }


def _person(out: Path, cohort: Cohort, lesson: str, marks: list[Mark], name: str) -> PersonRow:
    outcomes = [mark.outcome for mark in marks]
    paper = sheet(lesson)
    page = cohort.feedback(marks[0].apprentice, lesson)
    return PersonRow(
        apprentice=marks[0].apprentice,
        name=name,
        points=sum(o.points for o in outcomes),
        max_points=sum(o.max_points for o in outcomes),
        state=_state(outcomes),
        held_for=[paper.question(o.question).title for o in outcomes if o.safety == "held"],
        cells=[_cell(o) for o in outcomes],
        feedback=page.relative_to(out.resolve().parent).as_posix() if page.is_file() else "",
    )


def _questions(lesson: str, marks: list[Mark]) -> list[dict[str, Any]]:
    rows = []
    for number, question in enumerate(sheet(lesson).questions, 1):
        mine = [mark.outcome for mark in marks if mark.outcome.question == question.name]
        share = sum(o.points for o in mine) / sum(o.max_points for o in mine) if mine else 0.0
        notes = Counter(o.note for o in mine if o.points < o.max_points)
        most = notes.most_common(1)[0] if notes else None
        rows.append(
            {
                "number": number,
                "title": question.title,
                "safety": question.safety,
                "share": f"{100 * share:.0f}",
                "most": f"{_said(most[0])} ({most[1]})" if most else "",
            }
        )
    return rows


def _said(note: str) -> str:
    return note.replace("+", " or ").replace("_", " ")


def _slips(marks: list[Mark]) -> list[dict[str, Any]]:
    count: Counter[str] = Counter()
    for mark in marks:
        count.update(code for code in mark.outcome.note.split("+") if code in SLIPS)
    return [
        {"slip": _said(code), "times": times, "says": SLIPS[code].says, "cure": SLIPS[code].cure}
        for code, times in count.most_common()
    ]


def write_report(path: Path, cohort: Cohort, marks: list[Mark], names: dict[str, str], *, made_up: bool) -> None:
    """Write the page: ``marks`` of any number of apprentices and lessons, ``names`` by id."""
    by_lesson: dict[str, dict[str, list[Mark]]] = defaultdict(lambda: defaultdict(list))
    for mark in marks:
        by_lesson[mark.lesson][mark.apprentice].append(mark)
    lessons = []
    for lesson, people in sorted(by_lesson.items()):
        rows = [_person(path, cohort, lesson, mine, names.get(who, who)) for who, mine in sorted(people.items())]
        all_marks = [mark for mine in people.values() for mark in mine]
        lessons.append(
            {
                "lesson": lesson,
                "title": sheet(lesson).title,
                "people": rows,
                "signed": sum(row.state == "signed off" for row in rows),
                "held": sum(row.state == "held for safety" for row in rows),
                "questions": _questions(lesson, all_marks),
                "slips": _slips(all_marks),
            }
        )
    pages = Environment(loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined)
    text = pages.get_template("report.html").render(lessons=lessons, made_up=made_up, pass_share=f"{PASS_SHARE:.0%}")
    path.write_text(text, encoding="utf-8")
