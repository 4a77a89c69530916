"""Lesson 10, from the call to the close: three machines not seen before, and the graded questions.

The machine of call 3 is of another arrangement than the one that the lessons teach on: what was learned there has to
be carried over to it. Calls 1 and 2 are on the lessons' arrangement with numbers of their own.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.faults import catalogue
from dryerbench.bench.machine import Machine
from dryerbench.bench.placement import placement_of
from dryerbench.bench.wiring import RUN_OHMS, START_OHMS
from dryerbench.core.identity import PRACTICE
from dryerbench.core.random_stream import Stream
from dryerbench.core.sealed import Sealed, unsealed
from dryerbench.course.bench_card import BenchCard, CardError, Dealt, machine_of
from dryerbench.course.dealing import offered, stream_of
from dryerbench.course.job_card import Line
from dryerbench.course.questions import (
    BenchQuestion,
    Choice,
    Choices,
    FaultQuestion,
    Option,
    Options,
    Order,
    Question,
    QuestionOf,
    by_key,
)
from dryerbench.diagnosis.call_dealing import HANDED_OVER, KINDS, PLAIN, Visit, deal_visit, names_of
from dryerbench.diagnosis.candidates import SOUND
from dryerbench.diagnosis.complaints import behind, near
from dryerbench.diagnosis.machine_hand_over import deal_hand_over
from dryerbench.diagnosis.service_calls import PRACTICE_MACHINE, draw_machine, title_of
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.tech_sheet import sheet_lines

LESSON = "10_call_to_close"
TITLE = "From the call to the close"

RULE_PERCENT = 50.0
"""The shop's rule on the card: repair up to this share of a new machine (a rule of thumb, no published source)."""

SUSPECTS = tuple(
    dict.fromkeys(
        (*(name for group in PLAIN for name in group), "cut-off-blown", "blocked-vent", *HANDED_OVER),
    )
)
"""Faults that a complaint is held against."""
_SUSPECTS_OFFERED = 7
OFFERED = (*(name for name in SUSPECTS if name not in ("cut-off-blown", "open-service-neutral")), SOUND)
"""What there is to choose from when the fault of call 1 is named."""


@dataclass(frozen=True)
class CallDealt(Dealt):
    """What stands at one call, and what is heard of it, by its short name."""

    heard: str = ""


