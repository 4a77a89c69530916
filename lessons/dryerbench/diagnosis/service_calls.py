"""Service calls: a machine not seen before; hints, naming, and one's own path beside the advised one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import count, takewhile

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import Fault, catalogue, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.shop_names import mode_words, shop_name
from dryerbench.bench.states import State, named_state
from dryerbench.bench.trail import Act
from dryerbench.bench.work_done import is_repair
from dryerbench.bench.worksite import faults_found_on, faults_on, machine_on
from dryerbench.core.errors import LegToLegError
from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import table
from dryerbench.diagnosis.call_dealing import HANDED_OVER, KINDS, PLAIN, deal_faults
from dryerbench.diagnosis.candidates import LOOK, SOUND, Measurement, look_at_vent, menu
from dryerbench.diagnosis.complaints import behind, customer_words, heard, told_of
from dryerbench.diagnosis.evidence import Evidence
from dryerbench.diagnosis.hypotheses import Hypotheses
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

COULD_BE = tuple(dict.fromkeys(name for _, faults in heard().values() for name in faults))
"""Faults that a customer hears."""
TO_CASE = PLAIN[1]
"""What the reading of the heater to the case clears, whatever the complaint is."""

LIVE_WORK = "That is live work: a qualified person, rated gloves, one hand, never alone."
"""What goes with every hint to read with the power on."""

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
    share = stream.integer(25, 75) / 100
    low, high = row.number("strength_low"), row.number("strength_high")
    return f"{name}={low + share * (high - low):.4g}"


def complaint_of(fault: str) -> str:
    """Return what the customer says of a machine with ``fault``.

    Raises
    ------
    FaultError
        For a fault that the catalogue does not have.
    """
    return str(catalogue(read_fault(fault).name)["complaint"])


def before_repair(trail: Sequence[Act]) -> list[Act]:
    """Return the acts of a trail up to the first thing put right: what came later says nothing of the fault."""
    return list(takewhile(lambda act: not is_repair(act), trail))


def evidence_of(bench: Bench, heard: str = "") -> Evidence:
    """Return what the readings on ``bench`` before any repair say, and what is ``heard``, on the maker's values."""
    evidence = from_trail(Machine(cord=machine_on(bench).cord), before_repair(bench.trail))
    if heard:
        evidence.hear_any(behind(heard))
    return evidence


def taken_on(bench: Bench) -> set[Measurement]:
    """Return the readings of the menu that were taken on ``bench``, as far as the state goes that matters for them."""
    taken = set()
    for act in bench.trail:
        if act["act"] == "look_vent":
            taken.add(look_at_vent())
        if "reading" not in act or "asked" not in act:
            continue
        places = set(act["reading"]["places"])
        state = replace(State.from_data(act["asked"]), pulled=frozenset(), ran=0.0)
        for one in menu():
            wanted = replace(named_state(one.state), pulled=frozenset(), ran=0.0)
            if one.mode == act["reading"]["mode"] and set(one.places) == places and wanted == state:
                taken.add(one)
    return taken


@dataclass
class Call:
    """One call of practice: what is heard, the customer's words, the bench, the hints taken. Nothing is marked."""

    number: int
    bench: Bench
    complaint: str
    heard: str = "no-heat"
    hints: int = 0
    named: list[str] = field(default_factory=list)

    def hint(self) -> str:
        """Return the reading that would tell most a minute from here, dead ones first; counted, and free."""
        self.hints += 1
        evidence = evidence_of(self.bench, self.heard)
        evidence.taken = taken_on(self.bench)
        evidence.qualified = False
        advice = evidence.advice()
        if advice is None:
            evidence.qualified = True
            advice = evidence.advice()
        if advice is None:
            likely = ", ".join(title_of(name) for name in evidence.singled_out()[:3])
            return f"Hint {self.hints}: no reading rules out much more. What is left: {likely}."
        if advice.act.mode == LOOK:
            look = "With the plug out, move the dryer forward, and look into lint screen, duct and vent hood."
            return f"Hint {self.hints}: {look}"
        live = f" {LIVE_WORK}" if advice.act.live else ""
        there = " and ".join(map(shop_name, advice.act.places))
        where = f"read {mode_words(advice.act.mode)} at {there}, with {state_words(advice.act)}."
        return f"Hint {self.hints}: {where}{live}"

    def name_fault(self, name: str) -> str:
        """Return what is to be said to the fault ``name`` (or ``sound``): right or not, and what the readings leave.

        Raises
        ------
        FaultError
            For a fault that the catalogue does not have.
        """
        said = SOUND if name == SOUND else read_fault(name).name
        self.named.append(said)
        found = faults_found_on(self.bench)
        actual = [str(fault) for fault in found]
        names = [fault.name for fault in found] or [SOUND]
        if said not in names:
            return (
                f"Not {title_of(said)}. Your readings, or the ones not taken yet, say something else. Keep measuring."
            )
        readings = Hypotheses(machine_on(self.bench), before_repair(self.bench.trail))
        suspects = [one for one in (*behind(self.heard), *TO_CASE) if one not in HANDED_OVER]
        alone = [one for one in COULD_BE if one in behind(self.heard) or one not in HANDED_OVER]
        left = readings.left(said, actual, [*alone, SOUND], suspects)
        rest = ", ".join(title_of(one) for one in left if one != said)
        if rest:
            also = f"They also fit: {rest:.160}."
            return f"Right, {title_of(said)}; but your readings do not leave only this one. {also}"
        hints = f"with {self.hints} hints"
        more = len(set(names) - set(self.named))
        if more:
            look = "Look for what goes with it, or what caused it."
            return f"Right, {title_of(said)}, {hints}. But it is not the only fault. {look}"
        if said in HANDED_OVER:
            stop = f"You don't repair this one. Stop, and hand it to someone licensed ({HANDED_OVER[said]})."
            return f"Right, {title_of(said)}, {hints}. {stop}"
        return f"Right, {title_of(said)}, and your readings leave only this one, {hints}."


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
    stream = Stream(f"leg-to-leg/practice-call/2/{number}")
    three_wire = stream.integer(1, 5) == 1
    sheet_ohms = stream.step("26.0", "28.0", "0.5")
    kind = KINDS[(number - 1) % len(KINDS)]
    faults, key = deal_faults(kind, stream)
    words = customer_words(key, stream, wrong=bool(faults))
    cord = "three-wire" if three_wire and "missing-bond" not in faults else "four-wire"
    machine = draw_machine(f"{PRACTICE_MACHINE} call {number}", stream, sheet_ohms, cord)
    return Call(number, Bench(machine, faults), words, key)


