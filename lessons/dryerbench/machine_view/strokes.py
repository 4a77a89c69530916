"""Strokes of the machine view: elements of SVG as text, three weights of line, one shade, wires and screws.

Angles are degrees, clockwise from the right; a part's own x axis points out of its root. Colors are names of
``palette``, written ``$ink``.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from math import cos, radians

from dryerbench.family.arrangement import Mark
from dryerbench.machine_view.geometry import Box, Place, away, box_path, number, outline

OUTLINE, EDGE, FINE = 2.4, 1.3, 0.7
"""The silhouette of what can be lifted; the edge of a part of it; seams, ribs, leaders, threads."""
FONT = "'Segoe UI',Roboto,'Helvetica Neue',Arial,'Liberation Sans',sans-serif"

Attribute = str | float | None


def element(tag: str, body: str = "", /, **attributes: Attribute) -> str:
    """Return one element; ``_`` in the name of an attribute becomes ``-``."""
    told = "".join(
        f' {key.strip("_").replace("_", "-")}="{_value(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{tag}{told}>{body}</{tag}>" if body else f"<{tag}{told}/>"


def _value(value: str | float) -> str:
    return escape(value, quote=True) if isinstance(value, str) else number(float(value))


def group(*body: str, **attributes: Attribute) -> str:
    """Return the bodies in a group."""
    return element("g", "".join(body), **attributes)


def at(x: float, y: float, *body: str, degrees: float = 0.0, scale: float = 1.0) -> str:
    """Return the bodies moved to (x, y), turned and scaled there."""
    turn = f" rotate({number(float(degrees))})" if degrees else ""
    size = f" scale({number(float(scale))})" if scale != 1 else ""
    return group(*body, transform=f"translate({number(float(x))} {number(float(y))}){turn}{size}")


def path(
    data: str, fill: str = "none", weight: float = EDGE, ink: str = "$ink", cap: str = "round", **more: Attribute
) -> str:
    """Return a path; of weight 0 it has no edge."""
    drawn: dict[str, Attribute] = {"stroke": ink, "stroke_width": weight} if weight else {}
    if weight:
        drawn |= {"stroke_linejoin": "round", "stroke_linecap": cap}
    return element("path", d=data, fill=fill, **drawn, **more)


def rect(box: Box, fill: str = "none", weight: float = EDGE, radius: float = 0, ink: str = "$ink") -> str:
    """Return a rectangle."""
    drawn: dict[str, Attribute] = {"stroke": ink, "stroke_width": weight} if weight else {}
    return element("rect", x=box.x, y=box.y, width=box.w, height=box.h, rx=radius or None, fill=fill, **drawn)


def disc(
    x: float, y: float, r: float, fill: str = "none", weight: float = EDGE, ink: str = "$ink", dashes: str | None = None
) -> str:
    """Return a circle."""
    drawn: dict[str, Attribute] = {"stroke": ink, "stroke_width": weight} if weight else {}
    return element("circle", cx=x, cy=y, r=r, fill=fill, **drawn, stroke_dasharray=dashes)


def line(x1: float, y1: float, x2: float, y2: float, weight: float = EDGE, ink: str = "$ink") -> str:
    """Return a straight line."""
    data = f"M{number(float(x1))} {number(float(y1))}L{number(float(x2))} {number(float(y2))}"
    return path(data, weight=weight, ink=ink)


def text(
    x: float, y: float, words: str, size: float = 13, ink: str = "$ink", anchor: str = "start", weight: int = 400
) -> str:
    """Return a line of words."""
    safe = escape(words, quote=True)
    return element("text", safe, x=x, y=y, font_size=size, fill=ink, text_anchor=anchor, font_weight=float(weight))


def shade(data: str, depth: float = 0.13) -> str:
    """Return the one soft shade over whatever material lies beneath."""
    return element("path", d=data, fill="$shadow", fill_opacity=depth)


def shade_box(x: float, y: float, w: float, h: float, depth: float = 0.13) -> str:
    """Return the soft shade over a rectangle."""
    return shade(box_path(Box(x, y, w, h)), depth)


def upright(degrees: float, body: str) -> str:
    """Return ``body`` turned over where its part points left, so that the shade stays below."""
    return body if cos(radians(degrees)) > -0.05 else group(body, transform="scale(1 -1)")


def tube(data: str, mark: Mark, width: float = 4.6) -> str:
    """Return a wire: casing, body, and its tracer, so that no wire is told by its color alone."""
    if mark.tone == "bare":
        return path(data, weight=width + 1.8) + path(data, weight=width, ink="$brass") + _braid(data, width)
    drawn = path(data, weight=width + 1.8) + path(data, weight=width, ink=f"$tone-{mark.tone}")
    if mark.tracer == "plain":
        return drawn
    dashes, thick = {"dash": ("9 7", 1.5), "ring": ("2.4 12", width)}[mark.tracer]
    ink = "$tracer-light" if mark.tone in ("slate", "black") else "$tracer-dark"
    return drawn + path(data, weight=thick, ink=ink, cap="butt", stroke_dasharray=dashes)


def _braid(data: str, width: float) -> str:
    return path(data, weight=width, ink="$tracer-dark", cap="butt", stroke_dasharray="1 4")


def cord(data: str, width: float = 7.0, fill: str = "$slate") -> str:
    """Return a cord or a lead: casing and body."""
    return path(data, weight=width + 1.8) + path(data, weight=width, ink=fill)


def hexagon(radius: float) -> str:
    """Return the path of a hexagon about the origin."""
    return outline([away(0, 0, degrees, radius) for degrees in range(0, 360, 60)])


def screw(x: float, y: float, head: str, r: float = 5.0) -> str:
    """Return a screw's head from above: ``hex``, ``Ph``, ``sq`` or ``qt`` (quarter-turn)."""
    base = disc(0, 0, r * 1.25, "$white", FINE)
    slot = r * 0.62
    recess = {
        "hex": path(hexagon(r * 0.86), "$zinc", FINE) + disc(0, 0, r * 0.3, "none", FINE),
        "Ph": line(-slot, 0, slot, 0, 1) + line(0, -slot, 0, slot, 1),
        "sq": rect(Box(-slot * 0.7, -slot * 0.7, slot * 1.4, slot * 1.4), "$ink", 0),
        "qt": path(f"M{number(-r)} {number(-r * 0.2)}H{number(r)}V{number(r * 0.2)}H{number(-r)}z", "$ink", 0)
        + disc(0, 0, r * 0.34, "$ink", 0),
    }[head]
    return at(x, y, base, recess, degrees=20.0 if head in ("hex", "Ph") else 35.0)


def screw_hole(x: float, y: float, r: float = 5.0) -> str:
    """Return where a screw was: a dark hole in a dashed ring."""
    return disc(x, y, r * 0.62, "$slate", FINE) + disc(x, y, r * 1.25, "none", FINE, dashes="2 2")


def dots(places: Sequence[Place], r: float, fill: str = "$ink") -> str:
    """Return small filled circles."""
    return "".join(disc(x, y, r, fill, 0) for x, y in places)
