"""The drawn machine in a real browser: the shared terminal found by measuring, by mouse, by keys and by finger."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations
from typing import Any

import pytest
from tests.legtoleg.accessible import violations

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import on_the_bench
from dryerbench.core.random_stream import Stream
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.notebook.machine_panel import MachinePanel

from .panel_page import Keys, doing, panel_page

pytestmark = [pytest.mark.slow, pytest.mark.browser]
SHARED = tuple(name for name in machine_names() if arrangement(name).shared and name != "schoolroom")
Press = Callable[[str], None]


def panel_of(name: str, *faults: str) -> MachinePanel:
    made = drawn_machine(arrangement(name), Stream(f"page/{name}"), f"page {name}")
    return MachinePanel(Bench(on_the_bench(made), faults), named=False)


def act(page: Any, tab: str, name: str) -> None:
    """Press a button of a list."""
    page.get_by_role("tab", name=tab).click()
    doing(page, page.get_by_role("button", name=name, exact=True).click)


def go(page: Any, words: str) -> None:
    doing(page, page.locator(".mv-places").get_by_role("button", name=words, exact=True).click)


def opened_box(page: Any) -> None:
    """Make the machine dead, take the covers off, pull the wires of the heater box, turn the dial to ohms."""
    for name in (
        "Pull the plug",
        "Check the meter on a known live source",
        "Test dead",
        "Check the meter on a known live source",
    ):
        act(page, "Make it dead", name)
    act(page, "Make it dead", "Take every cover off")
    go(page, "heater box")
    page.get_by_role("tab", name="Wires").click()
    while (still := page.locator("[data-wire][aria-pressed=false]")).count():
        doing(page, still.first.click)


def seats(page: Any) -> list[str]:
    """Return the spots of the terminals of the heater box that have no part's name: those on its board."""
    found = page.eval_on_selector_all("[data-point]", "all => all.map(one => one.dataset.point)")
    return [spot for spot in found if spot.count("-") == 3]


def ohms(page: Any) -> float:
    shown = page.locator(".ltl-shown").inner_text().partition(" ")
    if shown[0] == "OL":
        return float("inf")
    return float(shown[0]) * {"Ω": 1.0, "kΩ": 1e3, "MΩ": 1e6}[shown[2]]


def shared_by(read: dict[tuple[str, str], float]) -> list[str]:
    """Return the terminals that lie between two others: the ohms from them to both add up to those from end to end."""
    pairs = read | {(b, a): value for (a, b), value in read.items()}
    spots = sorted({spot for pair in read for spot in pair})
    return [
        spot
        for spot in spots
        if any(
            max(pairs[a, spot], pairs[spot, b]) < 200 and abs(pairs[a, spot] + pairs[spot, b] - pairs[a, b]) < 0.8
            for a, b in combinations([one for one in spots if one != spot], 2)
        )
    ]


@pytest.mark.parametrize("name", SHARED[:3])
def test_the_shared_terminal_is_found_by_measuring(browser: Any, name: str) -> None:
    panel = panel_of(name)
    with panel_page(browser, panel) as page:
        opened_box(page)
        doing(page, page.locator("[data-mode=ohms]:visible").click)
        there = seats(page)
        assert len(there) > 2
        read = {}
        for a, b in combinations(there, 2):
            for spot in (a, b):
                doing(page, page.locator(f"[data-point='{spot}']").click)
            read[a, b] = ohms(page)
            assert page.locator(".ltl-refused").count() == 0
        assert shared_by(read) == [panel.names.spot_of[arrangement(name).shared]]
        assert "Box." not in page.content()
    assert [one for one in panel.bench.findings if one.gate] == []
    assert sum(act["act"] == "probe" for act in panel.bench.trail) == len(read)


def test_by_keys_alone(browser: Any) -> None:
    panel = panel_of(SHARED[0])
    with panel_page(browser, panel) as page:
        keys = Keys(page)
        made_dead_by(keys)
        keys.tab_to("heater box", back=True)
        keys.press()
        keys.tab_to("Make it dead")
        keys.walk("Wires")
        while (still := page.locator("[data-wire][aria-pressed=false]")).count():
            keys.tab_to(still.first.inner_text())
            keys.press()
            assert keys.on().endswith(": off")
        keys.tab_to("volts", back=True)
        keys.walk("ohms")
        keys.press()
        first, second = seats(page)[:2]
        keys.back_to(".mv-stage")
        keys.arrows_to(first)
        keys.press("a")
        keys.arrows_to(second)
        keys.press("b")
        assert page.locator(".ltl-shown").inner_text() not in ("", "– – –")
        assert keys.on() == second
        keys.press("Escape")
        assert panel.look.tips == {"A": None, "B": None}
        keys.press("w")
        keys.press("Escape")
        assert panel.look.at == "front"
    names = [one["act"] for one in panel.bench.trail]
    assert names[:5] == ["unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"]
    assert names.count("probe") == 1
    assert names[-1] == "put_back_wire"
    assert [one for one in panel.bench.findings if one.gate] == []


def made_dead_by(keys: Keys) -> None:
    for wanted in ("Pull the plug", "Check the meter on a known live source", "Test dead"):
        keys.tab_to(wanted)
        keys.press()
    keys.tab_to("Check the meter on a known live source", back=True)
    keys.press()
    keys.tab_to("Take every cover off")
    keys.press("Space")


