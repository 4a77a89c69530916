"""What there is to work out in lesson 02, two legs."""

from __future__ import annotations

import math

from dryerbench.course.models import Ideas, Task, Way
from dryerbench.electricity.ohms_law import current, series
from dryerbench.electricity.supply import leg_to_leg

LEG_VOLTS = 120.0
"""What the lessons call one leg, "about" [V]; the card of a machine has its own."""

ABOUT_A_LEG = f"That is what the lesson calls a leg, about {LEG_VOLTS:g} V. Your card says how many it is today."


def _textbook(volts: float) -> float:
    """Return the round volts [V] of a leg; none where a leg of ``volts`` V comes to the same in three figures."""
    return LEG_VOLTS if abs(volts - LEG_VOLTS) > 0.75 else math.nan


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
            "nominal_volts": lambda volts: leg_to_leg(_textbook(volts)),
        },
    ),
    "wye_volts": Task(
        lambda volts: leg_to_leg(volts, 120.0),
        {
            "half_a_turn": lambda volts: leg_to_leg(volts),
            "leg_alone": lambda volts: volts,
            "nominal_volts": lambda volts: leg_to_leg(_textbook(volts), 120.0),
        },
        (Way(lambda root, /, volts: volts * root.factor(1.732)),),
    ),
    "neutral_amps": Task(
        lambda volts, load_a, load_b: abs(current(volts / 2, load_a) - current(volts / 2, load_b)),
        {
            "neutral_adds": lambda volts, load_a, load_b: current(volts / 2, load_a) + current(volts / 2, load_b),
            "neutral_idle": lambda volts, load_a, load_b: 0.0,
            "larger_load": lambda volts, load_a, load_b: current(volts / 2, min(load_a, load_b)),
            "both_legs_on_load": lambda volts, load_a, load_b: abs(current(volts, load_a) - current(volts, load_b)),
        },
        (
            Way(
                lambda amps, /, volts, load_a, load_b: abs(
                    amps(current(volts / 2, load_a)) - amps(current(volts / 2, load_b))
                )
            ),
        ),
    ),
    "open_neutral": Task(
        lambda volts, load_a, load_b: _share(volts, load_a, load_b),
        {
            "each_keeps_its_leg": lambda volts, load_a, load_b: volts / 2,
            "other_load": lambda volts, load_a, load_b: _share(volts, load_b, load_a),
            "all_on_one_load": lambda volts, load_a, load_b: volts,
            "one_leg_in_a_row": lambda volts, load_a, load_b: _share(volts / 2, load_a, load_b),
        },
        (
            Way(lambda amps, /, volts, load_a, load_b: amps(current(volts, series([load_a, load_b]))) * load_a),
            Way(lambda share, /, volts, load_a, load_b: volts * share.factor(load_a / (load_a + load_b))),
            Way(lambda other, /, volts, load_a, load_b: volts - other(_share(volts, load_b, load_a))),
            Way(
                lambda amps, other, /, volts, load_a, load_b: (
                    volts - other(amps.fine(current(volts, series([load_a, load_b]))) * load_b)
                )
            ),
        ),
    ),
    "strapped_case": Task(
        lambda volts: volts,
        {
            "strap_holds_zero": lambda volts: 0.0,
            "both_legs_on_case": lambda volts: leg_to_leg(volts),
            "half_leg_on_case": lambda volts: volts / 2,
        },
        (Way(lambda: LEG_VOLTS, ABOUT_A_LEG),),
        Ideas(
            "one leg",
            {"strap_holds_zero": "nothing", "both_legs_on_case": "leg to leg", "half_leg_on_case": "half a leg"},
        ),
    ),
}
