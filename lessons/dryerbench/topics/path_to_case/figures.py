"""The drawings of lesson 05: a coil that touches the cabinet, the heat with the control off, how much may leak."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from dryerbench.drawing.figure_style import BLUE, GRAY, RED, label_box, tidy
from dryerbench.drawing.interactive_figure import Explorer
from dryerbench.drawing.knobs import Knob, Values
from dryerbench.drawing.still_figure import show_still
from dryerbench.electricity.leakage import INTERRUPTER_TRIPS, leakage_limit
from dryerbench.electricity.ohms_law import current, power
from dryerbench.machine_view.plates.heater_plates import heater_boxes

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_LEFT, _RIGHT, _COIL, _CASE = 2.0, 10.0, 3.0, 1.0
_NARROW = 1.4
_SUPPLY_VOLTS = 240.0


def _pieces(at: Values) -> tuple[float, float]:
    own = at["ohms"] * at["share"] / 100.0
    return own, at["ohms"] - own


def _coil(axes: Axes, touch: float) -> None:
    turns = np.linspace(_LEFT, _RIGHT, 321)
    near = turns <= touch
    swing = _COIL + 0.28 * np.sin((turns - _LEFT) * 2 * np.pi / 0.5)
    axes.plot(turns[near], swing[near], color=BLUE, linewidth=2.2)
    axes.plot(turns[~near], swing[~near], color=RED, linewidth=2.2, linestyle=(0, (4, 1)))
    for x, name in ((_LEFT, "own terminal\nT1"), (_RIGHT, "shared terminal\nT0")):
        outward = -1.0 if x == _LEFT else 1.0
        axes.plot([x, x + 0.5 * outward], [_COIL, _COIL], color="black", linewidth=1.8)
        axes.plot([x + 0.5 * outward], [_COIL], "o", color="black", markersize=8)
        axes.text(x + 0.5 * outward, _COIL + 0.35, name, ha="center", va="bottom", fontsize=10)


def _span(axes: Axes, ends: tuple[float, float], text: str, color: str) -> None:
    axes.annotate("", (ends[0], 1.75), (ends[1], 1.75), arrowprops={"arrowstyle": "<->", "color": color})
    narrow = ends[1] - ends[0] < _NARROW
    outside = ends[0] - 0.65 if ends[0] == _LEFT else ends[1] + 0.65
    axes.text(
        outside if narrow else sum(ends) / 2, 1.75, text, ha="center", va="center", fontsize=10, bbox=label_box(color)
    )


def _paint_touch(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    touching = at["touching"] >= 1
    x = _LEFT + (_RIGHT - _LEFT) * at["share"] / 100.0
    _coil(axes, x if touching else _RIGHT + 1)
    axes.fill_between([0.6, 11.4], _CASE - 0.3, _CASE, color="#cccccc", hatch="//", edgecolor=GRAY)
    axes.text(6, _CASE - 0.45, "cabinet, bright metal", ha="center", va="top", fontsize=10)
    if touching:
        own, shared = _pieces(at)
        axes.plot([x, x], [_CASE, _COIL - 0.28], color="black", linewidth=3)
        left = at["share"] > 50
        side = -0.15 if left else 0.15
        axes.text(x + side, 2.32, "touches here", ha="right" if left else "left", va="center", fontweight="bold")
        _span(axes, (_LEFT, x), f"{own:.1f} Ω", BLUE)
        _span(axes, (x, _RIGHT), f"{shared:.1f} Ω", RED)
    else:
        axes.text(6, 1.75, "no path: OL from both ends", ha="center", va="center", fontweight="bold")
    axes.set(xlim=(0.2, 11.8), ylim=(0.1, 4.4))
    axes.set_axis_off()


def _say_touch(at: Values) -> str:
    if at["touching"] < 1:
        ohms = f"{at['ohms']:.1f} Ω end to end"
        return f"The coil is off the metal: {ohms}, OL from either terminal to the cabinet."
    own, shared = _pieces(at)
    return (
        f"End to end it still reads {at['ohms']:.1f} Ω, as if nothing were wrong. To the cabinet it reads "
        f"{own:.1f} Ω from its own terminal and {shared:.1f} Ω from the shared one: together {own + shared:.1f} Ω. "
        f"It touches {at['share']:.0f} % along."
    )


def show_coil_to_case() -> None:
    """Show a coil and what its two ends read to the cabinet (Ω) when it touches somewhere along its length (%)."""
    Explorer(
        "A coil and the cabinet",
        (
            Knob("touching", "Touching: 0 no, 1 yes", 0, 1, 1, 1, ""),
            Knob("share", "Along the coil, from T1", 5, 95, 5, 30, "%"),
            Knob("ohms", "Coil", 24, 30, 0.5, 27, "Ω"),
        ),
        _paint_touch,
        _say_touch,
        height=3.4,
    ).show()


def _paint_control_open(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    shares = np.linspace(5.0, 85.0, 161)
    watts = [power(_SUPPLY_VOLTS / 2, at["ohms"] * (1 - share / 100)) for share in shares]
    whole = power(_SUPPLY_VOLTS, at["ohms"])
    here = power(_SUPPLY_VOLTS / 2, _pieces(at)[1])
    axes.plot(shares, watts, color=BLUE)
    axes.axhline(whole, color=GRAY, linestyle="--")
    axes.annotate("the whole coil at normal heat, 240 V", (6, whole), xytext=(0, 5), textcoords="offset points")
    axes.plot([at["share"]], [here], "o", color=RED, markersize=9)
    axes.annotate(
        f"{here:.0f} W, {current(_SUPPLY_VOLTS / 2, _pieces(at)[1]):.1f} A",
        (at["share"], here),
        xytext=(-10, 8) if at["share"] > 20 else (0, 10),
        textcoords="offset points",
        ha="right" if at["share"] > 20 else "left",
        va="bottom",
    )
    axes.set(xlim=(0, 88), ylim=(0, 4500), title="Control off, drum turning: 120 V to the cabinet")
    tidy(axes, "place where it touches, from its own terminal (%)", "heat of the piece at T0 (W)")


def _say_control_open(at: Values) -> str:
    own, far = _pieces(at)
    amps = current(_SUPPLY_VOLTS / 2, far)
    behind = current(_SUPPLY_VOLTS / 2, own + at["ohms"] / 2)
    return (
        f"It touches {at['share']:.0f} % along, so {far:.1f} Ω are left up to the shared terminal. Leg 2 is there: "
        f"120 V / {far:.1f} Ω = {amps:.1f} A, and {120 * amps:.0f} W of heat that no control turns off. "
        f"Through the other two coils {behind:.1f} A more reach the same spot: {amps + behind:.1f} A on a breaker "
        "of 30 A."
    )


def show_control_open() -> None:
    """Show the heat (W) of the piece between the touch and the shared terminal with the control off."""
    Explorer(
        "Hot with the control off",
        (
            Knob("share", "Touches, from T1", 5, 80, 5, 30, "%"),
            Knob("ohms", "Coil", 24, 30, 0.5, 27, "Ω"),
        ),
        _paint_control_open,
        _say_control_open,
    ).show()


def _paint_leak(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    kilowatts = np.linspace(0.0, 8.0, 161)
    axes.plot(kilowatts, [leakage_limit(kw) for kw in kilowatts], color=BLUE)
    axes.annotate("limit (IEC)", (3.4, leakage_limit(3.4)), xytext=(8, -16), textcoords="offset points", color=BLUE)
    axes.axhline(INTERRUPTER_TRIPS, color=GRAY, linestyle="--")
    axes.annotate("a GFCI must trip", (0.15, INTERRUPTER_TRIPS), xytext=(0, 4), textcoords="offset points")
    leaks = current(_SUPPLY_VOLTS / 2, at["kohm"])
    over = leaks > leakage_limit(at["kilowatts"])
    axes.plot([at["kilowatts"]], [leaks], "X" if over else "o", color=RED, markersize=11)
    right = at["kilowatts"] < 2.0
    axes.annotate(
        f"leaks {leaks:.2f} mA",
        (at["kilowatts"], leaks),
        xytext=(10 if right else -10, 10),
        textcoords="offset points",
        ha="left" if right else "right",
        bbox=label_box("none", pad=0.1),
    )
    axes.set(xlim=(0, 8), ylim=(0, 9), title="Leakage to the cabinet, and its limit")
    tidy(axes, "power of the heater (kW)", "current to the cabinet (mA)")


def _say_leak(at: Values) -> str:
    leaks, limit = current(_SUPPLY_VOLTS / 2, at["kohm"]), leakage_limit(at["kilowatts"])
    verdict = "more than the limit" if leaks > limit else "less than the limit, and still bad insulation"
    return (
        f"{at['kohm']:.0f} kΩ to the cabinet at 120 V leaks {leaks:.2f} mA. "
        f"A heater of {at['kilowatts']:.1f} kW may leak {limit:.2f} mA by the international rule: {verdict}."
    )


def show_leak_limit() -> None:
    """Show the leakage (mA) to the cabinet beside its limit for the heater's power (kW)."""
    Explorer(
        "How much may leak",
        (
            Knob("kohm", "Heater to cabinet", 15, 300, 5, 40, "kΩ"),
            Knob("kilowatts", "Heater", 0.5, 8, 0.1, 6.4, "kW"),
        ),
        _paint_leak,
        _say_leak,
    ).show()


def show_heater_boxes() -> None:
    """Show heater boxes with one, two and three coils and their terminals."""
    show_still(heater_boxes())
