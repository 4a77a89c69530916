"""Pictures of heat, air and drying, plain to read in color, in gray and by color-blind eyes.

Each line has its own dash. All are matplotlib Figure objects.
"""

from __future__ import annotations

import math
from textwrap import fill
from typing import TYPE_CHECKING

import numpy as np
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from dryerbench.air.airflow import DryerPassage, operating_point, usual_blower
from dryerbench.air.ducts import CFM, INCH_OF_WATER, Duct
from dryerbench.core.temperatures import Floats, celsius, fahrenheit
from dryerbench.drawing.figure_style import BLACK, BLUE, DARK, GRAY, GREEN, ORANGE, RED, SKY, tidy

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from matplotlib.axes import Axes
    from matplotlib.typing import LineStyleType
    from numpy.typing import ArrayLike

    from dryerbench.air.cycle_record import CycleRecord, Place
    from dryerbench.air.thermostats import HeatSwitch
    from dryerbench.air.warm_test import WarmTest

SAMPLES_PER_MINUTE = 20
_TITLE_LETTERS, _LINE_LETTERS = 48, 66
"""How many letters of a title and of small print stand on a line."""
LABEL_ROOM = 45.0
"""Flow from which a flow's name has room on its left [cfm]."""
_TRACES: tuple[tuple[Place, str, str, LineStyleType], ...] = (
    ("limit", "at the limit", RED, "-"),
    ("exhaust", "exhaust", BLUE, (0, (5, 1.5))),
    ("clothes", "clothes", GREEN, (0, (1.2, 1.2))),
)


def _of_arrays(function: Callable[[Floats], Floats]) -> Callable[[ArrayLike], ArrayLike]:
    return lambda values: function(np.asarray(values, dtype=float))


def _second_axis(
    axes: Axes, side: str, there: Callable[[Floats], Floats], back: Callable[[Floats], Floats], unit: str
) -> None:
    """Put a second scale on the right or on top; axes that are drawn again have it."""
    if axes.child_axes:
        return
    if side == "right":
        axes.secondary_yaxis("right", functions=(_of_arrays(there), _of_arrays(back))).set_ylabel(unit)
    else:
        axes.secondary_xaxis("top", functions=(_of_arrays(there), _of_arrays(back))).set_xlabel(unit)


def _to_celsius(warm: Floats) -> Floats:
    return celsius(warm)


def _to_fahrenheit(warm: Floats) -> Floats:
    return fahrenheit(warm)


def _celsius_axis(axes: Axes, side: str) -> None:
    _second_axis(axes, side, _to_celsius, _to_fahrenheit, "(°C)")


def _new(size: tuple[float, float]) -> Figure:
    return Figure(figsize=size, layout="constrained")


def _title(figure: Figure, title: str, below: int = 0) -> None:
    """Write the title, with room for ``below`` lines of small print."""
    figure.suptitle(fill(title, _TITLE_LETTERS) + "\n" * below, x=0.01, ha="left", fontsize=12, fontweight="bold")


def _key_above(axes: Axes, columns: int) -> None:
    axes.legend(
        loc="lower left",
        bbox_to_anchor=(-0.005, 1.0),
        ncols=columns,
        frameon=False,
        fontsize=9,
        handlelength=2.8,
        columnspacing=1.4,
    )


_BEHIND = {"boxstyle": "square,pad=0.1", "fc": "white", "ec": "none"}
"""What keeps a level's words readable where a curve crosses them."""


def _name_level(axes: Axes, words: str, at: float, height: float) -> None:
    axes.axhline(height, color=GRAY, linewidth=0.9, linestyle=(0, (8, 3)))
    axes.annotate(words, (at, height), xytext=(0, 6), textcoords="offset points", fontsize=9, color=DARK, bbox=_BEHIND)


_SUMMARY_LINES = 2
"""How many lines are kept free for a cycle's summary: a longer one must not move what stands below."""


