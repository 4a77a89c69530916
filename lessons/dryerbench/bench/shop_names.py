"""The shop's word for what trails, tables and code call otherwise: a person reads ``cabinet``, a trail keeps ``case``.

The one source of both directions. Acts take either; records, trails and hand-ins keep the name that they always had.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

CASE = "case"
"""The bench's name of the cabinet's metal, on every machine."""
SHOP_NAMES: Mapping[str, str] = {
    CASE: "cabinet",
    **{f"element {number}": f"coil {number}" for number in (1, 2, 3)},
    "elements": "whole element",
    "frame strap": "strap",
    "motor centrifugal switch": "centrifugal switch",
    "run N": "neutral of the circuit",
    **{f"outlet-{slot}": f"receptacle-{slot}" for slot in ("1", "2", "N", "G")},
    "outlet": "receptacle",
    "block": "terminal block",
    "hood": "vent hood",
    "heat switches": "thermostats",
}
"""What a person reads, by the bench's name; a name that is missing is the shop's word already."""
MODE_WORDS: Mapping[str, str] = {
    "volts": "volts",
    "low-impedance": "LoZ volts",
    "ohms": "ohms",
    "continuity": "continuity (beeper)",
    "insulation": "insulation, 500 V",
    "clamp": "amps with the clamp",
}
"""What a person reads for a setting of the meter; one that is missing is the shop's word already."""
HEAT_WORDS: Mapping[str, str] = {"none": "off", "air": "air fluff"}
"""What a person reads for a setting of the control; one that is missing is the shop's word already."""
CABINET_WORD = SHOP_NAMES[CASE]
_OF_PLACES = {"where": ("outlet", "block"), "place": ("heat switches",)}
"""The details of an act that hold a place, and which names stand there: a part may have the word of another's place."""
_OF_PARTS = ("a", "b", "part", "conductor")
"""The details of an act that hold a point or a part."""
_ALONE = ("outlet", "block", "hood", "heat switches")
"""Names of places, which no point and no part has."""
_KEYS = {word: name for name, word in SHOP_NAMES.items() if name not in _ALONE}
_NAMED = {
    **dict.fromkeys(_OF_PARTS, _KEYS),
    **{key: {SHOP_NAMES[name]: name for name in names} for key, names in _OF_PLACES.items()},
}
"""The bench's name by what a person says, for each detail of an act that holds one."""


def shop_name(name: str) -> str:
    """Return what a person reads for the bench's ``name`` of a point, a part or a place."""
    return SHOP_NAMES.get(name, name)


def mode_words(mode: str) -> str:
    """Return what a person reads for the meter's setting ``mode``."""
    return MODE_WORDS.get(mode, mode)


def heat_words(heat: str) -> str:
    """Return what a person reads for the control's setting ``heat``."""
    return HEAT_WORDS.get(heat, heat)


def listed(names: Iterable[str]) -> str:
    """Return ``names`` as a person reads them, one after the other."""
    return ", ".join(map(shop_name, names))


def bench_name(said: str) -> str:
    """Return the bench's name of the point or the part that a person calls ``said``."""
    return _KEYS.get(said, said)


def bench_names(given: Mapping[str, object]) -> dict[str, object]:
    """Return the details of an act with every name in them as the bench has it."""
    known = {key: _NAMED.get(key, {}) for key in given}
    return {key: known[key].get(value, value) if isinstance(value, str) else value for key, value in given.items()}
