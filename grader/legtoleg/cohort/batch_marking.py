"""The desk: marks a cohort's hand-ins. Notebooks run apart, answers are judged here, the book is written in batches."""

from __future__ import annotations

import gc
import json
import logging
import os
from collections.abc import Callable, Iterable
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass, field
from functools import partial
from typing import Protocol, cast

from nbformat.notebooknode import NotebookNode
from nbgrader.api import MissingEntry

from dryerbench.core.errors import LegToLegError
from dryerbench.core.identity import MOST_TRIES
from dryerbench.core.version import course_version
from dryerbench.registry import sheet
from legtoleg.cohort.cell_restoring import Restorer, resources_for
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.feedback_page import page
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.gradebook_writes import MarkedNotebook
from legtoleg.cohort.marking_cache import MarkedLine, MarkingCache
from legtoleg.cohort.marks import outcomes_of, untouched_answers
from legtoleg.cohort.nbgrader_steps import MarkAnswers
from legtoleg.cohort.newer_questions import left_as_they_are
from legtoleg.cohort.not_graded import ASK_AGAIN, Refusals
from legtoleg.cohort.prepared_hand_in import PreparedHandIn, prepare, try_of
from legtoleg.cohort.signed_off_note import note_missed, note_signed, note_try
from legtoleg.core.files import write_whole
from legtoleg.core.notebook_format import ISOLATED
from legtoleg.core.try_ledger import HELD, TRY, TryLedger
from legtoleg.intake.notebook_repair import UnreadableNotebookError
from legtoleg.intake.submissions import HandIn, HandInError, digest, find_hand_ins
from legtoleg.marking.missed import Missed, missed
from legtoleg.marking.outcomes import ODD, signed_off
from legtoleg.sandbox.engine import EngineError, Job, Run
from legtoleg.sandbox.output_sanitizer import as_nodes
from legtoleg.sandbox.run_notebook import RUN

Tell = Callable[[str, int, int], None]
"""Is told what was done, how many steps are done, and how many there are."""

BATCH = 16
"""How many hand-ins are saved in the book at once."""
_JUDGES = 2
"""Threads that judge answers: a trail that takes long to weigh does not hold up the others."""


class Pool(Protocol):
    """Whatever runs jobs side by side: threads before an engine here, or a cluster."""

    workers: int
    warning: str
    how: str

    def submit(self, job: Job) -> Future[Run]:
        """Start ``job`` and return its coming result."""


@dataclass
class Summary:
    """What marking did: how many were marked, how many had not changed, and what a person should look at."""

    marked: int = 0
    unchanged: int = 0
    attention: list[str] = field(default_factory=list)
    how: str = ""
    """In words, how each notebook was run."""


@dataclass(frozen=True)
class _Marked:
    hand_in: HandIn
    entry: MarkedNotebook
    notebook: bytes
    page: str
    signed: bool
    held: bool
    new_card: int
    """The number of the card dealt since; 0 for none."""
    line: MarkedLine
    missed: Missed


class MarkingError(LegToLegError, RuntimeError):
    """Marking that cannot start; the text says why and what to do."""


