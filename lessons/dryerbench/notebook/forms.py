"""Forms: what was handed in, read by the kind of its question, as a record and as words for the person."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field

from dryerbench.answers.answer import Answer
from dryerbench.answers.parser import read
from dryerbench.answers.units import commensurable, convert, quantity_of
from dryerbench.bench.trail import VERSION
from dryerbench.core.errors import UnreadableAnswerError
from dryerbench.core.version import FIELD
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import (
    AnyQuestion,
    Asked,
    BenchQuestion,
    FaultQuestion,
    Lettered,
    Order,
    Question,
    Readings,
)
from dryerbench.notebook.answer_record import answer_record, unread_record

LONGEST_TRAIL = 400
"""The most acts of a bench that can be handed in; a whole job takes a few dozen."""


@dataclass(frozen=True)
class Received:
    """One answer as received: its record, how it reads, and what is odd about its form."""

    record: dict[str, object]
    reads: str
    odd: list[str] = field(default_factory=list)


def receive(question: AnyQuestion, card: JobCard, value: object) -> Received:
    """Return ``value`` as the answer to ``question`` on the machine of ``card``.

    Raises
    ------
    UnreadableAnswerError
        If the text cannot be read with certainty; ``reason`` is ``blank`` for none.
    """
    return _READERS[question.kind](question, card, value)


def remarks(question: Question, answer: Answer) -> list[str]:
    """Return what is odd about the form of a quantity: its kind, its figures. Never whether it is right."""
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


def _quantity(question: Question, card: JobCard, value: object) -> Received:
    answer = read(value)
    _check_power(question, answer)
    record = answer_record(question.name, card.apprentice, answer)
    return Received(record, answer.told(question.figures), remarks(question, answer))


def _check_power(question: Question, answer: Answer) -> None:
    """Ask about volt-amperes where watts are asked, and the other way round: the numbers need not be the same."""
    if answer.kind == "over_limit" or answer.quantity == quantity_of(question.unit):
        return
    if commensurable(answer.unit, question.unit):
        meant = f"{answer.told(question.figures).partition(',')[0].removesuffix(answer.unit)}{question.unit}"
        same = convert(1.0, answer.unit, question.unit) == 1.0
        raise UnreadableAnswerError(
            f"{answer.unit} is {answer.quantity}; "
            f"the question asks for {quantity_of(question.unit)}, in {question.unit}. "
            + (f'Is it "{meant}"?' if same else f"Type it in {question.unit}."),
            "unclear_unit",
            meant if same else None,
        )


def _base(question: Asked, card: JobCard, kind: str, **data: object) -> dict[str, object]:
    blank = unread_record(question.name, card.apprentice, "", UnreadableAnswerError("", "blank", None))
    return {**{key: blank[key] for key in ("form", FIELD, "question", "apprentice", "typed")}, "kind": kind, **data}


def read_letters(text: object, offered: str) -> str:
    """Return the letters in ``text``, each of which is among ``offered`` and stands there once.

    Raises
    ------
    UnreadableAnswerError
        For no text, no letters, a letter that is not offered, or one that stands there twice.
    """
    if text is None or (type(text) is str and not text.strip()):
        raise UnreadableAnswerError("Not answered.", "blank", None)
    wanted = f"Type letters from {offered[0]} to {offered[-1]} between the quotes."
    if type(text) is not str or len(text) > 200:
        raise UnreadableAnswerError(wanted, "not_an_answer", None)
    letters = re.sub(r"\b(?:and|then)\b|[\s,;.>→()+&/-]+", "", text.lower())
    strange = [letter for letter in letters if letter not in offered]
    if strange or not letters:
        raise UnreadableAnswerError(wanted, "not_an_answer", None)
    twice = sorted({letter for letter in letters if letters.count(letter) > 1})
    if twice:
        raise UnreadableAnswerError(f"The letter {twice[0]} is there twice.", "not_an_answer", None)
    return letters


def _letters(question: Lettered[JobCard], card: JobCard, value: object) -> Received:
    options = question.lettered(card)
    letters = read_letters(value, "".join(options))
    if question.kind in ("choice", "fault") and len(letters) > 1:
        raise UnreadableAnswerError("One letter is asked for; there are several.", "not_an_answer", None)
    odd = []
    if isinstance(question, Order) and len(letters) < len(options):
        odd = [f"{len(letters)} of the {len(options)} steps are there."]
    record = _base(question, card, "letters", letters=letters)
    if question.kind == "choices":
        letters = "".join(sorted(letters))
    return Received(record, ", ".join(letters), odd)


def measured(label: str) -> str:
    """Return what a line of a table reads, whatever the part before it is called: pages of before have other names."""
    return " ".join(label.rpartition(":")[2].lower().replace("cabinet", "case").replace("the ", "").split())


def _readings(question: Readings, card: JobCard, value: object) -> Received:
    labels = {row.label: row for row in question.rows}
    if type(value) is not dict or not all(type(key) is str for key in value):
        raise UnreadableAnswerError("Leave the table as it was and fill in the readings.", "not_an_answer", None)
    named = {measured(label): label for label in labels}
    value = {named.get(measured(key), key): typed for key, typed in value.items()}
    strange = [key for key in value if key not in labels]
    if strange:
        raise UnreadableAnswerError(f"The table has no line {strange[0]!r:.60}.", "not_an_answer", None)
    rows, odd, shown = {}, [], []
    for label, row in labels.items():
        try:
            answer = read(value.get(label, ""))
        except UnreadableAnswerError as error:
            rows[row.key] = unread_record(label, card.apprentice, str(value.get(label))[:200], error)
            odd.append(f"{label}: {'no reading yet.' if error.reason == 'blank' else error}")
            continue
        rows[row.key] = answer_record(label, card.apprentice, answer)
        shown.append(f"{label}: {answer.told(3)}")
        if answer.kind == "quantity" and not commensurable(answer.unit, row.unit):
            odd.append(f"{label}: {answer.unit} measures {quantity_of(answer.unit)}, not {quantity_of(row.unit)}.")
    if not shown and all("no reading yet" in line for line in odd):
        raise UnreadableAnswerError("Not answered.", "blank", None)
    return Received(_base(question, card, "readings", rows=rows), "; ".join(shown) or "nothing yet", odd)


def acts_of(value: object) -> list[dict[str, object]]:
    """Return the acts of a bench as plain data.

    Raises
    ------
    UnreadableAnswerError
        If ``value`` is no bench, or nothing was done on it, or too much.
    """
    from dryerbench.bench.bench import Bench
    from dryerbench.notebook.sealed_bench import SealedBench

    if value is None:
        raise UnreadableAnswerError("Nothing was handed in.", "blank", None)
    if not (isinstance(value, Bench) or type(value) is SealedBench):
        raise UnreadableAnswerError("Hand in the bench itself, as it is in the cell.", "not_an_answer", None)
    acts: list[dict[str, object]] = [{"act": str(act["act"]), "with": dict(act["with"])} for act in value.trail]
    if len(value.clock) == len(acts):
        for act, second in zip(acts, value.clock, strict=True):
            act["at"] = round(second - value.clock[0], 2)
    if not acts:
        raise UnreadableAnswerError("Nothing was done on the bench yet.", "blank", None)
    if len(acts) > LONGEST_TRAIL:
        raise UnreadableAnswerError(f"More than {LONGEST_TRAIL} acts: start this dryer over.", "not_an_answer", None)
    return acts


def _work(question: BenchQuestion, card: JobCard, value: object) -> Received:
    acts = acts_of(value)
    return Received(_base(question, card, "work", acts=acts, trail=VERSION), f"{len(acts)} acts on the bench")


def _fault(question: FaultQuestion[JobCard], card: JobCard, value: object) -> Received:
    if type(value) is not tuple or len(value) != 2:
        raise UnreadableAnswerError("Leave it as it was: a letter in quotes, a comma, bench.", "not_an_answer", None)
    named = _letters(question, card, value[0])
    acts = acts_of(value[1])
    record = _base(question, card, "fault", letters=named.record["letters"], acts=acts, trail=VERSION)
    return Received(record, f"{named.reads}, with {len(acts)} acts on the bench")


_READERS: dict[str, Callable[..., Received]] = {
    "quantity": _quantity,
    "choice": _letters,
    "choices": _letters,
    "order": _letters,
    "readings": _readings,
    "work": _work,
    "fault": _fault,
}
