"""A whole call on an unnamed machine, by mouse, by finger and by keys alone: full marks from the real marker."""

from __future__ import annotations

from typing import Any

import pytest
from tests.dryerbench.notebook.panel_page import panel_page
from tests.legtoleg.marking.hands import Finger, Keys, Mouse

from dryerbench.bench.access import arrangement_of, pullable
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import faults_on, machine_on
from dryerbench.course.bench_card import BenchCard, faults_of, open_bench
from dryerbench.diagnosis.machine_complaints import suspects
from dryerbench.diagnosis.machine_hand_over import dead_readings_of
from dryerbench.family.faults import read_fault
from dryerbench.family.settings import read_setting
from dryerbench.notebook.forms import receive
from dryerbench.notebook.machine_panel import MachinePanel
from dryerbench.registry import sheet
from dryerbench.topics.call_to_close.sheet import heard_on
from legtoleg.marking.answer_parsing import read_record
from legtoleg.marking.marking import mark_lesson

pytestmark = [pytest.mark.slow, pytest.mark.browser]
LESSON, WHO = "10_call_to_close", "demo-02"
HANDS: dict[str, tuple[type[Mouse], int, int, dict[str, Any]]] = {
    "mouse": (Mouse, 960, 650, {}),
    "keys": (Keys, 960, 650, {}),
    "finger": (Finger, 390, 844, {"has_touch": True, "is_mobile": True}),
}

USED = {"mouse": ["mouse"], "keys": [], "finger": ["touch"]}
"""What may have pressed on the page; a press by Enter has no pointer."""
WATCH = """() => {
    window.used = new Set();
    const hear = (event) => {
        if (!event.isTrusted) window.used.add("code");
        else if (event.pointerType) window.used.add(event.pointerType);
    };
    for (const name of ["pointerdown", "click"]) window.addEventListener(name, hear, true);
    window.addEventListener("keydown", (event) => event.isTrusted || window.used.add("code"), true);
}"""


def job(bench: Bench, heard: str) -> list[Act]:
    """Do the call on ``bench`` by code, as its lesson teaches it, and return the acts: what a hand then does."""
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "look_vent", "gear_on"):
        bench.do(act)
    for pair in ("outlet-1 outlet-2", "outlet-1 outlet-N", "outlet-2 outlet-N"):
        bench.low_impedance(*pair.split())
    for act in ("prove_meter", "gear_off", "cover_off"):
        bench.do(act)
    bench.do("test_dead", where="block")
    bench.do("prove_meter")
    _to_case(bench)
    _read_suspects(bench, heard)
    (wrong,) = faults_on(bench)
    bench.do("replace_part", part=catalogue(wrong.name)["part"])
    for wire in sorted(bench.state.pulled):
        bench.do("put_back_wire", wire=wire)
    _to_case(bench)
    for act in ("cover_on", "plug_in"):
        bench.do(act)
    bench.do("ask_heat", heat=arrangement_of(machine_on(bench)).heats[0])
    for act in ("press_start", "let_run"):
        bench.do(act)
    bench.temperature("exhaust")
    bench.do("stop")
    return list(bench.trail)


def _read_suspects(bench: Bench, heard: str) -> None:
    """Take the readings that tell the suspects apart, wires tagged before they are pulled."""
    made = arrangement_of(machine_on(bench))
    readings = {(one.a, one.b, one.state): one for name in suspects(made, heard)
                for one in dead_readings_of(made, read_fault(name, made))}  # fmt: skip
    in_order = sorted(readings.values(), key=lambda one: read_setting(one.state).pulled)
    ends = {point for one in in_order if read_setting(one.state).pulled for point in (one.a, one.b)}
    off = [wire.name for wire in made.wires if ends & {wire.a, wire.b} and wire.name in pullable(machine_on(bench))]
    dial = ""
    for one in in_order:
        setting = read_setting(one.state)
        if setting.pulled and not bench.state.pulled:
            for number, wire in enumerate(off, start=1):
                bench.do("tag_wire", wire=wire, text=f"mine {number}")
                bench.do("pull_wire", wire=wire)
        if setting.dial != dial:
            bench.do("ask_heat", heat=setting.dial)
            dial = setting.dial
        bench.ohms(one.a, "case" if one.b == "G" else one.b)


def _to_case(bench: Bench) -> None:
    for point in ("plug-G", *arrangement_of(machine_on(bench)).box_terminals):
        bench.ohms(point, "case")


def marks(card: BenchCard, bench: Bench) -> dict[str, tuple[float, int]]:
    """Return the points of the two questions about this call, each with the most that it gives."""
    asked = {one.name: one for one in sheet(LESSON).questions if one.name in ("call_fault", "call_repair")}
    letters = {option.key: letter for letter, option in asked["call_fault"].lettered(card).items()}
    (wrong,) = faults_of(card, 1)
    given = {"call_fault": (letters[wrong], bench), "call_repair": bench}
    found = {name: read_record(receive(one, card, given[name]).record, name) for name, one in asked.items()}
    marked = mark_lesson(LESSON, card.apprentice, found)
    return {name: (marked[name].points, one.points) for name, one in asked.items()}


@pytest.mark.parametrize("hand", HANDS)
def test_a_whole_call_earns_full_marks(browser: Any, hand: str) -> None:
    kind, wide, high, given = HANDS[hand]
    card = sheet(LESSON).card(WHO)
    plan = job(open_bench(card, 1), heard_on(card))
    bench = open_bench(card, 1)
    panel = MachinePanel(bench, named=False)
    with panel_page(browser, panel, wide, high, **given) as page:
        page.evaluate(WATCH)
        worker = kind(page, panel)
        for act in plan:
            worker.do(act)
            assert page.locator(".ltl-refused").count() == 0, (act, page.locator(".ltl-say").inner_text())
        assert set(page.evaluate("() => [...window.used]")) == set(USED[hand])
        assert page.locator(".ltl-finding").count() == 0
        assert "mine 1" in page.locator(".ltl-bench ol").text_content()
    assert [one["act"] for one in bench.trail] == [one["act"] for one in plan]
    assert marks(card, bench) == {"call_fault": (6.0, 6), "call_repair": (6.0, 6)}
