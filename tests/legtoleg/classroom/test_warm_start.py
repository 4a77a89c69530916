"""The warm parent's parts: what holds a jail, what happens when the parent is away or dies, kernels that are forks."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from legtoleg.classroom import seat_jail, warm_start
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.warm_seats.nursery import Nursery
from legtoleg.classroom.warm_seats.provisioner import ForkedKernel, WarmProvisioner

SERVER = "trap 'sleep 0.3; echo polite; exit' TERM; echo up; while :; do sleep 0.05; done"


@contextmanager
def held() -> Iterator[tuple[subprocess.Popen[bytes], int]]:
    """Give what holds a jail, and the line that holds it."""
    reads, writes = os.pipe()
    words = ["sh", "-c", seat_jail._HOLD]
    with subprocess.Popen(words, stdin=reads, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL) as one:
        os.close(reads)
        assert one.stdout is not None
        assert one.stdout.readline() == b"\n"
        yield one, writes


def test_a_jail_ends_when_nobody_enters_it() -> None:
    with held() as (one, line):
        os.close(line)
        assert one.wait(5) == 0


def test_a_polite_end_reaches_the_server_and_the_jail_waits_for_it() -> None:
    with subprocess.Popen(["sh", "-c", SERVER], stdout=subprocess.PIPE) as server, held() as (one, line):
        assert server.stdout is not None
        assert server.stdout.readline() == b"up\n"
        os.write(line, f"{server.pid}\n".encode())
        time.sleep(0.2)
        one.send_signal(signal.SIGTERM)
        assert server.communicate(timeout=5)[0] == b"polite\n"
        assert one.poll() is None
        os.close(line)
        assert one.wait(5) == 0


def order(tmp_path: Path, command: list[str]) -> warm_start.WarmOrder:
    environment = dict.fromkeys(warm_start._KIT, "x")
    return warm_start.WarmOrder(command, os.getuid(), {}, [], ["server"], environment, "/", tmp_path / "log")


def test_without_a_parent_a_seat_starts_cold(tmp_path: Path) -> None:
    began = time.monotonic()
    assert warm_start.start_warm(tmp_path / "nobody", order(tmp_path, ["false"]), patience=0.2) is None
    assert time.monotonic() - began < 5


def listener(path: Path, answer: Callable[[socket.socket], None], times: int) -> list[int]:
    """Answer ``times`` connections at ``path``; the list that comes back fills with one number for each."""
    seen: list[int] = []
    door = socket.socket(socket.AF_UNIX)
    door.bind(str(path))
    door.listen()

    def work() -> None:
        for number in range(times):
            link, _ = door.accept()
            answer(link)
            seen.append(number)
            link.close()
        door.close()

    threading.Thread(target=work, daemon=True).start()
    return seen


def test_a_parent_that_dies_in_the_middle_is_asked_again_and_no_jail_stays(tmp_path: Path) -> None:
    path = Path("/tmp") / f"ltl-{os.getpid()}.s"
    mark = tmp_path / "jails"
    command = ["sh", "-c", f"echo $$ >> {mark}; {seat_jail._HOLD}"]
    seen = listener(path, lambda _: None, times=3)
    try:
        assert warm_start.start_warm(path, order(tmp_path, command), patience=0.2) is None
    finally:
        path.unlink()
    assert seen == [0, 1, 2]
    jails = [int(word) for word in mark.read_text().split()]
    assert len(jails) == 3
    assert not any(Path(f"/proc/{jail}").exists() for jail in jails)


def test_the_parent_gets_nothing_of_this_users_environment(room: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SECRET_OF_THE_SHELL", "hush")
    words = warm_start.parent_command(room)
    shown = subprocess.run([*words[: words.index(sys.executable)], "env"], check=True, capture_output=True, text=True)
    assert "hush" not in shown.stdout
    assert {line.partition("=")[0] for line in shown.stdout.split("\n") if line} == {
        "HOME", "LANG", "MALLOC_ARENA_MAX", "MALLOC_MMAP_THRESHOLD_", "MPLBACKEND", "OMP_NUM_THREADS",
        "OPENBLAS_NUM_THREADS", "PATH", "PYTHONDONTWRITEBYTECODE", "PYTHONPATH",
    }  # fmt: skip


IN_A_KERNEL = """
import gc, os, sys
sys.path.insert(0, {place!r})
from warm_seats import warming
missing = warming.load()
warming.rehearse()
warming.settle()
from dryerbench.notebook import hand_in
print(missing, hand_in._SESSION.sheet is None, os.getcwd() == {folder!r}, os.listdir("."), flush=True)
if os.fork() == 0:
    gc.enable()
    whole = gc.get_stats()[2]["collections"]
    kept = [[number] for number in range(105_000)]
    print(gc.get_stats()[2]["collections"] > whole, gc.get_freeze_count() > 200_000)
    from ipykernel import debugger, ipkernel
    print(debugger._is_debugpy_available, len(ipkernel.sys.modules), ipkernel.sys.version == sys.version)
    sys.stdout.flush()
    os._exit(0)
