"""The drawn machine at every size of window, measured in a real browser: what is in view, and that nothing is cut."""

from __future__ import annotations

from typing import Any, NamedTuple

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.senses import LONGEST_TAG
from dryerbench.notebook.machine_panel import MachinePanel

from .panel_page import doing, panel_page
from .test_machine_page import act, go, panel_of

pytestmark = [pytest.mark.slow, pytest.mark.browser]


class Room(NamedTuple):
    """A window, and what JupyterLab leaves of it for an output; in CSS pixels, measured in JupyterLab."""

    width: int
    height: int
    window: int
    touch: bool = False


ROOMS = {
    "1366x768": Room(1212, 647, 768),
    "1366x768 beside the list of files": Room(950, 647, 768),
    "1024x768": Room(893, 647, 768),
    "1024x768 by finger": Room(893, 647, 768, touch=True),
    "1024x768 beside the list of files": Room(608, 647, 768),
    "820x1180": Room(689, 1059, 1180, touch=True),
    "390x844": Room(323, 723, 844, touch=True),
    "1366x768 twice as large": Room(616, 263, 384),
    "1280x800 twice as large": Room(573, 279, 400, touch=True),
}
"""The width has 16 added, which is what the page of these tests takes for its own edge."""
WITH_ACTS = ("1366x768", "1024x768", "1366x768 beside the list of files", "1024x768 by finger")
"""Where the tabs and the list of acts are in view besides."""
TOGETHER = (*WITH_ACTS, "1024x768 beside the list of files", "820x1180")
LONG = "Not possible: " + "a long message that says what is in the way and what to do about it, in words " * 4

_HIDDEN = """([high, wanted]) => {
    const top = document.querySelector(".ltl-bench").getBoundingClientRect().top;
    return wanted.filter((what) => {
        const box = document.querySelector(what).getBoundingClientRect();
        return !box.height || box.top < top || box.bottom - top > high || box.left < 0 || box.right > innerWidth;
    });
}"""
_CUT = """() => {
    const said = (one) => `${one.className} ${one.textContent.trim().slice(0, 30)}`;
    const words = "button, select, span, b, .ltl-of, .ltl-shown, .ltl-say";
    const all = [...document.querySelectorAll(`.ltl-bench :is(${words})`)].filter((one) => one.checkVisibility());
    const list = document.querySelector(".mv-panel:not([hidden])").getBoundingClientRect();
    const beyond = (one) => one.closest(".mv-panel") && one.getBoundingClientRect().right > list.right;
    return all.filter((one) => one.clientWidth && (one.scrollWidth > one.clientWidth + 1 || beyond(one))).map(said);
}"""
_OVER = """() => {
    const seen = (one) => one.checkVisibility() && getComputedStyle(one).position !== "sticky";
    const parts = [...document.querySelectorAll(".mv-whole > *")].filter(seen);
    const boxes = parts.map((one) => [one.className, one.getBoundingClientRect()]);
    const crossing = (p, q) => p.left < q.right - 1 && q.left < p.right - 1;
    const under = (p, q) => crossing(p, q) && p.top < q.bottom - 1 && q.top < p.bottom - 1;
    const over = [];
    for (const [a, p] of boxes) {
        for (const [b, q] of boxes) {
            if (a < b && under(p, q)) over.push([a, b]);
        }
    }
    return over;
}"""
_UNDER_THE_LOCATOR = """() => {
    const where = document.querySelector(".mv-where")?.getBoundingClientRect();
    if (!where) return [];
    return [...document.querySelectorAll(".mv-stage [data-point] circle")].filter((spot) => {
        const { left, right, top, bottom } = spot.getBoundingClientRect();
        const [x, y] = [(left + right) / 2, (top + bottom) / 2];
        return x > where.left && x < where.right && y > where.top && y < where.bottom;
    }).map((spot) => spot.parentElement.dataset.point);
}"""


def of_room(browser: Any, panel: MachinePanel, name: str) -> Any:
    room = ROOMS[name]
    more = {"has_touch": True, "is_mobile": room.touch} if room.touch else {}
    return panel_page(browser, panel, room.width, room.window, **more)


def hidden(page: Any, name: str, *more: str) -> list[str]:
    wanted = [".mv-stage", ".mv-meter", ".ltl-face", ".ltl-say", *more]
    return list(page.evaluate(_HIDDEN, [ROOMS[name].height, wanted]))


