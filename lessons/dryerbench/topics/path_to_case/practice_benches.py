"""The practice benches of lesson 05: the shared terminal without names; which coil touches the cabinet."""

from __future__ import annotations

from functools import partial

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.bench import Bench
from dryerbench.bench.work_done import dead_readings
from dryerbench.bench.worksite import machine_on
from dryerbench.course.practice_bench import (
    DEAD_FIRST,
    Aim,
    Job,
    PracticeBench,
    fault_job,
    in_turn,
    practice_machine,
)
from dryerbench.topics.path_to_case.shared_terminal import (
    NONE_TAG,
    PRACTICED,
    SHARED_TAG,
    pairs_settle_it,
    tagged_right,
)

_MACHINES = ("pantry", "attic", "hallway", "mudroom", "alcove")
_KINDS = ("coil-touches", "moisture-leak", "lead-chafed")
_DEALT = ("coil-touches",)


def _to_cabinet(bench: Bench) -> bool:
    made = arrangement_of(machine_on(bench))
    return all(dead_readings(bench.trail, point, "case") for point in made.box_terminals)


def _end_to_end(bench: Bench) -> bool:
    made = arrangement_of(machine_on(bench))
    return all(dead_readings(bench.trail, *coil.ends) for coil in made.coils)


def _nameless(number: int) -> Job:
    return Job(practice_machine(in_turn(PRACTICED, number), "tag_shared", number))


PRACTICE_BENCHES = {
    "tag_shared": PracticeBench(
        "The terminals of this heater have no names. Make the dryer dead, open it, and pull every wire off the heater. "
        f"Read the pairs. Then tag the wire of the shared terminal {SHARED_TAG}. If no terminal is shared, tag a wire "
        f"of the heater {NONE_TAG}.",
        _nameless,
        (
            DEAD_FIRST,
            Aim(
                pairs_settle_it,
                "Your readings leave more than one answer. Every heater wire off, then read more pairs.",
            ),
            Aim(tagged_right, "The tags do not fit yet. Which terminal do all the single coils meet at, if any?"),
        ),
        nameless=True,
    ),
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
    ),
}
