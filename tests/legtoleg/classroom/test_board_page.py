"""The board as a page: who needs somebody stands first, names can be off, nothing is wider than the screen."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.legtoleg.accessible import violations

from dryerbench.registry import SHEETS
from legtoleg.core.page_templates import template

pytestmark = pytest.mark.browser
FIRST = ("Ada", "Bo", "Cy", "Dee", "Eli", "Fay", "Gus", "Hal", "Ida", "Jo", "Kit", "Lou", "Mae", "Ned", "Ona", "Pat")
PICTURE = "LEGTOLEG_BOARD_PICTURE"


def made_up(number: int) -> dict[str, object]:
    """Return the row of a made-up apprentice."""
    lessons = list(SHEETS)
    lesson = lessons[(number * 7) % 4 + 1]
    sheet = SHEETS[lesson]
    now = time.time()
    done = lessons[: number % 4]
    here = number % 6 != 5
    return {
        "id": f"demo-{number:02d}",
        "name": f"{FIRST[number % 16]} Demo {number + 1}",
        "group": "",
        "here": here,
        "last": now - (30 if here else 4000),
        "lesson": "" if number == 11 else lesson,
        "title": f"{lesson[:2]} · {sheet.title}",
        "question": sheet.questions[number % len(sheet.questions)].title,
        "answered": number % (len(sheet.questions) + 1),
        "questions": len(sheet.questions),
        "bench": (number * 5) % 41,
        "hand": now - 200 if number in (3, 8) else 0,
        "stuck": f"14 min at “{sheet.questions[0].title}”" if number == 6 else "",
        "test": {"test": "calls-1", "kind": "calls", "acts": 12, "left": 85} if number == 9 else None,
        "handed": [
            {
                "lesson": one,
                "number": 1,
                "at": "2026-11-27T01:00:00+00:00",
                "sha256": "ab" * 32,
                "card": 1,
                "feedback": True,
            }
            for one in [*done, lesson][:3]
        ],
        "signed": done,
        "cards": {lesson: 2} if number % 7 == 4 else {},
    }


@pytest.fixture
def board(page: Any) -> Iterator[Any]:
    lessons = {name: f"{name[:2]} · {sheet.title}" for name, sheet in SHEETS.items()}
    told = {
        "rows": [made_up(number) for number in range(24)],
        "desk": {"what": "", "words": "", "done": 0, "of": 0, "busy": False},
        "lessons": lessons,
        "minutes": 120,
        "longest": 1440,
        "token": "t",
        "xsrf": "x",
    }
    html = template("classroom/board.html").render(cohort="Fall class (made up)", lessons=lessons, told=told)

    def answer(route: Any) -> None:
        if route.request.url.partition("?")[0].endswith("/live"):
            return  # it waits, as a page of events does
        route.fulfill(body=html, content_type="text/html; charset=utf-8")

    page.route("http://board.test/**", answer)
    page.goto("http://board.test/services/class/")
    yield page
    page.unroute_all(behavior="ignoreErrors")


def test_who_needs_somebody_stands_first(board: Any) -> None:
    first = board.locator("#look .tile b").all_inner_texts()
    assert first == ["Dee Demo 4", "Ida Demo 9", "Gus Demo 7"]
    assert "Hand up" in board.locator("#look .tile").first.inner_text()
    assert "14 min at" in board.locator("#look .tile").nth(2).inner_text()
    assert board.locator(".tile").count() == 24
    assert board.locator("#n-hand").inner_text() == "2"
    assert board.locator("#n-stuck").inner_text() == "1"


def test_a_supervised_test_stands_in_place_of_the_old_lesson(board: Any) -> None:
    words = board.locator(".tile[data-id=demo-09]").inner_text()
    assert "Supervised test: 12 acts, 85 min left" in words
    assert "at work on the test" in words
    assert SHEETS[str(made_up(9)["lesson"])].title not in words
    board.locator(".tile[data-id=demo-09]").click()
    assert board.get_by_role("button", name="Open a supervised test").is_disabled()


@pytest.mark.parametrize("who", ["", "demo-02"])
def test_a_test_is_opened_for_the_minutes_that_were_typed(board: Any, who: str) -> None:
    if who:
        board.locator(f".tile[data-id={who}]").click()
    else:
        board.get_by_role("button", name="Supervised test", exact=True).click()
    press = board.locator("#one").get_by_role("button", name="Open")
    box = board.get_by_label("Minutes of the test")
    assert box.input_value() == "120"
    box.fill("0")
    press.click()
    assert board.locator("#one").is_visible()  # it was not taken
    box.fill("45")
    with board.expect_request("**/act") as asked:
        press.click()
    assert asked.value.post_data_json == {"what": "test-open", "who": who, "lesson": "", "minutes": 45}
    assert not board.locator("#one").is_visible()


def test_names_can_be_off(board: Any) -> None:
    board.get_by_role("button", name="Names off").click()
    assert "Demo" not in board.locator("main").inner_text()
    board.locator(".tile").first.click()
    assert "Demo" not in board.locator("#one").inner_text()


@pytest.mark.slow
@pytest.mark.parametrize("width", [1366, 390])
def test_axe_finds_nothing(board: Any, width: int) -> None:
    board.set_viewport_size({"width": width, "height": 900})
    assert violations(board) == {}
    board.locator(".tile").first.click()
    assert violations(board) == {}


@pytest.mark.parametrize("size", [(1024, 768), (1366, 768), (1920, 1080)])
def test_nothing_is_wider_than_the_screen(board: Any, size: tuple[int, int]) -> None:
    board.set_viewport_size({"width": size[0], "height": size[1]})
    assert board.evaluate("document.documentElement.scrollWidth") <= size[0]
    cut = board.evaluate("[...document.querySelectorAll('button')].some(b => b.scrollWidth > b.clientWidth + 1)")
    assert not cut
    if os.environ.get(PICTURE):
        board.screenshot(path=Path(os.environ[PICTURE], f"board-{size[0]}.png"))
        board.locator(".tile").first.click()
        board.screenshot(path=Path(os.environ[PICTURE], f"one-{size[0]}.png"))
