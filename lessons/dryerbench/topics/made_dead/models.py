"""What there is to work out in lesson 01, made dead."""

from __future__ import annotations

from dryerbench.course.models import Task, Way
from dryerbench.electricity.shock import body_milliamps, case_volts

TASKS: dict[str, Task] = {
    "shock_current": Task(
        lambda volts, ohms: body_milliamps(volts, ohms),
        {
            "both_legs_to_ground": lambda volts, ohms: body_milliamps(2 * volts, ohms),
            "upside_down": lambda volts, ohms: ohms / volts,
            "times_ohms": lambda volts, ohms: volts * ohms,
        },
        (Way(lambda amps, /, volts, ohms: 1000.0 * amps(volts / ohms)),),
    ),
    "bonded_case": Task(
        lambda amps, ohms, leg_volts: case_volts(amps, ohms),
        {
            "leg_on_bonded_case": lambda amps, ohms, leg_volts: leg_volts,
            "amps_over_ohms": lambda amps, ohms, leg_volts: amps / ohms,
            "bond_is_perfect": lambda amps, ohms, leg_volts: 0.0,
        },
    ),
    "touch_current": Task(
        lambda touch_volts, ohms, leg_volts: body_milliamps(touch_volts, ohms),
        {
            "leg_for_case": lambda touch_volts, ohms, leg_volts: body_milliamps(leg_volts, ohms),
            "times_ohms": lambda touch_volts, ohms, leg_volts: touch_volts * ohms,
        },
        (Way(lambda amps, /, touch_volts, ohms: 1000.0 * amps(touch_volts / ohms)),),
    ),
}
