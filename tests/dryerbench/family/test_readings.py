"""Every number in a machine's file is worked out again by the solver, and some of them by hand."""

from __future__ import annotations

import cmath
import math
import re

import pytest

from dryerbench.circuits.circuit import CircuitError
from dryerbench.circuits.solver import solve
from dryerbench.family.machine import standard
from dryerbench.family.readings import (
    air_numbers,
    circuit_in,
    coil_watts,
    legs_at,
    legs_with_motor,
    on_paper,
    plain_value,
    power_of,
    read_state,
    shown_ohms,
    worked_out,
)
from dryerbench.family.settings import SettingError
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.family.wiring import wire_up

NAMES = machine_names()


@pytest.mark.parametrize("name", NAMES)
def test_the_sheet_and_what_is_worked_out(name: str) -> None:
    made = arrangement(name)
    assert len(made.sheet) >= 9
    for one in (*made.sheet, *made.worked_out):
        assert worked_out(made, one) == one.value, f"{name}, line {one.line}: {one}"


@pytest.mark.parametrize("name", NAMES)
def test_watts_amps_legs_and_what_is_still_hot(name: str) -> None:
    made = arrangement(name)
    for power in made.power:
        watts, amps = power_of(made, power.heat, power.supply_volts)
        assert (f"{watts:.0f} W", f"{amps:.1f} A") == (power.watts, power.amps)
    assert tuple((leg, f"{amps:.1f} A") for leg, amps in legs_with_motor(made).items()) == made.legs
    worst = legs_with_motor(made, 0.95)
    assert f"{max(worst['L1'], worst['L2']):.1f} A" == made.worst_leg
    for hot in made.still_hot:
        assert legs_at(made, hot.where, hot.state) == hot.legs, hot
    assert tuple(round(value) for value in air_numbers(made)) == (
        made.air.after_coil,
        made.air.limit_under,
        made.air.cutoff_under,
    )


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_hot_at_the_heater_or_the_windings_with_all_off(name: str) -> None:
    made = arrangement(name)
    assert legs_at(made, "heater", "plugged") == legs_at(made, "windings", "plugged") == "nothing"


@pytest.mark.parametrize("name", NAMES)
def test_no_leg_takes_more_than_its_breaker(name: str) -> None:
    """The first lessons' machine is the one that does: three coils of 27 ohm and the motor are 30.2 A."""
    worst = float(arrangement(name).worst_leg.removesuffix(" A"))
    assert (worst > 30.0) == (name == "schoolroom")


# --- by hand -----------------------------------------------------------------------------------------------------

HAND_OHMS = {
    "alcove": {"high": 28.8 / 3, "low": 28.8 / 3},
    "attic": {"high": 10.5, "low": 42.0},
    "cabin": {"high": 10.9},
    "cellar": {"high": 10.6, "low": 10.6},
    "closet": {"high": 18.8, "low": 18.8},
    "garage": {"high": 9.8, "low": 9.8},
    "hallway": {"high": 1 / (2 / 31.2 + 1 / 25.6), "mid": 15.6, "low": 25.6},
    "landing": {"high": 8.5},
    "mudroom": {"high": 1 / (1 / 24.6 + 1 / 18.4), "low": 24.6},
    "pantry": {"high": 11.0, "low": 22.0},
    "porch": {"high": 11.2, "low": 11.2},
    "schoolroom": {"high": 9.0, "low": 9.0},
    "workshop": {"high": 10.1, "low": 10.1},
}


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(("supply", "volts"), [(240, 240.0), (208, 120.0 * math.sqrt(3.0))])
def test_watts_are_volts_squared_over_ohms(name: str, supply: int, volts: float) -> None:
    for heat, ohms in HAND_OHMS[name].items():
        watts, amps = power_of(arrangement(name), heat, supply)
        assert watts == pytest.approx(volts**2 / ohms, rel=1e-5)
        assert amps == pytest.approx(volts / ohms, rel=1e-5)


def test_low_heat_on_120_volts_is_a_quarter_and_does_not_care_for_208() -> None:
    made = arrangement("cabin")
    assert power_of(made, "low", 240)[0] == pytest.approx(120.0**2 / 10.9, rel=1e-5)
    assert power_of(made, "low", 208)[0] == pytest.approx(120.0**2 / 10.9, rel=1e-5)


