"""The wiring diagram: the supply comes down in the middle, leg 1 feeds from the left, leg 2 from the right.

Our own layout, drawn from the same names as the circuit. Where current flows the line is wide, dark orange and has an
arrow (drawn for the half-cycle in which leg 1 is positive); a filled point is hot to ground. Nothing hangs on
color alone. Give it a situation without faults unless whoever looks may know them: contacts and currents show.
"""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import FancyBboxPatch

from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import Situation
from dryerbench.bench.states import State
from dryerbench.drawing import symbols
from dryerbench.drawing.symbols import INK, LIT, QUIET, Place, Stroke

_LIT_AMPS = 0.05
_CASE = (0.5, 0.35, 23.5, 10.75)

POINTS: dict[str, tuple[float, float, float, float]] = {
    "outlet-1": (9.0, 13.25, -0.95, 0.0),
    "outlet-N": (12.0, 13.25, -0.95, 0.0),
    "outlet-2": (15.0, 13.25, -0.95, 0.0),
    "outlet-G": (18.0, 13.25, -0.95, 0.0),
    "plug-1": (9.0, 12.45, -0.85, 0.0),
    "plug-N": (12.0, 12.45, -0.85, 0.0),
    "plug-2": (15.0, 12.45, -0.85, 0.0),
    "plug-G": (18.0, 12.45, -0.85, 0.0),
    "L1": (9.0, 9.95, 0.42, 0.3),
    "N": (12.0, 9.95, 0.38, 0.3),
    "L2": (15.0, 9.95, 0.45, 0.3),
    "case": (18.0, 10.75, 0.62, -0.32),
    "D": (4.9, 8.3, 0.0, 0.42),
    "W1": (7.7, 8.3, 0.0, 0.42),
    "W2": (8.9, 7.1, 0.0, 0.42),
    "W0": (11.2, 8.3, 0.0, 0.42),
    "Q": (8.3, 5.5, 0.0, 0.42),
    "S1": (16.6, 8.3, 0.0, 0.42),
    "S2": (19.4, 8.3, 0.0, 0.42),
    "H1": (2.1, 2.9, 0.0, -0.45),
    "H2": (4.1, 2.9, 0.0, -0.45),
    "H3": (4.9, 2.9, 0.3, -0.45),
    "H4": (6.9, 2.9, 0.0, -0.45),
    "H5": (7.7, 2.9, 0.0, -0.45),
    "H6": (9.7, 2.9, 0.0, -0.45),
    "H7": (10.5, 2.9, 0.0, -0.45),
    "H8": (12.5, 2.9, 0.0, -0.45),
    "T1": (14.0, 4.3, -0.05, 0.4),
    "T2": (14.0, 2.9, -0.05, 0.4),
    "T3": (14.0, 1.5, -0.05, 0.4),
    "T0": (18.2, 2.9, 0.32, -0.45),
    "M1": (19.2, 2.9, 0.1, 0.42),
    "M2": (21.2, 2.9, 0.0, 0.42),
}
"""Where each test point stands (x, y) and where its label is from there."""

