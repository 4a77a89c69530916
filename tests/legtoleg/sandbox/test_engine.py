"""The warm engine: what cells show, each notebook for itself, and an end to everything."""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import psutil
import pytest

from legtoleg.sandbox import jail
from legtoleg.sandbox.engine import EngineError, Job, Limits, Run, WarmEngine

pytestmark = [pytest.mark.slow, pytest.mark.jail]


@pytest.fixture(scope="module")
def engine() -> Iterator[WarmEngine]:
    if not jail.available():
        pytest.skip("bubblewrap is missing on this computer.")
    with WarmEngine(Limits(cell_seconds=2, notebook_seconds=12)) as started:
        yield started


def shown_text(outputs: list[dict[str, Any]]) -> str:
    """Return the text of what a cell showed."""
    return "".join(str(output.get("text") or output.get("data", {}).get("text/plain", "")) for output in outputs)


def run(engine: WarmEngine, *cells: str, apprentice: str = "demo-01") -> Run:
    return engine.run(Job(apprentice, "03_heater_power", cells))


def test_streams_results_displays_and_errors_in_order(engine: WarmEngine) -> None:
    shown = run(
        engine,
        "print('a'); print('b'); import sys; print('c', file=sys.stderr)\n1 + 1",
        "from IPython.display import display, HTML, clear_output\ndisplay(HTML('<b>x</b>'))\n_",
        "1 / 0",
        "x =",
        "print('gone'); clear_output(); print('stays')",
        "await __import__('asyncio').sleep(0, 'awaited')",
        "!echo from a shell",
    )
    assert shown.ended == ""
    assert [output["output_type"] for output in shown.outputs[0]] == ["stream", "stream", "execute_result"]
    assert shown.outputs[0][0]["text"] == "a\nb\n"
    assert shown.outputs[1][0]["data"]["text/html"] == "<b>x</b>"
    assert shown.outputs[1][1]["data"]["text/plain"] == "2"
    assert shown.outputs[2][0]["ename"] == "ZeroDivisionError"
    assert "1 / 0" in "\n".join(shown.outputs[2][0]["traceback"])
    assert "\x1b" not in str(shown.outputs)
    assert shown.outputs[3][0]["ename"] == "SyntaxError"
    assert shown_text(shown.outputs[4]) == "stays\n"
    assert shown_text(shown.outputs[5]) == "'awaited'"
    assert "from a shell" in shown_text(shown.outputs[6])


def test_each_notebook_has_its_own_machine_and_nothing_of_another(engine: WarmEngine) -> None:
    first = run(engine, "secret = 7; open('mine.txt', 'w').write('x'); from dryerbench import *", apprentice="demo-01")
    assert shown_text(first.outputs[0]) == ""
    other = run(
        engine,
        "import os; 'secret' in globals(), os.listdir('.'), os.listdir('/dev/shm')",
        "from dryerbench import *\njob_card('03_heater_power').heading",
        apprentice="demo-02",
    )
    assert shown_text(other.outputs[0]) == "(False, [], [])"
    assert "demo-02" in shown_text(other.outputs[1])


OPEN = (
    "import os, stat\n"
    "def is_there(n):\n"
    "    try: return os.fstat(n)\n"
    "    except OSError: return None\n"
    "found = {n: is_there(n) for n in range(3, 128)}\n"
    "sorted(stat.S_IFMT(s.st_mode) == stat.S_IFSOCK for s in found.values() if s and not stat.S_ISREG(s.st_mode))"
)


def test_a_notebook_holds_its_own_line_and_none_of_its_siblings_or_of_the_parent(engine: WarmEngine) -> None:
    with ThreadPoolExecutor(4) as pool:
        others = [pool.submit(run, engine, "import time; time.sleep(1.5)") for _ in range(3)]
        time.sleep(0.7)
        assert shown_text(run(engine, OPEN).outputs[0]) == "[True]"
        assert all(other.result().ended == "" for other in others)


def test_a_notebook_sees_no_process_but_its_own(engine: WarmEngine) -> None:
    there = (
        "import os\n"
        "def is_there(n):\n"
        "    try: return os.close(os.pidfd_open(n)) is None\n"
        "    except OSError: return False  # none, or a thread of this one"
    )
    cell = "os.getpid(), os.getppid(), os.listdir('/proc'), [n for n in range(1, 400) if is_there(n)]"
    assert shown_text(run(engine, there, cell).outputs[1]) == "(1, 0, [], [1])"


def test_a_notebook_gives_up_every_right_of_its_world(engine: WarmEngine) -> None:
    cell = (
        "import ctypes, errno\n"
        "c = ctypes.CDLL(None, use_errno=True)\n"
        "calls = (lambda: c.mount(b'tmpfs', b'/tmp', b'tmpfs', 0, b''), lambda: c.sethostname(b'x', 1),\n"
        "         lambda: c.setns(0, 0), lambda: c.chroot(b'/'))\n"
        "[(call() == -1, ctypes.get_errno() in (errno.EPERM, errno.EINVAL, errno.EBADF)) for call in calls]"
    )
    assert shown_text(run(engine, cell).outputs[0]) == str([(True, True)] * 4)


