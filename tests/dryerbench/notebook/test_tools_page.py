"""Clamp, temperature probe and airflow meter put on the drawn machine in a browser: by mouse, by keys, by finger."""

from __future__ import annotations

from typing import Any

import pytest
from tests.legtoleg.accessible import violations

from dryerbench.bench.bench import Bench, replay
from dryerbench.bench.worksite import faults_on, machine_on
from dryerbench.machine_view.spots import body_spots
from dryerbench.notebook.machine_panel import MachinePanel
from dryerbench.notebook.panel_lists import lists_of

from .panel_page import Keys, doing, panel_page
from .test_machine_page import go, panel_of

pytestmark = [pytest.mark.slow, pytest.mark.browser]
MACHINES = ("cabin", "cellar", "porch")


def running(name: str) -> MachinePanel:
    """Return the panel of an open machine that heats: live work, with gloves on."""
    panel = panel_of(name)
    for act, given in (
        ("gear_on", {}),
        ("cover_off", {}),
        ("ask_heat", {"heat": "high"}),
        ("press_start", {}),
        ("let_run", {}),
    ):
        panel.receive({"act": act, "with": given})
    return panel


def dial(page: Any, at: str) -> None:
    doing(page, page.locator(f"[data-mode='{at}']:visible").click)


def wires(page: Any) -> list[str]:
    return list(page.eval_on_selector_all("[data-jaw]", "all => all.map(one => one.dataset.jaw)"))


def moved(page: Any, what: str) -> tuple[float, float] | None:
    """Return where a thing that was put is drawn, in units of the drawing; None if it is not."""
    found = page.evaluate(
        "what => document.querySelector(`.mv-stage [data-move='${what}']`)?.dataset.at.split(' ').map(Number)", what
    )
    return None if found is None else (found[0], found[1])


def middle(page: Any, target: str) -> tuple[float, float]:
    found = page.locator(target).evaluate(
        "one => ['cx', 'cy'].map((name) => Number(one.querySelector('circle').getAttribute(name)))"
    )
    return found[0], found[1]


def by_list(panel: MachinePanel, **given: str) -> str:
    """Return what the same act reads that is done by the list, on a bench that stands as this one did before."""
    before = panel.bench.trail[:-1]
    again = MachinePanel(replay(machine_on(panel.bench), before, faults_on(panel.bench)), named=False)
    act = "clamp" if "conductor" in given else "temperature"
    again.receive({"act": act, "with": given})
    assert not again.view["refused"], again.view["said"]
    assert again.bench.trail == panel.bench.trail
    return str(again.view["reading"]["shown"])


@pytest.mark.parametrize("name", MACHINES)
def test_a_press_on_a_wire_puts_the_jaw_there_and_reads_as_the_list_does(browser: Any, name: str) -> None:
    panel = running(name)
    with panel_page(browser, panel) as page:
        go(page, "heater box")
        dial(page, "clamp")
        assert page.locator("[data-point]").count() == 0
        read = []
        for token in wires(page):
            doing(page, page.locator(f"[data-jaw='{token}'] > circle").first.click)
            assert page.locator(".ltl-refused").count() == 0
            assert panel.look.jaw == token
            assert moved(page, "clamp") == pytest.approx(middle(page, f"[data-jaw='{token}']"), abs=0.01)
            shown = page.locator(".ltl-shown").inner_text()
            assert by_list(panel, conductor=token) == shown
            read.append(float(shown.partition(" ")[0]))
        assert len(read) > 3
        assert max(read) > 10  # a heater's wire
        assert "Box." not in page.content()
        assert page.locator(".mv-stage [data-move=clamp]").count() == 1
        page.get_by_role("tab", name="Run").click()
        assert page.locator("b", has_text="Clamp around the").is_visible()
        doing(page, page.get_by_role("button", name="Take it off").click)
        assert moved(page, "clamp") is None
        assert panel.look.jaw == ""


@pytest.mark.parametrize("name", MACHINES)
def test_a_wire_is_pressed_anywhere_along_it_by_mouse(browser: Any, name: str) -> None:
    panel = running(name)
    with panel_page(browser, panel) as page:
        go(page, "terminal block")
        dial(page, "clamp")
        there = wires(page)
        assert {"block-1/cord", "block-2/cord", "block-3/cord"} <= set(there)
        for token in [one for one in there if "/" in one]:
            x, y = page.locator(f"[data-jaw='{token}'] .mv-way").evaluate(
                """one => {
                    const far = one.getTotalLength() * 0.8;
                    const at = one.getPointAtLength(far).matrixTransform(one.getScreenCTM());
                    return [at.x, at.y];
                }"""
            )
            doing(page, lambda at=(x, y): page.mouse.click(*at))
            assert panel.look.jaw == token
    amps = {act["with"]["conductor"]: act["reading"]["value"] for act in panel.bench.trail if act["act"] == "clamp"}
    assert amps["cord 1"] > 10
    assert amps["cord 2"] > 10


