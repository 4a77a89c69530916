"""Lesson 09, open and close: the job card of the machine under repair, and the graded questions."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.machine import ELEMENTS, Machine
from dryerbench.bench.meter import Meter
from dryerbench.bench.reading import Reading
from dryerbench.bench.situation import settle
from dryerbench.bench.states import named_state
from dryerbench.core.random_stream import Stream
from dryerbench.core.sealed import Sealed
from dryerbench.course.bench_card import Dealt, TwoBenchCard, machine_of
from dryerbench.course.dealing import offered, stream_of
from dryerbench.course.job_card import Line
from dryerbench.course.questions import (
    BenchQuestion,
    Choice,
    Choices,
    Option,
    Options,
    Order,
    Question,
    QuestionOf,
    Readings,
    Row,
    by_key,
)
from dryerbench.topics.open_and_close.belt import Belt
from dryerbench.topics.open_and_close.cabinets import deal_second, screws_offered

LESSON = "09_open_and_close"
TITLE = "Open and close"

CUPS = ("cover", "drum front", "heater box")
"""The cups for the screws, in the order in which they are filled."""
_CUP_WORDS = dict(zip(CUPS, ("cover", "front bulkhead", "heater box"), strict=True))
CORD = ("cord 1", "cord 2", "cord N", "ground wire")
"""What a jaw holds that is put round the whole cord."""

_TEARDOWN = (
    Option("belt_off", "Push the idler wheel back and slip the belt off the motor pulley."),
    Option(
        "cover_off", "Take the cover off: screws into cup 1, counted. Test dead at the block, check the meter again."
    ),
    Option("drum_out", "Unscrew the front bulkhead (cup 2) and lift the drum out."),
    Option("heater_out", "Unscrew the heater box (cup 3) and take it out."),
    Option("photo", "Take pictures: every wire on its terminal, and how the belt runs."),
    Option("power_off", "Stop the dryer, pull its plug, and keep the plug in reach and in sight."),
    Option("prove_again", "Check the meter on the known live source once more."),
    Option("prove_first", "Check the meter on a known live source."),
    Option("test_dead", "Test dead: every blade of the plug to every other and to the cabinet."),
    Option("wires_off", "Pull the wires off the heater, one at a time, and tag each."),
)
_CLOSE_UP = (
    Option("belt_on", "Lay the belt as in the picture and turn the drum by hand, two full turns."),
    Option("bond_test", "Measure from the ground pin of the plug to bright metal of the cabinet, in ohms."),
    Option("case_test", "With the heater's wires still off: measure every coil to the metal cabinet, in ohms."),
    Option("cover_on", "Put the cover on, with every screw of cup 1."),
    Option("drum_in", "Lift the drum in and screw the front bulkhead on, with every screw of cup 2."),
    Option("heater_in", "Screw the repaired heater box in, with every screw of cup 3."),
    Option("power_on", "Put the plug in."),
    Option("run_proof", "Start it on high heat and read the exhaust temperature."),
    Option("vent_on", "Push the exhaust duct back on and clamp it."),
    Option("wires_on", "Put each wire back on the terminal that the picture shows, and tug it."),
)
_BELT = (
    Option("drum_front", "It runs as it should: leave it as it is, and go on closing up."),
    Option("idler", "Swing the idler on its arm, so that it presses on the smooth back of the belt."),
    Option("pulley", "Bring the belt around the motor pulley, which drives it, and not the idler alone."),
    Option("turn_over", "Take it off and turn it inside out, so that its ribs lie in the grooves."),
    Option("untwist", "Take it off, take the half twist out of it, and lay it on again."),
)
_TALLY = (
    Option("cover", "Plug still out: put the missing screws of the cover in. No panel has to come off again for that."),
    Option("drum front", "Open up again, tested dead, as far as the front bulkhead, and put its screws in."),
    Option("heater box", "Open up again, tested dead, as far as the heater box, and put its screws in."),
    Option("later", "Plug it in, listen for a rattle, and open it only if you hear one."),
    Option("spare", "Leave it: a dryer that holds together has more screws than it needs."),
)
_VERDICT = (
    Option("breaker", "The breaker holds, so the repair is proved, whatever the clamp shows."),
    Option("fits", "It fits: the whole heater is working. Go on to the exhaust temperature."),
    Option("one_out", "About a third is missing: one coil carries nothing. Off, tested dead, and open up again."),
    Option("two_out", "About two thirds are missing: only one coil is working. Off, tested dead, open up again."),
    Option("whole_cord", "The clamp was around the whole cord, where the amps cancel. Put it around one wire."),
)


def before_power_options(card: OpenCloseCard) -> Options:
    """Return what question 4 offers on ``card``, some of it needed before power and some not."""
    words = {
        "elements": f"Every coil reads near {card.sheet_ohms:g} Ω from its own terminal to the shared one.",
        "case": "Every coil reads OL to the metal cabinet, with its wires off.",
        "bond": "The ground pin of the plug reads a few tenths of an ohm to the cabinet.",
        "wires": "Every wire is on its terminal in the picture, and none touches metal.",
        "cups": "Every cup of screws is empty, and none is left over on the bench.",
        "beeper": "The beeper stays silent from each coil to the cabinet; a number is not needed.",
        "clamp": "The line amps are as predicted from the ohms on the tech sheet.",
        "exhaust": "The exhaust gets warm in the first minutes of the run.",
        "line_to_case": "One line blade of the plug reads near 0 Ω to the bare cabinet.",
    }
    return by_key(Option(key, words[key]) for key in offered(card, "before_power", tuple(words), 6))


def screw_options(card: OpenCloseCard) -> Options:
    """Return the counts of screws that question 12 offers on ``card``."""
    counts = screws_offered(machine_of(card, 2), stream_of(card, "second_screws"))
    return by_key(Option(str(count), f"{count} in all.") for count in counts)


ROWS = (
    *(Row(f"T{n}-T0", f"coil {n}: T{n} to T0", "Ω") for n in ELEMENTS),
    Row("T0-case", "heater to cabinet: T0 to the cabinet", "Ω"),
    Row("plug-G-case", "ground wire: plug-G to the cabinet", "Ω"),
)
"""The readings of the proof, dead, with the heater's four wires off."""

