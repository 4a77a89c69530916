"""The practice drills of lesson 06."""

from __future__ import annotations

from dryerbench.air.thermistor import BetaThermistor
from dryerbench.core.random_stream import Stream
from dryerbench.core.temperatures import celsius
from dryerbench.course.drills import Drill
from dryerbench.course.models import Number
from dryerbench.electricity import contacts
from dryerbench.topics.heat_switches.sheet import SENSOR_ROWS


def _sheet(stream: Stream) -> float:
    return 1000.0 * stream.step("10.6", "13.0", "0.2")


def _kilohms(ohms: Number) -> float:
    assert isinstance(ohms, float)
    return ohms / 1000


def _warm(stream: Stream) -> dict[str, float]:
    return {"sheet_ohms": _sheet(stream), "fahrenheit": stream.choose(SENSOR_ROWS)}


def _read(stream: Stream) -> dict[str, float]:
    sheet_ohms = _sheet(stream)
    reads = BetaThermistor(sheet_ohms).ohms(celsius(stream.choose(SENSOR_ROWS)))
    return {"sheet_ohms": sheet_ohms, "reads": float(f"{reads:.3g}")}


def _drop(stream: Stream) -> dict[str, float]:
    return {"millivolts": 10.0 * stream.integer(20, 190), "amps": stream.step("18", "28", "0.5")}


def _heat(stream: Stream) -> dict[str, float]:
    drop = _drop(stream)
    return {"amps": drop["amps"], "ohms": round(contacts.ohms_from_drop(drop["millivolts"], drop["amps"]), 4)}


DRILLS: dict[str, Drill] = {
    "warm_sensor": Drill(
        "sensor_ohms",
        "kΩ",
        3,
        _warm,
        lambda n: (
            f"A thermistor has {_kilohms(n['sheet_ohms']):.1f} kΩ at 77 °F. How many kΩ does it read at "
            f"{n['fahrenheit']:g} °F?"
        ),
    ),
    "sensor_to_degrees": Drill(
        "sensor_degrees",
        "°F",
        3,
        _read,
        lambda n: (
            f"A thermistor with {_kilohms(n['sheet_ohms']):.1f} kΩ at 77 °F now reads {_kilohms(n['reads']):.3g} kΩ. "
            "How warm is it, in °F?"
        ),
    ),
    "drop_to_ohms": Drill(
        "contact_ohms",
        "Ω",
        3,
        _drop,
        lambda n: f"A contact drops {n['millivolts']:g} mV while {n['amps']:g} A flows through it. How many ohms?",
    ),
    "heat_in_contact": Drill(
        "contact_heat",
        "W",
        3,
        _heat,
        lambda n: f"A contact of {n['ohms']:.4f} Ω carries {n['amps']:g} A. How many watts of heat does it make?",
    ),
}
