"""What moved slides to where it now is, for as long as the look says; with reduced motion all of it are cuts."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.notebook.machine_panel import MachinePanel

from .panel_page import doing, panel_page
from .test_machine_page import go, panel_of

pytestmark = [pytest.mark.slow, pytest.mark.browser]
_SLIDES = """() => document.getAnimations().map((one) => [
    one.effect.target.dataset.move, one.effect.getComputedTiming().duration, one.effect.getComputedTiming().iterations,
])"""
_RECORD = """() => {
    window.slid = [];
    const own = Element.prototype.animate;
    Element.prototype.animate = function (frames, timing) {
        window.slid.push([this.dataset.move, timing.duration, frames]);
        const made = own.call(this, frames, timing);
        if (window.hold) made.pause();
        return made;
    };
}"""
_MIDDLES = """all => all.map((one) => {
    const box = one.getBoundingClientRect();
    return [box.x + box.width / 2, box.y + box.height / 2];
})"""
ACTS = ("cover", "tip", "sleeve", "knob", "digits", "clamp")


def slid(page: Any) -> list[list[Any]]:
    """Return what slid since this was asked last: what, for how many milliseconds, between which looks."""
    return list(page.evaluate("() => window.slid.splice(0)"))


def kinds(page: Any) -> dict[str, float]:
    return {what.partition(" ")[0]: lasts for what, lasts, _ in slid(page)}


def work(page: Any, panel: MachinePanel) -> dict[str, dict[str, float]]:
    """Do one act of each kind; return what slid with each."""
    found = {}
    panel.receive({"act": "unplug"})
    doing(page, page.locator("[data-place=tray]").click)
    slid(page)
    at = next(one for one, name in panel.menu["covers"] if name == "toe panel")
    doing(page, page.locator(f"[data-place={at}]").click)
    found["cover"] = kinds(page)
    panel.receive({"act": "cover_off"})
    doing(page, page.locator("[data-place=tray]").click)
    go(page, "heater box")
    spots = page.eval_on_selector_all("[data-point]", "all => all.map(one => one.dataset.point)")
    slid(page)
    doing(page, page.locator(f"[data-point='{spots[0]}']").click)
    found["tip"] = kinds(page)
    doing(page, page.locator("[data-mode=ohms]:visible").click)
    found["knob"] = kinds(page)
    doing(page, page.locator(f"[data-point='{spots[2]}']").click)
    found["digits"] = kinds(page)
    page.get_by_role("button", name="Pull or put back a wire").click()
    slid(page)
    doing(page, page.locator(f"[data-point='{spots[0]}']").click)
    found["sleeve"] = kinds(page)
    page.get_by_role("button", name="Probe A", exact=True).click()
    doing(page, page.locator("[data-mode=clamp]:visible").click)
    slid(page)
    doing(page, page.locator("[data-jaw] > circle").first.click)
    found["clamp"] = kinds(page)
    return found


def test_each_thing_slides_as_long_as_the_look_says_and_nothing_loops(browser: Any) -> None:
    panel = panel_of("cabin")
    with panel_page(browser, panel, 1212, 768, reduced_motion="no-preference") as page:
        page.evaluate(_RECORD)
        found = work(page, panel)
        lasts = {"cover": 200, "tip": 120, "clamp": 120, "sleeve": 180, "knob": 120}
        for what, long in lasts.items():
            assert found[what][what] == long, found
        assert found["digits"]["digits"] <= 180
        page.wait_for_timeout(400)
        assert page.evaluate(_SLIDES) == []


def test_with_reduced_motion_everything_is_a_cut(browser: Any) -> None:
    panel = panel_of("cabin")
    with panel_page(browser, panel, 1212, 768, reduced_motion="reduce") as page:
        page.evaluate(_RECORD)
        found = work(page, panel)
        assert set(found) == set(ACTS)
        assert not any(found.values())
        assert page.evaluate(_SLIDES) == []


def test_a_cover_comes_from_where_it_was_on_the_machine(browser: Any) -> None:
    panel = panel_of("cabin")
    panel.receive({"act": "unplug"})
    with panel_page(browser, panel, 1212, 768) as page:
        page.evaluate(_RECORD)
        at = next(one for one, name in panel.menu["covers"] if name == "toe panel")
        name = "cover toe panel"
        place = "name => document.querySelector(`.mv-stage [data-move='${name}']`).dataset.at.split(' ').map(Number)"
        before = page.evaluate(place, name)
        doing(page, page.locator(f"[data-place={at}]").click)
        after = page.evaluate(place, name)
        assert before != after
        frames = next(frames for what, _, frames in slid(page) if what == name)
        start = f"translate({before[0]:g}px, {before[1]:g}px)"
        assert frames[0]["transform"].startswith(start)
        assert frames[1]["transform"].startswith(f"translate({after[0]:g}px, {after[1]:g}px) rotate(0deg) scale(1)")


def test_the_next_act_does_not_wait_and_finds_nothing_half_moved(browser: Any) -> None:
    panel = panel_of("cabin")
    for act in ("unplug", "cover_off"):
        panel.receive({"act": act})
    panel.receive({"act": "go", "with": {"at": "box-1"}})
    with panel_page(browser, panel, 1212, 768) as page:
        page.evaluate(_RECORD)
        page.evaluate("() => { window.hold = true; }")  # every slide stands still at its beginning
        spots = page.eval_on_selector_all("[data-point]", "all => all.map(one => one.dataset.point)")
        middles = page.eval_on_selector_all("[data-point] > circle:first-child", _MIDDLES)
        for spot, at in list(zip(spots, middles, strict=True))[:6]:
            doing(page, lambda at=at: page.mouse.click(*at))
            assert spot in panel.look.tips.values()
            tips = page.eval_on_selector_all(".mv-stage [data-move^=tip]", "all => all.map(one => one.dataset.move)")
            assert len(tips) == len([one for one in panel.look.tips.values() if one])
        doing(page, page.locator(".mv-hand").get_by_role("button", name="Lift probes").click)
        assert page.locator(".mv-stage [data-move^=tip]").count() == 0
        assert page.evaluate("() => document.querySelectorAll('.mv-stage > svg').length") == 1
        assert page.locator(".mv-ghost").count() == 0


def test_what_is_shown_is_there_at_once_in_words(browser: Any) -> None:
    panel = panel_of("cabin")
    for act in ("unplug", "cover_off"):
        panel.receive({"act": act})
    panel.receive({"act": "go", "with": {"at": "box-1"}})
    with panel_page(browser, panel, 1212, 768) as page:
        page.evaluate(_RECORD)
        page.evaluate("() => { window.hold = true; }")
        doing(page, page.locator("[data-mode=ohms]:visible").click)
        for spot in page.eval_on_selector_all("[data-point]", "all => all.map(one => one.dataset.point)")[:2]:
            doing(page, page.locator(f"[data-point='{spot}']").click)
        assert page.locator(".ltl-shown").inner_text() == panel.view["reading"]["shown"]
        assert page.locator("[data-mode=ohms]:visible").get_attribute("aria-pressed") == "true"
