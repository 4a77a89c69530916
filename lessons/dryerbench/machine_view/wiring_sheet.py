"""The wiring sheet: the diagram of one machine on paper, its contacts as they stand in the state of the title."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from dryerbench.family.arrangement import BLOCK, CABINET, Arrangement
from dryerbench.family.contacts import contacts
from dryerbench.family.own_machine import OwnMachine
from dryerbench.family.settings import Setting
from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.geometry import Box, number, word_width
from dryerbench.machine_view.palette import LIGHT
from dryerbench.machine_view.paper import folded_paper
from dryerbench.machine_view.rungs import Item, Rung, leftovers, rungs_of
from dryerbench.machine_view.strokes import EDGE, disc, line, path, rect, tube
from dryerbench.machine_view.symbols import contact, symbol, winding, zigzag

WIDTH = 760.0
_LEFT, _NEUTRAL, _RIGHT = 58.0, 650.0, 706.0
_TOP = 128.0
_SYMBOL = 40.0
_ROW, _COIL_ROW = 78.0, 48.0


@dataclass(slots=True)
class _Sheet:
    own: OwnMachine
    closed: Mapping[str, bool]
    drawing: Drawing
    column: dict[str, float] = field(default_factory=dict)
    taps: dict[str, list[tuple[float, float]]] = field(default_factory=dict)
    leads: dict[str, tuple[float, float]] = field(default_factory=dict)
    lefts: list[tuple[str, float]] = field(default_factory=list)
    symbols: dict[str, Box] = field(default_factory=dict)
    verticals: list[tuple[str, float, float, float]] = field(default_factory=list)
    thirds: set[tuple[float, float]] = field(default_factory=set)

    @property
    def made(self) -> Arrangement:
        """The arrangement."""
        return self.own.arrangement

    def net(self, point: str) -> str:
        """Return the net of a point."""
        return self.made.net[point]

    def leg(self, point: str) -> str:
        """Return which of L1, L2, N a point is joined to, or nothing."""
        return next((leg for leg in BLOCK if self.net(leg) == self.net(point)), "")

    def tap(self, point: str, x: float, y: float) -> None:
        """Note that the net of ``point`` is met at (x, y)."""
        self.taps.setdefault(self.net(point), []).append((x, y))


def _weights(rungs: list[Rung], made: Arrangement) -> list[float]:
    """Return how many columns each item of the first rung takes, so that rungs beside it find room."""
    first = rungs[0].items
    weights = [1.0] * len(first)
    nets = [made.net[first[0].left], *(made.net[item.right] for item in first)]
    for rung in rungs[1:]:
        ends = [made.net[rung.start], made.net[rung.end]]
        if all(end in nets for end in ends):
            i, j = sorted(nets.index(end) for end in ends)
            short = len(rung.items) - sum(weights[i:j])
            if short > 0 and j > i:
                weights[j - 1] += short
    return weights


def _share(item: Item, made: Arrangement) -> float:
    part = made.by_name.get(item.names[0])
    return 1.4 if part and part.kind.name == "motor" else 1.1 if len(item.names) > 1 else 1.0


def _heights(rung: Rung, made: Arrangement) -> float:
    """Return how far below a rung the next one may be."""
    high = _ROW
    if all(" coil " in item.names[0] for item in rung.items):
        return _COIL_ROW
    for item in rung.items:
        part = made.by_name.get(item.names[0])
        if len(item.names) > 1:
            high = max(high, _ROW + 34)
        if part and part.kind.name == "motor":
            high = max(high, _ROW + 36)
        if part and len(part.kind.throws) > 1:
            high = max(high, _ROW + 22)
        if part and part.kind.name == "board" and _sensor_names(made):
            high = max(high, _ROW + 56)
    return high


def _sensor_names(made: Arrangement) -> list[str]:
    return [name for name in leftovers(made) if made.by_name[name].kind.name in ("exhaust sensor", "inlet sensor")]


def _place(sheet: _Sheet, rungs: list[Rung]) -> float:
    """Give every rung its level and every item its columns; return the level below the last."""
    made, y = sheet.made, _TOP
    for place, rung in enumerate(rungs):
        weights = _weights(rungs, made) if place == 0 else [_share(item, made) for item in rung.items]
        start, end = _end_column(sheet, rung.start, left=True), _end_column(sheet, rung.end, left=False)
        if end < start:
            rung.items = [Item(item.names, item.right, item.left) for item in reversed(rung.items)]
            rung.start, rung.end, start, end = rung.end, rung.start, end, start
        rung.y, x = y, start
        step = (end - start) / sum(weights)
        for item, weight in zip(rung.items, weights, strict=True):
            rung.placed.append((x, x + step * weight))
            x += step * weight
            if not sheet.leg(item.right):
                sheet.column.setdefault(sheet.net(item.right), x)
        nxt = rungs[place + 1] if place + 1 < len(rungs) else None
        high = _heights(rung, made)
        coils_next = nxt is not None and all(" coil " in item.names[0] for item in nxt.items)
        y += _COIL_ROW if coils_next and high <= _ROW else max(high, _ROW)
        for item, (a, b) in zip(rung.items, rung.placed, strict=True):
            _third_terminal(sheet, item, a, b, rung.y)
    return y


def _third_terminal(sheet: _Sheet, item: Item, a: float, b: float, y: float) -> None:
    part = sheet.made.by_name.get(item.names[0])
    if part is None or len(part.kind.throws) < 2:
        return
    right = (a + b) / 2 + _SYMBOL / 2
    left = (a + b) / 2 - _SYMBOL / 2
    x = right if item.left.endswith(".1") else left
    third = next(t for t in part.terminals if t not in (item.left, item.right))
    sheet.tap(third, x, y + 24)
    sheet.thirds.add((x, y + 24))
    if not sheet.leg(third):
        sheet.column.setdefault(sheet.net(third), x)


def _end_column(sheet: _Sheet, point: str, *, left: bool) -> float:
    leg = sheet.leg(point)
    if leg:
        return _LEFT if left else _NEUTRAL if leg == "N" else _RIGHT
    return sheet.column.get(sheet.net(point), _LEFT + 40 if left else _NEUTRAL)


# --- drawing -----------------------------------------------------------------------------------------------------


def _label(sheet: _Sheet, x: float, y: float, words: str, room: float) -> None:
    lines = [words]
    if word_width(words, 12) > room and " " in words:
        head, _, tail = words.rpartition(" ")
        lines = [head, tail]
    for k, one in enumerate(lines):
        sheet.drawing.word(x, y - 14 * (len(lines) - 1 - k), one, 12, "middle")


def _draw_item(sheet: _Sheet, item: Item, a: float, b: float, y: float) -> None:
    drawing, made = sheet.drawing, sheet.made
    middle = (a + b) / 2
    left, right = middle - _SYMBOL / 2, middle + _SYMBOL / 2
    name = item.names[0]
    part = made.by_name.get(name)
    if part is not None and part.kind.name == "motor":
        _draw_motor(sheet, item, a, b, y)
        return
    if part is not None and part.kind.name == "board":
        left, right = middle - 78, middle + 78
        drawing.add(rect(Box(left, y - 19, 156, 38), "$paper", EDGE, 3))
        drawing.word(middle, y + 4, "board", 12, "middle")
        sheet.symbols[name] = Box(left, y - 19, 156, 38)
    elif part is None:
        left, right = middle - 34, middle + 34
        drawing.add(zigzag(left, right, y))
        drawing.word(middle, y - 13, "coil", 12, "middle")
        sheet.symbols[name] = Box(left, y - 9, 68, 18)
    else:
        closed = sheet.closed.get(part.contacts[0][0], True) if part.contacts else True
        drawn = symbol(part, left, right, y, closed=closed)
        if len(part.kind.throws) > 1 and not item.left.endswith(".1"):
            drawn = f'<g transform="translate({number(2 * middle)} 0) scale(-1 1)">{drawn}</g>'
        drawing.add(drawn)
        high = 24.0 if part.kind.name == "start switch" else 20.0
        _label(sheet, middle, y - high - (4 if high > 20 else 0), part.kind.name.replace(" with light", ""), b - a - 6)
        sheet.symbols[name] = Box(left, y - 16, _SYMBOL, 26)
    for other in item.names[1:]:
        _draw_beside(sheet, made.by_name[other].name, a, b, y + 40)
    _lead(sheet, item.left, a, left, y)
    _lead(sheet, item.right, b, right, y)


def _draw_beside(sheet: _Sheet, name: str, a: float, b: float, y: float) -> None:
    part = sheet.made.by_name[name]
    middle = (a + b) / 2
    left, right = middle - _SYMBOL / 2, middle + _SYMBOL / 2
    sheet.drawing.add(symbol(part, left, right, y, closed=sheet.closed.get(name, True)))
    out = 14.0
    sheet.drawing.add(
        path(
            f"M{number(left)} {y}H{number(left - out)}V{y - 40}M{number(right)} {y}H{number(right + out)}V{y - 40}",
            "none",
            EDGE,
        )
    )
    sheet.drawing.add(disc(left - out, y - 40, 2.8, "$ink", 0), disc(right + out, y - 40, 2.8, "$ink", 0))
    _label(sheet, middle, y + 26, part.kind.name, 200)
    sheet.symbols[name] = Box(left, y - 16, _SYMBOL, 26)
    sheet.leads |= {part.terminals[0]: (left - 9, y), part.terminals[1]: (right + 9, y)}


def _draw_motor(sheet: _Sheet, item: Item, a: float, b: float, y: float) -> None:
    """Draw a motor: run winding above, start contact and start winding below, joined at both ends."""
    drawing, middle = sheet.drawing, (a + b) / 2
    left, right, low = middle - 40, middle + 40, y + 40
    drawing.add(
        winding(left, right, y),
        contact(left - 6, left + 22, low, closed=sheet.closed.get("start contact", True)),
        winding(middle, right, low),
    )
    drawing.add(
        line(left + 25, low, middle, low),
        path(
            f"M{number(left - 6)} {low}H{number(left - 14)}V{y}M{number(right)} {low}H{number(right + 12)}V{y}",
            "none",
            EDGE,
        ),
    )
    drawing.add(disc(left - 14, y, 2.8, "$ink", 0), disc(right + 12, y, 2.8, "$ink", 0))
    drawing.word(middle, y - 18, "run winding", 12, "middle")
    drawing.word(middle, low + 20, "start winding", 12, "middle")
    sheet.symbols[item.names[0]] = Box(left - 14, y - 11, 106, 64)
    _lead(sheet, item.left, a, left, y)
    _lead(sheet, item.right, b, right, y)


def _lead(sheet: _Sheet, point: str, column: float, edge: float, y: float) -> None:
    sheet.drawing.add(line(column, y, edge, y))
    sheet.leads[point] = ((column + edge) / 2, y)
    leg = sheet.leg(point)
    if leg and abs(column - _LEFT) < 1:
        sheet.lefts.append((leg, y))
    else:
        sheet.tap(point, column, y)


def _draw_nets(sheet: _Sheet) -> None:
    """Draw each net's column from its first to its last level, with a dot where three lines meet."""
    for net, taps in sorted(sheet.taps.items()):
        leg = sheet.leg(net)
        x = (_NEUTRAL if leg == "N" else _RIGHT) if leg else sheet.column.get(net, taps[0][0])
        levels = sorted({y for _, y in taps})
        for tx, ty in sorted(set(taps)):
            if abs(tx - x) > 1:
                level = ty + 12
                sheet.drawing.add(path(f"M{number(tx)} {number(ty)}V{number(level)}H{number(x)}", "none", EDGE))
                levels = sorted({level, *(y for y in levels if y != ty)})
        if leg:
            continue
        if levels[-1] > levels[0]:
            sheet.drawing.add(line(x, levels[0], x, levels[-1]))
            sheet.verticals.append((net, x, levels[0], levels[-1]))
            sheet.drawing.add(
                "".join(disc(x, y, 2.8, "$ink", 0) for y in levels if y != levels[-1] and (x, y) not in sheet.thirds)
            )


