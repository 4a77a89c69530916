"""The practice drills of lesson 07."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.drills import Drill
from dryerbench.topics.tracing_the_circuit.sheet import PLACES


def _open(stream: Stream) -> dict[str, float]:
    return {"volts": stream.step("226", "248", "1"), "contacts": stream.integer(3, 6)}


def _closed(stream: Stream) -> dict[str, float]:
    return {
        "milliohms": stream.step("6", "38", "1"),
        "amps": stream.step("22", "26.5", "0.5"),
        "volts": stream.step("230", "248", "1"),
    }


def _split(stream: Stream) -> dict[str, float]:
    return {"places": stream.choose(PLACES), "minutes": stream.integer(2, 4)}


DRILLS: dict[str, Drill] = {
    "open_volts": Drill(
        "open_volts",
        "V",
        3,
        _open,
        lambda n: (
            f"{n['contacts']} contacts in series feed a heater, {n['volts']:g} V leg to leg. One of them is open. "
            "How many volts across that one?"
        ),
    ),
    "closed_drop": Drill(
        "closed_drop",
        "mV",
        2,
        _closed,
        lambda n: (
            f"A closed contact of {n['milliohms']:g} mΩ carries {n['amps']:g} A at {n['volts']:g} V leg to leg. "
            "How many millivolts across it?"
        ),
    ),
    "split_minutes": Drill(
        "split_minutes",
        "min",
        2,
        _split,
        lambda n: (
            f"One of {n['places']} places is open, and a reading takes {n['minutes']} minutes. "
            "How many minutes at most, if you split in half each time?"
        ),
    ),
}
