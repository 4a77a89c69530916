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

from dryerbench.drawing.panel_drawing import SPOTS, neighbors

pytestmark = [pytest.mark.slow, pytest.mark.browser]
FAULT = "element-2-open"
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

        def press(name: str) -> None:
            nonlocal turn
            panel.get_by_role("button", name=name, exact=True).click()
            turn += 1
            settled(panel, turn)

        def point(name: str) -> None:
            nonlocal turn
            panel.locator(f"[data-point='{name}']").click()
            turn += 1
            settled(panel, turn)

        for name in ("Pull the plug", "Prove on a known source", "Test dead", "Prove on a known source"):
            press(name)
        point("T1")
        assert "behind the cover" in panel.locator(".ltl-refused").inner_text()
        press("Take the cover off")
        for wire in ("wire T1", "wire T2", "wire T3", "wire T0"):
            press(wire)
        panel.get_by_label("ohms", exact=True).check()
        turn += 1
        settled(panel, turn)
        for pair in (("T1", "T0"), ("T2", "T0"), ("T3", "T0")):
            for name in pair:
                point(name)
        tag, case = panel.locator("[data-probe='A']"), panel.locator("[data-point='case'] .ltl-dot")
        tag.scroll_into_view_if_needed()
        start, end = tag.bounding_box(), case.bounding_box()
        page.mouse.move(start["x"] + start["width"] / 2, start["y"] + start["height"] / 2)
        page.mouse.down()
        page.mouse.move(start["x"] - 50, start["y"] + 50, steps=3)
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
        panel.get_by_role("button", name="Read again").focus()  # from here on, keys only
        keys, turn = page.keyboard, 0

        def tab_to(name: str, back: bool = False) -> None:
            for _ in range(80):
                if focused(page) == name:
                    return
                keys.press("Shift+Tab" if back else "Tab")
            raise AssertionError(f"no way to {name} by Tab; focus is on {focused(page)}")

        def act(key: str = "Enter") -> None:
            nonlocal turn
            keys.press(key)
            turn += 1
            settled(panel, turn)

        for name in ("Pull the plug", "Prove on a known source", "Test dead"):
            tab_to(name)
            act()
        tab_to("Prove on a known source", back=True)
        act()
        tab_to("Take the cover off")
        act()
        for wire in ("wire T1", "wire T2", "wire T3", "wire T0"):
            tab_to(wire)
            act(" ")
        tab_to("volts", back=True)
        keys.press("ArrowDown")
        settled(panel, turn + 1)
        keys.press("ArrowDown")
        turn += 2
        settled(panel, turn)
        tab_to("plug-1")
        for wanted in ("T1", "T0", "T2", "T0", "T3", "T0"):
            walk(page, wanted)
            act()
        walk(page, "case")
        act("a")
        assert panel.locator(".ltl-point:focus-visible .ltl-ring").count() == 1
        said = said_by_code(page)
        assert ACTS.replace("set_dial", "set_dial set_dial") in said
        assert "unsafe: 0" in said
        assert f"singled out: {FAULT}" in said


def focused(page: Any) -> str:
    return str(
        page.evaluate(
            """() => {
                const on = document.activeElement;
                return on.dataset.point || (on.type === "radio" && on.value) || on.textContent.trim();
            }"""
        )
    )


def walk(page: Any, wanted: str) -> None:
    """Go from the focused test point to ``wanted`` by arrow keys, the shortest way."""
    ways = {focused(page): []}
    done: set[str] = set()
    near = neighbors(tuple(SPOTS))
    for here in iter(lambda: next((name for name in ways if name not in done), None), None):
        done.add(here)
        for key, other in near[here].items():
            ways.setdefault(other, [*ways[here], key])
    for key in ways[wanted]:
        page.keyboard.press(key)
    assert focused(page) == wanted


def test_a_move_is_answered_at_once(lab: Any) -> None:
    with bench_page(lab) as panel:
        turn, took = 0, []
        for _ in range(5):
            for name in ("case", "plug-1", "case", "plug-2"):
                panel.locator(f"[data-point='{name}']").click()
                turn += 1
                took.append(settled(panel, turn))
            if turn == 4:
                panel.get_by_role("button", name="Pull the plug").click()
                turn += 1
                settled(panel, turn)
        sys.stderr.write(f"a move: median {statistics.median(took):.0f} ms, worst {max(took):.0f} ms, of {len(took)}\n")
        assert len(took) == 20
