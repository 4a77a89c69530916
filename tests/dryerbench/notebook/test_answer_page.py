"""Answer boxes in a real browser, as a screen reader reads them: every part has a name, and what changes is said."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from tests.legtoleg.accessible import violations

from dryerbench.notebook import answer_box
from dryerbench.notebook.answer_box import AnswerBox
from dryerbench.notebook.answer_entry import AnswerEntry
from dryerbench.registry import sheet

pytestmark = [pytest.mark.slow, pytest.mark.browser]
NAMES = ("menu", "value", "said", "fine", "boxed", "turn")
_HOST = """
<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Box</title></head>
<body><main><h1>Box</h1><div class="jp-OutputArea-output" id="here"></div></main>
<script type="module">%s
const state = JSON.parse(await window.ask("null"));
const heard = [];
const model = {
  get: (name) => state[name],
  on: (_, act) => heard.push(act),
  off: () => {},
  send: async (content) => {
    Object.assign(state, JSON.parse(await window.ask(JSON.stringify(content))));
    for (const act of heard) act();
  },
};
render({ model, el: document.getElementById("here") });
window.ready = true;
</script></body></html>
"""


@contextmanager
def box_page(browser: Any, lesson: str, question: str) -> Iterator[tuple[Any, AnswerBox]]:
    """Show the box of one question on a page, its Python behind it."""
    paper = sheet(lesson)
    box = AnswerBox(AnswerEntry(paper.question(question), paper.card("demo-02"), ""), lambda _: None)

    def ask(content: str) -> str:
        said = json.loads(content)
        if said is not None:
            box.receive(said)
        return json.dumps({name: getattr(box, name) for name in NAMES})

    script = Path(answer_box.__file__).with_suffix(".js").read_text(encoding="utf-8")
    context = browser.new_context(viewport={"width": 900, "height": 800})
    page = context.new_page()
    page.set_default_timeout(30_000)
    page.expose_function("ask", ask)
    page.set_content(_HOST % script.replace("export default { render };", ""))
    page.wait_for_function("() => window.ready")
    yield page, box
    context.close()


def read_out(page: Any) -> str:
    """Return what is read out, line by line; nothing that can be used is without a name."""
    lines = str(page.locator(".ltl-answer").aria_snapshot())
    nameless = re.findall(
        r"(?m)^\s*- (?:textbox|button|radio|checkbox|list|table|group|rowheader)(?: \[\w+\])*:?$", lines
    )
    assert nameless == [], lines
    assert violations(page) == {}
    return lines


def test_a_number(browser: Any) -> None:
    with box_page(browser, "03_heater_power", "element_current") as (page, box):
        assert 'textbox "Your answer: Current of coil 1 (in A, 3 figures)"' in read_out(page)
        page.keyboard.press("Tab")
        page.keyboard.type("240 V / 27 ohm")
        page.keyboard.press("Enter")
        page.get_by_role("status").filter(has_text="8.89 A, from 240 V / 27 ohm").wait_for()
        read = read_out(page)
        assert re.search(r'button "Record: \w', read)
        assert re.search(r'button "Take this answer back: \w', read)
        assert box.boxed


def test_one_letter_of_several(browser: Any) -> None:
    with box_page(browser, "01_made_dead", "body_effect") as (page, box):
        read = read_out(page)
        assert re.search(r'group "Your answer: .+ \(with one letter\)"', read)
        page.keyboard.press("Tab")
        page.keyboard.press("Space")
        page.get_by_role("status").filter(has_text="Recorded").wait_for()
        assert re.search(r'radio "a .+" \[checked\]', read_out(page))
        assert box.value == "a"


def test_an_order(browser: Any) -> None:
    with box_page(browser, "01_made_dead", "dead_order") as (page, box):
        read = read_out(page)
        assert 'list "Steps, first step on top"' in read
        assert "⠿" not in read
        first = page.get_by_role("listitem").first.locator(".ltl-words").inner_text()
        page.keyboard.press("Tab")
        page.keyboard.press("ArrowDown")
        page.keyboard.press("ArrowDown")
        page.get_by_role("status").filter(has_text=f"{first}: now place 3 of 9").wait_for()
        page.wait_for_function("() => document.querySelector('.ltl-answer').dataset.turn === '2'")
        assert f'button "Up: {first}, place 3 of 9"' in read_out(page)
        assert str(box.value).replace(" ", "").index("a") == 2


def test_a_table_of_readings(browser: Any) -> None:
    with box_page(browser, "05_path_to_case", "case_readings") as (page, box):
        read = read_out(page)
        assert re.search(r'table "Your answer: Readings of .+ \(as a table of readings\)"', read)
        rows = [row.label for row in box.entry.question.rows]
        assert [f'textbox "{row}"' in read for row in rows] == [True] * len(rows)
        page.keyboard.press("Tab")
        for _ in rows:
            page.keyboard.type("OL")
            page.keyboard.press("Enter")
        page.wait_for_function("n => Number(document.querySelector('.ltl-answer').dataset.turn) >= n", arg=len(rows))
        assert box.value == dict.fromkeys(rows, "OL")


def test_a_step_is_dragged_as_far_as_the_pointer_goes(browser: Any) -> None:
    with box_page(browser, "01_made_dead", "dead_order") as (page, box):
        first = page.get_by_role("listitem").first.locator(".ltl-words").inner_text()
        grip, over = page.locator("li .ltl-grip").first.bounding_box(), page.locator("li").nth(5).bounding_box()
        page.mouse.move(grip["x"] + 5, grip["y"] + 5)
        page.mouse.down()
        page.mouse.move(over["x"] + 5, over["y"] + over["height"] - 3, steps=12)
        page.mouse.up()
        page.get_by_role("status").filter(has_text=f"{first}: now place 6 of 9").wait_for()
        page.wait_for_function("() => document.querySelector('.ltl-answer').dataset.turn === '1'")
        assert str(box.value).replace(" ", "").index("a") == 5
        assert page.locator("li.ltl-held").count() == 0
