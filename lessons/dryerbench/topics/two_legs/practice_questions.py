"""Practice of lesson 02's kinds of question: cases of their own, with their answers."""

from __future__ import annotations

from math import sqrt

from dryerbench.core.random_stream import Stream
from dryerbench.course.practice_question import Case, FillTable, PickOne, PracticeQuestion, Reading, ReadingsGo

_OFF = "Take the strap off."
_ON = "Leave the strap on, or put it back on."
_ANY = "Off or on, as you like: any cord will do."

_STRAP = PickOne(
    read="Three wires, four wires, one strap",
    cases=(
        Case(
            "A dryer moves to a house with a four-slot receptacle and gets a new cord to match. What about its strap?",
            _OFF,
            {_ON: "strap_on_four", _ANY: "cord_not_counted"},
            "The green wire grounds the cabinet now.",
        ),
        Case(
            "A dryer's cord has two hots and a neutral, and no green wire. Somebody took its strap out. "
            "What do you do with the strap?",
            _ON,
            {_OFF: "strap_off_three", _ANY: "cord_not_counted"},
            "The cabinet has no other ground.",
        ),
        Case(
            "Behind the cover you find a green wire on the cabinet, and a strap from N to the cabinet. "
            "What do you do with the strap?",
            _OFF,
            {_ON: "strap_on_four", _ANY: "cord_not_counted"},
            "With a green wire, the neutral must not touch the cabinet.",
        ),
    ),
)


def _good(leg: float) -> tuple[float, float, float]:
    return 2 * leg, leg, leg


def _first_lost(leg: float) -> tuple[float, float, float]:
    return 0.0, 0.0, leg


def _second_lost(leg: float) -> tuple[float, float, float]:
    return 0.0, leg, 0.0


def _three_phases(leg: float) -> tuple[float, float, float]:
    return sqrt(3) * leg, leg, leg


def _neutral_off(leg: float) -> tuple[float, float, float]:
    return 2 * leg, 0.0, 0.0


def _uneven(leg: float) -> tuple[float, float, float]:
    return 2 * leg, 2 * leg - 68.0, 68.0


def _all_low(leg: float) -> tuple[float, float, float]:
    return 1.8 * leg, 0.9 * leg, 0.9 * leg


_PAIRS = ("Leg to leg", "First leg to neutral", "Second leg to neutral")
_FAULTS = {
    "Two good legs and a good neutral": (_good, "called_sound"),
    "The first leg is lost": (_first_lost, "called_lost_leg"),
    "The second leg is lost": (_second_lost, "called_lost_leg"),
    "208 V from three phases, and nothing broken": (_three_phases, "called_wye"),
    "The dryer's own neutral is open": (_neutral_off, "called_open_neutral"),
    "The neutral of the whole house is open": (_uneven, "called_service_neutral"),
    "Everything is 10 % low": (_all_low, "called_sag"),
}
"""What can be at a receptacle: what it reads for the volts of one good leg, and the slip of whoever says it wrongly."""


def _named(stream: Stream) -> Case:
    """Return three readings at a receptacle, and what they say."""
    right = stream.choose(tuple(_FAULTS))
    leg = stream.step("118.0", "122.0", "0.5")
    read = ", ".join(
        f"{pair.lower()} {volts:.0f} V" for pair, volts in zip(_PAIRS, _FAULTS[right][0](leg), strict=True)
    )
    usual = f" A good leg in that house has {leg:g} V."
    return Case(
        f"Readings on LoZ: {read}.{usual} What is there?",
        right,
        {text: slip for text, (_, slip) in _FAULTS.items() if text != right},
        "Compare all three with what a good receptacle reads.",
    )


def _predicted(stream: Stream) -> ReadingsGo:
    """Return the three readings of a receptacle whose state is told."""
    what = stream.choose([one for one in _FAULTS if _FAULTS[one][0] not in (_uneven, _all_low)])
    leg = stream.step("117.0", "123.0", "0.5")
    slips = {"legs_cancel": 0.0, "leg_alone": leg, "third_of_a_turn": sqrt(3) * leg, "half_a_turn": 2 * leg}
    rows = []
    for at, (pair, volts) in enumerate(zip(_PAIRS, _FAULTS[what][0](leg), strict=True)):
        wrong = (
            {code: number for code, number in slips.items() if abs(number - volts) > 1.0} if at == 0 and volts else {}
        )
        rows.append(Reading(pair, "V", volts, "pair_not_read", wrong, loose=1.0))
    return ReadingsGo(
        f"A good leg has {leg:g} V to neutral. At one receptacle: {what[0].lower() + what[1:]}. A "
        "qualified person reads it "
        "on LoZ. What will the three readings be? 1 V off is fine.",
        tuple(rows),
    )


PRACTICE_QUESTIONS: dict[str, PracticeQuestion] = {
    "frame_strap": _STRAP,
    "receptacle_readings": FillTable("What the readings say", (_predicted,)),
    "receptacle_fault": PickOne("What the readings say", (_named,)),
}
