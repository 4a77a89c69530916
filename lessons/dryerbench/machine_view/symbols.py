"""Symbols of the wiring sheet, as the trade draws them: contacts, thermostats, links, coils, windings, relays, lamps.

IEC 60617 and ANSI Y32.2 differ; these are the zigzag resistor and the open blade of North American sheets (common
practice, from memory). A symbol lies on one level from ``a`` to ``b``.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from dryerbench.family.kinds import ONE_SHOT, Component
from dryerbench.machine_view.geometry import Box, number
from dryerbench.machine_view.strokes import EDGE, disc, line, path, rect, text

WEIGHT = 1.6
_THERMOSTATS = ("cycling thermostat", "low thermostat", "high limit")
_SENSORS = ("exhaust sensor", "inlet sensor")


def _ends(a: float, b: float, y: float) -> str:
    return disc(a, y, 3.2, "$white", EDGE) + disc(b, y, 3.2, "$white", EDGE)


def _blade(a: float, b: float, y: float, *, closed: bool) -> str:
    return line(a + 3, y - 1.5, b - 1, y - (3.5 if closed else 15), WEIGHT)


def zigzag(a: float, b: float, y: float) -> str:
    """Return a resistance: a heater coil."""
    k = (b - a) / 12
    return path(
        f"M{number(a)} {number(y)}" + f"l{number(k)}-8l{number(2 * k)} 16l{number(k)}-8" * 3, "none", WEIGHT
    ) + _ends(a, b, y)


def winding(a: float, b: float, y: float) -> str:
    """Return a winding: four humps."""
    k = (b - a) / 4
    return path(
        f"M{number(a)} {number(y)}" + f"a{number(k / 2)} {number(k / 2)} 0 0 1 {number(k)} 0" * 4, "none", WEIGHT
    ) + _ends(a, b, y)


def contact(a: float, b: float, y: float, *, closed: bool) -> str:
    """Return a contact."""
    return _blade(a, b, y, closed=closed) + _ends(a, b, y)


def _thermostat(a: float, b: float, y: float, *, closed: bool) -> str:
    middle = (a + b) / 2
    return contact(a, b, y, closed=closed) + path(f"M{number(middle)} {number(y - 3)}v10h-7v8h14v-8h7", "none", EDGE)


def _link(a: float, b: float, y: float, *, closed: bool) -> str:
    middle = (a + b) / 2
    box = rect(Box(a - 6, y - 11, b - a + 12, 22), "none", EDGE, 3)
    if closed:
        half = number((middle - a - 3) / 2)
        wave = path(
            f"M{number(a + 3)} {number(y)}q{half}-14 {number(middle - a - 3)} 0t{number(middle - a - 3)} 0",
            "none",
            WEIGHT,
        )
    else:
        wave = line(a + 3, y, a + 12, y - 6, WEIGHT) + line(b - 3, y, b - 12, y + 6, WEIGHT)
    return box + wave + _ends(a, b, y)


def _push(a: float, b: float, y: float, *, closed: bool) -> str:
    middle, lift = (a + b) / 2, 4 if closed else 9
    data = f"M{number(a - 2)} {number(y - lift)}H{number(b + 2)}M{number(middle)} {number(y - lift)}v-11m-7 0h14"
    return path(data, "none", WEIGHT) + _ends(a, b, y)


def _changeover(a: float, b: float, y: float, *, closed: bool) -> str:
    tip = y - 3.5 if closed else y + 20
    return line(a + 3, y, b - 1, tip, WEIGHT) + _ends(a, b, y) + disc(b, y + 24, 3.2, "$white", EDGE)


def _thermistor(a: float, b: float, y: float) -> str:
    middle = (a + b) / 2
    body = (
        rect(Box(middle - 17, y - 7, 34, 14), "$white", WEIGHT)
        + line(a, y, middle - 17, y)
        + line(middle + 17, y, b, y)
    )
    return (
        body
        + path(f"M{number(middle - 20)} {number(y + 14)}h7L{number(middle + 14)} {number(y - 14)}", "none", EDGE)
        + _ends(a, b, y)
    )


def _circle(a: float, b: float, y: float, sign: str) -> str:
    middle = (a + b) / 2
    out = line(a, y, middle - 12, y) + line(middle + 12, y, b, y) + disc(middle, y, 12, "$white", WEIGHT)
    if sign:
        return out + text(middle, y + 5, sign, 13, "$ink", "middle", 600) + _ends(a, b, y)
    cross = f"M{number(middle - 8.5)} {number(y - 8.5)}l17 17m0-17l-17 17"
    return out + path(cross, "none", EDGE) + _ends(a, b, y)


def _relay_coil(a: float, b: float, y: float) -> str:
    middle = (a + b) / 2
    box = Box(middle - 14, y - 10, 28, 20)
    return (
        line(a, y, box.x, y)
        + line(box.right, y, b, y)
        + rect(box, "$white", WEIGHT)
        + line(box.x + 8, box.bottom, box.right - 8, box.y)
        + _ends(a, b, y)
    )


def symbol(part: Component, a: float, b: float, y: float, *, closed: bool) -> str:
    """Return the symbol of a part with two or three terminals, its contact as it stands."""
    kind = part.kind.name
    if len(part.kind.throws) > 1:
        return _changeover(a, b, y, closed=closed)
    if kind in _PLAIN:
        return _PLAIN[kind](a, b, y)
    return _SWITCHED.get(kind, contact)(a, b, y, closed=closed)


class _Switched(Protocol):
    def __call__(self, a: float, b: float, y: float, *, closed: bool) -> str: ...


_SWITCHED: dict[str, _Switched] = {
    **dict.fromkeys(_THERMOSTATS, _thermostat),
    **dict.fromkeys(ONE_SHOT, _link),
    "start switch": _push,
}
_PLAIN: dict[str, Callable[[float, float, float], str]] = {
    **dict.fromkeys(_SENSORS, _thermistor),
    "dial motor": lambda a, b, y: _circle(a, b, y, "TM"),
    "lamp": lambda a, b, y: _circle(a, b, y, ""),
    "bias heater": zigzag,
    "relay coil": _relay_coil,
}