def test_by_finger_on_a_phone(browser: Any) -> None:
    panel = panel_of(SHARED[0])
    with panel_page(browser, panel, 390, 844, has_touch=True, is_mobile=True) as page:

        def tap(what: Any) -> None:
            doing(page, what.tap)

        page.get_by_role("tab", name="Make it dead").tap()
        for name in (
            "Pull the plug",
            "Check the meter on a known live source",
            "Test dead",
            "Check the meter on a known live source",
        ):
            tap(page.get_by_role("button", name=name, exact=True))
        tap(page.get_by_role("button", name="Take every cover off"))
        tap(page.locator(".mv-places").get_by_role("button", name="heater box", exact=True))
        page.get_by_role("button", name="Pull or put back a wire").tap()
        first, second = seats(page)[:2]
        tap(page.locator(f"[data-point='{first}']"))
        assert len(panel.bench.state.pulled) == 1
        page.get_by_role("button", name="Probe A", exact=True).tap()
        tap(page.locator(".mv-wide [data-mode=ohms]"))
        tap(page.locator(f"[data-point='{first}']"))
        tap(page.locator(f"[data-point='{second}']"))
        assert page.locator(".ltl-shown").inner_text() not in ("", "– – –")
        small = page.eval_on_selector_all(
            ".ltl-bench button, .ltl-bench select",
            """all => all.filter(one => one.offsetParent && one.getBoundingClientRect().height < 43)
                .map(one => one.textContent)""",
        )
        assert small == []
        assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")


def test_a_probe_is_dragged_from_its_button_and_from_its_place(browser: Any) -> None:
    panel = panel_of("cabin")
    for name in ("unplug", "cover_off"):
        panel.receive({"act": name})
    panel.receive({"act": "go", "with": {"at": "box-1"}})
    with panel_page(browser, panel) as page:
        first, second = seats(page)[:2]

        def drag(start: Any, spot: str) -> None:
            a, b = start.bounding_box(), page.locator(f"[data-point='{spot}']").bounding_box()
            page.mouse.move(a["x"] + a["width"] / 2, a["y"] + a["height"] / 2)
            page.mouse.down()
            page.mouse.move(a["x"] + 40, a["y"] - 40, steps=3)
            page.mouse.move(b["x"] + b["width"] / 2, b["y"] + b["height"] / 2, steps=3)
            doing(page, page.mouse.up)

        drag(page.locator("[data-probe=B]"), second)
        assert panel.look.tips == {"A": None, "B": second}
        drag(page.locator("[data-probe=A]"), first)
        assert panel.look.tips == {"A": first, "B": second}
        drag(page.locator(f"[data-point='{first}']"), "box-1-metal")
        assert panel.look.tips == {"A": "box-1-metal", "B": second}
        assert page.locator(".mv-ghost").count() == 0
    assert [act["act"] for act in panel.bench.trail].count("probe") == 2


def test_a_tip_slips_off_where_there_is_no_bare_metal_and_nothing_is_read(browser: Any) -> None:
    panel = panel_of("cabin")
    for wanted in ("unplug", "cover_off"):
        panel.receive({"act": wanted})
    before = len(panel.bench.trail)
    with panel_page(browser, panel) as page:
        go(page, "heater box")
        shown = page.locator(".mv-stage > svg").bounding_box()
        metal = (shown["x"] + shown["width"] * 0.75, shown["y"] + shown["height"] * 0.45)
        for letter in "AB":
            page.get_by_role("button", name=f"Probe {letter}", exact=True).click()
            page.mouse.click(*metal)
            assert page.locator(".ltl-say").inner_text().startswith(f"Probe {letter} slips off")
        start = page.locator("[data-probe=A]").bounding_box()
        page.mouse.move(start["x"] + 9, start["y"] + 9)
        page.mouse.down()
        page.mouse.move(*metal, steps=6)
        page.mouse.up()
        assert page.locator(".ltl-say").inner_text().startswith("Probe A slips off")
    assert panel.look.tips == {"A": None, "B": None}
    assert len(panel.bench.trail) == before


def test_a_part_picked_on_the_sheet_is_marked_in_the_machine(browser: Any) -> None:
    panel = MachinePanel(Bench(), named=True, practice=True)
    for wanted in ("unplug", "cover_off"):
        panel.receive({"act": wanted})
    with panel_page(browser, panel) as page:
        go(page, "wiring sheet")
        high_limit = page.get_by_role("button", name="high limit on the wiring sheet")
        doing(page, high_limit.click)
        assert high_limit.get_attribute("aria-pressed") == "true"
        assert violations(page) == {}
        go(page, "heater box")
        marked = page.locator(".mv-stage [data-point][aria-pressed=true]")
        assert sorted(one.get_attribute("aria-label")[-2:] for one in marked.all()) == ["H7", "H8"]


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("width", [390, 592, 934])
def test_axe_finds_nothing(browser: Any, width: int, dark: bool) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    panel = panel_of("cabin")
    for name in ("unplug", "cover_off"):
        panel.receive({"act": name})
    with panel_page(browser, panel, width, 800, dark=dark) as page:
        wrong = {}
        for at in ("front", "heater box"):
            go(page, at)
            for tab in page.get_by_role("tab").all():
                tab.click()
                found = axe.run(page, context={"include": [[".ltl-bench"]]}).response["violations"]
                wrong |= {one["id"]: one["nodes"][0]["html"][:300] for one in found}
    assert wrong == {}


def test_a_press_that_the_line_drops_is_said_sent_again_and_done_once(browser: Any) -> None:
    panel = panel_of("cabin")
    with panel_page(browser, panel) as page:
        page.evaluate("() => { window.lost = 1; }")
        page.get_by_role("button", name="Pull the plug", exact=True).click()
        page.locator(".ltl-say", has_text="not answered yet").wait_for()
        assert panel.bench.trail == []
        page.wait_for_function("() => document.querySelector('.ltl-bench').dataset.turn === '1'")
        page.locator(".ltl-say", has_text="Done: pull the plug").wait_for()
        page.wait_for_timeout(5000)  # an answered press is not sent a third time
    assert [one["act"] for one in panel.bench.trail] == ["unplug"]
