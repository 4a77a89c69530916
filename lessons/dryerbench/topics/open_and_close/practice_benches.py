"""The practice bench of lesson 09: another dryer opened no farther than it takes, repaired, closed and proved."""

from __future__ import annotations

from dryerbench.bench.work_done import (
    bonded,
    closed_up,
    exhaust_read,
    heater_off_case,
    ran,
    repairs,
)
from dryerbench.bench.worksite import faults_on
from dryerbench.course.practice_bench import DEAD_FIRST, Aim, Job, PracticeBench, in_turn, practice_machine
from dryerbench.family.faults import Fault
from dryerbench.topics.open_and_close.cabinets import no_cover_too_many

_REPAIRED = ("cabin", "pantry", "mudroom", "hallway")
"""Dryers with a ground wire to be read, and a heater behind several covers or behind one."""
_CLEAR = Aim(
    heater_off_case, "After the last work at the heater: read it to the cabinet with its wires off. It has to be OL."
)


def _repair(number: int) -> Job:
    machine = practice_machine(in_turn(_REPAIRED, number), "close_and_prove", number)
    assert machine.stands is not None
    coils = machine.stands.arrangement.coils
    kind = "coil-open" if len(coils) == 1 else "coil-open-of-several"
    return Job(machine, (str(Fault(kind, coils[0].name.removeprefix("coil "))),))


PRACTICE_BENCHES = {
    "close_and_prove": PracticeBench(
        "One coil is open. Make the dryer dead. Open it to the terminal block, test there, open it to the heater, and "
        "leave the other covers on. Pull the heater's wires, read, and replace the coil. Read the heater to the "
        "cabinet, and the ground wire. Close up, run it on high, and read the exhaust.",
        _repair,
        (
            DEAD_FIRST,
            Aim(lambda bench: bool(repairs(bench)), "No part is replaced yet."),
            Aim(lambda bench: not faults_on(bench), "The bad coil is still in the dryer."),
            _CLEAR,
            Aim(bonded, "Read the ground wire: the ground pin of the plug to the cabinet, before power."),
            Aim(closed_up, "A wire or a cover is still off."),
            Aim(no_cover_too_many, "A cover came off that hides neither the block nor the heater. It could stay on."),
            Aim(ran, "It has not run closed up, with heat, since the work."),
            Aim(exhaust_read, "Read the exhaust temperature while it runs with heat."),
        ),
        also_before=("second_cabinet",),
    ),
}
