"""Still figures: in the page, on paper and in words only; each way with what it shows in words."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest
from tests.dryerbench.machine_view.looks import PLATES, SVG

import dryerbench
from dryerbench.drawing import interactive_figure, still_figure

NAMES = [f"show_{make.__name__}" for make in PLATES]


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[dict]:
    found: list[dict] = []
    monkeypatch.setattr(still_figure, "show_bundle", found.append)
    return found


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("mode", ["live", "still"])
def test_in_a_page_it_is_a_named_picture_with_its_words_below(
    name: str, mode: str, shown: list[dict], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(interactive_figure.MODE, mode)
    getattr(dryerbench, name)()
    html = shown[0]["text/html"]
    figure = ET.fromstring(html[html.index("<figure") :])
    svg, caption = figure.find(f".//{SVG}svg"), figure.find("figcaption")
    assert svg.get("aria-label")
    assert svg.find(f"{SVG}desc").text == caption.text
    assert shown[0]["text/plain"] == f"{svg.get('aria-label')}. {caption.text}"
    assert "$" not in re.sub(r">[^<]*<", "><", html)


def test_it_is_as_wide_as_its_column_and_no_wider_than_drawn(shown: list[dict]) -> None:
    dryerbench.show_strap()
    assert "width:100%;min-width:330px;max-width:560px;height:auto" in shown[0]["text/html"]


def test_a_dark_page_sets_its_colors_and_paper_does_not(shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    dryerbench.show_strap()
    style = shown[0]["text/html"].split("</style>")[0]
    assert "@media screen{[data-jp-theme-light='false'] .real-thing{--mv-ink: #E6EAE8;" in style
    monkeypatch.setenv(interactive_figure.MODE, "print")
    dryerbench.show_strap()
    assert set(shown[1]) == {"image/svg+xml", "text/plain"}
    assert "var(" not in shown[1]["image/svg+xml"]


@pytest.mark.parametrize("name", NAMES)
def test_in_words_only_it_is_its_words(name: str, shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "words")
    getattr(dryerbench, name)()
    assert list(shown[0]) == ["text/plain"]
    assert len(shown[0]["text/plain"]) > 150
