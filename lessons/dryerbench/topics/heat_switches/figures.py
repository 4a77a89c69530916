"""The drawing of lesson 06: three heat switches on one scale of temperature, closed, open, or as they were."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dryerbench.air.thermostats import HeatSwitch, usual_switch
from dryerbench.core.temperatures import celsius, fahrenheit
from dryerbench.drawing.figure_style import BLACK, BLUE, GRAY, PALE_BLUE, label_box, tidy
from dryerbench.drawing.interactive_figure import Explorer
from dryerbench.drawing.knobs import Knob, Values
from dryerbench.drawing.still_figure import show_still
from dryerbench.machine_view.plates.heater_plates import spades

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

ROWS = (
    ("cycling_thermostat", "cycling thermostat"),
    ("high_limit", "high limit"),
    ("thermal_cutoff", "thermal cut-off"),
)
COLDEST, HOTTEST, PEAK = 40.0, 400.0, 300.0
"""Ends of the scale, and where a part that cools down comes from [°F]: past the limit, short of the cut-off."""


def _shows(part: HeatSwitch, at: Values) -> str:
    """Return what a meter shows on a part that got to the knob's temperature from cold, or back from the peak."""
    was_closed = part.closed_after(celsius(PEAK)) if at["way"] >= 2 and at["degrees"] < PEAK else True
    return "closed: near 0 Ω" if part.closed_after(celsius(at["degrees"]), was_closed) else "open: OL"


def _paint_row(axes: Axes, height: float, part: HeatSwitch) -> None:
    opens = fahrenheit(part.opens)
    closes = opens if part.closes is None else fahrenheit(part.closes)
    axes.barh(height, closes - COLDEST, left=COLDEST, height=0.34, color=BLUE)
    axes.barh(height, opens - closes, left=closes, height=0.34, color=PALE_BLUE, hatch="///", edgecolor=BLUE)
    axes.barh(height, HOTTEST - opens, left=opens, height=0.34, color="white", edgecolor=GRAY)
    again = "never closes again" if part.closes is None else f"closes at {closes:.0f} °F"
    axes.annotate(
        f"opens at {opens:.0f} °F, {again}",
        (COLDEST, height + 0.2),
        xytext=(0, 3),
        textcoords="offset points",
        bbox=label_box("none", pad=0.1),
        zorder=5,
    )


def _paint(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    for place, (name, words) in enumerate(ROWS):
        height, part = 1.3 * (2.0 - place), usual_switch(name)
        _paint_row(axes, height, part)
        axes.text(COLDEST, height + 0.56, f"{words}: {_shows(part, at)}", va="bottom", fontweight="bold",
                  bbox=label_box("none", pad=0.1), zorder=5)  # fmt: skip
    axes.axvline(at["degrees"], color=BLACK, linewidth=2.0, linestyle="--")
    axes.set(xlim=(COLDEST, HOTTEST), ylim=(-0.3, 3.6), yticks=[])
    axes.set_title("Filled: closed. Hatched: as it was. White: open.", loc="left")
    tidy(axes, "temperature of the part (°F)", "meter on each switch", grid=None)
    axes.spines["left"].set_visible(False)


def _say(at: Values) -> str:
    way = "cooling down from 300 °F" if at["way"] >= 2 and at["degrees"] < PEAK else "warming up from cold"
    read = ", ".join(f"the {words} reads {_shows(usual_switch(name), at)}" for name, words in ROWS)
    return f"At {at['degrees']:.0f} °F, {way}: {read}. Once the cut-off has opened it stays open for good."


def show_heat_switches() -> None:
    """Show what a meter reads on thermostat, limit and cut-off at a temperature (°F), warming or cooling."""
    Explorer(
        "Three switches on one scale",
        (
            Knob("degrees", "Temperature of the part", COLDEST, HOTTEST, 2, 76, "°F"),
            Knob("way", "1 warming up, 2 cooling down", 1, 2, 1, 1, ""),
        ),
        _paint,
        _say,
        height=4.2,
    ).show()


def show_spades() -> None:
    """Show a good spade and a burnt one."""
    show_still(spades())
