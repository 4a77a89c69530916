"""Facts for the instructor: what in the hand-ins of a cohort is unlikely by chance, in words, with its odds.

Nobody is accused: a fact says what was seen and how often chance alone shows it, and the talk is the instructor's.
Nothing of it is ever on an apprentice's page. ``copied``, ``code_answers``, ``fitting`` and ``too_fast`` each find one
kind; ``facts_of`` runs them over a cohort's marked notebooks.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import combinations, pairwise

from dryerbench.answers.tolerance import Band, figures_band
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import AnyQuestion, Choice, Choices, FaultQuestion, Order, Question
from dryerbench.registry import sheet
from legtoleg.keys.answer_key import worked
from legtoleg.report.answer_cells import AnswerCell, Paper

RARE = 1e-3
"""A fact is stated from these odds on, counted over the whole cohort (our own rule)."""
_NUMBER_ALIKE = 0.05
"""How often two who are both wrong type the same number: usual slips are few (our own rule, on the safe side)."""
_ORDER_ALIKE = 0.05
_CODE_ALIKE = 1e-3
_LONG = 60
"""Characters from which the same code by two people is no accident."""
_MACHINES = 400
"""Machines dealt at random to which wrong numbers are compared."""
_FEW = 3
FASTEST = 0.3
"""Seconds that a hand needs at least for one act on the bench's panel (our own rule, no published source)."""
_ACTS = 8


@dataclass(frozen=True)
class Fact:
    """One fact: about whom, in which lesson, of which kind, in words, and its odds by chance (None: not by chance)."""

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
    figures = max(0, math.floor(math.log10(count)))
    return f"about once in {round(count, -figures + 1):,.0f} cohorts of this size" if odds < 1 else "in every cohort"


# --- the same cells -------------------------------------------------------------------------------------------------


def _alike_by_chance(question: AnyQuestion, cell: AnswerCell, card: JobCard) -> float:
    """Return how often two people who do not know of each other have this same wrong answer, on the safe side."""
    if len(cell.code) >= _LONG:
        return _CODE_ALIKE
    if isinstance(question, Choice | FaultQuestion):
        return 1 / max(1, len(question.lettered(card)) - 1)
    if isinstance(question, Order):
        return _ORDER_ALIKE
    if isinstance(question, Choices):
        return float(1 / 2 ** (len(question.lettered(card)) - 2))
    return _NUMBER_ALIKE if isinstance(question, Question) else 0.1


def _same(one: Paper, other: Paper) -> list[tuple[str, float]]:
    """Return the questions whose cells are the same and explained by no right answer, each with its odds."""
    found = []
    paper = sheet(one.lesson)
    for name, cell in one.cells.items():
        there = other.cells.get(name)
        if there is None or not cell.code or cell.code != there.code:
            continue
        if cell.full and there.full and len(cell.code) < _LONG:
            continue  # both right on their own machines: no wonder
        found.append((name, _alike_by_chance(paper.question(name), cell, one.card)))
    return found


def copied(papers: list[Paper], given_out: Mapping[str, str] | None = None) -> list[Fact]:
    """Return who has the same answer cells: wrong for at least one of them, or code that nobody writes twice.

    ``given_out`` has the cells as they were given out, which are nobody's.
    """
    blank = given_out or {}
    texts = Counter((name, cell.code) for paper in papers for name, cell in paper.cells.items())
    pairs = max(1, len(papers) * (len(papers) - 1) // 2)
    linked: list[tuple[Paper, Paper, list[str], float]] = []
    for one, other in combinations(papers, 2):
        same = [(name, odds) for name, odds in _same(one, other) if one.cells[name].code != blank.get(name)]
        if len(papers) > 2 * _FEW * _FEW:  # enough people to count how common an answer is
            share = {name: (texts[name, one.cells[name].code] - 2) / (len(papers) - 2) for name, _ in same}
            same = [(name, max(odds, share[name])) for name, odds in same]
        odds = pairs * math.prod(odds for _, odds in same)
        if same and odds <= RARE:
            linked.append((one, other, [name for name, _ in same], odds))
    return [
        Fact(
            (one.apprentice, other.apprentice),
            one.lesson,
            "same cells",
            f"{len(names)} answer cells of {one.apprentice} and {other.apprentice} are the same, letter by letter, and "
            f"are not simply right on both machines: {_titles(one.lesson, names)}. Chance alone does that "
            f"{odds_words(odds)}.",
            odds,
        )
        for one, other, names, odds in linked
    ]


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
def _dealt(lesson: str) -> tuple[dict[str, Band], ...]:
    """Return what counts on machines dealt at random, to tell how often numbers fit a stranger's."""
    paper = sheet(lesson)
    return tuple(_bands(lesson, paper.card(f"chance.{number}")) for number in range(_MACHINES))


def _bands(lesson: str, card: JobCard) -> dict[str, Band]:
    """Return what counts on ``card`` for each number that is not read from a table."""
    asked = {question.name: question for question in sheet(lesson).questions if isinstance(question, Question)}
    right = worked(lesson, card)
    return {name: figures_band(value, asked[name].figures) for name, value in right.items() if not asked[name].exact}


def _fit(numbers: Mapping[str, float], bands: Mapping[str, Band]) -> int:
    return sum(number in bands[name] for name, number in numbers.items() if name in bands)


def fitting(papers: list[Paper]) -> list[Fact]:
    """Return whose wrong numbers fit the machine of one other person, and how often machines dealt at random do."""
    found = []
    machines = {paper.apprentice: _bands(paper.lesson, paper.card) for paper in papers}
    for paper in papers:
        numbers = {name: cell.number for name, cell in paper.cells.items() if cell.number is not None and not cell.full}
        others = [(who, bands) for who, bands in machines.items() if who != paper.apprentice]
        if len(numbers) < _FEW or not others:
            continue
        best, who = max((_fit(numbers, bands), who) for who, bands in others)
        if best < _FEW:
            continue
        by_chance = sum(_fit(numbers, bands) >= best for bands in _dealt(paper.lesson))
        odds = min(1.0, (by_chance + 1) / (_MACHINES + 1))
        if by_chance == 0:
            most = min(100.0, 100 * odds * len(others))
            words = (
                f"{best} of the {len(numbers)} wrong numbers of {paper.apprentice} fit the machine of {who}. Of "
                f"{_MACHINES} machines dealt at random none fits so many; with {len(others)} other people, chance "
                f"shows such a thing to fewer than {most:.1f} of 100."
            )
            found.append(Fact((paper.apprentice, who), paper.lesson, "numbers of another machine", words, odds))
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
