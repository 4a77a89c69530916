"""The drawings of lesson 01: what current does to a body, and what the ground wire on the cabinet is for."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from dryerbench.core.tables import table
from dryerbench.drawing.figure_style import BLUE, RED, label_box, tidy
from dryerbench.drawing.interactive_figure import Explorer
from dryerbench.drawing.knobs import Knob, Values
from dryerbench.drawing.still_figure import show_still
from dryerbench.electricity.shock import body_milliamps, case_volts, shock_effect
from dryerbench.machine_view.plates.wall_plates import lockout

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_LEG = 120.0
_SHORT = {
    1: "felt",
    5: "the most that is harmless",
    10: "cannot let go",
    50: "pain, muscles locked",
    100: "the heart can stop",
    300: "the heart can stop, and burns",
}
_TOP = 2000.0


def _bands(axes: Axes, x: float) -> None:
    """Shade the table's thresholds (mA) and write beside each what happens from there on."""
    starts = [int(number) for number in table("shock-effects").numbers("milliamps")]
    for place, (low, high) in enumerate(zip(starts, [*starts[1:], _TOP], strict=True)):
        axes.axhspan(low, high, color=str(0.97 - 0.055 * place), zorder=0)
        axes.annotate(
            f"{low} mA: {_SHORT[low]}",
            (x, low),
            xytext=(0, 3),
            textcoords="offset points",
            fontsize=9,
            ha="right",
            bbox={"boxstyle": "round,pad=0.15", "fc": "white", "ec": "none", "alpha": 0.75},
            zorder=4,
        )


def _frame(axes: Axes) -> None:
    axes.set(yscale="log", ylim=(0.1, _TOP))
    axes.set_yticks([0.1, 1, 10, 100, 1000], ["0.1", "1", "10", "100", "1000"])
    tidy(axes, y="current through the person (mA)", grid=None)


def _paint_body(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    ohms = np.geomspace(300.0, 300_000.0, 200)
    _bands(axes, 290_000)
    axes.plot(ohms, 1000.0 * at["volts"] / ohms, color=BLUE)
    axes.plot([at["ohms"]], [body_milliamps(at["volts"], at["ohms"])], "o", color=RED, markersize=10)
    _frame(axes)
    axes.set(xscale="log", xlim=(300, 300_000), title=f"{at['volts']:.0f} V through a person")
    axes.set_xticks(
        [300, 1000, 3000, 10_000, 100_000, 300_000], ["300", "1000", "3000", "10,000", "100,000", "300,000"]
    )
    axes.set_xlabel("the person, from hand to ground (Ω): wet on the left, dry on the right")


def _say_body(at: Values) -> str:
    amount = body_milliamps(at["volts"], at["ohms"])
    return f"{at['volts']:.0f} V through {at['ohms']:.0f} Ω: {amount:.3g} mA. What it does: {shock_effect(amount)}."


def show_body_current() -> None:
    """Show the current (mA) through a person against their ohms, with what it does."""
    Explorer(
        "What current does to a body",
        (
            Knob("ohms", "The person", 500, 20_000, 500, 1500, "Ω"),
            Knob("volts", "Volts touched", 10, 250, 5, 120, "V"),
        ),
        _paint_body,
        _say_body,
        height=4.2,
    ).show()


def _paint_bond(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    with_bond = case_volts(at["amps"], at["bond"])
    _bands(axes, 3.36)
    for x, volts, color, mark in ((0, _LEG, RED, "s"), (1, with_bond, BLUE, "o")):
        amount = body_milliamps(volts, at["ohms"])
        axes.plot([x], [amount], mark, color=color, markersize=13, markeredgecolor="white")
        axes.annotate(
            f"{volts:.3g} V on the cabinet\n{amount:.3g} mA",
            (x, amount),
            xytext=(0, 14),
            textcoords="offset points",
            ha="center",
            fontweight="bold",
            bbox=label_box(),
        )
    _frame(axes)
    axes.set(xlim=(-0.8, 3.4), title="A live wire touches the cabinet, and a person touches it too")
    axes.set_xticks([0, 1], ["ground wire off", "ground wire on"])


def _say_bond(at: Values) -> str:
    without, volts = body_milliamps(_LEG, at["ohms"]), case_volts(at["amps"], at["bond"])
    bonded = body_milliamps(volts, at["ohms"])
    return (
        f"Without the ground wire the cabinet is at {_LEG:.0f} V: {without:.3g} mA ({shock_effect(without)}). "
        f"With it, {at['amps']:.0f} A through {at['bond']:.2f} Ω puts {volts:.3g} V on the cabinet: {bonded:.3g} mA "
        f"({shock_effect(bonded)}), until the breaker opens."
    )


def show_bond() -> None:
    """Show the current (mA) through a person at a faulty cabinet, with and without its ground wire."""
    Explorer(
        "The ground wire on the cabinet",
        (
            Knob("ohms", "The person", 500, 20_000, 500, 3000, "Ω"),
            Knob("amps", "Amps of the fault", 20, 120, 5, 75, "A"),
            Knob("bond", "The ground wire", 0.1, 0.5, 0.1, 0.2, "Ω"),
        ),
        _paint_bond,
        _say_bond,
        height=4.2,
    ).show()


def show_lockout() -> None:
    """Show the breaker with lock and tag, and the plug in its locked cap."""
    show_still(lockout())
