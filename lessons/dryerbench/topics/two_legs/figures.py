"""The drawings of lesson 02: two legs that swing, two loads and their neutral, what a receptacle reads."""

from __future__ import annotations

import math
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.bench.worksite import situation_on
from dryerbench.circuits.solver import MAINS_HERTZ
from dryerbench.drawing.figure_style import BLUE, GRAY, GREEN, RED, tidy
from dryerbench.drawing.interactive_figure import Explorer
from dryerbench.drawing.knobs import Knob, Values
from dryerbench.drawing.still_figure import show_still
from dryerbench.electricity.ohms_law import current
from dryerbench.electricity.supply import leg_to_leg
from dryerbench.machine_view.plates.block_plates import cord_entry, strap
from dryerbench.machine_view.plates.wall_plates import receptacle_faces
from dryerbench.topics.two_legs.models import TASKS
from dryerbench.topics.two_legs.sheet import PAIRS, SOUND, TROUBLES

if TYPE_CHECKING:
    from matplotlib.figure import Figure

_LEG = 120.0
_FROM = 100.0
"""Peak from which on there is room to name it [V]."""


def _paint_legs(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    seconds = np.linspace(0.0, 2.0 / MAINS_HERTZ, 401)
    turn = math.tau * MAINS_HERTZ * seconds
    one, two = (math.sqrt(2.0) * at["volts"] * np.sin(turn - math.radians(lag)) for lag in (0.0, at["apart"]))
    axes.plot(1000 * seconds, one, color=BLUE, label="leg 1 to neutral")
    axes.plot(1000 * seconds, two, "--", color=RED, label="leg 2 to neutral")
    axes.plot(1000 * seconds, one - two, "-.", color="black", linewidth=2.2, label="leg 1 to leg 2")
    axes.axhline(0.0, color=GRAY, linewidth=0.8)
    peak = math.sqrt(2.0) * leg_to_leg(at["volts"], at["apart"])
    if peak > _FROM:
        axes.axhline(peak, color=GRAY, linewidth=0.9, linestyle=":")
        words = f"peak about {round(peak, -1):.0f} V; a meter shows {peak / math.sqrt(2.0):.0f} V"
        axes.annotate(words, (33.0, peak), xytext=(0, 3), textcoords="offset points", ha="right", va="bottom")
    axes.set(xlim=(0, 1000 * seconds[-1]), ylim=(-400, 440), title=f"Two legs, {at['apart']:.0f}° apart")
    axes.legend(loc="upper center", bbox_to_anchor=(0.5, -0.16), ncols=2, frameon=False)
    tidy(axes, "time (thousandths of a second)", "volts at that moment (V)", grid="y")


def _say_legs(at: Values) -> str:
    across = leg_to_leg(at["volts"], at["apart"])
    kind = {
        180: "opposite, as in a house",
        120: "as on three phases",
        0: "together: one and the same leg",
    }
    how = kind.get(round(at["apart"]), "neither a house nor three phases")
    return f"{at['apart']:.0f}° apart ({how}): {at['volts']:.0f} V each to neutral, {across:.0f} V from leg to leg."


def show_two_legs() -> None:
    """Show the swing of two legs (V) over time, and of the volts between them."""
    Explorer(
        "Two legs and a neutral",
        (
            Knob("apart", "Degrees apart", 0, 180, 60, 180, "°"),
            Knob("volts", "Each leg to neutral", 110, 125, 1, 120, "V"),
        ),
        _paint_legs,
        _say_legs,
        height=4.6,
    ).show()


def _loads(at: Values) -> tuple[float, float, float]:
    """Return the volts (V) across load A and load B and the amps (A) in the neutral."""
    if at["neutral"] >= 1:
        amps = TASKS["neutral_amps"].right(volts=2 * _LEG, load_a=at["load_a"], load_b=at["load_b"])
        return _LEG, _LEG, amps
    share = TASKS["open_neutral"].right(volts=2 * _LEG, load_a=at["load_a"], load_b=at["load_b"])
    return share, 2 * _LEG - share, 0.0


def _paint_neutral(figure: Figure, at: Values) -> None:
    volts_a, volts_b, _ = _loads(at)
    axes = figure.subplots()
    names = [f"load A\n{at['load_a']:.0f} Ω, leg 1", f"load B\n{at['load_b']:.0f} Ω, leg 2"]
    bars = axes.bar(names, [volts_a, volts_b], width=0.5, color=[BLUE, GREEN], hatch=["", "//"], edgecolor="white")
    axes.bar_label(bars, fmt="%.0f V", padding=3, fontweight="bold")
    axes.axhline(_LEG, color=GRAY, linestyle="--")
    axes.annotate("made for\n120 V", (0.5, _LEG), xytext=(0, 4), textcoords="offset points", ha="center")
    state = "good" if at["neutral"] >= 1 else "open"
    axes.set(ylim=(0, 260), xlim=(-0.5, 1.5), title=f"Two 120 V loads, neutral {state}")
    tidy(axes, "", "volts across it (V)", grid="y")


def _say_neutral(at: Values) -> str:
    volts_a, volts_b, amps = _loads(at)
    if at["neutral"] >= 1:
        return (
            f"Neutral good: 120 V on each. Load A draws {current(_LEG, at['load_a']):.2f} A, load B "
            f"{current(_LEG, at['load_b']):.2f} A, and the neutral carries the difference, {amps:.2f} A."
        )
    return (
        f"Neutral open: both loads in series across 240 V. Load A gets {volts_a:.0f} V, load B {volts_b:.0f} V. "
        "More ohms, more volts: the small load burns first."
    )


def show_open_neutral() -> None:
    """Show the volts (V) across two 120 V loads with the neutral good and open."""
    Explorer(
        "The neutral opens",
        (
            Knob("neutral", "Neutral: 0 open, 1 good", 0, 1, 1, 0, ""),
            Knob("load_a", "Load A", 5, 60, 1, 48, "Ω"),
            Knob("load_b", "Load B", 5, 60, 1, 12, "Ω"),
        ),
        _paint_neutral,
        _say_neutral,
    ).show()


_NAMED = {
    SOUND: "good",
    "lost-leg-1": "leg 1 lost",
    "lost-leg-2": "leg 2 lost",
    "open-neutral": "neutral of the dryer's circuit open",
    "open-service-neutral": "neutral of the service open",
    "supply-208": "208 V building",
    "low-supply": "supply sags",
}


@cache
def _read(trouble: str, mode: str) -> dict[str, float]:
    """Return the volts (V) that the bench's meter finds at an unplugged receptacle, pair by pair."""
    bench = Bench(Machine(), () if trouble == SOUND else (trouble,))
    bench.do("unplug")
    live = situation_on(bench).live
    return {key: bench.meter.loaded_volts(live[pair], mode) for key, pair in PAIRS.items()}


def _trouble(at: Values) -> str:
    return TROUBLES[int(at["trouble"])]


def _paint_receptacle(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    names = ["leg 1 to leg 2", "leg 1 to neutral", "leg 2 to neutral"]
    places = np.arange(3)
    for shift, mode, color, hatch, label in (
        (-0.19, "low-impedance", BLUE, "", "LoZ: what is really there"),
        (0.19, "volts", "#bbbbbb", "//", "normal setting"),
    ):
        volts = list(_read(_trouble(at), mode).values())
        bars = axes.bar(places + shift, volts, width=0.36, color=color, hatch=hatch, edgecolor="white", label=label)
        axes.bar_label(bars, fmt="%.0f V", padding=3)
    axes.set_xticks(places, names)
    axes.set(ylim=(0, 310), title=f"At the receptacle: {_NAMED[_trouble(at)]}")
    axes.legend(loc="upper right", frameon=False)
    tidy(axes, "", "reading (V)", grid="y")


def _say_receptacle(at: Values) -> str:
    legs, one, two = _read(_trouble(at), "low-impedance").values()
    return (
        f"{_NAMED[_trouble(at)].capitalize()}: {legs:.0f} V from leg to leg, {one:.0f} V from leg 1 to neutral, "
        f"{two:.0f} V from leg 2 to neutral, on LoZ."
    )


def show_receptacle() -> None:
    """Show what a receptacle reads (V), pair by pair, when it is good and with each trouble."""
    Explorer(
        "What a receptacle reads",
        (Knob("trouble", "What's wrong: 0 nothing, 1 to 6", 0, len(TROUBLES) - 1, 1, 2, ""),),
        _paint_receptacle,
        _say_receptacle,
    ).show()


def show_receptacle_faces() -> None:
    """Show the faces of receptacles with four slots and three, and the volts (V) between the slots."""
    show_still(receptacle_faces())


def show_strap() -> None:
    """Show the terminal block with the strap off (four wires) and on (three wires)."""
    show_still(strap())


def show_cord_entry() -> None:
    """Show the cord held by its strain relief, and as it must not be."""
    show_still(cord_entry())
