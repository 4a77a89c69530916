"""The machine, faults and state that a command names, settled."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.bench.faults import Fault, read_fault
from dryerbench.bench.heat import asked_for
from dryerbench.bench.machine import Machine, drawn_machine
from dryerbench.bench.situation import Situation, settle
from dryerbench.bench.states import named_state
from dryerbench.core.random_stream import stream_for


@dataclass(frozen=True)
class Scene:
    """A situation and the words that say which one it is."""

    situation: Situation
    title: str


def scene(faults: list[str], state: str, variant: str | None = None, cord: str = "four-wire") -> Scene:
    """Return the scene of a practice machine, or of the apprentice ``variant``, with ``faults`` in ``state``.

    Raises
    ------
    FaultError
        For an unknown fault, a strength out of range, or one that the cord cannot have.
    StateError
        For an unknown state.
    """
    known: list[Fault] = [read_fault(fault) for fault in faults]
    machine = Machine(cord=cord)
    if variant is not None:
        machine = drawn_machine(stream_for(variant, "bench"), variant, cord)
    situation, happened = settle(machine, known, named_state(state))
    if not happened:
        situation, _ = asked_for(machine, known, named_state(state))
    named = ", ".join(str(fault) for fault in known) or "no fault"
    after = f" ({'; '.join(happened)})" if happened else ""
    return Scene(situation, f"dryer {machine.name}, {cord} cord, {named}, state {state}{after}")