class Marker:
    """Marks the hand-ins of one cohort."""

    def __init__(self, cohort: Cohort, book: Book, names: dict[str, str] | None = None) -> None:
        self.cohort = cohort
        self._book = book
        self._names = names or {}
        self._ledger = MarkingCache(cohort.folder)
        self.refusals = Refusals(cohort.folder)
        self._tries = TryLedger(cohort.folder)
        self._restorer = Restorer(book)
        self._mark = MarkAnswers()
        self._released: dict[str, str] = {}

    def _release_digest(self, lesson: str) -> str:
        if lesson not in self._released:
            path = self.cohort.released(lesson)
            if not path.is_file():
                raise MarkingError(
                    f"The lesson {lesson} was never released in this cohort: run “legtoleg cohort” again."
                )
            self._released[lesson] = digest(path.read_bytes())
        return self._released[lesson]

    def is_done(self, hand_in: HandIn, came: str) -> MarkedLine | None:
        """Return what is entered of a hand-in that was marked as it ``came`` and is whole; None if it is to mark."""
        line = self._ledger.read(hand_in.apprentice, hand_in.lesson)
        who = (hand_in.apprentice, hand_in.lesson)
        if line is None or line.handed_in != came or line.released != self._release_digest(hand_in.lesson):
            return None
        whole = self.cohort.autograded(*who).is_file() and self.cohort.feedback(*who).is_file()
        return line if whole else None

    def prepare(self, hand_in: HandIn, came: str, content: bytes) -> PreparedHandIn:
        """Return a hand-in put right, ready to be run.

        Raises
        ------
        HandInError
            If it is of another card, or too old.
        UnreadableNotebookError
            If it is no notebook.
        """
        return prepare(hand_in, came, content, self._restorer, partial(try_of, self._ledger, self._tries))

    def finish(self, desk: PreparedHandIn, run: Run) -> _Marked:
        """Return a hand-in marked, after its notebook ran."""
        who, lesson = desk.hand_in.apprentice, desk.hand_in.lesson
        code = [cell for cell in desk.notebook.cells if cell.cell_type == "code"]
        for number, cell in enumerate(code):
            cell.outputs = as_nodes(run.outputs.get(number, []))
        resources = resources_for(who, lesson)
        resources[TRY] = desk.try_number
        resources[ISOLATED] = run.isolated
        remarks = list(desk.remarks)
        if run.ended:
            resources[RUN] = run.ended
            remarks.append(f"did not run to its end: {run.ended}")
        notebook, _ = self._mark.preprocess(desk.notebook, resources)
        outcomes = outcomes_of(notebook)
        odd = [(sheet(lesson).question(o.question).title, ODD[o.note]) for o in outcomes if o.note in ODD]
        remarks += [f"has an answer to “{title}” that {what}" for title, what in odd]
        entry = MarkedNotebook(
            who,
            lesson,
            {outcome.question: outcome.points for outcome in outcomes},
            frozenset(untouched_answers(notebook)),
            desk.came_at,
        )
        line = MarkedLine(
            who,
            lesson,
            desk.digest,
            self._release_digest(lesson),
            tuple(remarks),
            course_version(),
            desk.try_number,
        )
        held = any(outcome.safety == "held" for outcome in outcomes)
        new = self._new_card(desk, held=held)
        name = self._names.get(who, who)
        text = page(
            lesson, who, name, outcomes, tuple(remarks), card=desk.try_number, new_card=new, isolated=run.isolated
        )
        signed, lost = signed_off(outcomes), missed(lesson, outcomes)
        return _Marked(desk.hand_in, entry, _written(notebook), text, signed, held, new, line, lost)

    def _new_card(self, desk: PreparedHandIn, *, held: bool) -> int:
        """Return the number of the card that is dealt after this one; 0 if this one stays."""
        current = self._tries.current(desk.hand_in.apprentice, desk.hand_in.lesson)
        if current > desk.try_number:
            return current
        return current + 1 if held and current < MOST_TRIES else 0

    def save(self, marked: list[_Marked]) -> None:
        """Save a batch: the book first, then notebook and page, the ledger last."""
        with self._book.batch():
            for one in marked:
                self._book.save(one.entry)
        for one in marked:
            who = (one.hand_in.apprentice, one.hand_in.lesson)
            write_whole(self.cohort.autograded(*who), one.notebook, 0o444)
            write_whole(self.cohort.feedback(*who), one.page.encode("utf-8"))
            self._deal(one)
            back = self.cohort.feedback(*who).parents[1]
            note_signed(back, one.hand_in.lesson, signed=one.signed)
            note_missed(back, one.hand_in.lesson, one.missed)
            self.refusals.clear(*who)
            self._ledger.write(one.line)

    def _deal(self, one: _Marked) -> None:
        """Deal the new card after a hold, and keep what was marked of a lesson that was dealt more than once."""
        who = (one.hand_in.apprentice, one.hand_in.lesson)
        if one.new_card > self._tries.current(*who):
            self._tries.deal(*who, HELD)
        if one.new_card or one.line.try_number > 1:
            files = self.cohort.autograded(*who), self.cohort.feedback(*who)
            self._tries.keep(*who, one.line.try_number, *files)
        note_try(self.cohort.feedback(*who).parents[1], one.hand_in.lesson, self._tries.current(*who))

    def mark(
        self, pool: Pool, *, lesson: str | None = None, again: bool = False, tell: Tell = lambda *_: None
    ) -> Summary:
        """Mark what is new or changed (with ``again``: everything), of one ``lesson`` or of all.

        Raises
        ------
        MarkingError
            If the cohort cannot be marked.
        EngineError
            If notebooks cannot be run here.
        """
        lessons = self.cohort.lessons()
        if lesson is not None:
            lesson = self.cohort.lesson_called(lesson)
        hand_ins, odd = find_hand_ins(self.cohort.folder / "submitted", lessons, lesson)
        older = left_as_they_are(self.cohort, hand_ins)
        hand_ins, odd = [one for one in hand_ins if one.lesson not in older], [*odd, *older.values()]
        run = _MarkingRun(self, pool, hand_ins, Summary(attention=odd, how=pool.how), tell)
        run.all(again=again)
        return run.summary


def _written(notebook: NotebookNode) -> bytes:
    """Return ``notebook`` as a file; it was built here, so nbformat's own check of it would only cost time."""
    return json.dumps(notebook, ensure_ascii=False, allow_nan=False).encode("utf-8", "replace")


