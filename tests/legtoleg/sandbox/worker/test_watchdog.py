"""The watchdog: ends a process that hears no signal, each process by a watchdog of its own."""

from __future__ import annotations

import subprocess
import sys

import pytest

from legtoleg.sandbox.worker.watchdog import SystemTimer, make_watchdog

RUN = """
import os, sys, time
from legtoleg.sandbox.worker import watchdog
{before}
pid = {fork}
if pid:
    os._exit(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]))
dog = watchdog.{which}()
dog.start({seconds})
{then}
sum(iter(int, 1)) if {stuck} else os._exit(7)
"""


def ended(
    which: str = "make_watchdog", *, stuck: bool = True, before: str = "", fork: str = "0", then: str = ""
) -> int:
    code = RUN.format(which=which, stuck=stuck, before=before, fork=fork, then=then, seconds=0.5)
    return subprocess.run([sys.executable, "-c", code], check=False, timeout=60, capture_output=True).returncode


linux = pytest.mark.skipif(sys.platform != "linux", reason="the system's timer is Linux's")


@pytest.mark.parametrize("which", [pytest.param("SystemTimer", marks=linux), "WatchingThread", "make_watchdog"])
def test_what_is_stuck_in_c_is_ended_and_what_comes_back_is_not(which: str) -> None:
    assert ended(which) not in (0, 7)
    assert ended(which, stuck=False) == 7
    assert ended(which, stuck=False, then="dog.stop(); time.sleep(0.8)") == 7
    assert ended(which, stuck=False, then="dog.start(9); time.sleep(0.8)") == 7


@linux
def test_a_fork_has_a_watchdog_of_its_own() -> None:
    """A timer is not taken along; in a process namespace the child even has its parent's number."""
    assert isinstance(make_watchdog(), SystemTimer)
    assert ended(before="watchdog.make_watchdog()\nos.getpid = lambda: 1", fork="os.fork()") not in (0, 7)
