"""Blades, push-on connectors, tags, tips, and the signs of what is hot, burnt or pulled."""

from __future__ import annotations

from dryerbench.machine_view.geometry import Box, away, number, word_width, wrapped
from dryerbench.machine_view.strokes import (
    EDGE,
    FINE,
    at,
    disc,
    group,
    line,
    path,
    rect,
    shade,
    text,
    upright,
)

REACH = 48.0
"""How far from the root of its blade a wire leaves a connector."""
_SCORCH = "M-12-13C-2-19 12-17 22-13C33-11 38-5 35 2C38 9 27 15 17 13C7 19-6 16-12 11C-19 6-17-7-12-13Z"


def spade(x: float, y: float, degrees: float, *, burnt: bool = False) -> str:
    """Return a bare blade on its rivet; a burnt one is dark, notched and stands in a scorch."""
    blade = "M0-7H21L28-4V4L21 7H13L11 3.5L8 7H0Z" if burnt else "M0-7H21L28-4V4L21 7H0Z"
    body = path(_SCORCH, "$scorch", 0, fill_opacity=0.34) if burnt else ""
    body += rect(Box(-9, -11, 9, 22), "$zinc", EDGE, 2) + path(blade, "$char" if burnt else "$brass")
    body += shade("M0 2H28V4L21 7H0Z") + disc(19, 0, 2.2, "$paper", FINE)
    return at(x, y, upright(degrees, body), degrees=degrees)


def connector(x: float, y: float, degrees: float, *, burnt: bool = False) -> str:
    """Return a push-on connector with its sleeve on a blade whose root is at (x, y)."""
    sagged = "M5-9L14-11L22-9L31-10L36-5H48V5H37L33 10Q30 17 26 11Q23 9 20 12Q14 20 11 11L5 9Z"
    sleeve = path(sagged if burnt else "M5-10H31L36-5H48V5H36L31 10H5Z", "$char" if burnt else "$white")
    sleeve += shade("M5 4H36V5L31 10H5Z") + line(31, -10, 31, 10, FINE) + line(10, -10, 10, 10, FINE)
    if burnt:
        sleeve += path(
            "M0-16C9-13 14-15 19-9C23-4 17-1 20 4C22 10 13 16 6 13C-4 17-9 9-7 1C-10-7-8-14 0-16Z",
            "$scorch",
            0,
            fill_opacity=0.62,
        )
        sleeve += path("M22-9L25-3L22 1L26 6M31-8L29-2M16 12L18 6", "none", 1.3)
    return at(x, y, upright(degrees, sleeve), degrees=degrees)


TAG_SIZE = 12.5


def _tag_lines(words: str) -> tuple[list[str], float, float]:
    """Return the lines of a tag, its width and its height."""
    lines = wrapped(words, 42, TAG_SIZE, bold=True)[:3]
    wide = max(28.0, *(word_width(one, TAG_SIZE, bold=True) + 6 for one in lines))
    return lines, wide, 22.0 + 15 * len(lines)


def tag(x: float, y: float, words: str, aside: float = 27.0) -> str:
    """Return a paper tag on a string that is tied at (x, y), with the person's own words."""
    lines, wide, tall = _tag_lines(words)
    half = wide / 2
    card = path(
        f"M{number(6 - half)} 0H{number(half - 6)}L{number(half)} 7V{number(tall)}H{number(-half)}V7Z", "$straw"
    )
    card += disc(0, 7, 2.6, "$paper", FINE)
    for k, one in enumerate(lines):
        card += group(text(0, 23 + 15 * k, one, TAG_SIZE, "$on-straw", "middle", 600), font_style="italic")
    string = path(f"M{number(x)} {number(y)}q{number(aside / 2)} -2 {number(aside)} 12", "none", 1)
    return string + disc(x, y, 4, "$straw", 1) + at(x + aside, y + 5, card, degrees=3)


def tag_box(x: float, y: float, words: str, aside: float = 27.0) -> Box:
    """Return the box that the card of a tag takes."""
    _, wide, tall = _tag_lines(words)
    return Box(x + aside - wide / 2, y + 5, wide, tall)


def probe(x: float, y: float, degrees: float, bands: int) -> str:
    """Return a hand probe whose tip is at (x, y); one or two bands tell which lead it is, besides its tone."""
    fill, words = ("$slate", "$on-slate") if bands == 1 else ("$live", "$on-live")
    body = path("M0 0L8-1.8H30V1.8H8Z", "$zinc", 1) + path("M29-4H42V4H29Z", "$ink", 1) + path("M42-13H49V13H42Z", fill)
    body += path("M49-8L64-10H120L132-6V6L120 10H64L49 8Z", fill) + shade("M49 2H132V6L120 10H64L49 8Z", 0.22)
    body += "".join(rect(Box(72 + 12 * k, -10, 6, 20), words, 1) for k in range(bands))
    body += path("M132 0h30", "none", 6.8) + path("M132 0h30", "none", 5, fill)
    return (
        disc(x, y, 15, "none", 4.5, "$white")
        + disc(x, y, 15, "none", 2)
        + at(x, y, upright(degrees, body), degrees=degrees)
    )


def heat_waves(x: float, y: float, scale: float = 1.0) -> str:
    """Return three waves over what is hot."""
    wave = "".join(f"M{k * 11} 0c-6-6 6-9 0-16c-6-6 6-9 0-14" for k in (-1, 0, 1))
    return at(x, y, path(wave, "none", 4.6, "$paper"), path(wave, "none", 2.1, "$live"), scale=scale)


def hanging(x: float, y: float, degrees: float) -> tuple[float, float, float]:
    """Return root and direction of a connector that was pulled off the blade at (x, y) and hangs beside it."""
    fx, fy = away(x, y, degrees, 34)
    fx, fy = away(fx, fy, degrees + 90, 7)
    return fx, fy, degrees + 14
