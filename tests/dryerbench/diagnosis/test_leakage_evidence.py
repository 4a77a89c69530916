"""Leakage in mA counts as evidence: on the lessons' machine, on another one, and against what cannot leak so."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import Fault
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.hypotheses import Hypotheses
from dryerbench.diagnosis.machine_trail import evidence_on, found_out
from dryerbench.diagnosis.paths import from_trail
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement

CLAMPED = ("unplug", "fit_splitter", "plug_in", "ask_heat", "press_start")


def clamped(machine: Machine, *faults: str) -> Bench:
    bench = Bench(machine, faults)
    for act in CLAMPED:
        bench.do(act)
    bench.do("leakage")
    return bench


@pytest.mark.parametrize("ohms", [20_000, 33_000, 70_000])
def test_on_the_lessons_machine(ohms: int) -> None:
    leaky, sound = clamped(Machine(), f"leakage-to-case={ohms}"), clamped(Machine())
    readings = Hypotheses(Machine(), leaky.trail)
    assert readings.allow_any("leakage-to-case")
    assert not readings.allow_any("sound")
    assert not readings.allow_any("high-limit-open")
    clear = Hypotheses(Machine(), sound.trail)
    assert clear.allow_any("sound")
    assert not clear.allow([Fault("leakage-to-case", float(ohms))])
    before, found, none = (
        from_trail(Machine(), trail).odds()["leakage-to-case"] for trail in ([], leaky.trail, sound.trail)
    )
    assert found > 20 * before
    assert none < 0.2 * before


def test_on_another_machine() -> None:
    machine = on_the_bench(drawn_machine(arrangement("garage"), Stream("test/leak"), "leak"))
    leaky, sound = clamped(machine, "moisture-leak@p-q=20000"), clamped(machine)
    assert [one.mode for one, _ in found_out(arrangement("garage"), leaky.trail)] == ["leakage"]
    share = {
        name: sum(odds for names, odds in evidence_on(machine, bench.trail).odds().items() if "moisture" in names[0])
        for name, bench in {"leaky": leaky, "sound": sound, "untouched": Bench(machine)}.items()
    }
    assert share["leaky"] > 0.5
    assert share["sound"] < 0.2 * share["untouched"]
