"""Service calls: a machine not seen before with one fault; hints, naming, and one's own path beside the advised one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import takewhile

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import Fault, catalogue, fault_names, fits, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.states import State, named_state
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import faults_on, machine_on
from dryerbench.core.errors import LegToLegError
from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import table
from dryerbench.diagnosis.candidates import Measurement, menu
from dryerbench.diagnosis.evidence import Evidence
from dryerbench.diagnosis.paths import Step, follow, from_trail

FOUND_DEAD = (
    *(f"element-{n}-open" for n in (1, 2, 3)),
    *(f"element-{n}-grounded" for n in (1, 2, 3)),
    "high-limit-open",
    "cut-off-blown",
    "cycling-open",
    "control-open",
    "thermistor-open",
    "door-switch-open",
    "run-winding-open",
)
"""Faults that readings on a dead machine single out (computed: tests/dryerbench/test_calls.py)."""

NOT_FOUND_DEAD = ("blocked-vent", "lost-leg-2", "motor-heat-contact-open")
"""Faults with complaints like those above that are sound to every reading of a dead machine."""

PRACTICE_MACHINE = "practice"
"""How the name of a machine begins on which paths may be shown: it is nobody's own."""


class CallError(LegToLegError, ValueError):
    """Something that this call cannot do; the text says what to do instead."""


def draw_machine(name: str, stream: Stream, sheet_ohms: float, cord: str = "four-wire") -> Machine:
    """Return a machine that nobody has seen before: elements near ``sheet_ohms`` Ω, supply and run of its own."""
    ohms = [round(sheet_ohms + stream.step("-0.4", "0.4", "0.1"), 1) for _ in range(3)]
    return Machine(
        name=name,
        element_ohms=(ohms[0], ohms[1], ohms[2]),
        leg_volts=stream.step("118.0", "122.0", "0.5"),
        run_feet=float(stream.integer(25, 90)),
        cord=cord,
    )


def draw_fault(names: Sequence[str], stream: Stream) -> str:
    """Return one fault of ``names``, written with a strength inside its middle where it has one."""
    name = stream.choose(names)
    row = catalogue(name)
    if row["strength_usual"] is None:
        return name
    share, low = stream.integer(25, 75) / 100, row.number("strength_low")
    return f"{name}={low + share * (row.number('strength_high') - low):.4g}"


def complaint_of(fault: str) -> str:
    """Return what the customer says of a machine with ``fault``.

    Raises
    ------
    FaultError
        For a fault that the catalogue does not have.
    """
    return str(catalogue(read_fault(fault).name)["complaint"])


def before_repair(trail: Sequence[Act]) -> list[Act]:
    """Return the acts of a trail up to the first part that was replaced: what came later says nothing of the fault."""
    return list(takewhile(lambda act: act["act"] != "replace_part", trail))


def evidence_of(bench: Bench, complaint: str = "") -> Evidence:
    """Return what the readings on ``bench`` before any repair say, with the maker's values for its kind of machine."""
    evidence = from_trail(Machine(cord=machine_on(bench).cord), before_repair(bench.trail))
    if complaint:
        evidence.hear(complaint)
    return evidence


def taken_on(bench: Bench) -> set[Measurement]:
    """Return the readings of the menu that were taken on ``bench``, as far as the state goes that matters for them."""
    taken = set()
    for act in bench.trail:
        if "reading" not in act or "asked" not in act:
            continue
        places = set(act["reading"]["places"])
        state = replace(State.from_data(act["asked"]), pulled=frozenset())
        for one in menu():
            wanted = replace(named_state(one.state), pulled=frozenset())
            if one.mode == act["reading"]["mode"] and set(one.places) == places and wanted == state:
                taken.add(one)
    return taken