def paint_cycle(figure: Figure, record: CycleRecord, title: str) -> None:
    """Paint ``cycle_figure`` into an empty figure."""
    says = fill(summary(record), _LINE_LETTERS)
    _title(figure, title, below=max(says.count("\n") + 1, _SUMMARY_LINES))
    minutes = np.linspace(0.0, record.minutes, int(record.minutes * SAMPLES_PER_MINUTE) + 1)
    figure.text(0.012, 1.0 - 21.0 / (72.0 * figure.get_figheight()), says, fontsize=9.5, va="top")
    heat, current, water = figure.subplots(3, 1, sharex=True, height_ratios=(3.0, 1.0, 1.4))
    _temperatures(heat, record, minutes)
    _current(current, record)
    _water(water, record, minutes)
    water.set_xlabel("time (min)")
    water.set_xlim(0.0, record.minutes)


def cycle_figure(record: CycleRecord, title: str) -> Figure:
    """Return three panels over time [min]: temperatures [°F, °C], heater current [A], water in the load [%].

    Level lines are where the fitted thermostat and high limit open; the summary stands under the title.
    """
    figure = _new((9.0, 7.4))
    paint_cycle(figure, record, title)
    return figure


def summary(record: CycleRecord) -> str:
    """Return one line about a cycle: minutes, energy, and which switch opened how often."""
    dry, energy = record.minutes_to_dry, record.kwh_to_dry
    first = "not dry yet" if dry is None or energy is None else f"dry after {dry:.0f} min and {energy:.1f} kWh"
    opened = [
        f"{_SWITCHES[name]} opened {count} time{'s' * (count != 1)}"
        for name in _SWITCHES
        if (count := record.openings(name))
    ]
    return f"{record.minutes:.0f} min: " + "; ".join([first, *(opened or ["no switch opened"])])


_SWITCHES = {
    "thermostat": "thermostat",
    "control": "control",
    "high_limit": "high limit",
    "cutoff": "thermal cut-off",
}
_LEVELS: dict[str, LineStyleType] = {"thermostat": (0, (1, 3)), "high_limit": (0, (8, 3))}


def _temperatures(axes: Axes, record: CycleRecord, minutes: Floats) -> None:
    tidy(axes)
    for place, name, color, dash in _TRACES:
        values = fahrenheit(record.celsius(place, minutes))
        axes.plot(minutes, values, color=color, linestyle=dash, linewidth=1.8, label=name)
    for name in ("thermostat", "high_limit"):
        if name in record.fitted:
            mark = fahrenheit(record.fitted[name].opens)
            told = f"{_SWITCHES[name]} opens ({mark:.0f} °F)"
            axes.axhline(mark, color=BLACK, linewidth=1.0, linestyle=_LEVELS[name], label=told)
    axes.set_ylabel("temperature (°F)")
    axes.set_ylim(50.0, max(285.0, axes.get_ylim()[1]))
    _celsius_axis(axes, "right")
    _key_above(axes, 2)


def _current(axes: Axes, record: CycleRecord) -> None:
    tidy(axes)
    edges = [stretch.start / 60.0 for stretch in record.stretches] + [record.minutes]
    amps = [stretch.amps for stretch in record.stretches]
    axes.stairs(amps, edges, color=GRAY, fill=True)
    axes.set_ylabel("heater\ncurrent (A)")
    axes.set_ylim(0.0, max(30.0, 1.1 * max(amps)))


def _water(axes: Axes, record: CycleRecord, minutes: Floats) -> None:
    tidy(axes)
    percent = 100.0 * record.moisture(minutes)
    axes.plot(minutes, percent, color=BLUE, linewidth=1.8)
    if record.minutes_to_dry is not None:
        dry_at = 100.0 * record.running.load.dry_at
        axes.plot(record.minutes_to_dry, dry_at, "o", color=BLACK, markersize=6)
        axes.annotate(
            f"dry ({dry_at:.0f} %) at {record.minutes_to_dry:.0f} min",
            (record.minutes_to_dry, dry_at),
            xytext=(8, 12),
            textcoords="offset points",
            fontsize=9,
        )
    axes.set_ylabel("water in load\n(% of dry weight)")
    axes.set_ylim(0.0, 10.0 * math.ceil(1.05 * max(percent) / 10.0))  # a scale that stays from move to move


