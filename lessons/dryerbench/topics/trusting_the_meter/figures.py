"""The drawings of lesson 04: a reading as a band on each range, where a beeper sounds, a ghost reading under load."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from dryerbench.answers.tolerance import Band, accuracy_band
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import Meter
from dryerbench.bench.meter_ranges import Range, ranges
from dryerbench.circuits.solver import MAINS_HERTZ, Pair
from dryerbench.drawing.figure_style import BLUE, GRAY, RED, label_box, tidy
from dryerbench.drawing.interactive_figure import Explorer
from dryerbench.drawing.knobs import Knob, Values

if TYPE_CHECKING:
    from matplotlib.figure import Figure

_LEG_VOLTS = 120.0
_RIGHT_END = 5e7
"""Where an open coil stands on the drawing of the beeper, in Ω."""


def _bands(ohms: float) -> list[tuple[Range, float, Band]]:
    """Return the three smallest ranges, what a faultless display shows on each, and the band (Ω)."""
    found = []
    for scale in ranges("ohms")[:3]:
        shown = round(ohms / scale.resolution) * scale.resolution
        found.append((scale, shown, accuracy_band(shown, scale.percent, scale.counts, scale.resolution)))
    return found


def _paint_band(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    names = []
    for place, (scale, shown, band) in enumerate(_bands(at["ohms"])):
        low, half = max(0.0, band.low), band.high - shown
        axes.barh(place, band.high - low, left=low, height=0.42, color=BLUE, alpha=0.85, hatch=("", "//", "..")[place])
        axes.plot([shown, shown], [place - 0.3, place + 0.3], color="black", linewidth=2.2)
        text = f"{scale.show(shown)} ± {half:.2f} Ω"
        axes.annotate(text, (max(band.high, shown), place), xytext=(8, 0), textcoords="offset points", va="center")
        names.append(f"{scale.show(scale.full_scale).split('.')[0].split(' ')[0]} {scale.show(1).split(' ')[1]}")
    axes.set(xlim=(0, 150), ylim=(-0.6, 2.6), title="What one reading may really be")
    axes.set_yticks(range(3), names)
    tidy(axes, "resistance (Ω)", "range (full scale)")


def _say_band(at: Values) -> str:
    parts = [
        f"on the range with counts of {scale.resolution:g} Ω ±{band.high - shown:.2f} Ω"
        for scale, shown, band in _bands(at["ohms"])
    ]
    return f"{at['ohms']:.1f} Ω may be off {', '.join(parts)}. The smallest range that holds the reading is the best."


def show_reading_band() -> None:
    """Show the band (Ω) of one reading on three ranges of the meter."""
    Explorer(
        "A reading is a band",
        (Knob("ohms", "What the meter reads", 1, 60, 0.5, 27, "Ω"),),
        _paint_band,
        _say_band,
    ).show()


def _parts(at: Values) -> list[tuple[str, float]]:
    ohms = at["ohms"]
    return [
        ("closed high limit", 0.1),
        ("grounded coil,\nto the cabinet", ohms / 3),
        ("three coils,\nwires still on", ohms / 3 + 0.1),
        ("coil, half its\nturns shorted", ohms / 2),
        ("good coil", ohms),
        ("coil worn thin", ohms * 1.7),
        ("damp path\nto the cabinet", 180e3),
        ("broken coil (OL)", _RIGHT_END),
    ]


def _paint_beeper(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    parts = _parts(at)[::-1]
    for place, (_, ohms) in enumerate(parts):
        sounds = ohms < at["mark"]
        axes.plot([0.03, ohms], [place, place], color="#bbbbbb", linewidth=1.2, zorder=1)
        axes.plot([ohms], [place], "s" if sounds else "o", color=RED if sounds else "white", markersize=11,
                  markeredgecolor=RED if sounds else GRAY, zorder=3)  # fmt: skip
        word = "beeps" if sounds else "silent"
        box = label_box("none", pad=0.1)
        axes.annotate(word, (ohms, place), xytext=(11, 0), textcoords="offset points", va="center", bbox=box)
    axes.axvline(at["mark"], color=BLUE, linestyle="--")
    axes.annotate(
        f"set point {at['mark']:.0f} Ω", (at["mark"], len(parts) - 0.35), xytext=(5, 0), textcoords="offset points"
    )
    axes.set(xscale="log", xlim=(0.03, 2e10), ylim=(-0.6, len(parts) + 0.1), title="Where the beeper sounds")
    axes.set_yticks(range(len(parts)), [name for name, _ in parts])
    axes.set_xticks([0.1, 10.0, 1e3, 1e5, 1e7], ["0.1", "10", "1 k", "100 k", "10 M"])
    axes.minorticks_off()
    tidy(axes, "resistance (Ω), each line a hundred times more", "between the probes (at its Ω)")


def _say_beeper(at: Values) -> str:
    sounding = [name.replace("\n", " ") for name, ohms in _parts(at) if ohms < at["mark"]]
    return (
        f"A beeper with its set point at {at['mark']:.0f} Ω sounds at: {'; '.join(sounding)}. They all sound "
        "the same. Only the number tells them apart."
    )


def show_beeper() -> None:
    """Show at which parts (Ω) a beeper with a given set point (Ω) sounds."""
    Explorer(
        "Where the beeper sounds",
        (
            Knob("mark", "Set point of the beeper", 15, 120, 5, Meter().beeps_below, "Ω"),
            Knob("ohms", "A good coil", 24, 30, 0.5, 27, "Ω"),
        ),
        _paint_beeper,
        _say_beeper,
        height=4.8,
    ).show()


def _shown(at: Values) -> tuple[float, float]:
    """Return what the two settings show (V) on a wire beside a live one and two that are at ground, or fed itself."""
    if at["fed"] >= 1:
        pair = Pair(complex(_LEG_VOLTS), complex(0.1))
    else:
        farads = Machine().cable_farads_per_foot * at["feet"]
        pair = Pair(complex(_LEG_VOLTS / 3), 1 / (1j * math.tau * MAINS_HERTZ * 3 * farads))
    meter = Meter()
    return meter.loaded_volts(pair, "volts"), meter.loaded_volts(pair, "low-impedance")


def _paint_phantom(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    names = ["normal setting\n10 MΩ", "low impedance (LoZ)\n3 kΩ"]
    bars = axes.bar(names, _shown(at), width=0.5, color=[BLUE, RED], edgecolor="white")
    bars[1].set_hatch("//")
    axes.bar_label(bars, fmt="%.1f V", padding=3)
    word = "fed through a wire" if at["fed"] >= 1 else "not connected to anything"
    axes.set(ylim=(0, 140), title=f"A wire in a cable, {word}, beside a live one")
    tidy(axes, "", "shown (V)")


def _say_phantom(at: Values) -> str:
    usual, low = _shown(at)
    if at["fed"] >= 1:
        return f"The wire is fed: {usual:.1f} V, and {low:.1f} V on LoZ. They stay: it is live."
    return (
        f"The wire is connected to nothing, beside a live one for {at['feet']:.0f} ft. The normal setting shows "
        f"{usual:.1f} V, and LoZ shows {low:.1f} V. Those are ghost volts."
    )


def show_phantom() -> None:
    """Show what two settings of the meter show (V) on a free wire beside a live one, by its length (ft)."""
    Explorer(
        "Ghost volts under load",
        (
            Knob("feet", "Length beside the live wire", 1, 80, 1, 40, "ft"),
            Knob("fed", "The wire: 0 loose, 1 fed", 0, 1, 1, 0, ""),
        ),
        _paint_phantom,
        _say_phantom,
    ).show()