@dataclass(frozen=True, repr=False)
class CallCard(BenchCard):
    """The three calls of lesson 10. Money in dollars (invented), times in minutes, supply in V, sheet ohms in Ω."""

    calls: tuple[Sealed[Dealt], ...] = ()
    earlier: Sealed[Dealt] = field(default=Sealed(Dealt(Machine())), compare=False)
    """Call 3 as kits had it before it was on another arrangement: what is handed in from those is told apart."""
    words: tuple[str, ...] = ()
    """What the three customers say."""
    supply_volts: float = 240.0
    sheet_ohms: float = 27.0
    drive_minutes: int = 20
    find_minutes: int = 40
    trip_charge: int = 70
    rate: int = 80
    new_price: int = 700
    pending: str = ""
    """How far the job of question 10 is, in words."""

    def job(self, call: int) -> Sealed[Dealt]:
        """Return the call with its machine and what is wrong with it, sealed.

        Raises
        ------
        CardError
            If ``call`` is none of 1, 2 and 3.
        """
        if call not in (1, 2, 3):
            raise CardError("The calls of this card are 1, 2 and 3: open_bench(card, 2).")
        return self.calls[call - 1]

    @property
    def tech_sheet(self) -> tuple[str, ...]:
        """The tech sheet of the machine of call 3, line by line; what is wrong is not on it."""
        return tuple(sheet_lines(_other(self), placement_of(machine_of(self, 3)).marks))

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line."""
        return (
            *(
                Line(f"Call {number}, the customer says", f"“{words}”", f"card.words[{number - 1}]")
                for number, words in enumerate(self.words, start=1)
            ),
            Line("Dryers of calls 1 and 2", "electric, four-wire cord", "card.cord"),
            *_other_lines(self),
            Line("Supply of call 1, leg to leg", f"{self.supply_volts:g} V", "card.supply_volts"),
            Line("Each coil of calls 1 and 2 by the tech sheet, cold", f"{self.sheet_ohms:.1f} Ω", "card.sheet_ohms"),
            Line("Motor of calls 1 and 2 by the tech sheet, cold", _windings(RUN_OHMS, START_OHMS), ""),
            Line("Call 2: drive, one way", f"{self.drive_minutes} min", "card.drive_minutes"),
            Line("Call 2: finding and proving, by the shop's list", f"{self.find_minutes} min", "card.find_minutes"),
            Line("Trip charge (invented)", f"${self.trip_charge}", "card.trip_charge"),
            Line("Labor, for all the minutes of the call (invented)", f"${self.rate} an hour", "card.rate"),
            Line("A new dryer, delivered and installed (invented)", f"${self.new_price}", "card.new_price"),
            Line("The shop's rule", f"repair up to {RULE_PERCENT:g} % of a new one", ""),
            Line("Another job, Friday at four", self.pending, "card.pending"),
        )


def _windings(run: float, start: float) -> str:
    return f"run winding {run:g} Ω, start winding {start:g} Ω"


def _other(card: CallCard) -> Arrangement:
    return arrangement_of(machine_of(card, 3))


def _other_lines(card: CallCard) -> tuple[Line, ...]:
    """Return what the plate and the tech sheet of the machine of call 3 say."""
    made = _other(card)
    coils = ", ".join(f"{coil.ohms:g} Ω" for coil in made.coils)
    motor = made.motor.numbers
    return (
        Line("Dryer of call 3, by its plate", f"{made.name}, {made.made_for} V, electric, {made.cord} cord", ""),
        Line("Call 3: coils by the tech sheet, cold", coils, ""),
        Line("Call 3: motor by the tech sheet, cold", _windings(motor["run"], motor["start"]), ""),
        Line("Call 3: the whole tech sheet", "show_tech_sheet(card)", "card.tech_sheet"),
    )


PENDING = (
    "a limit reads closed at 284 °F; the new one comes Monday",
    "all is read but the ground wire: the meter's fuse blew",
    "cut-off and limit are new and read; the vent is still packed",
    "element is new, all read, closed up; ran with heat, exhaust 124 °F",
    "element is new, wires back, cover on; heater to cabinet not read since",
    "no part needed; all read, closed up; ran with heat, exhaust 121 °F",
    "parts in, all read, closed up; ran with heat, exhaust 118 °F",
    "vent swept, all read, closed up; ran with heat, exhaust 129 °F",
)
"""How far the job of question 10 is: what is done, and what is not."""


def _cost(visit: Visit, drive: int, find: int, trip_charge: int, rate: int) -> float:
    rows = [catalogue(name) for name in names_of(visit.faults)]
    hours = (2 * drive + find + sum(row.number("minutes") for row in rows)) / 60
    return float(trip_charge + sum(row.number("parts_cost") for row in rows) + rate * hours)


def _dealt(visit: Visit) -> Dealt:
    return CallDealt(visit.machine, visit.faults, visit.heard)


def heard_on(card: CallCard) -> str:
    """Return what is heard of call 1 on ``card``, by its short name."""
    there = unsealed(card.job(1))
    assert isinstance(there, CallDealt)
    return there.heard


def draw_card(apprentice: str, stream: Stream) -> CallCard:
    """Return the calls that ``stream`` deals to ``apprentice``; the quote is never close to the shop's rule."""
    sheet_ohms = stream.step("26.0", "28.0", "0.5")
    owner = PRACTICE_MACHINE if apprentice == PRACTICE else "call"
    visits = tuple(
        deal_visit(kind, draw_machine(f"{owner} {number} of {apprentice}", stream, sheet_ohms), stream)
        for number, kind in enumerate(KINDS, start=1)
    )
    other = deal_hand_over(f"{owner} {len(KINDS)} of {apprentice}", stream.beside("call 3"))
    calls = tuple(Sealed(_dealt(visit)) for visit in (*visits[:-1], other))
    drive, find = stream.integer(10, 30), stream.integer(30, 50)
    trip_charge, rate = 5 * stream.integer(10, 18), 5 * stream.integer(13, 20)
    wanted = stream.choose((0.30, 0.36, 0.42, 0.58, 0.64, 0.70))
    return CallCard(
        apprentice=apprentice,
        lesson=LESSON,
        sealed=calls[0],
        calls=calls,
        earlier=Sealed(_dealt(visits[-1])),
        words=tuple(visit.words for visit in (*visits[:-1], other)),
        supply_volts=2 * visits[0].machine.leg_volts,
        sheet_ohms=sheet_ohms,
        drive_minutes=drive,
        find_minutes=find,
        trip_charge=trip_charge,
        rate=rate,
        new_price=10 * round(_cost(visits[1], drive, find, trip_charge, rate) / wanted / 10),
        pending=stream.choose(PENDING),
    )