_DASHES: tuple[LineStyleType, ...] = (
    "-",
    (0, (5, 1.5)),
    (0, (1.2, 1.2)),
    (0, (6, 1.5, 1.2, 1.5)),
    (0, (9, 3)),
    (0, (3, 3)),
)
_COLORS = (BLACK, RED, BLUE, GREEN, ORANGE, SKY)


def paint_drying(figure: Figure, records: Mapping[str, CycleRecord], title: str) -> None:
    """Paint ``drying_figure`` into an empty figure."""
    _title(figure, title)
    axes = figure.subplots()
    tidy(axes)
    for (name, record), color, dash in zip(records.items(), _COLORS, _DASHES, strict=False):
        minutes = np.linspace(0.0, record.minutes, int(record.minutes * SAMPLES_PER_MINUTE) + 1)
        dry = record.minutes_to_dry
        told = f"{name}: " + ("not dry" if dry is None else f"{dry:.0f} min")
        axes.plot(minutes, 100.0 * record.moisture(minutes), color=color, linestyle=dash, linewidth=2.0, label=told)
    axes.set_xlabel("time (min)")
    axes.set_ylabel("water in load (% of dry weight)")
    axes.set_xlim(left=0.0)
    axes.set_ylim(bottom=0.0)
    axes.legend(frameon=False, handlelength=4.0)


def drying_figure(records: Mapping[str, CycleRecord], title: str) -> Figure:
    """Return the water in the load [% of dry weight] over time [min] of several cycles, by their names."""
    figure = _new((9.0, 4.6))
    paint_drying(figure, records, title)
    return figure


