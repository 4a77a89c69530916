"""The marking loop alone, on an engine that shows recorded outputs: order of writes, kills between them, errors, again.

No jail, no kernel and no command of nbgrader's runs here: what a real engine and real kills do is in
``test_batch_marking``.
"""

from __future__ import annotations

import json
import re
import threading
import warnings
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import nbformat
import pytest
from nbgrader.api import Gradebook, MissingEntry

from dryerbench.answers.answer import Answer
from dryerbench.notebook.answer_record import MIME, answer_record
from dryerbench.notebook.progress import SIGNED
from dryerbench.registry import sheet
from legtoleg.authoring import empty_book
from legtoleg.authoring.building import built_path
from legtoleg.authoring.nbgrader_api import COURSE
from legtoleg.cohort import batch_marking, marking_cache, nbgrader_steps, signed_off_note
from legtoleg.cohort.batch_marking import Marker, Summary
from legtoleg.cohort.cohort_folder import Cohort, CohortError
from legtoleg.cohort.gradebook import Book
from legtoleg.cohort.marking_cache import MarkingCache
from legtoleg.cohort.marks import all_marks
from legtoleg.cohort.not_graded import ASK_AGAIN, FOLDER, Refusals
from legtoleg.core.files import write_whole
from legtoleg.intake.submissions import digest
from legtoleg.keys.answer_key import worked
from legtoleg.marking.outcomes import signed_off
from legtoleg.sandbox import engine as warm
from legtoleg.sandbox.engine import EngineError, Job, Run, WarmEngine
from legtoleg.sandbox.thread_pool import LocalPool

pytestmark = pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")
LESSON = "03_heater_power"
PAPER = sheet(LESSON)
NAMES = {"ada-01": "Ada <Demo>"}
KEPT = ("element_current", "heater_ohms", "heater_current", "control_off_volts")
"""The questions of the lesson that this cohort's release holds: the loop is the same for a few as for all."""
WORTH = float(sum(question.points for question in PAPER.questions if question.name in KEPT))
ASKED = re.compile(r'hand_in\("(\w+)"')


@cache
def recorded(apprentice: str, wrong: tuple[str, ...] = (), try_number: int = 1) -> dict[str, dict[str, Any]]:
    """Return the output of each question's cell, recorded from someone who is right but in the questions ``wrong``."""
    right = worked(LESSON, PAPER.card(apprentice, try_number))
    return {
        q.name: {
            "output_type": "display_data",
            "data": {MIME: answer_record(q.name, apprentice, Answer("typed", "quantity", value, q.unit, q.figures))},
            "metadata": {},
        }
        for q in PAPER.questions
        for value in [right[q.name] * (3.7 if q.name in wrong else 1.0)]
    }


