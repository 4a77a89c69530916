"""The practice bench of lesson 04: the beeper first, then the numbers, on another dryer's heater."""

from __future__ import annotations

from functools import partial

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.bench import Bench
from dryerbench.bench.work_done import dead_readings, heater_read
from dryerbench.bench.worksite import machine_on
from dryerbench.course.practice_bench import DEAD_FIRST, Aim, PracticeBench, fault_job

_MACHINES = ("mudroom", "pantry", "attic", "workshop", "hallway")
_KINDS = ("coil-bridged", "moisture-leak")


def _zeroed(bench: Bench) -> bool:
    return any(act["act"] == "null_leads" for act in bench.trail)


def _coils_read(bench: Bench) -> bool:
    made = arrangement_of(machine_on(bench))
    return all(
        any(not act["facts"]["other_path"] for act in dead_readings(bench.trail, *coil.ends)) for coil in made.coils
    )


PRACTICE_BENCHES = {
    "behind_the_beep": PracticeBench(
        "Make it dead, open it, and pull the wires off the heater. Zero the test leads. Hear what the beeper says of "
        "each coil. Then read the number of each coil, and the heater to the cabinet. Then name what is wrong.",
        partial(fault_job, _MACHINES, "behind_the_beep", _KINDS, _KINDS),
        (
            DEAD_FIRST,
            Aim(_zeroed, "The test leads are not zeroed: their ohms are still in your readings."),
            Aim(_coils_read, "Read each coil as a number, with its wires off. The beeper gives no number."),
            Aim(lambda bench: heater_read(machine_on(bench), bench.trail), "Read the heater to the cabinet as well."),
        ),
        compare="Set each coil's number beside the tech sheet's, and read the heater to the cabinet.",
    )
}
