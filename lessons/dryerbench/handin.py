"""Hand in: read what was typed, say what was understood, and leave a record; right or wrong is not said here."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import Any

from IPython.display import display

from dryerbench.answers import Answer, read
from dryerbench.cards import JobCard
from dryerbench.errors import LegToLegError, UnreadableAnswerError
from dryerbench.kits import PRACTICE, find_kit
from dryerbench.questions import Question
from dryerbench.records import MIME, answer_record, unread_record
from dryerbench.sheets import Sheet, sheet
from dryerbench.units import commensurable, quantity_of


@dataclass
class _Desk:
    """The lesson that is open in this notebook and whose machine it is."""

    sheet: Sheet | None = None
    apprentice: str = PRACTICE


_DESK = _Desk()


def job_card(lesson: str) -> JobCard:
    """Open ``lesson`` and return the job card of this kit's machine (without a kit: the practice machine).

    Raises
    ------
    UnknownQuestionError
        If there is no such lesson.
    KitError
        If the kit's mark is damaged.
    """
    _DESK.sheet = sheet(lesson)
    _DESK.apprentice = find_kit().apprentice
    card: JobCard = _DESK.sheet.card(_DESK.apprentice)
    return card


def remarks(question: Question, answer: Answer) -> list[str]:
    """Return what is odd about the form of an answer: its quantity, its figures. Never whether it is right."""
    if answer.kind == "over_limit":
        return [f"OL is a reading, not a number; the question asks for a number in {question.unit}."]
    found: list[str] = []
    if not commensurable(answer.unit, question.unit):
        found.append(
            f"{answer.unit} measures {quantity_of(answer.unit)}; the question asks for "
            f"{quantity_of(question.unit)}, in {question.unit}."
        )
    if not question.exact and answer.figures is not None and answer.figures < question.figures:
        found.append(f"It has {answer.figures} of the {question.figures} figures asked for.")
    return found


def _box(heading: str, lines: list[str], *, fine: bool) -> dict[str, str]:
    edge, sign = ("#0072B2", "✓") if fine else ("#B85C00", "!")
    body = "".join(f"<div>{escape(line)}</div>" for line in lines)
    return {
        "text/plain": "\n".join([f"{sign} {heading}", *(f"  {line}" for line in lines)]),
        "text/html": (
            f"<div style='border-left:5px solid {edge};padding:0.4em 0.8em;margin:0.2em 0'>"
            f"<b>{sign} {escape(heading)}</b>{body}</div>"
        ),
    }


def _show(record: dict[str, Any], box: dict[str, str]) -> None:
    display({MIME: record, **box}, raw=True)


def hand_in(name: str, value: object) -> None:
    """Record ``value`` as the answer to the question ``name`` and show what was recorded.

    Raises
    ------
    UnknownQuestionError
        If the open lesson has no such question.
    LegToLegError
        If no lesson is open: the cell with the job card has to run first.
    """
    if _DESK.sheet is None:
        raise LegToLegError("Run the cell with your job card first, then this one.")
    question = _DESK.sheet.question(name)
    try:
        answer = read(value)
    except UnreadableAnswerError as error:
        typed = value if type(value) is str else f"({type(value).__name__})"
        _show(unread_record(name, _DESK.apprentice, typed, error), _unread_box(question, error))
        return
    odd = remarks(question, answer)
    heading = f"Recorded for “{question.title}”: {answer.text}"
    notes = odd or ["Reads as asked. Whether it is right, you learn when it is marked."]
    if _DESK.apprentice == PRACTICE:
        notes = [*notes, "This is the practice machine: nothing here can be handed in."]
    _show(answer_record(name, _DESK.apprentice, answer), _box(heading, notes, fine=not odd))


def _unread_box(question: Question, error: UnreadableAnswerError) -> dict[str, str]:
    if error.reason == "blank":
        return _box(f"“{question.title}” is not answered yet", [f"Asked for: {question.asked}."], fine=False)
    return _box(f"“{question.title}” could not be read", [str(error)], fine=False)
