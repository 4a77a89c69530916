"""Answer cells: a cell that breaks leaves no older answer, in a real shell as in a fresh kernel."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import CapturedIO, capture_output

from dryerbench.core import identity
from dryerbench.drawing import interactive_figure
from dryerbench.notebook import hand_in
from dryerbench.notebook.answer_cells import assigned
from dryerbench.notebook.answer_record import MIME

OPEN = 'from dryerbench.notebook.hand_in import hand_in, job_card\ncard = job_card("03_heater_power")'
HAND_IN = 'hand_in("element_current", element_current)'


@pytest.mark.parametrize(
    ("cell", "found"),
    [
        ('a = "8.9 A"', ["a"]),
        ("a = 8.9 A", ["a"]),
        ("  a=\n# hint", ["a"]),
        ('b = 1\na = "8.9 A"\na = 2', ["a"]),
        ('a "8.9 A"', ["a"]),
        ('a: "8.9 A"', ["a"]),
        ('a - "8.9 A"', ["a"]),
        ("a “8.9 A”", ["a"]),
        ("a", []),
        ("a.text", []),
        ("print(a)", []),
        ("a == 3", []),
        ("a = a + 1", []),
        ("ab = 3", []),
        ('hand_in("a", a)', []),
    ],
)
def test_what_a_cell_sets(cell: str, found: list[str]) -> None:
    assert assigned(cell, ["a", "c"]) == found


@pytest.fixture
def shell(monkeypatch: pytest.MonkeyPatch) -> Iterator[InteractiveShell]:
    monkeypatch.setenv(interactive_figure.MODE, "still")
    monkeypatch.setenv(identity.VARIABLE, "demo-01")
    monkeypatch.setattr(hand_in, "_SESSION", hand_in._Session())
    made = InteractiveShell.instance()
    made.history_manager.enabled = False
    made.history_manager.end_session()
    yield made
    made.set_custom_exc((), None)
    InteractiveShell.clear_instance()


def run(shell: InteractiveShell, cell: str) -> CapturedIO:
    with capture_output() as seen:
        shell.run_cell(cell)
    return seen


def records(seen: CapturedIO) -> list[dict]:
    return [output.data[MIME] for output in seen.outputs if MIME in output.data]


def text(seen: CapturedIO) -> str:
    return "\n".join(output.data.get("text/plain", "") for output in seen.outputs)


@pytest.mark.parametrize(
    "broken",
    ["element_current = 8.9 A", 'element_current = "9.9 A', "element_current = ", "element_current = 1/0"],
)
def test_a_broken_answer_cell_leaves_no_older_answer(shell: InteractiveShell, broken: str) -> None:
    run(shell, OPEN)
    run(shell, 'element_current = "8.9 A"')
    assert records(run(shell, HAND_IN))[0]["magnitude"] == 8.9
    run(shell, broken)
    seen = run(shell, HAND_IN)
    assert records(seen) == []
    assert "There is no answer to hand in." in text(seen)
    run(shell, 'element_current = "7.7 A"')
    assert records(run(shell, HAND_IN))[0]["magnitude"] == 7.7


def test_the_answer_cell_is_known_by_its_id_where_the_name_is_misspelled(shell: InteractiveShell) -> None:
    run(shell, OPEN)
    run(shell, 'element_current = "8.9 A"')
    with capture_output():
        shell.run_cell("# my sum stands in the cell above", cell_id="element_current-answer")
    assert records(run(shell, HAND_IN))[0]["magnitude"] == 8.9
    with capture_output():
        shell.run_cell('element_curent = "9.9 A"', cell_id="element_current-answer")
    assert records(run(shell, HAND_IN)) == []


def test_a_hand_in_run_again_without_its_answer_cell_says_so(shell: InteractiveShell) -> None:
    run(shell, OPEN)
    run(shell, 'element_current = "8.90 A"')
    assert "from before" not in text(run(shell, HAND_IN))
    assert "from before" in text(run(shell, HAND_IN))
    run(shell, 'element_current = "8.90 A"')
    assert "from before" not in text(run(shell, HAND_IN))


def test_other_names_and_other_lessons_are_left_alone(shell: InteractiveShell) -> None:
    run(shell, OPEN)
    run(shell, "volts = 240\ncleaning = 3")
    run(shell, "volts = 1/0")
    assert (shell.user_ns["volts"], shell.user_ns["cleaning"]) == (240, 3)


def test_nobody_watches_where_it_is_marked(shell: InteractiveShell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "words")
    run(shell, OPEN)
    run(shell, 'element_current = "8.9 A"')
    run(shell, HAND_IN)
    assert "from before" not in text(run(shell, HAND_IN))
