"""The bench panel in a real JupyterLab: a whole job by mouse and again by keyboard alone, and how fast it answers."""

from __future__ import annotations

import re
import statistics
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_notebook

from dryerbench.bench.bench import Bench
from dryerbench.notebook.machine_names import own_names

pytestmark = [pytest.mark.slow, pytest.mark.browser]
FAULT = "element-2-open"
SPOT = own_names(Bench(faults=[FAULT]), named=True).spot_of
BENCH = f"""
from dryerbench import *
from dryerbench.bench.bench import Bench

bench = Bench(faults=["{FAULT}"])
show_bench(bench)
"""
SHOW = """
from dryerbench.bench.worksite import machine_on
from dryerbench.diagnosis.paths import from_trail
print("acts:", *[act["act"] for act in bench.trail])
print("read:", *[act["reading"]["shown"].replace(" ", "") for act in bench.trail if "reading" in act])
print("unsafe:", sum(one.gate for one in bench.findings))
print("singled out:", *from_trail(machine_on(bench), bench.trail).singled_out())
"""
ACTS = (
    "acts: unplug prove_meter test_dead prove_meter cover_off pull_wire pull_wire pull_wire pull_wire set_dial "
    "probe probe probe probe"
)


@contextmanager
def bench_page(lab: Any) -> Iterator[Any]:
    notebook = new_notebook(cells=[new_code_cell(BENCH), new_code_cell(SHOW)])
    notebook.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3", "language": "python"}
    nbformat.write(notebook, lab.lessons / "bench.ipynb")
    with lab.notebook("bench.ipynb") as opened:
        lab.run_all()
        opened.locator(".jp-OutputArea-output pre", has_text="acts:").wait_for()
        yield opened.locator(".ltl-bench")


def settled(panel: Any, turn: int) -> float:
    """Wait until the page shows the answer to its ``turn``-th act; return how long that took, in ms."""
    panel.page.wait_for_function(
        "turn => document.querySelector('.ltl-bench').dataset.turn === String(turn)", arg=turn, timeout=60_000
    )
    return float(panel.get_attribute("data-milliseconds"))


def said_by_code(page: Any) -> str:
    """Run the last cell by code, through the notebook's own menu, and return what it printed."""
    page.locator(".jp-CodeCell .jp-InputArea-editor").last.click()
    page.keyboard.press("Control+Enter")
    done = page.locator(".jp-OutputArea-output pre", has_text=re.compile(r"acts: unplug.*singled out: \S+", re.DOTALL))
    done.wait_for()
    return str(page.locator(".jp-OutputArea-output pre").last.inner_text())


def test_a_whole_job_by_mouse(lab: Any) -> None:
    page = lab.page
    with bench_page(lab) as panel:
        turn = 0

        def press(name: str, role: str = "button") -> None:
            nonlocal turn
            panel.get_by_role(role, name=name, exact=True).first.click()
            turn += 1
            settled(panel, turn)

        def tab(name: str) -> None:
            panel.get_by_role("tab", name=name).click()

        def point(name: str) -> None:
            nonlocal turn
            panel.locator(f"[data-point='{SPOT[name]}']").click()
            turn += 1
            settled(panel, turn)

        for name in (
            "Pull the plug",
            "Check the meter on a known live source",
            "Test dead",
            "Check the meter on a known live source",
        ):
            press(name)
        press("receptacle")
        assert panel.locator("[data-point]").count() == 8
        press("Take the cover off")
        press("heater box")
        tab("Wires")
        for wire in ("wire T1", "wire T2", "wire T3", "wire T0"):
            press(wire)
        panel.locator("[data-mode=ohms]:visible").click()
        turn += 1
        settled(panel, turn)
        for pair in (("T1", "T0"), ("T2", "T0"), ("T3", "T0")):
            for name in pair:
                point(name)
        held, case = panel.locator("[data-probe='A']"), panel.locator("[data-point='box-1-metal']")
        held.scroll_into_view_if_needed()
        start, end = held.bounding_box(), case.bounding_box()
        page.mouse.move(start["x"] + start["width"] / 2, start["y"] + start["height"] / 2)
        page.mouse.down()
        page.mouse.move(start["x"] + 50, start["y"] - 50, steps=3)
        page.mouse.move(end["x"] + end["width"] / 2, end["y"] + end["height"] / 2, steps=3)
        page.mouse.up()
        turn += 1
        settled(panel, turn)
        said = said_by_code(page)
        assert ACTS in said
        assert "unsafe: 0" in said
        assert f"singled out: {FAULT}" in said


