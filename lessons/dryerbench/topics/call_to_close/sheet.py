"""Lesson 10, from the call to the close: a machine not seen before, its fault, and the marked questions."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.bench.faults import catalogue, read_fault
from dryerbench.core.identity import PRACTICE
from dryerbench.core.random_stream import Stream
from dryerbench.core.sealed import Sealed
from dryerbench.course.bench_card import BenchCard, Dealt
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
    Readings,
    Row,
    by_key,
)
from dryerbench.diagnosis.service_calls import (
    FOUND_DEAD,
    NOT_FOUND_DEAD,
    PRACTICE_MACHINE,
    complaint_of,
    draw_fault,
    draw_machine,
    title_of,
)

LESSON = "10_call_to_close"
TITLE = "From the call to the close"

RULE_PERCENT = 50.0
"""The shop's rule on the card: repair up to this share of a new machine (a rule of thumb, no published source)."""

CASE_FAULTS = tuple(name for name in FOUND_DEAD if name.endswith("-grounded"))


@dataclass(frozen=True, repr=False)
class CallCard(BenchCard):
    """The call of lesson 10. Money in dollars (invented), times in minutes, supply in V, sheet ohms in Ω."""

    complaint: str = ""
    """What the customer says."""
    supply_volts: float = 240.0
    sheet_ohms: float = 27.0
    drive_minutes: int = 20
    find_minutes: int = 40
    callout: int = 70
    rate: int = 80
    new_price: int = 700

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line."""
        return (
            Line("The customer says", self.complaint, "card.complaint"),
            Line("Cord", "four-wire", "card.cord"),
            Line("Supply, leg to leg", f"{self.supply_volts:g} V", "card.supply_volts"),
            Line("Each element by the maker's sheet", f"{self.sheet_ohms:.1f} Ω", "card.sheet_ohms"),
            Line("Drive, one way", f"{self.drive_minutes} min", "card.drive_minutes"),
            Line("Finding the fault and proving the repair", f"{self.find_minutes} min", "card.find_minutes"),
            Line("Call-out charge (invented)", f"${self.callout}", "card.callout"),
            Line("Labor, for all the minutes of the call (invented)", f"${self.rate} an hour", "card.rate"),
            Line("A new dryer, delivered and fitted (invented)", f"${self.new_price}", "card.new_price"),
            Line("The shop's rule", f"repair up to {RULE_PERCENT:g} % of a new one", ""),
        )


def draw_card(apprentice: str, stream: Stream) -> CallCard:
    """Return the call that ``stream`` deals to ``apprentice``; its quote is never close to the shop's rule."""
    sheet_ohms = stream.step("26.0", "28.0", "0.5")
    machine = draw_machine(PRACTICE_MACHINE if apprentice == PRACTICE else f"call of {apprentice}", stream, sheet_ohms)
    fault = draw_fault(FOUND_DEAD, stream)
    drive, find = stream.integer(10, 30), stream.integer(30, 50)
    callout, rate = 5 * stream.integer(10, 18), 5 * stream.integer(13, 20)
    row = catalogue(read_fault(fault).name)
    cost = callout + row.number("parts_cost") + rate * (2 * drive + find + row.number("minutes")) / 60
    wanted = stream.choose((0.30, 0.36, 0.42, 0.58, 0.64, 0.70))
    return CallCard(
        apprentice=apprentice,
        lesson=LESSON,
        sealed=Sealed(Dealt(machine, (fault,))),
        complaint=complaint_of(fault),
        supply_volts=2 * machine.leg_volts,
        sheet_ohms=sheet_ohms,
        drive_minutes=drive,
        find_minutes=find,
        callout=callout,
        rate=rate,
        new_price=10 * round(cost / wanted / 10),
    )


