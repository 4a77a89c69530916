"""Lesson 10, from the call to the close: three machines not seen before, and the graded questions.

Each call is on a machine of another arrangement, none of them the one that the lessons teach on: what was learned
there has to be carried over.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from dryerbench.bench.access import arrangement_of, part_prices
from dryerbench.bench.faults import catalogue, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.placement import placement_of
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
from dryerbench.diagnosis.call_dealing import KINDS, Visit, deal_visit
from dryerbench.diagnosis.candidates import SOUND
from dryerbench.diagnosis.machine_complaints import told_alike, told_near, told_on
from dryerbench.diagnosis.machine_dealing import deal_cause, deal_plain
from dryerbench.diagnosis.machine_hand_over import deal_hand_over
from dryerbench.diagnosis.service_calls import PRACTICE_MACHINE, draw_machine, title_of
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.tech_sheet import sheet_lines

LESSON = "10_call_to_close"
TITLE = "From the call to the close"

RULE_PERCENT = 50.0
"""The shop's rule on the card: repair up to this share of a new machine (a rule of thumb, no published source)."""

_SUSPECTS_OFFERED = 7
_FAULTS_OFFERED = 18
"""How many faults there are to choose from when the one of call 1 is named, besides that nothing is wrong."""


@dataclass(frozen=True)
class CallDealt(Dealt):
    """What stands at one call, and what is heard of it, by its short name."""

    heard: str = ""


