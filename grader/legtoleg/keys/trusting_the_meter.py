"""The reference answers of lesson 04, trusting the meter."""

from __future__ import annotations

from dryerbench.answers.tolerance import accuracy_band
from dryerbench.bench.faults import read_fault
from dryerbench.bench.meter import Meter
from dryerbench.bench.meter_ranges import Range, ranges
from dryerbench.bench.situation import TOUCH_VOLTS
from dryerbench.course.bench_card import faults_of, open_bench
from dryerbench.topics.trusting_the_meter.sheet import (
    LEADS,
    LESSON,
    READ_TWICE,
    ROWS,
    MeterCard,
    read_twice,
    where_it_beeps,
)
from legtoleg.keys.dead_readings import expected, true_ohms
from legtoleg.keys.reference import ChoiceReference, Expected, FaultReference, ReadingsReference, Reference, ReferenceOf
from legtoleg.keys.singled_out import left_possible

__all__ = ["LESSON", "REFERENCES"]

BEEPS = frozenset({"sound", "bridged", "grounded", "limit"})
"""Where the beeper of this meter sounds."""
PULLED = ("wire T1", "wire T2", "wire T3")
"""The wires that have to be off before an element is measured alone."""

_FALLS_TO = 0.1
"""The share of its volts below which a reading in the low-impedance setting shows a ghost reading, as on the bench."""


def _figures(scale: Range) -> dict[str, float]:
    return {"percent": scale.percent, "counts": scale.counts, "count": scale.resolution}


def _range(mode: str, full_scale: float) -> Range:
    return next(scale for scale in ranges(mode) if scale.full_scale == full_scale)


def _leads() -> Expected:
    scale, ohms = _range("ohms", 600.0), Meter().lead_ohms
    band = accuracy_band(ohms, scale.percent, scale.counts, scale.resolution)
    return Expected(low=max(0.0, band.low - scale.resolution / 2), high=band.high + scale.resolution / 2)


def _rows(card: MeterCard) -> dict[str, Expected]:
    found = {LEADS: _leads()}
    for row in ROWS:
        if row.key != LEADS:
            a, b = row.key.split("-")
            slips = {"wires_still_on": true_ohms(card, a, b)} if b == "T0" else None
            found[row.key] = expected(card, a, b, PULLED, slips)
    return found


def _phantom(card: MeterCard) -> frozenset[str]:
    """Return which of the volts that were read twice fall away under the meter's load."""
    return frozenset(key for key, (usual, loaded) in read_twice(card).items() if loaded < _FALLS_TO * usual)


REFERENCES: tuple[ReferenceOf[MeterCard], ...] = (
    Reference(
        "ohms_plus_minus",
        "accuracy_width",
        lambda card, _: {"reading": card.shown_ohms, "full_scale": 600.0, **_figures(_range("ohms", 600.0))},
    ),
    Reference(
        "volts_low_end",
        "low_end",
        lambda card, _: {"reading": card.shown_volts, **_figures(_range("volts", 600.0))},
    ),
    Reference(
        "coarse_percent",
        "percent_on_range",
        lambda card, _: {
            "reading": card.coarse_ohms,
            "fine": _range("ohms", 600.0).resolution,
            **_figures(_range("ohms", 6000.0)),
        },
    ),
    Reference(
        "ohms_of_element", "without_leads", lambda card, _: {"reading": card.leads_in_ohms, "leads": card.tips_ohms}
    ),
    ReadingsReference("bench_table", _rows, over_limit_slip="ol_where_a_number_is", number_slip="zero_for_ol"),
    ChoiceReference(
        "beeper_sounds",
        lambda card: frozenset(option.key for option in where_it_beeps(card)) & BEEPS,
        {
            "sound": "beeper_has_a_mark",
            "limit": "beeper_has_a_mark",
            "bridged": "beeper_fooled",
            "grounded": "beeper_fooled",
            "worn": "beeper_has_a_mark",
            "damp": "beeper_deaf_to_damp",
            "open": "beeper_has_a_mark",
        },
    ),
    FaultReference(
        "behind_the_beep",
        open_bench,
        lambda card: frozenset({read_fault(faults_of(card)[0]).name}),
        left_possible,
        "no_number_read",
        {
            **dict.fromkeys(("element-1-shorted", "element-2-shorted", "element-3-shorted"), "wrong_element_named"),
            "leakage-to-case": "leak_without_a_number",
            "sound": "beeper_called_fine",
        },
    ),
    Reference(
        "damp_volts",
        "volts_through_path",
        lambda card, _: {"volts": card.leg_volts, "path": card.path_mohm, "meter": Meter().input_ohms / 1e6},
    ),
    ChoiceReference(
        "which_phantom",
        _phantom,
        {**dict.fromkeys(READ_TWICE, "steady_called_phantom"), "few": "small_called_phantom"},
    ),
    ChoiceReference(
        "still_there",
        lambda card: frozenset({"stop" if card.still_volts > TOUCH_VOLTS else "on"}),
        {
            "stop": "phantom_feared",
            "on": "live_called_phantom",
            "phantom": "live_called_phantom",
            "ohms": "ohms_to_find_volts",
            "half": "one_leg_is_little",
        },
        harmless=lambda _: frozenset({"stop"}),
    ),
)
"""In the order in which they build on one another."""
