"""What is put right without a new part: a button pushed back in, a screw or a sleeve made tight again."""

from __future__ import annotations

from dryerbench.bench.access import arrangement_of, pullable
from dryerbench.bench.faults import Fault, catalogue, family_of
from dryerbench.bench.machine import Machine
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError, Worksite, faults_on, machine_on, mend, put_right
from dryerbench.family.faults import target_of

CORD = "cord"
"""What the screws of the terminal block are called by: they hold the wires of the cord."""
_HOLDS = 60.0
"""°C at the heater box from which a button does not stay in (about; common practice, no published source)."""
_LOOSE, _BURNT = ("block-screw-loose", "spade-loose"), ("burnt-joint", "spade-burnt")


def resettable(machine: Machine) -> tuple[str, ...]:
    """Return the parts of ``machine`` that have a reset button."""
    if machine.stands is None:
        return ()
    return tuple(part.name for part in arrangement_of(machine).of_kind("manual cut-off"))


def reset(bench: Worksite, record: Act, part: str) -> None:
    """Push the reset button of a part: what has tripped closes again, if it has cooled."""
    there = resettable(machine_on(bench))
    if not there:
        raise BenchError("No part of this dryer has a reset button.")
    if part not in there:
        raise BenchError(f"'{part}' has no reset button; these have one: {', '.join(there)}.")
    if not bench.bared(part):
        raise BenchError(f"The {part} is behind the cover. Take it off first.")
    bench.hands(record)
    faulty = any(catalogue(fault.name)["part"] == part for fault in faults_on(bench))
    if not faulty and part not in bench.state.tripped:
        record["happened"].append("the button is in already: nothing had tripped")
        return
    if bench.state.limit_celsius > _HOLDS:
        record["happened"].append("the button does not stay in: the box is still hot")
        return
    mend(bench, part)
    bench.resets.append(part)
    record["facts"]["put_right"] = True
    record["happened"].append("the button stays in with a click: it had tripped. Find out why before power")
    bench.settle(record, tripped=bench.state.tripped - {part})


def tighten(bench: Worksite, record: Act, wire: str) -> None:
    """Tighten the screws of the terminal block (``cord``), or the spades of a wire."""
    machine = machine_on(bench)
    there = (CORD, *pullable(machine))
    if wire not in there:
        raise BenchError(f"There is no wire '{wire}' to tighten; there are: {', '.join(there)}.")
    if not bench.bared("terminal block" if wire == CORD else wire):
        raise BenchError("The screws and spades are behind the cover. Take it off first.")
    if wire in bench.state.pulled:
        raise BenchError(f"The {wire} is off. Put it back first, then tighten it.")
    bench.hands(record)
    found = [fault for fault in faults_on(bench) if _joins(machine, fault, wire)]
    loose = [fault for fault in found if fault.name.partition("@")[0] in _LOOSE]
    if len(found) > len(loose):
        record["happened"].append(
            "the metal is brown and soft: it does not hold. Burnt metal is replaced, not tightened"
        )
    if not found:
        record["happened"].append("nothing was loose there")
    if loose:
        put_right(bench, loose)
        record["facts"]["put_right"] = True
        what = "a screw turns before it is tight" if wire == CORD else "the sleeve was loose and grips again"
        record["happened"].append(f"{what}: if the metal there is brown, replace it")
        bench.settle(record)


def _joins(machine: Machine, fault: Fault, wire: str) -> bool:
    """Return whether a fault is a loose or burnt joint at ``wire``, or at the screws that hold the cord."""
    name = fault.name.partition("@")[0]
    if name not in (*_LOOSE, *_BURNT):
        return False
    if name in ("block-screw-loose", "burnt-joint"):
        return wire == CORD
    (known,) = family_of(machine, [fault])
    return target_of(arrangement_of(machine), known).part == wire
