"""The practice drills of lesson 09."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.drills import Drill


def _predicted(stream: Stream) -> dict[str, float]:
    return {"volts": stream.step("226", "246", "0.5"), "ohms": stream.step("24", "30", "0.5")}


def _clamp(stream: Stream) -> dict[str, float]:
    return {"amps": stream.step("15", "29", "0.1")}


DRILLS: dict[str, Drill] = {
    "predicted_amps": Drill(
        "predicted_amps",
        "A",
        3,
        _predicted,
        lambda n: (
            f"Three coils of {n['ohms']:g} Ω cold, in parallel, {n['volts']:g} V leg to leg with the heat on. "
            "How many amps will the line carry, hot (factor 1.026)?"
        ),
    ),
    "clamp_off": Drill(
        "clamp_off",
        "A",
        2,
        _clamp,
        lambda n: (
            f"A clamp shows {n['amps']:.2f} A, in steps of 0.01 A, and is good to ±(2 % + 5 counts). "
            "By how many amps may it be off?"
        ),
    ),
}
