"""Two fingers enlarge the drawing about the place between them, one finger moves it, a button returns."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest

from dryerbench.notebook.machine_panel import MachinePanel

from .panel_page import doing, panel_page
from .test_machine_page import go, panel_of

pytestmark = [pytest.mark.slow, pytest.mark.browser]
PHONE, TABLET = (390, 844), (1024, 768)
_LARGEST = 4.0


@contextmanager
def by_touch(browser: Any, size: tuple[int, int]) -> Iterator[tuple[Any, Any, MachinePanel]]:
    """Show an open machine's heater box on a page with a touch screen, and give the fingers' own line to it."""
    panel = panel_of("cabin")
    for act in ("unplug", "cover_off"):
        panel.receive({"act": act})
    panel.receive({"act": "go", "with": {"at": "box-1"}})
    with panel_page(browser, panel, *size, has_touch=True, is_mobile=True) as page:
        yield page, page.context.new_cdp_session(page), panel


def touch(line: Any, kind: str, *fingers: tuple[float, float]) -> None:
    points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(fingers)]
    line.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def pinch(
    line: Any, middle: tuple[float, float], apart: float, then: float, to: tuple[float, float] | None = None
) -> None:
    """Put two fingers ``apart`` about ``middle`` and draw them to ``then`` about ``to``, in ten steps."""
    (x, y), (u, v) = middle, to or middle
    touch(line, "touchStart", (x - apart / 2, y), (x + apart / 2, y))
    for step in range(1, 11):
        share = step / 10
        far, mx, my = apart + (then - apart) * share, x + (u - x) * share, y + (v - y) * share
        touch(line, "touchMove", (mx - far / 2, my), (mx + far / 2, my))
    touch(line, "touchEnd")


def drawn(page: Any) -> dict[str, float]:
    return dict(page.locator(".mv-stage > svg").bounding_box())


def stage_middle(page: Any) -> tuple[float, float]:
    box = page.locator(".mv-stage").bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def under(page: Any, at: tuple[float, float]) -> tuple[float, float]:
    """Return the place of the drawing, as shares of it, that lies at ``at`` of the window."""
    box = drawn(page)
    return (at[0] - box["x"]) / box["width"], (at[1] - box["y"]) / box["height"]


def page_scale(page: Any) -> float:
    return float(page.evaluate("() => window.visualViewport.scale"))


@pytest.mark.parametrize("size", [PHONE, TABLET])
def test_two_fingers_enlarge_about_the_place_between_them(browser: Any, size: tuple[int, int]) -> None:
    with by_touch(browser, size) as (page, line, panel):
        before, high = drawn(page), page.locator(".mv-stage").bounding_box()["height"]
        acts, at = len(panel.bench.trail), stage_middle(page)
        place = under(page, at)
        assert not page.get_by_role("button", name="Whole drawing").is_visible()
        pinch(line, at, 80, 160)
        after = drawn(page)
        assert after["width"] / before["width"] == pytest.approx(2.0, rel=0.02)
        assert after["height"] / before["height"] == pytest.approx(2.0, rel=0.02)
        assert under(page, at) == pytest.approx(place, abs=0.006)
        assert page.locator(".mv-stage").bounding_box()["height"] == pytest.approx(high, abs=1)
        assert page_scale(page) == 1.0
        assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
        assert len(panel.bench.trail) == acts
        assert panel.look.tips == {"A": None, "B": None}
        back = page.get_by_role("button", name="Whole drawing")
        assert back.bounding_box()["height"] >= 43.9
        back.tap()
        assert drawn(page)["width"] == pytest.approx(before["width"], abs=1)
        assert not back.is_visible()


def test_the_fingers_carry_the_drawing_along(browser: Any) -> None:
    with by_touch(browser, TABLET) as (page, line, _):
        x, y = stage_middle(page)
        place = under(page, (x, y))
        pinch(line, (x, y), 60, 180, (x - 40, y + 30))
        assert under(page, (x - 40, y + 30)) == pytest.approx(place, abs=0.006)


def test_the_drawing_is_never_smaller_than_at_first_and_never_larger_than_four_times(browser: Any) -> None:
    with by_touch(browser, PHONE) as (page, line, _):
        first = drawn(page)["width"]
        pinch(line, stage_middle(page), 200, 40)
        assert drawn(page)["width"] == pytest.approx(first, abs=1)
        assert not page.get_by_role("button", name="Whole drawing").is_visible()
        for _ in range(4):
            pinch(line, stage_middle(page), 60, 240)
        assert drawn(page)["width"] == pytest.approx(_LARGEST * first, rel=0.01)
        assert page_scale(page) == 1.0


def test_one_finger_moves_what_is_enlarged_and_presses_nothing(browser: Any) -> None:
    with by_touch(browser, TABLET) as (page, line, panel):
        x, y = stage_middle(page)
        pinch(line, (x, y), 80, 200)
        before, acts = drawn(page), len(panel.bench.trail)
        for across, down in ((-10, 0), (0, -8)):
            touch(line, "touchStart", (x, y))
            for step in range(1, 13):
                touch(line, "touchMove", (x + across * step, y + down * step))
            touch(line, "touchEnd")
            page.wait_for_timeout(200)
        after = drawn(page)
        assert after["x"] < before["x"] - 40
        assert after["y"] < before["y"] - 15
        assert len(panel.bench.trail) == acts
        assert panel.look.tips == {"A": None, "B": None}


def test_what_is_enlarged_stays_so_after_an_act_and_a_press_finds_its_spot(browser: Any) -> None:
    with by_touch(browser, PHONE) as (page, line, panel):
        pinch(line, stage_middle(page), 80, 160)
        wide = drawn(page)["width"]
        spot = page.locator("[data-point]").first
        spot.scroll_into_view_if_needed()
        doing(page, spot.locator("circle").first.tap)
        assert panel.look.tips["A"] == spot.get_attribute("data-point")
        assert drawn(page)["width"] == pytest.approx(wide, abs=1)
        go(page, "motor")
        assert drawn(page)["width"] < wide / 1.5  # another place is shown whole


def test_a_touch_pad_enlarges_with_ctrl_and_the_wheel(browser: Any) -> None:
    panel = panel_of("cabin")
    with panel_page(browser, panel, 1212, 768) as page:
        before = drawn(page)
        x, y = stage_middle(page)
        place = under(page, (x, y))
        page.mouse.move(x, y)
        page.keyboard.down("Control")
        page.mouse.wheel(0, -160)
        page.keyboard.up("Control")
        page.wait_for_function(
            "wide => document.querySelector('.mv-stage > svg').clientWidth > wide", arg=before["width"]
        )
        assert under(page, (x, y)) == pytest.approx(place, abs=0.01)
        page.get_by_role("button", name="Whole drawing").click()
        assert drawn(page)["width"] == pytest.approx(before["width"], abs=1)