def _draw_rails(sheet: _Sheet) -> None:
    groups: list[tuple[str, list[float]]] = []
    for leg, y in sorted(sheet.lefts, key=lambda one: one[1]):
        if not groups or groups[-1][0] != leg:
            groups.append((leg, []))
        groups[-1][1].append(y)
    for leg, levels in groups:
        _rail(sheet, leg, _LEFT, levels)
    for leg, x in (("N", _NEUTRAL), *((leg, _RIGHT) for leg in ("L1", "L2"))):
        levels = [y for tx, y in sheet.taps.get(sheet.net(leg), []) if abs(tx - x) < 1]
        levels += [y + 12 for tx, y in sheet.taps.get(sheet.net(leg), []) if abs(tx - x) >= 1]
        if levels:
            below = any(abs(tx - x) >= 1 for tx, _ in sheet.taps[sheet.net(leg)])
            _rail(sheet, leg, x, levels, below=below)
    strap = next((wire for wire in sheet.made.wires if wire.mark.tone == "bare"), None)
    levels = [y for _, y in sheet.taps.get(sheet.net("N"), [])]
    if strap and levels and CABINET in (strap.a, strap.b):
        low = max(levels)
        sheet.drawing.add(
            line(_NEUTRAL, low, _NEUTRAL, low + 26),
            path(
                f"M{_NEUTRAL - 14} {low + 26}h28M{_NEUTRAL - 9} {low + 31}h18M{_NEUTRAL - 4} {low + 36}h8", "none", 1.8
            ),
        )
        sheet.drawing.word(_NEUTRAL - 20, low + 34, "strap to the cabinet", 12, "end")


