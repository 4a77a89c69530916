"""What lesson 02, two legs, asks about the supply and the machine on the job card."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.bench.machine import Machine
from dryerbench.core.random_stream import Stream
from dryerbench.core.sealed import Sealed
from dryerbench.course.bench_card import BenchCard, Dealt, machine_of
from dryerbench.course.job_card import Line
from dryerbench.course.questions import BenchQuestion, Choice, Option, Question, QuestionOf, Readings, Row

LESSON = "02_two_legs"
TITLE = "Two legs"

SOUND = "sound"
TROUBLES = (
    SOUND,
    "lost-leg-1",
    "lost-leg-2",
    "open-neutral",
    "open-service-neutral",
    "supply-208",
    "low-supply",
)
"""What may be the matter at the receptacle, by the names of the table ``faults``."""

PAIRS = {"legs": ("outlet-1", "outlet-2"), "leg-1": ("outlet-1", "outlet-N"), "leg-2": ("outlet-2", "outlet-N")}
"""The pairs of slots that are read, by the key of their row."""

QUESTIONS: tuple[QuestionOf[TwoLegsCard], ...] = (
    Question("leg_to_leg_volts", "Volts from leg to leg", 2, unit="V", figures=3),
    Question("wye_leg_to_leg_volts", "Volts from leg to leg on three phases", 2, unit="V", figures=3),
    Question("neutral_current", "Current in the neutral", 3, unit="A", figures=3),
    Question("open_neutral_volts", "Volts across load A with the neutral open", 3, unit="V", figures=3),
    Question("strapped_case_volts", "Volts on a strapped cabinet, neutral open", 3, unit="V", figures=3, safety=True),
    Choice(
        "frame_strap",
        "The strap with the cord on your card",
        3,
        safety=True,
        options=(
            Option("both", "It stays on with any cord: two ways to ground are better than just one"),
            Option("none", "It comes off with any cord: a neutral is not a ground"),
            Option("off", "It comes off: with this cord the cabinet has its own ground wire"),
            Option("on", "It stays on: with this cord the cabinet has no other ground"),
        ),
    ),
    BenchQuestion("receptacle_check", "Read the receptacle as a qualified person does", 4, safety=True),
    Readings(
        "receptacle_readings",
        "What the receptacle reads",
        3,
        rows=(
            Row("legs", "Leg 1 to leg 2", "V"),
            Row("leg-1", "Leg 1 to neutral", "V"),
            Row("leg-2", "Leg 2 to neutral", "V"),
        ),
    ),
    Choice(
        "receptacle_fault",
        "What is wrong at the receptacle",
        3,
        options=(
            Option("lost-leg-1", "Leg 1 is lost"),
            Option("lost-leg-2", "Leg 2 is lost"),
            Option("low-supply", "The whole supply sags"),
            Option("open-neutral", "The neutral of the dryer's circuit is open"),
            Option("open-service-neutral", "The neutral of the house's service is open"),
            Option(SOUND, "Nothing: two good legs and a good neutral"),
            Option("supply-208", "Nothing is broken: it is a 208 V building"),
        ),
    ),
)


@dataclass(frozen=True, repr=False, kw_only=True)
class TwoLegsCard(BenchCard):
    """The supply of lesson 02. Volts in V, loads in Ω; the first load is on leg 1, the second on leg 2."""

    load_ohms: tuple[float, float]

    @property
    def leg_volts(self) -> float:
        """The volts of one leg to neutral on a good day."""
        return machine_of(self).leg_volts

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line, as a person reads it."""
        wires = {"four-wire": "four wires", "three-wire": "three wires"}[self.cord]
        return (
            Line("One leg to neutral, on a good day", f"{self.leg_volts:g} V", "card.leg_volts"),
            Line("Load A, on leg 1", f"{self.load_ohms[0]:g} Ω", "card.load_ohms[0]"),
            Line("Load B, on leg 2", f"{self.load_ohms[1]:g} Ω", "card.load_ohms[1]"),
            Line("The dryer's cord", wires, "card.cord"),
        )


def draw_card(apprentice: str, stream: Stream) -> TwoLegsCard:
    """Return the job card that ``stream`` deals to ``apprentice``."""
    light, heavy = stream.step("42", "60", "1"), stream.step("9", "12.5", "0.5")  # at 2 to 1, 3 to 1 slips look alike
    small, large = float(stream.integer(200, 500)), float(stream.integer(1200, 2000))
    swapped = stream.choose((True, False))
    machine = Machine(
        name=f"{LESSON}/{apprentice}",
        leg_volts=stream.step("116.0", "124.0", "0.5"),
        cord=stream.choose(("four-wire", "three-wire")),
        run_feet=float(stream.integer(25, 90)),
        house_watts=(large, small) if swapped else (small, large),
    )
    trouble = stream.choose(TROUBLES)
    return TwoLegsCard(
        apprentice=apprentice,
        lesson=LESSON,
        sealed=Sealed(Dealt(machine, () if trouble == SOUND else (trouble,))),
        load_ohms=stream.choose(((light, heavy), (heavy, light))),
    )
