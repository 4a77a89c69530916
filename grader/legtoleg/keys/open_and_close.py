"""The reference answers of lesson 09, open and close."""

from __future__ import annotations

from collections.abc import Callable

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import ELEMENTS
from dryerbench.bench.meter import Meter, ReadingData, ranges
from dryerbench.bench.worksite import faults_on, situation_on
from dryerbench.course.bench_card import machine_of, open_bench
from dryerbench.topics.open_and_close.belt import Belt, grip, wrap_degrees
from dryerbench.topics.open_and_close.models import jaw_off, predicted
from dryerbench.topics.open_and_close.sheet import (
    CUPS,
    LESSON,
    ROWS,
    OpenCloseCard,
    before_power_options,
    belt_of,
)
from legtoleg.keys.reference import (
    Before,
    ChoiceReference,
    Expected,
    Goal,
    OrderReference,
    ReadingsReference,
    Reference,
    ReferenceOf,
    WorkReference,
)

__all__ = ["LESSON", "REFERENCES"]

BEFORE_POWER = frozenset({"elements", "case", "bond", "wires", "cups"})
"""What must be proved before the power goes on."""
_INSIDE = ("cover_off", "belt_off", "drum_out", "wires_off", "heater_out")
_HEATER_WIRES = ("wire T1", "wire T2", "wire T3", "wire T0")
_FIT = 0.07
"""How far clamp and prediction may be apart: sheet and elements some per cent, the meter's volts, the clamp."""
_BOND_OHMS = 1.0
_NOTHING_AMPS = 0.5
_SOUND_OHMS = 1e6
"""Insulation of a heater from which it counts as no path (1 MΩ: common practice, from memory)."""

_TEARDOWN = (
    Before("prove_first", "test_dead", "meter_not_proved_first", unsafe=True),
    Before("power_off", "test_dead", "tested_while_on", unsafe=True),
    Before("test_dead", "prove_again", "zero_not_proved", unsafe=True),
    *(Before("power_off", step, "hands_in_before_dead", unsafe=True) for step in _INSIDE),
    *(Before("test_dead", step, "hands_in_before_dead", unsafe=True) for step in _INSIDE),
    *(Before("prove_again", step, "zero_not_proved", unsafe=True) for step in _INSIDE),
    *(Before("cover_off", step, "cannot_reach") for step in ("photo", "belt_off", "drum_out", "wires_off")),
    Before("photo", "belt_off", "photo_too_late"),
    Before("photo", "wires_off", "photo_too_late"),
    Before("belt_off", "drum_out", "drum_on_its_belt"),
    Before("drum_out", "wires_off", "cannot_reach"),
    Before("wires_off", "heater_out", "wires_torn"),
)
_CLOSE_UP = (
    Before("heater_in", "case_test", "tested_out_of_its_place"),
    Before("case_test", "wires_on", "wires_on_for_the_test"),
    Before("heater_in", "wires_on", "not_the_way_back"),
    Before("wires_on", "drum_in", "not_the_way_back"),
    Before("drum_in", "belt_on", "not_the_way_back"),
    Before("belt_on", "cover_on", "not_the_way_back"),
    Before("wires_on", "cover_on", "not_the_way_back"),
    Before("case_test", "power_on", "powered_before_case_test", unsafe=True),
    Before("bond_test", "power_on", "powered_before_bond", unsafe=True),
    Before("wires_on", "power_on", "powered_with_loose_wires", unsafe=True),
    Before("cover_on", "power_on", "powered_before_cover", unsafe=True),
    *(Before(step, "power_on", "hands_in_before_dead", unsafe=True) for step in ("heater_in", "drum_in", "belt_on")),
    Before("vent_on", "power_on", "cleaned_plugged_in", unsafe=True),
    Before("vent_on", "run_proof", "run_without_duct"),
    Before("power_on", "run_proof", "never_ran"),
)


def _belt(lies: Belt) -> str:
    """Return what a belt asks for: driven by the pulley, forward, gripped as with the idler's push, ribs inward."""
    if lies.drives <= 0:
        return "untwist" if lies.drives else "pulley"
    if grip(lies.wrap) <= grip(wrap_degrees(0.0)):
        return "idler"
    return "drum_front" if lies.ribs_inward else "turn_over"


def _short_cup(card: OpenCloseCard) -> frozenset[str]:
    return frozenset(cup for cup, (out, back) in zip(CUPS, card.tally, strict=True) if out != back)


def _verdict(card: OpenCloseCard) -> frozenset[str]:
    """Return which part of the predicted amps the clamp shows, by the number of elements that would make it."""
    whole = predicted(card.loaded_volts, card.sheet_ohms)
    if card.clamp_amps < _NOTHING_AMPS:
        return frozenset({"whole_cord"})
    names = {3: "fits", 2: "one_out", 1: "two_out"}
    near = min(names, key=lambda working: abs(card.clamp_amps - whole * working / len(ELEMENTS)))
    slack = _FIT * whole * near / len(ELEMENTS) + jaw_off(card.clamp_amps)
    if abs(card.clamp_amps - whole * near / len(ELEMENTS)) > slack:
        raise ValueError(f"{card.clamp_amps} A fit no number of elements of {card.sheet_ohms} Ω.")
    return frozenset({names[near]})


def _repaired(card: OpenCloseCard) -> Bench:
    """Return the bench with the new element in, the heater's wires off, and nothing else put right."""
    bench = open_bench(card)
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    for wire in _HEATER_WIRES:
        bench.do("pull_wire", wire=wire)
    bench.do("replace_part", part=f"element {card.bad_element}")
    return bench


