"""Tasks of lesson 04: the right models on round numbers, wrong models that are wrong, drills that tell them apart."""

from __future__ import annotations

from dryerbench.bench.meter import Meter
from dryerbench.bench.meter_ranges import ranges


def test_the_drills_speak_of_the_benchs_own_meter() -> None:
    fine, coarse = ranges("ohms")[:2]
    assert (fine.full_scale, fine.percent, fine.counts, fine.resolution) == (600.0, 0.9, 2, 0.1)
    assert (coarse.full_scale, coarse.percent, coarse.counts, coarse.resolution) == (6000.0, 0.9, 2, 1.0)
    volts = ranges("volts")[-1]
    assert (volts.full_scale, volts.percent, volts.counts, volts.resolution) == (600.0, 1.0, 3, 0.1)
    assert (Meter().input_ohms, Meter().low_input_ohms, Meter().beeps_below) == (10e6, 3000.0, 40.0)
