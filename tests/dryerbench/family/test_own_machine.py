"""A machine of one's own is the same again, keeps its sheet's tolerances, and its switches keep their order."""

from __future__ import annotations

import pytest

from dryerbench.core.random_stream import stream_for
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.machine import Machine, standard
from dryerbench.family.own_machine import own_machine, sheet_machine
from dryerbench.family.readings import power_of
from dryerbench.family.shelf import arrangement, machine_names

NAMES = machine_names()


def order_of_switches(machine: Machine, slack: float) -> None:
    """Cycling below the limit's reset, that below its mark, that below the cut-off; the fuse well above cycling."""
    made = machine.arrangement
    mark = machine.number
    cycling = [mark(part.name, "opens") for part in made.of_kind("cycling thermostat", "low thermostat")]
    first = max(cycling, default=max(made.set_points, default=0.0) + 5.0)
    for limit in made.of_kind("high limit"):
        assert first + 20.0 - slack < mark(limit.name, "closes") < mark(limit.name, "opens")
        for cutoff in made.of_kind("cut-off", "manual cut-off"):
            assert mark(limit.name, "opens") < mark(cutoff.name, "opens") - 50.0 + slack
    for fuse in made.of_kind("thermal fuse"):
        assert first < mark(fuse.name, "opens") - 30.0 + slack


@pytest.mark.parametrize("name", NAMES)
def test_switches_keep_their_order_on_the_sheet_and_on_machines_of_ones_own(name: str) -> None:
    made = arrangement(name)
    order_of_switches(standard(made), 0.0)
    for number in range(60):
        order_of_switches(own_machine(made, stream_for(f"apprentice-{number}", name), "one").machine, 20.0)


@pytest.mark.parametrize("name", NAMES)
def test_a_clean_vent_never_clicks_the_limit(name: str) -> None:
    """Air after the coil, 70 + 3.412·W/(1.08·cfm) °F, stays under the reset of the limit (its low end, -8 °F)."""
    made = arrangement(name)
    watts = power_of(made, made.heats[0], made.made_for)[0]
    after = 70.0 + 3.412 * watts / (1.08 * made.air.cfm)
    for limit in made.of_kind("high limit"):
        assert after < limit.numbers["closes"] - 8.0
        assert 0.45 < made.air.limit_under / made.air.cfm < 0.85


def one(made: Arrangement, who: str):
    return own_machine(made, stream_for(who, "bench"), who)


@pytest.mark.parametrize("name", NAMES)
def test_the_same_person_has_the_same_machine(name: str) -> None:
    made = arrangement(name)
    ada, again, ben = (one(made, who) for who in ("ada-01", "ada-01", "ben-02"))
    assert ada.machine == again.machine
    assert (ada.seats, ada.marks) == (again.seats, again.marks)
    assert (ada.machine.own, ada.marks) != (ben.machine.own, ben.marks)
    assert ada.covers == made.covers


@pytest.mark.parametrize("name", NAMES)
def test_numbers_stay_within_what_the_sheet_allows(name: str) -> None:
    made = arrangement(name)
    for number in range(40):
        machine = one(made, f"apprentice-{number}").machine
        for coil in made.coils:
            assert machine.number(coil.name, "ohms") == pytest.approx(coil.ohms, rel=0.0505)
        for key in ("run", "start"):
            assert machine.number("Mot", key) == pytest.approx(made.motor.numbers[key], rel=0.1005)
        assert 117.0 <= machine.site.leg_volts <= 123.0
        assert (machine.site.supply == "wye") == (made.made_for == 208)


def test_the_sheets_machine_is_the_file() -> None:
    made = arrangement("pantry")
    plain = sheet_machine(made)
    assert plain.machine == standard(made)
    assert plain.marks == tuple(wire.mark for wire in made.wires)
    assert [plain.seats[f"Box.{letter}"].column for letter in "pqr"] == [1, 2, 3]
