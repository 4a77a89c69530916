"""The report: one page that says who goes out Monday, who is held and for what, what to teach Tuesday."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import datetime
from typing import TypedDict

from dryerbench.registry import SLIPS, sheet
from legtoleg.core.outside_words import plain_words
from legtoleg.core.page_templates import template
from legtoleg.marking.note_titles import note_title
from legtoleg.marking.outcomes import PASS_SHARE, Outcome, earned
from legtoleg.report.cohort_statistics import (
    CAME,
    HELD,
    MISSING,
    NOT_YET,
    OUT,
    READY,
    SIGNED,
    WAITING,
    CohortNumbers,
    LessonNumbers,
    QuestionNumbers,
)
from legtoleg.report.fact_groups import MOST, fact_lines
from legtoleg.report.first_screen import (
    ORDER,
    Link,
    held,
    held_questions,
    out_monday,
    slip_lessons,
    teach_tuesday,
    title_of,
)
from legtoleg.report.hand_in_fates import Who
from legtoleg.report.isolation import runs_of
from legtoleg.report.item_analysis import FEW
from legtoleg.report.report_bench import bench_rows, bench_words

SIGNS = {
    SIGNED: "✓",
    HELD: "⚠",
    WAITING: "?",
    CAME: "□",
    NOT_YET: "·",
    MISSING: "–",
    READY: "✓",
    OUT: "✓✓",
}
"""One sign for each state, so that the page reads in gray too."""
SHADES = {SIGNED: "signed", HELD: "held", WAITING: "waiting", CAME: "came", OUT: "signed", READY: "signed"}
"""The classes of the states that are shown otherwise than in plain."""

_FIT_IN_WORDS = 50
"""How many people and questions the list of those held says in words; a longer one gives numbers, to fit a page."""


def _cell(outcome: Outcome | None) -> dict[str, object]:
    if outcome is None:
        return {"points": "", "shade": "empty", "held": False, "title": "not in these grades"}
    nothing = "empty" if outcome.note == "blank" else "none"
    shade = "full" if outcome.full else "part" if outcome.points > 0 else nothing
    return {
        "points": f"{outcome.points:g}",
        "shade": shade,
        "held": outcome.safety == "held",
        "title": plain_words(f"{outcome.answer} · {note_title(outcome.note)}"),
    }


def _person(numbers: CohortNumbers, lesson: LessonNumbers, who: str, link: Link) -> dict[str, object]:
    outcomes = lesson.people.get(who, [])
    by_name = {outcome.question: outcome for outcome in outcomes}
    places = {one.name: number for number, one in enumerate(sheet(lesson.lesson).questions, 1)}
    state = numbers.state(who, lesson)
    return {
        "id": who,
        "name": numbers.name(who),
        **earned(outcomes),
        "marked": bool(outcomes),
        "state": state,
        "shade": SHADES.get(state, "plain"),
        "sign": SIGNS[state],
        "held_for": [title_of(lesson.lesson, o.question) for o in outcomes if o.safety == "held"],
        "card": _card(numbers, who, lesson.lesson),
        "late": numbers.late.get((who, lesson.lesson), 0.0),
        "why": numbers.fates.why(who, lesson.lesson),
        "newer": state == SIGNED and (who, lesson.lesson) in numbers.fates.unmarked,
        "bench": [words for o in outcomes if o.question in places and (words := bench_words(places[o.question], o))],
        "cells": [_cell(by_name.get(one.question.name)) for one in lesson.questions],
        "feedback": link(who, lesson.lesson),
    }


def _card(numbers: CohortNumbers, who: str, lesson: str) -> str:
    """Return which card the marks are of, and which was dealt since, in a few words; empty for the first alone."""
    marked, dealt = numbers.tries.get((who, lesson), 1), numbers.dealt.get((who, lesson), 1)
    if dealt > marked:
        return f"card {marked}; card {dealt} is dealt"
    return f"card {marked}" if marked > 1 else ""


def _hard(item: QuestionNumbers, *, few: bool) -> str:
    low = not few and item.item.discrimination is not None and item.item.discrimination < 0.1
    if low and item.item.difficulty < 0.95:
        return "does not tell people apart: look at how it is asked"
    return "hard: most lost points here" if item.item.difficulty < 0.5 else ""


def _question(number: int, one: QuestionNumbers, *, few: bool) -> dict[str, object]:
    found = one.item.discrimination
    return {
        "number": number,
        "title": one.question.title,
        "safety": one.question.safety,
        "share": f"{100 * one.item.difficulty:.0f}",
        "discrimination": "" if found is None else f"{found:.2f}",
        "wrong": "; ".join(f"{note_title(note)} ({times})" for note, times in one.wrong[:3]),
        "remark": _hard(one, few=few),
    }


class _LessonPage(TypedDict):
    lesson: str
    title: str
    people: list[dict[str, object]]
    by_id: dict[str, dict[str, object]]
    marked: int
    counts: list[tuple[str, int]]
    questions: list[dict[str, object]]
    alpha: str
    kr20: str
    few: bool
    slips: list[dict[str, object]]
    bench: dict[object, dict[str, object]]


def _lesson(numbers: CohortNumbers, lesson: LessonNumbers, link: Link) -> _LessonPage:
    slips: list[dict[str, object]] = [
        {
            "slip": SLIPS[code].title,
            "times": times,
            "says": SLIPS[code].says,
            "cure": SLIPS[code].cure,
            "lesson": slip_lessons().get(code, "")[:2],
        }
        for code, times in lesson.slips
    ]
    shown = set(numbers.here) | set(lesson.people)
    by_id = {who: _person(numbers, lesson, who, link) for who in numbers.people if who in shown}
    places = {one.name: number for number, one in enumerate(sheet(lesson.lesson).questions, 1)}
    return {
        "lesson": lesson.lesson,
        "title": lesson.title,
        "people": sorted(by_id.values(), key=lambda one: (one["id"] in numbers.away, _place(str(one["state"])))),
        "by_id": by_id,
        "marked": len(lesson.people),
        "counts": [(state, count) for state in (SIGNED, *ORDER) if (count := numbers.count(state, lesson))],
        "questions": [_question(places[one.question.name], one, few=lesson.few) for one in lesson.questions],
        "alpha": "" if lesson.alpha is None else f"{lesson.alpha:.2f}",
        "kr20": "" if lesson.kr20 is None else f"{lesson.kr20:.2f}",
        "few": lesson.few,
        "slips": slips,
        "bench": {row["number"]: row for row in bench_rows(lesson)},
    }


def _place(state: str) -> int:
    return ORDER.index(state) if state in ORDER else len(ORDER)


def _across(numbers: CohortNumbers, lessons: list[_LessonPage], who: str, standing: str) -> dict[str, object]:
    """Return one apprentice's line over all lessons."""
    found = numbers.parts(who)
    keys = (
        "state",
        "shade",
        "sign",
        "points",
        "max_points",
        "late",
        "held_for",
        "card",
        "why",
        "marked",
        "newer",
        "feedback",
    )
    rows = [lesson["by_id"].get(who) for lesson in lessons]
    return {
        "id": who,
        "name": numbers.name(who),
        "group": numbers.people[who].group,
        "state": standing,
        "shade": SHADES.get(standing, "plain"),
        "sign": SIGNS.get(standing, ""),
        "parts": found.all,
        "left": numbers.people[who].left,
        "cells": [{key: row[key] for key in keys} if row else None for row in rows],
    }


