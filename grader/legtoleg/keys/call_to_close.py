"""The reference answers of lesson 10, from the call to the close."""

from __future__ import annotations

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue, read_fault
from dryerbench.bench.worksite import faults_found_on, machine_on
from dryerbench.core.sealed import unsealed
from dryerbench.course.bench_card import faults_of, machine_of, open_bench
from dryerbench.diagnosis.call_dealing import HANDED_OVER, names_of
from dryerbench.diagnosis.candidates import SOUND
from dryerbench.diagnosis.complaints import behind, heard
from dryerbench.diagnosis.hypotheses import Hypotheses
from dryerbench.diagnosis.service_calls import before_repair
from dryerbench.electricity.ohms_law import parallel
from dryerbench.topics.call_to_close.sheet import (
    LESSON,
    LINES,
    OFFERED,
    RULE_PERCENT,
    SUSPECTS,
    CallCard,
    heard_on,
    record_options,
    suspect_options,
)
from legtoleg.keys.call_goals import CAUSE_GOALS, HAND_OVER_GOALS, REPAIR_GOALS
from legtoleg.keys.reference import (
    Before,
    ChoiceReference,
    FaultReference,
    OrderReference,
    Reference,
    ReferenceOf,
    WorkReference,
)

__all__ = ["LESSON", "REFERENCES"]

_TO_CASE = ("element-1-grounded", "element-2-grounded", "element-3-grounded")
"""What the heater's reading to the case has to clear, whatever the complaint is."""


GOOD_LINES = frozenset({"words", "readings", "cause", "proof", "model"})
"""What belongs into a job record."""
_PROVED = "all read, closed up; ran with heat"
"""What a job has to have behind it before it runs over the weekend."""


def names_on(card: CallCard, call: int) -> tuple[str, ...]:
    """Return the names of what is wrong with the machine of ``call``."""
    return tuple(read_fault(fault, machine_of(card, call)).name for fault in faults_of(card, call))


def replaced_parts(card: CallCard) -> tuple[str, ...]:
    """Return the parts that call 2 takes: what failed, and what made it fail."""
    return tuple(str(catalogue(name)["part"]) for name in names_on(card, 2))


def parts_price(card: CallCard) -> float:
    """Return what the parts of call 2 cost together, in dollars (invented)."""
    return float(sum(catalogue(name).number("parts_cost") for name in names_on(card, 2)))


def fix_minutes(card: CallCard) -> float:
    """Return how long the parts of call 2 take to fit, in min (invented)."""
    return float(sum(catalogue(name).number("minutes") for name in names_on(card, 2)))


def quote_percent(card: CallCard) -> float:
    """Return the price of the repair of call 2 as a share of a new machine, in percent."""
    hours = (2 * card.drive_minutes + card.find_minutes + fix_minutes(card)) / 60
    return 100 * (card.trip_charge + parts_price(card) + card.rate * hours) / card.new_price


def _suspects(card: CallCard) -> frozenset[str]:
    return frozenset(behind(heard_on(card))) & {option.key for option in suspect_options(card)}


def _offered(card: CallCard) -> frozenset[str]:
    """Return the faults of call 1 that can be named, or that nothing is wrong."""
    names = frozenset(names_on(card, 1)) & frozenset(OFFERED)
    return names or frozenset({SOUND})


def _blame() -> dict[str, str]:
    codes = {
        "-open": "element_blamed",
        "-grounded": "path_blamed",
    }
    found = {name: code for name in OFFERED for end, code in codes.items() if name.startswith("element-")
             and name.endswith(end)}  # fmt: skip
    switches = ("high-limit-open", "cycling-open", "control-open", "thermistor-open")
    found |= dict.fromkeys(switches, "switch_blamed")
    found |= dict.fromkeys(("door-switch-open", "run-winding-open", "motor-heat-contact-open"), "motor_side_blamed")
    outside = ("blocked-vent", "lost-leg-1", "lost-leg-2", "open-neutral")
    return {**found, **dict.fromkeys(outside, "outside_blamed"), SOUND: "nothing_blamed"}


