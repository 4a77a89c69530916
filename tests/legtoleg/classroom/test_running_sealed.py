"""A supervised test in a class that runs: from jailed seats, through kills of its service."""

from __future__ import annotations

import json
import os
import signal
from collections.abc import Callable
from types import ModuleType
from typing import Any

import pytest

from legtoleg.classroom.sealed_book import SealedBook
from legtoleg.classroom.sealed_opening import close_all, open_calls

pytestmark = [
    pytest.mark.server,
    pytest.mark.slow,
    pytest.mark.jail,
    pytest.mark.skipif("LEGTOLEG_CLASS" not in os.environ, reason="set LEGTOLEG_CLASS=1 and run it alone"),
]
WORK = """
from dryerbench.notebook.supervised import supervised_bench
bench = supervised_bench({test!r}, "call-1")
for act in {acts!r}:
    bench.do(act)
print(len(bench.trail), bench.volts("plug-1", "plug-2").shown)
"""
REACH = """
import glob, json, os, socket
found = {}
for place in ("/run/seat", {cohort!r}, "/root", "/run/leg-to-leg", "/tmp", os.environ["HOME"]):
    there = glob.glob(place + "/**", recursive=True)
    found[place] = [path for path in there if "/secrets/" in path or "supervised.sqlite" in path]
folder = os.path.dirname(os.environ["LEGTOLEG_CLASS"])
try:
    os.remove(os.path.join(folder, "bench"))
    found["removed"] = True
except OSError:
    found["removed"] = False
print(json.dumps(found))
"""


def test_a_supervised_test_from_two_seats_through_kills(class_of_three: Any, load: Callable[[str], ModuleType]) -> None:
    running = load("test_running_class")
    close_all(class_of_three.room)
    test = open_calls(class_of_three.room, ["ada-01", "bo-02"], 60).test
    book = SealedBook.of(class_of_three.room)

    async def work() -> None:
        ada = await running.ready(class_of_three, "ada-01")
        bo = await running.ready(class_of_three, "bo-02")
        first = await ada.run(WORK.format(test=test, acts=("unplug", "prove_meter")))
        assert first.strip().startswith("2 0.0"), first
        os.kill(class_of_three.pid_of("bench"), signal.SIGKILL)
        second = await ada.run(WORK.format(test=test, acts=("test_dead", "cover_off")))
        assert second.strip().startswith("5 0.0"), second
        told = await bo.run(REACH.replace("{cohort!r}", repr(str(class_of_three.folder))))
        assert told.strip().startswith("{"), told
        reach = json.loads(told)
        assert reach.pop("removed") is False
        assert all(found == [] for found in reach.values()), reach
        said = await bo.run(WORK.format(test=test, acts=("unplug",)))
        assert said.strip().startswith("1 "), said

    running.asked(class_of_three, work)
    assert [one.act["act"] for one in book.acts(test, "ada-01", "call-1")] == [
        "unplug", "prove_meter", "probe", "test_dead", "cover_off", "probe"
    ]  # fmt: skip
    assert len(book.acts(test, "bo-02", "call-1")) == 2
