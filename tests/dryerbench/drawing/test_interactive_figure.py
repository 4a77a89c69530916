"""Explorers: with knobs, still, or in words, and every drawing of the lesson draws at every end of its knobs."""

from __future__ import annotations

import itertools
from base64 import b64decode

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from tests.dryerbench.machine_view.looks import PLATES

import dryerbench
from dryerbench.drawing import interactive_figure
from dryerbench.drawing.interactive_figure import Explorer, Places

STILL = {f"show_{plate.__name__}" for plate in PLATES}
SHOWS = [
    name for name in dryerbench.__all__ if name.startswith("show_") and name not in {"show_path", "show_bench", *STILL}
]


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[dict]:
    found: list[dict] = []
    monkeypatch.setattr(interactive_figure, "show_bundle", found.append)
    return found


@pytest.fixture
def caught(monkeypatch: pytest.MonkeyPatch) -> list[Explorer]:
    found: list[Explorer] = []
    monkeypatch.setattr(Explorer, "show", lambda self: found.append(self))
    return found


@pytest.mark.parametrize("name", SHOWS)
def test_still_and_words(name: str, shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "still")
    getattr(dryerbench, name)()
    assert b64decode(shown[0]["image/png"]).startswith(b"\x89PNG")
    assert len(shown[0]["text/plain"]) > 40
    monkeypatch.setenv(interactive_figure.MODE, "words")
    getattr(dryerbench, name)()
    assert list(shown[1]) == ["text/plain"]


@pytest.mark.parametrize("name", SHOWS)
def test_live_has_the_still_beside_it(name: str, shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "live")
    getattr(dryerbench, name)()
    assert {"application/vnd.jupyter.widget-view+json", "image/png", "text/plain"} <= set(shown[0])


@pytest.mark.parametrize("name", SHOWS)
def test_draws_at_every_end_of_its_knobs(name: str, caught: list[Explorer]) -> None:
    getattr(dryerbench, name)()
    explorer = caught[0]
    ends = [(knob.low, knob.high) for knob in explorer.knobs]
    figure = explorer.figure()
    canvas = FigureCanvasAgg(figure)
    places = Places.of(figure)
    for corner in itertools.product(*ends):
        values = dict(zip(explorer.start, corner, strict=True))
        if values.get("ohms", 1.0) == 0.0:
            continue
        explorer.redraw(figure, values, places)
        canvas.draw()
        around = figure.get_tightbbox(canvas.get_renderer())
        assert min(around.x0, around.y0) > -0.01  # inches: nothing falls off the picture
        assert around.x1 < explorer.size[0] + 0.01
        assert around.y1 < explorer.size[1] + 0.01
        words = explorer.words(values)
        assert "nan" not in words
        assert "inf" not in words


@pytest.mark.parametrize("name", SHOWS)
def test_put_in_place_is_the_same_picture(name: str, caught: list[Explorer]) -> None:
    getattr(dryerbench, name)()
    explorer = caught[0]
    first, again = explorer.figure(), explorer.figure()
    canvases = FigureCanvasAgg(first), FigureCanvasAgg(again)
    explorer.redraw(again, explorer.start, Places.of(again))
    for canvas in canvases:
        canvas.draw()
    assert np.array_equal(canvases[0].buffer_rgba(), canvases[1].buffer_rgba())


@pytest.mark.parametrize("name", SHOWS)
def test_axes_have_labels_with_units(name: str, caught: list[Explorer]) -> None:
    getattr(dryerbench, name)()
    axes = [one for one in caught[0].figure().axes if one.axison]
    for one in axes:
        assert one.get_ylabel()
        label = one.get_ylabel()
        assert "(" in label or label.startswith(("factor", "meter"))  # a factor and what a meter shows have no unit


def test_moving_a_knob_redraws(shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "live")
    seen: list[float] = []
    explorer = Explorer(
        "A line",
        (interactive_figure.Knob("height", "Height", 0, 10, 1, 5, "ft"),),
        lambda figure, at: seen.append(at["height"]),
        lambda at: f"{at['height']:.0f} ft high",
    )
    made: list = []
    import ipywidgets

    real = ipywidgets.FloatSlider
    monkeypatch.setattr(ipywidgets, "FloatSlider", lambda **kw: made.append(real(**kw)) or made[-1])
    explorer.show()
    made[0].value = 7.0
    assert seen[-1] == 7.0
