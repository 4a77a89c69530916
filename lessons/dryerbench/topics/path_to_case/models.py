"""What there is to work out in lesson 05, path to case."""

from __future__ import annotations

import math

from dryerbench.course.models import Ideas, Task, Way
from dryerbench.electricity.leakage import INTERRUPTER_TRIPS, leakage_limit
from dryerbench.electricity.ohms_law import current, power

TEST_VOLTS = 500.0
"""The dc volts of the insulation test (usual for 240 V machines, from memory)."""

LEG_VOLTS = 120.0
"""What the lesson calls the full leg [V]; the card of a machine has its own."""


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
        (Way(lambda share, /, own, shared: 100.0 * share.factor(own / (own + shared))),),
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
        (
            Way(lambda leg, /, volts, shared: power(leg(volts / 2), shared)),
            Way(lambda leg, amps, /, volts, shared: leg(volts / 2) * amps(current(leg(volts / 2), shared))),
            Way(lambda leg, amps, /, volts, shared: amps(current(leg(volts / 2), shared)) ** 2 * shared),
        ),
    ),
    "unbonded_case_volts": Task(
        lambda volts: volts / 2,
        {
            "case_is_ground": lambda volts: 0.0,
            "both_legs_to_case": lambda volts: volts,
            "half_along": lambda volts: volts / 4,
        },
        (
            Way(lambda half, /, volts: half(volts / 2)),
            Way(
                lambda: LEG_VOLTS,
                f"That is what the lesson calls the full leg, {LEG_VOLTS:g} V. Your card says how many it is there.",
            ),
        ),
        Ideas("one leg", {"case_is_ground": "nothing", "both_legs_to_case": "leg to leg", "half_along": "half a leg"}),
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
        (Way(lambda leg, /, volts, kohm: current(leg(volts / 2), kohm)),),
    ),
}
