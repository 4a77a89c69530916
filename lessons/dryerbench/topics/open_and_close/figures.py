"""The drawings of lesson 09: steps that wait for each other, the belt's run, the clamp against the prediction."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from dryerbench.bench.machine import ELEMENTS
from dryerbench.drawing.figure_style import BLUE, GRAY, PALE_BLUE, PALE_RED, RED, tidy
from dryerbench.drawing.interactive_figure import Explorer
from dryerbench.drawing.knobs import Knob, Values
from dryerbench.drawing.still_figure import show_still
from dryerbench.machine_view.plates.drive_plates import belt_run
from dryerbench.topics.open_and_close import belt
from dryerbench.topics.open_and_close.models import jaw_off, predicted

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.text import Text

_SHEET_SHARE = 0.05  # how far one machine's heater may be off its sheet
_LETTERS = 10.0  # points
_PAD = 4.0  # points between a step's words and the edge of its box
_OFF = _PAD + 1.5  # points between a step's words and the tip of an arrow

STEPS: dict[str, tuple[str, float, float, tuple[str, ...]]] = {
    "plug": ("plug out", 2, 0, ()),
    "meter": ("meter checked", 1, 0, ()),
    "dead": ("tested dead", 1, 1, ("plug", "meter")),
    "again": ("meter checked\nagain", 1, 2, ("dead",)),
    "cover": ("cover off", 1, 3, ("again",)),
    "duct": ("duct off, at the\nback", 2, 3, ("plug",)),
    "photo": ("picture", 1, 4, ("cover",)),
    "cup": ("screws counted\ninto cup 1", 0, 4, ("cover",)),
    "housing": ("blower housing\nopen", 2, 4, ("duct", "photo")),
    "lint": ("lint out", 2, 5, ("housing",)),
}
"""Cleaning a blower: each step's words, its place in the drawing, and the steps that it waits for."""


def open_steps(done: int) -> list[str]:
    """Return the keys of the steps that can be done next when the first ``done`` steps are done."""
    finished = list(STEPS)[:done]
    return [key for key, (_, _, _, waits) in STEPS.items() if key not in finished and set(waits) <= set(finished)]


def _place(key: str) -> tuple[float, float]:
    _, x, y, _ = STEPS[key]
    return 1.0 * x, -1.0 * y


def _box(axes: Axes, key: str, *, finished: bool, free: bool) -> Text:
    face, edge, line = ("#d9d9d9", GRAY, "-") if finished else ("white", BLUE, "-") if free else ("white", GRAY, ":")
    return axes.text(
        *_place(key),
        ("✓ " if finished else "") + STEPS[key][0],
        ha="center",
        va="center",
        fontsize=_LETTERS,
        fontweight="bold" if free else "normal",
        color=GRAY if not (finished or free) else "black",
        bbox={
            "boxstyle": f"round,pad={_PAD / _LETTERS}",
            "fc": face,
            "ec": edge,
            "lw": 2.4 if free else 1.2,
            "ls": line,
        },
        zorder=3,
    )


