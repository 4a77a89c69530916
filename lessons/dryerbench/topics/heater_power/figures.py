"""The drawings of lesson 03: one coil, three of them, the supply, hot wire, circuit wiring, off that is not dead."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from dryerbench.core.tables import table
from dryerbench.core.temperatures import fahrenheit
from dryerbench.drawing.figure_style import BLUE, GRAY, GREEN, RED, label_box, tidy
from dryerbench.drawing.interactive_figure import Explorer
from dryerbench.drawing.knobs import Knob, Values
from dryerbench.electricity import conductors, ohms_law, supply
from dryerbench.topics.heater_power.models import ALPHA_TEXTBOOK
from dryerbench.topics.heater_power.sheet import BREAKER_AMPS, WYE_VOLTS

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


def _note(axes: Axes, text: str, at: tuple[float, float]) -> None:
    axes.annotate(
        text,
        at,
        xytext=(12, -6),
        textcoords="offset points",
        va="top",
        bbox=label_box(pad=0.3),
    )


def _paint_one_element(figure: Figure, at: Values) -> None:
    left, right = figure.subplots(1, 2)
    volts = np.linspace(0.0, 260.0, 131)
    amps, watts = volts / at["ohms"], volts**2 / at["ohms"]
    left.plot(volts, amps, color=BLUE)
    left.plot([at["volts"]], [ohms_law.current(at["volts"], at["ohms"])], "o", color=RED, markersize=9)
    left.set(xlim=(0, 260), ylim=(0, 18), title="Amps: a straight line")
    tidy(left, "volts across the coil (V)", "current (A)")
    right.plot(volts, watts, color=BLUE)
    right.plot([at["volts"]], [ohms_law.power(at["volts"], at["ohms"])], "o", color=RED, markersize=9)
    right.set(xlim=(0, 260), ylim=(0, 4500), title="Watts: a curve")
    tidy(right, "volts across the coil (V)", "power (W)")


def _say_one_element(at: Values) -> str:
    amps, watts = ohms_law.current(at["volts"], at["ohms"]), ohms_law.power(at["volts"], at["ohms"])
    return (
        f"{at['volts']:.0f} V across {at['ohms']:.1f} Ω: {amps:.2f} A and {watts:.0f} W. "
        f"At half the volts: {amps / 2:.2f} A, half as many, and {watts / 4:.0f} W, a quarter."
    )


def show_one_element() -> None:
    """Show current (A) and power (W) of one coil against its volts."""
    Explorer(
        "One coil",
        (
            Knob("volts", "Volts across it", 0, 260, 1, 240, "V"),
            Knob("ohms", "Coil", 15, 40, 0.5, 27, "Ω"),
        ),
        _paint_one_element,
        _say_one_element,
    ).show()


def _open_ohms(at: Values) -> list[float]:
    working = int(at["working"])
    return [at["ohms"] if n < working else float("inf") for n in range(3)]


def _paint_three(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    ohms = _open_ohms(at)
    amps = [ohms_law.current(at["volts"], part) for part in ohms]
    names = [f"coil {n}\n" + (f"{part:.1f} Ω" if part < float("inf") else "open") for n, part in enumerate(ohms, 1)]
    bars = axes.bar(names, amps, color=BLUE, width=0.55)
    total = axes.bar(["the line"], [sum(amps)], color=RED, width=0.55, hatch="//", edgecolor="white")
    for group in (bars, total):
        axes.bar_label(group, fmt="%.1f A", padding=3)
    axes.axhline(BREAKER_AMPS, color=GRAY, linestyle="--")
    axes.annotate(f"{BREAKER_AMPS:.0f} A breaker", (-0.4, BREAKER_AMPS), xytext=(0, 4), textcoords="offset points")
    axes.set(ylim=(0, 42), title="Amps add up; every coil has the full volts")
    tidy(axes, "", "current (A)")


def _say_three(at: Values) -> str:
    ohms = ohms_law.parallel(_open_ohms(at))
    if ohms == float("inf"):
        return "All three are open: no current at all, and no heat."
    amps = ohms_law.current(at["volts"], ohms)
    return (
        f"{at['working']:.0f} of three coils of {at['ohms']:.1f} Ω at {at['volts']:.0f} V: the heater reads "
        f"{ohms:.2f} Ω, the line carries {amps:.1f} A, and the heater makes {at['volts'] * amps:.0f} W."
    )


def show_three_elements() -> None:
    """Show the current (A) of each of three coils and of the line, with some of them open."""
    Explorer(
        "Three coils side by side",
        (
            Knob("working", "Coils that work", 0, 3, 1, 3, ""),
            Knob("ohms", "Each coil", 22, 34, 0.5, 27, "Ω"),
            Knob("volts", "Leg to leg", 190, 250, 1, 240, "V"),
        ),
        _paint_three,
        _say_three,
    ).show()


def _paint_supply(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    volts = np.linspace(180.0, 250.0, 141)
    axes.plot(volts, 100 * (volts / 240.0) ** 2, color=BLUE, label="watts, (V/240)²")
    axes.plot(volts, 100 * volts / 240.0, color=GRAY, linestyle="--", label="amps, V/240")
    for mark, text in ((WYE_VOLTS, "208 V building"), (240.0, "240 V")):
        axes.axvline(mark, color=GRAY, linestyle=":", linewidth=1)
        axes.annotate(
            text, (mark, 51.5), rotation=90, xytext=(-5, 0), textcoords="offset points", ha="right", va="bottom"
        )
    axes.plot([at["volts"]], [100 * supply.power_share(at["volts"], 240.0)], "o", color=RED, markersize=9)
    axes.set(xlim=(180, 250), ylim=(50, 112), title="What is left at fewer volts")
    axes.legend(loc="upper left", frameon=False)
    tidy(axes, "leg to leg (V)", "share of the 240 V value (%)")


def _say_supply(at: Values) -> str:
    share = supply.power_share(at["volts"], 240.0)
    return (
        f"At {at['volts']:.0f} V a heater makes {100 * share:.1f} % of its 240 V watts: "
        f"6400 W become {6400 * share:.0f} W, and a load dries slower. The amps fall to {at['volts'] / 2.4:.1f} %."
    )


def show_supply() -> None:
    """Show the share (%) of power and current that is left at fewer volts."""
    Explorer(
        "Power against supply",
        (Knob("volts", "Leg to leg", 180, 250, 1, 208, "V"),),
        _paint_supply,
        _say_supply,
    ).show()


def _paint_hot(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    rows = table("nichrome-80-20")
    celsius, factors = rows.numbers("celsius"), rows.numbers("factor")
    axes.plot(celsius, factors, "o-", color=BLUE, label="80/20 wire, handbook table")
    line = np.array([20.0, 1200.0])
    axes.plot(
        line,
        1 + ALPHA_TEXTBOOK * (line - 20.0),
        "--",
        color=GRAY,
        label="textbook's constant coefficient (too simple)",
    )
    axes.plot([at["celsius"]], [conductors.hot_factor(at["celsius"])], "s", color=RED, markersize=10)
    axes.set(xlim=(0, 1200), ylim=(0.995, 1.085), title="Ohms hot over ohms cold")
    axes.legend(loc="upper right", frameon=False)
    tidy(axes, "wire temperature (°C)", "factor on the cold ohms")


def _say_hot(at: Values) -> str:
    factor = conductors.hot_factor(at["celsius"])
    return (
        f"At {at['celsius']:.0f} °C ({fahrenheit(at['celsius']):.0f} °F) the factor is {factor:.4f}: "
        f"27.0 Ω cold is {27 * factor:.2f} Ω hot. Heater wire hardly changes, so a cold reading means something."
    )


def show_hot_wire() -> None:
    """Show the resistance factor of 80/20 wire against its temperature (°C)."""
    Explorer(
        "Hot wire, cold wire",
        (Knob("celsius", "Wire temperature", 20, 1200, 10, 500, "°C"),),
        _paint_hot,
        _say_hot,
    ).show()


def _paint_run(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    feet = np.linspace(0.0, 150.0, 61)
    for awg, color, dash in ((14, GRAY, ":"), (12, RED, "--"), (10, BLUE, "-"), (8, GREEN, "-.")):
        drops = [conductors.run_drop(at["amps"], length, awg) for length in feet]
        axes.plot(feet, drops, dash, color=color)
        axes.annotate(f"{awg} AWG", (150, drops[-1]), xytext=(5, -3), textcoords="offset points", color=color)
    drop = conductors.run_drop(at["amps"], at["feet"], 10)
    axes.plot([at["feet"]], [drop], "o", color=BLUE, markersize=9)
    axes.set(xlim=(0, 166), ylim=(0, 28), title="Volts lost in the wire, out and back")
    tidy(axes, "length of the circuit, one way (ft)", "volts lost (V)")


def _say_run(at: Values) -> str:
    drop = conductors.run_drop(at["amps"], at["feet"], 10)
    return (
        f"{at['amps']:.1f} A through {at['feet']:.0f} ft of 10 AWG, out and back. That loses {drop:.1f} V. "
        f"{drop * at['amps']:.0f} W warm the wire instead of the clothes."
    )


def show_run() -> None:
    """Show the volts (V) lost in a copper run against its length (ft), by gauge."""
    Explorer(
        "Volts lost in the wire",
        (
            Knob("feet", "Length of the circuit", 0, 150, 5, 50, "ft"),
            Knob("amps", "Current", 5, 30, 0.5, 26.5, "A"),
        ),
        _paint_run,
        _say_run,
    ).show()


def _wire_up(axes: Axes, *, closed: bool, half: float) -> None:
    axes.plot([0.6, 2.6], [3, 3], color="black", linewidth=1.8)
    axes.plot([3.6, 5], [3, 3], color="black", linewidth=1.8)
    axes.plot([2.6, 3.55], [3, 3 if closed else 3.55], color="black", linewidth=2.6)
    axes.plot([2.6, 3.6], [3, 3], "o", color="black", markersize=6)
    axes.plot([7, 9.4], [3, 3], color="black", linewidth=1.8)
    zigzag = np.linspace(5, 7, 17)
    axes.plot(zigzag, 3 + 0.22 * np.array([0, *([1, -1] * 7), 1, 0]), color=RED, linewidth=1.8)
    axes.text(0.5, 3, f"leg 1\n{half:.0f} V", ha="right", va="center")
    axes.text(9.5, 3, f"leg 2\n{half:.0f} V", ha="left", va="center")
    axes.text(6, 3.5, "heater", ha="center")
    axes.text(3.1, 3.75, "control closed" if closed else "control open", ha="center")
    axes.plot([3.2, 8.2, 8.2, 3.2, 3.2], [2.1, 2.1, 1.4, 1.4, 2.1], color=GRAY, linewidth=1.2)
    axes.text(5.7, 1.75, "metal cabinet, grounded (0 V)", ha="center", va="center", fontsize=9)


def _paint_off(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    closed, half = at["control"] >= 1, at["volts"] / 2
    _wire_up(axes, closed=closed, half=half)
    left = half
    for x, volts in ((4.4, left), (7.6, half)):
        axes.annotate(
            f"{volts:.0f} V\nto the cabinet",
            (x, 2.1),
            xytext=(x, 2.72),
            ha="center",
            va="center",
            fontsize=9,
            bbox=label_box(RED),
            arrowprops={"arrowstyle": "<->", "color": RED},
        )
    across = at["volts"] if closed else 0.0
    axes.text(6, 4.15, f"across the heater: {across:.0f} V", ha="center", fontweight="bold")
    axes.set(xlim=(-0.4, 10.4), ylim=(1.2, 4.5))
    axes.set_axis_off()


def _say_off(at: Values) -> str:
    half = at["volts"] / 2
    if at["control"] >= 1:
        return (
            f"Control closed: {at['volts']:.0f} V across the heater, {half:.0f} V from each end to the cabinet. It "
            f"heats."
        )
    return (
        f"Control open: 0 V across the heater, no heat. Through leg 2, every point of it still has {half:.0f} V to the "
        "cabinet. Off is not dead. Unplug, or open and lock the breaker, and test it dead."
    )


def show_off_not_dead() -> None:
    """Show the volts (V) from the heater to the cabinet with the control closed and open."""
    Explorer(
        "Off is not dead",
        (
            Knob("control", "Control: 0 open, 1 closed", 0, 1, 1, 0, ""),
            Knob("volts", "Leg to leg", 200, 250, 1, 240, "V"),
        ),
        _paint_off,
        _say_off,
        height=3.4,
    ).show()
