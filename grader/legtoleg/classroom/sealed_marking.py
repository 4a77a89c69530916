"""Marking a supervised test: the same marker, on the trail that the class itself wrote."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dryerbench.course.questions import AnyQuestion, FaultQuestion
from dryerbench.registry import sheet
from dryerbench.topics.call_to_close.sheet import LESSON as CALLS_LESSON
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.sealed_book import SealedBook, SupervisedError
from legtoleg.classroom.sealed_dealing import CALL_JOBS, CALLS, Dealer, SealedJob, jobs_of, sealed_references
from legtoleg.core.files import write_whole
from legtoleg.core.page_templates import template
from legtoleg.intake.roster import Person
from legtoleg.marking.answer_parsing import Found, GivenAct
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, earned
from legtoleg.report.call_closing import closed
from legtoleg.report.supervised_calls import write_results

_JOBS = [job.key for job in CALL_JOBS]


@dataclass(frozen=True)
class Taken:
    """What somebody's supervised test came to: an outcome for each question on the bench."""

    who: str
    outcomes: list[Outcome]
    took_part: bool = True
    """Whether anything was done: a test that somebody never touched counts for nothing."""

    @property
    def passed(self) -> bool:
        """Tell whether every call is closed, as on the lesson's page: safe, and with 80 % of its points."""
        return all(self.closed.values())

    @property
    def closed(self) -> dict[str, bool]:
        """Of each call, whether it is closed."""
        return closed({CALLS_LESSON: self.outcomes})


def found_on(book: SealedBook, dealer: Dealer, test: str, who: str, job: SealedJob) -> dict[str, Found]:
    """Return the answers of ``who`` at ``job`` as the marker reads them: from the book, not from any page."""
    done = book.acts(test, who, job.key)
    acts = tuple(GivenAct({"act": str(one.act["act"]), "with": _given(one.act)}) for one in done)
    found = {name: Found("work", acts=acts) if acts else Found("no_record") for name in job.questions}
    question = job.names_fault
    if question is not None:
        named = book.named(test, who, job.key)
        letters = {
            option.key: letter for letter, option in question.lettered(dealer.card(test, who, job.lesson)).items()
        }
        found[question.name] = (
            Found("fault", letters=letters[named.value], acts=acts[: named.n]) if named else Found("no_record")
        )
    return found


def _given(act: dict[str, object]) -> dict[str, object]:
    given = act["with"]
    return dict(given) if isinstance(given, dict) else {}


def bench_outcomes(book: SealedBook, dealer: Dealer, test: str, who: str) -> list[Outcome]:
    """Return the outcome of every question on the bench in ``test`` of ``who``, in the order of its jobs."""
    jobs = jobs_of(book.test(test).kind, book.takers(test)[who])
    outcomes: list[Outcome] = []
    for lesson in dict.fromkeys(job.lesson for job in jobs):
        there = [job for job in jobs if job.lesson == lesson]
        found = {name: one for job in there for name, one in found_on(book, dealer, test, who, job).items()}
        judged = mark_lesson(lesson, dealer.name(test, who, lesson), found, by=sealed_references(lesson))
        outcomes += [judged[name] for job in there for name in job.questions]
    return outcomes


def mark_calls(folder: ClassFolder, test: str) -> list[Taken]:
    """Mark the calls of ``test``, write each apprentice's page and the file of all, and return what it came to.

    Raises
    ------
    SupervisedError
        If there is no such test, it is a refresher, or somebody still works on it.
    """
    book, dealer = SealedBook.of(folder), Dealer.of(folder)
    there = book.test(test)
    if there.kind != CALLS:
        raise SupervisedError(f"{test} is a refresher: it is recorded in its shop's ledger. Use: supervised record.")
    still_open(book, test)
    people = {person.id: person for person in folder.cohort.people()}
    taken = [
        Taken(who, bench_outcomes(book, dealer, test, who), any(book.did(test, who, _JOBS).values()))
        for who in book.takers(test)
    ]
    there_were = [one for one in taken if one.took_part]
    for one in there_were:
        page = folder.cohort.folder / "feedback" / one.who / f"supervised-{test}.html"
        write_whole(page, _page(test, people.get(one.who), one).encode("utf-8"))
    write_results(folder.cohort.folder, test, there.at, {one.who: one.outcomes for one in there_were})
    return taken


def still_open(book: SealedBook, test: str) -> None:
    """Refuse while somebody works on ``test``: what a test is, is told when nobody can use it any more.

    Raises
    ------
    SupervisedError
        If it is open for somebody.
    """
    there = book.test(test)
    working = [who for who in book.takers(test) if book.is_open(there, who)]
    if working:
        raise SupervisedError(f"{test} is still open for {', '.join(working)[:200]}. Close it first: supervised close.")


def _page(test: str, person: Person | None, taken: Taken) -> str:
    return template("classroom/supervised_result.html").render(
        test=test,
        name=person.name if person else taken.who,
        who=taken.who,
        passed=taken.passed,
        left=[name for name, done in taken.closed.items() if not done],
        rows=_rows(taken.outcomes),
        **earned(taken.outcomes),
    )


def _rows(outcomes: Sequence[Outcome]) -> list[dict[str, object]]:
    questions = {one.name: one for one in sheet(CALLS_LESSON).questions}
    return [
        {
            "title": questions[one.question].title,
            "points": f"{one.points:g}",
            "max_points": f"{one.max_points:g}",
            "message": _message(one, questions[one.question]),
            "work": one.work_words(signed=True),
            "safety": one.safety,
        }
        for one in outcomes
    ]


def _message(outcome: Outcome, question: AnyQuestion) -> str:
    """Return what the apprentice reads of one question: as on a lesson's page, but in the words of a test."""
    if outcome.note == "no_record":
        return "You did not name the fault." if isinstance(question, FaultQuestion) else "You did not do this job."
    return outcome.said(signed=True).replace("the lesson is not signed off until it is right", "the test is not passed")
