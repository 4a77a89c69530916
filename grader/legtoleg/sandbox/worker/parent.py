"""The warm parent: one thread, everything imported, nobody's data; it forks one jailed child for each notebook.

It is asked through a socket at file descriptor 0. A request with one socket is a lesson as it was released, of the
marker's own, to be run here once, so that its notebooks are warm. Any other request is two sockets. The first is
the child's: it reads the job there, runs the cells and answers with one line of JSON for each. The second is the
parent's: there it says how the child ended, which it alone knows. The child, in a world of its own, closes that second
line before the first cell runs, so nothing that a notebook writes anywhere is taken for the parent's word. The parent
never reads the line of a notebook. It watches its children and ends them at their limits.
"""

from __future__ import annotations

import contextlib
import json
import os
import select
import signal
import socket
import sys
import time
from collections.abc import Callable
from typing import NoReturn, TypedDict

from . import desks, shared_computer
from .limits import (
    become_ordinary,
    child_pid_namespace,
    die_with_parent,
    empty_desk,
    give_up_rights,
    leave_home,
    megabytes_in_use,
    number_of,
    own_pid_namespace,
    set_limits,
)
from .refused_calls import refuse_calls
from .shell import Output, RecordingShell, run_cells
from .warming import line_of, run_once, warm_shell

_LONGEST_WORD = 8
"""Bytes that come with the lines of a request."""

_LOOK_SECONDS = 0.1
"""How often children are held against their limits."""


ShutIn = Callable[[socket.socket], "_Job"]
"""Shuts a child in and reads its job."""


class _Job(TypedDict):
    cells: list[str]
    limits: dict[str, int]
    environment: dict[str, str]


def _read_job(job: socket.socket) -> _Job:
    with job.makefile("rb") as lines:
        read: _Job = json.loads(lines.readline())
    return read


def _reseed() -> None:
    import numpy as np

    np.random.seed(int.from_bytes(os.urandom(4), "big"))  # noqa: NPY002 - equal in every fork otherwise


def _no_terminal() -> None:
    """Let standard input, output and error lead nowhere; what cells print is recorded in Python."""
    nowhere = os.open("/dev/null", os.O_RDWR)
    for handle in (0, 1, 2):
        os.dup2(nowhere, handle)
    if nowhere > 2:
        os.close(nowhere)


def _jail_itself(job: socket.socket) -> _Job:
    """Shut this child in, read its job, and return it."""
    _leave_the_parent()
    leave_home()
    wanted = _read_job(job)
    limits = wanted["limits"]
    set_limits(limits)
    empty_desk(int(limits["desk_megabytes"]))
    give_up_rights()
    refuse_calls()
    os.environ.update(wanted["environment"])
    return wanted


def _limit_itself(job: socket.socket, desk: str, processes: int) -> _Job:
    """Hold this child to its limits on a computer that it shares, read its job, and return it."""
    _leave_the_parent()
    wanted = _read_job(job)
    limits = wanted["limits"]
    set_limits({name: most for name, most in limits.items() if name != "processes"})
    shared_computer.limit_processes(processes)
    os.close(processes)
    desks.move_to(desk)
    refuse_calls()
    os.environ.update(wanted["environment"])
    return wanted


def _leave_the_parent() -> None:
    die_with_parent()
    os.setsid()
    _no_terminal()


def _run_child(job: socket.socket, word: socket.socket, shell: RecordingShell, shut_in: ShutIn) -> None:
    """Read the job and run it; only a child of the parent comes here."""
    with word:
        try:
            wanted = shut_in(job)
        except OSError as error:
            word.sendall(line_of({"ended": f"no jail: {error}"}))
            return
    # From here on, nothing in this process leads to the parent's own line.
    _reseed()

    def tell(number: int, outputs: list[Output]) -> None:
        if outputs:
            job.sendall(line_of({"cell": number, "outputs": outputs}))

    run_cells(shell, wanted["cells"], int(wanted["limits"]["cell_seconds"]), tell)
    job.sendall(line_of({"finished": True}))
    job.shutdown(socket.SHUT_WR)  # whatever else holds this line: the marker need not wait for it


class _Child:
    """A child at work: the line on which its end is told, and how to see it, end it and say how it ended."""

    def __init__(self, word: socket.socket, pid: int, processes: int, ends: float, desk: str) -> None:
        self.word, self.pid, self.ends, self.desk = word, pid, ends, desk
        self.why = ""
        self.handle = os.pidfd_open(pid)
        self.number = number_of(processes, self.handle)

    def end(self, why: str) -> None:
        """End it by force, and remember ``why``."""
        self.why = why
        with contextlib.suppress(ProcessLookupError):
            signal.pidfd_send_signal(self.handle, signal.SIGKILL)

    def reap(self) -> None:
        """Take note of its end."""
        os.waitpid(self.pid, 0)
        os.close(self.handle)


def _say(word: socket.socket, why: str) -> None:
    """Tell the marker how a child ended, and hang up; a line so short is sent at once, or nobody listens."""
    with word, contextlib.suppress(OSError):
        word.send(line_of({"ended": why}), socket.MSG_DONTWAIT)


