"""What really happens: a motor that cannot start does not, a relay follows its coil, a breaker trips."""

from __future__ import annotations

import pytest

from dryerbench.family.faults import Fault, faults_of, read_fault
from dryerbench.family.machine import standard
from dryerbench.family.readings import coil_watts
from dryerbench.family.settings import read_setting, setting_names
from dryerbench.family.settling import Settled, settle, settle_all
from dryerbench.family.shelf import arrangement, machine_names


def settled(name: str, words: str, *faults: str) -> Settled:
    made = arrangement(name)
    return settle(standard(made), [read_fault(fault, made) for fault in faults], read_setting(words))


@pytest.mark.parametrize("name", machine_names())
def test_a_sound_machine_runs_and_heats_and_holds_its_breaker(name: str) -> None:
    made = arrangement(name)
    for heat in made.heats:
        one = settled(name, f"run {heat}")
        assert one.setting.running
        assert one.setting.breaker_on
        assert coil_watts(made, one.live) > 1000.0
    assert coil_watts(made, settled(name, "run air").live) < 1.0
    assert coil_watts(made, settled(name, f"stop {made.heats[0]}").live) < 1.0


@pytest.mark.parametrize(
    ("name", "fault", "words", "turns", "watts"),
    [
        ("pantry", "leg-2-lost", "run high", False, 0.0),  # motor on leg 2
        ("cellar", "leg-2-lost", "run high", True, 0.0),  # turns and is cold
        ("cellar", "leg-1-lost", "run high", False, 0.0),
        ("porch", "board-dead", "run high", False, 0.0),
        ("porch", "fuse-blown", "run high", False, 0.0),  # the fuse is ahead of the board: all dark
        ("garage", "heat-relay-welded@RelA", "run air", True, 5800.0),  # the second relay follows
        ("garage", "heat-relay-welded@RelA", "stop high", False, 0.0),
        ("garage", "relay-coil-open", "run high", True, 0.0),
        ("garage", "follower-welded", "run air", True, 0.0),
        ("cellar", "motor-contact-welded", "stop high", False, 5400.0),  # heat with the drum at rest
        ("cellar", "heat-contact-welded", "run air", True, 5400.0),
        ("cellar", "start-winding-open", "run high", False, 0.0),
        ("cellar", "hold-contact-open", "run high", False, 0.0),
        ("attic", "coil-contact-welded", "run low", True, 2743.0),
        ("cabin", "changeover-at-rest", "run high", True, 1321.0),
        ("cabin", "changeover-welded", "run low", True, 5284.0),
        ("workshop", "limit-open-of-two@LimB", "run high", True, 2851.0),
        ("hallway", "heat-relay-open@RelB", "run high", True, 3692.0),
        ("closet", "low-thermostat-open", "run low", True, 0.0),
        ("closet", "low-thermostat-open", "run high", True, 3064.0),
    ],
)
def test_what_a_fault_comes_to(name: str, fault: str, words: str, turns: bool, watts: float) -> None:
    one = settled(name, words, fault)
    assert one.setting.running == turns
    assert coil_watts(arrangement(name), one.live) == pytest.approx(watts, rel=0.06, abs=10.0)


def test_a_grounded_coil_trips_the_breaker_once_it_is_called() -> None:
    one = settled("cellar", "stop high", "coil-touches=0.05")
    assert one.happened == ("the breaker trips",)
    assert not one.setting.breaker_on
    assert abs(one.live.amps("breaker 1")) < 1e-9


def test_a_lost_neutral_throws_the_low_heat_through_the_motor() -> None:
    """Cabin on low: the heater and the motor are in series across both legs."""
    one = settled("cabin", "run low", "neutral-lost")
    volts = abs(one.live["Mot.r", "Mot.c"].volts)
    assert volts > 150.0 or not one.setting.running


def test_three_wires_and_a_lost_neutral_put_the_cabinet_at_120_volts() -> None:
    one = settled("cellar", "start high", "neutral-lost-three-wire")
    assert abs(one.live.at("G")) > 100.0


def test_many_cases_at_once_are_each_as_alone() -> None:
    made = arrangement("porch")
    machine = standard(made)
    cases: list[tuple[tuple[Fault, ...], str]] = [
        ((fault,), words) for fault in faults_of(made)[::4] for words in setting_names(made.heats)[::3]
    ]
    together = settle_all(machine, [(faults, read_setting(words)) for faults, words in cases])
    for (faults, words), one in zip(cases, together, strict=True):
        alone = settle(machine, faults, read_setting(words))
        assert (alone.setting, alone.happened) == (one.setting, one.happened)
        assert alone.live.volts == pytest.approx(one.live.volts, abs=1e-6)
