"""The practice bench of lesson 07: the open part of another dryer's heater line, found dead."""

from __future__ import annotations

from functools import partial

from dryerbench.bench.bench import Bench
from dryerbench.bench.work_done import dead_readings
from dryerbench.course.practice_bench import DEAD_FIRST, Aim, PracticeBench, fault_job

_MACHINES = ("alcove", "cellar", "attic", "mudroom")
"""Dryers with a dial and one of each switch, in another order than the lesson's own."""
_KINDS = ("heat-contact-open", "cycling-open", "limit-open", "cut-off-blown")
_DEALT = ("cycling-open", "limit-open", "cut-off-blown")


def _points_read(bench: Bench) -> int:
    """Return how many pairs of points were read as a number or OL."""
    pairs = {frozenset(act["reading"]["places"]) for act in bench.trail if "reading" in act}
    return sum(bool(dead_readings(bench.trail, *pair)) for pair in pairs if len(pair) > 1)


PRACTICE_BENCHES = {
    "open_part": PracticeBench(
        "No heat. Press Tech sheet and follow the heater circuit. Make the dryer dead, open it, and halve it in "
        "ohms until one part is left. Read that part alone. Then name it.",
        partial(fault_job, _MACHINES, "open_part", _KINDS, _DEALT),
        (
            DEAD_FIRST,
            Aim(lambda bench: _points_read(bench) > 1, "One reading does not leave one part. Halve what is left."),
        ),
        compare="What reads near 0 Ω is closed. The open part lies in what reads OL.",
    )
}