class _MarkingRun:
    """One run over a list of hand-ins, with a bounded number of them in memory."""

    def __init__(self, marker: Marker, pool: Pool, hand_ins: list[HandIn], summary: Summary, tell: Tell) -> None:
        self.marker, self.pool, self.hand_ins, self.summary, self.tell = marker, pool, hand_ins, summary, tell
        self.done = 0
        self.waiting: dict[Future[Run], PreparedHandIn] = {}
        self.judging: dict[Future[_Marked], PreparedHandIn] = {}
        self.finished: list[_Marked] = []
        self.trouble: EngineError | None = None

    def _step(self, what: str) -> None:
        self.done += 1
        self.tell(what, self.done, len(self.hand_ins))

    def _open(self, hand_in: HandIn, *, again: bool) -> None:
        marker, came = self.marker, ""
        try:
            content = hand_in.content()
        except HandInError as error:
            self._not_marked(hand_in, came, f"{error}; {ASK_AGAIN}")
            return
        try:
            came = digest(content)
            line = None if again else marker.is_done(hand_in, came)
            if line is not None:
                self.summary.unchanged += 1
                self._remark(hand_in, line.remarks)
                self._step(f"unchanged: {hand_in.words}")
                return
            desk = marker.prepare(hand_in, came, content)
        except UnreadableNotebookError as error:
            self._not_marked(hand_in, came, f"{error}; {ASK_AGAIN}")
            return
        except HandInError as error:
            self._not_marked(hand_in, came, str(error))
            return
        except (MarkingError, MissingEntry):
            raise
        except Exception as error:  # noqa: BLE001 - one strange notebook must not stop the others
            self._not_marked(hand_in, came, _strange(error))
            return
        try:
            self.waiting[self.pool.submit(desk.job())] = desk
        except (RuntimeError, OSError, ValueError) as error:  # a job that cannot even be sent
            self._not_marked(hand_in, came, _strange(error))

    def _not_marked(self, hand_in: HandIn, came: str, why: str) -> None:
        self.marker.refusals.note(hand_in.apprentice, hand_in.lesson, came, why)
        self.summary.attention.append(f"{hand_in.words}: was not graded: {why}.")
        self._step(f"not graded: {hand_in.words}")

    def _remark(self, hand_in: HandIn, remarks: tuple[str, ...]) -> None:
        self.summary.attention += [f"{hand_in.words}: {remark}." for remark in remarks]

    def _collect(self, *, wanted: int) -> None:
        """Finish notebooks until fewer than ``wanted`` are running or being judged."""
        while self._underway() and self._underway() >= wanted:
            underway: list[Future[Run] | Future[_Marked]] = [*self.waiting, *self.judging]
            ready, _ = wait(cast("list[Future[object]]", underway), return_when=FIRST_COMPLETED)
            self._sort(ready)

    def _underway(self) -> int:
        return len(self.waiting) + len(self.judging)

    def _sort(self, ready: Iterable[Future[object]]) -> None:
        """Send each notebook that has run to be judged, beside the waiting for others; take in what is judged."""
        for future in ready:
            if (ran := self.waiting.pop(cast("Future[Run]", future), None)) is not None:
                run = cast("Future[Run]", future)
                self.judging[self.judges.submit(self._judge, ran, run)] = ran
            else:
                marked = cast("Future[_Marked]", future)
                self._take(self.judging.pop(marked), marked)

    def _judge(self, desk: PreparedHandIn, run: Future[Run]) -> _Marked:
        return self.marker.finish(desk, run.result())

    def _take(self, desk: PreparedHandIn, future: Future[_Marked]) -> None:
        try:
            marked = future.result()
        except EngineError as error:
            self.trouble = self.trouble or error
            said = f"its notebook could not be run ({error!s:.200}); run legtoleg doctor, then legtoleg mark again"
            self._not_marked(desk.hand_in, desk.digest, said)
            return
        except Exception as error:  # noqa: BLE001 - one strange answer or lost job must not stop the others
            self._not_marked(desk.hand_in, desk.digest, _strange(error))
            return
        self.finished.append(marked)
        self._remark(desk.hand_in, marked.line.remarks)
        self.summary.marked += 1
        self._step(f"graded: {desk.hand_in.words}")
        if len(self.finished) >= BATCH:
            self._save()

    def _save(self) -> None:
        finished, self.finished = self.finished, []  # an error while they are saved is no reason to save them again
        if finished:
            self.marker.save(finished)

    def all(self, *, again: bool) -> None:
        """Mark every hand-in; whatever ends this early, what is finished by then is saved.

        Raises
        ------
        EngineError
            If there were notebooks to run and not one could be.
        """
        logging.getLogger("traitlets").setLevel(logging.ERROR)
        self.judges = ThreadPoolExecutor(_JUDGES, thread_name_prefix="judge")
        gc.freeze()  # what was loaded before stays: to look through it again and again would cost more than the marks
        try:
            for hand_in in self.hand_ins:
                self._open(hand_in, again=again)
                self._collect(wanted=BATCH + 2 * self.pool.workers)  # enough to run on while a batch is saved
            self._collect(wanted=1)
        finally:
            self.judges.shutdown(wait=False, cancel_futures=True)
            gc.unfreeze()
            self._save()
        if self.trouble is not None and not self.summary.marked:
            raise self.trouble


def _strange(error: Exception) -> str:
    """Return what to say of an error that nobody foresaw."""
    return f"the grader itself failed on it ({type(error).__name__}: {error!s:.200}); grade it by hand and tell us"


def cores() -> int:
    """Return how many notebooks to run at once on this computer."""
    return max(1, len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1)
