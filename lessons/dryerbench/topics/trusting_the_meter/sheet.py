"""Lesson 04, trusting the meter: the job card of the machine, and the graded questions."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.bench.machine import Machine
from dryerbench.core.random_stream import Stream
from dryerbench.core.sealed import Sealed
from dryerbench.course.bench_card import BenchCard, Dealt
from dryerbench.course.dealing import dealt, offered
from dryerbench.course.job_card import Line
from dryerbench.course.questions import (
    Choice,
    Choices,
    FaultQuestion,
    Option,
    Options,
    Question,
    QuestionOf,
    Readings,
    Row,
    by_key,
)

LESSON = "04_trusting_the_meter"
TITLE = "Trusting the meter"

LEADS = "leads"
"""The key of the row for the leads alone; every other key is the two points of its row."""

ROWS = (
    Row(LEADS, "The leads, tips joined", "Ω"),
    Row("T1-T0", "Coil 1: T1 to T0", "Ω"),
    Row("T2-T0", "Coil 2: T2 to T0", "Ω"),
    Row("T3-T0", "Coil 3: T3 to T0", "Ω"),
    Row("H7-H8", "High limit, cold: H7 to H8", "Ω"),
    Row("T0-case", "Coils to the cabinet: T0 to the cabinet", "Ω"),
)


@dataclass(frozen=True, repr=False, kw_only=True)
class MeterCard(BenchCard):
    """The machine of lesson 04 on the bench, and readings noted on other jobs. Ω, V, MΩ."""

    shown_ohms: float
    shown_volts: float
    coarse_ohms: float
    leads_in_ohms: float
    tips_ohms: float
    worn_ohms: float
    leg_volts: float
    path_mohm: float
    phantom_volts: float
    loaded_volts: float
    usual_volts: float
    still_volts: float

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line, as a person reads it."""
        return (
            Line("On the bench", "three coils; the last tech used a beeper and said “all fine”", ""),
            Line("Question 1: a coil, on the 600 Ω range", f"{self.shown_ohms:.1f} Ω", "card.shown_ohms"),
            Line("Question 2: leg to leg, on the 600 V range", f"{self.shown_volts:.1f} V", "card.shown_volts"),
            Line("Question 3: a coil, on the 6 kΩ range", f"{self.coarse_ohms:.0f} Ω", "card.coarse_ohms"),
            Line("Question 4: a coil, meter not zeroed", f"{self.leads_in_ohms:.1f} Ω", "card.leads_in_ohms"),
            Line("Question 4: the same test leads, tips together", f"{self.tips_ohms:.1f} Ω", "card.tips_ohms"),
            Line("Question 8: the live leg", f"{self.leg_volts:.1f} V", "card.leg_volts"),
            Line("Question 8: the damp path", f"{self.path_mohm:.1f} MΩ", "card.path_mohm"),
            Line("Question 10: breaker open, normal setting", f"{self.usual_volts:.1f} V", "card.usual_volts"),
            Line("Question 10: the same, on LoZ", f"{self.still_volts:.1f} V", "card.still_volts"),
        )


def where_it_beeps(card: MeterCard) -> Options:
    """Return what question 6 offers on ``card``, some of it heard by the beeper and some not."""
    words = {
        "sound": f"A good coil, {card.shown_ohms:.1f} Ω from one of its ends to the other",
        "bridged": f"A coil with half of its turns shorted, {card.shown_ohms / 2:.1f} Ω",
        "grounded": f"A grounded coil: {card.shown_ohms / 3:.1f} Ω from one end to the cabinet",
        "limit": "A high limit of the heater box, cold and closed, 0.1 Ω",
        "worn": f"A coil worn thin, {card.worn_ohms:.1f} Ω end to end",
        "damp": f"A damp path from the heater to the cabinet, {card.path_mohm * 100:.0f} kΩ",
        "open": "A broken coil, OL, with its two ends still close together",
    }
    return by_key(Option(key, words[key]) for key in offered(card, "beeper_sounds", tuple(words), 5))


READ_TWICE = ("few", "half", "leg", "pair")
"""What question 9 was read at, by size: a few volts, tens of volts, about a leg, about leg to leg."""


