"""Lesson 07, tracing the circuit: the job card with live readings of one fault, a bench with another, the questions."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.bench.machine import ELEMENTS, Machine
from dryerbench.bench.meter import Meter
from dryerbench.core.random_stream import Stream
from dryerbench.core.sealed import Sealed
from dryerbench.course.bench_card import BenchCard, Dealt
from dryerbench.course.dealing import dealt, offered, stream_of
from dryerbench.course.job_card import Line
from dryerbench.course.questions import (
    Choice,
    Choices,
    FaultQuestion,
    Option,
    Options,
    Order,
    Question,
    QuestionOf,
    Readings,
    Row,
    by_key,
)
from dryerbench.family.arrangement import CABINET, Arrangement
from dryerbench.family.shelf import arrangement
from dryerbench.machine_view.rungs import Item
from dryerbench.topics.tracing_the_circuit.heater_line import CONTACTS, heating
from dryerbench.topics.tracing_the_circuit.second_sheet import (
    GRADED,
    SECOND_DEAD,
    SET,
    at_rest,
    dealt_readings,
    stretches,
    suspects,
)

LESSON = "07_tracing_the_circuit"
TITLE = "Tracing the circuit"

AFTER_CONTACTS = ("H2", "H4", "H6", "H8")
"""The points just past each contact before the elements."""
Reading = tuple[str, str, bool]
"""One dead reading along the line: from where, to where, and whether it is open."""
READ_DEAD: tuple[tuple[Reading, ...], ...] = (
    (("L1", "H8", True),),
    (("L1", "H8", True), ("L1", "H4", True)),
    (("L1", "H8", True), ("L1", "H4", False)),
    (("L1", "H8", True), ("L1", "H4", False), ("H4", "H6", False), ("H7", "H8", True)),
    (("L1", "H8", False),),
)
"""What may have been read for question 7, control on heat."""
PLACES = (7, 9, 10, 11, 12, 13, 14)

_CONTACT_OPTIONS = by_key(Option(fault, f"The {name}, {a} to {b}.") for fault, (name, a, b) in CONTACTS.items())
_SUSPECTS = by_key((*_CONTACT_OPTIONS, Option("nothing", "None of them: the line is good, and the coils are bad.")))
_TRACE = (
    Option("alone", "One part is left: pull one of its wires and read the part alone."),
    Option("call_heat", "Turn the control to heat, so that its contact closes."),
    Option("cover_off", "Take the cover off, test dead at the block too, and check the meter once more."),
    Option("diagram", "Follow the heater circuit on the diagram and write its points down, from leg 1 to leg 2."),
    Option("half", "It is open: read its first half, then half of the half that is open."),
    Option("power_off", "Stop the dryer, pull its plug and keep the plug in reach and in sight."),
    Option("prove_again", "Check the meter on the known live source once more."),
    Option("prove_first", "Check the meter on a known live source."),
    Option("test_dead", "Test dead: each blade of the plug to each other blade and to the cabinet."),
    Option("whole", "Read the ohms of the whole line, L1 to H8."),
)
_LIVE = (
    Option("alone", "Nobody else near, so that nobody is in the way."),
    Option("category", "Meter and test leads of the circuit's category, both inspected before."),
    Option("clips", "Leads clipped on dead, power on, read, power off, clips off dead."),
    Option("dead_first", "Everything that can be found dead, in ohms, has been tried before it."),
    Option("gloves", "Gloves rated for the voltage, eye protection, one hand at a time."),
    Option("jumper", "A jumper across the high limit for a moment, to see if it heats then."),
    Option("ohms_live", "The dial on ohms with the power on, to see which contact has closed."),
    Option("qualified", "A qualified person, and a second one near who can cut the power."),
    Option("two_hands", "A probe in each hand, for a steady contact, so that nothing slips off."),
)
_ZERO = (
    Option("alone", "The reading across it says it all, and 0 V there is a closed contact, whatever else reads."),
    Option("closed", "The limit is closed: the full volts get as far as H7, and you read none of them across it."),
    Option("dead", "Where a reading is 0 V the line is dead: you may touch it there with the heat on."),
    Option("either", "Nothing on the limit itself: no volts get as far as H7, so the line is open before it."),
    Option("open", "The limit is open: the full volts get as far as H7, and you read all of them across it."),
)
AT_LIMIT = {"none": (False, False), "to_limit": (True, False), "across_limit": (True, True)}
"""Whether volts stand from L2 to H7, and across the high limit, by where they are read."""


def live_keys(card: TraceCard) -> tuple[str, ...]:
    """Return the keys of what question 9 offers on ``card``."""
    return offered(card, "live_work", [one.key for one in _LIVE], 6)


def at_limit_of(card: TraceCard) -> str:
    """Return where the readings of question 5 on ``card`` find volts, by its key in ``AT_LIMIT``."""
    return dealt(card, "zero_volts", tuple(AT_LIMIT))


def _live_options(card: TraceCard) -> Options:
    return tuple(one for one in _LIVE if one.key in live_keys(card))


def read_dead_of(card: TraceCard) -> tuple[Reading, ...]:
    """Return what was read dead on ``card`` before question 7, one of ``READ_DEAD``."""
    return dealt(card, "next_reading", READ_DEAD)


def _in_words(readings: tuple[Reading, ...]) -> str:
    """Return dead readings as the card says them; closed stretches show some tenths of an ohm."""
    return ", ".join(f"{a} to {b} {'OL' if is_open else '0.3 Ω'}" for a, b, is_open in readings)


_NEXT_READING = (
    Option("H4-H6", "From H4 to H6, the line's wires on."),
    Option("L1-H2", "From L1 to H2, the line's wires on."),
    Option("L1-H4", "From L1 to H4, the line's wires on."),
    Option("alone", "The part that is left, one wire off."),
    Option("elements", "From T1 to T0, a coil alone."),
)
ROWS = tuple(Row(f"L2-{point}", f"L2 to {point}", "V") for point in AFTER_CONTACTS)

_LEGS = (
    Option("both", "Both legs reach it: leg 1 at one end, leg 2 at the other."),
    Option("leg 1", "Leg 1 reaches the heater, all of it, and leg 2 does not."),
    Option("leg 2", "Leg 2 reaches the heater, all of it, and leg 1 does not."),
    Option("neither", "Neither leg reaches it, as far as this sheet can say."),
)
SECOND_ROWS = tuple(Row(key, f"The {key} pair of points on your card", "V") for key in ("first", "second", "third"))


_WHERE = {"box": "heater box", "console": "control console", "door frame": "door", "motor": "drum motor"}
"""Where a part is, as question 11 says it."""
_CABINET = {CABINET: "the cabinet"}


def second_of(card: TraceCard) -> Arrangement:
    """Return the arrangement of the second dryer on ``card``."""
    return arrangement(dealt(card, "second_sheet", GRADED))


def second_set_of(card: TraceCard) -> str:
    """Return how the second dryer of question 12 on ``card`` is set, a state of ``SET``."""
    return dealt(card, "second_leg", tuple(SET))


def second_pairs_of(card: TraceCard) -> tuple[Item, tuple[tuple[str, str], ...]]:
    """Return the open contact of question 13 on ``card``, and the three pairs of points to predict the volts of."""
    return dealt_readings(second_of(card), stream_of(card, "second_volts"))


def second_dead_of(card: TraceCard) -> tuple[Reading, ...]:
    """Return what was read dead on the second dryer of ``card`` before question 14."""
    ends = stretches(second_of(card))
    return tuple((*ends[name], is_open) for name, is_open in dealt(card, "second_next", SECOND_DEAD))


def suspect_options(card: TraceCard) -> Options:
    """Return the parts of the second dryer that question 11 offers on ``card``."""
    made = second_of(card)
    keys = offered(card, "second_suspects", [part.name for part in suspects(made)], 6)
    where = dict(made.stands)
    words = {key: f"{key}, {made.by_name[key].kind.name}, at the {_WHERE.get(where[key], where[key])}" for key in keys}
    return by_key(Option(key, words[key]) for key in keys)


def _next_options(card: TraceCard) -> Options:
    made = second_of(card)
    ends = {name: pair for name, pair in stretches(made).items() if name != "whole"}
    switch = at_rest(made)
    return by_key(
        (
            *(Option(name, f"From {a} to {b}, wires on.") for name, (a, b) in ends.items()),
            Option("coil", "A coil alone, with a wire off."),
            Option("switch", f"From {switch.left} to {switch.right}, wires on."),
        )
    )


QUESTIONS: tuple[QuestionOf[TraceCard], ...] = (
    Question("open_volts", "Volts across the one open contact", 3, unit="V", figures=3),
    Question("closed_drop", "Drop across a closed contact", 2, unit="mV", figures=2),
    Readings("along_the_line", "Volts along the line, predicted", 4, rows=ROWS),
    Choice("traced_open", "Which contact is open, by the readings", 3, options=_SUSPECTS),
    Choice("zero_volts", "What two live readings say", 3, safety=True, options=_ZERO),
    Question(
        "split_minutes", "Minutes to find one open place, splitting in half", 3, unit="min", figures=2, exact=True
    ),
    Choice("next_reading", "The next reading, splitting in half", 2, options=_NEXT_READING),
    Order("dead_trace", "Tracing it dead, in order", 4, safety=True, options=_TRACE),
    Choices("live_work", "What live measuring needs", 4, safety=True, options=_live_options),
    FaultQuestion("open_part", "The open part of the dryer on the bench", 6, safety=True, options=_CONTACT_OPTIONS),
    Choices("second_suspects", "Which parts stop all heat on another sheet", 3, options=suspect_options),
    Choice("second_leg", "Which leg reaches the heater on another sheet", 3, safety=True, options=_LEGS),
    Readings("second_volts", "Volts on another sheet, predicted", 3, rows=SECOND_ROWS),
    Choice("second_next", "The next dead reading on another sheet", 2, options=_next_options),
)


@dataclass(frozen=True, repr=False, kw_only=True)
class TraceCard(BenchCard):
    """The machine of lesson 07: volts in V, amps in A, contacts in mΩ. ``live`` is what was read with the heat on.

    The faults of the bench are sealed; the fault behind ``live`` is another one, seen on another day.
    """

    supply_volts: float
    line_amps: float
    contact_milliohms: float
    planned_open: str
    live: tuple[tuple[str, str, float], ...]
    places: int
    reading_minutes: int

    def _volts(self, place: int) -> str:
        return f"{self.supply_volts - 0.6:.1f} V" if AT_LIMIT[at_limit_of(self)][place] else "0.0 V"

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line, as a person reads it."""
        name, a, b = CONTACTS[self.planned_open]
        return (
            Line("Supply, leg to leg (questions 1 and 3)", f"{self.supply_volts:g} V", "card.supply_volts"),
            Line(
                "A closed contact (question 2)",
                f"{self.contact_milliohms:g} mΩ at {self.line_amps:.1f} A",
                "card.contact_milliohms",
            ),
            Line("The one open contact of question 3", f"{name}, {a} to {b}", "card.planned_open"),
            *(
                Line(f"Heat on, read live: {where} (question 4)", shown, f"card.live[{place}]")
                for place, (where, shown, _) in enumerate(self.live)
            ),
            Line("Heat on, read live: L2 to H7 (question 5)", self._volts(0), ""),
            Line("Heat on, read live: H7 to H8 (question 5)", self._volts(1), ""),
            Line(
                "Another line (question 6)",
                f"{self.places} places, {self.reading_minutes} minutes a reading",
                "card.places",
            ),
            Line("Read dead, control on heat (question 7)", _in_words(read_dead_of(self)), ""),
            *self._second_lines,
        )

    @property
    def _second_lines(self) -> tuple[Line, ...]:
        made = second_of(self)
        opened, pairs = second_pairs_of(self)
        part = made.by_name[opened.names[0]]
        return (
            Line("The second dryer (questions 11 to 14)", f"{made.name}, {made.made_for} V, {made.cord} cord", ""),
            Line("The second dryer (question 12)", SET[second_set_of(self)], ""),
            Line("The second dryer's one open contact (question 13)", f"{part.name}, {part.kind.name}", ""),
            *(
                Line(f"The {row.key} pair of points (question 13)", f"{a} to {_CABINET.get(b, b)}", "")
                for row, (a, b) in zip(SECOND_ROWS, pairs, strict=True)
            ),
            Line("Read dead, set to high, coils' wires off (question 14)", _in_words(second_dead_of(self)), ""),
        )


