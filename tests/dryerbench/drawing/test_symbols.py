"""Strokes: a raised blade is open, a flat one closed; what is lit is wide."""

from __future__ import annotations

import pytest
from matplotlib.figure import Figure

from dryerbench.drawing import symbols
from dryerbench.drawing.symbols import Stroke


def axes():
    return Figure().add_subplot()


@pytest.mark.parametrize("closed", [True, False])
def test_a_blade(closed: bool) -> None:
    sheet = axes()
    symbols.contact(sheet, (0.0, 0.0), (2.0, 0.0), Stroke(), closed=closed)
    highest = max(max(line.get_ydata()) for line in sheet.lines)
    assert bool(highest == 0.0) is closed


@pytest.mark.parametrize("closed", [True, False])
def test_a_cut_off_has_a_gap_when_blown(closed: bool) -> None:
    sheet = axes()
    symbols.cut_off(sheet, (0.0, 0.0), (2.0, 0.0), Stroke(), closed=closed)
    crossing = [line for line in sheet.lines if min(line.get_xdata()) < 1.0 < max(line.get_xdata())]
    assert len(crossing) == (2 if closed else 1)


def test_elements_and_coils_begin_and_end_where_they_should() -> None:
    for draw in (symbols.element, symbols.coil):
        sheet = axes()
        draw(sheet, (1.0, 1.0), (1.0, 4.0), Stroke(lit=True))
        line = sheet.lines[0]
        assert (line.get_xdata()[0], line.get_ydata()[0]) == (1.0, 1.0)
        assert (line.get_xdata()[-1], line.get_ydata()[-1]) == (1.0, 4.0)
        assert line.get_linewidth() > 3


def test_a_lit_wire_has_an_arrow_and_an_unlit_one_has_none() -> None:
    for lit in (True, False):
        sheet = axes()
        symbols.wire(sheet, [(0.0, 0.0), (2.0, 0.0), (2.0, 0.3)], Stroke(lit=lit))
        assert len(sheet.texts) == int(lit)
