"""Practice of the kinds of question that are not sums: a pool of cases, dealt by a number, judged with their slips.

A pool stands in a topic's module ``practice_questions`` by the graded question that it comes before. What it asks is
of the same kind and asked in the same box, on cases of its own that are written with their answers: it shares no option
with the graded question, so nothing here tells the answer on anybody's card.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from dryerbench.answers.tolerance import figures_band
from dryerbench.core.errors import LegToLegError
from dryerbench.core.random_stream import Stream
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import AnyQuestion, Choice, Choices, Option, Order, Readings, Row, by_key

MOST_NUMBERS = 100_000
"""The highest number of a practice card."""


class NoPracticeQuestionError(LegToLegError, ValueError):
    """There is no practice of that name or number."""


@dataclass(frozen=True)
class Missed:
    """One thing that is wrong with an answer: what it is about, and the slip that it shows.

    A slip is given by its code everywhere in this module; where the course has none that fits, by a sentence.
    """

    about: str
    slip: str


@dataclass(frozen=True)
class LettersGo:
    """One practice card with letters: what is told, what is offered, how chosen keys are judged, why it is so."""

    told: str
    options: tuple[Option, ...]
    missed: Callable[[Sequence[str]], tuple[Missed, ...]]
    why: str = ""


@dataclass(frozen=True)
class Reading:
    """One right reading: its line of the table, its number in ``unit`` (None: OL), and numbers that a slip leads to.

    ``loose`` is how far off counts, in the unit; ``other`` is the slip of a number where OL belongs, or of OL where a
    number does.
    """

    label: str
    unit: str
    number: float | None
    other: str
    slips: Mapping[str, float] = field(default_factory=dict)
    loose: float = 0.0

    def fits(self, number: float | None) -> bool:
        """Return whether ``number`` counts: within ``loose``, or the same to three figures."""
        if number is None or self.number is None:
            return number is self.number
        return abs(number - self.number) <= self.loose + 1e-9 or number in figures_band(self.number, 3)

    def slip(self, number: float | None) -> str:
        """Return the slip that ``number`` shows; an empty text if it is no known one."""
        if number is None or self.number is None:
            return self.other
        found = (code for code, wrong in self.slips.items() if replace(self, number=wrong).fits(number))
        return next(found, "")


@dataclass(frozen=True)
class ReadingsGo:
    """One practice card with a table: what is told, and the right readings."""

    told: str
    readings: tuple[Reading, ...]
    why: str = ""

    @property
    def rows(self) -> tuple[Row, ...]:
        """The lines of the table; a line's key is its place."""
        return tuple(Row(str(place), one.label, one.unit) for place, one in enumerate(self.readings))

    def missed(self, numbers: Mapping[str, float | None]) -> tuple[Missed, ...]:
        """Return what is wrong with ``numbers``, by the keys of the rows; a line without a number is wrong too."""
        found = []
        for key, one in ((str(place), one) for place, one in enumerate(self.readings)):
            if key not in numbers:
                found.append(Missed(f"{one.label}: there is no reading that fits this line.", ""))
            elif not one.fits(numbers[key]):
                found.append(Missed(f"{one.label}:", one.slip(numbers[key])))
        return tuple(found)


Go = LettersGo | ReadingsGo


@dataclass(frozen=True)
class PracticeQuestion(ABC):
    """The practice before a graded question: the part of the lesson to read again, and cards without end."""

    read: str

    @abstractmethod
    def deal(self, stream: Stream, number: int) -> Go:
        """Return the go of card ``number``, its numbers and its options drawn from ``stream``."""

    def go(self, name: str, number: int) -> Go:
        """Return the go of card ``number`` of the practice before the question ``name``.

        Raises
        ------
        NoPracticeQuestionError
            If ``number`` is no whole number from 1 on.
        """
        if type(number) is not int or not 1 <= number <= MOST_NUMBERS:
            raise NoPracticeQuestionError(f"A practice card has a whole number from 1 to {MOST_NUMBERS}, like 2.")
        return self.deal(Stream(f"leg-to-leg/practice-question/{name}/{number}"), number)


def practice_card(lesson: str, number: int) -> JobCard:
    """Return the card of practice: its name has spaces, so no roster holds anybody of that name."""
    return JobCard(f"practice card {number}", lesson)


def as_asked(question: AnyQuestion, go: Go) -> AnyQuestion:
    """Return the graded ``question`` with the options or the table of ``go`` in place of its own."""
    if isinstance(go, LettersGo) and isinstance(question, Choice | Choices | Order):
        return replace(question, options=by_key(go.options))
    if isinstance(go, ReadingsGo) and isinstance(question, Readings):
        return replace(question, rows=go.rows)
    raise NoPracticeQuestionError(f"“{question.title}” has practice of another kind.")


def _quoted(text: str) -> str:
    return f"“{text.rstrip('.')}”"


@dataclass(frozen=True)
class Case:
    """A case with one right option: the right one, and the wrong ones each with its slip.

    ``numbers`` are drawn for the texts, where they stand in braces: first, last and step as for ``Stream.step``.
    """

    told: str
    right: str
    wrong: Mapping[str, str]
    why: str = ""
    numbers: Mapping[str, tuple[str, str, str]] = field(default_factory=dict)


