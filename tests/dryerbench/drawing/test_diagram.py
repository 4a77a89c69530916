"""The diagram shows what the circuit says: points, contacts, the lit path; and no label hides another."""

from __future__ import annotations

import itertools

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure

from dryerbench.bench.faults import read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import settle
from dryerbench.bench.states import named_state, state_names
from dryerbench.bench.wiring import points
from dryerbench.drawing.diagram import POINTS, wiring_diagram
from dryerbench.drawing.symbols import INK, LIT


def drawn(state: str, *faults: str, cord: str = "four-wire") -> Figure:
    machine = Machine(cord=cord)
    return wiring_diagram(settle(machine, [read_fault(fault) for fault in faults], named_state(state))[0])


def lit_lines(figure: Figure) -> int:
    return sum(line.get_color() == LIT and line.get_linewidth() > 2 for line in figure.axes[0].lines) - 1


def words(figure: Figure) -> set[str]:
    return {text.get_text() for text in figure.axes[0].texts}


def test_every_test_point_is_drawn_once() -> None:
    assert set(POINTS) == set(points())
    assert set(points()) <= words(drawn("standing"))
    assert not {"outlet-G", "plug-G", "ground "} & words(drawn("standing", cord="three-wire"))


def test_the_path_is_lit_where_current_flows() -> None:
    assert lit_lines(drawn("unplugged")) == 0
    assert 0 < lit_lines(drawn("tumbling")) < lit_lines(drawn("heating"))
    assert lit_lines(drawn("heating", "cut-off-blown")) == lit_lines(drawn("tumbling"))


def test_amps_stand_beside_the_path() -> None:
    assert sum(text.endswith(" A") for text in words(drawn("heating"))) >= 3
    assert not any(text.endswith(" A") for text in words(drawn("standing")))


def test_live_points_are_filled() -> None:
    def filled(figure: Figure) -> int:
        return sum(line.get_marker() == "o" and line.get_markerfacecolor() == INK for line in figure.axes[0].lines)

    assert filled(drawn("standing")) > 5 + filled(drawn("locked-out"))


@pytest.mark.parametrize("state", [name for name in state_names() if not name.startswith("parts-warm-")])
def test_no_label_hides_another(state: str) -> None:
    figure = drawn(state)
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    boxes = [(text.get_text(), text.get_window_extent(canvas.get_renderer())) for text in figure.axes[0].texts]
    boxes = [(name, box) for name, box in boxes if name]
    for (one, first), (other, second) in itertools.combinations(boxes, 2):
        assert not first.overlaps(second), (one, other)
    page = figure.bbox
    assert all(page.x0 <= box.x0 and box.x1 <= page.x1 and page.y0 <= box.y0 and box.y1 <= page.y1 for _, box in boxes)


def test_lit_is_darker_than_quiet_and_wider_than_ink() -> None:
    red, green, blue = to_rgb(LIT)
    gray = 0.299 * red + 0.587 * green + 0.114 * blue
    assert 0.25 < gray < 0.5
