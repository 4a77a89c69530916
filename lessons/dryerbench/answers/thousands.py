"""Thousands: "1.200 W" may be twelve hundred watts as half the world writes it, or a little more than one.

Three decimals are honest in most units (26.667 A, 0.375 in), and are taken as written there. They are asked about in
two cases alone: in units that people meet by the hundred and thousand and that no meter of the trade shows to a
thousandth (W, VA, BTU/h, ft/min, ...), and for ohms where the three are zeros (10.000 ohm, perhaps ten kilohms).
"""

from __future__ import annotations

import re

__all__ = ["two_readings"]

_BY_THE_THOUSAND = ("W", "VA", "BTU/h", "BTU", "Wh", "J", "kJ", "ft/min")
_GROUPED = re.compile(r"([1-9][0-9]{0,2})\.([0-9]{3})")


def two_readings(digits: str, unit: str) -> tuple[str, str] | None:
    """Return both readings of plain digits such as "1.200" before ``unit``; None where there is but one."""
    match = _GROUPED.fullmatch(digits)
    if match is None:
        return None
    if unit not in _BY_THE_THOUSAND and not (unit == "\N{GREEK CAPITAL LETTER OMEGA}" and match[2] == "000"):
        return None
    return f"{match[1]}{match[2]} {unit}", f"{float(digits):.2f} {unit}"
