"""The tech sheet of each call on the page: words for whoever has no page, and a clear line for any other card."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.registry import sheet
from dryerbench.topics.call_to_close import figures
from dryerbench.topics.call_to_close.figures import TechSheetError, show_tech_sheet


@pytest.mark.parametrize("call", [1, 2, 3])
def test_it_shows_every_line_of_the_sheet(call: int, monkeypatch: pytest.MonkeyPatch) -> None:
    shown: list[Any] = []
    monkeypatch.setattr(figures, "show_bundle", shown.append)
    card: Any = sheet("10_call_to_close").card("demo-01")
    show_tech_sheet(card, call)
    (bundle,) = shown
    assert bundle["text/plain"].split("\n") == list(card.tech_sheet(call))
    assert "<pre" in bundle["text/html"]
    assert "&lt;" not in bundle["text/plain"]


@pytest.mark.parametrize("lesson", ["01_made_dead", "09_open_and_close"])
def test_another_card_has_none(lesson: str) -> None:
    with pytest.raises(TechSheetError, match="card of lesson 10"):
        show_tech_sheet(sheet(lesson).card("demo-01"))
