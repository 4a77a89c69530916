"""The drawings of lesson 07: the whole diagram, the heater's line with its volts, halving against counting."""

from __future__ import annotations

from dataclasses import replace
from functools import cache, partial
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import Situation, settle
from dryerbench.bench.states import State, named_state
from dryerbench.drawing.diagram import wiring_diagram
from dryerbench.drawing.figure_style import BLUE, GRAY, RED, tidy
from dryerbench.drawing.interactive_figure import Explorer
from dryerbench.drawing.knobs import Knob, Values
from dryerbench.topics.tracing_the_circuit.heater_line import CONTACTS, heating, splits, volts

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

_LADDER = ("L1", "H1", "H2", "H3", "H4", "H5", "H6", "H7", "H8", "T0", "M1", "M2", "L2")
_MOST_PLACES = 32


def _diagram_state(at: Values) -> Situation:
    """Return a sound machine: plugged in at rest, heating, or running with the control open."""
    states = (State(), named_state("heating"), replace(named_state("heating"), calling=False))
    return settle(Machine(), (), states[round(at["state"])])[0]


@cache
def _diagram_picture(state: int, wide: int) -> NDArray[np.uint8]:
    """Return the diagram in one of its states, ``wide`` px wide (rows of red, green, blue, alpha; bottom row first)."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    drawn = wiring_diagram(_diagram_state({"state": state}))
    drawn.set_dpi(wide / drawn.get_figwidth())
    canvas = FigureCanvasAgg(drawn)
    canvas.draw()  # type: ignore[no-untyped-call]
    return np.flipud(np.asarray(canvas.buffer_rgba()))  # type: ignore[no-untyped-call]


def _paint_diagram(figure: Figure, at: Values) -> None:
    from dryerbench.drawing.redrawing import Pasted

    figure.set_layout_engine("none")
    figure.add_artist(Pasted(partial(_diagram_picture, round(at["state"]))))


def _say_diagram(at: Values) -> str:
    now = _diagram_state(at)
    amps = abs(now.live.amps("wire L2"))
    says = {
        0: "Plugged in, at rest. The control and the centrifugal switch are open; no current in the heater circuit",
        1: "Motor running, heat on. Leg 1 goes through the four contacts to the three coils. From T0 the line "
        "goes through the centrifugal switch to leg 2",
        2: "Motor running, control open. The line is cut at H1 to H2, and all of it past there is tied to leg 2, hot",
    }[round(at["state"])]
    return f"{says}: {amps:.1f} A."


def show_diagram() -> None:
    """Show the dryer's wiring diagram with its test points, at rest, heating, and with the control open."""
    Explorer(
        "The diagram",
        (Knob("state", "0 at rest, 1 heating, 2 control open", 0, 2, 1, 1, ""),),
        _paint_diagram,
        _say_diagram,
        height=3.78,
        least=820,
    ).show()


def _opened(at: Values) -> str:
    """Return the fault that the knob has chosen; an empty name for none."""
    number = round(at["open"])
    return list(CONTACTS)[number - 1] if number else ""


def _paint_contact(axes: Axes, x: float, *, closed: bool) -> None:
    axes.plot([x, x + (1.0 if closed else 0.85)], [0, 0 if closed else 0.55], color="black", linewidth=2.8)


def _paint_ladder(axes: Axes, now: Situation, fault: str) -> None:
    ends = {a: key for key, (_, a, _) in CONTACTS.items()}
    for place, (point, after) in enumerate(pairwise(_LADDER)):
        if point in ends:
            _paint_contact(axes, place, closed=ends[point] != fault)
            axes.text(place + 0.5, 1.0, CONTACTS[ends[point]][0].replace(" ", "\n", 1), ha="center", fontsize=9)
        elif after == "T0":
            zigzag = [place + 0.2 + 0.6 * n / 12 for n in range(13)]
            axes.plot(zigzag, [0, *([0.3, -0.3] * 5), 0.3, 0], color=RED, linewidth=1.8)
            axes.plot([place, place + 0.2], [0, 0], [place + 0.8, place + 1], [0, 0], color="black", linewidth=1.4)
            axes.text(place + 0.5, 2.15, "three coils", ha="center", fontsize=9)
        else:
            axes.plot([place, place + 1], [0, 0], color="black", linewidth=1.4)
    for place, point in enumerate(_LADDER):
        shown = volts(now, "L2", point)
        axes.plot([place], [0], "o", color="black" if shown > 1 else "white", markeredgecolor="black", zorder=4)
        axes.text(place, -0.75, point, ha="center", fontweight="bold", fontsize=9.5)
        low = -1.45 if place % 2 == 0 else -2.05
        axes.text(place, low, f"{shown:.0f} V", ha="center", fontsize=9.5, color=RED if shown > 1 else GRAY)
    axes.text(6, -2.85, "volts from each point to L2, heat on", ha="center", fontsize=9.5)
    axes.set(xlim=(-0.7, 12.7), ylim=(-3.1, 2.9))
    axes.set_axis_off()