def test_random_numbers_differ_between_notebooks(engine: WarmEngine) -> None:
    cells = ("import random, numpy as np; random.random(), np.random.random()",)
    assert shown_text(run(engine, *cells).outputs[0]) != shown_text(run(engine, *cells).outputs[0])


def test_figures_are_words_and_own_plots_do_no_harm(engine: WarmEngine) -> None:
    shown = run(
        engine, "from dryerbench import *\nshow_one_element()", "import matplotlib.pyplot as plt; plt.plot([1, 2])"
    )
    assert "image/png" not in str(shown.outputs)
    assert shown.outputs[0][0]["data"]["text/plain"]
    assert shown.outputs[1][-1]["output_type"] == "execute_result"


def test_an_endless_cell_is_interrupted_and_the_next_runs(engine: WarmEngine) -> None:
    shown = run(engine, "while True: pass", "'after'")
    assert shown.outputs[0][0]["ename"] == "CellTimeError"
    assert shown_text(shown.outputs[1]) == "'after'"


@pytest.mark.parametrize(
    ("cell", "ended"),
    [
        ("while True:\n    try: import time; time.sleep(9)\n    except BaseException: pass", "ended its own Python"),
        ("import os; os._exit(0)", "ended its own Python"),
        ("import ctypes; ctypes.string_at(0)", "ended its own Python"),
    ],
)
def test_what_cannot_go_on_ends_and_keeps_what_was_shown(engine: WarmEngine, cell: str, ended: str) -> None:
    shown = run(engine, "'before'", cell, "'after'")
    assert shown_text(shown.outputs[0]) == "'before'"
    assert ended in shown.ended
    assert 2 not in shown.outputs


def test_memory_has_a_limit() -> None:
    with WarmEngine(Limits(cell_seconds=30, notebook_seconds=60, megabytes=200)) as engine:
        shown = run(engine, "'before'", "x = []\nwhile True: x.append(bytearray(10**7))", "'after'")
    assert shown_text(shown.outputs[0]) == "'before'"
    assert "memory" in shown.ended or shown.outputs[1][0]["ename"] == "MemoryError"


TOUCH = """
import ctypes, mmap, os, sys, time
MB, libc = 2**20, ctypes.CDLL(None, use_errno=True)
PAGE = bytes(range(256)) * 4096

def fill(take):
    got = 0
    for start in range(0, 500 * MB, MB):
        take(start)
        got += 1
    return got

def mapped(area):
    return fill(lambda start: area.__setitem__(slice(start, start + MB), PAGE))

def memfd():
    handles = [os.memfd_create(str(n)) for n in range(64)]
    return sum(os.pwrite(handle, PAGE, start) for handle in handles for start in range(0, 8 * MB, MB)) // MB

def in_a_file(place):
    handle = os.open(place, os.O_RDWR | os.O_CREAT)
    return fill(lambda start: os.pwrite(handle, PAGE, start))

def system_v():
    libc.shmat.restype = ctypes.c_void_p
    number = libc.shmget(0, 500 * MB, 0o1600)
    if number < 0:
        raise OSError(ctypes.get_errno(), "shmget")
    at = libc.shmat(number, None, 0)
    got = fill(lambda start: ctypes.memmove(at + start, PAGE, MB))
    libc.shmdt(ctypes.c_void_p(at))
    return got

def dropped():
    area = mmap.mmap(-1, 500 * MB)
    got = mapped(area)
    area.madvise(mmap.MADV_DONTNEED)
    kept.append(area)
    return got

def zero():
    handle = os.open("/dev/zero", os.O_RDWR)
    area = mmap.mmap(handle, 500 * MB)
    kept.append(area)
    return mapped(area)

kept, read, write = [], *os.pipe()
for turn in range(4):
    if os.fork() == 0:
        try:
            got = {way}
        except (OSError, MemoryError, ValueError) as error:
            got = 0
        os.write(write, b"%d\\n" % got)
        time.sleep(1.5)
        os._exit(0)
time.sleep(1)
sum(map(int, os.read(read, 1000).split()))
"""
WAYS = (
    "memfd()",
    "mapped(mmap.mmap(-1, 500 * MB))",
    "dropped()",
    "zero()",
    "system_v()",
    "in_a_file(f'/dev/shm/{turn}')",
    "in_a_file(f'/desk/{turn}')",
    "mapped(bytearray(500 * MB))",
)


@pytest.mark.parametrize("way", WAYS)
def test_four_times_500_megabytes_are_not_to_be_had(way: str) -> None:
    """Memory that is shared, or has no owner, counts as any other: the limit is 1024 MB for a notebook in all."""
    with WarmEngine(Limits(cell_seconds=8, notebook_seconds=20)) as engine:
        shown = run(engine, "'before'", TOUCH.replace("{way}", way), "'after'")
    assert shown_text(shown.outputs[0]) == "'before'"
    if "memory" not in shown.ended:
        assert (shown.ended, shown_text(shown.outputs[2])) == ("", "'after'")
        assert int(shown_text(shown.outputs[1])) < 1024


