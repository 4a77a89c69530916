"""A class from its start to its end, as short as can be: two seats, a hand-in of each, marks, feedback, a kill.

It is a step of its own in ``.ci/run``; the whole class and its attacks run on request (see DEVELOPERS.md).
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from legtoleg.classroom.supervisor import seats_of

pytestmark = [
    pytest.mark.server,
    pytest.mark.slow,
    pytest.mark.jail,
    pytest.mark.skipif("LEGTOLEG_CLASS" not in os.environ, reason="set LEGTOLEG_CLASS=1, run it alone: its seats are "
                       "processes that other tests would take for left behind"),
]  # fmt: skip
LESSON = "03_heater_power"
WORK = r"""
import os
from dryerbench import *
from dryerbench.notebook.class_link import class_link
card = job_card({lesson!r})
show_one_element()
page = open({lesson!r} + '.ipynb', encoding='utf-8').read()
typed = page.replace(r'breaker_limit = \"\"', r'breaker_limit = \"30 A\"')
assert typed != page
receipt = class_link().hand_in({lesson!r}, typed.encode())
print(__import__('json').dumps([card.apprentice, os.getuid(), os.listdir('/home'), receipt.number, receipt.sha256]))
"""


def test_two_seats_hand_in_are_marked_and_get_feedback_through_a_kill(
    own_class: Callable[..., Any], load: Callable[[str], ModuleType]
) -> None:
    running = load("test_running_class")
    one = own_class()
    received = one.folder / "received"

    async def work() -> None:
        users = set()
        for who in ("ada-01", "bo-02"):
            visitor = await running.ready(one, who)
            lines = (await visitor.run(WORK.format(lesson=LESSON))).strip().splitlines()
            name, user, homes, number, mark = json.loads(lines[-1])
            assert (name, homes, number) == (who, ["seat"], 1)
            assert (received / who / f"{LESSON}-{mark[:16]}.ipynb").is_file()
            users.add(user)
            os.kill(one.pid_of("service"), signal.SIGKILL)  # what was handed in is on the disk
        assert len(users) == 2
        assert min(users) >= 70_000

    running.asked(one, work)
    command = [sys.executable, "-m", "legtoleg.classroom.desk_work", str(one.folder), "mark"]
    marked = subprocess.run(command, check=False, capture_output=True, text=True, timeout=120)
    assert "2 graded" in marked.stdout, marked.stdout + marked.stderr
    for who in ("ada-01", "bo-02"):
        pages = [path.name for path in (one.folder / "feedback" / who).rglob("*.html")]
        assert any(LESSON in name for name in pages), pages
    assert one.end() == 0
    assert seats_of(one.room) == []
    until = time.monotonic() + 10
    while left_of(one.folder) and time.monotonic() < until:
        time.sleep(0.1)
    assert left_of(one.folder) == []


def left_of(folder: Path) -> list[str]:
    """Return the commands of processes that were started for the class in ``folder`` and still run."""
    commands = []
    for place in Path("/proc").glob("[0-9]*/cmdline"):
        try:
            words = place.read_bytes().replace(b"\0", b" ").decode("utf-8", "replace")
        except OSError:
            continue
        if str(folder) in words and int(place.parent.name) != os.getpid():
            commands.append(words[:200])
    return commands