@dataclass
class RecordedEngine:
    """Runs nothing: shows the recorded outputs of each apprentice, or meets what a test has in store for them."""

    wrong: dict[str, tuple[str, ...]] = field(default_factory=dict)
    met: dict[str, Exception | Run] = field(default_factory=dict)
    asked: list[str] = field(default_factory=list)
    lock: threading.Lock = field(default_factory=threading.Lock)
    isolated: bool = True

    def run(self, job: Job) -> Run:
        with self.lock:
            self.asked.append(job.apprentice)
        met = self.met.get(job.apprentice)
        if isinstance(met, Exception):
            raise met
        if met is not None:
            return met
        shown = recorded(job.apprentice, self.wrong.get(job.apprentice, ()), job.try_number)
        names = {number: found[1] for number, cell in enumerate(job.cells) if (found := ASKED.search(cell))}
        return Run({number: [shown[name]] for number, name in names.items()}, isolated=self.isolated)

    def close(self) -> None:
        """Leave nothing behind."""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a cohort's folder with one released lesson, and the book as nbgrader's release leaves it."""
    folder = tmp_path_factory.mktemp("cohort")
    write_whole(Cohort(folder).released(LESSON), released())
    points = {question.name: question.points for question in PAPER.questions}
    empty_book.begin(Cohort(folder).book)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with Gradebook(Cohort(folder).book, COURSE) as book:
            commit, book.db.commit = book.db.commit, book.db.flush  # all at once: each commit takes its time
            book.add_assignment(LESSON)
            book.add_notebook(LESSON, LESSON)
            for cell in released_cells():
                _enter(book, cell, points)
            commit()
    return folder


def _enter(book: Gradebook, cell: Any, points: dict[str, int]) -> None:
    about = cell.metadata.nbgrader
    name, of = about["grade_id"], (LESSON, LESSON)
    if about["grade"]:
        book.add_grade_cell(name, *of, max_score=points[name], cell_type=cell.cell_type)
    if about["solution"]:
        book.add_solution_cell(name, *of)
    kept = {"locked": about["locked"], "source": cell.source, "checksum": about.get("checksum", "")}
    book.add_source_cell(name, *of, cell_type=cell.cell_type, **kept)


@cache
def released() -> bytes:
    """Return the released lesson without its prose and its practice: the job card, and answers and hand-ins of KEPT."""
    notebook = nbformat.read(built_path(LESSON), as_version=4)
    card, *cells = [cell for cell in notebook.cells if "nbgrader" in cell.metadata]
    notebook.cells = [
        card,
        *(cell for cell in cells if about(cell) & set(KEPT)),
    ]
    return str(nbformat.writes(notebook)).encode("utf-8")


def about(cell: Any) -> set[str]:
    """Return the question whose answer or hand-in ``cell`` is, as a set; none for practice."""
    marks = cell.metadata.nbgrader
    return {marks.grade_id.removesuffix("_answer")} if marks.grade or marks.solution else set()


def released_cells() -> list[Any]:
    return list(nbformat.reads(released().decode("utf-8"), as_version=4).cells)


@pytest.fixture
def cohort(made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Cohort:
    """Return a cohort in which nothing was handed in."""
    return copied(made, tmp_path, monkeypatch)


def copied(made: Path, folder: Path, patch: pytest.MonkeyPatch) -> Cohort:
    """Return a copy; in it what is released stands for the lesson's source, whose parsing takes a second."""
    cells = released_cells()
    marks = {cell.metadata.nbgrader.grade_id: cell.metadata.nbgrader for cell in cells}
    ids = {cell.id: cell.metadata.nbgrader.grade_id for cell in cells}
    patch.setattr(nbgrader_steps, "_source_marks", lambda _: (marks, ids))
    patch.setattr(batch_marking, "left_as_they_are", lambda *_: {})  # few questions are released here, on purpose
    for path in made.rglob("*"):
        if path.is_file():
            write_whole(folder / path.relative_to(made), path.read_bytes())
    return Cohort(folder)


@pytest.fixture
def engine() -> RecordedEngine:
    return RecordedEngine()


@pytest.fixture
def mark(cohort: Cohort, engine: RecordedEngine) -> Iterator[Callable[..., Summary]]:
    """Return how to mark the cohort once, two notebooks at a time."""
    with ThreadPoolExecutor(2) as threads:

        def once(**wishes: Any) -> Summary:
            engine.asked.clear()
            with Book(cohort.book) as book:
                return Marker(cohort, book, NAMES).mark(LocalPool(engine, 2, threads), **wishes)

        yield once


def hand_in(cohort: Cohort, *people: str, more: str = "") -> None:
    for who in people:
        write_whole(cohort.submitted(who, LESSON), released() + more.encode())


def book_of(cohort: Cohort) -> dict[str, float]:
    """Return the points of each apprentice in the book, after checking that the marked notebooks say the same."""
    found: dict[str, float] = {}
    with Book(cohort.book) as book:
        for one in all_marks(cohort, book):
            found[one.apprentice] = found.get(one.apprentice, 0.0) + one.outcome.points
    return found


def everything(cohort: Cohort) -> dict[str, Any]:
    """Return all that marking leaves: the book's points, and every file but the book and what was handed in."""
    with Book(cohort.book) as book:
        points = book.points()
    files = [path for own in ("autograded", "feedback", ".marked") for path in (cohort.folder / own).rglob("*")]
    whole = {str(path.relative_to(cohort.folder)): path.read_bytes() for path in files if path.is_file()}
    return {"book": points, **whole}


