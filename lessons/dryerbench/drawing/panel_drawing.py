"""The drawing of the bench panel: where every test point, part and wire of the dryer stands on the page.

Our own layout, read like a sentence: leg 1 along the top through the heater's switches, down on the right through the
three elements, back along the middle to leg 2; the motor below, neutral under it, the case at the bottom. Lengths are
units of the page, ``WIDTH`` by ``HEIGHT``. The panel and the still picture are both drawn from here.
"""

from __future__ import annotations

import io
from base64 import b64encode
from collections.abc import Collection, Mapping
from typing import TYPE_CHECKING

from dryerbench.core.tables import table
from dryerbench.drawing.figure_style import AMBER

if TYPE_CHECKING:
    from matplotlib.axes import Axes

WIDTH, HEIGHT = 1120, 640
COVER = (184, 44, 910, 508)
"""The area behind the cover: left, top, width, height."""

_ACROSS = {"L1": 250, "H1": 340, "H2": 432, "H3": 512, "H4": 622, "H5": 702, "H6": 812, "H7": 892, "H8": 1002}
_ROWS = {"1": 84, "2": 244, "N": 524, "G": 606}

SPOTS: dict[str, tuple[int, int, str]] = {
    **{f"outlet-{slot}": (60, y, "above") for slot, y in _ROWS.items()},
    **{f"plug-{slot}": (150, y, "above") for slot, y in _ROWS.items()},
    **{name: (x, 84, "above") for name, x in _ACROSS.items()},
    "L2": (250, 244, "above"),
    "N": (250, 524, "above"),
    "M2": (520, 244, "above"),
    "M1": (640, 244, "above"),
    "T0": (760, 244, "above"),
    "T1": (1002, 174, "above"),
    "T2": (1002, 244, "above"),
    "T3": (1002, 314, "above"),
    "Q": (412, 164, "above"),
    "D": (346, 374, "above"),
    "W1": (506, 374, "above"),
    "W2": (506, 454, "left"),
    "W0": (722, 454, "right"),
    "S1": (842, 394, "above"),
    "S2": (842, 484, "left"),
    "case": (640, 606, "above"),
}
"""Where each test point stands, and on which side its name."""

PARTS: tuple[tuple[str, tuple[int, int], tuple[int, int], str], ...] = (
    ("control contact", (340, 84), (432, 84), "below"),
    ("cycling thermostat", (512, 84), (622, 84), "below"),
    ("thermal cut-off", (702, 84), (812, 84), "below"),
    ("high limit", (892, 84), (1002, 84), "below"),
    ("element 1", (1002, 174), (830, 174), "above"),
    ("element 2", (1002, 244), (830, 244), "above"),
    ("element 3", (1002, 314), (830, 314), "above"),
    ("motor centrifugal switch", (640, 244), (520, 244), "below"),
    ("low heat contact", (512, 164), (434, 164), "below"),
    ("bias heater", (412, 164), (306, 164), "below"),
    ("door switch", (205, 374), (316, 374), "below"),
    ("start switch", (346, 374), (476, 374), "below"),
    ("run winding", (506, 374), (722, 374), "below"),
    ("start contact", (506, 374), (506, 426), "right"),
    ("start winding", (506, 454), (722, 454), "below"),
    ("thermistor", (842, 394), (842, 484), "left"),
    ("frame strap, if any", (250, 524), (250, 606), "right"),
)
"""The parts: name, one end, other end, on which side the name stands. Whether a contact is closed is not drawn."""

