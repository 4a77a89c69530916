"""What lesson 01, made dead, asks about the machine on the job card."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.bench.worksite import situation_on
from dryerbench.core.random_stream import Stream
from dryerbench.core.sealed import Sealed
from dryerbench.core.tables import table
from dryerbench.course.bench_card import BenchCard, Dealt, machine_of
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
    by_key,
)

LESSON = "01_made_dead"
TITLE = "Made dead"

PERSONS = (("30000", "80000", "1000"), ("4500", "8500", "100"), ("1450", "1950", "50"), ("500", "950", "50"))
"""Ω from hand to ground in steps: dry skin, damp, wet, standing in water (invented for training)."""

TESTED = (("L1", "L2"), ("L1", "N"), ("L2", "N"), ("L1", "case"), ("L2", "case"), ("N", "case"))
"""The pairs at the terminal block that the card's test went through: every one that there is."""

KITS = {
    "bridged": "Meter CAT III 600 V, leads CAT III 600 V, body and insulation undamaged, copper wire as its fuse",
    "cracked": "Meter CAT III 600 V, leads CAT III 600 V, one small nick where copper shows, right fuse in it",
    "iii-1000": "Meter CAT III 1000 V, leads CAT III 1000 V, ten years old, undamaged, right fuse in it",
    "iii-600": "Meter CAT III 600 V, leads CAT III 1000 V, body and insulation undamaged, right fuse in it",
    "iv-600": "Meter CAT IV 600 V, leads CAT III 600 V, body and insulation undamaged, right fuse in it",
    "low-leads": "Meter CAT III 600 V, leads CAT II 300 V that came in its box, right fuse in it",
    "low-meter": "Meter CAT II 600 V, leads CAT III 600 V, bought new this year, right fuse in it",
    "unmarked": "Meter that the whole shop likes, no category on it, leads CAT III 600 V, right fuse in it",
}
JOBS = {
    "belt": "The belt is off the drum, and the dryer has tested dead",
    "burnt": "The slots of the receptacle are scorched, and its face is warm",
    "cut-off": "The thermal cut-off reads open, the dryer is dead, its wires are off",
    "element": "One coil reads open, the dryer is dead, its wire is off",
    "flicker": "Lights in the house go bright and dim when a big load turns on",
    "lint": "The vent is packed with lint, all the way from the dryer to outside",
    "three-wires": "The customer wants a four-wire receptacle; the cable has no ground",
    "trips": "The breaker trips again at once, and the dryer is unplugged",
}
SHOCKED = {
    "awake": "power off; their hand came free at once, they talk and say they feel fine",
    "block": "a hand is locked on a wire of the terminal block; the plug is behind the dryer",
    "both": "your partner pulled at somebody locked on a live wire, and is now locked on too",
    "gasping": "power off, hands free; they do not answer, and they gasp now and then",
    "laughing": "power off; the hand came free in a second, they laugh and want to finish the job",
    "plug": "a hand is locked on the open dryer; it is plugged in, and you can reach the plug",
    "still": "power off, hands free; they do not answer and do not breathe",
}
"""How somebody at work is found after a shock, in words."""
_KITS_DEALT = _JOBS_DEALT = 6
"""Of eight: of either sort there is then at least one, and how many is not said."""
_ISOLATE = {True: "Pull the plug", False: "Pull the plug, and open the dryer's breaker in the panel as well"}
_LOCK = {
    True: "Keep the plug in reach and in sight, with a lock cap and your tag on its blades",
    False: "Put your lock and your tag on the breaker, and keep the key",
}


def _effects(_: MadeDeadCard) -> Options:
    rows = table("shock-effects").rows
    return by_key(
        (
            Option("0", "Nothing: it is not felt"),
            *(Option(f"{row['milliamps']:g}", str(row["effect"]).capitalize()) for row in rows),
        )
    )


def _steps(card: MadeDeadCard) -> Options:
    seen = card.plug_in_sight
    return (
        Option("cover", "Take the cover off"),
        Option("isolate", _ISOLATE[seen]),
        Option("lock", _LOCK[seen]),
        Option("prove", "Check the meter on a source that you know is live"),
        Option("prove-again", "Go back to the known source and check the meter again"),
        Option("rest", "Wait until the drum has stopped and the heater is cool"),
        Option("stop", "Stop the dryer with its own control"),
        Option("tell", "Tell everyone you are shutting the dryer off, and find out what feeds it"),
        Option("test", "Test for volts: each conductor to every other, and each one to the cabinet"),
    )


def _kits(card: MadeDeadCard) -> Options:
    return tuple(Option(key, KITS[key]) for key in card.kits)


def _jobs(card: MadeDeadCard) -> Options:
    return tuple(Option(key, JOBS[key]) for key in card.jobs)