def test_what_is_new_is_marked_and_what_was_marked_is_left(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary]
) -> None:
    hand_in(cohort, "ada-01", "bo-02")
    engine.wrong["bo-02"] = ("heater_ohms", "control_off_volts")
    told: list[tuple[str, int, int]] = []
    first = mark(tell=lambda *step: told.append(step))
    assert (first.marked, first.unchanged, first.attention) == (2, 0, [])
    assert [step[1:] for step in told] == [(1, 2), (2, 2)]
    assert {step[0] for step in told} == {f"graded: ada-01, {LESSON}", f"graded: bo-02, {LESSON}"}
    assert book_of(cohort)["ada-01"] == WORTH
    assert 0 < book_of(cohort)["bo-02"] < WORTH - 5
    page = cohort.feedback("ada-01", LESSON).read_text(encoding="utf-8")
    assert "Ada &lt;Demo&gt;" in page
    assert [path.parent.name for path in cohort.folder.glob(f"feedback/*/{SIGNED}")] == ["ada-01"]
    before = everything(cohort)
    second = mark()
    assert (second.marked, second.unchanged, engine.asked) == (0, 2, [])
    hand_in(cohort, "bo-02", more="\n")
    engine.wrong.clear()
    third = mark()
    assert (third.marked, third.unchanged, engine.asked) == (1, 1, ["bo-02"])
    assert book_of(cohort) == {"ada-01": WORTH, "bo-02": WORTH}
    assert {key: value for key, value in everything(cohort).items() if "ada-01" in key} == {
        key: value for key, value in before.items() if "ada-01" in key
    }


def test_again_marks_everything_and_leaves_the_same(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary]
) -> None:
    hand_in(cohort, "ada-01", "bo-02")
    mark()
    before = everything(cohort)
    again = mark(again=True)
    assert (again.marked, again.unchanged, sorted(engine.asked)) == (2, 0, ["ada-01", "bo-02"])
    assert everything(cohort) == before


def test_a_lesson_released_again_is_marked_again(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary]
) -> None:
    hand_in(cohort, "ada-01")
    mark()
    assert mark().unchanged == 1
    write_whole(cohort.released(LESSON), released() + b"\n")
    assert (mark().marked, engine.asked) == (1, ["ada-01"])
    assert mark().unchanged == 1


@pytest.mark.parametrize("lost", ["autograded", "feedback"])
def test_a_file_that_is_gone_is_made_again(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary], lost: str
) -> None:
    hand_in(cohort, "ada-01", "bo-02")
    mark()
    before = everything(cohort)
    getattr(cohort, lost)("bo-02", LESSON).unlink()
    assert (mark().marked, engine.asked) == (1, ["bo-02"])
    assert everything(cohort) == before


def test_one_lesson_by_name_or_number_and_no_other(cohort: Cohort, mark: Callable[..., Summary]) -> None:
    hand_in(cohort, "ada-01")
    assert mark(lesson="3").marked == 1
    assert mark(lesson=LESSON).unchanged == 1
    with pytest.raises(CohortError, match=r"There is no lesson '4' in this cohort; there are: 03_heater_power\."):
        mark(lesson="4")
    other = "02_two_legs"  # stands in release/, but not in the book
    for path in (cohort.released(other), cohort.submitted("ada-01", other)):
        write_whole(path, built_path(other).read_bytes())
    with pytest.raises(MissingEntry):
        mark()


# The order of writes, and a kill between any two of them.


class Killed(BaseException):
    """Stands for the system's kill: nothing of the marker's own catches it."""


@contextmanager
def watched(after: int = -1) -> Iterator[list[str]]:
    """Note every write in its order; stop at once when ``after`` writes are done."""
    done: list[str] = []

    def note(what: str) -> None:
        done.append(what)
        if len(done) == after:
            raise Killed

    def write(path: Path, *rest: Any) -> None:
        write_whole(path, *rest)
        note("/".join(path.parts[-3:]))

    batch = Book.batch

    @contextmanager
    def watched_batch(self: Book) -> Iterator[None]:
        with batch(self):
            yield
        note("book")

    with pytest.MonkeyPatch.context() as patch:
        for module in (batch_marking, marking_cache, signed_off_note):
            patch.setattr(module, "write_whole", write)
        patch.setattr(Book, "batch", watched_batch)
        yield done