def _rail(sheet: _Sheet, name: str, x: float, levels: list[float], *, below: bool = False) -> None:
    top, low = min(levels), max(levels)
    start, end = (top, low + 22) if below else (top - 24, low)
    sheet.drawing.add(line(x, start, x, end, 2.4), disc(x, end + 5 if below else start - 5, 5, "$paper", EDGE))
    sheet.drawing.word(x, end + 24 if below else start - 15, name, 14, "middle", 700)
    sheet.drawing.add("".join(disc(x, y, 2.8, "$ink", 0) for y in levels))


def _draw_swatches(sheet: _Sheet) -> None:
    """Draw a piece of each wire under the line that it is, so that sheet and harness are matched by eye."""
    made, taken = sheet.made, set[str]()
    for wire in made.wires:
        if wire.mark.tone == "bare":
            continue
        ends = sorted(
            (end for end in (wire.b, wire.a) if end in sheet.leads and end not in taken),
            key=lambda end: len(made.wires_at(end)),
        )
        if ends:
            taken.add(ends[0])
            x, y = sheet.leads[ends[0]]
            sheet.drawing.add(tube(f"M{number(x - 8)} {number(y + 9)}h16", sheet.own.placement.mark_of(wire), 4))


def _draw_sensors(sheet: _Sheet) -> float:
    """Draw the sensors under the board; return how far down they reach."""
    made, low = sheet.made, 0.0
    board = next((sheet.symbols[part.name] for part in made.of_kind("board") if part.name in sheet.symbols), None)
    names = _sensor_names(made)
    if board is None or not names:
        return low
    pins = {end: board.middle[0] + dx for end, dx in (("s1", -66.0), ("s2", 0.0), ("s3", 66.0))}
    name_of_board = made.of_kind("board")[0].name
    y = board.bottom + 34
    used = set[str]()
    for name in names:
        part = made.by_name[name]
        pin_nets = {end: made.net.get(f"{name_of_board}.{end}") for end in pins}
        ends = [end for end in pins for t in part.terminals if pin_nets[end] == sheet.net(t)]
        if len(ends) != 2:
            continue
        a, b = sorted(pins[end] for end in ends)
        used |= set(ends)
        middle = (a + b) / 2
        sheet.drawing.add(
            symbol(part, middle - 22, middle + 22, y, closed=True),
            line(a, y, middle - 22, y),
            line(middle + 22, y, b, y),
        )
        sheet.symbols[name] = Box(middle - 22, y - 16, 44, 32)
        outer = a if pins["s2"] == b else b
        sheet.drawing.word(
            outer + (-10 if outer < pins["s2"] else 10),
            y + 4,
            part.kind.name,
            12,
            "end" if outer < pins["s2"] else "start",
        )
        low = max(low, y + 30)
    for end in sorted(used):
        sheet.drawing.add(line(pins[end], board.bottom, pins[end], y), disc(pins[end], board.bottom, 3, "$white", EDGE))
    return low