_WIRES: tuple[tuple[str, tuple[Place, ...]], ...] = (
    ("run 1", ((9.0, 14.55), (9.0, 13.25))),
    ("run N", ((12.0, 15.6), (12.0, 13.25))),
    ("run 2", ((15.0, 14.55), (15.0, 13.25))),
    ("run G", ((12.0, 15.6), (18.0, 15.6), (18.0, 13.25))),
    ("cord 1", ((9.0, 12.45), (9.0, 9.95))),
    ("cord N", ((12.0, 12.45), (12.0, 9.95))),
    ("cord 2", ((15.0, 12.45), (15.0, 9.95))),
    ("ground wire", ((18.0, 12.45), (18.0, 10.75))),
    ("door switch", ((9.0, 9.95), (9.0, 9.3), (1.3, 9.3), (1.3, 8.3), (2.4, 8.3))),
    ("wire H1", ((1.3, 8.3), (1.3, 2.9), (2.1, 2.9))),
    ("wire H3", ((4.1, 2.9), (4.9, 2.9))),
    ("wire H5", ((6.9, 2.9), (7.7, 2.9))),
    ("wire H7", ((9.7, 2.9), (10.5, 2.9))),
    ("wire T1", ((12.5, 2.9), (13.1, 2.9), (13.1, 4.3), (14.0, 4.3))),
    ("wire T2", ((13.1, 2.9), (14.0, 2.9))),
    ("wire T3", ((13.1, 2.9), (13.1, 1.5), (14.0, 1.5))),
    ("element 1", ((17.4, 4.3), (18.2, 4.3), (18.2, 2.9))),
    ("element 3", ((17.4, 1.5), (18.2, 1.5), (18.2, 2.9))),
    ("wire T0", ((18.2, 2.9), (19.2, 2.9))),
    ("wire L2", ((21.2, 2.9), (22.7, 2.9), (22.7, 9.3), (15.0, 9.3), (15.0, 9.95))),
    ("wire N", ((11.2, 8.3), (12.0, 8.3), (12.0, 9.95))),
    ("motor start contact", ((7.7, 8.3), (7.7, 7.1))),
    ("start winding", ((10.9, 7.1), (11.2, 7.1), (11.2, 8.3))),
    ("motor hold contact", ((4.9, 8.3), (4.9, 7.5))),
    ("motor hold contact", ((7.7, 7.5), (7.7, 8.3))),
    ("low heat contact", ((4.9, 2.9), (4.9, 5.5), (6.1, 5.5))),
    ("wire Q", ((7.7, 5.5), (8.3, 5.5))),
    ("bias heater", ((11.0, 5.5), (12.0, 5.5), (12.0, 8.3))),
    ("wire S1", ((15.6, 8.3), (16.6, 8.3))),
    ("board common", ((12.0, 8.3), (13.2, 8.3))),
    ("thermistor", ((19.4, 8.3), (19.4, 6.9), (15.6, 6.9))),
)
_BLADES: tuple[tuple[str, Place, Place], ...] = (
    ("breaker 1", (9.0, 15.6), (9.0, 14.55)),
    ("breaker 2", (15.0, 15.6), (15.0, 14.55)),
    ("plug blade 1", (9.0, 13.25), (9.0, 12.45)),
    ("plug blade N", (12.0, 13.25), (12.0, 12.45)),
    ("plug blade 2", (15.0, 13.25), (15.0, 12.45)),
    ("plug blade G", (18.0, 13.25), (18.0, 12.45)),
    ("door switch", (2.4, 8.3), (4.9, 8.3)),
    ("start switch", (4.9, 8.3), (7.7, 8.3)),
    ("motor hold contact", (4.9, 7.5), (7.7, 7.5)),
    ("motor start contact", (7.7, 7.1), (8.9, 7.1)),
    ("low heat contact", (6.1, 5.5), (7.7, 5.5)),
    ("control contact", (2.1, 2.9), (4.1, 2.9)),
    ("cycling thermostat", (4.9, 2.9), (6.9, 2.9)),
    ("high limit", (10.5, 2.9), (12.5, 2.9)),
    ("motor centrifugal switch", (19.2, 2.9), (21.2, 2.9)),
    ("frame strap", (12.0, 9.95), (13.6, 9.95)),
)
_ELEMENTS: tuple[tuple[str, Place, Place], ...] = (
    ("element 1", (14.0, 4.3), (17.4, 4.3)),
    ("element 2", (14.0, 2.9), (18.2, 2.9)),
    ("element 3", (14.0, 1.5), (17.4, 1.5)),
    ("bias heater", (8.3, 5.5), (11.0, 5.5)),
    ("thermistor", (16.6, 8.3), (19.4, 8.3)),
)
_COILS: tuple[tuple[str, Place, Place], ...] = (
    ("run winding", (7.7, 8.3), (11.2, 8.3)),
    ("start winding", (8.9, 7.1), (10.9, 7.1)),
)
_NAMES: tuple[tuple[float, float, str], ...] = (
    (9.45, 15.05, "breaker"),
    (15.45, 15.05, "breaker"),
    (9.0, 15.95, "leg 1"),
    (12.0, 15.95, "neutral bar"),
    (15.0, 15.95, "leg 2"),
    (18.0, 15.95, "ground"),
    (3.6, 7.75, "door\nswitch"),
    (6.3, 8.85, "start"),
    (6.3, 7.0, "motor's\nhold contact"),
    (9.5, 8.85, "run winding"),
    (9.9, 6.62, "start winding"),
    (6.9, 6.1, "low heat"),
    (9.65, 5.0, "bias heater"),
    (3.1, 3.75, "control"),
    (5.95, 3.75, "cycling\nthermostat"),
    (8.7, 3.75, "thermal\ncut-off"),
    (11.5, 3.75, "high\nlimit"),
    (15.0, 4.85, "coil 1"),
    (15.0, 3.45, "coil 2"),
    (15.0, 2.05, "coil 3"),
    (20.2, 2.25, "centrifugal\nswitch"),
    (18.0, 8.85, "thermistor"),
    (14.4, 7.6, "control\nboard\n(fed from L1)"),
    (14.1, 10.35, "strap"),
    (7.75, 9.95, "terminal block"),
)