def test_the_book_is_written_first_and_the_cache_last(cohort: Cohort, mark: Callable[..., Summary]) -> None:
    hand_in(cohort, "ada-01", "bo-02")
    with watched() as done:
        mark()
    book, *files = done
    assert book == "book"
    each = [
        ("autograded", f"{{0}}/{LESSON}/{LESSON}.ipynb"),
        ("feedback", f"{{0}}/{LESSON}/{LESSON}.html"),
        ("signed", f"feedback/{{0}}/{SIGNED}"),
        ("cache", f".marked/{LESSON}/{{0}}.json"),
    ]
    people = sorted(("ada-01", "bo-02"), key=lambda who: files.index(f".marked/{LESSON}/{who}.json"))
    assert files == [place.format(who) for who in people for _, place in each]


def test_a_batch_is_saved_while_others_run(
    cohort: Cohort, mark: Callable[..., Summary], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(batch_marking, "BATCH", 2)
    hand_in(cohort, "ada-01", "bo-02", "cy-03", "di-04", "ed-05")
    with watched() as done:
        mark()
    assert [place for place, what in enumerate(done) if what == "book"] == [0, 9, 18]
    assert len(done) == 3 + 5 * 4


WRITES = 2 + 3 * 4 + 1
"""Of three hand-ins in batches of two: the book twice; notebook, page, note and cache of each; what one missed."""


WRONG = ("element_current",)


@pytest.fixture(scope="module")
def uninterrupted(made: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """Return what the marking of the three leaves if nothing ends it."""
    folder = tmp_path_factory.mktemp("uninterrupted")
    with pytest.MonkeyPatch.context() as patch, ThreadPoolExecutor(1) as threads:
        cohort = copied(made, folder, patch)
        hand_in(cohort, "ada-01", "bo-02", "cy-03")
        with Book(cohort.book) as book:
            pool = LocalPool(RecordedEngine({"bo-02": WRONG}), 1, threads)
            Marker(cohort, book, NAMES).mark(pool)
        left = everything(cohort)
    assert len(left) == 1 + 3 * 4 + 1
    return left


@pytest.mark.parametrize("after", range(1, WRITES))
def test_a_kill_between_two_writes_leaves_only_work_to_repeat(
    cohort: Cohort,
    engine: RecordedEngine,
    mark: Callable[..., Summary],
    monkeypatch: pytest.MonkeyPatch,
    uninterrupted: dict[str, Any],
    after: int,
) -> None:
    people = {"ada-01", "bo-02", "cy-03"}
    monkeypatch.setattr(batch_marking, "BATCH", 2)
    engine.wrong["bo-02"] = WRONG
    hand_in(cohort, *people)
    with watched(after) as done, suppress(Killed):
        mark()
        raise AssertionError("nothing was killed")
    assert len(done) == after
    entered = {line.apprentice for line in MarkingCache(cohort.folder).lines()}
    assert entered <= set(book_of(cohort))
    for who in entered:  # what the cache vouches for is there, whole
        assert json.loads(cohort.autograded(who, LESSON).read_bytes())["cells"]
        assert cohort.feedback(who, LESSON).read_text(encoding="utf-8").rstrip().endswith("</html>")
    with watched() as repeated:
        resumed = mark()
    assert set(engine.asked) == people - entered
    assert (resumed.marked, resumed.unchanged) == (3 - len(entered), len(entered))
    assert len(repeated) <= WRITES
    assert everything(cohort) == uninterrupted


def test_a_book_that_cannot_be_written_leaves_nothing_behind(
    cohort: Cohort, mark: Callable[..., Summary], monkeypatch: pytest.MonkeyPatch
) -> None:
    hand_in(cohort, "ada-01", "bo-02")
    save = Book.save

    def full(self: Book, entry: Any) -> None:
        save(self, entry)
        if entry.apprentice == "bo-02":
            raise OSError("disk full")

    monkeypatch.setattr(Book, "save", full)
    with pytest.raises(OSError, match="disk full"):
        mark()
    assert everything(cohort) == {"book": {}}
    monkeypatch.setattr(Book, "save", save)
    assert mark().marked == 2


# Errors are one hand-in's alone, and nobody is left unmarked.


def test_an_error_of_one_job_is_that_jobs_alone(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary]
) -> None:
    """A cluster's worker that was lost for good comes back as the error of its job."""
    hand_in(cohort, "ada-01", "bo-02", "cy-03")
    engine.met["bo-02"] = RuntimeError("the worker died four times")
    summary = mark()
    assert (summary.marked, set(book_of(cohort))) == (2, {"ada-01", "cy-03"})
    (said,) = summary.attention
    assert said.startswith(f"bo-02, {LESSON}: was not graded: the grader itself failed on it")
    assert "the worker died four times" in said
    engine.met.clear()
    assert (mark().marked, engine.asked) == (1, ["bo-02"])


def test_no_engine_at_all_ends_the_marking_with_its_reason(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary]
) -> None:
    hand_in(cohort, "ada-01")
    engine.met["ada-01"] = EngineError("The jail for notebooks could not be made: no jail")
    with pytest.raises(EngineError, match="could not be made"):
        mark()
    assert everything(cohort) == {"book": {}}


