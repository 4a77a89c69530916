"""The reference answers of lesson 08, air and drying."""

from __future__ import annotations

from dryerbench.topics.air_and_drying.sheet import (
    CLEAN_CFM,
    HOODS,
    LESSON,
    ON_THE_WAY,
    ON_VENTS,
    AirCard,
    hood_of,
    trouble_of,
    way_options,
)
from legtoleg.keys.reference import Before, ChoiceReference, OrderReference, Reference, ReferenceOf

__all__ = ["LESSON", "REFERENCES"]

TRAPS = frozenset({"plastic", "foil_in_wall", "screws", "screen", "attic"})
"""What holds lint or feeds a fire."""
SHUT = frozenset(seen for seen in HOODS if "limit clicks" in seen)
"""What is seen where too little air moves: the high limit opens."""

BLOWER_FAULTS = frozenset({"cracked", "packed", "slips"})
WAY_FAULTS = BLOWER_FAULTS | {"in_wall", "long", "unlisted"}
"""What has to be fixed between drum and wall, by the lesson's text (IRC M1502 from memory; blower: practice)."""

REFERENCES: tuple[ReferenceOf[AirCard], ...] = (
    Reference(
        "duct_left",
        "duct_left",
        lambda card, _: {"edition": card.edition, "elbows_90": card.elbows_90, "elbows_45": card.elbows_45},
    ),
    Reference("vent_flow", "vent_flow", lambda card, _: {"fpm": card.notes.hood_fpm}),
    Reference(
        "air_after_heater",
        "air_after_heater",
        lambda card, own: {
            "watts": card.notes.watts,
            "cfm": own["vent_flow"],
            "room": card.room_fahrenheit,
        },
    ),
    Reference(
        "clean_gauge",
        "clean_gauge",
        lambda card, own: {"inches": card.clean_inches, "at_cfm": CLEAN_CFM, "cfm": own["vent_flow"]},
    ),
    Reference(
        "on_share",
        "on_share",
        lambda card, _: {"on": card.notes.on_minutes, "whole": card.notes.dry_minutes},
    ),
    Reference(
        "longer",
        "longer",
        lambda card, _: {"took": card.notes.dry_minutes, "sound": card.sound_minutes},
    ),
    ChoiceReference(
        "slow_because",
        lambda card: frozenset({trouble_of(card).cause}),
        {
            "vent": "blamed_vent",
            "filter": "blamed_filter",
            "open": "blamed_element",
            "volts": "blamed_supply",
            "cool": "blamed_cool_thermostat",
            "welded": "blamed_welded",
        },
    ),
    ChoiceReference(
        "lint_traps",
        lambda card: frozenset(card.trap_keys) & TRAPS,
        dict.fromkeys(TRAPS, "trap_missed") | dict.fromkeys(set(ON_VENTS) - TRAPS, "sound_vent_blamed"),
        harmless=lambda _: frozenset(ON_VENTS) - TRAPS,
    ),
    OrderReference(
        "cleaning",
        (
            Before("unplug", "forward", "cleaned_plugged_in", unsafe=True),
            Before("unplug", "off", "cleaned_plugged_in", unsafe=True),
            Before("unplug", "brush", "cleaned_plugged_in", unsafe=True),
            Before("unplug", "on", "cleaned_plugged_in", unsafe=True),
            Before("unplug", "push", "cleaned_plugged_in", unsafe=True),
            Before("unplug", "plug", "cleaned_plugged_in", unsafe=True),
            Before("off", "plug", "cleaned_plugged_in", unsafe=True),
            Before("brush", "plug", "cleaned_plugged_in", unsafe=True),
            Before("on", "plug", "cleaned_plugged_in", unsafe=True),
            Before("on", "run", "ran_without_duct", unsafe=True),
            Before("forward", "off", "vent_steps_turned"),
            Before("off", "brush", "vent_steps_turned"),
            Before("off", "on", "vent_steps_turned"),
            Before("brush", "on", "vent_steps_turned"),
            Before("on", "push", "vent_steps_turned"),
            Before("forward", "push", "vent_steps_turned"),
            Before("plug", "run", "vent_steps_turned"),
            Before("push", "run", "vent_steps_turned"),
        ),
    ),
    ChoiceReference(
        "lint_found",
        lambda card: frozenset({"stop" if hood_of(card) in SHUT else "run"}),
        {
            "stop": "good_air_stopped",
            "run": "ran_on_with_lint",
            "low": "ran_on_with_lint",
            "filter_only": "filter_is_not_the_vent",
            "note": "note_is_no_lock",
            "indoors": "vented_indoors",
        },
        harmless=lambda _: frozenset({"stop"}),
    ),
    ChoiceReference(
        "drum_to_wall",
        lambda card: WAY_FAULTS & {option.key for option in way_options(card)},
        dict.fromkeys(set(ON_THE_WAY) - WAY_FAULTS, "good_way_blamed")
        | dict.fromkeys(BLOWER_FAULTS, "blower_passed")
        | dict.fromkeys(WAY_FAULTS - BLOWER_FAULTS, "transition_passed"),
        harmless=lambda _: frozenset(ON_THE_WAY) - WAY_FAULTS | BLOWER_FAULTS,
    ),
)
"""In the order in which they build on one another."""
