"""A supervised test in a real browser: the instructor opens it, an apprentice works and names a fault, marks come."""

from __future__ import annotations

import os
from collections.abc import Callable
from types import ModuleType
from typing import Any

import pytest

from legtoleg.classroom.sealed_book import SealedBook
from legtoleg.classroom.sealed_opening import close_all
from legtoleg.report.report_run import numbers_of

pytestmark = [
    pytest.mark.browser,
    pytest.mark.server,
    pytest.mark.slow,
    pytest.mark.jail,
    pytest.mark.skipif("LEGTOLEG_CLASS" not in os.environ, reason="set LEGTOLEG_CLASS=1, run it alone"),
]
PAGE = "lessons/supervised_test.ipynb"
STEPS = {
    "Pull the plug": "unplug",
    "Check the meter on a known live source": "prove_meter",
    "Test dead": "test_dead",
    "Take every cover off": "cover_off",
}
"""The panel's buttons, and the act that each has to put into the class's book."""
BLADES = ("plug-1", "plug-3")
"""Where the two hot blades of the plug are on the drawing."""
SAID = ("Probe A is on plug blade 1. Now the other one.", "plug blade 1 to plug blade 3")
"""What the panel says to each."""


def open_test_page(page: Any, running: Any, who: str) -> Any:
    """Open the page of the test, run its one cell, and return what stands on the page."""
    page.goto(f"{running.address}/user/{who}/lab/tree/{PAGE}")
    inside = page.locator(".jp-NotebookPanel:visible")
    inside.locator(".jp-Cell").first.wait_for()
    page.get_by_text("Python 3 (ipykernel) | Idle").wait_for()
    inside.locator(".jp-CodeCell .cm-content").first.click()
    page.keyboard.press("Shift+Enter")
    inside.get_by_role("heading", name="Call 1").wait_for()
    return inside


def work_in_the_panel(by: Any, inside: Any, acts: Callable[[], list[str]]) -> None:
    """Do the first steps of call 1 by the panel's buttons; each is in the class's book before the next."""
    panel = inside.get_by_role("group", name="Bench", exact=True).first
    panel.wait_for()
    for number, button in enumerate(STEPS, start=1):
        panel.get_by_role("button", name=button, exact=True).click()
        by.until(lambda number=number: len(acts()) == number)
    panel.locator('[data-go="wall"]').click()
    panel.locator('.mv-stage [data-point="plug-1"]').wait_for()
    for spot, place, words in zip(BLADES, (".ltl-say", ".ltl-of"), SAID, strict=True):
        panel.locator(f'[data-point="{spot}"]').click()
        panel.locator(place, has_text=words).wait_for()
    assert acts() == [*STEPS.values(), "probe"]
    assert panel.locator('[data-go="wall"]').get_attribute("aria-pressed") == "true"
    panel.scroll_into_view_if_needed()


def name_a_fault(inside: Any) -> str:
    """Name the second fault of the list for call 1, and return its words."""
    fault = inside.get_by_label("The fault is").first
    fault.scroll_into_view_if_needed()
    fault.select_option(index=1)
    inside.get_by_role("button", name="Name it, once").first.click()
    return str(fault.locator("option").nth(1).inner_text())


def end_the_test(by: Any, seat: Any, inside: Any, is_open: Callable[[], bool]) -> None:
    """Press twice; the first press ends nothing."""
    end = inside.get_by_role("button", name="I am done: end the test")
    end.scroll_into_view_if_needed()
    end.click()
    inside.get_by_text("Press again to end it").wait_for()
    by.shot(seat, "supervised-ending")
    assert is_open()
    end.click()
    by.until(lambda: not is_open())
    by.shot(seat, "supervised-ended")


def test_from_the_opening_to_the_marks(class_of_three: Any, page: Any, load: Callable[[str], ModuleType]) -> None:
    by = load("test_in_the_browser")
    room, browser = class_of_three.room, page.context.browser
    close_all(room)
    board, seat = by.somebody(browser), by.somebody(browser)
    board.on("dialog", lambda one: one.accept())
    by.log_in(board, class_of_three, "instructor")
    board.get_by_role("button", name="Supervised test").click()
    board.get_by_role("button", name="Open it for everybody").click()
    board.get_by_text("is open for 3, for 120 minutes").wait_for()
    book = SealedBook.of(room)
    test = book.tests()[0].test  # the latest: a run before this one may have left others
    acts = lambda: [one.act["act"] for one in book.acts(test, "ada-01", "call-1")]

    by.log_in(seat, class_of_three, "ada-01")
    inside = open_test_page(seat, class_of_three, "ada-01")
    inside.get_by_text("open until").wait_for()
    work_in_the_panel(by, inside, acts)
    by.shot(seat, "supervised-panel")

    named = name_a_fault(inside)
    by.until(lambda: book.named(test, "ada-01", "call-1"))
    by.shot(seat, "supervised-named")
    assert inside.get_by_role("button", name="Name it, once").first.is_disabled()
    seat.reload()  # the page is lost: what was done and named is not
    inside = open_test_page(seat, class_of_three, "ada-01")
    assert inside.get_by_label("The fault is").first.locator("option:checked").inner_text() == named
    inside.get_by_role("tab", name="Trail").first.click()
    trail = inside.get_by_role("log", name="Trail").first
    trail.get_by_role("listitem").nth(len(acts()) - 1).wait_for()
    end_the_test(by, seat, inside, lambda: bool(book.is_open(book.test(test), "ada-01")))

    board.get_by_role("button", name="Close and grade tests").click()
    board.get_by_text(f"{test}: 0 of 1 passed, 2 took no part").wait_for()
    by.shot(board, "board-test-marked")
    seat.goto(f"{class_of_three.address}/user/ada-01/lab/tree/feedback/supervised-{test}.html")
    marks = seat.frame_locator("iframe").first
    marks.get_by_role("heading", name="Supervised test of Ada Demo").wait_for()
    marks.get_by_text("Not passed: call 1, call 2, call 3 not closed").wait_for()
    assert "You did not do this job." in marks.locator("main").inner_text()
    by.shot(seat, "supervised-marks")
    assert numbers_of(room.cohort).tests.last["ada-01"].test == test
