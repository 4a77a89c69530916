"""What there is to work out in lesson 08, air and drying."""

from __future__ import annotations

import math

from dryerbench.course.models import Task, Way

CODE = "IRC M1502"
EDITIONS = ("2009 and later", "2006")
DUCT_INCHES = 4.0
"""Diameter of a dryer's exhaust duct [in]; by IRC M1502, read at second hand."""

BTU_PER_WATT_HOUR = 3.412
"""[BTU/h per W]; by definition 3.41214."""
SENSIBLE = 1.08
"""Sensible heat of room air [BTU/(h·cfm·°F)]; the handbook's rule (check: 1207 W/(m³/s·K))."""
DUCT_FEET = DUCT_INCHES / 12.0
"""Diameter [ft]."""
BLOCKED_FROM = 1.5
"""Times the clean duct's pressure; a gauge above it tells of a blocked vent (common practice, no published source)."""


def duct_left(edition: str, elbows_90: int, elbows_45: int) -> float:
    """Return the straight length [ft] that a code leaves after mitred elbows."""
    from dryerbench.air.ducts import Duct, code_check

    elbows = ("mitred_90",) * elbows_90 + ("mitred_45",) * elbows_45
    return code_check(Duct(0.0, elbows), CODE, edition).allowed_ft


def _other(edition: str) -> str:
    return next(one for one in EDITIONS if one != edition)


def _rise(watts: float, cfm: float) -> float:
    return BTU_PER_WATT_HOUR * watts / (SENSIBLE * cfm)


TASKS: dict[str, Task] = {
    "duct_left": Task(
        lambda edition, elbows_90, elbows_45: duct_left(edition, elbows_90, elbows_45),
        {
            "elbows_left_out": lambda edition, elbows_90, elbows_45: duct_left(edition, 0, 0),
            "elbows_added": lambda edition, elbows_90, elbows_45: (
                2.0 * duct_left(edition, 0, 0) - duct_left(edition, elbows_90, elbows_45)
            ),
            "forty_five_as_ninety": lambda edition, elbows_90, elbows_45: duct_left(edition, elbows_90 + elbows_45, 0),
            "other_edition": lambda edition, elbows_90, elbows_45: duct_left(_other(edition), elbows_90, elbows_45),
        },
    ),
    "vent_flow": Task(
        lambda fpm: fpm * math.pi / 4.0 * DUCT_FEET**2,
        {
            "diameter_as_radius": lambda fpm: fpm * math.pi * DUCT_FEET**2,
            "square_duct": lambda fpm: fpm * DUCT_FEET**2,
            "square_inches": lambda fpm: fpm * math.pi / 4.0 * DUCT_INCHES**2,
        },
        (Way(lambda area, /, fpm: fpm * area.factor(math.pi / 4.0 * DUCT_FEET**2)),),
    ),
    "air_after_heater": Task(
        lambda watts, cfm, room: room + _rise(watts, cfm),
        {
            "room_left_out": lambda watts, cfm, room: _rise(watts, cfm),
            "watts_for_btu": lambda watts, cfm, room: room + _rise(watts, cfm) / BTU_PER_WATT_HOUR,
        },
        (
            Way(
                lambda heat, rise, /, watts, cfm, room: room + rise(heat(BTU_PER_WATT_HOUR * watts) / (SENSIBLE * cfm))
            ),
            Way(lambda air, rise, /, watts, cfm, room: room + rise(BTU_PER_WATT_HOUR * watts / air(SENSIBLE * cfm))),
        ),
    ),
    "clean_gauge": Task(
        lambda inches, at_cfm, cfm: inches * (cfm / at_cfm) ** 2,
        {
            "pressure_straight": lambda inches, at_cfm, cfm: inches * cfm / at_cfm,
            "pressure_unchanged": lambda inches, at_cfm, cfm: inches,
            "pressure_upside_down": lambda inches, at_cfm, cfm: inches * (at_cfm / cfm) ** 2,
        },
        (
            Way(lambda ratio, /, inches, at_cfm, cfm: inches * ratio.factor(cfm / at_cfm) ** 2),
            Way(lambda square, /, inches, at_cfm, cfm: inches * square.factor((cfm / at_cfm) ** 2)),
        ),
    ),
    "on_share": Task(
        lambda on, whole: 100.0 * on / whole,
        {
            "off_share": lambda on, whole: 100.0 * (whole - on) / whole,
            "share_not_percent": lambda on, whole: on / whole,
        },
        (Way(lambda share, /, on, whole: 100.0 * share.factor(on / whole)),),
    ),
    "longer": Task(
        lambda took, sound: 100.0 * (took - sound) / sound,
        {
            "longer_of_own": lambda took, sound: 100.0 * (took - sound) / took,
            "whole_not_longer": lambda took, sound: 100.0 * took / sound,
            "share_not_percent": lambda took, sound: (took - sound) / sound,
        },
        (Way(lambda share, /, took, sound: 100.0 * share.factor((took - sound) / sound)),),
    ),
}
