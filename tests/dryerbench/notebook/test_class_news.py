"""News of a class: told once, in one line, with the way to it."""

from __future__ import annotations

from pathlib import Path

import pytest

from dryerbench.notebook.class_news import ClassNews

HEATER, LEGS = "03_heater_power", "02_two_legs"


def state(**back: dict[str, object]) -> dict[str, object]:
    names = {"heater": HEATER, "legs": LEGS}
    return {"hand": False, "back": {names[name]: one for name, one in back.items()}}


def test_what_was_there_when_the_page_was_opened_is_no_news() -> None:
    old = {"feedback": 5, "card": 2, "signed": ""}
    news = ClassNews(state(heater=old))
    assert not news.take(state(heater=old))
    assert news.bundle["text/plain"] == ""
    assert news.take(state(heater=old | {"feedback": 6}))
    assert news.bundle["text/plain"] == "New from your instructor: lesson 03 · Heater power (feedback)."
    assert not news.take(state(heater=old | {"feedback": 6}))


def test_all_that_came_is_one_line_and_a_new_card_says_what_to_do() -> None:
    news = ClassNews(state())
    news.take(state(legs={"feedback": 5, "card": 1, "signed": "2026-11-27"}))
    news.take(
        state(heater={"feedback": 6, "card": 2, "signed": ""}, legs={"feedback": 5, "card": 1, "signed": "2026-11-27"})
    )
    assert news.bundle["text/plain"] == (
        "New from your instructor: lesson 02 · Two legs (signed off, feedback); lesson 03 · Heater power (feedback, "
        "card 2 is dealt). To work on a new card, open its lesson and choose Run All Cells."
    )


def test_a_class_that_was_away_at_first_tells_no_old_news() -> None:
    news = ClassNews({})
    assert not news.take({})
    assert not news.take(state(heater={"feedback": 6, "card": 2, "signed": ""}))
    assert news.bundle["text/plain"] == ""
    assert not news.take({})


def test_the_line_leads_to_the_feedback_or_else_to_the_lesson(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for place in (f"{HEATER}/{HEATER}.ipynb", f"feedback/{LEGS}/{LEGS}.html", "00_start/00_start.ipynb"):
        (tmp_path / place).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / place).write_text("")
    monkeypatch.chdir(tmp_path / "00_start")
    news = ClassNews(state())
    news.take(state(heater={"card": 2}, legs={"feedback": 5, "signed": "2026-11-27"}))
    html = str(news.bundle["text/html"])
    assert f"href='../{HEATER}/{HEATER}.ipynb'" in html
    assert f"href='../feedback/{LEGS}/{LEGS}.html'" in html


@pytest.mark.parametrize("back", [7, [], {"x": {}}, {HEATER: 3}, {HEATER: {"card": "2", "feedback": []}}])
def test_what_is_no_news_is_passed_over(back: object) -> None:
    news = ClassNews(state())
    news.take({"back": back})
    assert news.bundle["text/plain"] == ""
