"""Explorers: with knobs, still, or in words, and every drawing of the lesson draws at every end of its knobs."""

from __future__ import annotations

import itertools
from base64 import b64decode

import pytest

import dryerbench
from dryerbench import explorers
from dryerbench.explorers import Explorer

SHOWS = [name for name in dryerbench.__all__ if name.startswith("show_") and name not in ("show_path", "show_bench")]


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[dict]:
    found: list[dict] = []
    monkeypatch.setattr(explorers, "show_bundle", found.append)
    return found


@pytest.fixture
def caught(monkeypatch: pytest.MonkeyPatch) -> list[Explorer]:
    found: list[Explorer] = []
    monkeypatch.setattr(Explorer, "show", lambda self: found.append(self))
    return found


@pytest.mark.parametrize("name", SHOWS)
def test_still_and_words(name: str, shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(explorers.MODE, "still")
    getattr(dryerbench, name)()
    assert b64decode(shown[0]["image/png"]).startswith(b"\x89PNG")
    assert len(shown[0]["text/plain"]) > 40
    monkeypatch.setenv(explorers.MODE, "words")
    getattr(dryerbench, name)()
    assert list(shown[1]) == ["text/plain"]


@pytest.mark.parametrize("name", SHOWS)
def test_live_has_the_still_beside_it(name: str, shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(explorers.MODE, "live")
    getattr(dryerbench, name)()
    assert {"application/vnd.jupyter.widget-view+json", "image/png", "text/plain"} <= set(shown[0])


@pytest.mark.parametrize("name", SHOWS)
def test_draws_at_every_end_of_its_knobs(name: str, caught: list[Explorer]) -> None:
    getattr(dryerbench, name)()
    explorer = caught[0]
    ends = [(knob.low, knob.high) for knob in explorer.knobs]
    for corner in itertools.product(*ends):
        values = dict(zip(explorer.start, corner, strict=True))
        if values.get("ohms", 1.0) == 0.0:
            continue
        figure = explorer.figure(values)
        figure.canvas.draw()
        words = explorer.words(values)
        assert "nan" not in words
        assert "inf" not in words


@pytest.mark.parametrize("name", SHOWS)
def test_axes_have_labels_with_units(name: str, caught: list[Explorer]) -> None:
    getattr(dryerbench, name)()
    axes = [one for one in caught[0].figure().axes if one.axison]
    for one in axes:
        assert one.get_ylabel()
        label = one.get_ylabel()
        assert "(" in label or label.startswith(("factor", "meter"))  # a factor and what a meter shows have no unit


def test_moving_a_knob_redraws(shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(explorers.MODE, "live")
    seen: list[float] = []
    explorer = Explorer(
        "A line",
        (explorers.Knob("height", "Height", 0, 10, 1, 5, "ft"),),
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