def _rows(card: OpenCloseCard) -> dict[str, Expected]:
    """Return each row's band: the true ohms, the leads (nulled or not), the meter's accuracy."""
    bench, meter, scale = _repaired(card), Meter(), ranges("ohms")
    side_by_side = 1.0 / sum(1.0 / ohms for ohms in machine_of(card).element_ohms)
    found = {}
    for row in ROWS:
        a, b = row.key.rsplit("-", 1)
        true = meter.ideal(situation_on(bench), "ohms", a, b)
        band = scale[0].band(true)
        slips = {"read_with_wires_on": side_by_side + meter.lead_ohms} if row.key.startswith("T") else None
        open_end = true > scale[-1].full_scale
        low, high = max(0.0, band.low), band.high + meter.lead_ohms_most
        found[row.key] = Expected(over_limit=True) if open_end else Expected(low, high, slips=slips)
    return found


def _places(bench: Bench, act: str, **given: object) -> list[int]:
    acts = enumerate(bench.trail)
    return [place for place, one in acts if one["act"] == act and given.items() <= one["with"].items()]


def _read(bench: Bench, point: str, fits: Callable[[ReadingData], bool], after: int = -1) -> bool:
    """Return whether ``point`` was read dead to the case after act ``after``, before the next power, and it fits."""
    for act in bench.trail[after + 1 :]:
        if act["act"] in ("plug_in", "close_breaker"):
            return False
        reading = act.get("reading")
        if (
            reading
            and set(reading["places"]) == {point, "case"}
            and reading["mode"] in ("ohms", "insulation")
            and fits(reading)
        ):
            return True
    return False


def _replaced(bench: Bench) -> int:
    """Return the place of the last act that replaced an element; -1 if none did."""
    places = [_places(bench, "replace_part", part=f"element {n}") for n in ELEMENTS]
    return max((place for one in places for place in one), default=-1)


def _case_tested(bench: Bench) -> bool:
    after = _replaced(bench)
    return after >= 0 and any(_read(bench, point, _over, after) for point in ("T0", "T1", "T2", "T3"))


def _bond_tested(bench: Bench) -> bool:
    return _read(bench, "plug-G", _low)


def _over(reading: ReadingData) -> bool:
    value = reading["value"]
    return reading["shown"] == "OL" or (reading["mode"] == "insulation" and value is not None and value > _SOUND_OHMS)


def _low(reading: ReadingData) -> bool:
    return reading["value"] is not None and reading["value"] < _BOND_OHMS


def _warm_runs(bench: Bench) -> list[int]:
    runs = [place for place in _places(bench, "let_run") if "warm air comes out" in bench.trail[place]["happened"]]
    return [place for place in runs if _covered(bench, place)]


def _covered(bench: Bench, place: int) -> bool:
    moves = [act["act"] for act in bench.trail[:place] if act["act"] in ("cover_on", "cover_off")]
    return bool(moves) and moves[-1] == "cover_on"


def _exhaust_read(bench: Bench) -> bool:
    runs = _warm_runs(bench)
    still = ("stop", "unplug", "open_breaker", "open_door", "cool_down")
    for act in bench.trail[runs[0] + 1 :] if runs else ():
        if act["act"] in still:
            return False
        if act["act"] == "temperature" and act["with"].get("spot") == "exhaust":
            return True
    return False


_GOALS = (
    Goal(lambda bench: not any(fault.name.startswith("element-") for fault in faults_on(bench)), "part_not_replaced"),
    Goal(lambda bench: all(fault.name != "missing-bond" for fault in faults_on(bench)), "bond_not_put_right"),
    Goal(_case_tested, "powered_before_case_test"),
    Goal(_bond_tested, "powered_before_bond"),
    Goal(lambda bench: bool(_warm_runs(bench)), "never_ran"),
    Goal(_exhaust_read, "exhaust_not_read"),
)

REFERENCES: tuple[ReferenceOf[OpenCloseCard], ...] = (
    OrderReference("teardown", _TEARDOWN),
    ChoiceReference(
        "belt_run",
        lambda card: frozenset({_belt(belt_of(card))}),
        {
            "turn_over": "belt_ribs_out",
            "pulley": "belt_misses_pulley",
            "idler": "idler_beside_belt",
            "untwist": "belt_crossed",
            "drum_front": "belt_not_looked_at",
        },
    ),
    ChoiceReference(
        "screw_tally",
        _short_cup,
        {**dict.fromkeys(CUPS, "wrong_cup"), "spare": "spare_screws", "later": "spare_screws"},
    ),
    ChoiceReference(
        "before_power",
        lambda card: BEFORE_POWER & frozenset(option.key for option in before_power_options(card)),
        {
            "elements": "elements_not_read",
            "case": "powered_before_case_test",
            "bond": "powered_before_bond",
            "wires": "powered_with_loose_wires",
            "cups": "cups_not_empty",
            "beeper": "beeper_for_a_number",
            "clamp": "proof_needs_power",
            "exhaust": "proof_needs_power",
            "line_to_case": "line_on_the_case",
        },
    ),
    OrderReference("close_up", _CLOSE_UP),
    ReadingsReference("proof_readings", _rows, "ol_after_the_repair", "number_where_ol_is_due"),
    Reference(
        "predicted_amps", "predicted_amps", lambda card, _: {"volts": card.loaded_volts, "ohms": card.sheet_ohms}
    ),
    Reference("clamp_off", "clamp_off", lambda _, own: {"amps": own["predicted_amps"]}),
    ChoiceReference(
        "clamp_verdict",
        _verdict,
        {
            "fits": "called_it_whole",
            "one_out": "miscounted_elements",
            "two_out": "miscounted_elements",
            "whole_cord": "blamed_the_jaw",
            "breaker": "breaker_is_no_proof",
        },
    ),
    WorkReference("close_and_prove", open_bench, _GOALS),
)
"""In the order in which they build on one another."""
