"""The reference answers of lesson 05, path to case."""

from __future__ import annotations

from dryerbench.answers.parser import parse
from dryerbench.answers.units import convert
from dryerbench.bench.faults import read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.work_done import dead_inside
from dryerbench.course.bench_card import faults_of, open_bench
from dryerbench.electricity.leakage import leakage_limit
from dryerbench.electricity.ohms_law import current, parallel
from dryerbench.family.settling import TRIP_FACTOR
from dryerbench.topics.path_to_case.shared_terminal import pairs_settle_it, tagged_right
from dryerbench.topics.path_to_case.sheet import (
    LESSON,
    ROWS,
    SOMETIMES,
    CaseCard,
    sometimes_options,
    to_case_of,
    touching_of,
)
from legtoleg.keys.dead_readings import expected, true_ohms
from legtoleg.keys.reference import (
    ChoiceReference,
    Expected,
    FaultReference,
    Goal,
    ReadingsReference,
    Reference,
    ReferenceOf,
    WorkReference,
)
from legtoleg.keys.singled_out import left_possible

__all__ = ["LESSON", "REFERENCES"]

PULLED = ("wire T1", "wire T2", "wire T3")
"""The wires that have to be off before an element is measured alone."""

METAL_OHMS = 1000.0
"""Ω to the case below which it is metal on metal; damp leaves thousands (the lesson's table)."""

SOMETIMES_RIGHT = frozenset({"before_blame", "handle", "heat_gun", "once", "spades", "water"})
"""What finds a path that comes and goes, by the lesson's text (common practice, no published source)."""
SOMETIMES_HURTS = frozenset({"off_by_itself", "ol_good", "once", "plain", "reset", "warm_run"})
"""What can hurt somebody if it is done, or, of the one that is right, if it is not."""


def _rows(card: CaseCard) -> dict[str, Expected]:
    found = {}
    for row in ROWS:
        a, b = row.key.split("-")
        found[row.key] = expected(card, a, b, PULLED, {"wires_still_on": true_ohms(card, a, b)})
    return found


def _fault(card: CaseCard) -> frozenset[str]:
    return frozenset({read_fault(faults_of(card)[0]).name})


def _leak_verdict(card: CaseCard) -> frozenset[str]:
    leaks = card.supply_volts / 2 / card.damp_kohm
    return frozenset({"over" if leaks > leakage_limit(card.kilowatts) else "under"})


def _asked_for(card: CaseCard) -> frozenset[str]:
    """Return what an element's reading to the case asks for: metal is replaced, a damp path found, OL gone on from."""
    answer = parse(to_case_of(card).partition(",")[0])
    if answer is None or answer.kind == "over_limit":
        return frozenset({"close"})
    return frozenset({"replace" if convert(answer.magnitude, answer.unit, "Ω") < METAL_OHMS else "find"})


def amps_to_case(card: CaseCard) -> float:
    """Return the amps that leg 2 sends to the case on the machine of question 6, its control open.

    Through the piece of coil up to the shared terminal, and through the other two elements and the other piece.
    """
    far, whole, leg = touching_of(card).far_ohms, card.own_ohms + card.shared_ohms, card.supply_volts / 2
    return current(leg, far) + current(leg, whole - far + parallel((whole, whole)))


def _ends(card: CaseCard) -> frozenset[str]:
    job = touching_of(card)
    if not job.drum_turns:
        return frozenset({"motor"})
    if not job.bonded:
        return frozenset({"bond"})
    return frozenset({"breaker" if amps_to_case(card) > TRIP_FACTOR * Machine().breaker_amps else "nothing"})


REFERENCES: tuple[ReferenceOf[CaseCard], ...] = (
    ReadingsReference("case_readings", _rows, over_limit_slip="probe_on_paint", number_slip="wires_still_on"),
    FaultReference(
        "fault_to_case",
        open_bench,
        _fault,
        left_possible,
        "thin_case_evidence",
        {
            **dict.fromkeys(
                ("element-1-grounded", "element-2-grounded", "element-3-grounded"), "fooled_by_shared_terminal"
            ),
            "leakage-to-case": "damp_for_touch",
            "control-welded": "control_blamed",
        },
    ),
    ChoiceReference(
        "number_to_case",
        _asked_for,
        {
            "replace": "number_misread",
            "find": "number_misread",
            "close": "number_misread",
            "right_ohms": "right_ohms_so_good",
            "try_it": "power_as_test",
            "low_heat": "note_is_no_lock",
        },
        harmless=lambda _: frozenset({"replace", "find"}),
    ),
    Reference("fault_place", "coil_share", lambda card, _: {"own": card.own_ohms, "shared": card.shared_ohms}),
    Reference(
        "watts_control_open",
        "far_piece_watts",
        lambda card, _: {"volts": card.supply_volts, "own": card.own_ohms, "shared": card.shared_ohms},
    ),
    ChoiceReference(
        "will_it_stop",
        _ends,
        {
            "breaker": "every_ground_trips",
            "nothing": "touch_called_small",
            "motor": "motor_contact_overlooked",
            "bond": "way_home_overlooked",
        },
    ),
    Reference("volts_unbonded", "unbonded_case_volts", lambda card, _: {"volts": card.supply_volts}),
    Reference("leak_allowed", "leak_limit", lambda card, _: {"kilowatts": card.kilowatts}),
    Reference("leak_found", "leak_milliamps", lambda card, _: {"volts": card.supply_volts, "kohm": card.damp_kohm}),
    ChoiceReference(
        "leak_verdict",
        _leak_verdict,
        {"over": "leak_misjudged", "under": "leak_misjudged", "sign": "limit_is_no_pass", "dry": "dry_by_power"},
    ),
    ChoiceReference(
        "comes_and_goes",
        lambda card: SOMETIMES_RIGHT & {option.key for option in sometimes_options(card)},
        {
            **dict.fromkeys(("handle", "heat_gun", "ol_good", "once", "spades"), "one_ol_passed"),
            **dict.fromkeys(("before_blame", "water"), "gfci_blamed"),
            **dict.fromkeys(("plain", "reset"), "gfci_overruled"),
            "beeper": "beeper_while_tapping",
            "off_by_itself": "gfci_for_lockout",
            "warm_run": "warmed_by_running",
        },
        harmless=lambda _: frozenset(SOMETIMES) - SOMETIMES_HURTS,
    ),
    WorkReference(
        "tag_shared",
        lambda card: open_bench(card, 2),
        (
            Goal(dead_inside, "nameless_not_tested_dead", shown_by=pairs_settle_it),
            Goal(pairs_settle_it, "pairs_leave_more"),
            Goal(tagged_right, "shared_tag_wrong", shown_by=pairs_settle_it),
        ),
    ),
)
"""In the order in which they build on one another."""