class _Watcher:
    """The children at work."""

    def __init__(
        self, asked: socket.socket, shell: RecordingShell, seconds: int, megabytes: int, *, shared: bool
    ) -> None:
        self._asked, self._shell, self._shared = asked, shell, shared
        self._seconds, self._megabytes = seconds, megabytes
        self._home = os.open("/proc/self/ns/pid", os.O_RDONLY | os.O_CLOEXEC)
        self._processes = os.open("/proc", os.O_DIRECTORY | os.O_CLOEXEC)
        self._children: dict[int, _Child] = {}
        self._events = select.poll()
        self._events.register(asked.fileno(), select.POLLIN)
        self._look_at = 0.0

    def serve(self) -> None:
        """Fork and watch until the marker hangs up."""
        while True:
            events = dict(self._events.poll(100 if self._children else None))
            # What opens files goes before what closes them: a number in this list must not mean another file meanwhile.
            if events.pop(self._asked.fileno(), 0) and not self._take_in():
                self._end_all()
                return
            for which in events:
                if which in self._children:
                    self._reap(self._children[which])
                else:
                    self._hung_up(which)
            if time.monotonic() >= self._look_at:
                self._look()
                self._look_at = time.monotonic() + _LOOK_SECONDS

    def _end_all(self) -> None:
        """End what namespaces would end by themselves."""
        for child in self._children.values() if self._shared else ():
            shared_computer.end_household(self._processes, child.number)
            desks.remove(child.desk)

    def _take_in(self) -> bool:
        message, handles, _, _ = socket.recv_fds(self._asked, _LONGEST_WORD, 2)
        lines = [socket.socket(fileno=handle) for handle in handles]
        if len(lines) == 2:
            self._fork(*lines)
        elif len(lines) == 1:
            with lines[0]:
                lesson = _read_job(lines[0])
            run_once(self._shell, lesson["cells"], lesson["environment"])
        return bool(message)

    def _fork(self, job: socket.socket, word: socket.socket) -> None:
        ends = time.monotonic() + self._seconds
        pid, desk = 0, ""
        try:
            desk = desks.own_desk() if self._shared else ""
            with contextlib.nullcontext() if self._shared else child_pid_namespace(self._home):
                pid = os.fork()
                if pid == 0:
                    self._be_child(job, word, desk)
            child = _Child(word, pid, self._processes, ends, desk)
        except OSError as error:
            if pid:  # nobody could watch it
                os.kill(pid, signal.SIGKILL)
                os.waitpid(pid, 0)
            _say(word, f"no jail: {error}")
            return
        finally:
            job.close()
        self._children[child.handle] = child
        self._events.register(child.handle, select.POLLIN)
        self._events.register(word.fileno(), 0)  # only that the marker hung up

    def _be_child(self, job: socket.socket, word: socket.socket, desk: str) -> NoReturn:
        """Run ``job`` in this child, which first closes whatever leads to the parent, its siblings or their markers."""
        status = 1
        try:
            processes = os.dup(self._processes) if self._shared else -1
            for handle in (self._home, self._processes, *self._children):
                os.close(handle)
            for other in (self._asked, *(child.word for child in self._children.values())):
                other.close()
            limited: ShutIn = lambda job: _limit_itself(job, desk, processes)
            _run_child(job, word, self._shell, limited if self._shared else _jail_itself)
            status = 0
        finally:
            os._exit(status)

    def _hung_up(self, which: int) -> None:
        """End the child whose marker no longer listens."""
        for child in self._children.values():
            if child.word.fileno() == which and not child.why:
                self._end(child, "the marker had read enough")

    def _end(self, child: _Child, why: str) -> None:
        """End a child by force; it is reaped when it has ended, which takes a while."""
        if self._shared:
            shared_computer.end_household(self._processes, child.number)
        child.end(why)
        self._events.unregister(child.word.fileno())

    def _reap(self, child: _Child) -> None:
        self._events.unregister(child.handle)
        if not child.why:
            self._events.unregister(child.word.fileno())
        del self._children[child.handle]
        child.reap()
        if self._shared:
            shared_computer.end_orphans(self._processes, {other.number for other in self._children.values()})
            desks.remove(child.desk)
        _say(child.word, child.why or "died")

    def _look(self) -> None:
        """End whoever is at a limit."""
        children = [child for child in self._children.values() if not child.why]
        held = megabytes_in_use(self._processes, [child.number for child in children]) if children else []
        for child, megabytes in zip(children, held, strict=True):
            if time.monotonic() > child.ends:
                self._end(child, "time")
            elif megabytes > self._megabytes:
                self._end(child, "memory")


def _in_own_pid_namespace(asked: socket.socket) -> None:
    """Return in a process that is the first of its own; the one that came here waits for it and ends as it does."""
    own_pid_namespace()
    pid = os.fork()
    if pid:
        asked.close()
        _, status = os.waitpid(pid, 0)
        os._exit(os.waitstatus_to_exitcode(status) & 0xFF)
    die_with_parent()


def main() -> None:
    """Wait for notebooks until the marker hangs up; ``shared`` as last word: without namespaces."""
    seconds, megabytes, uid = map(int, sys.argv[1:4])
    shared = sys.argv[4:] == ["shared"]
    asked = socket.socket(fileno=0)
    if shared:
        os.setsid()
        desks.hide_marker()
        shared_computer.become_ordinary_if_possible(uid)
        shared_computer.adopt_orphans()
    else:
        if os.getuid() == 0:
            become_ordinary(uid)
        _in_own_pid_namespace(asked)
    home = desks.own_desk() if shared else ""
    if home:
        desks.move_to(home)
    try:
        shell = warm_shell()
        watcher = _Watcher(asked, shell, seconds, megabytes, shared=shared)
        asked.sendall(b"r")
        watcher.serve()
    finally:
        if home:
            desks.remove(home)
    os._exit(0)


if __name__ == "__main__":
    main()
