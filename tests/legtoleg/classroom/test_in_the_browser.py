"""A class in a real browser: two apprentices and the instructor through a lesson, from the slip to the new card."""

from __future__ import annotations

import os
import re
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.legtoleg.accessible import violations

from dryerbench.registry import SHEETS

pytestmark = [
    pytest.mark.browser,
    pytest.mark.server,
    pytest.mark.slow,
    pytest.mark.jail,
    pytest.mark.skipif("LEGTOLEG_CLASS" not in os.environ, reason="set LEGTOLEG_CLASS=1, run it alone"),
]
LESSON = "02_two_legs"
TITLES = {one.name: one.title for one in SHEETS[LESSON].questions}
RECORD = b"application/vnd.leg-to-leg.answer+json"
PICTURES = "LEGTOLEG_CLASS_PICTURES"
SECONDS = 120_000
SCREEN = {"width": 1366, "height": 768}


def shot(page: Any, name: str) -> None:
    """Keep a picture of the page, where a folder for pictures is named."""
    if PICTURES in os.environ:
        page.screenshot(path=str(Path(os.environ[PICTURES], f"{name}.png")))


def somebody(browser: Any) -> Any:
    """Return a page of a browser that knows nobody: cookies are a person's."""
    page = browser.new_context(viewport=SCREEN).new_page()
    page.set_default_timeout(SECONDS)
    return page


def log_in(page: Any, running: Any, who: str) -> None:
    page.goto(f"{running.address}/hub/login")
    assert violations(page) == {}
    shot(page, f"door-{who}")
    page.get_by_label("Your id").fill(who)
    first = who not in running.chosen
    page.get_by_label("Your password, or the code").fill(running.codes[who] if first else running.password)
    if first:
        page.get_by_text("The first time: choose a password").click()
        page.get_by_label("A password of your own").fill(running.password)
        page.get_by_label("The same password again").fill(running.password)
        shot(page, f"door-first-time-{who}")
    page.get_by_role("button", name="Log in").click()
    running.chosen.add(who)
    if who == "instructor":
        page.wait_for_url("**/services/class/")
        return
    page.locator("#jp-main-dock-panel .jp-Notebook .jp-Cell").first.wait_for()
    assert not page.locator(".jp-FileBrowser").is_visible(), "a seat opens with its list of files closed"
    shot(page, f"start-{who}")


def open_lesson(page: Any, running: Any, who: str) -> None:
    page.goto(f"{running.address}/user/{who}/lab/tree/lessons/{LESSON}/{LESSON}.ipynb")
    page.locator(".jp-NotebookPanel:visible .jp-Cell").first.wait_for()
    page.get_by_text("Python 3 (ipykernel) | Idle").wait_for()


def answer(page: Any, title: str, words: str) -> None:
    """Type an answer into the box of its question, and wait until the kernel has heard it."""
    box = page.locator(
        ".jp-NotebookPanel:visible .ltl-answer:not(.ltl-practice)", has_text=f"Your answer: {title} ("
    ).first
    field = box.get_by_role("textbox")
    field.fill(words)
    field.press("Enter")
    box.locator(".ltl-heard:not(:empty)").wait_for(state="attached")


def run_all(page: Any) -> None:
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.locator(".lm-Menu-itemLabel", has_text=re.compile("^Run All Cells$")).click()


def hand_in(page: Any, who: str, number: int) -> None:
    button = page.get_by_role("button", name="Hand in this page")
    button.wait_for()
    button.scroll_into_view_if_needed()
    button.click()
    page.get_by_text(f"Handed in: lesson 02, number {number}").wait_for()
    page.get_by_text("Receipt (SHA-256)").first.wait_for()
    shot(page, f"handed-in-{who}")


def until(true: Callable[[], object], seconds: float = 60) -> None:
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end
        time.sleep(0.3)


def test_from_the_slip_to_the_new_card(class_of_three: Any, page: Any) -> None:
    folder, browser = class_of_three.folder, page.context.browser
    seats = {who: somebody(browser) for who in ("bo-02", "cy-03")}
    for who, words in (("bo-02", "240 V"), ("cy-03", "0 V")):
        seat = seats[who]
        log_in(seat, class_of_three, who)
        open_lesson(seat, class_of_three, who)
        run_all(seat)
        answer(seat, TITLES["leg_to_leg_volts"], "240 V")
        answer(seat, TITLES["strapped_case_volts"], words)
        shot(seat, f"answered-{who}")
        hand_in(seat, who, 1)
        kept = list((folder / "received" / who).glob(f"{LESSON}-*.ipynb"))
        assert len(kept) == 1
        assert RECORD in kept[0].read_bytes()  # the button saved the page first: what ran since it was opened is in it
    seats["cy-03"].get_by_role("button", name="Raise a hand").click()
    seats["cy-03"].get_by_role("button", name="Take the hand down").wait_for()

    board = somebody(browser)
    log_in(board, class_of_three, "instructor")
    first = board.locator("#look .tile").first
    first.wait_for()
    assert "Cy Demo" in first.inner_text()
    assert "Hand up" in first.inner_text()
    shot(board, "board-hand-up")
    first.click()
    shot(board, "board-one")
    board.get_by_role("button", name="Hand down").click()
    board.locator("#first").wait_for(state="hidden")
    until(lambda: all((folder / "submitted" / who / LESSON / f"{LESSON}.ipynb").is_file() for who in seats))
    board.get_by_role("button", name="Grade what came").click()
    board.get_by_text("2 graded").wait_for()
    shot(board, "board-marked")

    board.locator('.tile[data-id="cy-03"] .strip .new').first.wait_for()  # the hold dealt a new card by itself
    board.locator('.tile[data-id="cy-03"]').click()
    shot(board, "board-feedback")
    with board.context.expect_page() as opened:
        board.get_by_role("link", name="page").first.click()
    feedback = opened.value
    feedback.get_by_text(TITLES["strapped_case_volts"]).first.wait_for()
    shot(feedback, "feedback-of-the-instructor")
    feedback.close()

    seat = seats["cy-03"]
    seat.goto(f"{class_of_three.address}/user/cy-03/lab/tree/feedback/{LESSON}/{LESSON}.html")
    inside = seat.frame_locator("iframe")
    inside.get_by_text(TITLES["strapped_case_volts"]).first.wait_for()
    shot(seat, "feedback-of-the-apprentice")
    open_lesson(seat, class_of_three, "cy-03")
    seat.get_by_role("menuitem", name="Kernel", exact=True).click()
    seat.locator(".lm-Menu-itemLabel", has_text="Restart Kernel and Run All Cells").click()
    seat.locator(".jp-Dialog .jp-mod-accept").click()
    seat.get_by_text("card 2").first.wait_for()
    shot(seat, "new-card")