@dataclass(frozen=True, slots=True)
class DrawnSheet:
    """A wiring sheet and what is on it: the box of each symbol, and each net's column (net, x, from, to)."""

    drawing: Drawing
    symbols: dict[str, Box]
    verticals: tuple[tuple[str, float, float, float], ...]


def wiring_sheet(own: OwnMachine, setting: Setting, state: str) -> DrawnSheet:
    """Return the wiring sheet of a machine, its contacts drawn as they stand in ``setting``, which ``state`` names."""
    rungs = rungs_of(own.arrangement)
    title = f"{own.arrangement.name}: {state}"
    told = f"Wiring sheet. Rows: {'; '.join(rung.title for rung in rungs)}."
    sheet = _Sheet(own, contacts(own.machine, setting), Drawing(WIDTH, 100, title, told))
    low = _place(sheet, rungs)
    sheet.drawing.height = low + 8
    folded_paper(sheet.drawing, WIDTH, sheet.drawing.height)
    sheet.drawing.word(30, 46, title, 16, weight=600)
    for rung in rungs:
        for item, (a, b) in zip(rung.items, rung.placed, strict=True):
            _draw_item(sheet, item, a, b, rung.y)
    _draw_sensors(sheet)
    _draw_nets(sheet)
    _draw_rails(sheet)
    _draw_swatches(sheet)
    return DrawnSheet(sheet.drawing, sheet.symbols, tuple(sheet.verticals))


def sheet_svg(own: OwnMachine, setting: Setting, state: str, palette: Mapping[str, str] = LIGHT) -> str:
    """Return the SVG of a machine's wiring sheet."""
    return wiring_sheet(own, setting, state).drawing.svg(palette)