def wiring_diagram(situation: Situation | None = None, *, amps: bool = True) -> Figure:
    """Return the wiring diagram of ``situation`` (a sound machine at rest if left out), with its current path lit."""
    now = situation or Situation(Machine(), (), State())
    figure = Figure(figsize=(12.0, 8.4), facecolor="white", layout="constrained")
    axes = figure.add_subplot()
    axes.set(xlim=(0.0, 24.0), ylim=(-0.75, 16.45), aspect="equal")
    axes.axis("off")
    _frames(axes)
    _parts(axes, now)
    _points(axes, now)
    for x, y, name in _NAMES:
        if name == "ground" and "run G" not in now.circuit:
            continue
        axes.text(
            x,
            y,
            name,
            fontsize=10.5,
            color="#444444",
            ha="left" if "breaker" in name else "center",
            va="center",
            linespacing=0.95,
        )
    if amps:
        _amps(axes, now)
    _legend(axes)
    return figure


def _frames(axes: Axes) -> None:
    left, bottom, right, top = _CASE
    box = FancyBboxPatch(
        (left, bottom),
        right - left,
        top - bottom,
        boxstyle="round,pad=0,rounding_size=0.3",
        fill=False,
        edgecolor=INK,
        linewidth=1.2,
        linestyle=(0, (6, 3)),
        zorder=1,
    )
    axes.add_patch(box)
    axes.text(0.95, 10.35, "dryer, inside its cabinet", fontsize=11, color=INK, style="italic", va="center")
    axes.text(7.0, 15.3, "panel", fontsize=11, color=INK, style="italic", va="center", ha="right")
    axes.text(7.0, 13.25, "receptacle", fontsize=11, color=INK, style="italic", va="center", ha="right")
    axes.text(7.0, 12.45, "plug", fontsize=11, color=INK, style="italic", va="center", ha="right")
    axes.text(7.0, 11.4, "cord", fontsize=11, color=INK, style="italic", va="center", ha="right")
    board = FancyBboxPatch((13.2, 6.5), 2.4, 2.2, boxstyle="square,pad=0", fill=False, edgecolor=INK, linewidth=1.0)
    axes.add_patch(board)
    axes.plot([13.6, 13.6], [9.95, 10.75], color=INK, linewidth=1.1, zorder=2)


def _stroke(now: Situation, name: str) -> Stroke:
    """Return how ``name`` is drawn; lit if it carries over 50 mA, with the sense of its amps against leg 1."""
    dashed = name in ("run G", "ground wire", "plug blade G")
    if name not in now.circuit:
        return Stroke(dashed=dashed)
    amps = now.live.amps(name)
    return Stroke(lit=abs(amps) > _LIT_AMPS, backwards=amps.real < 0, dashed=dashed)


