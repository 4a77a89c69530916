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


def _lifted(stream: Stream) -> dict[str, float]:
    return {
        "touch_volts": stream.step("6", "24", "0.5"),
        "ohms": stream.step("1500", "3000", "100"),
        "leg_volts": 120.0,
    }


DRILLS: dict[str, Drill] = {
    "shock_current": Drill(
        "shock_current",
        "mA",
        3,
        _touch,
        lambda n: f"One hot leg has {n['volts']:g} V. From hand to ground there are {n['ohms']:g} Ω. How many mA?",
    ),
    "bonded_case": Drill(
        "bonded_case",
        "V",
        3,
        _case,
        lambda n: (
            f"A fault drives {n['amps']:g} A through a ground wire of {n['ohms']:g} Ω. How many volts are on the "
            f"cabinet?"
        ),
    ),
    "touch_current": Drill(
        "touch_current",
        "mA",
        3,
        _lifted,
        lambda n: f"The cabinet has {n['touch_volts']:g} V on it. The person has {n['ohms']:g} Ω. How many mA?",
    ),
}
