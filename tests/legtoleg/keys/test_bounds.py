"""Every bound of the keys at its edge: what just counts, and what just does not."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from dryerbench.bench.access import replaceable
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue
from dryerbench.bench.machine import on_the_bench
from dryerbench.bench.meter import Meter
from dryerbench.bench.meter_ranges import ranges
from dryerbench.bench.situation import TOUCH_VOLTS
from dryerbench.course.bench_card import BenchCard, machine_of
from dryerbench.diagnosis.machine_hand_over import hands_of
from dryerbench.family.machine import standard
from dryerbench.family.shelf import arrangement
from dryerbench.registry import sheet
from dryerbench.topics.open_and_close.models import jaw_off, predicted
from legtoleg.keys import (
    call_to_close,
    heat_switches,
    made_dead,
    open_and_close,
    path_to_case,
    singled_out,
    tracing_the_circuit,
    trusting_the_meter,
    two_legs,
)
from legtoleg.keys.answer_key import references
from legtoleg.keys.dead_readings import true_ohms

WHO = "someone-1"
SAFE = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off")


def card(lesson: str) -> Any:
    return sheet(lesson).card(WHO)


def right(lesson: str, name: str, on: Any) -> frozenset[str]:
    reference: Any = next(one for one in references(lesson) if one.question == name)
    return reference.right(on)


# --- 01 ---------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("highest", "before", "after", "verdict"),
    [
        (TOUCH_VOLTS, 120.0, 120.0, "dead"),
        (TOUCH_VOLTS + 0.1, 120.0, 120.0, "live"),
        (0.0, TOUCH_VOLTS, 120.0, "unproved"),
        (0.0, 120.0, TOUCH_VOLTS, "unproved"),
        (0.0, TOUCH_VOLTS + 0.1, 120.0, "dead"),
        (120.0, 120.0, 0.0, "live"),
    ],
)
def test_dead_live_or_unproved(highest: float, before: float, after: float, verdict: str) -> None:
    on = replace(card("01_made_dead"), tested=(0.0, highest, 0.0), source_before=before, source_after=after)
    assert right("01_made_dead", "test_verdict", on) == {verdict}


@pytest.mark.parametrize(("ohms", "row"), [(1_000_000, "0"), (200, "300")])
def test_the_effect_is_the_last_row_that_the_milliamps_reach(ohms: int, row: str) -> None:
    assert right("01_made_dead", "body_effect", replace(card("01_made_dead"), person_ohms=ohms)) == {row}


def test_a_row_of_the_table_is_reached_by_its_very_number(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(made_dead, "body_milliamps", lambda *_: 10.0)
    assert right("01_made_dead", "body_effect", card("01_made_dead")) == {"10"}


def test_nothing_felt_is_another_mistake_than_the_wrong_row() -> None:
    slips = made_dead._effect_slips()
    assert {key for key, code in slips.items() if code == "underrated_shock"} == {"0"}
    assert set(slips.values()) == {"underrated_shock", "other_row"}


# --- 02 ---------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cord", "both", "none"),
    [("four-wire", "strap_on_four", "cord_not_counted"), ("three-wire", "cord_not_counted", "strap_off_three")],
)
def test_the_slips_of_the_strap(cord: str, both: str, none: str) -> None:
    found = next(one for one in (sheet("02_two_legs").card(f"someone-{n}") for n in range(20)) if one.cord == cord)
    slips = {"on": "strap_on_four", "off": "strap_off_three", "both": both, "none": none}
    assert two_legs._strap_slips(found) == slips


def checked(*acts: str | tuple[str, dict[str, Any]]) -> Bench:
    bench = Bench()
    for act in acts:
        name, given = (act, {}) if isinstance(act, str) else act
        bench.do(name, **given)
    return bench


LOW: tuple[str, dict[str, Any]] = ("set_dial", {"mode": "low-impedance"})
READ: tuple[str, dict[str, Any]] = ("probe", {"a": "outlet-1", "b": "outlet-2"})


@pytest.mark.parametrize(
    ("acts", "geared", "before", "after"),
    [
        (("gear_on", "unplug", "prove_meter", LOW, READ, "prove_meter"), True, True, True),
        (("gear_on", "unplug", "prove_meter", LOW, READ, "prove_meter", "gear_off", "gear_on"), True, True, True),
        (("unplug", LOW, READ, "gear_on", "prove_meter"), False, False, True),
        (("gear_on", "unplug", "prove_meter", LOW, READ), True, True, False),
        (("gear_on", "unplug", LOW, READ, "prove_meter", READ), True, False, False),
        (("gear_on", "unplug", "prove_meter"), False, False, False),
        ((), False, False, False),
    ],
)
def test_gloves_and_proofs_stand_on_the_right_side_of_the_readings(
    acts: Any, geared: bool, before: bool, after: bool
) -> None:
    bench = checked(*acts)
    assert (two_legs._geared(bench), two_legs._proved_before(bench), two_legs._proved_after(bench)) == (
        geared, before, after,
    )  # fmt: skip


def test_every_pair_of_slots_is_read_in_the_low_impedance_setting() -> None:
    pairs = [("probe", {"a": f"outlet-{a}", "b": f"outlet-{b}"}) for a, b in ("12", "1N", "2N")]
    for mode, read in (("low-impedance", True), ("volts", False)):
        bench = checked("gear_on", "unplug", ("set_dial", {"mode": mode}), *pairs)
        assert two_legs._all_pairs(bench) is read
    assert not two_legs._all_pairs(checked("gear_on", "unplug", LOW, *pairs[:2]))


def test_the_band_of_a_live_pair_is_the_meter_s_and_nothing_is_up_to_three_volts() -> None:
    bench = checked("unplug")
    scale = ranges("low-impedance")[0]
    found = two_legs._expected(bench, ("outlet-1", "outlet-2"))
    volts = bench.meter.loaded_volts(two_legs.situation_on(bench).live["outlet-1", "outlet-2"], "low-impedance")
    assert found.low * (1 + scale.percent / 100) + scale.counts * scale.resolution == pytest.approx(volts)
    assert found.high * (1 - scale.percent / 100) - scale.counts * scale.resolution == pytest.approx(volts)
    lost = Bench(faults=["lost-leg-1"])
    lost.do("unplug")
    nothing = two_legs._expected(lost, ("outlet-1", "outlet-N"))
    assert (nothing.low, nothing.high) == (0.0, 3.0)
    assert nothing.slips
    assert nothing.slips["phantom_read"] > 3.0


# --- 04, 05, 07 -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("still", "verdict"), [(TOUCH_VOLTS, "on"), (TOUCH_VOLTS + 0.1, "stop")])
def test_volts_that_stay_stop_the_work(still: float, verdict: str) -> None:
    on = replace(card("04_trusting_the_meter"), still_volts=still)
    assert right("04_trusting_the_meter", "still_there", on) == {verdict}


@pytest.mark.parametrize(("loaded", "phantom"), [(9.9, {"half"}), (10.0, set()), (99.0, set())])
def test_a_phantom_falls_below_a_tenth(loaded: float, phantom: set[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trusting_the_meter, "read_twice", lambda _: {"half": (100.0, loaded), "leg": (120.0, 119.4)})
    assert right("04_trusting_the_meter", "which_phantom", card("04_trusting_the_meter")) == phantom


@pytest.mark.parametrize(
    ("reads", "asks_for"), [("999 Ω", "replace"), ("1000 Ω", "find"), ("2 MΩ", "find"), ("OL", "close")]
)
def test_metal_ends_at_a_thousand_ohms(reads: str, asks_for: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(path_to_case, "to_case_of", lambda _: reads)
    assert right("05_path_to_case", "number_to_case", card("05_path_to_case")) == {asks_for}


@pytest.mark.parametrize(("amps", "ends"), [(40.5, "nothing"), (40.51, "breaker")])
def test_a_breaker_of_thirty_amps_trips_above_what_it_holds(
    amps: float, ends: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """1.35 times its rating, as the bench's breaker does."""
    monkeypatch.setattr(path_to_case, "amps_to_case", lambda _: amps)
    touching = path_to_case.touching_of(card("05_path_to_case"))
    monkeypatch.setattr(path_to_case, "touching_of", lambda _: replace(touching, drum_turns=True, bonded=True))
    assert right("05_path_to_case", "will_it_stop", card("05_path_to_case")) == {ends}