QUESTIONS: tuple[QuestionOf[MadeDeadCard], ...] = (
    Question("body_current", "Current through the person, no ground wire", 2, unit="mA", figures=3),
    Choice("body_effect", "What that current does", 3, safety=True, options=_effects),
    Question("bonded_case_volts", "Volts on the cabinet, ground wire on", 2, unit="V", figures=3),
    Question("bonded_body_current", "Current through the person, ground wire on", 2, unit="mA", figures=3),
    Choices("fit_kits", "Meters and test leads that you may use", 3, safety=True, options=_kits),
    Order("dead_order", "The order that makes a dryer dead", 4, safety=True, options=_steps),
    Choice(
        "test_verdict",
        "What the test for dead says",
        3,
        safety=True,
        options=(
            Option("dead", "It is dead: all pairs read zero, and both checks were good. I open it."),
            Option("live", "It is live: I stop, keep my hands out, and find what still feeds it."),
            Option("stray", "It is dead enough: one good check will do. I open it."),
            Option("unproved", "I know nothing yet: I get a meter that works and do the whole test over."),
        ),
    ),
    Choices("hand_over", "Jobs for a licensed electrician", 3, safety=True, options=_jobs),
    Choice(
        "first_aid",
        "Somebody gets a shock: what comes first",
        3,
        safety=True,
        options=(
            Option("away", "Call 911, keep everybody out, and wait at the door until they come."),
            Option("cpr", "Call 911, send for an AED, and do chest compressions without a pause."),
            Option("cut", "Turn the power off without touching them; then call 911 at once."),
            Option("doctor", "Work stops; somebody stays with them, and a doctor sees them today."),
            Option("pull", "Grab them by a sleeve, pull them away from it at once, and then call 911."),
            Option("rest", "Give them water and ten minutes of rest; then the job goes on."),
        ),
    ),
    BenchQuestion("make_dead", "Make this dryer dead, test it, open it", 5, safety=True),
)


@dataclass(frozen=True, repr=False, kw_only=True)
class MadeDeadCard(BenchCard):
    """The machine of lesson 01. Volts in V, ohms in Ω, amps in A; ``tested`` as in ``TESTED``."""

    person_ohms: int
    fault_amps: float
    bond_ohms: float
    plug_in_sight: bool
    kits: tuple[str, ...]
    jobs: tuple[str, ...]
    shocked: str
    source_before: float
    tested: tuple[float, ...]
    source_after: float

    @property
    def leg_volts(self) -> float:
        """The volts of one leg to ground."""
        return machine_of(self).leg_volts

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line, as a person reads it."""
        seen = "can lie in your reach and sight" if self.plug_in_sight else "is behind a wall, out of your sight"
        names = [f"The test: {a} to {b.replace('case', 'cabinet')}" for a, b in TESTED]
        return (
            Line("One leg to ground", f"{self.leg_volts:g} V", "card.leg_volts"),
            Line("The person, from hand to ground", f"{self.person_ohms} Ω", "card.person_ohms"),
            Line("The fault drives through the ground wire", f"{self.fault_amps:g} A", "card.fault_amps"),
            Line("The ground wire, cabinet to panel", f"{self.bond_ohms:.2f} Ω", "card.bond_ohms"),
            Line("While you work inside, the plug", seen, "card.plug_in_sight"),
            Line("Somebody at work gets a shock. You find", SHOCKED[self.shocked], "card.shocked"),
            Line("Before the test, on the known source", f"{self.source_before:.1f} V", "card.source_before"),
            *(
                Line(name, f"{volts:.1f} V", f"card.tested[{place}]")
                for place, (name, volts) in enumerate(zip(names, self.tested, strict=True))
            ),
            Line("After the test, on the known source", f"{self.source_after:.1f} V", "card.source_after"),
        )


def _test(machine: Machine, case: str) -> tuple[float, ...]:
    """Return the volts at the block that the bench's meter shows: breaker open, or one pole of it stuck closed."""
    bench = Bench(machine, () if case in ("dead", "unproved") else (case,))
    if case in ("dead", "unproved"):
        bench.do("open_breaker")
    readings = (bench.meter.read(situation_on(bench), "volts", a, b) for a, b in TESTED)
    return tuple(round(reading.value or 0.0, 1) for reading in readings)


def draw_card(apprentice: str, stream: Stream) -> MadeDeadCard:
    """Return the job card that ``stream`` deals to ``apprentice``."""
    leg = stream.step("116.0", "124.0", "0.5")
    machine = Machine(
        name=f"{LESSON}/{apprentice}",
        leg_volts=leg,
        cord=stream.choose(("four-wire", "three-wire")),
        run_feet=float(stream.integer(25, 90)),
    )
    case = stream.choose(("dead", "unproved", "lost-leg-1", "lost-leg-2"))
    before, after = (round(leg + stream.step("-0.8", "0.8", "0.1"), 1) for _ in range(2))
    return MadeDeadCard(
        apprentice=apprentice,
        lesson=LESSON,
        sealed=Sealed(Dealt(machine)),
        person_ohms=int(stream.step(*stream.choose(PERSONS))),
        fault_amps=stream.step("55", "110", "5"),
        bond_ohms=stream.step("0.08", "0.25", "0.01"),
        plug_in_sight=stream.choose((True, False)),
        kits=tuple(sorted(stream.shuffle(list(KITS))[:_KITS_DEALT])),
        jobs=tuple(sorted(stream.shuffle(list(JOBS))[:_JOBS_DEALT])),
        shocked=stream.choose(tuple(SHOCKED)),
        source_before=before,
        tested=_test(machine, case),
        source_after=0.0 if case == "unproved" else after,
    )
