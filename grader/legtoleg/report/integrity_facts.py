"""Facts for the instructor: what in the hand-ins of a cohort is unlikely by chance, in words, with its odds.

Nobody is accused: a fact says what was seen and how often chance alone shows it, and the talk is the instructor's.
Nothing of it is ever on an apprentice's page. ``copied``, ``code_answers``, ``fitting`` and ``too_fast`` each find one
kind; ``facts_of`` runs them over a cohort's marked notebooks.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import combinations, pairwise

from dryerbench.answers.tolerance import Band, figures_band
from dryerbench.course.questions import AnyQuestion, Choice, Choices, FaultQuestion, Order, Question
from dryerbench.registry import sheet
from legtoleg.keys.answer_key import worked
from legtoleg.report.answer_cells import Paper

RARE = 1e-3
"""A fact is stated from these odds on, counted over the whole cohort (our own rule)."""
_NUMBER_ALIKE = 0.05
"""How often two who are both wrong type the same number: usual slips are few (our own rule, on the safe side)."""
_ORDER_ALIKE = 0.05
_CODE_ALIKE = 1e-3
_LONG = 60
"""Characters from which the same code by two people is no accident."""
_MANY = 1_000_000
_COMMON = 0.5
"""The share of a cohort from which an answer is common and tells nothing (our own rule)."""
_MACHINES = 100
"""Machines dealt at random to which wrong numbers are compared, beside those of the cohort (our own rule)."""
_FEW = 3
FASTEST = 0.3
"""Seconds that a hand needs at least for one act on the bench's panel (our own rule, no published source)."""
_ACTS = 8


@dataclass(frozen=True)
class Fact:
    """One fact: about whom, in which lesson, of which kind, in words, and its chance of that (None: not by chance)."""

    people: tuple[str, ...]
    lesson: str
    kind: str
    words: str
    odds: float | None = None


def odds_words(odds: float) -> str:
    """Return ``odds`` as people say them."""
    if odds <= 0:
        return "practically never"
    count = 1 / odds
    if count > _MANY:
        return f"less than once in {_MANY:,.0f} cohorts of this size"
    figures = max(0, math.floor(math.log10(count)))
    return f"about once in {round(count, -figures + 1):,.0f} cohorts of this size" if odds < 1 else "in every cohort"


# --- the same cells -------------------------------------------------------------------------------------------------


def _alike_by_chance(question: AnyQuestion, paper: Paper) -> float:
    """Return how often two people who do not know of each other have this same wrong answer, on the safe side."""
    if isinstance(question, Choice | FaultQuestion):
        return 1 / max(1, len(question.lettered(paper.card)) - 1)
    if isinstance(question, Order):
        return _ORDER_ALIKE
    if isinstance(question, Choices):
        return float(1 / 2 ** (len(question.lettered(paper.card)) - 2))
    return _NUMBER_ALIKE if isinstance(question, Question) else 0.1


def _linked(papers: list[Paper], blank: Mapping[str, str]) -> dict[tuple[int, int], list[tuple[str, float]]]:
    """Return, for two papers by their places, the questions whose cells are the same and explained by no right answer.

    Each with its odds. An answer that more than half the cohort has links nobody.
    """
    places: dict[tuple[str, str], list[int]] = {}
    for place, paper in enumerate(papers):
        for name, cell in paper.cells.items():
            if cell.code and cell.code != blank.get(name):
                places.setdefault((name, cell.code), []).append(place)
    counted = len(papers) > 2 * _FEW * _FEW  # enough people to count how common an answer is
    found: dict[tuple[int, int], list[tuple[str, float]]] = {}
    for (name, code), those in places.items():
        share = (len(those) - 2) / (len(papers) - 2) if counted else 0.0
        if len(those) < 2 or share > _COMMON:
            continue
        question, long = sheet(papers[0].lesson).question(name), len(code) >= _LONG
        odds = _CODE_ALIKE if long else _alike_by_chance(question, papers[those[0]])
        for one, other in combinations(those, 2):
            cell = papers[one].cells[name]
            if cell.full and papers[other].cells[name].full and not long:
                continue  # both right on their own machines: no wonder
            found.setdefault((one, other), []).append((name, max(odds, share)))
    return found


