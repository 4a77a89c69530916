"""The warm parent: one thread, everything imported, nobody's data; it forks one jailed child for each notebook.

It is asked through a socket at file descriptor 0. Each request is one byte and one socket; the parent itself never
reads that socket. A supervisor is forked for it, which forks the child that reads the job, runs the cells and answers
with one line of JSON for each cell. The supervisor ends the child at its limits and says why in the last line.
"""

from __future__ import annotations

import contextlib
import gc
import importlib
import json
import os
import select
import signal
import socket
import sys
import time
from typing import Any

import dryerbench

from .limits import (
    become_ordinary,
    die_with_parent,
    empty_desk,
    give_up_rights,
    megabytes_in_use,
    new_namespaces,
    set_limits,
)
from .shell import Output, RecordingShell, make_shell, run_cells

CELL_CHARACTERS = 200_000
"""What one cell may show; the marker reads no more than a few such."""

_PRELOADED = ("encodings.idna", "encodings.utf_16", "encodings.latin_1", "pickle", "numpy", "matplotlib.figure")

_GARBAGE = (50_000, 20, 100)
"""How rarely a child looks for garbage (Python's thresholds): with the usual 700 that is a quarter of its time."""


def _warm_up() -> RecordingShell:
    for name in _PRELOADED:
        importlib.import_module(name)
    for name in dryerbench.__all__:
        getattr(dryerbench, name)
    shell = make_shell(CELL_CHARACTERS)
    shell.run_cell("from dryerbench import *", store_history=False)
    shell.reset(new_session=False)
    shell.record.start()
    gc.collect()
    gc.freeze()  # so that a child's garbage collector does not copy what it shares with its siblings
    gc.set_threshold(*_GARBAGE)
    return shell


def _read_job(job: socket.socket) -> dict[str, Any]:
    with job.makefile("rb") as lines:
        read: dict[str, Any] = json.loads(lines.readline())
    return read


def _line(data: Any) -> bytes:
    try:
        return json.dumps(data, default=str).encode("utf-8", "replace") + b"\n"
    except (ValueError, TypeError, RecursionError):
        return b'{"unreadable": true}\n'


def _reseed() -> None:
    import numpy as np  # noqa: PLC0415 - already imported by the warm parent

    np.random.seed(int.from_bytes(os.urandom(4), "big"))  # noqa: NPY002 - equal in every fork otherwise


def _run_child(job: socket.socket, shell: RecordingShell) -> None:
    """Read the job and run it; only a child of its own namespaces comes here."""
    die_with_parent()
    wanted = _read_job(job)
    limits = wanted["limits"]
    set_limits(limits)
    empty_desk(int(limits["desk_megabytes"]))
    give_up_rights()
    os.environ.update(wanted["environment"])
    _reseed()

    def tell(number: int, outputs: list[Output]) -> None:
        job.sendall(_line({"cell": number, "outputs": outputs}))

    job.sendall(_line({"started": True}))
    run_cells(shell, wanted["cells"], int(limits["cell_seconds"]), tell)
    job.sendall(_line({"ended": ""}))


def _fork_child(job: socket.socket, shell: RecordingShell, processes: int) -> int:
    child = os.fork()
    if child == 0:
        status = 1
        try:
            os.close(processes)
            _run_child(job, shell)
            status = 0
        except OSError as error:
            job.sendall(_line({"ended": f"no jail: {error}"}))
        except BaseException:  # noqa: BLE001, S110 - the supervisor says that it ended early
            pass
        finally:
            os._exit(status)
    return child


def _watch(job: socket.socket, processes: int, child: int, ends: float, megabytes: float) -> str:
    """Return why the child ended: the empty text if by itself."""
    handle = os.pidfd_open(child)
    events = select.poll()
    events.register(handle, select.POLLIN)
    events.register(job.fileno(), 0)  # only that the marker hung up
    while True:
        for which, _ in events.poll(100):
            if which == handle:
                return ""
            return "the marker had read enough"
        if time.monotonic() > ends:
            return "time"
        if megabytes_in_use(processes, child) > megabytes:
            return "memory"


def _no_terminal() -> None:
    """Let standard input, output and error lead nowhere; what cells print is recorded in Python."""
    nowhere = os.open("/dev/null", os.O_RDWR)
    for handle in (0, 1, 2):
        os.dup2(nowhere, handle)
    if nowhere > 2:  # noqa: PLR2004
        os.close(nowhere)


def _supervise(job: socket.socket, shell: RecordingShell, seconds: int, megabytes: int) -> None:
    os.setsid()
    _no_terminal()
    processes = os.open("/proc", os.O_DIRECTORY | os.O_CLOEXEC)
    new_namespaces()
    child = _fork_child(job, shell, processes)
    why = _watch(job, processes, child, time.monotonic() + seconds, megabytes)
    if why:
        os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    job.sendall(b"\n" + _line({"ended": why or "died"}))  # the marker believes the first such line: the child's own


def _fork_supervisor(job: socket.socket, shell: RecordingShell, asked: socket.socket) -> None:
    if os.fork() == 0:
        try:
            asked.close()
            _supervise(job, shell, int(sys.argv[1]), int(sys.argv[2]))
        except OSError as error:
            job.sendall(_line({"ended": f"no jail: {error}"}))
        finally:
            os._exit(0)


def _reap() -> None:
    """Take note of the supervisors that have ended."""
    with contextlib.suppress(ChildProcessError):
        while os.waitpid(-1, os.WNOHANG)[0]:
            pass


def main() -> None:
    """Wait for notebooks until the marker hangs up."""
    if os.getuid() == 0:
        become_ordinary(int(sys.argv[3]))
    asked = socket.socket(fileno=0)
    shell = _warm_up()
    asked.sendall(b"r")
    while True:
        message, handles, _, _ = socket.recv_fds(asked, 1, 1)
        if not message:
            break
        _reap()
        for handle in handles:
            with socket.socket(fileno=handle) as job:
                _fork_supervisor(job, shell, asked)
    os._exit(0)


if __name__ == "__main__":
    main()
