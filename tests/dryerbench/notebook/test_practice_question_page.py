"""Practice cards in a real browser, one of each kind: answered, judged at once, and another card dealt."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from tests.dryerbench.notebook.test_answer_page import _HOST
from tests.legtoleg.accessible import violations

from dryerbench.course.practice_question import PickMany, ReadingsGo
from dryerbench.course.questions import Lettered
from dryerbench.notebook import answer_box
from dryerbench.notebook.practice_question_widget import PracticeBox
from dryerbench.registry import PRACTICE_QUESTIONS

pytestmark = [pytest.mark.slow, pytest.mark.browser]
NAMES = ("menu", "said", "fine", "turn")
SCRIPT = Path(answer_box.__file__).with_suffix(".js").read_text(encoding="utf-8")


@contextmanager
def card_page(browser: Any, name: str) -> Iterator[tuple[Any, PracticeBox]]:
    """Show the first practice card of ``name`` on a page, its Python behind it."""
    box = PracticeBox(name)

    def ask(content: str) -> str:
        said = json.loads(content)
        if said is not None:
            box.receive(said)
        return json.dumps({trait: getattr(box, trait) for trait in NAMES})

    context = browser.new_context(viewport={"width": 900, "height": 900})
    tab = context.new_page()
    tab.set_default_timeout(30_000)
    tab.expose_function("ask", ask)
    tab.set_content(_HOST % SCRIPT.replace("export default { render };", ""))
    tab.wait_for_function("() => window.ready")
    yield tab, box
    context.close()


def judged(tab: Any, words: str) -> None:
    """Press the button that judges, and wait for ``words``; whoever listens hears them, and nothing lacks a name."""
    tab.get_by_role("button", name="Check it:").click()
    tab.locator(".ltl-heard").filter(has_text=words).wait_for()
    assert violations(tab) == {}


def another(tab: Any) -> None:
    """Press the button that deals another card, and wait for it: the card before is judged no more."""
    tab.get_by_role("button", name="Another card:").click()
    tab.get_by_text("Practice card 2, not graded.").wait_for()
    assert tab.locator(".ltl-heard").inner_text() == ""
    assert "ltl-told" in tab.evaluate("() => document.activeElement.className")


def test_one_letter(browser: Any) -> None:
    with card_page(browser, "first_aid") as (tab, box):
        assert isinstance(box.practiced.question, Lettered)
        keys = {one.key: one.text for one in box.practiced.question.options_for(box.practiced.card)}
        judged(tab, "Answer with one letter.")
        tab.get_by_label(keys["1"]).check()
        assert box.turn == 1  # nothing is judged before the button
        judged(tab, "Not yet.")
        assert box.fine is False
        tab.get_by_label(keys["0"]).check()
        judged(tab, "Right.")
        another(tab)


def test_all_that_fit(browser: Any) -> None:
    pool = PRACTICE_QUESTIONS["fit_kits"]
    assert isinstance(pool, PickMany)
    with card_page(browser, "fit_kits") as (tab, box):
        assert isinstance(box.practiced.question, Lettered)
        for one in box.practiced.question.options_for(box.practiced.card):
            if one.text in pool.fits:
                tab.get_by_label(one.text).check()
        judged(tab, "Right.")
        another(tab)
        judged(tab, "Answer with all letters that fit.")


def test_an_order_by_keyboard_and_by_its_grip(browser: Any) -> None:
    with card_page(browser, "dead_order") as (tab, _):
        judged(tab, "comes before")  # as dealt: this card is not dealt in order
        top, second = (tab.locator("li").nth(place).locator(".ltl-words").inner_text() for place in (0, 1))
        tab.locator("li").first.get_by_role("button", name="Down:").press("ArrowDown")
        assert tab.locator("li .ltl-words").all_inner_texts()[:2] == [second, top]
        grip, over = tab.locator("li .ltl-grip").first.bounding_box(), tab.locator("li").nth(3).bounding_box()
        tab.mouse.move(grip["x"] + 5, grip["y"] + 5)
        tab.mouse.down()
        tab.mouse.move(over["x"] + 5, over["y"] + over["height"] - 2, steps=8)
        tab.mouse.up()
        shown = tab.locator("li .ltl-words").all_inner_texts()
        assert shown.index(second) > 1
        _, steps = PRACTICE_QUESTIONS["dead_order"].jobs[0]  # type: ignore[attr-defined]
        for place, step in enumerate(steps):
            while (at := tab.locator("li .ltl-words").all_inner_texts().index(step.text)) > place:
                tab.locator("li").nth(at).get_by_role("button", name=re.compile("^Up:")).click()
        judged(tab, "Right.")
        assert tab.get_by_role("button", name="Record this order").count() == 0
        another(tab)
        assert tab.locator("li").count() == len(PRACTICE_QUESTIONS["dead_order"].jobs[1][1])  # type: ignore[attr-defined]


def test_a_table(browser: Any) -> None:
    with card_page(browser, "case_readings") as (tab, box):
        go = box.practiced.go
        assert isinstance(go, ReadingsGo)
        judged(tab, "Answer as a table of readings.")
        for one in go.readings:
            tab.get_by_label(one.label).fill("OL" if one.number is None else f"{one.number:g} ohm")
        tab.get_by_label(go.readings[0].label).fill("OL")
        judged(tab, go.readings[0].label)
        tab.get_by_label(go.readings[0].label).fill(f"{go.readings[0].number:g} ohm")
        judged(tab, "Right.")
        another(tab)