@dataclass(frozen=True)
class PickOne(PracticeQuestion):
    """One option of several: the cases come in turn, each with numbers of its own; one may be made from a stream."""

    cases: tuple[Case | Callable[[Stream], Case], ...]

    def deal(self, stream: Stream, number: int) -> LettersGo:
        """Return the go of card ``number``."""
        found = self.cases[(number - 1) % len(self.cases)]
        case = found if isinstance(found, Case) else found(stream)
        drawn = {name: f"{stream.step(*span):g}" for name, span in case.numbers.items()}
        texts = [text.format_map(drawn) for text in (case.right, *case.wrong)]
        slips = dict(enumerate(case.wrong.values(), 1))

        def missed(keys: Sequence[str]) -> tuple[Missed, ...]:
            return tuple(Missed(f"{_quoted(texts[int(key)])}:", slips[int(key)]) for key in keys if key != "0")

        options = tuple(Option(str(place), text) for place, text in enumerate(texts))
        return LettersGo(case.told.format_map(drawn), options, missed, case.why.format_map(drawn))


@dataclass(frozen=True)
class PickMany(PracticeQuestion):
    """All options that fit: each go deals ``dealt`` of ``fits`` and ``fits_not``, and at least one of either.

    Both hold texts with the slip that they show: of one that fits when it is left out, of the other when it is named.
    """

    told: str
    fits: Mapping[str, str]
    fits_not: Mapping[str, str]
    dealt: int = 5

    def deal(self, stream: Stream, number: int) -> LettersGo:
        """Return the go of card ``number``."""
        slips = {**self.fits, **self.fits_not}
        first = [sorted(self.fits)[number % len(self.fits)], stream.choose(sorted(self.fits_not))]
        rest = stream.shuffle([text for text in sorted(slips) if text not in first])
        texts = sorted([*first, *rest[: self.dealt - 2]])

        def missed(keys: Sequence[str]) -> tuple[Missed, ...]:
            named = {texts[int(key)] for key in keys}
            return tuple(
                Missed(
                    f"{_quoted(text)} {'fits, and is left out.' if text in self.fits else 'does not fit.'}", slips[text]
                )
                for text in texts
                if (text in named) != (text in self.fits)
            )

        options = tuple(Option(str(place), text) for place, text in enumerate(texts))
        return LettersGo(self.told, options, missed)


@dataclass(frozen=True)
class PickParts(PracticeQuestion):
    """All options that fit, on a case that each card makes from its stream; the makers come in turn."""

    cases: tuple[Callable[[Stream], PickMany], ...]

    def deal(self, stream: Stream, number: int) -> LettersGo:
        """Return the go of card ``number``."""
        return self.cases[(number - 1) % len(self.cases)](stream).deal(stream, number)


@dataclass(frozen=True)
class Step:
    """One step of an order: its text, the slip of whoever does it before the step that is written before it.

    Where it waits for other steps, ``after`` holds their texts in place of that one, each with its slip.
    """

    text: str
    slip: str = ""
    after: Mapping[str, str] | None = None

    def waits_for(self, before: Step | None) -> Mapping[str, str]:
        """Return what this step waits for, with the slips; ``before`` is the step that is written before it."""
        if self.after is not None:
            return self.after
        return {before.text: self.slip} if before else {}


@dataclass(frozen=True)
class PutInOrder(PracticeQuestion):
    """Steps to order: the jobs come in turn, each with its steps as they can be done."""

    jobs: tuple[tuple[str, tuple[Step, ...]], ...]

    def deal(self, stream: Stream, number: int) -> LettersGo:
        """Return the go of card ``number``."""
        told, steps = self.jobs[(number - 1) % len(self.jobs)]
        keys_dealt = stream.shuffle([f"{key:02d}" for key in range(len(steps))])
        place = {step.text: key for step, key in zip(steps, keys_dealt, strict=True)}

        def missed(keys: Sequence[str]) -> tuple[Missed, ...]:
            if len(keys) < len(steps):
                return (Missed(f"{len(keys)} of the {len(steps)} steps are there. All of them are asked for.", ""),)
            return tuple(
                Missed(f"{_quoted(first)} comes before {_quoted(step.text)}.", slip)
                for at, step in enumerate(steps)
                for first, slip in step.waits_for(steps[at - 1] if at else None).items()
                if keys.index(place[first]) > keys.index(place[step.text])
            )

        return LettersGo(told, tuple(Option(key, text) for text, key in place.items()), missed)


@dataclass(frozen=True)
class FillTable(PracticeQuestion):
    """A table of readings: the kinds of table come in turn, each worked out from numbers of its own."""

    tables: tuple[Callable[[Stream], ReadingsGo], ...]

    def deal(self, stream: Stream, number: int) -> ReadingsGo:
        """Return the go of card ``number``."""
        return self.tables[(number - 1) % len(self.tables)](stream)