def test_a_drum_that_stands_still_comes_before_a_bond_that_is_off(monkeypatch: pytest.MonkeyPatch) -> None:
    touching = path_to_case.touching_of(card("05_path_to_case"))
    for drum_turns, ends in ((False, "motor"), (True, "bond")):
        there = replace(touching, drum_turns=drum_turns, bonded=False)
        monkeypatch.setattr(path_to_case, "touching_of", lambda _, there=there: there)
        assert right("05_path_to_case", "will_it_stop", card("05_path_to_case")) == {ends}


@pytest.mark.parametrize(("volts", "traced"), [(1.9, "cycling-open"), (2.0, "cut-off-blown")])
def test_nothing_along_the_line_is_below_two_volts(volts: float, traced: str) -> None:
    read = [("L2 to L1", "", 240.0), ("L2 to H2", "", 240.0), ("L2 to H4", "", volts), ("L2 to H6", "", 0.0)]
    on = replace(card("07_tracing_the_circuit"), live=tuple(read))
    assert right("07_tracing_the_circuit", "traced_open", on) == {traced}


def test_a_predicted_reading_may_be_three_percent_off_or_two_volts() -> None:
    on = replace(card("07_tracing_the_circuit"), supply_volts=240.0, planned_open="cycling-open")
    rows = tracing_the_circuit._along(on)
    assert (rows["L2-H2"].low, rows["L2-H2"].high) == (pytest.approx(232.8), pytest.approx(247.2))
    for dark in ("L2-H4", "L2-H6", "L2-H8"):
        assert (rows[dark].low, rows[dark].high) == (0.0, 2.0)
        assert rows[dark].slips == {"line_turned_round": 240.0, "one_leg_along_the_line": 120.0}
    assert rows["L2-H2"].slips == {"line_turned_round": 0.0, "one_leg_along_the_line": 120.0}


