"""What there is to work out in lesson 02, two legs."""

from __future__ import annotations

from dryerbench.course.models import Task
from dryerbench.electricity.ohms_law import current, series
from dryerbench.electricity.supply import leg_to_leg


def _share(volts: float, own: float, other: float) -> float:
    """Return the volts (V) across ``own`` Ω in a row with ``other`` Ω: the same amps go through both."""
    return current(volts, series([own, other])) * own


TASKS: dict[str, Task] = {
    "split_volts": Task(
        lambda volts: leg_to_leg(volts),
        {
            "legs_cancel": lambda volts: 0.0,
            "third_of_a_turn": lambda volts: leg_to_leg(volts, 120.0),
            "leg_alone": lambda volts: volts,
        },
    ),
    "wye_volts": Task(
        lambda volts: leg_to_leg(volts, 120.0),
        {
            "half_a_turn": lambda volts: leg_to_leg(volts),
            "leg_alone": lambda volts: volts,
        },
    ),
    "neutral_amps": Task(
        lambda volts, load_a, load_b: abs(current(volts / 2, load_a) - current(volts / 2, load_b)),
        {
            "neutral_adds": lambda volts, load_a, load_b: current(volts / 2, load_a) + current(volts / 2, load_b),
            "neutral_idle": lambda volts, load_a, load_b: 0.0,
            "larger_load": lambda volts, load_a, load_b: current(volts / 2, min(load_a, load_b)),
            "both_legs_on_load": lambda volts, load_a, load_b: abs(current(volts, load_a) - current(volts, load_b)),
        },
    ),
    "open_neutral": Task(
        lambda volts, load_a, load_b: _share(volts, load_a, load_b),
        {
            "each_keeps_its_leg": lambda volts, load_a, load_b: volts / 2,
            "other_load": lambda volts, load_a, load_b: _share(volts, load_b, load_a),
            "all_on_one_load": lambda volts, load_a, load_b: volts,
            "one_leg_in_a_row": lambda volts, load_a, load_b: _share(volts / 2, load_a, load_b),
        },
    ),
    "strapped_case": Task(
        lambda volts: volts,
        {
            "strap_holds_zero": lambda volts: 0.0,
            "both_legs_on_case": lambda volts: leg_to_leg(volts),
            "half_leg_on_case": lambda volts: volts / 2,
        },
    ),
}
