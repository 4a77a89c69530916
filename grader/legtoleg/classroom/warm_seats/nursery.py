"""The nursery of a seat: inside its jail and as its user, it forks a kernel for each asking and tells how it ended."""

from __future__ import annotations

import json
import os
import select
import signal
import socket
from contextlib import suppress
from typing import TypedDict

_LONGEST = 1 << 20
"""Bytes of an order: mostly an environment."""


class Order(TypedDict):
    """What the server asks for: the kernel's words, environment and folder."""

    words: list[str]
    environment: dict[str, str]
    folder: str


class Nursery:
    """Kernels that run, and the line on which the end of each is told."""

    def __init__(self, asked: socket.socket) -> None:
        self._asked = asked
        self._lines: dict[int, socket.socket] = {}
        self._woken, self._wake = os.pipe()
        os.set_blocking(self._wake, False)
        signal.signal(signal.SIGCHLD, lambda *_: None)
        signal.set_wakeup_fd(self._wake)

    def serve(self) -> Order | None:
        """Fork kernels until the server is gone; returns None then, and in a kernel's process what it is to be."""
        while True:
            ready, _, _ = select.select([self._asked.fileno(), self._woken], [], [])
            if self._woken in ready:
                os.read(self._woken, 512)
                self._reap()
            if self._asked.fileno() in ready:
                content, handles, _, _ = socket.recv_fds(self._asked, _LONGEST, 1)
                if not content or not handles:
                    return None
                order = self._fork(json.loads(content), socket.socket(fileno=handles[0]))
                if order is not None:
                    return order

    def _fork(self, order: Order, line: socket.socket) -> Order | None:
        child = os.fork()
        if child == 0:
            self._leave()
            line.close()
            return order
        self._lines[child] = line
        self._tell(line, child)
        return None

    def _leave(self) -> None:
        """Let a fork be nobody's nursery."""
        signal.set_wakeup_fd(-1)
        signal.signal(signal.SIGCHLD, signal.SIG_DFL)
        os.close(self._woken)
        os.close(self._wake)
        for line in (self._asked, *self._lines.values()):
            line.close()

    def _reap(self) -> None:
        while self._lines:
            child, status = os.waitpid(-1, os.WNOHANG)
            if not child:
                return
            line = self._lines.pop(child, None)
            if line is not None:
                self._tell(line, os.waitstatus_to_exitcode(status))
                line.close()

    @staticmethod
    def _tell(line: socket.socket, number: int) -> None:
        with suppress(OSError):
            line.sendall(f"{number}\n".encode("ascii"))


def run_kernel(order: Order) -> None:
    """Be a kernel until it is ended."""
    from .entering import be_called
    from .warming import wake

    os.setsid()
    be_called("kernel")
    environment = dict(order["environment"])
    environment.setdefault("MPLBACKEND", "module://matplotlib_inline.backend_inline")  # as ipykernel does
    wake(environment, order["folder"], ["ipykernel_launcher", *order["words"]])
    import matplotlib as mpl
    from ipykernel.kernelapp import IPKernelApp

    mpl.rcParams["backend"] = environment["MPLBACKEND"]  # read at its import, which is over
    IPKernelApp.launch_instance(argv=order["words"])