@dataclass(frozen=True, repr=False)
class CallCard(BenchCard):
    """The three calls of lesson 10. Money in dollars (invented), times in minutes, supply in V."""

    calls: tuple[Sealed[Dealt], ...] = ()
    earlier: tuple[Sealed[Dealt], ...] = field(default=(), compare=False)
    """The calls as kits had them while they were on the lessons' own machine: what comes from those is told apart."""
    words: tuple[str, ...] = ()
    """What the three customers say."""
    supply_volts: float = 240.0
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

    def tech_sheet(self, call: int) -> tuple[str, ...]:
        """Return the tech sheet of the machine of ``call``, line by line; what is wrong is not on it.

        Raises
        ------
        CardError
            If ``call`` is none of 1, 2 and 3.
        """
        machine = machine_of(self, call)
        return tuple(sheet_lines(arrangement_of(machine), placement_of(machine).marks))

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line."""
        return (
            *(line for number in range(1, len(KINDS) + 1) for line in call_lines(self, number)),
            Line("Call 1: supply, leg to leg", f"{self.supply_volts:g} V", "card.supply_volts"),
            Line("Call 2: drive, one way", f"{self.drive_minutes} min", "card.drive_minutes"),
            Line("Call 2: finding and proving, by the shop's list", f"{self.find_minutes} min", "card.find_minutes"),
            Line("Trip charge (invented)", f"${self.trip_charge}", "card.trip_charge"),
            Line("Labor, for all the minutes of the call (invented)", f"${self.rate} an hour", "card.rate"),
            Line("A new dryer, delivered and installed (invented)", f"${self.new_price}", "card.new_price"),
            Line("The shop's rule", f"repair up to {RULE_PERCENT:g} % of a new one", ""),
            Line("Another job, Friday at four", self.pending, "card.pending"),
        )


def call_lines(card: CallCard, call: int) -> tuple[Line, ...]:
    """Return what is known of ``call`` before it is touched: the words, and what plate and tech sheet say."""
    made = arrangement_of(machine_of(card, call))
    coils = ", ".join(f"{coil.ohms:g} Ω" for coil in made.coils)
    run, start = made.motor.numbers["run"], made.motor.numbers["start"]
    plate = f"{made.name}, {made.made_for} V, electric, {made.cord} cord"
    return (
        Line(f"Call {call}, the customer says", f"“{card.words[call - 1]}”", f"card.words[{call - 1}]"),
        Line(f"Call {call}: dryer, by its plate", plate, ""),
        Line(f"Call {call}: coils by the tech sheet, cold", coils, ""),
        Line(f"Call {call}: motor by the tech sheet, cold", f"run winding {run:g} Ω, start winding {start:g} Ω", ""),
        Line(f"Call {call}: the whole tech sheet", f"show_tech_sheet(card, {call})", f"card.tech_sheet({call})"),
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


def parts_of(machine: Machine, faults: tuple[str, ...]) -> tuple[str, ...]:
    """Return the parts that ``faults`` of ``machine`` take, each once."""
    names = (read_fault(fault, machine).name for fault in faults)
    return tuple(dict.fromkeys(str(catalogue(name)["part"]) for name in names))


def _cost(visit: Visit, drive: int, find: int, trip_charge: int, rate: int) -> float:
    prices = part_prices(visit.machine)
    fixes = [prices[part] for part in parts_of(visit.machine, visit.faults)]
    hours = (2 * drive + find + sum(minutes for minutes, _ in fixes)) / 60
    return trip_charge + sum(dollars for _, dollars in fixes) + rate * hours


def _dealt(visit: Visit) -> Sealed[Dealt]:
    return Sealed(CallDealt(visit.machine, visit.faults, visit.heard))


def heard_on(card: CallCard) -> str:
    """Return what is heard of call 1 on ``card``, by its short name."""
    there = unsealed(card.job(1))
    assert isinstance(there, CallDealt)
    return there.heard


def _visits(owner: str, apprentice: str, stream: Stream) -> tuple[Visit, ...]:
    """Return the three calls, each of another arrangement, from streams beside ``stream``."""
    names = [f"{owner} {number} of {apprentice}" for number in range(1, len(KINDS) + 1)]
    third = deal_hand_over(names[2], stream.beside("call 3"))
    taken = [_made(third)]
    second = deal_cause(names[1], stream.beside("call 2"), taken)
    first = deal_plain(names[0], stream.beside("call 1"), [*taken, _made(second)])
    return first, second, third


def _made(visit: Visit) -> str:
    return arrangement_of(visit.machine).name.lower()


def draw_card(apprentice: str, stream: Stream) -> CallCard:
    """Return the calls that ``stream`` deals to ``apprentice``; the quote is never close to the shop's rule."""
    sheet_ohms = stream.step("26.0", "28.0", "0.5")
    owner = PRACTICE_MACHINE if apprentice == PRACTICE else "call"
    earlier = tuple(
        deal_visit(kind, draw_machine(f"{owner} {number} of {apprentice}", stream, sheet_ohms), stream)
        for number, kind in enumerate(KINDS, start=1)
    )
    visits = _visits(owner, apprentice, stream)
    drive, find = stream.integer(10, 30), stream.integer(30, 50)
    trip_charge, rate = 5 * stream.integer(10, 18), 5 * stream.integer(13, 20)
    wanted = stream.choose((0.30, 0.36, 0.42, 0.58, 0.64, 0.70))
    calls = tuple(map(_dealt, visits))
    return CallCard(
        apprentice=apprentice,
        lesson=LESSON,
        sealed=calls[0],
        calls=calls,
        earlier=tuple(map(_dealt, earlier)),
        words=tuple(visit.words for visit in visits),
        supply_volts=round(visits[0].machine.site.leg_to_leg, 1),
        drive_minutes=drive,
        find_minutes=find,
        trip_charge=trip_charge,
        rate=rate,
        new_price=10 * round(_cost(visits[1], drive, find, trip_charge, rate) / wanted / 10),
        pending=stream.choose(PENDING),
    )


