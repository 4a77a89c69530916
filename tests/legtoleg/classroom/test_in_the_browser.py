"""A class in a real browser: from the slip to the receipt, and what the instructor sees of it."""

from __future__ import annotations

import json
import re
import time
from pathlib import Path
from typing import Any

import pytest

pytestmark = [pytest.mark.browser, pytest.mark.server, pytest.mark.slow, pytest.mark.jail]
NEW = "meter-7-leads"
RECORD = b"application/vnd.leg-to-leg.answer+json"


def log_in(page: Any, running: Any, who: str) -> None:
    page.goto(f"{running.address}/hub/login")
    page.get_by_label("Your id").fill(who)
    page.get_by_label("Your password, or the code").fill(running.codes[who])
    page.get_by_text("The first time: choose a password").click()
    page.get_by_label("A password of your own").fill(NEW)
    page.get_by_label("The same once more").fill(NEW)
    page.get_by_role("button", name="Go in").click()
    page.wait_for_url("**/services/class/" if who == "instructor" else "**/lab/**", timeout=120_000)


def answer_one(page: Path) -> None:
    """Type one answer into the page as it lies in the home; a page without any is nothing to hand in."""
    notebook = json.loads(page.read_text(encoding="utf-8"))
    for cell in notebook["cells"]:
        text = "".join(cell["source"])
        if cell["cell_type"] == "code" and re.match(r'\w+ = ""', text):
            cell["source"] = re.sub(r'= ""', '= "240 V"', text, count=1)
            break
    else:
        raise AssertionError("no question to answer")
    page.write_text(json.dumps(notebook), encoding="utf-8")


def test_from_the_slip_to_the_receipt_and_the_board(class_of_three: Any, page: Any) -> None:
    log_in(page, class_of_three, "cy-03")
    answer_one(class_of_three.room.homes / "cy-03" / "lessons" / "02_two_legs" / "02_two_legs.ipynb")
    page.goto(f"{class_of_three.address}/user/cy-03/lab/tree/lessons/02_two_legs/02_two_legs.ipynb")
    page.locator(".jp-NotebookPanel .jp-Cell").first.wait_for()
    page.get_by_text("Python 3 (ipykernel) | Idle").wait_for()
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.get_by_text("Run All Cells", exact=True).click()
    button = page.get_by_role("button", name="Hand in this page")
    button.wait_for()
    button.click()
    page.get_by_text("Receipt (SHA-256)").wait_for()
    page.get_by_text("Handed in: lesson 02, number 1").wait_for()
    kept = list((class_of_three.folder / "received" / "cy-03").glob("02_two_legs-*.ipynb"))
    assert len(kept) == 1
    assert RECORD in kept[0].read_bytes()  # the button saved the page first: what ran since it was opened is in it
    page.get_by_role("button", name="Raise a hand").click()
    page.get_by_role("button", name="Take the hand down").wait_for()
    teacher = page.context.browser.new_page(viewport={"width": 1366, "height": 768})
    teacher.set_default_timeout(120_000)
    log_in(teacher, class_of_three, "instructor")
    first = teacher.locator("#look .tile").first
    first.wait_for()
    assert "Cy Demo" in first.inner_text()
    assert "Hand up" in first.inner_text()
    first.click()
    teacher.get_by_role("button", name="Hand down").click()
    teacher.locator("#first").wait_for(state="hidden")
    submitted = class_of_three.folder / "submitted" / "cy-03" / "02_two_legs" / "02_two_legs.ipynb"
    until = time.monotonic() + 60
    while not submitted.is_file():
        assert time.monotonic() < until
        time.sleep(0.5)
    teacher.get_by_role("button", name="Mark what came").click()
    teacher.get_by_text("1 marked").wait_for()
    feedback = class_of_three.folder / "feedback" / "cy-03" / "02_two_legs" / "02_two_legs.html"
    assert feedback.is_file()
