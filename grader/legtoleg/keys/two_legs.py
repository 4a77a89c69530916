"""The reference answers of lesson 02, two legs."""

from __future__ import annotations

from dryerbench.bench.bench import Bench
from dryerbench.bench.meter_ranges import ranges
from dryerbench.bench.worksite import situation_on
from dryerbench.course.bench_card import faults_of, open_bench
from dryerbench.topics.two_legs.sheet import LESSON, PAIRS, SOUND, TwoLegsCard
from legtoleg.keys.reference import (
    ChoiceReference,
    Expected,
    Goal,
    ReadingsReference,
    Reference,
    ReferenceOf,
    WorkReference,
)

__all__ = ["LESSON", "REFERENCES"]

_NOTHING = 3.0
"""V below which a low-impedance reading of a receptacle counts as nothing."""


def _expected(bench: Bench, pair: tuple[str, str]) -> Expected:
    """Return every reading (V) that the meter's accuracy allows of ``pair``; ghost volts are a slip."""
    scale = ranges("low-impedance")[0]
    behind = situation_on(bench).live[pair]
    volts, phantom = (bench.meter.loaded_volts(behind, mode) for mode in ("low-impedance", "volts"))
    if volts < _NOTHING / 2:
        return Expected(0.0, _NOTHING, slips={"phantom_read": phantom})
    share, counts = scale.percent / 100.0, scale.counts * scale.resolution
    return Expected((volts - counts) / (1.0 + share), (volts + counts) / (1.0 - share))


def _rows(card: TwoLegsCard) -> dict[str, Expected]:
    bench = open_bench(card)
    bench.do("unplug")
    return {key: _expected(bench, pair) for key, pair in PAIRS.items()}


def _readings(bench: Bench) -> list[int]:
    """Return the places in the trail where two slots were read in the low-impedance setting."""
    return [
        place
        for place, act in enumerate(bench.trail)
        if act["act"] == "probe" and act["reading"]["mode"] == "low-impedance"
    ]


def _all_pairs(bench: Bench) -> bool:
    read = {frozenset(bench.trail[place]["reading"]["places"]) for place in _readings(bench)}
    return {frozenset(pair) for pair in PAIRS.values()} <= read


def _places(bench: Bench, act: str) -> list[int]:
    return [place for place, one in enumerate(bench.trail) if one["act"] == act]


def _geared(bench: Bench) -> bool:
    first = min(_places(bench, "probe"), default=0)
    return any(place < first for place in _places(bench, "gear_on"))


def _proved_before(bench: Bench) -> bool:
    first = min(_places(bench, "probe"), default=0)
    return any(place < first for place in _places(bench, "prove_meter"))


def _proved_after(bench: Bench) -> bool:
    last = max(_places(bench, "probe"), default=len(bench.trail))
    return any(place > last for place in _places(bench, "prove_meter"))


def _strap_slips(card: TwoLegsCard) -> dict[str, str]:
    four = card.cord == "four-wire"
    return {
        "on": "strap_on_four",
        "off": "strap_off_three",
        "both": "strap_on_four" if four else "cord_not_counted",
        "none": "cord_not_counted" if four else "strap_off_three",
    }


REFERENCES: tuple[ReferenceOf[TwoLegsCard], ...] = (
    Reference("leg_to_leg_volts", "split_volts", lambda card, _: {"volts": card.leg_volts}),
    Reference("wye_leg_to_leg_volts", "wye_volts", lambda card, _: {"volts": card.leg_volts}),
    Reference(
        "neutral_current",
        "neutral_amps",
        lambda card, _: {"volts": 2 * card.leg_volts, "load_a": card.load_ohms[0], "load_b": card.load_ohms[1]},
    ),
    Reference(
        "open_neutral_volts",
        "open_neutral",
        lambda card, own: {
            "volts": own["leg_to_leg_volts"],
            "load_a": card.load_ohms[0],
            "load_b": card.load_ohms[1],
        },
    ),
    Reference("strapped_case_volts", "strapped_case", lambda card, _: {"volts": card.leg_volts}),
    ChoiceReference(
        "frame_strap",
        lambda card: frozenset({"off" if card.cord == "four-wire" else "on"}),
        _strap_slips,
    ),
    WorkReference(
        "receptacle_check",
        open_bench,
        (
            Goal(_geared, "bare_hands"),
            Goal(_proved_before, "meter_unproved"),
            Goal(_all_pairs, "pair_not_read"),
            Goal(_proved_after, "zero_not_confirmed"),
        ),
    ),
    ReadingsReference("receptacle_readings", _rows),
    ChoiceReference(
        "receptacle_fault",
        lambda card: frozenset(faults_of(card) or (SOUND,)),
        {
            SOUND: "called_sound",
            "lost-leg-1": "called_lost_leg",
            "lost-leg-2": "called_lost_leg",
            "open-neutral": "called_open_neutral",
            "open-service-neutral": "called_service_neutral",
            "supply-208": "called_wye",
            "low-supply": "called_sag",
        },
    ),
)
"""In the order in which they build on one another."""
