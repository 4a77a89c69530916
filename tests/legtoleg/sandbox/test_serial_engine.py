"""Warm processes without a fork: one notebook each, or shared by what was made up; an end to everything."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psutil
import pytest

from legtoleg.sandbox.engine import Job, Limits, Run
from legtoleg.sandbox.serial_engine import SerialEngine

pytestmark = pytest.mark.slow
LIMITS = Limits(cell_seconds=2, notebook_seconds=10, megabytes=300)


def children() -> set[int]:
    """Return the process numbers of what this process started; other tests' engines may be among them."""
    found = psutil.Process().children(recursive=True)
    return {process.pid for process in found if process.status() != psutil.STATUS_ZOMBIE}


def desks() -> set[Path]:
    return set(Path(tempfile.gettempdir()).glob("leg-to-leg-desk-*"))


@pytest.fixture(params=[False, True], ids=["each its own", "together"])
def engine(request: pytest.FixtureRequest) -> Iterator[SerialEngine]:
    before, others = desks(), children()
    started = SerialEngine(LIMITS, together=request.param)
    yield started
    started.close()
    assert children() <= others
    assert desks() <= before


def shown(run: Run, cell: int) -> Any:
    output = run.outputs[cell][0]
    data = output.get("data")
    return output.get("ename") or output.get("text") or (data["text/plain"] if isinstance(data, dict) else None)


def test_no_name_and_no_file_is_left_for_the_next(engine: SerialEngine) -> None:
    engine.run(Job("ada-01", "", ("secret = 7; open('mine.txt', 'w').write('x')",)))
    after = engine.run(Job("bo-02", "", ("secret", "import os; os.listdir('.'), os.environ['LEGTOLEG_APPRENTICE']")))
    assert shown(after, 0) == "NameError"
    assert shown(after, 1) == "([], 'bo-02')"


def test_what_a_library_was_made_to_do_is_gone_unless_the_cohort_was_made_up(engine: SerialEngine) -> None:
    engine.run(Job("ada-01", "", ("import dryerbench; dryerbench.spoiled = True",)))
    after = engine.run(Job("bo-02", "", ("import dryerbench; hasattr(dryerbench, 'spoiled')",)))
    assert shown(after, 0) == str(engine.together)


@pytest.mark.parametrize(
    ("cell", "ended"),
    [
        ("import os; os._exit(0)", "ended its own Python"),
        ("import time\nwhile True:\n    try: time.sleep(9)\n    except BaseException: pass", "ended its own Python"),
        (
            (
                "import os\nfor n in range(3, 64):\n    try:\n        while True: os.write(n, b'x' * 65536)\n"
                "    except OSError: pass"
            ),
            "more than anyone",
        ),
        ("import time\nfor _ in range(12):\n    try: time.sleep(1.9)\n    except BaseException: pass", ""),
    ],
)
def test_an_early_end_is_said_and_the_next_runs(engine: SerialEngine, cell: str, ended: str) -> None:
    run = engine.run(Job("ada-01", "", ("'before'", cell, "'after'")))
    assert shown(run, 0) == "'before'"
    assert ended in run.ended
    assert shown(engine.run(Job("bo-02", "", ("6 * 7",))), 0) == "42"


def test_a_cell_and_a_notebook_have_their_time(engine: SerialEngine) -> None:
    run = engine.run(Job("ada-01", "", ("while True: pass", "'after'", *["import time; time.sleep(1.9)"] * 9)))
    assert shown(run, 0) == "CellTimeError"
    assert shown(run, 1) == "'after'"
    assert "longer than it may" in run.ended


def test_memory_has_a_limit(engine: SerialEngine) -> None:
    code = (
        "import mmap, time\nx = [mmap.mmap(-1, 200 << 20) for _ in range(9)]\n"
        "for one in x: one.write(bytes(200 << 20))\ntime.sleep(1)"
    )
    run = engine.run(Job("ada-01", "", (code, "'after'")))
    assert "memory" in run.ended or shown(run, 0) in ("MemoryError", "OSError", "PermissionError")
