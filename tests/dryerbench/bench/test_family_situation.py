"""One meter for every machine: a settled machine of the family is read as the bench's own is."""

from __future__ import annotations

import pytest

from dryerbench.bench.meter import Meter
from dryerbench.bench.situation import situation_of
from dryerbench.family.faults import read_fault
from dryerbench.family.machine import standard
from dryerbench.family.settings import read_setting
from dryerbench.family.settling import settle
from dryerbench.family.shelf import arrangement

METER = Meter()


def situation(name: str, words: str, *faults: str):
    made = arrangement(name)
    return situation_of(settle(standard(made), [read_fault(fault, made) for fault in faults], read_setting(words)))


def test_ohms_volts_and_amps() -> None:
    dead = METER.read(situation("cellar", "box free"), "ohms", "Box.p", "Box.q")
    assert dead.low <= 10.6 <= dead.high
    heating = situation("cellar", "run high")
    live = METER.read(heating, "volts", "Box.p", "Box.q")
    assert live.low <= abs(heating.live["Box.p", "Box.q"].volts) <= live.high
    assert 225.0 < live.low < 240.0
    clamp = METER.clamp(situation("cellar", "run high"), ("cord 1",), "cord 1")
    assert clamp.value == pytest.approx(26.0, abs=1.0)


def test_the_same_reading_is_the_same_again_and_another_machine_reads_otherwise() -> None:
    shown = [METER.read(situation(name, "run high"), "volts", "L1", "L2").shown for name in ("cellar", "cellar")]
    assert shown[0] == shown[1]
    assert situation("cellar", "run high").tag != situation("attic", "run high").tag
    assert situation("cellar", "run high").tag != situation("cellar", "run high", "cut-off-blown").tag


def test_ohms_on_a_live_machine_are_spoiled() -> None:
    assert "fuse" in METER.read(situation("porch", "plugged"), "ohms", "L1", "L2").trouble


def test_the_cabinet_of_a_three_wire_machine_is_live_with_the_neutral_lost() -> None:
    one = situation("attic", "start high", "neutral-lost-three-wire")
    assert one.case_volts > 100.0
    assert one.is_live("case", "earth")
    assert not situation("attic", "plugged").is_live("case", "earth")