def _parts(axes: Axes, now: Situation) -> None:
    for name, places in _WIRES:
        if name not in now.circuit:
            continue
        part = now.circuit.part(name)
        off = part.kind == "wire" and not part.closed
        route = list(places)
        if off:
            _pulled(axes, route)
            continue
        symbols.wire(axes, route, _stroke(now, name))
    for name, start, end in _BLADES:
        if name in now.circuit:
            symbols.contact(axes, start, end, _stroke(now, name), closed=now.circuit.part(name).closed)
    blown = now.circuit.part("thermal cut-off")
    symbols.cut_off(axes, (7.7, 2.9), (9.7, 2.9), _stroke(now, blown.name), closed=blown.closed)
    for name, start, end in _ELEMENTS:
        symbols.element(axes, start, end, _stroke(now, name))
    for name, start, end in _COILS:
        symbols.coil(axes, start, end, _stroke(now, name))


def _pulled(axes: Axes, route: list[Place]) -> None:
    """Draw a wire that is off its terminal: a gap and a cross in its last stretch."""
    (x, y), (to_x, to_y) = route[-2], route[-1]
    gap = (x + 0.35 * (to_x - x), y + 0.35 * (to_y - y))
    symbols.wire(axes, [*route[:-1], gap], Stroke())
    axes.plot(*gap, marker="x", markersize=6, color=INK, zorder=5)


def _points(axes: Axes, now: Situation) -> None:
    present = [point for point in POINTS if point in now.circuit.nodes]
    hot = set(now.hot_points(present))
    for point in present:
        x, y, dx, dy = POINTS[point]
        axes.plot(
            x,
            y,
            marker="o",
            markersize=6.2,
            markerfacecolor=INK if point in hot else "white",
            markeredgecolor=INK,
            markeredgewidth=1.1,
            zorder=6,
        )
        axes.text(x + dx, y + dy, point, fontsize=11, weight="bold", color=INK, ha="center", va="center", zorder=7)


_SHOWN_AMPS: tuple[tuple[str, float, float], ...] = (
    ("cord 1", 9.2, 11.3),
    ("cord N", 12.2, 11.3),
    ("cord 2", 15.2, 11.3),
    ("ground wire", 18.2, 11.6),
    ("element 1", 15.9, 4.85),
    ("element 2", 15.9, 3.45),
    ("element 3", 15.9, 2.05),
    ("run winding", 8.8, 7.92),
)


def _amps(axes: Axes, now: Situation) -> None:
    for name, x, y in _SHOWN_AMPS:
        if name in now.circuit and _stroke(now, name).lit:
            text = f"{abs(now.live.amps(name)):.1f} A"
            axes.text(x, y, text, fontsize=11, color=LIT, weight="bold", va="center", zorder=7)


def _legend(axes: Axes) -> None:
    y = -0.35
    axes.plot([0.7, 1.9], [y, y], color=LIT, linewidth=3.4)
    axes.text(2.1, y, "current flows (arrow: while leg 1 is positive)", fontsize=10.5, va="center", color=INK)
    axes.plot(9.6, y, marker="o", markersize=6.2, color=INK)
    axes.text(9.9, y, "hot to ground", fontsize=10.5, va="center", color=INK)
    axes.plot(13.9, y, marker="o", markersize=6.2, markerfacecolor="white", markeredgecolor=INK)
    axes.text(14.2, y, "not hot", fontsize=10.5, va="center", color=INK)
    axes.plot([16.3, 17.5], [y, y], color=INK, linewidth=1.1, linestyle=(0, (4, 2.5)))
    axes.text(17.7, y, "ground", fontsize=10.5, va="center", color=INK)
    axes.plot(20.2, y, marker="x", markersize=6, color=INK)
    axes.text(20.5, y, "wire off its terminal", fontsize=10.5, va="center", color=INK)
    axes.text(
        23.4, 14.6, "a training diagram,\nnot of any real dryer", fontsize=9.5, va="center", ha="right", color=QUIET
    )