def paint_airflow(figure: Figure, ducts: Mapping[str, Duct], title: str, passage: DryerPassage | None = None) -> None:
    """Paint ``airflow_figure`` into an empty figure."""
    _title(figure, title)
    axes = figure.subplots()
    tidy(axes)
    blower, way = usual_blower(), passage or DryerPassage()
    flows = np.linspace(0.0, blower.free_flow, 121)
    curve = np.array([blower.pressure(float(flow)) for flow in flows]) / INCH_OF_WATER
    axes.plot(flows / CFM, curve, color=BLACK, linewidth=2.2, label="what the blower makes")
    for (name, duct), color, dash in zip(ducts.items(), _COLORS[1:], _DASHES[1:], strict=False):
        point = operating_point(duct, way)
        if not duct.shut:
            lost = np.array([duct.pressure(float(flow)) + way.pressure(float(flow)) for flow in flows])
            axes.plot(
                flows / CFM,
                lost / INCH_OF_WATER,
                color=color,
                linestyle=dash,
                linewidth=2.0,
                label=f"lost: {name}",
            )
        height = point.blower_pressure / INCH_OF_WATER
        axes.plot(point.cfm, height, "o", color=color, markersize=8, markeredgecolor=BLACK)
        axes.annotate(
            f"{point.cfm:.0f} cfm",
            (point.cfm, height),
            xytext=(-10, -9),
            textcoords="offset points",
            ha="right" if point.cfm > LABEL_ROOM else "left",
            fontsize=10,
            bbox={"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 0.6},
        )
    axes.set_xlabel("flow (cfm)")
    axes.set_ylabel("pressure (inches of water)")
    axes.set_xlim(0.0, blower.free_flow / CFM)
    axes.set_ylim(0.0, 1.2 * blower.shut_pressure / INCH_OF_WATER)
    _second_axis(axes, "top", lambda cfm: cfm * CFM, lambda flow: flow / CFM, "(m³/s)")
    _second_axis(axes, "right", lambda inch: inch * INCH_OF_WATER, lambda pa: pa / INCH_OF_WATER, "(Pa)")
    figure.legend(loc="outside lower center", ncols=2, frameon=False, handlelength=4.0)


def airflow_figure(ducts: Mapping[str, Duct], title: str, passage: DryerPassage | None = None) -> Figure:
    """Return the blower's curve against what each duct and the dryer lose: flow [cfm], pressure [inH2O].

    A dot marks where the two meet: the flow that the machine really moves.
    """
    figure = _new((9.0, 5.2))
    paint_airflow(figure, ducts, title, passage)
    return figure


def paint_switch(figure: Figure, part: HeatSwitch, title: str) -> None:
    """Paint ``switch_figure`` into an empty figure."""
    _title(figure, title)
    axes = figure.subplots()
    tidy(axes)
    opens, width = fahrenheit(part.opens), 1.8 * part.tolerance
    closes = None if part.closes is None else fahrenheit(part.closes)
    low, high = (60.0 if closes is None else min(60.0, closes - 30.0)), opens + 40.0
    axes.plot([low, opens, opens, high], [1, 1, 0, 0], color=RED, linewidth=2.2, label="warming")
    axes.axvspan(opens - width, opens + width, color="#E3E3E3", label="tolerance")
    if closes is not None:
        down = [0.05, 0.05, 1.05, 1.05]
        axes.plot(
            [high, closes, closes, low],
            down,
            color=BLUE,
            linewidth=2.2,
            linestyle=_DASHES[1],
            label="cooling",
        )
        axes.axvspan(closes - width, closes + width, color="#E3E3E3")
    else:
        axes.plot(
            [high, low],
            [0.05, 0.05],
            color=BLUE,
            linewidth=2.2,
            linestyle=_DASHES[1],
            label="cooling: stays open",
        )
    axes.set_yticks([0, 1], ["open", "closed"])
    axes.set_ylim(-0.2, 1.25)
    axes.set_xlim(low, high)
    axes.set_xlabel("temperature of the part (°F)")
    _celsius_axis(axes, "top")
    figure.legend(loc="outside lower center", ncols=3, frameon=False, handlelength=4.0)


def switch_figure(part: HeatSwitch, title: str) -> Figure:
    """Return a heat switch's operating curve: closed or open over its temperature [°F, °C], up and down."""
    figure = _new((9.0, 3.4))
    paint_switch(figure, part, title)
    return figure


def paint_cup(figure: Figure, test: WarmTest, title: str, minutes: float = 20.0) -> None:
    """Paint ``cup_figure`` into an empty figure."""
    _title(figure, title)
    heat, contact = figure.subplots(2, 1, sharex=True, height_ratios=(3.0, 1.0))
    seconds = np.linspace(0.0, 60.0 * minutes, 1201)
    for axes in (heat, contact):
        tidy(axes)
    heat.plot(
        seconds / 60,
        fahrenheit(test.cup.water_celsius(seconds)),
        color=BLUE,
        linestyle=_DASHES[1],
        label="water",
    )
    heat.plot(seconds / 60, fahrenheit(test.cup.part_celsius(seconds)), color=RED, label="part")
    for mark, word in ((test.part.opens, "opens"), (test.part.closes, "closes again")):
        if mark is not None:
            _name_level(heat, f"{word}, {fahrenheit(mark):.0f} °F", 0.08 * minutes, fahrenheit(mark))
    heat.set_ylabel("temperature (°F)")
    top = 25.0 * math.ceil(1.05 * fahrenheit(test.part.opens) / 25.0)  # in steps: a scale that stays for most moves
    heat.set_ylim(60.0, max(225.0, top))
    _celsius_axis(heat, "right")
    _key_above(heat, 2)
    contact.step(seconds / 60, np.where(test.closed(seconds), 1.0, 0.0), color=BLACK, linewidth=2.0)
    contact.set_yticks([0, 1], ["OL (open)", f"{test.part.ohms_closed:g} Ω (closed)"])
    contact.set_ylim(-0.3, 1.3)
    contact.set_ylabel("meter")
    contact.set_xlabel("time in the cup (min)")
    contact.set_xlim(0.0, minutes)
    contact.xaxis.set_major_locator(MaxNLocator(integer=True))


def cup_figure(test: WarmTest, title: str, minutes: float = 20.0) -> Figure:
    """Return a heat switch in a cup of hot water over time [min]: degrees, and the contact."""
    figure = _new((9.0, 5.4))
    paint_cup(figure, test, title, minutes)
    return figure