AT_THE_CORD = {
    "bare_hole": "The cord goes in through a bare hole, with nothing that grips it.",
    "brown": "A brown spot at a block screw, and that screw is tight.",
    "clamped": "The strain relief grips the cord where it goes in.",
    "clear_block": "No strand out at any screw, and no brown spot.",
    "four_off": "A four-wire cord: ground wire on the cabinet, and the strap is off.",
    "moves": "Tug on the cord outside, and the wires at the block move.",
    "own_screws": "Each wire of the cord is under a screw of its own.",
    "shared": "Two wires of the cord are under one screw.",
    "strands": "A few strands stand out beside their screw.",
    "three_on": "A three-wire cord, and the strap is on.",
    "torque": "Each block screw has the torque that the tech sheet says.",
    "with_strap": "A four-wire cord: ground wire on the cabinet, and the strap is on.",
}
"""What is found where the cord goes in, by key; some of it has to be fixed before power."""


def cord_options(card: OpenCloseCard) -> Options:
    """Return the findings that question 13 offers on ``card``, some to fix and some to leave."""
    return by_key(Option(key, AT_THE_CORD[key]) for key in offered(card, "at_the_cord", tuple(AT_THE_CORD), 7))


SPLITTER = {
    "all_wires": "The clamp goes around all of its wires at once.",
    "anyone": "The cover is on, so anybody may take that reading.",
    "category": "Its category is read before it is used, as it is on the meter.",
    "ground_amps": "Amps in its ground wire: stop, unplug, and look for the path.",
    "leave_in": "It stays in for a week, so that the customer sees the amps.",
    "motor_leg": "The leg with the motor shows a few amps more than the other leg.",
    "named": "A qualified person takes the reading, though the cover stays on.",
    "neutral_amps": "Amps in its neutral wire: a coil touches the cabinet.",
    "one_wire": "The clamp goes around one of its wires, and around no other.",
    "plug_first": "The plug comes out before the splitter goes in between.",
    "slit": "A cord with its jacket slit open does the same, if you tape it up afterward.",
}
"""What is done with a line splitter and what its readings say, by key; some of it is right."""


def splitter_options(card: OpenCloseCard) -> Options:
    """Return what question 14 offers on ``card``, some of it right and some not."""
    return by_key(Option(key, SPLITTER[key]) for key in offered(card, "line_splitter", tuple(SPLITTER), 6))


QUESTIONS: tuple[QuestionOf[OpenCloseCard], ...] = (
    Order("teardown", "Opening up, in order", 4, safety=True, options=_TEARDOWN),
    Choice("belt_run", "What the belt asks for", 2, options=_BELT),
    Choice("screw_tally", "What the screw count asks for", 1, options=_TALLY),
    Choices("before_power", "What must be proved before power", 4, safety=True, options=before_power_options),
    Order("close_up", "Closing up, in order", 4, safety=True, options=_CLOSE_UP),
    Readings("proof_readings", "The readings after the repair", 4, rows=ROWS),
    Question("predicted_amps", "Predicted line amps, hot", 2, unit="A", figures=3),
    Question("clamp_off", "How far off the clamp may be", 1, unit="A", figures=2),
    Choice("clamp_verdict", "What the clamp's reading says", 2, options=_VERDICT),
    BenchQuestion("close_and_prove", "The whole repair, closed up and proved", 6, safety=True),
    BenchQuestion("second_cabinet", "Another dryer, opened and closed", 4, safety=True),
    Choice("second_screws", "Screws of the second dryer", 1, options=screw_options),
    Choices("at_the_cord", "What to fix at the cord", 2, safety=True, options=cord_options),
    Choices("line_splitter", "Amps with a line splitter", 3, safety=True, options=splitter_options),
)


