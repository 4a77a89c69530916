"""Heat on every machine: what the catalogue says clicks, cycles or blows is what the model does."""

from __future__ import annotations

import pytest

from dryerbench.air.dryer_body import DRY_ENOUGH, household_load
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import Fault, faults_of, pairs_of, read_fault
from dryerbench.family.heat import After, cold_heat, heat_ratings, pass_minutes
from dryerbench.family.machine import standard
from dryerbench.family.settings import SET_POINT, read_setting
from dryerbench.family.shelf import arrangement, machine_names

NAMES = machine_names()
BLOWN = {"cut-off-blown", "manual-tripped", "fuse-blown"}
HEAT_PAIRS = [(name, pair) for name in NAMES for pair in pairs_of(arrangement(name)) if pair[-1].name in BLOWN]


def after(made: Arrangement, words: str, *faults: Fault, minutes: float = 60.0) -> After:
    machine = standard(made)
    return pass_minutes(machine, faults, read_setting(words), cold_heat(machine, faults), minutes)


def opened(made: Arrangement, one: After, *kinds: str) -> int:
    return sum(one.opened(part.name) for part in made.of_kind(*kinds))


@pytest.mark.parametrize("name", NAMES)
def test_a_sound_machine_dries_a_load_and_its_limit_never_clicks(name: str) -> None:
    made = arrangement(name)
    one = after(made, f"run {made.heats[0]}")
    assert opened(made, one, "high limit", "cut-off", "manual cut-off", "thermal fuse") == 0
    assert one.heat.water < 0.35
    cycled = opened(made, one, "cycling thermostat") + one.opened(SET_POINT)
    assert cycled > 5 or name == "closet", "3 kW on a full load only just reaches the mark"


@pytest.mark.parametrize("name", [name for name in NAMES if arrangement(name).of_kind("cycling thermostat")])
def test_a_welded_thermostat_with_a_clean_vent_never_clicks_the_limit(name: str) -> None:
    made = arrangement(name)
    thermostat = made.of_kind("cycling thermostat")[0].name
    one = after(made, "run high", read_fault(f"cycling-welded@{thermostat}", made), minutes=90.0)
    assert opened(made, one, "high limit", "cut-off", "manual cut-off", "cycling thermostat") == 0
    assert one.setting.exhaust_celsius > (made.by_name[thermostat].numbers["opens"] - 32.0) / 1.8 + 5.0


@pytest.mark.parametrize("name", NAMES)
def test_a_restricted_vent_clicks_the_limit_blows_nothing_and_leaves_the_load_wetter(name: str) -> None:
    made = arrangement(name)
    sound, one = after(made, "run high"), after(made, "run high", read_fault("vent-restricted", made))
    assert opened(made, one, "high limit") > 10
    assert opened(made, one, "cut-off", "manual cut-off") == 0
    assert one.heat.water > sound.heat.water + 0.05
    assert one.joules < sound.joules


@pytest.mark.parametrize(
    ("name", "pair"), HEAT_PAIRS, ids=[f"{n}-{'-'.join(f.name for f in p)}" for n, p in HEAT_PAIRS]
)
def test_causes_make_their_effect_together_and_none_of_them_alone(name: str, pair: tuple[Fault, ...]) -> None:
    made = arrangement(name)
    *causes, effect = pair
    words = "stop high" if any(cause.name == "motor-contact-welded" for cause in causes) else "run high"
    assert after(made, words, *causes, minutes=120.0).opened(effect.on) == 1, "a one-shot part opens for good"
    for cause in causes:
        assert after(made, words, cause, minutes=120.0).opened(effect.on) == 0


def test_heat_pairs_are_on_every_machine_where_they_can_be() -> None:
    for name in NAMES:
        made = arrangement(name)
        there = {tuple(fault.name for fault in pair) for pair in pairs_of(made)}
        alone = len(made.of_kind("high limit")) == 1
        assert (("limit-stuck", "vent-restricted", "cut-off-blown") in there) == (
            alone and bool(made.of_kind("cut-off"))
        )
        fused = bool(made.of_kind("thermal fuse") and made.of_kind("cycling thermostat"))
        assert (("cycling-welded", "seals-leak", "fuse-blown") in there) == fused


@pytest.mark.parametrize("name", [n for n in NAMES if not arrangement(n).of_kind("heat relay")])
def test_a_welded_motor_contact_heats_with_the_drum_at_rest_until_the_limit_opens(name: str) -> None:
    made = arrangement(name)
    one = after(made, "stop high", read_fault("motor-contact-welded", made), minutes=20.0)
    assert opened(made, one, "high limit") >= 3
    assert opened(made, one, "cut-off", "manual cut-off") == 0
    assert after(made, "stop high", minutes=20.0).joules == 0.0


def test_one_limit_of_two_is_half_the_heat_and_one_stuck_is_guarded_by_the_other() -> None:
    made = arrangement("workshop")
    sound, half = (
        after(made, "run high", minutes=10.0),
        after(made, "run high", read_fault("limit-open-of-two@LimB", made), minutes=10.0),
    )
    assert half.joules == pytest.approx(sound.joules / 2.0, rel=0.05)
    stuck = [read_fault("limit-stuck@LimA", made), read_fault("vent-restricted", made)]
    assert opened(made, after(made, "run high", *stuck), "cut-off") == 0


def test_low_with_a_bias_heater_cycles_cooler_than_high() -> None:
    made = arrangement("cellar")
    warm = {words: after(made, words, minutes=75.0) for words in ("run high", "run low")}
    assert warm["run low"].opened("Cyc") > 5
    assert warm["run low"].joules < warm["run high"].joules
    marks = [heat_ratings(standard(made), watts).in_exhaust[0].opens for watts in (0.0, 2.5)]
    assert marks[0] - marks[1] == pytest.approx(20.0)


def test_every_heat_switch_is_one_that_heat_can_move() -> None:
    for name in NAMES:
        made = arrangement(name)
        ratings = heat_ratings(standard(made))
        names = {switch.name for switch in (*ratings.in_exhaust, *ratings.on_box)} - {SET_POINT}
        assert names == {part.name for part in made.parts if part.kind.feels and part.kind.throws}
        assert (SET_POINT in {switch.name for switch in ratings.in_exhaust}) == bool(made.set_points)
        assert {fault.name for fault in faults_of(made) if fault.air_lost} >= {"vent-restricted", "blower-slips"}


@pytest.mark.parametrize("name", [name for name in NAMES if name != "closet"])
def test_a_household_load_takes_35_to_60_minutes(name: str) -> None:
    """Common practice, no published source; the closet's 3 kW takes longer."""
    dry = DRY_ENOUGH * household_load().dry_kg
    made = arrangement(name)
    early, late = (after(made, f"run {made.heats[0]}", minutes=minutes).heat.water for minutes in (35.0, 60.0))
    assert early > dry > late
