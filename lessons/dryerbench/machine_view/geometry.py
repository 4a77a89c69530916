"""Boxes, places around a point, belts over wheels, corners turned round, and how wide a word is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import asin, atan2, cos, hypot, pi, radians, sin

Place = tuple[float, float]

WIDER = 1.15
"""A fallback sans of some systems is that much wider than the one measured here."""
_NARROW, _WIDE = set("ijltfrI.,:;'|!()[]1 "), set("mwMW@%ΩQO")


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle: left, top, width and height, in units of the drawing."""

    x: float
    y: float
    w: float
    h: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.w

    @property
    def bottom(self) -> float:
        """Its lower edge."""
        return self.y + self.h

    @property
    def middle(self) -> Place:
        """Its center."""
        return self.x + self.w / 2, self.y + self.h / 2

    def overlaps(self, other: Box, by: float = 0.5) -> bool:
        """Return whether the boxes share more than ``by`` in both directions."""
        return (
            min(self.right, other.right) - max(self.x, other.x) > by
            and min(self.bottom, other.bottom) - max(self.y, other.y) > by
        )

    def holds(self, other: Box, slack: float = 0.5) -> bool:
        """Return whether ``other`` lies in this box."""
        return (
            other.x >= self.x - slack
            and other.right <= self.right + slack
            and other.y >= self.y - slack
            and other.bottom <= self.bottom + slack
        )

    def grown(self, by: float) -> Box:
        """Return the box with a margin of ``by`` on all sides."""
        return Box(self.x - by, self.y - by, self.w + 2 * by, self.h + 2 * by)


def number(value: float) -> str:
    """Return a length with two digits at most."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)


def away(x: float, y: float, degrees: float, length: float) -> Place:
    """Return the place ``length`` from (x, y); degrees clockwise from the right."""
    return x + length * cos(radians(degrees)), y + length * sin(radians(degrees))


def word_width(words: str, size: float, *, bold: bool = False) -> float:
    """Return about how wide ``words`` are, in units of the drawing, with room for a wider font."""
    ems = 0.0
    for letter in words:
        if letter in _NARROW:
            ems += 0.3
        elif letter in _WIDE:
            ems += 0.84
        else:
            ems += 0.68 if letter.isupper() else 0.55
    return ems * size * WIDER * (1.06 if bold else 1.0)


def wrapped(words: str, width: float, size: float, *, bold: bool = False) -> list[str]:
    """Return ``words`` in lines that are no wider than ``width``; a long word keeps a line of its own."""
    lines = [""]
    for word in words.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and word_width(longer, size, bold=bold) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def outline(points: Sequence[Place], *, close: bool = True) -> str:
    """Return a path straight from point to point."""
    return "M" + "L".join(f"{number(float(x))} {number(float(y))}" for x, y in points) + ("z" if close else "")


def rounded(points: Sequence[Place], radius: float = 14.0) -> str:
    """Return a path through ``points`` whose corners are turned with ``radius``."""
    path = f"M{number(float(points[0][0]))} {number(float(points[0][1]))}"
    for (ax, ay), (bx, by), (cx, cy) in zip(points, points[1:], points[2:], strict=False):
        before, after = hypot(ax - bx, ay - by) or 1.0, hypot(cx - bx, cy - by) or 1.0
        turn = min(radius, before / 2, after / 2)
        path += f"L{number(bx + (ax - bx) * turn / before)} {number(by + (ay - by) * turn / before)}"
        path += f"Q{number(float(bx))} {number(float(by))} "
        path += f"{number(bx + (cx - bx) * turn / after)} {number(by + (cy - by) * turn / after)}"
    return path + f"L{number(float(points[-1][0]))} {number(float(points[-1][1]))}"


def curve(a: Place, b: Place, c: Place, d: Place, pieces: int = 12) -> list[Place]:
    """Return places along a cubic curve from ``a`` to ``d`` whose handles are ``b`` and ``c``."""
    found = []
    for step in range(pieces + 1):
        t = step / pieces
        shares = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        x, y = (sum(share * one[axis] for share, one in zip(shares, (a, b, c, d), strict=True)) for axis in (0, 1))
        found.append((x, y))
    return found


def box_path(box: Box) -> str:
    """Return a path round a box."""
    x, y, w, h = (float(length) for length in (box.x, box.y, box.w, box.h))
    return f"M{number(x)} {number(y)}h{number(w)}v{number(h)}h{number(-w)}z"


Wheel = tuple[float, float, float, int]


def belt(wheels: Sequence[Wheel]) -> str:
    """Return the closed path of a belt over ``wheels``: x, y, radius, and 1 clockwise or -1 on the belt's back."""
    ends = []
    for (ax, ay, ar, s), (bx, by, br, t) in pairwise((*wheels, wheels[0])):
        turn = atan2(by - ay, bx - ax) + asin((ar * s - br * t) / hypot(bx - ax, by - ay))
        across, down = sin(turn), -cos(turn)
        ends.append(((ax + ar * s * across, ay + ar * s * down), (bx + br * t * across, by + br * t * down)))
    path = f"M{number(ends[0][0][0])} {number(ends[0][0][1])}"
    for (_, into), (out, _), (x, y, radius, way) in zip(
        ends, [*ends[1:], ends[0]], [*wheels[1:], wheels[0]], strict=True
    ):
        arc = (way * (atan2(out[1] - y, out[0] - x) - atan2(into[1] - y, into[0] - x))) % (2 * pi)
        path += f"L{number(into[0])} {number(into[1])}A{radius} {radius} 0 {int(arc > pi)} {int(way > 0)} "
        path += f"{number(out[0])} {number(out[1])}"
    return path