def test_what_counts_as_shown_is_ninety_eight_in_a_hundred(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[float] = []

    class Told:
        def singled_out(self, odds: float) -> list[str]:
            asked.append(odds)
            return ["cut-off-blown"]

    monkeypatch.setattr(singled_out, "from_trail", lambda *_: Told())
    assert singled_out.singled_out(Bench(), "cut-off-blown")
    assert not singled_out.singled_out(Bench(), "high-limit-open")
    assert asked == [0.98, 0.98]


def test_dead_ohms_are_those_of_an_unplugged_machine() -> None:
    """Plugged in, the house joins neutral and ground at the panel."""
    on = next(
        one for one in (sheet("05_path_to_case").card(f"someone-{n}") for n in range(20)) if one.cord == "four-wire"
    )
    assert isinstance(on, BenchCard)
    assert true_ohms(on, "N", "case") > 1e6


# --- 06 ---------------------------------------------------------------------------------------------------------------


def warmed(
    *faults: str,
    pair: tuple[str, str],
    celsius: float,
    mode: str = "ohms",
    wires: tuple[str, ...] = ("wire H3", "wire H7"),
) -> Bench:
    bench = Bench(faults=faults)
    for act in SAFE:
        bench.do(act)
    for wire in ("wire H3", "wire H7", "wire T0", "wire T1", "wire T2", "wire T3"):
        bench.do("pull_wire", wire=wire)
    bench.do("warm_parts", celsius=celsius)
    getattr(bench, mode)(*pair)
    return bench


@pytest.mark.parametrize(("fault", "key", "pair", "hot"), [
    ("cycling-welded", "thermostat", ("H3", "H4"), 73.0), ("high-limit-stuck", "limit", ("H8", "H7"), 127.0),
])  # fmt: skip
def test_a_switch_that_stays_closed_is_shown_hot_and_by_a_number(
    fault: str, key: str, pair: tuple[str, str], hot: float
) -> None:
    assert heat_switches.cause_shown(warmed(fault, pair=pair, celsius=hot), key)
    assert not heat_switches.cause_shown(warmed(fault, pair=pair, celsius=hot - 0.5), key)
    assert not heat_switches.cause_shown(warmed(fault, pair=pair, celsius=hot, mode="continuity"), key)
    assert not heat_switches.cause_shown(warmed(pair=pair, celsius=hot + 20), key)
    for fact, value in (("other_path", True),):
        bench = warmed(fault, pair=pair, celsius=hot)
        bench.trail[-1]["facts"][fact] = value
        assert not heat_switches.cause_shown(bench, key)
    for ohms, shown in ((heat_switches.CLOSED_OHMS, True), (heat_switches.CLOSED_OHMS + 0.1, False)):
        bench = warmed(fault, pair=pair, celsius=hot)
        bench.trail[-1]["reading"]["value"] = ohms
        assert heat_switches.cause_shown(bench, key) is shown


def cleared(*points: str, thermostat: bool = True, limit: bool = True, faults: tuple[str, ...] = ()) -> Bench:
    bench = Bench(faults=faults)
    for act in SAFE:
        bench.do(act)
    for wire in ("wire H3", "wire H7", "wire T0", "wire T1", "wire T2", "wire T3"):
        bench.do("pull_wire", wire=wire)
    for point in points:
        bench.ohms(point, "case")
    for celsius, pair, wanted in ((80, ("H3", "H4"), thermostat), (140, ("H7", "H8"), limit)):
        bench.do("warm_parts", celsius=celsius)
        if wanted:
            bench.ohms(*pair)
    return bench


@pytest.mark.parametrize(
    ("points", "how", "shown"),
    [
        (("T0",), {}, True),
        (("T1", "T2", "T3"), {}, True),
        (("T1", "T2"), {}, False),
        (("T2", "T3"), {}, False),
        ((), {}, False),
        (("T0",), {"thermostat": False}, False),
        (("T0",), {"limit": False}, False),
        (("T0",), {"faults": ("element-1-grounded=0.4",)}, False),
        (("T0",), {"faults": ("cycling-welded",)}, False),
    ],
)
def test_the_air_is_the_cause_once_all_the_rest_is_cleared(points: Any, how: dict[str, Any], shown: bool) -> None:
    assert heat_switches.cause_shown(cleared(*points, **how), "air") is shown


@pytest.mark.parametrize(("ohms", "touches"), [(999_999.0, True), (1_000_000.0, False), (None, False)])
def test_below_a_megohm_to_the_case_is_a_path(ohms: float | None, touches: bool) -> None:
    bench = cleared("T2")
    place = next(place for place, act in enumerate(bench.trail) if act["act"] == "probe")
    bench.trail[place]["reading"]["value"] = ohms
    assert heat_switches.cause_shown(bench, "element") is touches


def test_cold_readings_closed_open_and_the_sensor_within_twice_the_meter() -> None:
    on = card("06_heat_switches")
    rows = heat_switches._cold(on)
    assert [(rows[key].low, rows[key].high, rows[key].over_limit) for key in ("thermostat", "limit", "cutoff")] == [
        (0.0, 0.7, False), (0.0, 0.7, False), (0.0, 0.0, True),
    ]  # fmt: skip
    true = on.sensor_sheet_ohms * machine_of(on).thermistor_factor
    scale = next(one for one in ranges("ohms") if one.full_scale >= true)
    band = scale.band(true)
    middle, half = (rows["sensor"].low + rows["sensor"].high) / 2, (rows["sensor"].high - rows["sensor"].low) / 2
    assert middle * 1000 == pytest.approx(true)
    assert half * 1000 == pytest.approx(band.high - band.low)


# --- 09 ---------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("working", [1, 2, 3])
@pytest.mark.parametrize("side", [-1, 1])
def test_clamp_and_prediction_may_be_seven_percent_and_the_jaw_apart(working: int, side: int) -> None:
    on = card("09_open_and_close")
    part = predicted(on.loaded_volts, on.sheet_ohms) * working / 3

    def verdict(amps: float) -> frozenset[str]:
        return open_and_close._verdict(replace(on, clamp_amps=amps))

    names = {1: "two_out", 2: "one_out", 3: "fits"}
    edge = part * (1 + side * 0.07)
    assert verdict(edge) == verdict(edge + side * 0.9 * jaw_off(edge)) == {names[working]}
    with pytest.raises(ValueError, match="fit no number of elements"):
        verdict(edge + side * 1.2 * jaw_off(edge))


@pytest.mark.parametrize(("amps", "whole_cord"), [(0.49, True), (0.5, False)])
def test_nothing_in_the_jaw_is_below_half_an_amp(amps: float, whole_cord: bool) -> None:
    on = replace(card("09_open_and_close"), clamp_amps=amps)
    if whole_cord:
        assert open_and_close._verdict(on) == {"whole_cord"}
    else:
        with pytest.raises(ValueError, match="fit no number"):
            open_and_close._verdict(on)


def test_a_row_of_the_proof_holds_the_leads_and_the_meter() -> None:
    on = card("09_open_and_close")
    rows, scale, meter = open_and_close._rows(on), ranges("ohms")[0], Meter()
    for n, ohms in enumerate(machine_of(on).element_ohms, start=1):
        row = rows[f"T{n}-T0"]
        assert row.low == pytest.approx(scale.band(ohms).low, abs=0.03)
        assert row.high == pytest.approx(scale.band(ohms).high + meter.lead_ohms_most, abs=0.03)
        assert row.slips
        side_by_side = 1 / sum(1 / one for one in machine_of(on).element_ohms)
        assert row.slips["read_with_wires_on"] == pytest.approx(side_by_side + meter.lead_ohms)
    assert rows["T0-case"].over_limit
    assert rows["T0-case"].slips is None


# --- 10 ---------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("percent", "advised"), [(50.0, "repair"), (50.1, "replace")])
def test_a_repair_is_worth_it_up_to_the_very_share_of_the_rule(
    percent: float, advised: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(call_to_close, "quote_percent", lambda _: percent)
    assert right("10_call_to_close", "advice", card("10_call_to_close")) == {advised}


def test_the_quote_is_trip_charge_parts_and_labor_over_the_new_price() -> None:
    on = card("10_call_to_close")
    rows = [catalogue(name) for name in call_to_close.names_on(on, 2)]
    parts = call_to_close.replaced_parts(on)
    assert parts == tuple(dict.fromkeys(row.text("part") for row in rows))
    assert call_to_close.parts_price(on) >= sum(row.number("parts_cost") for row in rows)
    assert call_to_close.fix_minutes(on) == sum(replaceable(machine_of(on, 2))[part][0] for part in parts)
    hours = (2 * on.drive_minutes + on.find_minutes + call_to_close.fix_minutes(on)) / 60
    price = on.trip_charge + call_to_close.parts_price(on) + on.rate * hours
    assert call_to_close.quote_percent(on) == pytest.approx(100 * price / on.new_price)


def suspects_of(faults: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> tuple[set[str], set[str]]:
    """Return which names have to be cleared alone, and which beside, on a machine with ``faults``."""
    asked: list[tuple[set[str], set[str]]] = []

    class Told:
        def __init__(self, *_: object) -> None: ...

        def left(self, key: str, actual: list[str], alone: list[str], beside: list[str]) -> list[str]:
            assert actual == list(faults)
            asked.append((set(alone), set(beside)))
            return [key]

    monkeypatch.setattr(call_to_close, "Hypotheses", Told)
    machine = on_the_bench(standard(arrangement("mudroom")))
    assert call_to_close._left(Bench(machine, faults), "x") == ["x"]
    return asked[0]


@pytest.mark.parametrize("faults", [("coil-open-of-several@p-q",), ("door-switch-open@Door",), ()])
def test_the_heater_to_the_case_is_cleared_whatever_is_heard_and_what_shows_only_live_is_not(
    faults: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    alone, beside = suspects_of(faults, monkeypatch)
    made = arrangement("mudroom")
    assert {"coil-touches@p-q", "coil-touches@r-s", "lead-chafed@Hi.2-Box.r"} <= alone & beside
    assert not beside & set(hands_of(made))
    dead = faults == ("door-switch-open@Door",)
    assert ("vent-restricted" in beside) == (not dead)
    assert ("door-switch-open@Door" in beside) == ("run-contact-open@Run" in beside) == dead
    assert ("leg-1-lost" in alone) == ("neutral-lost" in alone) == dead
    assert "sound" in alone


def test_the_blame_of_each_wrong_name() -> None:
    blame: dict[str, str] = {}
    for number in range(60):
        blame |= call_to_close._blame(sheet("10_call_to_close").card(f"someone-{number}"))  # type: ignore[arg-type]
    for name, code in {
        "coil-open@p-q": "element_blamed", "coil-open-of-several@r-q": "element_blamed",
        "coil-touches@p-q": "path_blamed", "limit-open@Lim": "switch_blamed", "heat-contact-open@Heat": "switch_blamed",
        "cut-off-blown@Cut": "switch_blamed", "door-switch-open@Door": "motor_side_blamed",
        "run-winding-open@Mot": "motor_side_blamed", "belt-switch-open@Belt": "motor_side_blamed",
        "fuse-blown@Fuse": "motor_side_blamed", "vent-restricted": "outside_blamed", "leg-2-lost": "outside_blamed",
        "sound": "nothing_blamed",
    }.items():  # fmt: skip
        assert blame[name] == code, name