def _left(bench: Bench, key: str) -> list[str]:
    """Return what the readings before any repair leave possible on call 1, ``key`` first.

    What shows only live cannot be cleared dead: it need not be cleared beside a fault that was found.
    """
    readings = Hypotheses(machine_on(bench), before_repair(bench.trail))
    actual = [str(fault) for fault in faults_found_on(bench)]
    alike = {name for fault in actual for name in _heard_with(fault)} or set(behind("slow"))
    suspects = [name for name in SUSPECTS if (name in alike or name in _TO_CASE) and name not in HANDED_OVER]
    alone = [name for name in OFFERED if name in alike or name not in HANDED_OVER]
    return readings.left(key, actual, alone, suspects)


def _heard_with(fault: str) -> tuple[str, ...]:
    """Return the faults that are heard like ``fault``; none for one that nobody hears."""
    (name,) = names_of((fault,))
    return next((faults for _, faults in heard().values() if name in faults), ())


ORDER = (
    Before("unplug", "dead", "open_before_dead", unsafe=True),
    Before("prove", "dead", "open_before_dead", unsafe=True),
    Before("dead", "again", "open_before_dead", unsafe=True),
    Before("again", "open", "open_before_dead", unsafe=True),
    *(Before("again", step, "open_before_dead", unsafe=True) for step in ("measure", "fit", "close")),
    Before("open", "measure", "open_before_dead", unsafe=True),
    Before("open", "fit", "open_before_dead", unsafe=True),
    Before("close", "power", "power_before_case_test", unsafe=True),
    Before("fit", "close", "power_before_case_test", unsafe=True),
    Before("ask", "measure", "measured_unasked"),
    Before("measure", "quote", "named_before_reading"),
    Before("quote", "fit", "fitted_unquoted"),
    Before("power", "record", "record_before_proof"),
)


def _weekend(card: CallCard) -> frozenset[str]:
    return frozenset({"run" if _PROVED in card.pending else "stay_out"})


def _call_3_of_before(card: CallCard) -> Bench:
    """Return the bench of call 3 as kits had it while its machine was of the lessons' own arrangement."""
    there = unsealed(card.earlier)
    return Bench(there.machine, there.faults)


REFERENCES: tuple[ReferenceOf[CallCard], ...] = (
    OrderReference("call_order", ORDER),
    ChoiceReference(
        "suspects",
        _suspects,
        dict.fromkeys(SUSPECTS, "complaint_does_not_fit"),
    ),
    FaultReference("call_fault", open_bench, _offered, _left, "thin_evidence", _blame()),
    WorkReference("call_repair", open_bench, REPAIR_GOALS),
    Reference(
        "amps_after",
        "line_amps",
        lambda card, _: {
            "volts": card.supply_volts,
            "heater_ohms": parallel((card.sheet_ohms,) * 3),
            "ohms": (card.sheet_ohms,) * 3,
        },
    ),
    WorkReference("cause_removed", lambda card: open_bench(card, 2), CAUSE_GOALS),
    Reference(
        "call_minutes",
        "call_minutes",
        lambda card, _: {"drive": card.drive_minutes, "find": card.find_minutes, "fix": fix_minutes(card)},
    ),
    Reference(
        "quote_share",
        "quote_share",
        lambda card, own: {
            "minutes": own["call_minutes"],
            "rate": card.rate,
            "trip_charge": card.trip_charge,
            "parts": parts_price(card),
            "new_price": card.new_price,
        },
    ),
    ChoiceReference(
        "advice",
        lambda card: frozenset({"repair" if quote_percent(card) <= RULE_PERCENT else "replace"}),
        {
            "repair": "rule_turned_round",
            "replace": "rule_turned_round",
            "cut_proof": "proof_left_out",
            "no_price": "price_unsaid",
            "effect_only": "cause_put_off",
        },
    ),
    ChoiceReference(
        "weekend",
        _weekend,
        {
            "run": "ran_unproved",
            "cold": "ran_unproved",
            "watched": "watched_is_not_safe",
            "breaker": "note_is_no_lock",
            "stay_out": "proved_held_back",
        },
        harmless=lambda _: frozenset({"stay_out"}),
    ),
    WorkReference("handed_over", lambda card: open_bench(card, 3), HAND_OVER_GOALS, _call_3_of_before),
    ChoiceReference(
        "job_record",
        lambda card: GOOD_LINES & {option.key for option in record_options(card)},
        {
            **dict.fromkeys(set(LINES) - GOOD_LINES, "record_guesses"),
            "private": "record_private",
            **dict.fromkeys(GOOD_LINES, "record_thin"),
        },
    ),
)
"""In the order in which they build on one another."""
