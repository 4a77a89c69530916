"""Simulated apprentices: plainly made-up people who fill in a lesson as people do, and the truth about each answer."""

from __future__ import annotations

import copy
import math
from collections.abc import Callable
from dataclasses import dataclass

from nbformat.notebooknode import NotebookNode

from dryerbench.answers.acceptance import Wanted, Written
from dryerbench.answers.parser import read
from dryerbench.answers.thousands import two_readings
from dryerbench.answers.tolerance import figures_band, rounded
from dryerbench.core.random_stream import Stream
from dryerbench.course.honest_ways import HonestWays
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import AnyQuestion, BenchQuestion, FaultQuestion, Question
from dryerbench.registry import sheet
from legtoleg.authoring.lesson_source import worked_source
from legtoleg.demo.simulated_letters import letters_of, slip_in_letters
from legtoleg.keys.answer_key import references, worked
from legtoleg.keys.reference import AnyReference, FaultReference, Reference

SPELLINGS: dict[str, tuple[str, ...]] = {
    "A": ("{n} A", "{n}A", "{n} amps", "{n} a"),
    "W": ("{n} W", "{n} watts", "{n}W"),
    "V": ("{n} V", "{n} volts", "{n} VAC"),
    "Ω": ("{n} ohms", "{n} Ω", "{n} ohm"),
    "%": ("{n} %", "{n}%", "{n} percent"),
}
"""How people write a number in each unit."""

_BEHAVIOURS = ("sure", "mixed", "mixed", "slips", "unfinished", "trips_python")


@dataclass(frozen=True)
class Deed:
    """What one simulated apprentice did with one question, and what the marker should therefore find.

    ``typed`` is what stands in the answer cell after the name and the equals sign; empty if it was left alone.
    ``cell`` is the whole answer where more than that was done.
    """

    question: str
    did: str
    typed: str
    expected_note: str
    expected_points: float
    cell: str = ""


@dataclass(frozen=True)
class Simulated:
    """One made-up apprentice and what they did, question by question."""

    apprentice: str
    name: str
    behaviour: str
    deeds: tuple[Deed, ...]


@dataclass
class _Hand:
    """The state of one simulated apprentice while they go through a lesson."""

    stream: Stream
    card: JobCard
    right: dict[str, float]
    own: dict[str, float]


def simulate(number: int, seed: int, lesson: str) -> Simulated:
    """Return the ``number``-th made-up apprentice of a cohort in ``lesson``; the same for the same ``seed``."""
    apprentice = f"demo-{number:02d}"
    behaviour = _BEHAVIOURS[(number - 1) % len(_BEHAVIOURS)]
    paper = sheet(lesson)
    card = paper.card(apprentice)
    hand = _Hand(Stream(f"leg-to-leg/try/{seed}/{lesson}/{number}"), card, worked(lesson, card), {})
    most = max(len(paper.questions) - 2, 0)
    stops_at = hand.stream.integer(min(3, most), most) if behaviour == "unfinished" else math.inf
    trips_at = hand.stream.integer(0, len(paper.questions) - 1) if behaviour == "trips_python" else -1
    deeds = []
    for place, reference in enumerate(references(lesson)):
        question = paper.question(reference.question)
        if place >= stops_at:
            undone = f"{question.name} = None" if isinstance(question, BenchQuestion) else ""
            deed = Deed(question.name, "blank", "", "blank", 0.0, undone)
        elif place == trips_at:
            deed = _trip(question)
        else:
            deed = _answer(lesson, question, reference, hand, behaviour)
        deeds.append(deed)
        if question.name in hand.right:
            hand.own.setdefault(question.name, hand.right[question.name])
    return Simulated(apprentice, f"Demo Apprentice {number:02d}", behaviour, tuple(deeds))


def _figures(number: float, question: Question, more: int) -> str:
    """Return ``number`` with ``more`` figures than asked, or none more where the cell would ask what is meant."""
    if question.exact:
        return f"{number:g}"
    text = rounded(number, question.figures + more)
    return rounded(number, question.figures) if two_readings(text, question.unit) else text


def _write(stream: Stream, number: float, question: Question) -> str:
    text = _figures(number, question, stream.integer(0, 1))
    spellings = SPELLINGS.get(question.unit, (f"{{n}} {question.unit}",))
    return '"' + stream.choose(spellings).format(n=text) + '"'


