"""The recording shell: bounded, in order, and limited in time."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from typing import Any

import pytest
from IPython.core.interactiveshell import InteractiveShell

from legtoleg.sandbox.worker.shell import Record, RecordingShell, make_shell, run_cells


@pytest.fixture
def shell() -> Iterator[RecordingShell]:
    before = sys.stdout, sys.stderr
    InteractiveShell.clear_instance()
    RecordingShell.clear_instance()
    yield make_shell(5000)
    RecordingShell.clear_instance()
    sys.stdout, sys.stderr = before


def shown(shell: RecordingShell, *cells: str, seconds: int = 20) -> list[list[dict[str, Any]]]:
    told: list[list[dict[str, Any]]] = []
    run_cells(shell, list(cells), seconds, lambda _, outputs: told.append(outputs))
    return told


def test_in_order(shell: RecordingShell) -> None:
    (outputs,) = shown(shell, "print(1)\nprint(2)\nimport sys\nprint(3, file=sys.stderr)\nprint(4)\n5")
    assert [(o.get("name"), o.get("text")) for o in outputs[:3]] == [
        ("stdout", "1\n2\n"),
        ("stderr", "3\n"),
        ("stdout", "4\n"),
    ]
    assert outputs[3]["data"]["text/plain"] == "5"


def test_a_display_that_is_updated_takes_the_place_of_itself(shell: RecordingShell) -> None:
    code = (
        "from IPython.display import display\nh = display({'text/plain': 'a'}, raw=True, display_id='x')\n"
        "h.update({'text/plain': 'b'}, raw=True)"
    )
    (outputs,) = shown(shell, code)
    assert [output.get("data", output) for output in outputs] == [{"text/plain": "b"}]


def test_bounded(shell: RecordingShell) -> None:
    text, displays = shown(
        shell, "print('x' * 10**6)", "from IPython.display import display\nfor n in range(1000): display('y' * 1000)"
    )
    assert sum(len(output["text"]) for output in text) <= 5000
    assert len(displays) < 10
    record = Record(100)
    record.show("display_data", {"text/plain": "x" * 1000}, {})
    record.error("E", "v", ["x" * 1000])
    assert record.outputs == []


def test_errors_are_plain_and_survive_liars(shell: RecordingShell) -> None:
    liar = "class E(Exception):\n    def __str__(self): raise ValueError\nraise E"
    plain, lying, after = shown(shell, "def f(): 1 / 0\nf()", liar, "'after'")
    text = "\n".join(plain[0]["traceback"])
    assert "in f" in text
    assert "IPython" not in text.split("ZeroDivisionError")[0].replace("ipython-input", "")
    assert lying[0]["ename"] == "E"
    assert after[0]["data"]["text/plain"] == "'after'"


def test_a_slow_cell_is_stopped_and_the_next_has_its_own_time(shell: RecordingShell) -> None:
    slow, quick = shown(shell, "while True: pass", "1", seconds=1)
    assert slow[0]["ename"] == "CellTimeError"
    assert "1 s" in slow[0]["evalue"]
    assert quick[0]["data"]["text/plain"] == "1"


def test_an_exit_is_no_end(shell: RecordingShell) -> None:
    cells = shown(shell, "import sys; sys.exit(3)", "quit()", "'after'")
    assert cells[2][0]["data"]["text/plain"] == "'after'"
