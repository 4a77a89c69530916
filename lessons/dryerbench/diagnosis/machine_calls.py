"""Practice calls on machines of the family, told: a plain fault, one with a cause, one to hand over, two, or none.

The words of a told call fit one machine and its fault. What is dealt to be marked has the words of the catalogue,
which several faults share (``machine_dealing``).
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
