"""Practice calls on machines of the family, told: a plain fault, one with a cause, one to hand over, two, or none.

The words of a told call fit one machine and its fault. The numbers behind those of the table are dealt as the calls
that are marked (``machine_dealing``): they have the words of the catalogue, which several faults share.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from dryerbench.bench.acts import HANDS
from dryerbench.bench.faults import catalogue, family_of, read_fault
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.core.errors import LegToLegError
from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import Row, table
from dryerbench.diagnosis.call_dealing import Visit
from dryerbench.diagnosis.machine_complaints import told_on
from dryerbench.diagnosis.machine_dealing import deal_cause, deal_plain
from dryerbench.diagnosis.machine_evidence import MachineEvidence
from dryerbench.diagnosis.machine_hand_over import KIND, QUALIFIED, deal_hand_over, hands_of, heard_on, taken_over
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import Fault
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement

_NONE_HEARD = "no complaint: found by test"


class MachineCallError(LegToLegError, ValueError):
    """A call that there is none of."""


@dataclass(frozen=True)
class MachineCall:
    """One call: its kind, the machine, what is wrong (as the bench writes it), what is heard, the customer's words."""

    kind: str
    machine: Machine
    faults: tuple[str, ...]
    heard: str
    words: str
    alike: frozenset[str] = frozenset()
    """The faults that customers tell in the same words, where the words are not one fault's own."""

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
        if self.kind != KIND and "electrician" not in by:
            return ""
        whose = hands_of(self.made)
        return next((whose[name] for name in self.names if name in whose), electrician)

    @property
    def made(self) -> Arrangement:
        """The arrangement that the machine is of."""
        assert self.machine.stands is not None
        return self.machine.stands.arrangement

    @property
    def names(self) -> tuple[str, ...]:
        """What is wrong, without strengths."""
        return tuple(read_fault(fault, self.machine).name for fault in self.faults)

    def goes_to(self, to: str) -> bool:
        """Return whether the job may be handed to ``to``: whose it is, or who goes on from there."""
        electrician, utility, _ = HANDS
        if self.hands == utility:
            return to in (utility, electrician)
        return to == self.hands or (to == QUALIFIED and set(self.names) <= taken_over(self.made, to))

    def hear(self, evidence: MachineEvidence) -> None:
        """Weigh what the customer says."""
        if self.alike:
            evidence.hear_any(self.alike)
        elif self.heard:
            evidence.hear(self.heard)


@cache
def told_calls() -> tuple[Row, ...]:
    """Return the calls of the table ``machine-calls``, for practice."""
    return tuple(table("machine-calls").rows)


def machine_call_of(number: int) -> MachineCall:
    """Return the practice call ``number``, one of the table or a dealt one: the same number, the same machine.

    Raises
    ------
    MachineCallError
        If ``number`` is no whole number from 1 on.
    """
    if type(number) is not int or number < 1:
        raise MachineCallError("The calls on other dryers are numbered 1, 2, 3 and so on.")
    return told_call(number) if number <= len(told_calls()) else _dealt_call(number)


def _dealt_call(number: int) -> MachineCall:
    """Return a call behind those of the table: plain, with a cause, to be handed off, in turn."""
    stream, name = Stream(f"leg-to-leg/machine-call/2/{number}"), f"practice call {number}"
    turn = (number - len(told_calls()) - 1) % 3
    visit: Visit = deal_hand_over(name, stream) if turn == 2 else (deal_plain, deal_cause)[turn](name, stream)
    assert visit.machine.stands is not None
    made = visit.machine.stands.arrangement
    alike = {fault for told in (told_on(made), heard_on(made)) for fault, key in told.items() if key == visit.heard}
    return MachineCall(visit.kind, visit.machine, visit.faults, "", visit.words, frozenset(alike))


def told_call(number: int) -> MachineCall:
    """Return the practice call ``number`` of the table, from 1 on: the same number, the same machine.

    Raises
    ------
    MachineCallError
        If there is no such call.
    """
    rows = told_calls()
    if type(number) is not int or not 1 <= number <= len(rows):
        raise MachineCallError(f"The calls on other dryers are numbered 1 to {len(rows)}.")
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