def _live_readings(machine: Machine, fault: str) -> tuple[tuple[str, str, float], ...]:
    """Return what a meter shows from L2 to each point along the line of ``machine`` with ``fault`` and the heat on."""
    now, meter = heating(machine, fault), Meter()
    found = []
    for point in ("L1", *AFTER_CONTACTS, "M1"):
        reading = meter.read(now, "volts", "L2", point)
        found.append((f"L2 to {point}", reading.shown, reading.value or 0.0))
    return tuple(found)


def draw_card(apprentice: str, stream: Stream) -> TraceCard:
    """Return the job card that ``stream`` deals to ``apprentice``."""
    ohms = [stream.step("26.5", "27.5", "0.1") for _ in ELEMENTS]
    machine = Machine(
        name=f"trace of {apprentice}",
        element_ohms=(ohms[0], ohms[1], ohms[2]),
        leg_volts=stream.step("116.0", "124.0", "0.5"),
        run_feet=float(stream.integer(25, 80)),
    )
    faults = list(CONTACTS)
    before_elements = faults[:-1]
    on_bench = stream.choose(before_elements)
    planned = stream.choose([fault for fault in before_elements if fault != on_bench])
    traced = stream.choose([fault for fault in faults if fault not in (on_bench, planned)])
    return TraceCard(
        apprentice=apprentice,
        lesson=LESSON,
        sealed=Sealed(Dealt(machine, (on_bench,))),
        supply_volts=machine.leg_to_leg,
        line_amps=stream.step("22.0", "26.5", "0.5"),
        contact_milliohms=stream.step("6", "38", "1"),
        planned_open=planned,
        live=_live_readings(machine, traced),
        places=stream.choose(PLACES),
        reading_minutes=stream.integer(2, 4),
    )