STEPS = (
    Option("again", "Check the meter again, on the same source."),
    Option("ask", "Ask if it is gas or electric, what it does and since when; read nameplate and diagram."),
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
    """Offer faults of this machine of which at least one fits the complaint of call 1; how many do is as dealt.

    Those that some customers would tell like it too are left out: they would be neither right nor wrong.
    """
    made, heard = arrangement_of(machine_of(card)), heard_on(card)
    fitting = told_alike(made, heard)
    dealt = stream_of(card, "suspects").shuffle(sorted(set(told_on(made)) - told_near(made, heard)))
    chosen = dealt[:_SUSPECTS_OFFERED]
    if not set(chosen) & set(fitting):
        chosen[-1] = next(name for name in dealt if name in fitting)
    return by_key(Option(name, _sentence(title_of(name))) for name in chosen)


def fault_options(card: CallCard) -> Options:
    """Offer faults of the machine of call 1, all that are heard like its complaint among them; or nothing wrong."""
    return _faults_offered(arrangement_of(machine_of(card)), heard_on(card), card.seed)


@lru_cache(maxsize=256)
def _faults_offered(made: Arrangement, heard: str, seed: str) -> Options:
    fitting = told_alike(made, heard)
    others = Stream(f"{seed}/faults").shuffle(sorted(set(told_on(made)) - set(fitting)))
    names = (*fitting, *others[: max(0, _FAULTS_OFFERED - len(fitting))], SOUND)
    return by_key(Option(name, _sentence(title_of(name))) for name in names)


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
    "model": "“Part ordered by number, from the nameplate inside the door opening.”",
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


AROUND = {
    "burnt": "The receptacle is burnt: put in a new one, at a fair price.",
    "code": "The display shows a code: write it down, unplug, and read the parts that it points to.",
    "found_more": "You find another bad part: stop, say the new price, and get a yes in writing again.",
    "look_alike": "The old part has no number: order the one that looks the same and has the same terminals.",
    "may_be_paid": "It is one year old: tell them to check the warranty before you start on it.",
    "monday": "The part comes on Monday: let them use it without heat until then.",
    "nodded": "The customer nods at your price: put the part in, and bill it later.",
    "not_aboard": "The part is not on the truck: before you go, say the day and what the second trip costs.",
    "recalled": "The model is on the recall list: finish the repair, run it, and leave them the notice.",
    "show_air": "Before you leave: show them warm air at the hood, then air fluff that blows cool.",
    "ten_days": "The same complaint ten days later: make it dead, test dead, and read from the top.",
    "test_mode": "The test mode says “heater”: order a heater, because the dryer has tested its own.",
}
"""What a tech may do before, beside and after a repair, by key; some of it is right."""


def around_options(card: CallCard) -> Options:
    """Return what question 13 offers on ``card``, some that is done around a repair and some that is not."""
    return by_key(Option(key, AROUND[key]) for key in offered(card, "around_the_job", tuple(AROUND), 7))


QUESTIONS: tuple[QuestionOf[CallCard], ...] = (
    Order("call_order", "The call from first to last", 3, safety=True, options=STEPS),
    Choices("suspects", "What can be behind the complaint of call 1", 2, options=suspect_options),
    FaultQuestion("call_fault", "Call 1: what is wrong, with its evidence", 6, safety=True, options=fault_options),
    BenchQuestion("call_repair", "Call 1: the repair, and its proof", 6, safety=True),
    Question("amps_after", "Call 1: amps of the heater after the repair", 2, unit="A", figures=3),
    BenchQuestion("cause_removed", "Call 2: what failed and what made it fail", 8, safety=True),
    Question("call_minutes", "Call 2: minutes of the whole call", 2, unit="min", figures=3),
    Question("quote_share", "Call 2: the repair as a share of a new dryer", 3, unit="%", figures=3),
    Choice("advice", "Call 2: repair or replace", 2, options=ADVICE),
    Choice("weekend", "“Can I run it over the weekend?”", 2, safety=True, options=WEEKEND),
    BenchQuestion("handed_over", "Call 3: stop, and hand it off", 6, safety=True),
    Choices("job_record", "What goes into the job record", 2, options=record_options),
    Choices("around_the_job", "What you do around the repair", 3, safety=True, options=around_options),
)
