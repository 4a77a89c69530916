"""The practice drills of lesson 10."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.drills import Drill


def _call(stream: Stream) -> dict[str, float]:
    return {"drive": stream.integer(8, 35), "find": stream.integer(25, 55), "fix": float(5 * stream.integer(3, 14))}


def _quote(stream: Stream) -> dict[str, float]:
    return {
        "minutes": float(stream.integer(80, 160)),
        "rate": 5 * stream.integer(12, 20),
        "trip_charge": 5 * stream.integer(8, 18),
        "parts": float(stream.integer(10, 140)),
        "new_price": 10 * stream.integer(45, 95),
    }


DRILLS: dict[str, Drill] = {
    "call_minutes": Drill(
        "call_minutes",
        "min",
        3,
        _call,
        lambda n: (
            f"{n['drive']} min of driving one way, {n['find']} min to find the fault and prove the repair, "
            f"{n['fix']:g} min to put the part in. How many minutes is the whole call?"
        ),
    ),
    "quote_share": Drill(
        "quote_share",
        "%",
        3,
        _quote,
        lambda n: (
            f"A call takes {n['minutes']:g} min at ${n['rate']} an hour; trip charge ${n['trip_charge']}, part "
            f"${n['parts']:g}. A new dryer is ${n['new_price']}. What percent of that is the repair?"
        ),
    ),
}