def test_a_job_that_was_lost_is_run_again_and_given_up_after_three(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(warm.time, "sleep", lambda _: None)
    engine, job = WarmEngine(), Job("ada-01", LESSON, ("1",))
    sent: list[int] = []
    monkeypatch.setattr(engine, "_send", lambda _lesson, handles: sent.append(len(handles)))
    for ends, runs in (("w", 1), ("lw", 2), ("llw", 3), ("lllll", 3), ("nnw", 3)):
        left = [
            {"l": Run(ended=warm._LOST), "w": Run({0: []}), "n": Run(ended="no jail: for now")}[one] for one in ends
        ]
        wanted = left[runs - 1]
        monkeypatch.setattr(engine, "_talk", lambda _line, _word, _job, left=left: left.pop(0))
        assert engine.run(job) is wanted
        assert (len(sent), set(sent)) == (runs, {2})
        sent.clear()
    slow = Run(ended=warm.TIME)
    monkeypatch.setattr(engine, "_talk", lambda _line, _word, _job: slow)
    assert engine.run(job) is slow
    assert len(sent) == 1  # a notebook's own end is not tried again
    monkeypatch.setattr(engine, "_talk", lambda _line, _word, _job: Run(ended="no jail: never"))
    with pytest.raises(EngineError, match="no jail: never"):
        engine.run(job)
    engine.close()


def test_nobody_is_left_unmarked(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary], monkeypatch: pytest.MonkeyPatch
) -> None:
    """More hand-ins than run at once, in batches that do not come out even, some of them odd."""
    monkeypatch.setattr(batch_marking, "BATCH", 3)
    people = [f"demo-{number:02d}" for number in range(1, 18)]
    hand_in(cohort, *people)
    cohort.submitted("demo-04", LESSON).write_bytes(b'{"cells": [')
    engine.met["demo-09"] = ValueError("nobody foresaw this")
    told: list[int] = []
    summary = mark(tell=lambda _, done, of: told.append(done) if of == len(people) else None)
    assert told == list(range(1, len(people) + 1))
    assert summary.marked == len(people) - 2
    assert set(book_of(cohort)) == set(people) - {"demo-04", "demo-09"}
    assert sorted(line[:7] for line in summary.attention) == ["demo-04", "demo-09"]
    assert sorted(engine.asked) == [who for who in people if who != "demo-04"]


def test_why_a_hand_in_was_not_graded_is_kept_until_it_is(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary]
) -> None:
    hand_in(cohort, "ada-01", "bo-02", "cy-03", "di-04")
    cohort.submitted("bo-02", LESSON).write_bytes(b"")
    engine.met["cy-03"] = EngineError("no jail")
    engine.met["di-04"] = ValueError("nobody foresaw this")
    mark()
    noted = Refusals(cohort.folder)

    def why(who: str) -> str:
        return noted.why(who, LESSON, digest(cohort.submitted(who, LESSON).read_bytes()))

    assert why("ada-01") == ""
    assert why("bo-02") == f"it is empty; {ASK_AGAIN}"
    assert why("cy-03") == "its notebook could not be run (no jail); run legtoleg doctor, then legtoleg mark again"
    assert "nobody foresaw this" in why("di-04")
    hand_in(cohort, "bo-02")
    assert why("bo-02") == "", "what was said of the file before is not said of this one"
    engine.met.clear()
    assert mark().marked == 3
    assert not [path for path in (cohort.folder / FOLDER).rglob("*") if path.is_file()]