def _trip(question: AnyQuestion) -> Deed:
    """Leave the quotes out, so that Python stops at the cell."""
    return Deed(question.name, "python_error", "8.9 of them", "python_error", 0.0)


def _answer(lesson: str, question: AnyQuestion, reference: AnyReference, hand: _Hand, behaviour: str) -> Deed:
    slips = hand.stream.integer(1, 100) <= {"sure": 0, "mixed": 30, "slips": 60}.get(behaviour, 10)
    if isinstance(question, Question) and isinstance(reference, Reference):
        return _number(question, reference, hand, slips=slips)
    if slips and isinstance(question, FaultQuestion) and isinstance(reference, FaultReference):
        return _guess(question, reference, hand)
    slipped = slip_in_letters(question, reference, hand.card, hand.stream) if slips else None
    if slipped is not None:
        letters, code = slipped
        return Deed(question.name, f"slip:{code}", f'"{letters}"', code, 0.0)
    return Deed(question.name, "right", "", "right", question.points, worked_source(lesson, question.name))


def _guess(question: FaultQuestion[JobCard], reference: FaultReference[JobCard], hand: _Hand) -> Deed:
    """Name the right fault with nothing read."""
    letter = letters_of(question, hand.card, [min(reference.right(hand.card))])
    cell = f'bench = open_bench(card)\nbench.do("unplug")\n{question.name} = ("{letter}", bench)'
    return Deed(question.name, f"slip:{reference.thin_slip}", "", reference.thin_slip, question.points / 2, cell)


def _number(question: Question, reference: Reference[JobCard], hand: _Hand, *, slips: bool) -> Deed:
    followed = reference.task.value(reference.numbers(hand.card, {**hand.right, **hand.own}))
    misled = not _honest(question, reference, hand, followed)
    slipped = _slip(question, reference, hand, followed if misled else None) if slips else None
    if slipped is not None:
        return slipped
    name = question.name
    if misled:
        hand.own[name] = followed
        points = max(question.points - 1.0, question.points / 2)
        return Deed(name, "follow_through", _write(hand.stream, followed, question), "follow_through", points)
    return Deed(name, "right", _write(hand.stream, hand.right[name], question), "right", question.points)


def _honest(question: Question, reference: Reference[JobCard], hand: _Hand, number: float) -> bool:
    """Tell whether ``number``, written as asked or with one figure more, is where an honest way leads."""
    wanted = Wanted(question.unit, question.figures, question.exact)
    ways = HonestWays(reference.task, reference.numbers(hand.card, hand.right), wanted)
    for more in (0, 1):
        text = _figures(number, question, more)
        answer = read(f"{text} {question.unit}")
        if ways.fit(Written(answer.magnitude, answer.unit, answer.sure_figures)) is not None:
            return True
    return False


def _slip(question: Question, reference: Reference[JobCard], hand: _Hand, followed: float | None) -> Deed | None:
    """Make one of the task's slips whose number is neither right nor what follows from an earlier number."""
    taken = [hand.right[question.name], *([] if followed is None else [followed])]
    values = reference.task.slip_values(reference.numbers(hand.card, hand.right))
    free: Callable[[float], bool] = lambda value: all(
        abs(value - other) > 3 * abs(figures_band(other, question.figures).high - other) for other in taken
    )
    codes = sorted(
        code for code, value in values.items() if free(value) and not _honest(question, reference, hand, value)
    )
    if not codes:
        return None
    code = hand.stream.choose(codes)
    hand.own[question.name] = values[code]
    return Deed(question.name, f"slip:{code}", _write(hand.stream, values[code], question), code, 0.0)


def filled_in(lesson_notebook: NotebookNode, person: Simulated) -> NotebookNode:
    """Return the built lesson with ``person``'s answers typed into its answer cells."""
    notebook = copy.deepcopy(lesson_notebook)
    cells = {cell.metadata.get("nbgrader", {}).get("grade_id"): cell for cell in notebook.cells}
    for deed in person.deeds:
        cell = cells[f"{deed.question}_answer"]
        if deed.cell:
            cell.source = f"{cell.source}\n{deed.cell}"
        elif deed.typed:
            first, _, rest = cell.source.partition("\n#")
            cell.source = f"{first.partition('=')[0]}= {deed.typed}\n#{rest}"
    return notebook