def test_a_whole_job_by_keyboard_alone(lab: Any) -> None:
    page = lab.page
    with bench_page(lab) as panel:
        tab_to(page, "Read again", back=True)
        keys, turn = page.keyboard, 0

        def act(key: str = "Enter") -> None:
            nonlocal turn
            keys.press(key)
            turn += 1
            settled(panel, turn)

        for name in ("Pull the plug", "Check the meter on a known live source", "Test dead"):
            tab_to(page, name)
            act()
        tab_to(page, "Check the meter on a known live source", back=True)
        act()
        tab_to(page, "Take the cover off")
        act()
        tab_to(page, "Make it dead", back=True)
        walk(page, "Wires")
        for wire in ("wire T1", "wire T2", "wire T3", "wire T0"):
            tab_to(page, wire)
            act(" ")
        tab_to(page, "volts", back=True)
        walk(page, "ohms")
        act()
        tab_to(page, "Wires")
        walk(page, "Meter")
        for a in ("T1", "T2", "T3", "cabinet"):
            for letter, spot in (("A", a), ("B", "T0")):
                if (letter, a) == ("B", "T1") or letter == "A":
                    tab_to(page, f"Where to put probe {letter}", back=letter == "A" and a != "T1")
                    pick(page, spot)
                    tab_to(page, f"Put probe {letter} there")
                    act()
        said = said_by_code(page)
        assert ACTS in said
        assert "unsafe: 0" in said
        assert f"singled out: {FAULT}" in said


def tab_to(page: Any, name: str, *, back: bool = False) -> None:
    """Go to what is called ``name`` by Tab."""
    _until(page, name, "Shift+Tab" if back else "Tab")


def walk(page: Any, name: str) -> None:
    """Go to what is called ``name`` by the right arrow: from tab to tab, round the dial."""
    _until(page, name, "ArrowRight")


def _until(page: Any, name: str, key: str) -> None:
    for _ in range(80):
        if focused(page) == name:
            return
        page.keyboard.press(key)
    raise AssertionError(f"no way to {name} by {key}; focus is on {focused(page)}")


def focused(page: Any) -> str:
    return str(
        page.evaluate(
            """() => {
                const on = document.activeElement;
                const list = on.tagName === "SELECT" && on.getAttribute("aria-label");
                return list || on.dataset.point || on.dataset.mode || on.textContent.trim();
            }"""
        )
    )


def pick(page: Any, spot: str) -> None:
    """Choose in the focused list by the down arrow."""
    on = "() => document.activeElement.selectedOptions[0].textContent"
    page.keyboard.press("Home")
    for _ in range(80):
        if page.evaluate(on) == spot:
            return
        page.keyboard.press("ArrowDown")
    raise AssertionError(f"{spot} is not in the list")


def test_a_move_is_answered_at_once(lab: Any) -> None:
    with bench_page(lab) as panel:
        turn, took = 2, []
        panel.get_by_role("button", name="Pull the plug").click()
        settled(panel, 1)
        panel.get_by_role("button", name="receptacle", exact=True).click()
        settled(panel, 2)
        for _ in range(5):
            for name in ("outlet-1", "plug-1", "outlet-2", "plug-2"):
                panel.locator(f"[data-point='{SPOT[name]}']").click()
                turn += 1
                took.append(settled(panel, turn))
        sys.stderr.write(f"a move: median {statistics.median(took):.0f} ms, worst {max(took):.0f} ms, of {len(took)}\n")
        assert len(took) == 20
