"""Sums that only the ten minutes ask, each dealt anew, and the warm-ups whose sum a drill asks in their place.

A drill that a lesson shows is a card as well; these are for what no lesson drills. Nothing here holds an answer: it is
computed from the numbers dealt, by the task that marks the graded question of its kind.
"""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.core.random_stream import Stream
from dryerbench.course.drills import Drill
from dryerbench.course.models import Numbers
from dryerbench.electricity.ohms_law import current, parallel, power
from dryerbench.registry import drill


@dataclass(frozen=True)
class Sum:
    """One sum: of which lesson, and how it is dealt and asked."""

    lesson: str
    drill: Drill


def _leg(stream: Stream) -> Numbers:
    return {"volts": stream.step("115", "125", "1")}


def _supply(stream: Stream) -> Numbers:
    return {"volts": stream.step("230", "250", "2")}


def _one_leg(stream: Stream) -> Numbers:
    volts, ohms = stream.step("230", "250", "2"), stream.step("24", "30", "1")
    return {"watts": round(power(volts, ohms)), "rated": volts, "volts": volts / 2}


def _line(stream: Stream) -> Numbers:
    ohms = (stream.step("24", "30", "1"),) * 3
    return {"volts": stream.step("230", "250", "2"), "heater_ohms": parallel(ohms), "ohms": ohms}


def _breaker(stream: Stream) -> Numbers:
    return {"amps": stream.step("18", "28", "0.5"), "breaker": 30.0}


def _wire(stream: Stream) -> Numbers:
    ohms = stream.step("24", "30", "1")
    return {"awg": stream.choose((14, 12)), "amps": current(240.0, parallel([ohms] * 3))}


def _on(stream: Stream) -> Numbers:
    return {"on": stream.step("15", "40", "1"), "whole": stream.step("45", "95", "10")}


def _longer(stream: Stream) -> Numbers:
    return {"sound": stream.step("35", "45", "1"), "took": stream.step("55", "95", "1")}


SUMS: dict[str, Sum] = {
    "sum-02-lost-neutral": Sum(
        "02_two_legs",
        Drill(
            "strapped_case",
            "V",
            3,
            _leg,
            lambda n: (
                f"A dryer with a three-wire cord has lost its neutral in the wall. The strap is on, and leg 1 has "
                f"{n['volts']:g} V. How many volts does a meter show from the cabinet to ground?"
            ),
        ),
    ),
    "sum-03-control-off": Sum(
        "03_heater_power",
        Drill(
            "case_volts_control_off",
            "V",
            3,
            _supply,
            lambda n: (
                f"The drum turns, the control has opened its one line, and the heater is cold. Leg to leg there are "
                f"{n['volts']:g} V. How many volts are there from the shared terminal to the grounded cabinet?"
            ),
        ),
    ),
    "sum-03-breaker": Sum(
        "03_heater_power",
        Drill(
            "breaker_for_wire",
            "A",
            2,
            _wire,
            lambda n: (
                f"The copper wire in the wall is {n['awg']:g} AWG, and the dryer draws {n['amps']:.3g} A. What is the "
                f"largest breaker that may usually feed it, in amps?"
            ),
        ),
    ),
    "sum-03-breaker-share": Sum(
        "03_heater_power",
        Drill(
            "breaker_share",
            "%",
            3,
            _breaker,
            lambda n: f"The heater draws {n['amps']:g} A on a {n['breaker']:g} A breaker. What percent is that?",
        ),
    ),
    "sum-03-line": Sum(
        "03_heater_power",
        Drill(
            "line_amps",
            "A",
            3,
            _line,
            lambda n: (
                f"Three coils in parallel have {n['heater_ohms']:.4g} Ω in all. Leg to leg there are "
                f"{n['volts']:g} V. How many amps does the line carry?"
            ),
        ),
    ),
    "sum-03-one-leg": Sum(
        "03_heater_power",
        Drill(
            "watts_elsewhere",
            "W",
            3,
            _one_leg,
            lambda n: (
                f"A coil makes {n['watts']:g} W on {n['rated']:g} V. By mistake it ends up between one hot leg of "
                f"{n['volts']:g} V and the grounded cabinet. How many watts come out?"
            ),
        ),
    ),
    "sum-05-no-ground": Sum(
        "05_path_to_case",
        Drill(
            "unbonded_case_volts",
            "V",
            3,
            _supply,
            lambda n: (
                f"A coil touches the cabinet, and the ground wire is off. The drum turns, the control is off. "
                f"Leg to leg there are {n['volts']:g} V. How many volts are there from the cabinet to a grounded pipe?"
            ),
        ),
    ),
    "sum-08-share-on": Sum(
        "08_air_and_drying",
        Drill(
            "on_share",
            "%",
            3,
            _on,
            lambda n: (
                f"A load took {n['whole']:g} minutes, and the heater was on for {n['on']:g} of them. What percent of "
                f"the time is that?"
            ),
        ),
    ),
    "sum-08-longer": Sum(
        "08_air_and_drying",
        Drill(
            "longer",
            "%",
            3,
            _longer,
            lambda n: (
                f"A load took {n['took']:g} minutes. When the dryer was working right, it took {n['sound']:g}. By what "
                f"percent is that longer?"
            ),
        ),
    ),
}
"""By the name of the card; the task is that of a graded question."""

SAME_SUM = {
    "recall-02-2": "shock_current",
    "recall-04-1": "amps",
    "recall-05-2": "sum-03-one-leg",
    "recall-06-3": "sum-03-line",
    "recall-08-2": "watts_elsewhere",
}
"""Warm-ups with a sum in them, and the card that asks the same with new numbers; the lesson shows its fixed ones."""


def dealt(name: str) -> Drill:
    """Return how the card ``name`` is dealt: a sum of this module, or a drill of a lesson.

    Raises
    ------
    UnknownQuestionError
        If no card of that name is dealt.
    """
    return SUMS[name].drill if name in SUMS else drill(name)
