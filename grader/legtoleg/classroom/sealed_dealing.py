"""What a supervised test deals: machines and faults that follow from a secret of the class, which no seat holds."""

from __future__ import annotations

import hmac
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from dryerbench.bench.bench import Bench
from dryerbench.bench.meter import Meter, Source
from dryerbench.bench.reading import Reading
from dryerbench.core.errors import LegToLegError
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import FaultQuestion, Lettered
from dryerbench.registry import sheet
from dryerbench.topics.call_to_close.sheet import LESSON as CALLS_LESSON
from dryerbench.topics.call_to_close.sheet import CallCard, call_lines
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.keys.answer_key import references
from legtoleg.keys.reference import AnyReference, FaultReference, WorkReference

CALLS, REFRESHER = "calls", "refresher"
DEALT_FROM = "sealed"
"""The file in the class's secrets from which every fault follows."""
KINDS = (CALLS, REFRESHER)
"""The supervised tests that there are: the capstone's calls, and a refresher."""


@dataclass(frozen=True)
class SealedJob:
    """One machine of a test: its key, the lesson that deals it, its questions, what is known before it is touched."""

    key: str
    lesson: str
    title: str
    questions: tuple[str, ...]
    known: Callable[[JobCard], list[str]]

    @property
    def names_fault(self) -> FaultQuestion[JobCard] | None:
        """The question that asks for the fault's name; None if this job asks for none."""
        asked = (sheet(self.lesson).question(name) for name in self.questions)
        return next((one for one in asked if isinstance(one, FaultQuestion)), None)


def _call(number: int, *lines: str) -> Callable[[JobCard], list[str]]:
    """Return what is known of call ``number``: words, plate, tech sheet, and those ``lines`` of the card.

    The other lines of the card stay here: what a new machine costs was dealt by the price of the repair.
    """

    def known(card: JobCard) -> list[str]:
        if not isinstance(card, CallCard):
            return []
        fetched = f"card.tech_sheet({number})"
        own = [line for line in call_lines(card, number) if line.name != fetched]
        own += [line for line in card.lines if line.name in lines]
        return [*(f"{line.label}: {line.value}" for line in own), *card.tech_sheet(number)]

    return known


CALL_JOBS = (
    SealedJob("call-1", CALLS_LESSON, "Call 1: find the fault, name it, repair it, prove it",
              ("call_fault", "call_repair"), _call(1, "card.supply_volts")),
    SealedJob("call-2", CALLS_LESSON, "Call 2: what failed, and what made it fail; repair both, prove it",
              ("cause_removed",), _call(2)),
    SealedJob("call-3", CALLS_LESSON, "Call 3: find out whose work it is, and hand it off",
              ("handed_over",), _call(3)),
)  # fmt: skip


def _nothing(_: JobCard) -> list[str]:
    return ["What you see is all that is known of this dryer."]


def refresher_jobs(asked: Sequence[tuple[str, str]]) -> tuple[SealedJob, ...]:
    """Return a job for each of ``asked`` (lesson, question) of a refresher that is work on the bench."""
    return tuple(
        SealedJob(name, lesson, sheet(lesson).question(name).title, (name,), _nothing)
        for lesson, name in asked
        if isinstance(_reference(lesson, name), WorkReference)
    )


def jobs_of(kind: str, told: Mapping[str, object]) -> tuple[SealedJob, ...]:
    """Return the jobs of a test of ``kind``; ``told`` is what the book keeps of its taker."""
    if kind == CALLS:
        return CALL_JOBS
    items = told.get("items", [])
    return refresher_jobs([(str(lesson), str(name)) for lesson, name in items]) if isinstance(items, list) else ()


class SealedMeter(Meter):
    """A meter whose last digit tells nothing of fault or state: its noise is drawn for the place and range alone."""

    def _show(
        self,
        mode: str,
        true: float,
        places: tuple[str, ...],
        source: Source,
        full_scale: float | None,
        *,
        less: float = 0.0,
    ) -> Reading:
        return super()._show(mode, true, places, Source(source.owner, source.owner), full_scale, less=less)


def _sealed(open_plainly: Callable[[JobCard], Bench]) -> Callable[[JobCard], Bench]:
    def opened(card: JobCard) -> Bench:
        bench = open_plainly(card)
        bench.meter = SealedMeter()
        return bench

    return opened


def _reference(lesson: str, question: str) -> AnyReference:
    return next(one for one in references(lesson) if one.question == question)


def sealed_references(lesson: str) -> tuple[AnyReference, ...]:
    """Return the references of ``lesson``, with the meter of a supervised test on every bench."""
    return tuple(
        replace(one, bench=_sealed(one.bench)) if isinstance(one, WorkReference | FaultReference) else one
        for one in references(lesson)
    )


@dataclass(frozen=True)
class Dealer:
    """Deals every machine of the class by its ``secret``."""

    secret: str

    @staticmethod
    def of(folder: ClassFolder) -> Dealer:
        """Return the dealer of the class in ``folder``."""
        return Dealer(folder.secret(DEALT_FROM))

    @cached_property
    def _key(self) -> bytes:
        return self.secret.encode("ascii")

    def name(self, test: str, who: str, lesson: str) -> str:
        """Return the name by which ``lesson`` deals in ``test`` to ``who``: 128 bits that nobody can work out."""
        said = f"{test}\0{who}\0{lesson}".encode()
        return f"sealed-{hmac.new(self._key, said, 'sha256').hexdigest()[:32]}"

    def card(self, test: str, who: str, lesson: str) -> JobCard:
        """Return the card of ``lesson`` in ``test`` for ``who``."""
        return sheet(lesson).card(self.name(test, who, lesson))

    def bench(self, test: str, who: str, job: SealedJob) -> Bench:
        """Return the bench of ``job`` as it is found.

        Raises
        ------
        LegToLegError
            If the job has no question on a bench.
        """
        for one in sealed_references(job.lesson):
            if one.question == job.questions[0] and isinstance(one, WorkReference | FaultReference):
                return one.bench(self.card(test, who, job.lesson))
        raise LegToLegError(f"{job.questions[0]} is no work on the bench.")


def offers(job: SealedJob, card: JobCard) -> list[list[str]]:
    """Return what can be named as the fault of ``job`` on ``card``: key and words, in the order of keys."""
    question = job.names_fault
    if question is None or not isinstance(question, Lettered):
        return []
    return [[option.key, option.text] for option in question.options_for(card)]
