"""The practice drills of lesson 03."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.core.temperatures import fahrenheit
from dryerbench.course.drills import Drill
from dryerbench.course.models import Number, Numbers
from dryerbench.electricity.ohms_law import current, parallel


def _volts_ohms(stream: Stream) -> dict[str, float]:
    return {"volts": stream.step("230", "250", "1"), "ohms": stream.step("22", "34", "0.5")}


def _watts(stream: Stream) -> dict[str, float]:
    numbers = _volts_ohms(stream)
    return {**numbers, "amps": current(numbers["volts"], numbers["ohms"])}


def _three(stream: Stream) -> Numbers:
    return {"ohms": tuple(stream.step("22", "34", "0.5") for _ in range(3))}


def _each(ohms: Number) -> str:
    return ", ".join(f"{one:g} Ω" for one in (ohms if isinstance(ohms, tuple) else (ohms,)))


def _one_open(stream: Stream) -> dict[str, float]:
    volts, ohms = stream.step("230", "250", "1"), stream.step("24", "30", "0.5")
    return {"volts": volts, "line_amps": current(volts, parallel([ohms] * 3)), "open_ohms": ohms}


def _elsewhere(stream: Stream) -> dict[str, float]:
    return {
        "watts": stream.step("4800", "6600", "50"),
        "rated": 240.0,
        "volts": stream.choose((208.0, 220.0, 228.0)),
    }


def _hot(stream: Stream) -> dict[str, float]:
    celsius = stream.choose((400.0, 450.0, 500.0, 550.0))
    return {"cold": stream.step("22", "34", "0.5"), "fahrenheit": round(fahrenheit(celsius), 1)}


def _run(stream: Stream) -> dict[str, float]:
    return {"amps": stream.step("18", "28", "0.5"), "feet": stream.integer(20, 120), "awg": 10}


def _off(stream: Stream) -> dict[str, float]:
    sheet = stream.step("24", "30", "0.5")
    return {"reading": round(sheet + stream.step("1.0", "5.0", "0.1"), 1), "sheet": sheet}


DRILLS: dict[str, Drill] = {
    "amps": Drill(
        "amps",
        "A",
        3,
        _volts_ohms,
        lambda n: f"One coil of {n['ohms']:g} Ω is across both legs, {n['volts']:g} V. How many amps does it draw?",
    ),
    "watts": Drill(
        "watts",
        "W",
        3,
        _watts,
        lambda n: f"One coil of {n['ohms']:g} Ω is across {n['volts']:g} V. How many watts does it make?",
    ),
    "side_by_side": Drill(
        "side_by_side",
        "Ω",
        3,
        _three,
        lambda n: "Three coils are in parallel: " + _each(n["ohms"]) + ". How many ohms do you read across all three?",
    ),
    "watts_elsewhere": Drill(
        "watts_elsewhere",
        "W",
        3,
        _elsewhere,
        lambda n: (
            f"A heater makes {n['watts']:g} W on {n['rated']:g} V. How many watts does it make on {n['volts']:g} V?"
        ),
    ),
    "amps_one_open": Drill(
        "amps_one_open",
        "A",
        3,
        _one_open,
        lambda n: (
            f"Three coils of {n['open_ohms']:g} Ω each on {n['volts']:g} V, and one of them is open. "
            "How many amps still flow in the line?"
        ),
    ),
    "percent_off": Drill(
        "percent_off",
        "%",
        3,
        _off,
        lambda n: (
            f"A coil reads {n['reading']:.1f} Ω. The tech sheet says {n['sheet']:.1f} Ω. By what percent is "
            "it too high?"
        ),
    ),
    "hot_ohms": Drill(
        "hot_ohms",
        "Ω",
        3,
        _hot,
        lambda n: f"A coil reads {n['cold']:g} Ω cold. Its wire works at {n['fahrenheit']:g} °F. How many ohms then?",
    ),
    "run_drop": Drill(
        "run_drop",
        "V",
        2,
        _run,
        lambda n: (
            f"{n['amps']:g} A flows through {n['feet']} ft of {n['awg']} AWG copper, out and back. How many volts are "
            f"lost?"
        ),
    ),
}
