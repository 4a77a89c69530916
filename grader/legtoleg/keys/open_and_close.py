"""The reference answers of lesson 09, open and close."""

from __future__ import annotations

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import ELEMENTS
from dryerbench.bench.meter import Meter
from dryerbench.bench.meter_ranges import ranges
from dryerbench.bench.placement import placement_of
from dryerbench.bench.work_done import bonded, closed_up, dead_inside, elements_read, exhaust_read, heater_off_case, ran
from dryerbench.bench.worksite import faults_on, situation_on
from dryerbench.course.bench_card import machine_of, open_bench
from dryerbench.topics.open_and_close.belt import Belt, grip, wrap_degrees
from dryerbench.topics.open_and_close.cabinets import covers_needed, no_cover_too_many, screws_in
from dryerbench.topics.open_and_close.models import jaw_off, predicted
from dryerbench.topics.open_and_close.sheet import (
    AT_THE_CORD,
    CUPS,
    LESSON,
    ROWS,
    OpenCloseCard,
    before_power_options,
    belt_of,
    cord_options,
    screw_options,
    splitter_options,
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
from legtoleg.keys.repair_goals import parts_read, searched, unneeded, wasted

__all__ = ["LESSON", "REFERENCES"]

BEFORE_POWER = frozenset({"elements", "case", "bond", "wires", "cups"})
"""What must be proved before the power goes on."""
_INSIDE = ("cover_off", "belt_off", "drum_out", "wires_off", "heater_out")
_HEATER_WIRES = ("wire T1", "wire T2", "wire T3", "wire T0")
_FIT = 0.07
"""How far clamp and prediction may be apart: sheet and elements some per cent, the meter's volts, the clamp."""
_NOTHING_AMPS = 0.5

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


def _element_is_in(bench: Bench) -> bool:
    return not any(fault.name.startswith("element-") for fault in faults_on(bench))


def _bond_is_on(bench: Bench) -> bool:
    return all(fault.name != "missing-bond" for fault in faults_on(bench))


def _screws_slips(card: OpenCloseCard) -> dict[str, str]:
    """Return what each wrong count of question 12 is; where two of them are one number, the first that it is."""
    machine = machine_of(card, 2)
    placed = placement_of(machine)
    over_heater = {cover.name for point in placed.in_order for cover in placed.covers_over(point)}
    heater = screws_in([cover for cover in placed.covers if cover.name in over_heater])
    known = {str(screws_in(placed.covers)): "every_cover_counted", str(heater): "block_cover_forgotten"}
    return {option.key: known.get(option.key, "screws_miscounted") for option in screw_options(card)}


_SECOND_GOALS = (
    Goal(dead_inside, "dead_not_tested_inside"),
    Goal(heater_off_case, "second_heater_not_read"),
    Goal(no_cover_too_many, "cover_not_needed", shown_by=heater_off_case),
    Goal(closed_up, "second_left_open", shown_by=heater_off_case),
)

_GOALS = (
    Goal(dead_inside, "dead_not_tested_inside"),
    Goal(parts_read, "part_not_read", shown_by=searched),
    Goal(lambda bench: not unneeded(bench), "parts_cannon", voids=True, adds=wasted, shown_by=searched),
    Goal(_element_is_in, "part_not_replaced"),
    Goal(_bond_is_on, "bond_not_put_right", shown_by=bonded),
    Goal(elements_read, "elements_not_read"),
    Goal(heater_off_case, "powered_before_case_test"),
    Goal(bonded, "powered_before_bond"),
    Goal(closed_up, "wires_left_off", shown_by=searched),
    Goal(ran, "never_ran"),
    Goal(exhaust_read, "exhaust_not_read"),
)

CORD_FAULTS = frozenset({"bare_hole", "brown", "moves", "shared", "strands", "with_strap"})
"""What has to be fixed where the cord goes in, by the lesson's text (common practice, no published source)."""

SPLITTER_RIGHT = frozenset({"category", "ground_amps", "motor_leg", "named", "one_wire", "plug_first"})
"""What holds for a line splitter, by the lesson's text (common practice, no published source)."""

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
    WorkReference("second_cabinet", lambda card: open_bench(card, 2), _SECOND_GOALS),
    ChoiceReference(
        "second_screws",
        lambda card: frozenset({str(screws_in(covers_needed(machine_of(card, 2))))}),
        _screws_slips,
    ),
    ChoiceReference(
        "at_the_cord",
        lambda card: CORD_FAULTS & {option.key for option in cord_options(card)},
        {
            **dict.fromkeys(set(AT_THE_CORD) - CORD_FAULTS, "good_cord_blamed"),
            **dict.fromkeys(("four_off", "three_on", "with_strap"), "strap_against_cord"),
            **dict.fromkeys(("brown", "shared", "strands"), "block_passed"),
            **dict.fromkeys(("bare_hole", "moves"), "cord_not_held"),
        },
        harmless=lambda _: frozenset(AT_THE_CORD) - CORD_FAULTS - {"four_off", "three_on"},
    ),
    ChoiceReference(
        "line_splitter",
        lambda card: SPLITTER_RIGHT & {option.key for option in splitter_options(card)},
        {
            **dict.fromkeys(("anyone", "named"), "splitter_is_live"),
            **dict.fromkeys(("category", "leave_in", "slit"), "splitter_not_fit"),
            **dict.fromkeys(("all_wires", "one_wire"), "splitter_all_wires"),
            **dict.fromkeys(("ground_amps", "motor_leg", "neutral_amps"), "splitter_misread"),
            "plug_first": "splitter_plug_in",
        },
        harmless=lambda _: frozenset({"all_wires", "motor_leg", "neutral_amps", "one_wire"}),
    ),
)
"""In the order in which they build on one another."""
