"""The practice bench of lesson 02: another house's receptacle, read by a qualified person."""

from __future__ import annotations

from functools import partial
from itertools import combinations

from dryerbench.bench.bench import Bench
from dryerbench.course.practice_bench import Aim, PracticeBench, fault_job

_MACHINES = ("garage", "pantry", "hallway", "cabin", "workshop")
"""Dryers with a cord of four wires: their receptacle has a slot for each."""
_KINDS = ("leg-1-lost", "leg-2-lost", "neutral-lost", "service-neutral-lost", "supply-of-208")
_SLOTS = ("outlet-1", "outlet-2", "outlet-N")


def _places(bench: Bench, *names: str) -> list[int]:
    return [place for place, act in enumerate(bench.trail) if act["act"] in names]


def _before_reading(bench: Bench, name: str) -> bool:
    first = min(_places(bench, "probe"), default=len(bench.trail))
    return any(place < first for place in _places(bench, name))


def _all_pairs(bench: Bench) -> bool:
    read = {frozenset(act["reading"]["places"]) for act in bench.trail
            if "reading" in act and act["reading"]["mode"] == "low-impedance"}  # fmt: skip
    return {frozenset(pair) for pair in combinations(_SLOTS, 2)} <= read


def _checked_after(bench: Bench) -> bool:
    last = max(_places(bench, "probe"), default=len(bench.trail))
    return any(place > last for place in _places(bench, "prove_meter"))


PRACTICE_BENCHES = {
    "receptacle_check": PracticeBench(
        "You are the qualified person. Read this receptacle on LoZ, with the plug out: leg to leg, and each leg to "
        "neutral. Gloves on first, the meter checked before and after. Then name what is wrong.",
        partial(fault_job, _MACHINES, "receptacle_check", _KINDS, _KINDS),
        (
            Aim(lambda bench: _before_reading(bench, "gear_on"), "You read it with bare hands. Gloves on first."),
            Aim(lambda bench: _before_reading(bench, "prove_meter"), "Check the meter before you read."),
            Aim(_all_pairs, "Read all three pairs, with the dial on LoZ."),
            Aim(_checked_after, "Check the meter again, after the last reading."),
        ),
        compare="Ask which reading is low. Is it the one with leg 1 in it, the one with leg 2, or both to neutral?",
    )
}