@pytest.mark.parametrize("name", MACHINES)
def test_around_the_whole_cord_the_amps_cancel_and_a_closed_cover_takes_the_clamp_off(browser: Any, name: str) -> None:
    panel = running(name)
    with panel_page(browser, panel) as page:
        dial(page, "clamp")
        doing(page, page.locator("[data-jaw=cord] > circle").first.click)
        assert float(page.locator(".ltl-shown").inner_text().partition(" ")[0]) < 0.5
        assert by_list(panel, conductor="cord") == page.locator(".ltl-shown").inner_text()
        assert moved(page, "clamp") is not None
        go(page, "terminal block")
        doing(page, page.locator("[data-jaw='block-1/cord'] > circle").first.click)
        for act in ("stop", "unplug", "cover_on"):
            panel.receive({"act": act})
        assert panel.look.jaw == ""


@pytest.mark.parametrize("name", MACHINES)
def test_a_press_on_a_part_puts_the_temperature_probe_there(browser: Any, name: str) -> None:
    panel = running(name)
    own = panel.names.own
    with panel_page(browser, panel) as page:
        dial(page, "temp")
        assert sorted(page.eval_on_selector_all("[data-warm]", "all => all.map(one => one.dataset.warm)")) == [
            "exhaust",
            "room",
        ]
        doing(page, page.locator("[data-warm=exhaust]").click)
        warm = float(page.locator(".ltl-shown").inner_text().partition(" ")[0])
        doing(page, page.locator("[data-warm=room]").click)
        assert float(page.locator(".ltl-shown").inner_text().partition(" ")[0]) < warm - 20
        assert moved(page, "temp") == middle(page, "[data-warm=room]")
        go(page, "heater box")
        there = page.eval_on_selector_all("[data-warm]", "all => all.map(one => one.dataset.warm)")
        kinds = {own.arrangement.by_name[part].kind for part in body_spots(own, "box-1").values()}
        assert len(there) == 1 + sum(kind.feels != "" for kind in kinds)
        for spot in there:
            doing(page, page.locator(f"[data-warm='{spot}']").click)
            assert moved(page, "temp") == middle(page, f"[data-warm='{spot}']")
            assert by_list(panel, spot=spot, unit="°F") == page.locator(".ltl-shown").inner_text()
        go(page, "motor")
        doing(page, page.locator("[data-warm]").first.click)
        assert panel.bench.trail[-1]["reading"]["places"] != ["room"]
        doing(page, page.get_by_role("button", name="Read again").click)
        assert panel.bench.trail[-1]["with"] == panel.bench.trail[-2]["with"]
        dial(page, "volts")
        assert panel.look.bead == ""
        assert moved(page, "temp") is None


def test_a_press_beside_every_wire_reads_nothing(browser: Any) -> None:
    panel = running("cabin")
    with panel_page(browser, panel) as page:
        go(page, "heater box")
        shown = page.locator(".mv-stage > svg").bounding_box()
        for at, words in (("clamp", "no wire for the clamp"), ("temp", "touches nothing there")):
            dial(page, at)
            assert page.locator(".ltl-of").inner_text().startswith("Put the ")
            acts = len(panel.bench.trail)
            page.mouse.click(shown["x"] + shown["width"] * 0.92, shown["y"] + shown["height"] * 0.2)
            assert words in page.locator(".ltl-say").inner_text()
            assert len(panel.bench.trail) == acts