def read_twice(card: MeterCard) -> dict[str, tuple[float, float]]:
    """Return the volts (V) of each reading of question 9, in the usual and in the low-impedance setting.

    One is dealt to be ghost volts: it falls by as much as ``phantom_volts`` does to ``loaded_volts``. The others are
    held by their source and lose what the wires on the way to it cost.
    """
    usual = {
        "few": round(card.phantom_volts / 20, 1),
        "half": card.phantom_volts,
        "leg": card.leg_volts,
        "pair": card.shown_volts,
    }
    falls = card.loaded_volts / card.phantom_volts
    loses = {"few": 0.0, "half": 0.2, "leg": 0.6, "pair": 1.1}
    loaded = {key: round(volts - loses[key], 1) for key, volts in usual.items()}
    stray = dealt(card, "which_phantom", READ_TWICE)
    loaded[stray] = round(usual[stray] * falls, 1)
    return {key: (usual[key], loaded[key]) for key in READ_TWICE}


def _which_phantom(card: MeterCard) -> Options:
    return tuple(
        Option(key, f"{usual:.1f} V, and {loaded:.1f} V on LoZ") for key, (usual, loaded) in read_twice(card).items()
    )


_STILL_THERE = (
    Option("half", "It is half of what the heater gets: I go on, with gloves and one hand."),
    Option("ohms", "I turn the dial to ohms: a number there shows that the circuit is dead after all."),
    Option("on", "Those were ghost volts: the LoZ setting pulled them down. I check the meter again."),
    Option("phantom", "Those have to be ghost volts: the breaker is open and locked. I check the meter again."),
    Option("stop", "It is live: what the LoZ setting cannot pull down is real volts. I touch nothing."),
)


QUESTIONS: tuple[QuestionOf[MeterCard], ...] = (
    Question("ohms_plus_minus", "How far off the ohm reading may be", 2, unit="Ω", figures=2),
    Question("volts_low_end", "Low end of the volt reading", 2, unit="V", figures=4),
    Question("coarse_percent", "What the wrong range costs", 2, unit="%", figures=2),
    Question("ohms_of_element", "Ohms of the coil without the leads", 2, unit="Ω", figures=3),
    Readings("bench_table", "Readings on the bench", 4, rows=ROWS),
    Choices("beeper_sounds", "Where the beeper sounds", 4, options=where_it_beeps),
    FaultQuestion(
        "behind_the_beep",
        "What the beeper missed",
        4,
        options=(
            Option("element-1-shorted", "Coil 1 has shorted turns"),
            Option("element-2-shorted", "Coil 2 has shorted turns"),
            Option("element-3-shorted", "Coil 3 has shorted turns"),
            Option("leakage-to-case", "Water or dirt leaks to the cabinet"),
            Option("sound", "Nothing: it beeped at all three"),
        ),
    ),
    Question("damp_volts", "Volts shown through a damp path", 2, unit="V", figures=3),
    Choice("which_phantom", "Which reading is ghost volts", 3, options=_which_phantom),
    Choice("still_there", "Volts with the breaker open", 5, safety=True, options=_STILL_THERE),
)


def draw_card(apprentice: str, stream: Stream) -> MeterCard:
    """Return the job card that ``stream`` deals to ``apprentice``."""
    ohms = [stream.step("26.0", "28.0", "0.1") for _ in range(3)]
    fault = f"element-{stream.integer(1, 3)}-shorted={stream.step('0.3', '0.6', '0.01'):g}"
    volts = stream.step("234.0", "246.0", "0.1")
    tips = stream.step("0.3", "0.6", "0.1")
    own = stream.beside("still_there")
    falls, usual = own.choose((True, False)), own.step("28.0", "74.0", "0.1")
    leg = round(volts / 2 + stream.step("-0.6", "0.6", "0.1"), 1)
    return MeterCard(
        apprentice=apprentice,
        lesson=LESSON,
        sealed=Sealed(Dealt(Machine(name=apprentice, element_ohms=(ohms[0], ohms[1], ohms[2])), (fault,))),
        shown_ohms=stream.step("25.5", "28.9", "0.1"),
        shown_volts=volts,
        coarse_ohms=stream.step("24", "30", "1"),
        leads_in_ohms=round(stream.step("26.0", "28.5", "0.1") + tips, 1),
        tips_ohms=tips,
        worn_ohms=stream.step("42.5", "54.0", "0.1"),
        leg_volts=leg,
        path_mohm=stream.step("1.6", "6.8", "0.2"),
        phantom_volts=stream.step("31.0", "66.0", "0.1"),
        loaded_volts=stream.step("0.1", "0.4", "0.1"),
        usual_volts=usual if falls else round(leg, 1),
        still_volts=round(usual / 200, 1) if falls else round(leg - stream.step("0.4", "2.0", "0.1"), 1),
    )