@dataclass
class Call:
    """One call of practice: the complaint, the bench, the hints taken. Nothing here is marked."""

    number: int
    bench: Bench
    complaint: str
    hints: int = 0
    named: list[str] = field(default_factory=list)

    def hint(self) -> str:
        """Return the reading that would tell most a minute from here, dead ones first; counted, and free."""
        self.hints += 1
        evidence = evidence_of(self.bench, self.complaint)
        evidence.taken = taken_on(self.bench)
        evidence.qualified = False
        advice = evidence.advice()
        if advice is None:
            evidence.qualified = True
            advice = evidence.advice()
        if advice is None:
            likely = ", ".join(title_of(name) for name in evidence.singled_out()[:3])
            return f"Hint {self.hints}: no reading tells much more. What is left: {likely}."
        live = (
            " That is live work: a qualified person's, with gloves, one hand, and nobody alone."
            if advice.act.live
            else ""
        )
        where = f"read {advice.act.mode} at {' and '.join(advice.act.places)}, with {state_words(advice.act)}."
        return f"Hint {self.hints}: {where}{live}"

    def name_fault(self, name: str) -> str:
        """Return what is to be said to the fault ``name``: right or not, and whether the readings showed it.

        Raises
        ------
        FaultError
            For a fault that the catalogue does not have.
        """
        said = read_fault(name).name
        self.named.append(said)
        evidence = evidence_of(self.bench, self.complaint)
        alike = evidence.singled_out()
        if all(fault.name != said for fault in faults_on(self.bench)):
            odds = evidence.odds().get(said, 0.0)
            return f"Not {title_of(said)}: after your readings it has {odds:.0%} of the odds. Measure on."
        if alike != [said]:
            rest = ", ".join(title_of(one) for one in alike if one != said)
            return f"Right, {title_of(said)}; but your readings do not single it out. They also fit: {rest:.160}."
        return f"Right, {title_of(said)}, and your readings single it out, with {self.hints} hints."


def state_words(act: Measurement) -> str:
    """Return the state of the machine for ``act`` in words."""
    return str(table("bench-states").row(state=act.state)["title"])


def title_of(name: str) -> str:
    """Return the fault ``name`` in words; a sound machine has a name too."""
    return "nothing wrong" if name == "sound" else str(catalogue(name)["title"])


def deal_call(number: int) -> Call:
    """Return the practice call ``number``: the same number, the same machine with the same fault.

    Raises
    ------
    CallError
        If ``number`` is no whole number from 1 on.
    """
    if type(number) is not int or number < 1:
        raise CallError("Practice calls are numbered 1, 2, 3 and so on: practice_call(1).")
    stream = Stream(f"leg-to-leg/practice-call/1/{number}")
    cord = "three-wire" if stream.integer(1, 5) == 1 else "four-wire"
    sheet_ohms = stream.step("26.0", "28.0", "0.5")
    machine = draw_machine(f"{PRACTICE_MACHINE} call {number}", stream, sheet_ohms, cord)
    heard = [name for name in fault_names() if not catalogue(name).text("complaint").startswith("none heard")]
    fault = draw_fault([name for name in heard if fits(read_fault(name), machine)], stream)
    return Call(number, Bench(machine, [fault]), complaint_of(fault))


def advised_path(bench: Bench) -> list[Step]:
    """Return the path that the course's own advice takes on the machine of ``bench``, dead readings first.

    Raises
    ------
    CallError
        If the machine is somebody's own, or sound by now.
    """
    if not machine_on(bench).name.startswith(PRACTICE_MACHINE):
        raise CallError("On your own machine the paths are shown once it is marked. Try it on a practice call.")
    if not faults_on(bench):
        raise CallError("Nothing is wrong with this machine any more. Compare the paths before you replace a part.")
    return dead_first(machine_on(bench), faults_on(bench))


def dead_first(machine: Machine, faults: Sequence[Fault]) -> list[Step]:
    """Return the path that the advice takes to ``faults`` with dead readings alone, or with live ones if it must."""
    book = Machine(cord=machine.cord)
    dead = follow(machine, faults, book, qualified=False)
    if dead and max(dead[-1].odds.values()) > 0.9:
        return dead
    return follow(machine, faults, book)


def compared_paths(bench: Bench) -> str:
    """Return one's own path and the advised one, reading by reading, in words.

    Raises
    ------
    CallError
        If the machine is somebody's own, or sound by now.
    """
    steps = advised_path(bench)
    own = [act for act in before_repair(bench.trail) if act.get("reading")]
    lines = [f"Your path: {len(own)} readings, {bench.minutes:.0f} minutes with everything around them."]
    for place, act in enumerate(own, start=1):
        reading = act["reading"]
        lines.append(f"  {place}. {reading['mode']}, {' to '.join(reading['places'])}: {reading['shown']}")
    spent = sum(step.minutes for step in steps)
    lines.append(f"The path by the course's advice: {len(steps)} readings, {spent:.0f} minutes.")
    for place, step in enumerate(steps, start=1):
        first, odds = next(iter(step.odds.items()))
        where = f"{step.act.mode}, {' to '.join(step.act.places)} ({state_words(step.act)})"
        lines.append(f"  {place}. {where}: {step.shown} → {title_of(first)} {odds:.0%}")
    lines.append("It takes the reading that tells most a minute each time; a lucky guess can be shorter.")
    return "\n".join(lines)
