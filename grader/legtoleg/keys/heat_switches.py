"""The reference answers of lesson 06, heat switches."""

from __future__ import annotations

from collections.abc import Iterator

from dryerbench.bench.bench import Bench
from dryerbench.bench.meter_ranges import ranges
from dryerbench.course.bench_card import machine_of, open_bench
from dryerbench.topics.heat_switches.sheet import (
    LESSON,
    SUSPECTS,
    TRUCK,
    SwitchCard,
    cause_of,
    cup_case_of,
    reset_of,
    truck_of,
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

BLOWN = frozenset({"lint", "crushed", "welded", "limit_shut", "grounded"})
"""What can blow a thermal cut-off."""

_THERE, _NOT_MENDED = "the right cut-off;", ("still packed", "not found")
READY = frozenset(words for words in TRUCK if words.startswith(_THERE) and not any(one in words for one in _NOT_MENDED))
"""What is in the truck where the right part is there and the cause is fixed."""

CLOSED_OHMS = 0.7
"""What a closed switch may show [Ω]: its contact, and leads that nobody nulled."""
THERMOSTAT_HOT, LIMIT_HOT = 73.0, 127.0
"""Temperatures [°C] at which a sound thermostat and a sound high limit must be open, tolerance and all."""
LOWEST_TO_CASE = 1e6
"""A reading below this from an element to its case [Ω] is a path."""


def _sensor(card: SwitchCard) -> Expected:
    true = card.sensor_sheet_ohms * machine_of(card).thermistor_factor / 1000.0
    scale = next(one for one in ranges("ohms") if one.full_scale >= true * 1000.0)
    band = scale.band(true * 1000.0)
    slack = (band.high - band.low) / 1000.0
    return Expected(true - slack, true + slack)


def _cold(card: SwitchCard) -> dict[str, Expected]:
    closed = Expected(0.0, CLOSED_OHMS)
    return {"thermostat": closed, "cutoff": Expected(over_limit=True), "limit": closed, "sensor": _sensor(card)}


def _readings(bench: Bench, a: str, b: str, hotter_than: float = -100.0) -> Iterator[float | None]:
    """Yield the ohms [Ω] read on one part alone at or above a temperature [°C]; None for OL."""
    for act in bench.trail:
        if act["act"] != "probe" or set(act["with"].values()) != {a, b}:
            continue
        reading, facts = act["reading"], act["facts"]
        whole = reading["mode"] in ("ohms", "insulation") and not facts["other_path"] and not reading["trouble"]
        if whole and act["asked"]["exhaust_celsius"] >= hotter_than:
            yield reading["value"]


def _stays_closed(bench: Bench, a: str, b: str, hot: float) -> bool:
    return any(ohms is not None and ohms <= CLOSED_OHMS for ohms in _readings(bench, a, b, hot))


def _opens(bench: Bench, a: str, b: str, hot: float) -> bool:
    return any(ohms is None for ohms in _readings(bench, a, b, hot))


def _to_case(bench: Bench) -> dict[str, list[float | None]]:
    return {point: list(_readings(bench, point, "case")) for point in ("T1", "T2", "T3", "T0")}


def _touches(bench: Bench) -> bool:
    return any(ohms is not None and ohms < LOWEST_TO_CASE for found in _to_case(bench).values() for ohms in found)


def _clear_of_case(bench: Bench) -> bool:
    found = _to_case(bench)
    every = all(found[point] for point in ("T1", "T2", "T3"))
    return (every or bool(found["T0"])) and not _touches(bench)


def cause_shown(bench: Bench, key: str) -> bool:
    """Return whether the bench's readings show the cause ``key``; for the air: that they clear all the rest."""
    if key == "thermostat":
        return _stays_closed(bench, "H3", "H4", THERMOSTAT_HOT)
    if key == "limit":
        return _stays_closed(bench, "H7", "H8", LIMIT_HOT)
    if key == "element":
        return _touches(bench)
    switches = _opens(bench, "H3", "H4", THERMOSTAT_HOT) and _opens(bench, "H7", "H8", LIMIT_HOT)
    return switches and _clear_of_case(bench)


def _left(bench: Bench, key: str) -> list[str]:
    return [key] if cause_shown(bench, key) else []


_RESET_ASKS = {"duct_in": "prove", "never": "elsewhere", "still_open": "replace"}
"""What a limit with a reset button asks for where its cause is fixed or none is; else the cause comes first."""


def _reset(card: SwitchCard) -> frozenset[str]:
    return frozenset({_RESET_ASKS.get(reset_of(card), "find")})


def _reset_slips(card: SwitchCard) -> dict[str, str]:
    early = "reset_before_cause" if _reset(card) == {"find"} else "reset_misread"
    found = {"back": "reset_and_gone", "tape": "button_held", "prove": early, "replace": early}
    return found | dict.fromkeys(("elsewhere", "find"), "reset_misread")


def _reset_harmless(card: SwitchCard) -> frozenset[str]:
    """Return what hurts nobody: the dryer stays off, or nothing is wrong with it that could burn."""
    more = frozenset() if _reset(card) == {"find"} else frozenset({"prove", "replace"})
    return more | {"elsewhere", "find"}


_CUP = {
    "stuck": "stuck",
    "blind_limit": "blind",
    "blind_thermostat": "blind",
    "opened": "opened",
    "broken": "broken",
}

_INSIDE = ("pull", "read", "back")
"""The steps of the cold test with hands or probes inside; the cover has rules of its own."""

REFERENCES: tuple[ReferenceOf[SwitchCard], ...] = (
    OrderReference(
        "cold_test",
        (
            Before("unplug", "dead", "hands_before_plug", unsafe=True),
            Before("unplug", "cover", "hands_before_plug", unsafe=True),
            Before("prove", "dead", "cover_on_trust", unsafe=True),
            Before("dead", "again", "cover_on_trust", unsafe=True),
            Before("dead", "cover", "cover_on_trust", unsafe=True),
            Before("again", "cover", "cover_on_trust", unsafe=True),
            *(Before("unplug", step, "hands_before_plug", unsafe=True) for step in _INSIDE),
            *(Before("again", step, "cover_on_trust", unsafe=True) for step in _INSIDE),
            Before("cover", "pull", "steps_out_of_reach"),
            Before("cover", "read", "steps_out_of_reach"),
            Before("pull", "read", "read_in_circuit"),
            Before("read", "back", "read_in_circuit"),
            Before("pull", "back", "steps_out_of_reach"),
        ),
    ),
    ReadingsReference("cold_readings", _cold, "closed_is_not_over_limit", "blown_is_over_limit"),
    ChoiceReference(
        "in_the_cup",
        lambda card: frozenset({_CUP[cup_case_of(card)]}),
        {
            "opened": "cup_called_opened",
            "stuck": "cup_called_stuck",
            "blind": "cup_called_blind",
            "broken": "cup_called_broken",
        },
    ),
    Reference(
        "sensor_ohms",
        "sensor_ohms",
        lambda card, _: {"sheet_ohms": card.sensor_sheet_ohms, "fahrenheit": card.sensor_fahrenheit},
    ),
    Reference(
        "sensor_degrees",
        "sensor_degrees",
        lambda card, _: {"sheet_ohms": card.sensor_sheet_ohms, "reads": card.sensor_reads},
    ),
    Reference(
        "contact_ohms",
        "contact_ohms",
        lambda card, _: {"millivolts": card.drop_millivolts, "amps": card.heater_amps},
    ),
    Reference(
        "contact_heat",
        "contact_heat",
        lambda card, own: {
            "ohms": own["contact_ohms"],
            "amps": card.heater_amps,
            "millivolts": card.drop_millivolts,
        },
    ),
    ChoiceReference(
        "can_blow",
        lambda card: frozenset(card.blown_keys) & BLOWN,
        dict.fromkeys(BLOWN, "heat_piles_up") | dict.fromkeys(set(SUSPECTS) - BLOWN, "less_heat_cannot_blow"),
    ),
    FaultReference(
        "blown_by",
        open_bench,
        lambda card: frozenset({cause_of(card)}),
        _left,
        "cause_not_shown",
        {
            **dict.fromkeys(("thermostat", "limit", "element", "air"), "blamed_without_reading"),
            "age": "blown_by_age",
        },
    ),
    ChoiceReference(
        "no_cutoff_here",
        lambda card: frozenset({"fit" if truck_of(card) in READY else "leave"}),
        {
            "leave": "ready_held_back",
            "fit": "fitted_too_early",
            "bridge": "bridged_cutoff",
            "hotter": "hotter_cutoff",
            "fuse": "fuse_for_cutoff",
            "just_fit": "cause_left_in",
        },
        harmless=lambda _: frozenset({"leave"}),
    ),
    ChoiceReference("reset_limit", _reset, _reset_slips, harmless=_reset_harmless),
)
"""In the order in which they build on one another."""