def _paint_line(figure: Figure, at: Values) -> None:
    ladder, bars = figure.subplots(2, 1, height_ratios=[1.15, 1.0])
    fault = _opened(at)
    now = heating(Machine(leg_volts=at["volts"] / 2), fault)
    _paint_ladder(ladder, now, fault)
    heights = [volts(now, a, b) for _, a, b in CONTACTS.values()]
    names = [f"{name.replace(' ', chr(10))}\n{a} to {b}" for name, a, b in CONTACTS.values()]
    drawn = bars.bar(names, heights, color=[RED if key == fault else BLUE for key in CONTACTS], width=0.5)
    bars.bar_label(drawn, fmt="%.1f V", padding=3)
    bars.set(ylim=(0, 300))
    bars.tick_params(axis="x", labelsize=9)
    tidy(bars, y="volts across it (V)", grid=None)


def _say_line(at: Values) -> str:
    fault = _opened(at)
    if not fault:
        return (
            f"{at['volts']:.0f} V leg to leg, all contacts closed. Each has a fraction of a volt across it. The "
            "coils have the rest. It heats."
        )
    name, a, b = CONTACTS[fault]
    now = heating(Machine(leg_volts=at["volts"] / 2), fault)
    return (
        f"The {name} is open: {volts(now, a, b):.0f} V across it, {a} to {b}, the whole supply. Every other "
        "contact has 0 V across it, though it is closed and good. No heat."
    )


def show_heater_line() -> None:
    """Show the heater's line with one contact open: volts (V) at each point to L2, and across each contact."""
    Explorer(
        "The heater circuit",
        (
            Knob("open", "Open contact: 0 none, 1 to 5", 0, len(CONTACTS), 1, 3, ""),
            Knob("volts", "Leg to leg", 200, 250, 1, 240, "V"),
        ),
        _paint_line,
        _say_line,
        height=5.6,
    ).show()


def _paint_halving(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    places = range(1, _MOST_PLACES + 1)
    axes.plot(places, [count - 1 for count in places], "--", color=GRAY, label="one after another, at worst")
    axes.step(places, [splits(count) for count in places], where="post", color=BLUE, label="split in half, at worst")
    chosen = round(at["places"])
    axes.plot([chosen], [chosen - 1], "s", color=GRAY, markersize=9)
    axes.plot([chosen], [splits(chosen)], "o", color=RED, markersize=9)
    axes.set(xlim=(1, _MOST_PLACES), ylim=(0, 32))
    axes.legend(loc="upper left", frameon=False)
    tidy(axes, "places that can be open (number)", "readings needed (number)")


def _say_halving(at: Values) -> str:
    chosen = round(at["places"])
    left, chain = chosen, [str(chosen)]
    while left > 1:
        left = (left + 1) // 2
        chain.append(str(left))
    return (
        f"{chosen} places: at worst {chosen - 1} readings one after another, {splits(chosen)} if you split in half. "
        f"What is left, with the worst luck: {', then '.join(chain)}."
    )


def show_halving() -> None:
    """Show how many readings (number) find one open place, one after another and by halves."""
    Explorer(
        "Half, and half again",
        (Knob("places", "Places that can be open", 2, _MOST_PLACES, 1, 8, ""),),
        _paint_halving,
        _say_halving,
    ).show()
