"""The reference answers of lesson 05, path to case."""

from __future__ import annotations

from dryerbench.bench.faults import read_fault
from dryerbench.course.bench_card import faults_of, open_bench
from dryerbench.electricity.leakage import leakage_limit
from dryerbench.topics.path_to_case.sheet import LESSON, ROWS, CaseCard, to_case_of
from legtoleg.keys.dead_readings import expected, true_ohms
from legtoleg.keys.reference import ChoiceReference, Expected, FaultReference, ReadingsReference, Reference, ReferenceOf
from legtoleg.keys.singled_out import left_possible

__all__ = ["LESSON", "REFERENCES"]

PULLED = ("wire T1", "wire T2", "wire T3")
"""The wires that have to be off before an element is measured alone."""


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
        lambda card: frozenset({{"touch": "replace", "damp": "find", "clear": "close"}[to_case_of(card)]}),
        {
            "replace": "number_misread",
            "find": "number_misread",
            "close": "number_misread",
            "right_ohms": "right_ohms_so_good",
            "try_it": "power_as_test",
            "low_heat": "note_is_no_lock",
        },
    ),
    Reference("fault_place", "coil_share", lambda card, _: {"own": card.own_ohms, "shared": card.shared_ohms}),
    Reference(
        "watts_control_open",
        "far_piece_watts",
        lambda card, _: {"volts": card.supply_volts, "own": card.own_ohms, "shared": card.shared_ohms},
    ),
    ChoiceReference(
        "will_it_stop",
        lambda _: frozenset({"stays"}),
        {"trips": "every_ground_trips", "cold": "control_off_is_cold", "limit": "limit_cuts_one_line"},
    ),
    Reference("volts_unbonded", "unbonded_case_volts", lambda card, _: {"volts": card.supply_volts}),
    Reference("leak_allowed", "leak_limit", lambda card, _: {"kilowatts": card.kilowatts}),
    Reference("leak_found", "leak_milliamps", lambda card, _: {"volts": card.supply_volts, "kohm": card.damp_kohm}),
    ChoiceReference(
        "leak_verdict",
        _leak_verdict,
        {"over": "leak_misjudged", "under": "leak_misjudged", "sign": "limit_is_no_pass", "dry": "dry_by_power"},
    ),
)
"""In the order in which they build on one another."""
