"""What there is to work out in lesson 05, path to case."""

from __future__ import annotations

import math

from dryerbench.course.models import Task
from dryerbench.electricity.leakage import INTERRUPTER_TRIPS, leakage_limit
from dryerbench.electricity.ohms_law import current, power

TEST_VOLTS = 500.0
"""The dc volts of the insulation test (usual for 240 V machines, from memory)."""


def _uncapped(kilowatts: float) -> float:
    return 0.75 * kilowatts if kilowatts * 0.75 > leakage_limit(kilowatts) else math.nan


TASKS: dict[str, Task] = {
    "coil_share": Task(
        lambda own, shared: 100.0 * own / (own + shared),
        {
            "from_far_end": lambda own, shared: 100.0 * shared / (own + shared),
            "one_over_other": lambda own, shared: 100.0 * own / shared,
            "share_not_percent": lambda own, shared: own / (own + shared),
        },
    ),
    "far_piece_watts": Task(
        lambda volts, own, shared: power(volts / 2, shared),
        {
            "both_legs_to_case": lambda volts, own, shared: power(volts, shared),
            "near_piece": lambda volts, own, shared: power(volts / 2, own),
            "whole_coil": lambda volts, own, shared: power(volts / 2, own + shared),
            "amps_for_watts": lambda volts, own, shared: current(volts / 2, shared),
            "control_off_is_cold": lambda volts, own, shared: 0.0,
        },
    ),
    "unbonded_case_volts": Task(
        lambda volts: volts / 2,
        {
            "case_is_ground": lambda volts: 0.0,
            "both_legs_to_case": lambda volts: volts,
            "half_along": lambda volts: volts / 4,
        },
    ),
    "leak_limit": Task(
        lambda kilowatts: leakage_limit(kilowatts),
        {
            "leak_not_by_kilowatt": lambda kilowatts: 0.75,
            "leak_cap_forgotten": _uncapped,
            "interrupter_for_limit": lambda kilowatts: INTERRUPTER_TRIPS,
        },
    ),
    "leak_milliamps": Task(
        lambda volts, kohm: current(volts / 2, kohm),
        {
            "both_legs_to_case": lambda volts, kohm: current(volts, kohm),
            "test_volts_for_mains": lambda volts, kohm: current(TEST_VOLTS, kohm),
            "upside_down": lambda volts, kohm: kohm / (volts / 2),
        },
    ),
}