def test_the_whole_notebook_has_a_limit() -> None:
    with WarmEngine(Limits(cell_seconds=9, notebook_seconds=2)) as engine:
        shown = run(engine, "1", "import time\nfor _ in range(99): time.sleep(0.1)", "2")
    assert "took longer" in shown.ended
    assert set(shown.outputs) == {0}


def test_a_flood_is_cut(engine: WarmEngine) -> None:
    shown = run(engine, "print('x' * 10**7)", "for n in range(10**5): print(n)", "'after'")
    assert len(shown_text(shown.outputs[0])) < 500_000
    assert len(shown_text(shown.outputs[1])) < 500_000
    assert shown_text(shown.outputs[2]) == "'after'"


def test_a_flood_past_the_recorder_is_cut_off(engine: WarmEngine) -> None:
    flood = (
        "import os\n"
        "for number in range(3, 30):\n"
        "    try:\n"
        "        while True: os.write(number, b'x' * 65536)\n"
        "    except OSError: pass"
    )
    shown = run(engine, "'before'", flood)
    assert shown_text(shown.outputs[0]) == "'before'"
    assert shown.ended


def test_many_short_ones_at_once_each_get_their_own_answer(engine: WarmEngine) -> None:
    with ThreadPoolExecutor(6) as pool:
        runs = list(pool.map(lambda n: run(engine, f"{n} * 2"), range(90)))
    assert [(shown.ended, shown_text(shown.outputs[0])) for shown in runs] == [("", str(2 * n)) for n in range(90)]


def kill_below(engine: WarmEngine) -> None:
    """End by force whatever the engine's own process has started: when the first goes, others go with it."""
    assert engine._process is not None
    for child in psutil.Process(engine._process.pid).children(recursive=True):
        with contextlib.suppress(psutil.NoSuchProcess):
            child.kill()


def test_a_dead_warm_parent_is_replaced(engine: WarmEngine) -> None:
    assert shown_text(run(engine, "6 * 6").outputs[0]) == "36"
    kill_below(engine)
    assert shown_text(run(engine, "6 * 7").outputs[0]) == "42"


def test_a_parent_that_is_killed_while_others_run_costs_them_nothing(engine: WarmEngine) -> None:
    assert shown_text(run(engine, "6 * 6").outputs[0]) == "36"
    with ThreadPoolExecutor(3) as pool:
        runs = [pool.submit(run, engine, f"import time; time.sleep(0.7); {n}") for n in range(3)]
        time.sleep(0.4)
        kill_below(engine)
    assert [shown_text(one.result().outputs[0]) for one in runs] == ["0", "1", "2"]


def test_a_parent_that_is_killed_while_it_starts_is_started_again() -> None:
    with WarmEngine() as engine, ThreadPoolExecutor(1) as pool:
        running = pool.submit(run, engine, "6 * 7")
        while engine._process is None or not psutil.Process(engine._process.pid).children(recursive=True):
            time.sleep(0.01)
        kill_below(engine)
        assert shown_text(running.result().outputs[0]) == "42"


def test_nothing_is_left_behind() -> None:
    with WarmEngine() as engine:
        run(engine, "import subprocess; subprocess.Popen(['sleep', '77'], start_new_session=True).pid")
        assert engine._process is not None
        top = engine._process.pid
    assert not psutil.pid_exists(top)
    sleeps = [p for p in psutil.process_iter(["cmdline"]) if p.info["cmdline"] == ["sleep", "77"]]
    assert not sleeps


def test_without_a_jail_it_says_why(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(jail, "worker_command", lambda *_: ["sh", "-c", "echo no namespaces here >&2; exit 1"])
    engine = WarmEngine()
    with pytest.raises(EngineError, match="no namespaces here"):
        run(engine, "1")
    engine.close()


def test_a_killed_marker_leaves_no_process(tmp_path: Path) -> None:
    code = (
        "import sys, time\nfrom legtoleg.sandbox.engine import *\nfrom threading import Thread\n"
        "engine = WarmEngine()\nengine.run(Job('a', 'b', ('1',)))\n"
        "Thread(target=engine.run, args=(Job('a', 'b', ('import time; time.sleep(60)',)),), daemon=True).start()\n"
        "time.sleep(0.3)\nprint(engine._process.pid, flush=True)\ntime.sleep(60)"
    )
    started = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True, env=dict(os.environ))
    assert started.stdout is not None
    top = psutil.Process(int(started.stdout.readline()))
    family = [top, *top.children(recursive=True)]
    assert len(family) >= 3
    started.kill()
    started.wait()
    started.stdout.close()
    gone, alive = psutil.wait_procs(family, 10)
    assert not [process for process in alive if process.status() != psutil.STATUS_ZOMBIE]
    assert gone or alive