STEPS = (
    Option("again", "Check the meter again, on the same source."),
    Option("ask", "Ask if it is gas or electric, what it does and since when; read model plate and diagram."),
    Option("close", "Put every wire back, read the heater to the cabinet and the ground wire, put the cover on."),
    Option("dead", "Test dead: every conductor to every other and to the cabinet."),
    Option("fit", "Put the new part in, and fix the cause."),
    Option("measure", "Pull the wires of each suspect off, read it alone, and read the heater to the cabinet."),
    Option("open", "Take the cover off, test dead at the block, take a picture of the wires."),
    Option("power", "Plug in and let it run: heat, air, temperature."),
    Option("prove", "Check the meter on a known live source."),
    Option("quote", "Name the fault and its cause, show the readings, quote repair against a new dryer."),
    Option("record", "Write the job record."),
    Option("unplug", "Pull the plug and keep it under your own control, or open the breaker, lock it, tag it."),
)


def _sentence(words: str) -> str:
    """Return ``words`` with a capital in front and a full stop behind."""
    return f"{words[0].upper()}{words[1:]}."


def suspect_options(card: CallCard) -> Options:
    """Offer faults of which at least one fits the complaint of call 1; how many do is as it was dealt.

    Those that some customers would tell like it too are left out: they would be neither right nor wrong.
    """
    heard = heard_on(card)
    dealt = stream_of(card, "suspects").shuffle(sorted(set(SUSPECTS) - near(heard)))
    chosen = dealt[:_SUSPECTS_OFFERED]
    if not set(chosen) & set(behind(heard)):
        chosen[-1] = next(name for name in dealt if name in behind(heard))
    return by_key(Option(name, _sentence(title_of(name))) for name in chosen)


FAULTS = by_key(Option(name, _sentence(title_of(name))) for name in OFFERED)
"""What could be wrong on call 1; nothing wrong is among it."""


WEEKEND = (
    Option("breaker", "Not yet: breaker off, unlocked, and a note for them on the panel."),
    Option("cold", "Yes, without heat: a note goes on the control."),
    Option("run", "Yes: what had to be proved is proved, and my record says how."),
    Option("stay_out", "Not yet: plug out, my tag on it, until the job is done and proved."),
    Option("watched", "Yes, while they stay near it: I tell them what to look and smell for."),
)

ADVICE = (
    Option("cut_proof", "Advise the repair without the time for readings and run, which is cheaper; say one price."),
    Option("effect_only", "Advise the part that failed now, and what made it fail on a later visit."),
    Option("no_price", "Put the parts in while you are there, and go through the price with the bill."),
    Option("repair", "Advise the repair, since the shop's rule is for it; say both prices, and they choose."),
    Option("replace", "Advise a new dryer, since the shop's rule is for it; say both prices, and they choose."),
)

LINES = {
    "beeped": "“Coils, limit, cut-off and thermostat all checked with the beeper, all OK.”",
    "cause": "“Cut-off replaced. Cause: vent packed with lint, limit closed at 284 °F.”",
    "guess": "“Cut-off replaced. It was most likely just old; no cause looked for.”",
    "model": "“Part ordered by the model plate, which is inside the door opening.”",
    "no_unit": "“Heater read 27 and 27 and 9, motor 2, everything else about normal.”",
    "private": "“Key is under the third pot; house is empty on weekdays until five.”",
    "proof": "“T0 to cabinet OL, ground 0.2 Ω before power; exhaust 118 °F after 10 min.”",
    "readings": "“Cut-off H5 to H6: OL, ohms, wires H5 and H7 off, room temperature.”",
    "words": "“Customer: takes three cycles since March. Found running, exhaust cool.”",
}
"""What somebody wrote into a job record, by key; some of it belongs there."""


def record_options(card: CallCard) -> Options:
    """Return the lines that question 12 offers on ``card``, some that belong into a record and some that do not."""
    return by_key(Option(key, LINES[key]) for key in offered(card, "job_record", tuple(LINES), 6))


QUESTIONS: tuple[QuestionOf[CallCard], ...] = (
    Order("call_order", "The call from first to last", 3, safety=True, options=STEPS),
    Choices("suspects", "What can be behind the complaint of call 1", 2, options=suspect_options),
    FaultQuestion("call_fault", "Call 1: what is wrong, with its evidence", 6, safety=True, options=FAULTS),
    BenchQuestion("call_repair", "Call 1: the repair, and its proof", 6, safety=True),
    Question("amps_after", "Call 1: amps of the heater after the repair", 2, unit="A", figures=3),
    BenchQuestion("cause_removed", "Call 2: what failed and what made it fail", 8, safety=True),
    Question("call_minutes", "Call 2: minutes of the whole call", 2, unit="min", figures=3),
    Question("quote_share", "Call 2: the repair as a share of a new dryer", 3, unit="%", figures=3),
    Choice("advice", "Call 2: repair or replace", 2, options=ADVICE),
    Choice("weekend", "“Can I run it over the weekend?”", 2, safety=True, options=WEEKEND),
    BenchQuestion("handed_over", "Call 3: stop, and hand it off", 6, safety=True),
    Choices("job_record", "What goes into the job record", 2, options=record_options),
)