@pytest.mark.parametrize("name", MACHINES)
def test_by_keys_alone(browser: Any, name: str) -> None:
    panel = running(name)
    panel.receive({"act": "go", "with": {"at": "box-1"}})
    with panel_page(browser, panel) as page:
        keys = Keys(page)
        page.locator("[data-mode=volts]:visible").focus()
        keys.walk("clamp")
        keys.press()
        keys.back_to(".mv-stage")
        page.keyboard.press("ArrowRight")
        token = page.evaluate("() => document.activeElement.dataset.jaw")
        keys.press()
        assert panel.look.jaw == token
        assert page.evaluate("() => document.activeElement.dataset.jaw") == token
        assert by_list(panel, conductor=token) == page.locator(".ltl-shown").inner_text()
        keys.press("Escape")
        assert panel.look.jaw == ""
        keys.press("w")
        assert panel.bench.trail[-1]["act"] == "pull_wire"
        page.locator("[data-mode=clamp]:visible").focus()
        keys.walk("temp")
        keys.press()
        keys.back_to(".mv-stage")
        spot = page.evaluate("() => document.activeElement.dataset.warm")
        keys.press(" ")
        assert panel.look.bead == spot
        assert by_list(panel, spot=spot, unit="°F") == page.locator(".ltl-shown").inner_text()


@pytest.mark.parametrize("name", MACHINES)
def test_by_finger_on_a_phone(browser: Any, name: str) -> None:
    panel = running(name)
    panel.receive({"act": "go", "with": {"at": "box-1"}})
    with panel_page(browser, panel, 390, 844, has_touch=True, is_mobile=True) as page:
        doing(page, page.locator(".mv-wide [data-mode=clamp]").tap)
        token = wires(page)[-1]
        box = page.locator(f"[data-jaw='{token}'] circle").first.bounding_box()
        assert min(box["width"], box["height"]) >= 43.9
        doing(page, page.locator(f"[data-jaw='{token}'] circle").first.tap)
        assert panel.look.jaw == token
        assert by_list(panel, conductor=token) == page.locator(".ltl-shown").inner_text()
        small = page.eval_on_selector_all(
            ".ltl-bench button",
            """all => all.filter(one => one.offsetParent && one.getBoundingClientRect().height < 43)
                .map(one => one.textContent)""",
        )
        assert small == []
        doing(page, page.locator(".mv-wide [data-mode=temp]").tap)
        spot = page.locator("[data-warm]").first
        wanted = spot.get_attribute("data-warm")
        doing(page, spot.locator("circle").first.tap)
        assert panel.look.bead == wanted


def test_the_airflow_meter_is_put_at_the_hood_and_shows_what_the_trail_says(browser: Any) -> None:
    panel = running("cabin")
    with panel_page(browser, panel) as page:
        assert moved(page, "airflow") is None
        doing(page, page.locator("[data-place=hood]").click)
        last = panel.bench.trail[-1]
        assert last["act"] == "airflow"
        assert last["gauge"]["value"] > 60
        assert page.locator("[data-move=airflow] text").text_content() == last["gauge"]["shown"]
        doing(page, page.locator("[data-place=breaker]").click)
        assert page.locator("[data-move=airflow] text").text_content() == "- -"  # it read before the last act
        doing(page, page.get_by_role("button", name="Take all off").click)
        assert moved(page, "airflow") is None


def test_a_lesson_without_the_airflow_meter_has_no_hood(browser: Any) -> None:
    panel = MachinePanel(Bench(), lists_of("05_path_to_case"))
    with panel_page(browser, panel) as page:
        assert page.locator("[data-place=hood]").count() == 0
    panel.receive({"act": "press", "with": {"at": "hood"}})
    assert panel.view["refused"]


def test_a_clamp_on_a_live_wire_has_the_findings_of_the_list(browser: Any) -> None:
    found = []
    for how in ("press", "list"):
        panel = panel_of("cabin")
        panel.receive({"act": "cover_off"})
        if how == "list":
            panel.receive({"act": "go", "with": {"at": "box-1"}})
            panel.receive({"act": "clamp", "with": {"conductor": panel.view["wires"][0][0]}})
        else:
            with panel_page(browser, panel) as page:
                go(page, "heater box")
                dial(page, "clamp")
                doing(page, page.locator(f"[data-jaw='{panel.view['wires'][0][0]}'] > circle").first.click)
        found.append([(one.gate, one.what) for one in panel.bench.findings])
        assert panel.bench.trail[-1]["facts"]["live_bare"]
    assert found[0] == found[1]
    assert any(gate for gate, _ in found[0])


@pytest.mark.parametrize("dark", [False, True])
def test_axe_finds_nothing_with_a_tool_in_hand(browser: Any, dark: bool) -> None:
    panel = running("cabin")
    with panel_page(browser, panel, 934, 800, dark=dark) as page:
        for at, put in (("clamp", "[data-jaw]"), ("temp", "[data-warm]")):
            dial(page, at)
            for view in ("front", "heater box"):
                go(page, view)
                doing(page, page.locator(f"{put} > circle").first.click)
                assert violations(page) == {}, (at, view)
