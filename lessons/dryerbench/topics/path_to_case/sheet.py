"""Lesson 05, path to case: the job card of the machine, and the graded questions."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.bench.machine import Machine
from dryerbench.core.random_stream import Stream
from dryerbench.core.sealed import Sealed
from dryerbench.course.bench_card import Dealt, TwoBenchCard
from dryerbench.course.dealing import dealt, offered, stream_of
from dryerbench.course.job_card import Line
from dryerbench.course.questions import (
    BenchQuestion,
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
from dryerbench.electricity.leakage import leakage_limit
from dryerbench.topics.path_to_case.shared_terminal import deal_nameless

LESSON = "05_path_to_case"
TITLE = "Path to the cabinet"

ROWS = (
    Row("T1-T0", "Coil 1: T1 to T0", "Ω"),
    Row("T2-T0", "Coil 2: T2 to T0", "Ω"),
    Row("T3-T0", "Coil 3: T3 to T0", "Ω"),
    Row("T1-case", "T1 to the cabinet", "Ω"),
    Row("T2-case", "T2 to the cabinet", "Ω"),
    Row("T3-case", "T3 to the cabinet", "Ω"),
    Row("T0-case", "Shared terminal T0 to the cabinet", "Ω"),
    Row("H8-case", "The wires off T1, T2, T3: H8 to the cabinet", "Ω"),
)
"""The table of question 1; each key is the two points of its row."""


@dataclass(frozen=True, repr=False, kw_only=True)
class CaseCard(TwoBenchCard):
    """The machine of lesson 05 on the bench, and the notes of a second job. V, Ω, kW, kΩ."""

    supply_volts: float
    own_ohms: float
    shared_ohms: float
    kilowatts: float
    damp_kohm: float

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line, as a person reads it."""
        return (
            Line("On the bench: the complaint", "“It stays hot on air fluff until the drum stops.”", ""),
            Line("On the bench: the cord", "four wires, ground wire on the cabinet", "card.cord"),
            Line("Question 3: coil to cabinet, wires off", to_case_of(self), ""),
            Line("Second job: supply, leg to leg", f"{self.supply_volts:g} V", "card.supply_volts"),
            Line("Second job: grounded coil, own terminal to cabinet", f"{self.own_ohms:.1f} Ω", "card.own_ohms"),
            Line("Second job: shared terminal to cabinet", f"{self.shared_ohms:.1f} Ω", "card.shared_ohms"),
            Line("Question 6: shared terminal to cabinet", touching_of(self).words, ""),
            Line("Third job: nameplate of the element", f"{self.kilowatts:.1f} kW", "card.kilowatts"),
            Line("Third job: rule for question 8", "international, IEC 60335-1 (practice only, no US limit)", ""),
            Line("Third job: element to cabinet, tested at 500 V dc", f"{self.damp_kohm:.1f} kΩ", "card.damp_kohm"),
        )


_WILL_IT_STOP = (
    Option("bond", "Nothing flows, and the cabinet is at a full leg: the current has no way back."),
    Option("breaker", "The breaker stops it: what flows to the cabinet is far more than the 30 A that it holds."),
    Option("motor", "Nothing flows: the centrifugal switch in the motor keeps leg 2 away from the coil."),
    Option("nothing", "Nothing stops it: what flows to the cabinet is less than the breaker holds. It keeps heating."),
)


@dataclass(frozen=True)
class Touching:
    """The machine of question 6: Ω from its shared terminal to the case; how its drum and ground wire are."""

    far_ohms: float
    drum_turns: bool
    bonded: bool

    @property
    def words(self) -> str:
        """What the card says of it."""
        drum, bond = "turns" if self.drum_turns else "is stopped", "on" if self.bonded else "off"
        return f"{self.far_ohms:.1f} Ω; the drum {drum}; ground wire {bond}"


_NEAR, _FAR = ("1.4", "2.4", "0.1"), ("9.0", "20.0", "0.1")
"""Ω of coil, in steps, that a touch close to the shared terminal leaves, and one farther from it."""


def touching_of(card: CaseCard) -> Touching:
    """Return how the machine of question 6 stands on ``card``."""
    stream = stream_of(card, "will_it_stop")
    drum_turns, bonded = stream.choose(((True, True), (True, True), (False, True), (True, False)))
    return Touching(stream.step(*stream.choose((_NEAR, _FAR))), drum_turns, bonded)


TO_CASE = ("47 kΩ", "9.4 Ω", "OL, and OL at 500 V too")
"""What the element of question 3 may read to its case."""


def to_case_of(card: CaseCard) -> str:
    """Return what the element of question 3 shows to its case on ``card``, one of ``TO_CASE``."""
    return dealt(card, "number_to_case", TO_CASE)


