"""The first screen: who goes out Monday, who is held and for what, what to teach Tuesday."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from functools import cache
from typing import TypedDict

from dryerbench.registry import SLIPS, members, sheet
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.cohort_statistics import CAME, HELD, MISSING, NOT_YET, OUT, READY, WAITING, CohortNumbers

Link = Callable[[str, str], str]
"""Returns the address of the feedback page of an id and a lesson; empty without one."""
TAUGHT = 5
"""How many slips are taught (our own rule: what fits into one hour)."""
_NAMED = 6
ORDER = (HELD, WAITING, CAME, NOT_YET, MISSING, READY, OUT)
"""The states of people, those that need the instructor most first."""


@cache
def slip_lessons() -> dict[str, str]:
    """Return the lesson that has each slip, and with it the section that cures it, by the slip's code."""
    lessons = {topic: module.LESSON for topic, module in members("sheet").items()}
    return {slip.code: lessons[topic] for topic, module in members("slips").items() for slip in module.SLIPS
            if topic in lessons}  # fmt: skip


@cache
def title_of(lesson: str, question: str) -> str:
    """Return the title of a question; if the lesson does not ask it any more, so much."""
    found = [one.title for one in sheet(lesson).questions if one.name == question]
    return found[0] if found else "a question of an older course"


def out_monday(numbers: CohortNumbers, standing: dict[str, str]) -> dict[str, list[dict[str, str]]]:
    """Return who can be sent out, and who lacks nothing but the witness."""

    def listed(state: str) -> list[dict[str, str]]:
        return [
            {"id": who, "name": numbers.name(who), "seen": numbers.parts(who).witness.words}
            for who in numbers.here
            if standing[who] == state
        ]

    return {"out": listed(OUT), "ready": listed(READY)}


class Reason(TypedDict):
    """For what somebody is held in one lesson: its number, the titles of the questions, the feedback page."""

    number: str
    titles: list[str]
    page: str


class Held(TypedDict):
    """Somebody who is held, and for what, lesson by lesson."""

    id: str
    name: str
    reasons: list[Reason]


def held_questions(one: Held) -> int:
    """Return for how many questions somebody is held."""
    return sum(len(reason["titles"]) for reason in one["reasons"])


def held(numbers: CohortNumbers, link: Link) -> list[Held]:
    """Return who is held, and for what: the safety questions by lesson, with the feedback page of each."""
    found: list[tuple[int, Held]] = []
    for who in numbers.here:
        reasons: list[Reason] = [
            {
                "number": lesson.lesson[:2],
                "titles": [title_of(lesson.lesson, o.question) for o in lesson.people[who] if o.safety == "held"],
                "page": link(who, lesson.lesson),
            }
            for lesson in numbers.lessons
            if numbers.state(who, lesson) == HELD
        ]
        if reasons:
            count = sum(o.safety == "held" for row in numbers.outcomes(who).values() for o in row)
            found.append((-count, {"id": who, "name": numbers.name(who), "reasons": reasons}))
    return [one for _, one in sorted(found, key=lambda pair: pair[0])]


def _slipped(numbers: CohortNumbers) -> Iterator[tuple[str, str, Outcome]]:
    """Yield every slip of those who are here: its code, who made it, and the outcome that it cost."""
    here = set(numbers.here)
    for lesson in numbers.lessons:
        for who, row in lesson.people.items():
            for outcome in row if who in here else []:
                for code in dict.fromkeys(code for code in outcome.note.split("+") if code in SLIPS):
                    yield code, who, outcome


def teach_tuesday(numbers: CohortNumbers) -> list[dict[str, object]]:
    """Return the slips that cost most points, what to say, whom, and where to read; a question's cost is shared."""
    cost: dict[str, float] = defaultdict(float)
    whom: dict[str, dict[str, None]] = defaultdict(dict)
    holds: dict[str, set[str]] = defaultdict(set)
    for code, who, outcome in _slipped(numbers):
        codes = [one for one in dict.fromkeys(outcome.note.split("+")) if one in SLIPS]
        cost[code] += (outcome.max_points - outcome.points) / len(codes)
        whom[code][who] = None
        if outcome.safety == "held":
            holds[code].add(who)
    most = sorted(cost, key=lambda code: (-cost[code], code))[:TAUGHT]
    return [
        {
            "slip": SLIPS[code].title,
            "says": SLIPS[code].says,
            "points": f"{cost[code]:.3g}",
            "people": len(whom[code]),
            "names": [numbers.name(who) for who in list(whom[code])[:_NAMED]],
            "more": max(0, len(whom[code]) - _NAMED),
            "holds": len(holds[code]),
            "lesson": slip_lessons().get(code, "")[:2],
            "section": SLIPS[code].cure,
        }
        for code in most
    ]
