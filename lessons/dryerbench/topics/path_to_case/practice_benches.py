"""The practice bench of lesson 05: which coil of another dryer touches the cabinet."""

from __future__ import annotations

from functools import partial

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.bench import Bench
from dryerbench.bench.work_done import dead_readings
from dryerbench.bench.worksite import machine_on
from dryerbench.course.practice_bench import DEAD_FIRST, Aim, PracticeBench, fault_job

_MACHINES = ("pantry", "attic", "hallway", "mudroom", "alcove")
_KINDS = ("coil-touches", "moisture-leak", "lead-chafed")
_DEALT = ("coil-touches",)


def _to_cabinet(bench: Bench) -> bool:
    made = arrangement_of(machine_on(bench))
    return all(dead_readings(bench.trail, point, "case") for point in made.box_terminals)


def _end_to_end(bench: Bench) -> bool:
    made = arrangement_of(machine_on(bench))
    return all(dead_readings(bench.trail, *coil.ends) for coil in made.coils)


PRACTICE_BENCHES = {
    "fault_to_case": PracticeBench(
        "Make it dead, open it, and pull every wire off the heater. Read each coil end to end, and each terminal to "
        "the cabinet. Then name what is wrong.",
        partial(fault_job, _MACHINES, "fault_to_case", _KINDS, _DEALT),
        (
            DEAD_FIRST,
            Aim(_end_to_end, "Read each coil end to end as well."),
            Aim(_to_cabinet, "Read each terminal of the heater to the cabinet, the shared one too."),
        ),
        compare="Which coil's two readings to the cabinet add up to its own ohms?",
    )
}
