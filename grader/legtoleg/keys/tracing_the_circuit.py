"""The reference answers of lesson 07, tracing the circuit."""

from __future__ import annotations

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.bench.worksite import machine_on
from dryerbench.course.bench_card import faults_of, open_bench
from dryerbench.diagnosis.paths import from_trail
from dryerbench.family.arrangement import CABINET
from dryerbench.topics.tracing_the_circuit.heater_line import CONTACTS, LINE, in_doubt, middle
from dryerbench.topics.tracing_the_circuit.second_sheet import (
    legs_at_heater,
    resting_line,
    stops_all_heat,
    stretches,
    suspects,
    volts_read,
)
from dryerbench.topics.tracing_the_circuit.sheet import (
    AFTER_CONTACTS,
    LESSON,
    SECOND_ROWS,
    TraceCard,
    at_limit_of,
    live_keys,
    read_dead_of,
    second_dead_of,
    second_of,
    second_pairs_of,
    second_set_of,
    suspect_options,
)
from legtoleg.keys.reference import (
    Before,
    ChoiceReference,
    Expected,
    FaultReference,
    OrderReference,
    ReadingsReference,
    Reference,
    ReferenceOf,
)

__all__ = ["LESSON", "REFERENCES"]

_SHARE = 0.03
"""How far a predicted reading may be off: the supply and the meter, some per cent."""
_NOTHING_VOLTS = 2.0
NEEDED = frozenset({"dead_first", "qualified", "category", "gloves", "clips"})
"""What a live reading needs."""
_MEASURED = ("whole", "half", "alone")

_TRACE = (
    Before("prove_first", "test_dead", "trace_meter_unproved", unsafe=True),
    Before("power_off", "test_dead", "traced_before_dead", unsafe=True),
    Before("test_dead", "prove_again", "trace_zero_unproved", unsafe=True),
    *(Before("power_off", step, "traced_before_dead", unsafe=True) for step in ("cover_off", *_MEASURED)),
    *(Before("test_dead", step, "traced_before_dead", unsafe=True) for step in ("cover_off", *_MEASURED)),
    *(Before("prove_again", step, "trace_zero_unproved", unsafe=True) for step in ("cover_off", *_MEASURED)),
    *(Before("cover_off", step, "points_behind_cover") for step in _MEASURED),
    Before("diagram", "whole", "line_not_followed"),
    Before("call_heat", "whole", "control_left_off"),
    Before("whole", "half", "split_before_whole"),
    Before("half", "alone", "split_before_whole"),
)

_ONE_PLACE = 2
"""How many points stand at the ends of one place that can be open."""


def _along(card: TraceCard) -> dict[str, Expected]:
    """Return the supply up to the open contact of ``card``'s plan, and nothing past it."""
    volts, open_from = card.supply_volts, CONTACTS[card.planned_open][2]
    rows, past = {}, False
    for point in AFTER_CONTACTS:
        past = past or point == open_from
        one_leg, other = volts / 2, 0.0 if not past else volts
        slips = {"line_turned_round": other, "one_leg_along_the_line": one_leg}
        low, high = (0.0, _NOTHING_VOLTS) if past else (volts * (1 - _SHARE), volts * (1 + _SHARE))
        rows[f"L2-{point}"] = Expected(low, high, slips=slips)
    return rows


def _traced(card: TraceCard) -> frozenset[str]:
    """Return the contact at which the volts from L2, as read, fall to nothing; the motor's if they never do."""
    values = {where.removeprefix("L2 to "): volts for where, _, volts in card.live}
    for fault, (_, _, after) in CONTACTS.items():
        if after in values and values[after] < _NOTHING_VOLTS:
            return frozenset({fault})
    return frozenset({"motor-heat-contact-open"})


def _left(bench: Bench, _: str) -> list[str]:
    """Return what the readings leave possible, weighed against a machine of book values on this supply."""
    book = Machine(cord=machine_on(bench).cord, leg_volts=machine_on(bench).leg_volts)
    return from_trail(book, bench.trail).singled_out()


def _next(card: TraceCard) -> frozenset[str]:
    """Return the reading that halves what can still be open; the part alone where one place is left."""
    doubt = in_doubt(read_dead_of(card))
    if not doubt:
        return frozenset({"elements"})
    return frozenset({"alone" if len(doubt) == _ONE_PLACE else f"{doubt[0]}-{middle(doubt[0], doubt[-1])}"})


def _next_slips(card: TraceCard) -> dict[str, str]:
    doubt = in_doubt(read_dead_of(card))
    found = {"elements": "not_in_doubt", "alone": "one_place_a_reading" if doubt else "not_in_doubt"}
    for key in ("H4-H6", "L1-H2", "L1-H4"):
        start, end = key.split("-")
        inside = set(LINE[LINE.index(start) : LINE.index(end) + 1])
        shared = inside & set(doubt)
        if shared == set(doubt):
            found[key] = "nothing_new"
        else:
            found[key] = "one_place_a_reading" if len(shared) >= _ONE_PLACE else "not_in_doubt"
    return found


_BOOK_LEG = 120.0
"""V of a leg in the questions on the second sheet."""


def _stopping(card: TraceCard) -> frozenset[str]:
    """Return the parts that question 11 offers on ``card`` which, open, stop all heat while the drum turns."""
    made = second_of(card)
    offered = {option.key for option in suspect_options(card)}
    return frozenset(part.name for part in suspects(made) if part.name in offered and stops_all_heat(made, part.name))