def advised_path(bench: Bench) -> list[list[Step]]:
    """Return the path that the course's own advice takes on the machine of ``bench``, dead readings first.

    One round for each fault: it is found, put right, and the way goes on with what is still wrong. Readings that the
    repair left as they were stay known, at no minutes. The last round misleads if faults together read like another.

    Raises
    ------
    CallError
        If the machine is somebody's own, or sound by now.
    """
    machine, left = machine_on(bench), faults_on(bench)
    if not machine.name.startswith(PRACTICE_MACHINE):
        raise CallError("You can compare the paths of your own dryer after it is graded. Try it on a practice call.")
    if not left:
        raise CallError("Nothing is wrong with this dryer now. Compare the paths before you replace a part.")
    rounds: list[list[Step]] = []
    for _ in left:
        steps = dead_first(machine, left, rounds[-1] if rounds else ())
        rounds.append(steps)
        rest = tuple(fault for fault in left if fault.name != ended_at(steps))
        if not rest or len(rest) == len(left):
            break
        left = rest
    return rounds


def ended_at(steps: Sequence[Step]) -> str:
    """Return the fault that a path ends at; nothing for a path without a reading."""
    return next(iter(steps[-1].odds)) if steps else ""


def dead_first(machine: Machine, faults: Sequence[Fault], known: Sequence[Step] = ()) -> list[Step]:
    """Return the path that the advice takes to ``faults`` with dead readings alone, or with live ones if it must.

    The customer is heard first, as on the call; ``known`` are steps from before a repair.
    """
    book, says = Machine(cord=machine.cord), told_of(faults)
    dead = follow(machine, faults, book, qualified=False, heard=says, known=known)
    if dead and max(dead[-1].odds.values()) > 0.9:
        return dead
    return follow(machine, faults, book, heard=says, known=known)


def compared_paths(bench: Bench) -> str:
    """Return one's own path and the advised one, reading by reading, in words.

    Raises
    ------
    CallError
        If the machine is somebody's own, or sound by now.
    """
    rounds = advised_path(bench)
    own = [act for act in before_repair(bench.trail) if act.get("reading")]
    lines = [f"Your path: {len(own)} readings, {bench.minutes:.0f} minutes with everything around them."]
    for place, act in enumerate(own, start=1):
        reading = act["reading"]
        there = " to ".join(map(shop_name, reading["places"]))
        lines.append(f"  {place}. {mode_words(reading['mode'])}, {there}: {reading['shown']}")
    spent = sum(step.minutes for steps in rounds for step in steps)
    taken = sum(step.minutes > 0 for steps in rounds for step in steps)
    lines.append(f"Our suggested way: {taken} readings, {spent:.0f} minutes.")
    places = count(1)
    for steps in rounds:
        if steps is not rounds[0]:
            old = sum(not step.minutes for step in steps)
            lines.append(f"  You fix that, and go on. Readings above that still hold: {old}.")
        for step, place in zip((step for step in steps if step.minutes > 0), places, strict=False):
            first, odds = next(iter(step.odds.items()))
            where = (
                f"{mode_words(step.act.mode)}, {' to '.join(map(shop_name, step.act.places))} ({state_words(step.act)})"
            )
            where = "look into lint screen, duct and vent hood" if step.act.mode == LOOK else where
            lines.append(f"  {place}. {where}: {step.shown} → {title_of(first)} {odds:.0%}")
    if ended_at(rounds[-1]) not in {fault.name for fault in faults_on(bench)}:
        lines.append("More than one thing is wrong here, and together they read like another fault. Test part by part.")
    lines.append("Each time it picks the reading that rules out the most per minute. A lucky guess can be shorter.")
    return "\n".join(lines)