def copied(papers: list[Paper], given_out: Mapping[str, str] | None = None) -> list[Fact]:
    """Return who has the same answer cells: wrong for at least one of them, or code that nobody writes twice.

    ``given_out`` has the cells as they were given out, which are nobody's.
    """
    pairs = max(1, len(papers) * (len(papers) - 1) // 2)
    facts = []
    for (first, second), same in sorted(_linked(papers, given_out or {}).items()):
        odds = pairs * math.prod(odds for _, odds in same)
        if odds > RARE:
            continue
        one, other, names = papers[first], papers[second], [name for name, _ in same]
        words = (
            f"{len(names)} answer cells of {one.apprentice} and {other.apprentice} are the same, letter by letter, and "
            f"are not the right answers of both dryers: {_titles(one.lesson, names)}. Chance alone does that "
            f"{odds_words(odds)}."
        )
        facts.append(Fact((one.apprentice, other.apprentice), one.lesson, "same cells", words, odds))
    return facts


def _titles(lesson: str, names: Iterable[str]) -> str:
    order = {question.name: number for number, question in enumerate(sheet(lesson).questions, 1)}
    return "question " + ", ".join(str(order[name]) for name in sorted(names, key=order.__getitem__))


# --- answers that are code ------------------------------------------------------------------------------------------


def code_answers(paper: Paper) -> list[Fact]:
    """Return whether answers are code that uses more of the course than its job card's lines, and which names."""
    names: dict[str, None] = {}
    where = []
    for name, cell in paper.cells.items():
        if cell.names:
            where.append(name)
            names.update(dict.fromkeys(cell.names))
    if not where:
        return []
    words = (
        f"{_titles(paper.lesson, where)[:1].upper()}{_titles(paper.lesson, where)[1:]} of {paper.apprentice}: the "
        f"answer is code, with these names of the course: {', '.join(names)}."
    )
    return [Fact((paper.apprentice,), paper.lesson, "answers are code", words)]


# --- numbers of another machine -------------------------------------------------------------------------------------


@cache
def _dealt(lesson: str, number: int) -> dict[str, Band]:
    """Return what counts on a machine dealt at random, to tell how often numbers fit a stranger's."""
    right = worked(lesson, sheet(lesson).card(f"chance.{number}"))
    return {name: figures_band(right[name], figures) for name, figures in _figures(lesson).items()}


@cache
def _figures(lesson: str) -> dict[str, int]:
    """Return the figures of each number of a lesson that is not read from a table."""
    asked = [question for question in sheet(lesson).questions if isinstance(question, Question)]
    return {question.name: question.figures for question in asked if not question.exact}


def _right_bands(paper: Paper) -> dict[str, Band]:
    """Return what counts on the machine of ``paper``, as far as its own right answers say it: nothing is worked out."""
    figures = _figures(paper.lesson)
    return {
        name: figures_band(cell.number, figures[name])
        for name, cell in paper.cells.items()
        if cell.full and cell.number is not None and name in figures
    }


def _fit(numbers: Mapping[str, float], bands: Mapping[str, Band]) -> int:
    return sum(number in bands[name] for name, number in numbers.items() if name in bands)


def fitting(papers: list[Paper]) -> list[Fact]:
    """Return whose wrong numbers fit the machine of one other person, and on how many machines chance was tried.

    What is right on the other's machine is what they themselves typed for full marks. Chance is tried on the machines
    of everybody else and on machines dealt at random; numbers that fit one of those too are no fact.
    """
    found = []
    machines = {paper.apprentice: bands for paper in papers if (bands := _right_bands(paper))}
    for paper in papers:
        numbers = {name: cell.number for name, cell in paper.cells.items() if cell.number is not None and not cell.full}
        others = [(who, bands) for who, bands in machines.items() if who != paper.apprentice]
        if len(numbers) < _FEW or not others:
            continue
        fits = sorted(((_fit(numbers, bands), who) for who, bands in others), reverse=True)
        best, who = fits[0]
        if best < _FEW or (len(fits) > 1 and fits[1][0] >= best):
            continue
        if any(_fit(numbers, _dealt(paper.lesson, number)) >= best for number in range(_MACHINES)):
            continue
        tried = _MACHINES + len(others) - 1
        odds = 1 / (tried + 1)
        words = (
            f"{best} of the {len(numbers)} wrong numbers of {paper.apprentice} fit the dryer of {who}. Of {tried} "
            "other dryers, those of the cohort and some dealt at random, none fits so many: chance shows such a "
            f"thing to fewer than {min(100.0, 100 * odds * len(others)):.1f} of 100."
        )
        found.append(Fact((paper.apprentice, who), paper.lesson, "numbers of another dryer", words, odds))
    return found


# --- minutes that cannot be -----------------------------------------------------------------------------------------


def too_fast(paper: Paper) -> list[Fact]:
    """Return whether acts on the bench followed one another faster than a hand can do them."""
    found = []
    for name, cell in paper.cells.items():
        times = cell.act_seconds
        steps = [later - earlier for earlier, later in pairwise(times)]
        quick = sum(step < FASTEST for step in steps)
        if quick >= _ACTS and quick >= len(steps) / 2:
            which = _titles(paper.lesson, [name])
            words = (
                f"{which[:1].upper()}{which[1:]} of {paper.apprentice}: {quick + 1} acts on the bench in "
                f"{times[-1] - times[0]:.1f} seconds; the bench's clock counts {cell.bench_minutes:.0f} minutes for "
                f"them, and a hand needs at least {FASTEST:g} s for each. They were done by code."
            )
            found.append(Fact((paper.apprentice,), paper.lesson, "acts too fast for a hand", words))
    return found


def facts_of(papers: Iterable[Paper], given_out: Mapping[str, Mapping[str, str]] | None = None) -> list[Fact]:
    """Return all facts of a cohort, lesson by lesson; ``given_out`` has each lesson's cells as they were given out."""
    by_lesson: dict[str, list[Paper]] = {}
    for paper in papers:
        by_lesson.setdefault(paper.lesson, []).append(paper)
    found: list[Fact] = []
    for lesson, those in sorted(by_lesson.items()):
        found += copied(those, (given_out or {}).get(lesson))
        found += fitting(those)
        for paper in those:
            found += [*code_answers(paper), *too_fast(paper)]
    return found
