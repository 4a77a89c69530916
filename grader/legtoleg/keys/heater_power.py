"""The reference answers of lesson 03, heater power."""

from __future__ import annotations

from dryerbench.topics.heater_power.sheet import BREAKER_AMPS, LESSON, WYE_VOLTS, HeaterCard
from legtoleg.keys.reference import Reference, ReferenceOf

__all__ = ["LESSON", "REFERENCES"]


def _first(card: HeaterCard) -> float:
    return card.element_ohms[0]


REFERENCES: tuple[ReferenceOf[HeaterCard], ...] = (
    Reference("element_current", "amps", lambda card, _: {"volts": card.supply_volts, "ohms": _first(card)}),
    Reference(
        "element_power",
        "watts",
        lambda card, own: {"volts": card.supply_volts, "amps": own["element_current"], "ohms": _first(card)},
    ),
    Reference("heater_ohms", "side_by_side", lambda card, _: {"ohms": card.element_ohms, "volts": card.supply_volts}),
    Reference(
        "heater_current",
        "line_amps",
        lambda card, own: {
            "volts": card.supply_volts,
            "heater_ohms": own["heater_ohms"],
            "ohms": card.element_ohms,
        },
    ),
    Reference(
        "heater_power",
        "line_watts",
        lambda card, own: {"volts": card.supply_volts, "amps": own["heater_current"], "ohms": card.element_ohms},
    ),
    Reference(
        "power_at_208",
        "watts_elsewhere",
        lambda card, own: {
            "watts": own["heater_power"],
            "rated": card.supply_volts,
            "volts": WYE_VOLTS,
            "ohms": card.element_ohms,
        },
    ),
    Reference(
        "sag_share",
        "share_left",
        lambda card, own: {
            "rated": card.supply_volts,
            "volts": card.sag_volts,
            "watts": own["heater_power"],
            "element_ohms": _first(card),
        },
    ),
    Reference(
        "open_element_current",
        "amps_one_open",
        lambda card, own: {
            "volts": card.supply_volts,
            "line_amps": own["heater_current"],
            "open_ohms": card.element_ohms[card.open_element - 1],
            "working": tuple(ohms for n, ohms in enumerate(card.element_ohms, 1) if n != card.open_element),
        },
    ),
    Reference(
        "drift",
        "percent_off",
        lambda card, _: {"reading": card.element_ohms[card.drifted - 1], "sheet": card.sheet_ohms},
    ),
    Reference("hot_ohms", "hot_ohms", lambda card, _: {"cold": _first(card), "fahrenheit": card.wire_fahrenheit}),
    Reference(
        "run_drop",
        "run_drop",
        lambda card, own: {
            "amps": own["heater_current"],
            "feet": card.run_feet,
            "awg": card.run_awg,
            "volts": card.supply_volts,
        },
    ),
    Reference(
        "circuit_share",
        "breaker_share",
        lambda card, own: {
            "amps": own["heater_current"],
            "breaker": BREAKER_AMPS,
            "volts": card.supply_volts,
            "ohms": card.element_ohms,
        },
    ),
    Reference("control_off_volts", "case_volts_control_off", lambda card, _: {"volts": card.supply_volts}),
    Reference(
        "breaker_limit",
        "breaker_for_wire",
        lambda card, own: {"awg": card.found_awg, "amps": own["heater_current"]},
    ),
)
"""In the order in which they build on one another."""
