"""The practice benches of lesson 09: another dryer repaired and proved, and another one only opened and closed."""

from __future__ import annotations

from functools import partial

from dryerbench.bench.bench import Bench
from dryerbench.bench.placement import placement_of
from dryerbench.bench.work_done import (
    bonded,
    closed_up,
    dead_inside,
    exhaust_read,
    heater_off_case,
    ran,
    repairs,
)
from dryerbench.bench.worksite import faults_on, machine_on
from dryerbench.course.practice_bench import Aim, Job, PracticeBench, in_turn, practice_machine
from dryerbench.family.faults import Fault

_REPAIRED = ("cabin", "pantry", "mudroom", "hallway")
"""Dryers with a ground wire to be read, and a heater behind several covers or behind one."""
_OPENED = ("cellar",)
_DEAD = Aim(dead_inside, "Dead was not tested at the terminal block before your hands went in.")
_CLEAR = Aim(
    heater_off_case, "After the last work at the heater: read it to the cabinet with its wires off. It has to be OL."
)


def _repair(number: int) -> Job:
    machine = practice_machine(in_turn(_REPAIRED, number), "close_and_prove", number)
    assert machine.stands is not None
    coils = machine.stands.arrangement.coils
    kind = "coil-open" if len(coils) == 1 else "coil-open-of-several"
    return Job(machine, (str(Fault(kind, coils[0].name.removeprefix("coil "))),))


def _open(number: int, names: tuple[str, ...]) -> Job:
    return Job(practice_machine(in_turn(names, number), "second_cabinet", number))


def _no_cover_too_many(bench: Bench) -> bool:
    placed = placement_of(machine_on(bench))
    needed = {cover.name for point in ("block", *placed.in_order) for cover in placed.covers_over(point)}
    off = [str(act["with"].get("cover") or "") for act in bench.trail if act["act"] == "cover_off"]
    return all(name in needed for name in off) or {cover.name for cover in placed.covers} <= needed


PRACTICE_BENCHES = {
    "close_and_prove": PracticeBench(
        "One coil is open. Make the dryer dead, open it, pull the heater's wires, read, replace the coil, read the "
        "heater to the cabinet and the ground wire, close up, and run it on high. Read the exhaust.",
        _repair,
        (
            _DEAD,
            Aim(lambda bench: bool(repairs(bench)), "No part is replaced yet."),
            Aim(lambda bench: not faults_on(bench), "The bad coil is still in the dryer."),
            _CLEAR,
            Aim(bonded, "Read the ground wire: the ground pin of the plug to the cabinet, before power."),
            Aim(closed_up, "A wire or a cover is still off."),
            Aim(ran, "It has not run closed up, with heat, since the work."),
            Aim(exhaust_read, "Read the exhaust temperature while it runs with heat."),
        ),
    ),
    "second_cabinet": PracticeBench(
        "This is the dryer of the drawing. Make it dead, open it to the terminal block and test there. Open it to the "
        "heater, pull the wires, read the heater to the cabinet, and close it up. No cover more than that takes.",
        partial(_open, names=_OPENED),
        (
            _DEAD,
            _CLEAR,
            Aim(_no_cover_too_many, "A cover came off that hides neither the block nor the heater. Start again."),
            Aim(closed_up, "A wire or a cover is still off."),
        ),
    ),
}