STEPS = (
    Option("again", "Prove the meter again, on the same source."),
    Option("ask", "Ask what it does and since when; read the rating plate and the diagram."),
    Option("close", "Put every wire back, read the heater to the case once more, put the cover on."),
    Option("dead", "Test dead: every conductor against every other and against the case."),
    Option("fit", "Fit the new part."),
    Option("measure", "Pull the wires of each suspect off, read it alone, and read the heater to the case."),
    Option("open", "Take the cover off and photograph the wires."),
    Option("power", "Plug in and let it run: heat, air, temperature."),
    Option("prove", "Prove the meter on a source that you know."),
    Option("quote", "Name the fault, show the readings, and quote repair against replacement."),
    Option("record", "Write the job record."),
    Option("unplug", "Pull the plug and keep it in sight, or open the breaker, lock it and tag it."),
)

OFFERED = (*FOUND_DEAD, *NOT_FOUND_DEAD)
"""The faults to choose from when one is named."""


def _sentence(words: str) -> str:
    """Return ``words`` with a capital in front and a full stop behind."""
    return f"{words[0].upper()}{words[1:]}."


def _suspects(card: CallCard) -> Options:
    """Offer what fits the complaint and four that do not, dealt by the machine."""
    stream = Stream(f"{card.seed}/suspects/offered")
    fitting = [name for name in OFFERED if complaint_of(name) == card.complaint]
    rest = stream.shuffle([name for name in OFFERED if name not in fitting])[: max(3, 7 - len(fitting))]
    return by_key(Option(name, _sentence(title_of(name))) for name in (*fitting, *rest))


_REQUESTS = (
    Option("bridge", "Bridge the part at fault for the weekend and write that on the ticket."),
    Option("cover_off", "Plug it in and leave the cover off, so that it can be watched."),
    Option("stay_near", "Plug it in again and tell them to stay in the room while it runs."),
    Option("stay_out", "No. The plug stays out, with a tag on it, until the part is in and the machine is proved."),
)


ADVICE = (
    Option("cut_proof", "Make the repair cheaper: fit the part and leave out the readings and the run afterwards."),
    Option("no_price", "Fit the part now and talk about the price when the bill comes."),
    Option("repair", "Advise the repair: by the shop's rule it is worth it. Say both prices and let them choose."),
    Option(
        "replace",
        "Advise a new machine: by the shop's rule the repair is too dear. Say both prices and let them choose.",
    ),
)


RECORD = (
    Option("beeped", "“Checked all parts with the beeper, OK.”"),
    Option("cause", "The part that was replaced, and what was looked at as its cause."),
    Option("guess", "“Probably the cut-off, they all go sooner or later.”"),
    Option("private", "The code of the house door, so that the next person gets in."),
    Option("proof", "The proof: heater to case before power, bond, every wire back, exhaust temperature at the run."),
    Option("readings", "The readings that showed the fault: where, which setting, number and unit, wires off."),
    Option("words", "What the customer said, in the customer's words, and what was found running or not."),
)

QUESTIONS: tuple[QuestionOf[CallCard], ...] = (
    Order("call_order", "The call from first to last", 3, safety=True, options=STEPS),
    Choices("suspects", "What can lie behind the complaint", 2, options=_suspects),
    Readings(
        "call_readings",
        "The heater, its four wires off",
        4,
        rows=(
            Row("T1", "T1 to T0", "Ω"),
            Row("T2", "T2 to T0", "Ω"),
            Row("T3", "T3 to T0", "Ω"),
            Row("case", "T0 to case", "Ω"),
        ),
    ),
    FaultQuestion(
        "call_fault",
        "The fault, with its evidence",
        6,
        safety=True,
        options=by_key(Option(name, _sentence(title_of(name))) for name in OFFERED),
    ),
    Question("call_minutes", "Minutes of the whole call", 2, unit="min", figures=3),
    Question("quote_share", "The repair as a share of a new machine", 3, unit="%", figures=3),
    Choice("advice", "Repair or replace", 2, options=ADVICE),
    Choice("weekend", "“Can it run until the part is here?”", 2, safety=True, options=_REQUESTS),
    Question("amps_after", "Amps of the heater after the repair", 3, unit="A", figures=3),
    BenchQuestion("call_repair", "The repair, and its proof", 6, safety=True),
    Choices("job_record", "What goes into the job record", 3, options=RECORD),
)