@pytest.mark.parametrize("name", NAMES)
def test_208_volts_make_three_quarters(name: str) -> None:
    """0.7511 with 208 V for 207.846 V; the share itself is (√3/2)² (checks.md 3)."""
    made = arrangement(name)
    assert power_of(made, "high", 208)[0] / power_of(made, "high", 240)[0] == pytest.approx(0.75, rel=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_legs_are_added_with_their_phase(name: str) -> None:
    """I_leg = V_ll/R + V/Z of motor and small loads on that leg; the neutral carries these alone."""
    made = arrangement(name)
    second = cmath.rect(120.0, math.radians(-120.0 if made.made_for == 208 else 180.0))
    ohms = HAND_OHMS[name]["high"]
    heater = {"L1": (120.0 - second) / ohms, "L2": (second - 120.0) / ohms}
    motor = made.motor
    turns = 2j * math.pi * 60.0
    leakage, magnetizing = (motor.numbers.get(key, usual) for key, usual in (("leakage", 8e-3), ("magnetizing", 0.106)))
    rotor = motor.numbers.get("rotor", 30.0)
    winding = motor.numbers["run"] + turns * leakage + 1 / (1 / rotor + 1 / (turns * magnetizing))
    small = {"bias heater": "low", "lamp": "door", "relay coil": "", "dial motor": "", "board": ""}
    loads = {"L1": 0j, "L2": 0j}
    loads[MOTOR_LEG[name]] += 1.0 / winding
    for part in made.of_kind(*small):
        if part.kind.name in ("relay coil", "dial motor", "board") and name != "landing":
            loads[SMALL_LEG.get((name, part.name), MOTOR_LEG[name])] += 1.0 / part.numbers["ohms"]
    expected = {leg: abs(heater[leg] + volts * loads[leg]) for leg, volts in (("L1", 120.0 + 0j), ("L2", second))}
    expected["N"] = abs(120.0 * loads["L1"] + second * loads["L2"])
    assert legs_with_motor(made) == pytest.approx(expected, rel=1e-5)


MOTOR_LEG = dict.fromkeys(NAMES, "L1") | dict.fromkeys(("pantry", "closet", "cabin", "workshop"), "L2")
SMALL_LEG = {("pantry", "Brd"): "L1"}


# --- words -------------------------------------------------------------------------------------------------------


def test_states_are_read() -> None:
    state = read_state("run high, Cut open, Cen shut, N lost, 208 V, door open")
    assert (state.opened, state.shut, state.lost, state.volts) == (("Cut",), ("Cen",), ("N",), 208)
    assert state.setting.running
    assert not state.setting.door_closed


@pytest.mark.parametrize("words", ["boiling", "run boiling", "off, cold", "run high, L4 lost", "run high air"])
def test_a_state_that_does_not_exist(words: str) -> None:
    with pytest.raises(SettingError, match=re.escape("'")):
        read_state(words)


def test_a_part_that_the_machine_does_not_have() -> None:
    with pytest.raises(CircuitError, match="no part named 'Belt'"):
        circuit_in(arrangement("cellar"), "off, Belt open")


def test_ohms_have_the_digits_of_the_sheets() -> None:
    shown = [shown_ohms(ohms) for ohms in (0.04, 10.55, 640.2, 5200.0, 1.2e6, 5e7)]
    assert shown == ["0.0 ohm", "10.6 ohm", "640 ohm", "5.20 kohm", "1.20 Mohm", "OL"]
    assert plain_value("5.20 kohm") == 5200.0
    assert plain_value("OL") == math.inf


@pytest.mark.parametrize("name", NAMES)
def test_a_real_machine_reads_as_its_sheet_but_for_its_wires(name: str) -> None:
    """Contacts, wires and cord add tenths of an ohm and take some volts; nothing else may differ."""
    made = arrangement(name)
    for one in made.sheet:
        real = plain_value(worked_out(made, one, standard(made)))
        paper = plain_value(one.value)
        assert real == pytest.approx(paper, rel=0.01, abs=0.35), one


@pytest.mark.parametrize("name", NAMES)
def test_a_real_machine_makes_a_little_less_heat(name: str) -> None:
    made = arrangement(name)
    paper = coil_watts(made, solve(circuit_in(made, "run high", on_paper(made))))
    real = coil_watts(made, solve(circuit_in(made, "run high", standard(made))))
    assert 0.92 * paper < real < paper


def test_equal_questions_are_wired_once() -> None:
    machine = standard(arrangement("cellar"))
    setting = read_state("run high").setting
    assert wire_up(machine, setting) is wire_up(machine, setting)
