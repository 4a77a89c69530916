"""Processes that may outlive who started them: known by number and start time, so that no stranger is taken for one."""

from __future__ import annotations

import os
import signal
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Process:
    """A process of this computer; ``started`` is the kernel's count of ticks, 0 where it does not tell."""

    pid: int
    started: int = 0

    @staticmethod
    def of(pid: int) -> Process:
        """Return the process ``pid`` as it is now."""
        return Process(pid, _started(pid))

    def alive(self) -> bool:
        """Tell whether it still runs; one that ended and was not fetched yet does not."""
        if not self.pid:
            return False
        if Path("/proc/self/stat").exists():
            return _started(self.pid) == self.started != 0
        try:
            os.kill(self.pid, 0)
        except ProcessLookupError:
            return False
        except PermissionError:
            pass
        return True

    def send(self, sign: signal.Signals) -> None:
        """Send it a signal, if it is still there."""
        if self.alive():
            with suppress(OSError):
                os.kill(self.pid, sign)

    def children(self) -> list[Process]:
        """Return the processes that it started; none where the kernel does not tell."""
        try:
            text = Path(f"/proc/{self.pid}/task/{self.pid}/children").read_text(encoding="ascii")
        except OSError:
            return []
        return [Process.of(int(word)) for word in text.split()]


def _started(pid: int) -> int:
    try:
        fields = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8", errors="replace").rpartition(")")[2].split()
    except OSError:
        return 0
    return 0 if fields[0] in ("Z", "X") else int(fields[19])
