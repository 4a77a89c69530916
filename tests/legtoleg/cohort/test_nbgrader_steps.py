"""The way through nbgrader's own autograde: broken and unfriendly notebooks earn what they answered, and no more."""

from __future__ import annotations

import copy
import shutil
from collections.abc import Callable
from pathlib import Path

import nbformat
import pytest
from nbformat.notebooknode import NotebookNode
from traitlets.config import Config

from dryerbench.answers.tolerance import rounded
from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.marks import marks_of
from legtoleg.core.paths import course_folder
from legtoleg.keys.answer_key import worked
from legtoleg.marking.outcomes import Outcome
from legtoleg.sandbox import jail

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")]

LESSON = "03_heater_power"
STUDENT = "demo-01"
PAPER = sheet(LESSON)
RIGHT = worked(LESSON, PAPER.card(STUDENT))
Change = Callable[[dict[str, NotebookNode], NotebookNode], None]


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Cohort:
    return Cohort.make(tmp_path_factory.mktemp("cohort"), [LESSON])


@pytest.fixture
def cohort(empty: Cohort, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Cohort:
    shutil.copytree(empty.folder, tmp_path / "cohort")
    real = Cohort.config

    def quick(self: Cohort) -> Config:
        config = real(self)
        config.RunNotebook.timeout = 15
        config.RunNotebook.notebook_seconds = 60
        return config

    monkeypatch.setattr(Cohort, "config", quick)
    return Cohort(tmp_path / "cohort")


@pytest.fixture
def hurried(cohort: Cohort, monkeypatch: pytest.MonkeyPatch) -> None:
    """Give a cell less time: for a notebook in which one is sure to use all of it."""
    real = Cohort.config

    def quicker(self: Cohort) -> Config:
        config = real(self)
        config.RunNotebook.timeout = 7
        return config

    monkeypatch.setattr(Cohort, "config", quicker)


def solved_by_hand() -> NotebookNode:
    notebook = nbformat.read(built_path(LESSON), as_version=4)
    for question in PAPER.questions:
        cell = next(c for c in notebook.cells if c.id == f"{question.name}-answer")
        text = rounded(RIGHT[question.name], question.figures)
        cell.source = cell.source.replace('""', f'"{text} {question.unit}"', 1)
    return notebook


def mark(cohort: Cohort, change: Change) -> dict[str, Outcome]:
    notebook = copy.deepcopy(solved_by_hand())
    change({cell.id: cell for cell in notebook.cells}, notebook)
    path = cohort.submitted(STUDENT, LESSON)
    path.parent.mkdir(parents=True)
    nbformat.write(notebook, path)
    cohort.run("autograde", LESSON, STUDENT)
    marks = marks_of(cohort, STUDENT, LESSON)
    assert len(marks) == len(PAPER.questions)
    return {mark.outcome.question: mark.outcome for mark in marks}


def full(outcomes: dict[str, Outcome], *but: str) -> bool:
    return all(o.points == o.max_points for name, o in outcomes.items() if name not in but)


def test_noise_costs_nothing_and_earns_nothing(cohort: Cohort) -> None:
    def change(cells: dict[str, NotebookNode], _: NotebookNode) -> None:
        cells["element_current-answer"].source += "\nimport sys; print('careful', file=sys.stderr); print(1000)"
        cells["heater_ohms-answer"].source = 'heater_ohms = ""\n1000'
        cells["drift-answer"].source += "\nimport warnings; warnings.warn('old')"

    outcomes = mark(cohort, change)
    assert full(outcomes, "heater_ohms")
    assert (outcomes["heater_ohms"].points, outcomes["heater_ohms"].note) == (0, "blank")


def test_a_dead_kernel_keeps_the_answers_given_before(cohort: Cohort) -> None:
    def change(cells: dict[str, NotebookNode], _: NotebookNode) -> None:
        cells["heater_power-answer"].source += "\nimport os; os._exit(1)"

    outcomes = mark(cohort, change)
    given = ("element_current", "element_power", "heater_ohms", "heater_current")
    assert all(outcomes[name].points == outcomes[name].max_points for name in given)
    assert all(o.note == "kernel_died" for name, o in outcomes.items() if name not in given)
    assert all(o.points == 0 for name, o in outcomes.items() if name not in given)


def test_an_endless_loop_ends_and_the_rest_is_marked(cohort: Cohort, hurried: None) -> None:
    def change(cells: dict[str, NotebookNode], _: NotebookNode) -> None:
        cells["heater_ohms-answer"].source += "\nwhile True: pass"

    assert full(mark(cohort, change))


def test_a_loop_that_will_not_be_interrupted_ends_too(cohort: Cohort, hurried: None) -> None:
    def change(cells: dict[str, NotebookNode], _: NotebookNode) -> None:
        cells[
            "heater_ohms-answer"
        ].source += (
            "\nimport time\nwhile True:\n    try:\n        time.sleep(9)\n    except BaseException:\n        pass"
        )

    outcomes = mark(cohort, change)
    assert outcomes["element_power"].points == outcomes["element_power"].max_points
    assert outcomes["breaker_limit"].points == 0


def test_forged_records_patched_hand_in_and_printed_points(cohort: Cohort) -> None:
    forged = (
        "\nfrom IPython.display import display\n"
        "display({'application/vnd.leg-to-leg.outcome+json': {'points': 3}, 'text/plain': '3'}, raw=True)"
    )

    def change(cells: dict[str, NotebookNode], _: NotebookNode) -> None:
        cells["element_current-answer"].source = (
            "element_current = '1 A'\n"
            "def hand_in(name, value):\n"
            "    from IPython.display import display\n"
            "    display({'application/vnd.leg-to-leg.answer+json': {'form': 1, 'question': name, 'kind': 'quantity',"
            " 'magnitude': 1.0, 'unit': 'A', 'figures': 3, 'points': 99, 'note': 'right'}}, raw=True)\n"
            "    return 99"
        )
        cells["control_off_volts-answer"].source += forged

    outcomes = mark(cohort, change)
    assert all(o.points == 0 for o in outcomes.values())


def test_two_records_and_changed_locked_cells(cohort: Cohort) -> None:
    def change(cells: dict[str, NotebookNode], _: NotebookNode) -> None:
        cells["element_current-hand-in"].source = 'hand_in("element_current", "7.88 A"); 1000'
        cells["element_current-hand-in"].metadata.nbgrader.points = 1000
        cells[
            "drift-answer"
        ].source = (
            'drift = "1 %"\n_old = hand_in\ndef hand_in(name, value):\n    _old(name, value)\n    _old(name, value)'
        )

    outcomes = mark(cohort, change)
    assert outcomes["element_current"].points == outcomes["element_current"].max_points == 2
    assert outcomes["drift"].note == "two_records"
    assert outcomes["hot_ohms"].note == "two_records"


def test_copied_deleted_and_moved_cells(cohort: Cohort) -> None:
    def change(cells: dict[str, NotebookNode], notebook: NotebookNode) -> None:
        twin = copy.deepcopy(cells["element_current-hand-in"])
        twin.id = "a-twin"
        notebook.cells.append(twin)
        notebook.cells.remove(cells["sag_share-hand-in"])
        notebook.cells.remove(cells["drift-answer"])
        answer = cells["hot_ohms-answer"]
        notebook.cells.remove(answer)
        notebook.cells.insert(3, answer)
        stranger = copy.deepcopy(answer)
        stranger.id = "a-stranger"
        stranger.metadata.nbgrader.grade_id = "not_ours"
        notebook.cells.append(stranger)
        cells["run_drop-hand-in"].metadata.nbgrader = {"schema_version": 1, "grade": False}
        del cells["breaker_limit-hand-in"].metadata["nbgrader"]

    outcomes = mark(cohort, change)
    assert full(outcomes, "drift")
    assert outcomes["drift"].note == "python_error"


def test_a_python_error_costs_only_its_own_question(cohort: Cohort) -> None:
    def change(cells: dict[str, NotebookNode], _: NotebookNode) -> None:
        cells["circuit_share-answer"].source = "circuit_share = 88.5 percent of it"

    outcomes = mark(cohort, change)
    assert full(outcomes, "circuit_share")
    assert outcomes["circuit_share"].note == "python_error"


@pytest.mark.jail
def test_the_jail_hides_what_the_marker_holds(cohort: Cohort, bubblewrap: None) -> None:
    marker = Path(jail.__file__).resolve()
    secrets = [marker, course_folder("solutions") / f"{LESSON}.md", cohort.folder / "gradebook.db"]

    def change(cells: dict[str, NotebookNode], _: NotebookNode) -> None:
        cells["element_current-answer"].source = (
            "import os, socket\n"
            f"seen = [os.path.exists(p) for p in {[str(p) for p in secrets]!r}]\n"
            "try:\n    import legtoleg.marking.marking\n    seen.append(True)\nexcept ImportError:\n    pass\n"
            "try:\n    socket.create_connection(('127.0.0.1', 9), 1)\n"
            "except OSError as error:\n    seen.append(error.errno not in (101, 111))\n"
            f"element_current = '{rounded(RIGHT['element_current'], 3)} A' if not any(seen) else f'{{seen}}'"
        )
        cells["drift-answer"].source += "\nopen('/tmp/desk/note.txt', 'w').write('mine')"
        cells[
            "hot_ohms-answer"
        ].source = (
            f"try:\n    open('/usr/note.txt', 'w')\nexcept OSError:\n    hot_ohms = '{rounded(RIGHT['hot_ohms'], 3)} Ω'"
        )

    assert full(mark(cohort, change))
    assert not Path("/usr/note.txt").exists()


def test_without_a_jail_the_plain_kernel_marks_the_same(cohort: Cohort, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(jail, "available", lambda: False)
    assert full(mark(cohort, lambda *_: None))