_BELTS = (Belt(), Belt(ribs_inward=False), Belt(travel=0.0), Belt(on_pulley=False), Belt(twisted=True))
"""How the belt of question 2 may lie."""
_TRAVELS = ("2.0", "3.5", "0.1")
"""Inches by which a spring may push the idler."""


def belt_of(card: OpenCloseCard) -> Belt:
    """Return how the belt of question 2 lies on ``card``."""
    stream = stream_of(card, "belt_run")
    lies = stream.choose(_BELTS)
    return replace(lies, travel=lies.travel and stream.step(*_TRAVELS))


@dataclass(frozen=True, repr=False, kw_only=True)
class OpenCloseCard(TwoBenchCard):
    """The machine of lesson 09: ohms in Ω, volts in V, amps in A. ``tally`` is screws out and back, cup by cup."""

    bad_element: int
    found: str
    sheet_ohms: float
    tally: tuple[tuple[int, int], ...]
    loaded_volts: float
    clamp_shown: str
    clamp_amps: float

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line, as a person reads it."""
        cups = enumerate(zip(CUPS, self.tally, strict=True), start=1)
        return (
            Line("Found on the last visit", self.found, "card.found"),
            Line("New part with you", f"coil {self.bad_element}", "card.bad_element"),
            Line("Every coil by the tech sheet", f"{self.sheet_ohms:.1f} Ω", "card.sheet_ohms"),
            Line("The belt, two turns by hand (question 2)", belt_of(self).words, ""),
            *(
                Line(f"Screws of the {_CUP_WORDS[cup]} (cup {n})", f"{out} out, {back} back", f"card.tally[{n - 1}]")
                for n, (cup, (out, back)) in cups
            ),
            Line(
                "After the repair, heat on, warm air coming: leg to leg",
                f"{self.loaded_volts:.1f} V",
                "card.loaded_volts",
            ),
            Line("… and the clamp shows", self.clamp_shown, "card.clamp_amps"),
            Line("The second dryer (questions 11 and 12), by its plate", plate_of(machine_of(self, 2)), ""),
        )


def plate_of(machine: Machine) -> str:
    """Return what the plate of a dryer says, and its cord."""
    made = arrangement_of(machine)
    return f"{made.name}, {made.made_for} V, electric, {made.cord} cord"


@lru_cache(maxsize=256)
def _clamped(machine: Machine, case: str, element: int) -> tuple[Reading, Reading]:
    """Return volts leg to leg and the clamp's reading: all at work, a wire left off, or the jaw round the cord."""
    pulled = frozenset({f"wire T{element}"} if case == "wire_off" else ())
    now, _ = settle(machine, (), replace(named_state("heating"), pulled=pulled))
    jaw = CORD if case == "whole_cord" else ("wire L2",)
    meter = Meter()
    return meter.read(now, "volts", "L1", "L2"), meter.clamp(now, jaw, "jaw")


def _tally(stream: Stream) -> tuple[tuple[int, int], ...]:
    out = [stream.integer(6, 12), stream.integer(4, 8), stream.integer(2, 5)]
    short, missing = stream.integer(0, len(CUPS) - 1), stream.integer(1, 2)
    return tuple((count, count - missing if place == short else count) for place, count in enumerate(out))


def draw_card(apprentice: str, stream: Stream) -> OpenCloseCard:
    """Return the job card that ``stream`` deals to ``apprentice``."""
    nominal = stream.step("24.0", "30.0", "0.5")
    ohms = [round(nominal + stream.step("-0.5", "0.5", "0.1"), 1) for _ in ELEMENTS]
    machine = Machine(
        name=f"repair of {apprentice}",
        element_ohms=(ohms[0], ohms[1], ohms[2]),
        leg_volts=stream.step("116.0", "124.0", "0.5"),
        run_feet=float(stream.integer(25, 80)),
    )
    bad = stream.integer(1, 3)
    fault, found = stream.choose(
        (
            (f"element-{bad}-open", f"coil {bad} open: OL"),
            (f"element-{bad}-grounded={stream.step('0.2', '0.8', '0.1'):g}", f"coil {bad} touches the cabinet"),
        )
    )
    bond = stream.choose(((), ("missing-bond",)))
    volts, amps = _clamped(machine, stream.choose(("whole", "wire_off", "whole_cord")), bad)
    return OpenCloseCard(
        apprentice=apprentice,
        lesson=LESSON,
        sealed=Sealed(Dealt(machine, (fault, *bond))),
        bad_element=bad,
        found=found,
        sheet_ohms=nominal,
        tally=_tally(stream),
        loaded_volts=volts.value or 0.0,
        clamp_shown=amps.shown,
        clamp_amps=amps.value or 0.0,
        second=Sealed(Dealt(deal_second(f"second dryer of {apprentice}", stream.beside("second cabinet")))),
    )
