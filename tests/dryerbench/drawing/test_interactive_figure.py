"""Explorers: with knobs, still, or in words, and every drawing of the lesson draws at every end of its knobs."""

from __future__ import annotations

import inspect
import io
import itertools
from base64 import b64decode
from pathlib import Path

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from PIL import Image
from tests.dryerbench.machine_view.looks import PLATES

import dryerbench
from dryerbench.drawing import interactive_figure
from dryerbench.drawing.figure_view import FigureView
from dryerbench.drawing.interactive_figure import PIXELS, WIDTH, Explorer, Places
from dryerbench.drawing.knobs import Knob

STILL = {f"show_{plate.__name__}" for plate in PLATES}
SHOWS = [
    name
    for name in dryerbench.__all__
    if name.startswith("show_")
    and name not in {"show_path", "show_bench", "show_tech_sheet", "show_cabinet", "show_second_sheet", *STILL}
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
    assert shown[0]["image/png"] in shown[0]["text/html"]
    assert "@media screen{[data-jp-theme-light='false'] .fig-still img{filter:invert(1)" in shown[0]["text/html"]
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
        assert around.x1 < WIDTH + 0.01
        assert around.y1 < explorer.height + 0.01
        words = explorer.words(values)
        assert "nan" not in words
        assert "inf" not in words


DOTS = 100
"""Dots an inch of the pictures that are compared: those of a figure that nobody has set."""


def drawn(figure: Figure) -> np.ndarray:
    """Return the figure drawn whole, as RGBA."""
    canvas = FigureCanvasAgg(figure)
    assert figure.dpi == DOTS
    canvas.draw()
    return np.asarray(canvas.buffer_rgba()).astype(int)


@pytest.mark.parametrize("name", SHOWS)
def test_a_moved_picture_is_the_picture_drawn_anew(name: str, caught: list[Explorer]) -> None:
    """Nothing of a place where the knobs were before is left, however it is drawn: whole, or from kept pieces.

    Scales and words that were kept from the moves before are as drawn anew, to the rounding of what is see-through.
    """
    getattr(dryerbench, name)()
    explorer = caught[0]
    moved = explorer.figure()
    places = Places.of(moved)
    ends = [{**explorer.start, knob.name: end} for knob in explorer.knobs for end in (knob.low, knob.high)]
    for values in [explorer.start, *ends, explorer.start]:
        explorer.redraw(moved, values, places)
        moved.picture(DOTS)
        keeping, kept = moved.canvas, np.asarray(moved.canvas.buffer_rgba()).astype(int)
        whole = drawn(moved)
        moved.set_canvas(keeping)
        anew = explorer.figure(values)
        if values != explorer.start:  # where things stand is settled at the start, and does not move with a knob
            anew.set_layout_engine("none")
            places.put(anew)
        assert np.array_equal(whole, drawn(anew)), values
        assert np.abs(kept - whole).max() <= 4, values


@pytest.mark.parametrize("name", SHOWS)
def test_few_colors_are_enough_for_a_picture(name: str, caught: list[Explorer]) -> None:
    getattr(dryerbench, name)()
    figure = caught[0].figure()
    sent = np.asarray(Image.open(io.BytesIO(figure.picture(DOTS))).convert("RGB"), dtype=int)
    drawn = np.asarray(figure.canvas.buffer_rgba())[..., :3].astype(int)
    off = np.abs(sent - drawn).max(axis=2)
    assert off[(drawn == 255).all(axis=2)].max() <= 3  # paper stays white, as far as eyes can tell
    assert np.mean(off > 24) < 0.002


def test_the_same_place_again_is_not_drawn_again(shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "live")
    views: list[FigureView] = []
    monkeypatch.setattr(FigureView, "bundle", lambda self: views.append(self) or {})
    painted: list[float] = []
    Explorer("A line", (HEIGHT,), lambda figure, at: painted.append(at["height"]) or paint(figure, 1), str).show()
    painted.clear()
    for height in (7, 8, 7, 8):
        views[0].receive({"values": {"height": height}, "ratio": 1})
    assert painted == [7.0, 8.0]


def test_a_sharp_screen_gets_a_sharp_picture(shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "live")
    views: list[FigureView] = []
    monkeypatch.setattr(FigureView, "bundle", lambda self: views.append(self) or {})
    Explorer("A line", (HEIGHT,), lambda figure, at: paint(figure, at["height"]), str).show()
    for ratio, wide in ((1, PIXELS), (2, 2 * PIXELS), (9, 2 * PIXELS), ("much", PIXELS)):
        views[0].receive({"values": {"height": 7}, "ratio": ratio})
        assert Image.open(io.BytesIO(views[0].picture)).width == pytest.approx(wide, abs=1)


@pytest.mark.parametrize("name", SHOWS)
def test_axes_have_labels_with_units(name: str, caught: list[Explorer]) -> None:
    getattr(dryerbench, name)()
    axes = [one for one in caught[0].figure().axes if one.axison]
    for one in axes:
        assert one.get_ylabel()
        label = one.get_ylabel()
        assert "(" in label or label.startswith(("factor", "meter"))  # a factor and what a meter shows have no unit


HEIGHT = Knob("height", "Height", 0, 10, 1, 5, "ft")


def test_moving_a_knob_redraws_and_says(seen: list[float], view: FigureView) -> None:
    before = view.picture
    view.receive({"values": {"height": 7}})
    assert seen == [5.0, 7.0]
    assert view.words == "7 ft high"
    assert view.turn == 1
    assert view.picture != before
    assert view.picture.startswith(b"\x89PNG")


@pytest.mark.parametrize("sent", ["12 ft", None, True, float("nan"), [7]])
def test_what_is_no_number_leaves_the_knob_where_it_was(sent: object, view: FigureView) -> None:
    view.receive({"values": {"height": sent}})
    assert view.values == {"height": 5.0}
    view.receive(sent)
    assert view.turn == 1


def test_a_number_past_the_end_is_the_end(view: FigureView) -> None:
    view.receive({"values": {"height": 12, "width": 3}})
    assert view.values == {"height": 10.0}


def test_every_knob_has_a_name_for_a_screen_reader(view: FigureView) -> None:
    script = Path(inspect.getfile(FigureView)).with_name("figure_view.js").read_text(encoding="utf-8")
    assert [knob["named"] for knob in view.knobs] == ["Height (ft)"]
    assert 'slider.setAttribute("aria-label", knob.named)' in script
    assert "image.alt = " in script


@pytest.fixture
def seen() -> list[float]:
    return []


@pytest.fixture
def view(seen: list[float]) -> FigureView:
    def drawn(at: dict[str, float], _: float) -> tuple[bytes, str]:
        seen.append(at["height"])
        explorer = Explorer("A line", (HEIGHT,), lambda figure, at: paint(figure, at["height"]), lambda _: "")
        return explorer.png(at, dots=30), f"{at['height']:.0f} ft high"

    return FigureView("A line", (HEIGHT,), 592, 0, drawn)


def paint(figure: Figure, height: float) -> None:
    figure.subplots().plot([0, 1], [0, height])


def overlaps(figure: Figure) -> list[tuple[str, str]]:
    """Return the words of a laid-out figure that lie on each other, tick labels among them.

    A title that ends in empty lines keeps them free for small print.
    """
    drawn = figure.canvas.get_renderer()
    axes = [text for one in figure.axes for text in [*one.texts, one.title, *one.get_xticklabels()] if one.axison]
    axes += [text for one in figure.axes for text in one.texts if not one.axison]
    found = [(text.get_text(), text.get_window_extent(drawn)) for text in [*axes, *figure.texts]]
    found = [one for one in found if one[0] and not one[0].endswith("\n")]
    return [
        (a, b)
        for (a, one), (b, other) in itertools.combinations(found, 2)
        if min(one.x1, other.x1) - max(one.x0, other.x0) > 1 and min(one.y1, other.y1) - max(one.y0, other.y0) > 1
    ]


@pytest.mark.parametrize("name", SHOWS)
def test_no_words_lie_on_each_other_at_the_start(name: str, caught: list[Explorer]) -> None:
    getattr(dryerbench, name)()
    figure = caught[0].figure()
    FigureCanvasAgg(figure).draw()
    assert not overlaps(figure)


@pytest.mark.parametrize("name", SHOWS)
def test_words_can_be_read_on_a_phone(name: str, caught: list[Explorer]) -> None:
    getattr(dryerbench, name)()
    figure = caught[0].figure()
    FigureCanvasAgg(figure).draw()
    texts = [text for one in figure.axes for text in [*one.texts, one.title, one.xaxis.label, one.yaxis.label]]
    sizes = [text.get_fontsize() for text in texts if text.get_text()]
    assert min(sizes, default=10.0) / 72 * 350 / WIDTH >= 8.0


def test_two_words_on_each_other_would_be_seen() -> None:
    explorer = Explorer("Two", (), lambda figure, _: figure.text(0.5, 0.5, "one") and figure.text(0.5, 0.5, "two"), str)
    figure = explorer.figure()
    FigureCanvasAgg(figure).draw()
    assert overlaps(figure) == [("one", "two")]
