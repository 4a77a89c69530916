"""Calls on machines of the family: a plain fault, one with a cause behind it, one to hand over, two, or nothing wrong.

What goes together is what the physics makes: causes of a blown one-shot are dealt if heat blows it on that very
machine over a load (``bench.heat_effects``). ``told_call`` is for practice: its words fit one machine and its fault.
What is dealt to be marked has the words of the catalogue, which several faults share.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from dryerbench.bench.acts import HANDS
from dryerbench.bench.faults import catalogue, family_of, from_family, read_fault
from dryerbench.bench.heat_effects import over_a_load
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.core.errors import LegToLegError
from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import Row, table
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import Fault, faults_of, pairs_of
from dryerbench.family.kinds import ONE_SHOT
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names

KINDS = ("plain", "cause", "hand over")
_NONE_HEARD = "no complaint: found by test"
_BONDS = ("ground-off", "strap-left-on", "strap-off")
_SOUND_WORDS = "Someone told me it needs a new heater. Does it?"
_TRIES = 60


class MachineCallError(LegToLegError, ValueError):
    """A call of a kind that there is none of."""


@dataclass(frozen=True)
class MachineCall:
    """One call: its kind, the machine, what is wrong (as the bench writes it), what is heard, the customer's words."""

    kind: str
    machine: Machine
    faults: tuple[str, ...]
    heard: str
    words: str

    @property
    def parts(self) -> tuple[str, ...]:
        """What has to be replaced or put right."""
        found = [read_fault(fault, self.machine) for fault in self.faults]
        return tuple(dict.fromkeys(str(catalogue(fault.name)["part"]) for fault in found))

    @property
    def hands(self) -> str:
        """Whose the job is: nothing for a technician's own."""
        known = family_of(self.machine, [read_fault(fault, self.machine) for fault in self.faults])
        by = {fault.kind.by for fault in known}
        electrician, utility, _ = HANDS
        if "utility" in by:
            return utility
        return electrician if "electrician" in by or self.kind == "hand over" else ""


@cache
def told_calls() -> tuple[Row, ...]:
    """Return the calls of the table ``machine-calls``, for practice."""
    return tuple(table("machine-calls").rows)


def told_call(number: int) -> MachineCall:
    """Return the practice call ``number`` of the table, from 1 on: the same number, the same machine.

    Raises
    ------
    MachineCallError
        If there is no such call.
    """
    rows = told_calls()
    if type(number) is not int or not 1 <= number <= len(rows):
        raise MachineCallError(f"The calls on other machines are numbered 1 to {len(rows)}.")
    row = rows[number - 1]
    made = arrangement(row.text("machine"))
    own = drawn_machine(made, Stream(f"leg-to-leg/machine-call/1/{number}"), f"practice call {number}")
    machine = on_the_bench(own)
    faults = tuple(fault for fault in str(row["faults"] or "").split(";") if fault)
    there = family_of(machine, [read_fault(fault, machine) for fault in faults])
    return MachineCall(row.text("kind"), machine, faults, _heard(there), row.text("words"))


def _heard(faults: tuple[Fault, ...]) -> str:
    told = [fault.kind.says for fault in faults if fault.kind.says != _NONE_HEARD]
    return told[-1] if told else ""


def deal_machine_call(kind: str, name: str, stream: Stream) -> MachineCall:
    """Return a call of ``kind`` on a machine of the family drawn from ``stream``, called ``name``.

    Of ten plain calls about one has nothing wrong and one has two faults.

    Raises
    ------
    MachineCallError
        For a kind that does not exist.
    """
    if kind not in KINDS:
        raise MachineCallError(f"There is no call of the kind '{kind}'; there are: {', '.join(KINDS)}.")
    made = arrangement(stream.choose(tuple(one for one in machine_names() if one != "schoolroom")))
    machine = on_the_bench(drawn_machine(made, stream, name))
    faults = {"plain": _plain, "cause": _with_cause, "hand over": _handed_over}[kind](machine, made, stream)
    heard = _heard(faults)
    words = f"{heard[0].upper()}{heard[1:]}." if heard else _SOUND_WORDS
    return MachineCall(kind, machine, tuple(str(from_family(fault)) for fault in faults), heard, words)


def _own(made: Arrangement) -> tuple[Fault, ...]:
    """Return the faults that a technician finds dead and repairs, and that a customer hears."""
    return tuple(
        fault
        for fault in faults_of(made)
        if fault.kind.by == "technician" and fault.kind.electrical and not fault.kind.needs_live
        and fault.kind.says != _NONE_HEARD
    )  # fmt: skip


def _plain(_machine: Machine, made: Arrangement, stream: Stream) -> tuple[Fault, ...]:
    luck = stream.integer(1, 10)
    if luck == 1:
        return ()
    fault = stream.choose(_own(made))
    bonds = tuple(one for one in faults_of(made) if one.name in _BONDS)
    if luck == 2:
        return (stream.choose(bonds), fault)
    return (fault,)


def _with_cause(machine: Machine, made: Arrangement, stream: Stream) -> tuple[Fault, ...]:
    """Return causes with their effect (last); where heat is at work, only what heat does on this machine."""
    there = stream.shuffle([pair for pair in pairs_of(made) if pair[-1].kind.by == "technician"])
    for pair in there[:_TRIES]:
        if is_made(machine, pair):
            return tuple(pair)
    raise MachineCallError(f"Nothing goes with anything on the machine {made.name}.")


def is_made(machine: Machine, pair: tuple[Fault, ...]) -> bool:
    """Return whether a pair of causes and effect (last) is one that this machine makes: heat blows what it blows."""
    effect, made = pair[-1], machine.stands
    assert made is not None
    one_shots = {part.name for part in made.arrangement.of_kind(*ONE_SHOT)}
    if effect.kind.does != "opens" or effect.on not in one_shots:
        return True
    causes = tuple(from_family(fault) for fault in pair[:-1])
    return effect.on in over_a_load(machine, causes).blown


def _handed_over(_machine: Machine, made: Arrangement, stream: Stream) -> tuple[Fault, ...]:
    others = [fault for fault in faults_of(made) if fault.kind.by in ("electrician", "utility")]
    return (stream.choose(tuple(others)),)