os.wait()
"""


@pytest.mark.slow
def test_a_fork_of_the_parent_collects_its_own_garbage_and_loads_no_debugger(tmp_path: Path) -> None:
    code = IN_A_KERNEL.format(place=str(warm_start.PARENT.parent), folder=str(tmp_path))
    said = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True, cwd=tmp_path)
    assert said.stdout.split("\n")[:3] == ["[] True True []", "True True", "False 0 True"], said.stderr


IN_A_FORK = """
import os, sys
sys.path.insert(0, {place!r})
from warm_seats import entering
handles = [os.open('/', os.O_RDONLY) for _ in range(20)]
entering.close_all_but([handles[7], handles[11]])
left = []
for number in range(3, 200):
    try:
        os.fstat(number)
        left.append(number)
    except OSError:
        pass
print(left == sorted([handles[7], handles[11]]))
"""


def test_a_fork_keeps_no_open_file_but_those_it_needs() -> None:
    code = IN_A_FORK.format(place=str(warm_start.PARENT.parent))
    assert subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True).stdout == "True\n"


LOADED = """
import sys
sys.path.insert(0, {place!r})
from warm_seats import parent, warming
print(warming.load())
print([name for name in sys.modules if name.partition('.')[0] in ('legtoleg', 'nbgrader')])
import threading
warming.rehearse()
print(threading.active_count())
"""


@pytest.mark.slow
def test_nothing_of_the_marker_is_in_the_parents_memory_and_all_it_names_is_there() -> None:
    pytest.importorskip("jupyterhub")
    code = LOADED.format(place=str(warm_start.PARENT.parent))
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert done.stdout.splitlines() == ["[]", "[]", "1"]


def nursed(body: Callable[[], None]) -> tuple[socket.socket, int]:
    """Return the line to a nursery whose kernels do ``body``, and its process."""
    ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
    child = os.fork()
    if child == 0:
        try:
            ours.close()
            if Nursery(theirs).serve() is not None:
                os.setsid()
                body()
        finally:
            os._exit(7)
    theirs.close()
    return ours, child


def forked(line: socket.socket) -> ForkedKernel:
    class Bare(WarmProvisioner):  # type: ignore[misc]
        nursery = line

    one = Bare()._forked(["python", "-m", "ipykernel_launcher", "-f", "x"], {"env": {}, "cwd": "/"})
    assert one is not None
    return one


def test_a_kernel_that_ends_tells_how_and_one_that_is_killed_too() -> None:
    line, nursery = nursed(lambda: time.sleep(0.1))
    first = forked(line)
    assert first.poll() is None
    assert first.wait() == 7
    line.close()
    os.waitpid(nursery, 0)
    line, nursery = nursed(lambda: time.sleep(30))
    second = forked(line)
    second.kill()
    assert second.wait() == -signal.SIGKILL
    line.close()
    os.waitpid(nursery, 0)


def test_a_kernel_whose_nursery_is_killed_ends_and_the_next_starts_cold() -> None:
    line, nursery = nursed(lambda: time.sleep(30))
    one = forked(line)
    os.kill(nursery, signal.SIGKILL)
    os.waitpid(nursery, 0)
    assert one.wait() == -signal.SIGKILL
    until = time.monotonic() + 5
    while Path(f"/proc/{one.pid}/stat").exists() and ") Z" not in Path(f"/proc/{one.pid}/stat").read_text():
        assert time.monotonic() < until
        time.sleep(0.02)
    provisioner = WarmProvisioner
    before, provisioner.nursery = provisioner.nursery, line
    try:
        words = ["python", "-m", "ipykernel_launcher", "-f", "x"]
        assert provisioner()._forked(words, {"env": {}, "cwd": "/"}) is None
    finally:
        provisioner.nursery = before
        line.close()