WIRES: tuple[tuple[str, tuple[tuple[int, int], ...]], ...] = (
    *(("", ((60, y), (150, y))) for y in _ROWS.values()),
    ("", ((150, 84), (250, 84))),
    ("", ((150, 244), (250, 244))),
    ("", ((150, 524), (250, 524))),
    ("ground wire", ((150, 606), (250, 606))),
    ("wire H1", ((250, 84), (340, 84))),
    ("wire H3", ((432, 84), (512, 84))),
    ("wire H5", ((622, 84), (702, 84))),
    ("wire H7", ((812, 84), (892, 84))),
    ("", ((1002, 84), (1064, 84), (1064, 314))),
    ("wire T1", ((1064, 174), (1002, 174))),
    ("wire T2", ((1064, 244), (1002, 244))),
    ("wire T3", ((1064, 314), (1002, 314))),
    ("", ((830, 174), (830, 314))),
    ("", ((830, 244), (760, 244))),
    ("wire T0", ((760, 244), (640, 244))),
    ("wire L2", ((520, 244), (250, 244))),
    ("", ((512, 84), (512, 164))),
    ("wire Q", ((434, 164), (412, 164))),
    ("", ((250, 84), (250, 124), (205, 124), (205, 230))),
    ("wire L1", ((205, 258), (205, 374))),
    ("wire D", ((316, 374), (346, 374))),
    ("wire W1", ((476, 374), (506, 374))),
    ("", ((722, 374), (722, 454))),
    ("wire N", ((722, 454), (722, 524), (250, 524))),
    ("wire W2", ((506, 426), (506, 454))),
    ("", ((722, 524), (996, 524), (996, 504))),
    ("wire S1", ((842, 394), (930, 394))),
    ("", ((842, 484), (930, 484))),
)
"""The wires: the name of a wire that can be pulled (else nothing) and its corners."""

BOARD = (930, 372, 132, 132)
"""The control board: left, top, width, height."""

CASE = (250, 1064, 606)
"""The bare metal of the case: from, to, height on the page."""

WORDS: tuple[tuple[int, int, str], ...] = (
    (60, 26, "receptacle"),
    (150, 26, "cord plug"),
    (996, 432, "control board"),
    (996, 452, "(fed by L1 and N)"),
    (284, 168, "to N"),
    (900, 632, "cabinet, bare metal"),
)


def drawing() -> dict[str, object]:
    """Return the whole drawing as plain data for the panel; lengths in units of the page."""
    titles = {row["point"]: row["title"] for row in table("test-points").rows}
    behind = {row["point"]: row["behind"] for row in table("test-points").rows}
    return {
        "size": [WIDTH, HEIGHT],
        "cover": list(COVER),
        "board": list(BOARD),
        "case": list(CASE),
        "words": [list(word) for word in WORDS],
        "points": [
            {"name": name, "x": x, "y": y, "side": side, "title": titles[name], "behind": behind[name]}
            for name, (x, y, side) in SPOTS.items()
        ],
        "parts": [
            {"name": name, "from": list(a), "to": list(b), "side": side, "box": list(box_of(a, b))}
            for name, a, b, side in PARTS
        ],
        "wires": [{"name": name, "corners": [list(corner) for corner in corners]} for name, corners in WIRES],
    }


def box_of(a: tuple[int, int], b: tuple[int, int]) -> tuple[float, float, float, float]:
    """Return left, top, width and height of the box of a part that ends at ``a`` and ``b``."""
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    if a[0] == b[0]:
        long = abs(b[1] - a[1]) * 0.5
        return middle[0] - 9, middle[1] - long / 2, 18, long
    long = min(abs(b[0] - a[0]) * 0.56, 110)
    return middle[0] - long / 2, middle[1] - 9, long, 18


WAYS = {"ArrowRight": (1, 0), "ArrowLeft": (-1, 0), "ArrowDown": (0, 1), "ArrowUp": (0, -1)}
"""The arrow keys, and the way each goes on the page."""

_CONE = 0.6


def neighbors(there: Collection[str]) -> dict[str, dict[str, str]]:
    """Return, for each of the points ``there``, the point that each arrow key goes to.

    That is the nearest inside a narrow cone; if the cone is empty, the nearest on that side of the page.
    """
    return neighbors_of({name: SPOTS[name] for name in there})


def neighbors_of(spots: Mapping[str, tuple[int, int, str]]) -> dict[str, dict[str, str]]:
    """Return the same for points that are anywhere: ``spots`` says where."""
    return {name: {key: other for key in WAYS if (other := _towards(name, key, spots))} for name in spots}


def _towards(name: str, key: str, spots: Mapping[str, tuple[int, int, str]]) -> str:
    x, y, _ = spots[name]
    across, down = WAYS[key]
    seen = []
    for other, (u, v, _) in spots.items():
        dx, dy = u - x, v - y
        along, aside = dx * across + dy * down, abs(dx * down) + abs(dy * across)
        if along > 5:
            seen.append((aside > _CONE * along, along + 3.0 * aside, other))
    return min(seen)[2] if seen else ""