def test_remarks_are_kept_and_said_again(cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary]) -> None:
    hand_in(cohort, "ada-01", "bo-02", "cy-03", "di-04")
    (cohort.submitted("ada-01", LESSON).parent / "timestamp.txt").write_text("no time at all", encoding="utf-8")
    theirs = nbformat.reads(released().decode("utf-8"), as_version=4)
    theirs.metadata["leg_to_leg"] = {"apprentice": "ada-01"}
    write_whole(cohort.submitted("bo-02", LESSON), nbformat.writes(theirs).encode("utf-8"))
    engine.met["cy-03"] = Run(ended="the whole notebook took longer than it may")
    first = mark()
    assert sorted(first.attention) == [
        f"ada-01, {LESSON}: came at an unknown time: its timestamp.txt does not hold a time.",
        f"bo-02, {LESSON}: holds answers that were worked out in the kit of ada-01.",
        f"cy-03, {LESSON}: did not run to its end: the whole notebook took longer than it may.",
    ]
    assert first.marked == 4
    again = mark()
    assert (again.unchanged, sorted(again.attention)) == (4, sorted(first.attention))
    kept = {line.apprentice: len(line.remarks) for line in MarkingCache(cohort.folder).lines()}
    assert kept == {"ada-01": 1, "bo-02": 1, "cy-03": 1, "di-04": 0}
    assert "worked out in the kit of ada-01" in cohort.feedback("bo-02", LESSON).read_text(encoding="utf-8")


def test_a_notebook_that_ended_early_keeps_what_it_said_and_is_not_signed_off(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary]
) -> None:
    hand_in(cohort, "ada-01")
    whole = engine.run(Job("ada-01", LESSON, tuple(cell.source for cell in released_cells())))
    first = min(whole.outputs)
    engine.met["ada-01"] = Run({first: whole.outputs[first]}, "it used more memory than it may")
    mark()
    with Book(cohort.book) as book:
        outcomes = [one.outcome for one in all_marks(cohort, book)]
    assert [o.note for o in outcomes] == ["right"] + ["kernel_died"] * (len(outcomes) - 1)
    assert not signed_off(outcomes)
    assert not list(cohort.folder.glob(f"feedback/*/{SIGNED}"))


def test_a_job_whose_jail_cannot_be_made_is_told_and_the_others_are_marked(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary]
) -> None:
    hand_in(cohort, "ada-01", "bo-02", "cy-03")
    engine.met["bo-02"] = EngineError("The jail for this notebook could not be made: no jail")
    summary = mark()
    assert summary.marked == 2
    (line,) = summary.attention
    assert line.startswith(f"bo-02, {LESSON}: was not graded: its notebook could not be run (The jail")
    assert set(book_of(cohort)) == {"ada-01", "cy-03"}


@pytest.mark.parametrize("ending", [KeyboardInterrupt, SystemExit, MemoryError, Killed])
def test_what_is_finished_is_saved_whatever_ends_the_batch(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary], ending: type[BaseException]
) -> None:
    hand_in(cohort, "ada-01", "bo-02", "cy-03")
    done: list[str] = []

    def tell(what: str, *_: int) -> None:
        done.append(what)
        if len(done) == 2:
            raise ending

    with pytest.raises(ending):
        mark(tell=tell)
    kept = {what.removeprefix("graded: ").partition(",")[0] for what in done}
    assert set(book_of(cohort)) == kept
    assert len(kept) == 2
    assert mark().unchanged == 2


def test_marking_twice_works_where_a_read_only_file_cannot_be_replaced(
    cohort: Cohort, mark: Callable[..., Summary], like_windows: Callable[[], None]
) -> None:
    """As on Windows, where a marked notebook is read-only too."""
    like_windows()
    hand_in(cohort, "ada-01")
    assert mark().marked == 1
    before = everything(cohort)
    assert not cohort.autograded("ada-01", LESSON).stat().st_mode & 0o222
    assert (mark(again=True).marked, everything(cohort)) == (1, before)


@pytest.mark.parametrize("isolated", [True, False])
def test_every_mark_says_whether_its_notebook_was_shut_in(
    cohort: Cohort, engine: RecordedEngine, mark: Callable[..., Summary], isolated: bool
) -> None:
    hand_in(cohort, "ada-01")
    engine.isolated = isolated
    mark()
    with Book(cohort.book) as book:
        rows = [one.row() for one in all_marks(cohort, book)]
    assert {row["isolation"] for row in rows} == {"isolated" if isolated else "not isolated"}
    page = cohort.feedback("ada-01", LESSON).read_text(encoding="utf-8")
    assert ("Graded without isolation" in page) is not isolated
