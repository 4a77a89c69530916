"""Each explorer at its start and at both ends of every knob: it paints, and says what its numbers say."""

import pytest

from dryerbench.drawing import interactive_heat
from dryerbench.drawing.interactive_figure import MODE, Explorer

SHOWN = ("show_cycle", "show_airflow", "show_cup", "show_thermistor", "show_contact")


@pytest.fixture(params=SHOWN)
def explorer(request, monkeypatch):
    kept = []
    monkeypatch.setattr(Explorer, "show", lambda self: kept.append(self))
    getattr(interactive_heat, request.param)()
    return kept[0]


def test_paints_and_speaks_at_both_ends_of_every_knob(explorer):
    said = {explorer.words(explorer.start)}
    for knob in explorer.knobs:
        assert knob.low <= knob.start <= knob.high
        for value in (knob.low, knob.high):
            at = {**explorer.start, knob.name: value}
            explorer.figure(at).canvas.draw()
            said.add(explorer.words(at))
    assert len(said) > len(explorer.knobs)
    assert all("nan" not in words and "\n" not in words for words in said)


def test_still_picture_and_words(explorer):
    assert explorer.png().startswith(b"\x89PNG")
    assert len(explorer.words(explorer.start)) > 40


def say(name, monkeypatch, **changes):
    kept = []
    monkeypatch.setattr(Explorer, "show", lambda self: kept.append(self))
    getattr(interactive_heat, name)()
    return kept[0].words({**kept[0].start, **changes})


def test_words_are_the_models(monkeypatch):
    assert "dry after 37 min" in say("show_cycle", monkeypatch)
    assert "6400 W" in say("show_cycle", monkeypatch)
    assert "4267 W" in say("show_cycle", monkeypatch, open=1)
    assert "high limit opened" in say("show_cycle", monkeypatch, shut=80)
    assert "0 cfm" in say("show_airflow", monkeypatch, shut=100)
    assert "longer than the 20 ft" in say("show_airflow", monkeypatch, feet=25, elbows=3)
    assert "Local code" in say("show_airflow", monkeypatch)
    assert "never gets to" in say("show_cup", monkeypatch, part=2)
    assert "unplugged" in say("show_cup", monkeypatch)
    assert "16.00 kΩ" in say("show_thermistor", monkeypatch)
    assert "burning" in say("show_contact", monkeypatch, milliohms=100)


def test_words_mode_shows_words_alone(monkeypatch):
    bundles = []
    monkeypatch.setenv(MODE, "words")
    monkeypatch.setattr("dryerbench.drawing.interactive_figure.show_bundle", bundles.append)
    interactive_heat.show_contact()
    assert list(bundles[0]) == ["text/plain"]
