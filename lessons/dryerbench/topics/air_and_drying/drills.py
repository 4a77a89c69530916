"""The practice drills of lesson 08."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.drills import Drill
from dryerbench.course.models import Numbers
from dryerbench.topics.air_and_drying.models import EDITIONS
from dryerbench.topics.air_and_drying.sheet import ELBOWS

LONGEST = {"2009 and later": 35, "2006": 25}
"""Longest straight duct [ft] by edition, as the lesson's table has it."""


def _elbows(stream: Stream) -> Numbers:
    elbows_90, elbows_45 = stream.choose(ELBOWS)
    return {"edition": stream.choose(EDITIONS), "elbows_90": elbows_90, "elbows_45": elbows_45}


def _speed(stream: Stream) -> dict[str, float]:
    return {"fpm": stream.step("500", "2000", "10")}


def _heat(stream: Stream) -> dict[str, float]:
    watts, cfm = stream.step("4200", "6600", "50"), stream.step("60", "170", "5")
    return {"watts": watts, "cfm": cfm, "room": stream.step("62", "80", "1")}


def _gauge(stream: Stream) -> dict[str, float]:
    return {"inches": stream.step("0.60", "1.30", "0.02"), "at_cfm": 200.0, "cfm": stream.step("50", "160", "5")}


DRILLS: dict[str, Drill] = {
    "duct_rule": Drill(
        "duct_left",
        "ft",
        2,
        _elbows,
        lambda n: (
            f"By the edition “{n['edition']}” a straight duct may have {LONGEST[str(n['edition'])]} ft. "
            f"Your tight elbows: {n['elbows_90']} of 90° and {n['elbows_45']} of 45°. "
            "How many feet of straight duct are left?"
        ),
    ),
    "hood_speed": Drill(
        "vent_flow",
        "cfm",
        3,
        _speed,
        lambda n: f"Air leaves a 4 in duct at {n['fpm']:.0f} ft/min. How many cfm is that?",
    ),
    "heat_in_air": Drill(
        "air_after_heater",
        "°F",
        3,
        _heat,
        lambda n: (
            f"A heater makes {n['watts']:.0f} W in {n['cfm']:.0f} cfm of air from a room of {n['room']:.0f} °F. "
            "How warm is the air after the heater?"
        ),
    ),
    "gauge_at_flow": Drill(
        "clean_gauge",
        "inH2O",
        2,
        _gauge,
        lambda n: (
            f"A clean duct takes {n['inches']:.2f} inH2O at {n['at_cfm']:.0f} cfm. "
            f"How many inches of water does it take at {n['cfm']:.0f} cfm?"
        ),
    ),
}
