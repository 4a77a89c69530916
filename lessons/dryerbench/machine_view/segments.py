"""Digits of seven drawn segments, so that a display needs no font."""

from __future__ import annotations

from collections.abc import Callable

from dryerbench.machine_view.geometry import Box, number, outline
from dryerbench.machine_view.strokes import group, path, rect

_SEGMENTS = {
    "0": "abcdef", "1": "bc", "2": "abged", "3": "abgcd", "4": "fgbc", "5": "afgcd", "6": "afgedc", "7": "abc",
    "8": "abcdefg", "9": "abcdfg", "-": "g", "O": "abcdef", "L": "def", " ": "",
}  # fmt: skip
_DIGITS = 4


def _digit(lit: str, x: float, y: float, high: float) -> str:
    w, t = high * 0.54, high * 0.13
    level: Callable[[float], str] = lambda at: outline(
        [(t * 0.6, at), (t, at - t / 2), (w - t, at - t / 2), (w - t * 0.6, at), (w - t, at + t / 2), (t, at + t / 2)]
    )
    stand: Callable[[float, float, float], str] = lambda at, top, low: outline(
        [
            (at, top + t * 0.1),
            (at + t / 2, top + t * 0.6),
            (at + t / 2, low - t * 0.6),
            (at, low - t * 0.1),
            (at - t / 2, low - t * 0.6),
            (at - t / 2, top + t * 0.6),
        ]
    )
    half, low = high / 2, high - t / 2
    shapes = {
        "a": level(t / 2), "g": level(half), "d": level(low),
        "f": stand(t / 2, t / 2, half), "b": stand(w - t / 2, t / 2, half),
        "e": stand(t / 2, half, low), "c": stand(w - t / 2, half, low),
    }  # fmt: skip
    drawn = "".join(path(d, "$digits", 0, fill_opacity=None if name in lit else 0.05) for name, d in shapes.items())
    return group(drawn, transform=f"translate({number(float(x))} {number(float(y))}) skewX(-5)")


def read_digits(digits: str, right: float, y: float, high: float) -> str:
    """Return ``digits`` (figures, a point, a minus, ``OL``) that end at ``right``, on four places.

    Raises
    ------
    KeyError
        For a sign that seven segments cannot show.
    """
    out, x = "", right
    for sign in reversed(digits.rjust(_DIGITS + ("." in digits))):
        if sign == ".":
            out += rect(Box(x - high * 0.27, y + high * 0.88, high * 0.12, high * 0.12), "$digits", 0)
            x -= high * 0.12
        else:
            x -= high * 0.72
            out += _digit(_SEGMENTS[sign], x, y, high)
    return out