def still(there: Collection[str], pulled: Collection[str], probes: Mapping[str, str | None], *, cover_off: bool) -> str:
    """Return the drawing as a PNG in base64: the points ``there``, wires ``pulled``, where the probes are."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(WIDTH / 100, HEIGHT / 100), dpi=100)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set(xlim=(0, WIDTH), ylim=(HEIGHT, 0))
    axes.set_axis_off()
    _paint_ground(axes, cover_off=cover_off)
    _paint_wires(axes, pulled)
    _paint_parts(axes)
    _paint_points(axes, there)
    _paint_probes(axes, probes)
    buffer = io.BytesIO()
    figure.savefig(buffer, format="png")
    return b64encode(buffer.getvalue()).decode("ascii")


def _paint_ground(axes: Axes, *, cover_off: bool) -> None:
    from matplotlib.patches import Rectangle

    left, top, wide, high = COVER
    face = "white" if cover_off else "#e6e6e6"
    axes.add_patch(Rectangle((left, top), wide, high, facecolor=face, edgecolor="#777777", linestyle="--"))
    said = "cover off" if cover_off else "cover on: what is inside cannot be reached"
    axes.text(left + wide / 2, top - 8, said, ha="center", va="bottom", fontsize=9, style="italic")
    left, top, wide, high = BOARD
    axes.add_patch(Rectangle((left, top), wide, high, facecolor="#f4f4f4", edgecolor="#333333"))
    axes.plot([CASE[0], CASE[1]], [CASE[2]] * 2, color="#777777", linewidth=6, solid_capstyle="butt")
    for x, y, text in WORDS:
        axes.text(x, y, text, ha="center", va="center", fontsize=9)


def _paint_wires(axes: Axes, pulled: Collection[str]) -> None:
    for name, corners in WIRES:
        off = name in pulled
        axes.plot(
            [x for x, _ in corners],
            [y for _, y in corners],
            color="#333333",
            linewidth=1.6,
            linestyle=":" if off else "-",
        )
        if off:
            (x, y), (u, v) = corners[0], corners[1]
            axes.text((x + u) / 2, (y + v) / 2 - 3, "off", ha="center", va="bottom", fontsize=8, weight="bold")


def _paint_parts(axes: Axes) -> None:
    from matplotlib.patches import Rectangle

    for name, a, b, side in PARTS:
        axes.plot([a[0], b[0]], [a[1], b[1]], color="#333333", linewidth=1.6)
        left, top, wide, high = box_of(a, b)
        axes.add_patch(Rectangle((left, top), wide, high, facecolor="white", edgecolor="#333333", zorder=2))
        x, y, across, up = _beside(side, (left, top, wide, high))
        text = name.replace(" ", "\n", 1) if side == "below" and len(name) > 12 else name
        axes.text(x, y, text, ha=across, va=up, fontsize=8.5, linespacing=1.0)


def _beside(side: str, box: tuple[float, float, float, float]) -> tuple[float, float, str, str]:
    left, top, wide, high = box
    places = {
        "above": (left + wide / 2, top - 4, "center", "bottom"),
        "below": (left + wide / 2, top + high + 4, "center", "top"),
        "left": (left - 6, top + high / 2, "right", "center"),
        "right": (left + wide + 6, top + high / 2, "left", "center"),
    }
    return places[side]


def _paint_points(axes: Axes, there: Collection[str]) -> None:
    for name, (x, y, side) in SPOTS.items():
        if name not in there:
            continue
        axes.plot([x], [y], marker="o", markersize=9, color="white", markeredgecolor="#111111", zorder=3)
        at, up, across, level = _beside(side, (x - 8, y - 8, 16, 16))
        axes.text(at, up, name, ha=across, va=level, fontsize=9.5, weight="bold", zorder=4)


def _paint_probes(axes: Axes, probes: Mapping[str, str | None]) -> None:
    for letter, point in probes.items():
        if point is None:
            continue
        x, y, _ = SPOTS[point]
        face, ink = (AMBER, "white") if letter == "A" else ("white", "#00507d")
        box = {"boxstyle": "round", "facecolor": face, "edgecolor": ink if letter == "B" else face}
        axes.text(x, y + 20, letter, ha="center", va="center", color=ink, weight="bold", zorder=5, bbox=box)
