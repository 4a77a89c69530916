"""The practice drills of lesson 01."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.drills import Drill


def _touch(stream: Stream) -> dict[str, float]:
    return {"volts": stream.step("115", "125", "1"), "ohms": stream.step("1500", "3000", "100")}


def _case(stream: Stream) -> dict[str, float]:
    return {
        "amps": stream.step("40", "120", "5"),
        "ohms": stream.step("0.06", "0.30", "0.02"),
        "leg_volts": 120.0,
    }


DRILLS: dict[str, Drill] = {
    "shock_current": Drill(
        "shock_current",
        "mA",
        3,
        _touch,
        lambda n: f"One leg of {n['volts']:g} V, and {n['ohms']:g} Ω from hand to ground. How many mA?",
    ),
    "bonded_case": Drill(
        "bonded_case",
        "V",
        3,
        _case,
        lambda n: (
            f"A fault drives {n['amps']:g} A through a ground wire of {n['ohms']:g} Ω. How many volts on the case?"
        ),
    ),
}