def walk(page: Any, panel: MachinePanel, check: Any) -> None:
    """Make the machine dead, take the covers off, look at each place, turn the dial; ``check`` after each."""
    check("at first")
    act(page, "Make it dead", "Pull the plug")
    act(page, "Make it dead", "Take every cover off")
    check("covers off")
    for view in [words for _, words in panel.view["places"]]:
        go(page, view)
        check(view)
    for at in ("ohms", "beep", "clamp", "temp", "off", "volts"):
        doing(page, page.locator(f"[data-mode='{at}']:visible").click)
        check(at)


def say(page: Any, words: str) -> None:
    page.evaluate("words => { document.querySelector('.ltl-say').textContent = words; }", words)


@pytest.mark.parametrize("name", TOGETHER)
def test_machine_meter_and_message_are_in_view_together_whatever_is_pressed(browser: Any, name: str) -> None:
    panel = panel_of("cabin")
    acts = (".mv-tabs", ".mv-panel:not([hidden])") if name in WITH_ACTS else ()
    with of_room(browser, panel, name) as page:

        def check(when: str) -> None:
            assert hidden(page, name, *acts) == [], when

        walk(page, panel, check)
        say(page, LONG)
        assert page.locator(".ltl-say").inner_text() == LONG.strip()
        check("a long message")
        for tab in page.get_by_role("tab").all():
            tab.click()
            check(tab.inner_text())


@pytest.mark.parametrize("name", ["1366x768 twice as large", "1280x800 twice as large"])
def test_a_low_window_shows_the_whole_meter_beside_a_piece_of_the_machine(browser: Any, name: str) -> None:
    panel = panel_of("cabin")
    with of_room(browser, panel, name) as page:
        walk(page, panel, lambda when: _none(page.evaluate(_HIDDEN, [ROOMS[name].height, _MEASURED]), when))
        stage, shown = page.locator(".mv-stage").bounding_box(), page.locator(".mv-stage > svg").bounding_box()
        assert stage["width"] >= 200
        assert stage["height"] >= 200
        assert shown["width"] > stage["width"]  # it is panned, not shrunk


_MEASURED = [".mv-stage", ".mv-meter", ".ltl-face"]


def _none(found: list[str], when: str) -> None:
    assert found == [], when


@pytest.mark.parametrize("name", ROOMS)
def test_no_words_are_cut_nothing_overlaps_and_the_page_is_not_wider_than_its_window(browser: Any, name: str) -> None:
    panel = panel_of("cabin")
    with of_room(browser, panel, name) as page:

        def check(when: str) -> None:
            assert page.evaluate(_CUT) == [], when
            assert page.evaluate(_OVER) == [], when
            assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth"), when

        walk(page, panel, check)
        go(page, "heater box")
        page.get_by_role("tab", name="Wires").click()
        page.get_by_label("Words on the tag").fill("M" * LONGEST_TAG)
        act(page, "Wires", "Tag the wire")
        for tab in page.get_by_role("tab").all():
            tab.click()
            check(tab.inner_text())
        say(page, LONG)
        check("a long message")


@pytest.mark.parametrize("name", ["1366x768", "1024x768", "820x1180"])
def test_the_locator_lies_on_no_spot(browser: Any, name: str) -> None:
    panel = MachinePanel(Bench(), named=False)
    for wanted in ("unplug", *["cover_off"] * 9):
        panel.receive({"act": wanted})
    with of_room(browser, panel, name) as page:
        for view in [words for _, words in panel.view["places"]]:
            go(page, view)
            assert page.evaluate(_UNDER_THE_LOCATOR) == [], view


@pytest.mark.parametrize("name", ["390x844", "1280x800 twice as large"])
def test_a_panned_machine_begins_at_its_middle(browser: Any, name: str) -> None:
    with of_room(browser, panel_of("cabin"), name) as page:
        left, top = page.locator(".mv-stage").evaluate("one => [one.scrollLeft, one.scrollTop]")
        assert left > 100
        assert top > 50


def test_on_paper_a_bench_is_light_in_every_theme_and_what_is_pressed_stays_dark(browser: Any) -> None:
    look = """() => [".ltl-bench", ".mv-places [aria-pressed=true]"].map(what => {
        const style = getComputedStyle(document.querySelector(what));
        return [style.backgroundColor, style.printColorAdjust];
    })"""
    seen = {}
    for dark in (False, True):
        with panel_page(browser, panel_of("cabin"), 700, 900, dark=dark) as page:
            on_screen = page.evaluate(look)
            page.emulate_media(media="print")
            seen[dark] = on_screen, page.evaluate(look)
    assert seen[True][0][0][0] != seen[False][0][0][0]
    assert seen[True][1] == seen[False][1]
    paper, pressed = seen[True][1]
    assert paper[1] == pressed[1] == "exact"
    assert paper[0] == seen[False][0][0][0]
