"""The practice drills of lesson 02."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.drills import Drill


def _loads(stream: Stream) -> dict[str, float]:
    return {
        "volts": stream.step("232", "248", "1"),
        "load_a": stream.step("42", "60", "1"),
        "load_b": stream.step("9", "12.5", "0.5"),
    }


DRILLS: dict[str, Drill] = {
    "neutral_amps": Drill(
        "neutral_amps",
        "A",
        3,
        _loads,
        lambda n: (
            f"There are {n['volts']:g} V leg to leg. {n['load_a']:g} Ω is on leg 1, {n['load_b']:g} Ω is on leg 2. "
            "How many amps does the neutral carry?"
        ),
    ),
    "open_neutral": Drill(
        "open_neutral",
        "V",
        3,
        _loads,
        lambda n: (
            f"The neutral is open. So {n['load_a']:g} Ω and {n['load_b']:g} Ω are in series across {n['volts']:g} V. "
            f"How many volts are across the {n['load_a']:g} Ω?"
        ),
    ),
}