SOMETIMES = {
    "before_blame": "Read the coils to the cabinet before you call the GFCI bad.",
    "beeper": "Use the beeper while you tap, and keep your eyes on the box.",
    "handle": "Tap the box with a screwdriver handle, and watch the display.",
    "heat_gun": "Element out, on the bench: warm it with a heat gun, and read it to its frame.",
    "off_by_itself": "It has tripped, so the dryer is dead: cover off, without the test.",
    "ol_good": "OL, cold and at rest: the coil is good, so close it up.",
    "once": "A number shows just once: count it, and write down what you did.",
    "plain": "Have a plain 30 A breaker put in, because a dryer makes a GFCI trip.",
    "reset": "Reset it and run another load, to see when it trips.",
    "spades": "Wiggle each terminal and each loose wire, with the meter on.",
    "warm_run": "Run it on heat for ten minutes, unplug it, and read the coils while hot.",
    "water": "Look for water: 24 kΩ to the cabinet trips a GFCI too.",
}
"""What a tech may do about a path that comes and goes, by key; some of it is right."""


def sometimes_options(card: CaseCard) -> Options:
    """Return what question 11 offers on ``card``, some that finds the path and some that does not."""
    return by_key(Option(key, SOMETIMES[key]) for key in offered(card, "comes_and_goes", tuple(SOMETIMES), 7))


QUESTIONS: tuple[QuestionOf[CaseCard], ...] = (
    Readings("case_readings", "Readings of three coils, end to end and to the cabinet", 5, rows=ROWS),
    FaultQuestion(
        "fault_to_case",
        "The fault, with its evidence",
        4,
        safety=True,
        options=(
            Option("control-welded", "The control's contact is welded shut"),
            Option("element-1-grounded", "Coil 1 touches the cabinet"),
            Option("element-2-grounded", "Coil 2 touches the cabinet"),
            Option("element-3-grounded", "Coil 3 touches the cabinet"),
            Option("leakage-to-case", "Water or dirt leaks to the cabinet"),
        ),
    ),
    Choice(
        "number_to_case",
        "What the reading to the cabinet asks for",
        3,
        safety=True,
        options=(
            Option("close", "Go on with the other readings before power: nothing from this coil reaches the cabinet."),
            Option("find", "Leave it unplugged and tagged until the wet or dirty path is found and fixed."),
            Option("low_heat", "Breaker off, unlocked, a note on the panel, until the new element comes on Monday."),
            Option("replace", "Replace the element; the dryer stays unplugged and tagged until that is tested."),
            Option("right_ohms", "Put it back: its ohms are right from end to end, so it is a good coil."),
            Option(
                "try_it",
                "Close up and plug it in for a try. If the breaker holds for a whole load, the element can stay in.",
            ),
        ),
    ),
    Question("fault_place", "How far along the coil it touches", 3, unit="%", figures=2),
    Question("watts_control_open", "Watts with the control off", 3, unit="W", figures=3),
    Choice("will_it_stop", "What stops it", 2, options=_WILL_IT_STOP),
    Question("volts_unbonded", "Volts on a cabinet without its ground wire", 3, unit="V", figures=3, safety=True),
    Question("leak_allowed", "The most that may leak", 2, unit="mA", figures=3),
    Question("leak_found", "What leaks", 3, unit="mA", figures=3),
    Choice(
        "leak_verdict",
        "Verdict on the third job",
        3,
        options=(
            Option("dry", "It is only damp. Run it hot for an hour to dry it, read it once more, and it goes back."),
            Option("over", "It leaks more than allowed. It stays unplugged until the path is found and fixed."),
            Option("sign", "It leaks less than allowed: it goes back as it is."),
            Option("under", "It leaks less than allowed, but good is millions of ohms. It stays unplugged."),
        ),
    ),
    Choices("comes_and_goes", "A path that comes and goes", 3, safety=True, options=sometimes_options),
    BenchQuestion("tag_shared", "The shared terminal without names", 4),
)


def draw_card(apprentice: str, stream: Stream) -> CaseCard:
    """Return the job card that ``stream`` deals to ``apprentice``."""
    supply = stream.step("234", "246", "1")
    ohms = [stream.step("26.0", "28.0", "0.1") for _ in range(3)]
    share = stream.choose((stream.step("0.22", "0.42", "0.01"), stream.step("0.58", "0.78", "0.01")))
    fault = f"element-{stream.integer(1, 3)}-grounded={share:g}"
    whole = stream.step("26.0", "28.0", "0.1")
    own = round(whole * stream.choose((stream.step("0.22", "0.35", "0.01"), stream.step("0.63", "0.78", "0.01"))), 1)
    kilowatts = stream.step("4.4", "7.2", "0.1")
    leak = leakage_limit(kilowatts) * stream.choose(
        (stream.step("0.4", "0.8", "0.05"), stream.step("1.2", "1.9", "0.05"))
    )
    machine = Machine(name=apprentice, element_ohms=(ohms[0], ohms[1], ohms[2]), leg_volts=supply / 2)
    return CaseCard(
        apprentice=apprentice,
        lesson=LESSON,
        sealed=Sealed(Dealt(machine, (fault,))),
        supply_volts=supply,
        own_ohms=own,
        shared_ohms=round(whole - own, 1),
        kilowatts=kilowatts,
        damp_kohm=round(supply / 2 / leak, 1),
        second=Sealed(Dealt(deal_nameless(f"nameless dryer of {apprentice}", stream.beside("nameless heater")))),
    )
