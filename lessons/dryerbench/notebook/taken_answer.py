"""Taken answers: one value as an answer to its question, as a record and as the words that the page shows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from html import escape

from dryerbench.core.errors import UnreadableAnswerError
from dryerbench.core.identity import PRACTICE
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import AnyQuestion
from dryerbench.drawing.message_box import message_box
from dryerbench.notebook.answer_record import MIME, dealt_record, unread_record
from dryerbench.notebook.forms import receive


@dataclass(frozen=True)
class TakenAnswer:
    """What was taken down of one answer; ``odd`` is what is odd about its form, None where there is no answer."""

    record: dict[str, object]
    heading: str
    lines: tuple[str, ...]
    odd: tuple[str, ...] | None

    @property
    def fine(self) -> bool:
        """Whether it reads as asked."""
        return self.odd == ()

    @property
    def said(self) -> str:
        """All that is said of it, line by line."""
        return "\n".join([self.heading, *self.lines])

    @property
    def bundle(self) -> dict[str, object]:
        """The record and the words as one output of a cell."""
        return {MIME: self.record, **words_box(self.heading, self.lines, fine=self.fine)}

    def noting(self, *notes: str) -> TakenAnswer:
        """Return this with more lines below."""
        return replace(self, lines=(*self.lines, *notes))


def words_box(heading: str, lines: Iterable[str], *, fine: bool) -> dict[str, str]:
    """Return ``heading`` and ``lines`` as text and as a box."""
    sign, lines = "✓" if fine else "!", list(lines)
    body = "".join(f"<div>{escape(line)}</div>" for line in lines)
    return {
        "text/plain": "\n".join([f"{sign} {heading}", *(f"  {line}" for line in lines)]),
        "text/html": message_box(body, heading=heading, sign=sign, fine=fine),
    }


def take(question: AnyQuestion, card: JobCard, value: object) -> TakenAnswer:
    """Return ``value`` as taken in answer to ``question`` on the machine of ``card``; it need not be readable."""
    try:
        received = receive(question, card, value)
    except UnreadableAnswerError as error:
        return _unread(question, card, value, error)
    notes = received.odd or ["Saved. You'll find out if it's right when it's graded."]
    if card.apprentice == PRACTICE:
        notes = [*notes, "This is the practice dryer: nothing here can be handed in."]
    record = dealt_record(received.record, card.try_number)
    return TakenAnswer(record, f"Recorded for “{question.title}”: {received.reads}", tuple(notes), tuple(received.odd))


def _unread(question: AnyQuestion, card: JobCard, value: object, error: UnreadableAnswerError) -> TakenAnswer:
    typed = value if type(value) is str else f"({type(value).__name__})"
    record = dealt_record(unread_record(question.name, card.apprentice, typed, error), card.try_number)
    if error.reason == "blank":
        return TakenAnswer(record, f"“{question.title}” is not answered yet", (f"Answer {question.asked}.",), None)
    return TakenAnswer(record, f"“{question.title}” could not be read", (str(error),), (str(error),))