def _named(numbers: CohortNumbers, whys: Mapping[Who, str]) -> list[tuple[str, str, str]]:
    """Return whose hand-ins of what are concerned, by name and lesson, and why."""
    return [(numbers.name(who), lesson, why) for (who, lesson), why in sorted(whys.items())]


def page_text(numbers: CohortNumbers, link: Link, *, made_up: bool = False) -> str:
    """Return the page as HTML that stands by itself; ``link`` gives the address of a feedback page, or nothing."""
    lessons = [_lesson(numbers, lesson, link) for lesson in numbers.lessons]
    standing = {who: numbers.standing(who) for who in numbers.here}
    people = [_across(numbers, lessons, who, standing[who]) for who in numbers.here]
    people.sort(key=lambda one: ORDER.index(str(one["state"])))
    facts = fact_lines(numbers.facts)
    holds = held(numbers, link)
    return template("report.html").render(
        lessons=lessons,
        people=people,
        away=[_across(numbers, lessons, who, "") for who in numbers.people if who in numbers.away],
        counts=[(state, SIGNS[state], count) for state in ORDER if (count := Counter(standing.values())[state])],
        signs=[
            (state, SIGNS[state], SHADES.get(state, "plain"))
            for state in (SIGNED, HELD, WAITING, CAME, NOT_YET, MISSING)
        ],
        groups=sorted({str(one["group"]) for one in people if one["group"]}),
        states=[*ORDER[:5], SIGNED, READY, OUT],
        monday=out_monday(numbers, standing),
        held=holds,
        many_held=len(holds) + sum(map(held_questions, holds)) > _FIT_IN_WORDS,
        tuesday=teach_tuesday(numbers),
        waiting=_named(numbers, numbers.fates.waiting),
        nobodys=numbers.fates.nobodys,
        unmarked=len(numbers.fates.unmarked),
        only_new=numbers.fates.new,
        refused=_named(numbers, numbers.fates.refused),
        counts_calls=numbers.tests.words,
        troubles=numbers.troubles,
        remarks=numbers.remarks,
        facts=facts[:MOST],
        more_facts=len(facts) - MOST,
        runs=runs_of(numbers.isolated, {who: numbers.name(who) for who in numbers.people}),
        about=numbers.about,
        made_up=made_up,
        pass_share=f"{PASS_SHARE:.0%}",
        few=FEW,
        day=datetime.now().astimezone().strftime("%B %d, %Y").replace(" 0", " "),
    )