def _edge(first: str, key: str) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return where an arrow from the step ``first`` meets the step ``key``: in shares of its words, and points off."""
    (x, y), (u, v) = _place(first), _place(key)
    side = float(np.sign(x - u))
    return ((0.5 + 0.3 * side, 1.0), (0.0, _OFF)) if y > v else ((0.5 + 0.5 * side, 0.5), (_OFF * side, 0.0))


def _paint_steps(figure: Figure, at: Values) -> None:
    from matplotlib.text import OffsetFrom

    axes = figure.subplots()
    done = round(at["done"])
    finished, free = list(STEPS)[:done], open_steps(done)
    boxes = {key: _box(axes, key, finished=key in finished, free=key in free) for key in STEPS}
    for key, (_, _, _, waits) in STEPS.items():
        for first in waits:
            share, off = _edge(first, key)
            axes.annotate(
                "",
                off,
                xycoords=OffsetFrom(boxes[key], share, "points"),
                xytext=(0.5, 0.5),  # below the box of the step before
                textcoords=boxes[first],
                arrowprops={"arrowstyle": "-|>", "color": GRAY, "lw": 1.3, "shrinkA": 0, "shrinkB": 0},
                zorder=2,
            )
    axes.text(1.0, 0.6, "gray: done    bold: can be done now    dotted: has to wait", ha="center")
    axes.set(xlim=(-0.5, 2.5), ylim=(-5.4, 0.9))
    axes.set_axis_off()


def _say_steps(at: Values) -> str:
    done = round(at["done"])
    free = ", ".join(f"“{STEPS[key][0]}”".replace("\n", " ") for key in open_steps(done))
    if not free:
        return "All ten steps are done. Going back, the last one off is the first one on."
    return (
        f"{done} of {len(STEPS)} steps are done. What can be done now: {free}. Any of these is right; the rest waits."
    )


def show_open_steps() -> None:
    """Show which steps of a job are done, which can be done next and which have to wait."""
    Explorer(
        "Which step can be done now",
        (Knob("done", "Steps done", 0, len(STEPS), 1, 5, ""),),
        _paint_steps,
        _say_steps,
        height=5.2,
    ).show()


def _arc(axes: Axes, wheel: belt.Wheel, start: belt.Point, end: belt.Point) -> None:
    """Draw the belt round ``wheel`` from ``start`` to ``end``, counterclockwise if the wheel is inside the loop."""
    first, last = (math.atan2(p[1] - wheel.centre[1], p[0] - wheel.centre[0]) for p in (start, end))
    turn = (last - first) % math.tau if wheel.side > 0 else -((first - last) % math.tau)
    angles = np.linspace(first, first + turn, 120)
    x, y = (wheel.centre[0] + wheel.radius * np.cos(angles), wheel.centre[1] + wheel.radius * np.sin(angles))
    axes.plot(x, y, color=BLUE, linewidth=3.2, solid_capstyle="butt", zorder=3)


def _paint_belt(figure: Figure, at: Values) -> None:
    axes, side = figure.subplots(1, 2, width_ratios=[1.0, 1.15])
    wheel = belt.idler(at["travel"])
    arriving, leaving, back = belt.strands(at["travel"])
    angles = np.linspace(0.0, math.tau, 200)
    for one, fill in ((belt.DRUM, "#f4f4f4"), (belt.PULLEY, "#bbbbbb"), (wheel, "#ffffff")):
        x, y = one.centre[0] + one.radius * np.cos(angles), one.centre[1] + one.radius * np.sin(angles)
        axes.fill(x, y, facecolor=fill, edgecolor=GRAY, linewidth=1.2, zorder=2)
    for piece in (arriving, leaving, back):
        axes.plot(*zip(piece.start, piece.end, strict=True), color=BLUE, linewidth=3.2, zorder=3)
    _arc(axes, belt.DRUM, back.end, arriving.start)
    _arc(axes, belt.PULLEY, arriving.end, leaving.start)
    _arc(axes, wheel, leaving.end, back.start)
    axes.text(0, 0, "drum", ha="center", va="center")
    axes.annotate("motor pulley", belt.PULLEY.centre, xytext=(-8, -20.5), arrowprops={"arrowstyle": "-", "color": GRAY})
    axes.annotate("idler", wheel.centre, xytext=(13.0, -19.0), arrowprops={"arrowstyle": "-", "color": GRAY})
    axes.set(xlim=(-14.5, 18.5), ylim=(-22, 14.5), aspect="equal")
    axes.set_axis_off()
    travels = np.linspace(0.0, belt.MOST_TRAVEL, 81)
    side.plot(travels, [belt.wrap_degrees(float(one)) for one in travels], color=BLUE)
    side.plot([at["travel"]], [belt.wrap_degrees(at["travel"])], "o", color=RED, markersize=9)
    side.set(xlim=(0, belt.MOST_TRAVEL))
    tidy(side, "idler's push (in)", "belt around the pulley (degrees)")


def _say_belt(at: Values) -> str:
    wrap, bare = belt.wrap_degrees(at["travel"]), belt.wrap_degrees(0.0)
    return (
        f"With the idler pushed {at['travel']:.1f} in, the belt goes {wrap:.0f}° around the motor pulley. "
        f"Without its push it is {bare:.0f}°. Before it slips, the belt can pull {belt.grip(wrap):.1f} times the slack "
        f"side's pull. Without the push it is {belt.grip(bare):.1f} times."
    )


def show_belt() -> None:
    """Show how a drum's belt runs, and its angle (degrees) around the motor pulley against the idler's push (in)."""
    Explorer(
        "The belt's run",
        (Knob("travel", "The idler's push", 0, belt.MOST_TRAVEL, 0.1, 2.5, "in"),),
        _paint_belt,
        _say_belt,
        height=3.9,
    ).show()


def _clamp_shows(at: Values) -> float:
    """Return the amps in the jaw: nothing around the whole cord, where what goes out also comes back."""
    return predicted(at["volts"], at["sheet"]) * at["working"] / len(ELEMENTS) if at["jaw"] < 1 else 0.0


def _paint_fit(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    whole = predicted(at["volts"], at["sheet"])
    for place, working in enumerate(reversed(ELEMENTS)):
        amps = whole * working / len(ELEMENTS)
        axes.bar([place], [amps], width=0.55, color=PALE_BLUE, edgecolor=BLUE)
        axes.errorbar([place], [amps], [_SHEET_SHARE * amps], color=BLUE, capsize=9, linewidth=1.6)
        axes.annotate(f"{amps:.1f} A", (place, amps * (1 + _SHEET_SHARE)), xytext=(0, 4), textcoords="offset points",
                      ha="center")  # fmt: skip
    shown = _clamp_shows(at)
    off = jaw_off(shown)
    axes.bar([3], [shown], width=0.55, color=PALE_RED, edgecolor=RED, hatch="//")
    axes.errorbar([3], [shown], [off], color=RED, capsize=9, linewidth=1.6)
    axes.annotate(f"{shown:.2f} A", (3, shown + off), xytext=(0, 4), textcoords="offset points", ha="center")
    for level in (1, 2, 3):
        axes.axhline(whole * level / 3, color=GRAY, linestyle=":", linewidth=1)
    axes.set_xticks(range(4), ["3 at work,\npredicted", "2 at work,\npredicted", "1 at work,\npredicted", "the clamp"])
    axes.set(ylim=(0, 36))
    tidy(axes, y="current (A)", grid=None)


def _say_fit(at: Values) -> str:
    whole, shown = predicted(at["volts"], at["sheet"]), _clamp_shows(at)
    said = f"Predicted, hot: {whole:.1f} A for three, {whole * 2 / 3:.1f} A for two, {whole / 3:.1f} A for one. "
    said += f"The clamp shows {shown:.2f} A, good to ±{jaw_off(shown):.2f} A. "
    if at["jaw"] >= 1:
        return said + "It is around the whole cord. What goes out comes back beside it, and the clamp reads nothing."
    return (
        said
        + {3: "It fits.", 2: "A third is missing.", 1: "Two thirds are missing.", 0: "No heat."}[round(at["working"])]
    )


def show_clamp_fit() -> None:
    """Show the predicted line current (A) with three, two and one coils at work, and what the clamp shows."""
    Explorer(
        "The clamp against the prediction",
        (
            Knob("working", "Coils that work", 0, 3, 1, 2, ""),
            Knob("jaw", "Clamp: 0 one conductor, 1 whole cord", 0, 1, 1, 0, ""),
            Knob("volts", "Leg to leg, with the heat on", 220, 250, 1, 236, "V"),
            Knob("sheet", "Coil by the tech sheet", 24, 30, 0.5, 27, "Ω"),
        ),
        _paint_fit,
        _say_fit,
    ).show()


def show_belt_run() -> None:
    """Show how the belt runs, and which side of it is where."""
    show_still(belt_run())