def _stopping_slips(card: TraceCard) -> dict[str, str]:
    right = _stopping(card)
    keys = [option.key for option in suspect_options(card)]
    return {key: "line_part_missed" if key in right else "not_all_heat" for key in keys}


def _leg(card: TraceCard) -> frozenset[str]:
    """Return the leg that reaches the second dryer's heater as its sheet is solved; both, or neither."""
    legs = legs_at_heater(second_of(card), second_set_of(card))
    return frozenset({min(legs) if len(legs) == 1 else "both" if legs else "neither"})


def _second_volts(card: TraceCard) -> dict[str, Expected]:
    """Return what is read between each pair of question 13, solved on the second dryer's circuit."""
    made, (opened, pairs) = second_of(card), second_pairs_of(card)
    found = {}
    for row, (a, b) in zip(SECOND_ROWS, pairs, strict=True):
        volts = volts_read(made, a, b, opened.names[0])
        low, high = (volts * (1 - _SHARE), volts * (1 + _SHARE)) if volts > _NOTHING_VOLTS else (0.0, _NOTHING_VOLTS)
        found[row.key] = Expected(low, high, slips=_volts_slips(row.key, b, volts))
    return found


def _volts_slips(row: str, b: str, volts: float) -> dict[str, float]:
    """Return the mistakes of a predicted reading: along the line, across a contact, to the cabinet, across the coil."""
    leg, both = _BOOK_LEG, 2 * _BOOK_LEG
    if row == SECOND_ROWS[0].key:
        return {"line_turned_round": 0.0 if volts else both, "one_leg_along_the_line": leg}
    if row == SECOND_ROWS[1].key:
        wrong = {"open_reads_nothing": 0.0} if volts else {"supply_across_closed": both}
        return wrong | {"one_leg_across_open": leg}
    if b == CABINET:
        return {"past_called_dead": 0.0, "cabinet_is_no_leg": both}
    return {"coil_has_the_volts": both, "one_leg_along_the_line": leg}


def _second_next(card: TraceCard) -> frozenset[str]:
    """Return the reading that halves what can still be open on the second dryer; a coil where nothing can."""
    made = second_of(card)
    line = resting_line(made)
    doubt = in_doubt(second_dead_of(card), line)
    if not doubt:
        return frozenset({"coil"})
    wanted = (doubt[0], middle(doubt[0], doubt[-1], line))
    return frozenset(name for name, ends in stretches(made).items() if ends == wanted)


def _second_next_slips(card: TraceCard) -> dict[str, str]:
    made = second_of(card)
    line = resting_line(made)
    doubt = set(in_doubt(second_dead_of(card), line))
    found = {"coil": "not_in_doubt", "switch": "motor_contact_at_rest"}
    for name, (a, b) in stretches(made).items():
        shared = set(line[line.index(a) : line.index(b) + 1]) & doubt
        inside = len(shared) >= _ONE_PLACE
        found[name] = "nothing_new" if shared == doubt else "one_place_a_reading" if inside else "not_in_doubt"
    return found


REFERENCES: tuple[ReferenceOf[TraceCard], ...] = (
    Reference("open_volts", "open_volts", lambda card, _: {"volts": card.supply_volts, "contacts": len(CONTACTS)}),
    Reference(
        "closed_drop",
        "closed_drop",
        lambda card, _: {"milliohms": card.contact_milliohms, "amps": card.line_amps, "volts": card.supply_volts},
    ),
    ReadingsReference("along_the_line", _along),
    ChoiceReference(
        "traced_open", _traced, {**dict.fromkeys(CONTACTS, "border_misread"), "nothing": "sound_line_read"}
    ),
    ChoiceReference(
        "zero_volts",
        lambda card: frozenset({{"none": "either", "to_limit": "closed", "across_limit": "open"}[at_limit_of(card)]}),
        {
            "either": "two_readings_say_it",
            "closed": "zero_means_closed",
            "open": "zero_means_open",
            "dead": "zero_taken_for_dead",
            "alone": "zero_means_closed",
        },
        harmless=lambda _: frozenset({"either", "closed", "open"}),
    ),
    Reference(
        "split_minutes", "split_minutes", lambda card, _: {"places": card.places, "minutes": card.reading_minutes}
    ),
    ChoiceReference(
        "next_reading",
        _next,
        _next_slips,
    ),
    OrderReference("dead_trace", _TRACE),
    ChoiceReference(
        "live_work",
        lambda card: NEEDED & frozenset(live_keys(card)),
        {
            "dead_first": "live_before_dead_tests",
            "qualified": "live_alone",
            "category": "wrong_category",
            "gloves": "bare_hands_live",
            "clips": "moved_probes_live",
            "jumper": "jumped_a_limit",
            "ohms_live": "ohms_dial_live",
            "alone": "live_alone",
            "two_hands": "bare_hands_live",
        },
    ),
    FaultReference(
        "open_part",
        open_bench,
        lambda card: frozenset(faults_of(card)),
        _left,
        "open_not_singled_out",
        {**dict.fromkeys(CONTACTS, "neighbor_named"), "motor-heat-contact-open": "motor_contact_at_rest"},
    ),
    ChoiceReference("second_suspects", _stopping, _stopping_slips),
    ChoiceReference(
        "second_leg",
        _leg,
        {"neither": "no_leg_seen", **dict.fromkeys(("both", "leg 1", "leg 2"), "leg_misread")},
        harmless=lambda _: frozenset({"both", "leg 1", "leg 2"}),
    ),
    ReadingsReference("second_volts", _second_volts),
    ChoiceReference("second_next", _second_next, _second_next_slips),
)
"""In the order in which they build on one another."""
