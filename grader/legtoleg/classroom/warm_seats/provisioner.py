"""How a warm seat's server starts its kernels: it asks the nursery; where that cannot be, they start cold."""

from __future__ import annotations

import json
import os
import signal
import socket
import time
from contextlib import suppress
from pathlib import Path

from jupyter_client.connect import KernelConnectionInfo
from jupyter_client.provisioning.local_provisioner import LocalProvisioner

_PATIENCE = 10.0
"""Seconds in which the nursery has to answer."""
_LAUNCHER = "ipykernel_launcher"


class ForkedKernel:
    """A kernel that the nursery forked, with the methods of ``subprocess.Popen`` that a provisioner uses."""

    stdin = stdout = stderr = None

    def __init__(self, line: socket.socket) -> None:
        self._line = line
        line.settimeout(_PATIENCE)
        self._said = b""
        self.returncode: int | None = None
        number = self._next()
        if number is None:
            raise ConnectionError("The nursery is gone.")
        self.pid = number
        line.setblocking(False)

    def _next(self) -> int | None:
        """Return the next number that the nursery tells; None if it is gone."""
        while b"\n" not in self._said:
            part = self._line.recv(64)
            if not part:
                return None
            self._said += part
        number, _, self._said = self._said.partition(b"\n")
        return int(number)

    def poll(self) -> int | None:
        """Return how it ended; None while it runs."""
        if self.returncode is None:
            try:
                code = self._next()
            except BlockingIOError:
                return None
            if code is None:  # the nursery was ended: a kernel that nobody watches ends as well
                with suppress(OSError):
                    os.killpg(self.pid, signal.SIGKILL)
                code = -signal.SIGKILL
            self.returncode = code
            self._line.close()
        return self.returncode

    def wait(self) -> int:
        """Wait until it has ended and return how."""
        while (code := self.poll()) is None:
            time.sleep(0.02)
        return code

    def send_signal(self, sign: int) -> None:
        """Send it a signal, if it still runs."""
        if self.poll() is None:
            os.kill(self.pid, sign)

    def terminate(self) -> None:
        """Ask it to end."""
        self.send_signal(signal.SIGTERM)

    def kill(self) -> None:
        """End it."""
        self.send_signal(signal.SIGKILL)


class WarmProvisioner(LocalProvisioner):  # type: ignore[misc]
    """Starts a kernel as a fork of the seat's nursery."""

    nursery: socket.socket | None = None

    async def launch_kernel(self, cmd: list[str], **kwargs: object) -> KernelConnectionInfo:
        """Start the kernel."""
        forked = self._forked(cmd, kwargs)
        if forked is None:
            return await super().launch_kernel(cmd, **kwargs)
        self.process, self.pid, self.pgid = forked, forked.pid, forked.pid
        return self.connection_info

    def _forked(self, cmd: list[str], more: dict[str, object]) -> ForkedKernel | None:
        if self.nursery is None or _LAUNCHER not in cmd:
            return None
        order = {
            "words": cmd[cmd.index(_LAUNCHER) + 1 :],
            "environment": more.get("env") or dict(os.environ),
            "folder": more.get("cwd") or str(Path.cwd()),
        }
        ours, theirs = socket.socketpair()
        with theirs:
            try:
                socket.send_fds(self.nursery, [json.dumps(order).encode()], [theirs.fileno()])
            except OSError:
                ours.close()
                return None
        try:
            return ForkedKernel(ours)
        except OSError:
            ours.close()
            return None
