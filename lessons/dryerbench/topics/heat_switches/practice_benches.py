"""The practice bench of lesson 06: what blew the cut-off of another dryer."""

from __future__ import annotations

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.bench import Bench
from dryerbench.bench.work_done import dead_readings
from dryerbench.bench.worksite import machine_on
from dryerbench.course.practice_bench import DEAD_FIRST, Aim, Job, PracticeBench, named_job, practice_machine
from dryerbench.family.faults import Fault

CALLS = (
    ("cellar", Fault("vent-restricted", "", 0.8)),
    ("alcove", Fault("motor-contact-welded", "Cen")),
    ("attic", Fault("vent-restricted", "", 0.7)),
    ("mudroom", Fault("motor-contact-welded", "Cen")),
)
"""A dryer, and what makes it too hot; a high limit that does not stop it goes with it, or no cut-off would blow."""
_KINDS = ("limit-stuck", "cycling-welded", "motor-contact-welded", "vent-restricted", "coil-touches")


def _deal(number: int) -> Job:
    name, cause = CALLS[(number - 1) % len(CALLS)]
    machine = practice_machine(name, "blown_by", number)
    return named_job(machine, (Fault("limit-stuck", "Lim"), cause, Fault("cut-off-blown", "Cut")), _KINDS)


def _cut_off_read(bench: Bench) -> bool:
    return bool(dead_readings(bench.trail, "Cut.1", "Cut.2"))


def _held_warm(bench: Bench) -> bool:
    return any(act["act"] == "warm_parts" for act in bench.trail)


def _coil_to_cabinet(bench: Bench) -> bool:
    made = arrangement_of(machine_on(bench))
    return any(dead_readings(bench.trail, point, "case") for point in made.box_terminals)


PRACTICE_BENCHES = {
    "blown_by": PracticeBench(
        "No heat. Make it dead, open it, and read the cut-off with a wire off. Then find what blew it, and what did "
        "not stop it: look at the vent, read the centrifugal switch, hold the switches warm and read them, read the "
        "heater to the cabinet. Name both, one after the other.",
        _deal,
        (
            DEAD_FIRST,
            Aim(_cut_off_read, "Read the cut-off first."),
            Aim(_held_warm, "Hold the switches warm, past the limit's rating, and read them."),
            Aim(_coil_to_cabinet, "Read the heater to the cabinet as well."),
        ),
        compare="A switch that opens when it is hot did not fail. Look at what is left.",
    )
}
