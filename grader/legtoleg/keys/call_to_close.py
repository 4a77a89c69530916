"""The reference answers of lesson 10, from the call to the close."""

from __future__ import annotations

from collections.abc import Callable

from dryerbench.bench.access import arrangement_of, part_prices
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import read_fault
from dryerbench.bench.worksite import faults_found_on, machine_on
from dryerbench.core.sealed import unsealed
from dryerbench.course.bench_card import faults_of, machine_of, open_bench
from dryerbench.course.models import Numbers
from dryerbench.diagnosis.candidates import SOUND
from dryerbench.diagnosis.hypotheses import Hypotheses
from dryerbench.diagnosis.machine_complaints import SLOW, house_faults, suspects, to_cabinet, told_alike, told_on
from dryerbench.diagnosis.machine_hand_over import hands_of
from dryerbench.diagnosis.service_calls import before_repair
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.fault_file import fault_kind
from dryerbench.family.readings import heater_ohms
from dryerbench.topics.call_to_close.sheet import (
    AROUND,
    LESSON,
    LINES,
    RULE_PERCENT,
    CallCard,
    around_options,
    fault_options,
    heard_on,
    parts_of,
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

GOOD_LINES = frozenset({"words", "readings", "cause", "proof", "model"})
"""What belongs into a job record."""
AROUND_RIGHT = frozenset({"code", "found_more", "show_air", "may_be_paid", "not_aboard", "ten_days"})
"""What a tech does around a repair, by the lesson's text (common practice, no published source)."""
AROUND_HURTS = frozenset({"burnt", "monday", "recalled"})
"""What can hurt somebody if it is done."""
_PROVED = "all read, closed up; ran with heat"
"""What a job has to have behind it before it runs over the weekend."""


def names_on(card: CallCard, call: int) -> tuple[str, ...]:
    """Return the names of what is wrong with the machine of ``call``."""
    return tuple(read_fault(fault, machine_of(card, call)).name for fault in faults_of(card, call))


def replaced_parts(card: CallCard) -> tuple[str, ...]:
    """Return the parts that call 2 takes: what failed, and what made it fail."""
    return parts_of(machine_of(card, 2), faults_of(card, 2))


def parts_price(card: CallCard) -> float:
    """Return what the parts of call 2 cost together, in dollars (invented)."""
    prices = part_prices(machine_of(card, 2))
    return sum(prices[part][1] for part in replaced_parts(card))


def fix_minutes(card: CallCard) -> float:
    """Return how long the parts of call 2 take to fit, in min (invented)."""
    prices = part_prices(machine_of(card, 2))
    return sum(prices[part][0] for part in replaced_parts(card))


def quote_percent(card: CallCard) -> float:
    """Return the price of the repair of call 2 as a share of a new machine, in percent."""
    hours = (2 * card.drive_minutes + card.find_minutes + fix_minutes(card)) / 60
    return 100 * (card.trip_charge + parts_price(card) + card.rate * hours) / card.new_price


def _suspects(card: CallCard) -> frozenset[str]:
    fitting = told_alike(arrangement_of(machine_of(card)), heard_on(card))
    return frozenset(fitting) & {option.key for option in suspect_options(card)}


def _do_not_fit(card: CallCard) -> dict[str, str]:
    return dict.fromkeys((option.key for option in suspect_options(card)), "complaint_does_not_fit")


def _offered(card: CallCard) -> frozenset[str]:
    """Return the faults of call 1 that can be named, or that nothing is wrong."""
    names = frozenset(names_on(card, 1)) & frozenset(told_on(arrangement_of(machine_of(card))))
    return names or frozenset({SOUND})


_DRUM_STANDS = ("dead", "hums")
"""What is heard of a fault on the motor's side."""


def _blame(card: CallCard) -> dict[str, str]:
    """Return the slip of each fault that can be named on ``card``."""
    made = arrangement_of(machine_of(card))
    return {option.key: _blamed(made, option.key) for option in fault_options(card)}


def _blamed(made: Arrangement, name: str) -> str:
    if name == SOUND:
        return "nothing_blamed"
    kind = fault_kind(name.partition("@")[0])
    if name in to_cabinet(made):
        return "path_blamed"
    if name in house_faults(made) or kind.on == ("machine",):
        return "outside_blamed"
    if kind.on == ("coil",):
        return "element_blamed"
    return "motor_side_blamed" if told_on(made)[name] in _DRUM_STANDS else "switch_blamed"


def _left(bench: Bench, key: str) -> list[str]:
    """Return what the readings before any repair leave possible on call 1, ``key`` first.

    What the customer would have told otherwise is cleared by that, but for a path to the cabinet. What shows only live
    cannot be cleared dead: it need not be cleared beside a fault that was found.
    """
    machine = machine_on(bench)
    made = arrangement_of(machine)
    readings = Hypotheses(machine, before_repair(bench.trail))
    actual = faults_found_on(bench)
    heard = next((told_on(made)[fault.name] for fault in actual if fault.name in told_on(made)), SLOW)
    beside = suspects(made, heard)
    alone = [name for name in told_alike(made, heard) if actual or name not in hands_of(made)]
    return readings.left(key, [str(fault) for fault in actual], [*alone, *to_cabinet(made), SOUND], beside)


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


def _heater(card: CallCard) -> Numbers:
    """Return the numbers of the heater of call 1 at full heat, as its tech sheet has them."""
    made = arrangement_of(machine_of(card))
    ohms = tuple(coil.ohms for coil in made.coils)
    return {"volts": card.supply_volts, "heater_ohms": heater_ohms(made), "ohms": ohms}


def _weekend(card: CallCard) -> frozenset[str]:
    return frozenset({"run" if _PROVED in card.pending else "stay_out"})


def _earlier(call: int) -> Callable[[CallCard], Bench]:
    """Return how ``call`` is opened as kits had it while its machine was of the lessons' own arrangement."""

    def opened(card: CallCard) -> Bench:
        there = unsealed(card.earlier[call - 1])
        return Bench(there.machine, there.faults)

    return opened


_CALL_1, _CALL_2 = ("call_fault", "call_repair"), ("cause_removed",)
"""The questions on the bench of a call: what else is asked of it goes with them."""

REFERENCES: tuple[ReferenceOf[CallCard], ...] = (
    OrderReference("call_order", ORDER),
    ChoiceReference("suspects", _suspects, _do_not_fit, stands_on=_CALL_1),
    FaultReference("call_fault", open_bench, _offered, _left, "thin_evidence", _blame, _earlier(1)),
    WorkReference("call_repair", open_bench, REPAIR_GOALS, _earlier(1)),
    Reference("amps_after", "call_amps", lambda card, _: _heater(card), _CALL_1),
    WorkReference("cause_removed", lambda card: open_bench(card, 2), CAUSE_GOALS, _earlier(2)),
    Reference(
        "call_minutes",
        "call_minutes",
        lambda card, _: {"drive": card.drive_minutes, "find": card.find_minutes, "fix": fix_minutes(card)},
        _CALL_2,
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
        _CALL_2,
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
        stands_on=_CALL_2,
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
    WorkReference("handed_over", lambda card: open_bench(card, 3), HAND_OVER_GOALS, _earlier(3)),
    ChoiceReference(
        "job_record",
        lambda card: GOOD_LINES & {option.key for option in record_options(card)},
        {
            **dict.fromkeys(set(LINES) - GOOD_LINES, "record_guesses"),
            "private": "record_private",
            **dict.fromkeys(GOOD_LINES, "record_thin"),
        },
    ),
    ChoiceReference(
        "around_the_job",
        lambda card: AROUND_RIGHT & {option.key for option in around_options(card)},
        {
            "burnt": "house_on_price_list",
            "code": "code_for_reading",
            "found_more": "approval_late",
            "show_air": "customer_not_shown",
            "look_alike": "part_by_looks",
            "may_be_paid": "order_unprepared",
            "monday": "used_before_part",
            "nodded": "approval_late",
            "not_aboard": "order_unprepared",
            "recalled": "recall_ran_on",
            "ten_days": "customer_not_shown",
            "test_mode": "code_for_reading",
        },
        harmless=lambda _: frozenset(AROUND) - AROUND_HURTS,
    ),
)
"""In the order in which they build on one another."""
