"""The pictures of the README, made anew into ``.pictures/``. Run by hand (it is no test, and not collected as one):

python -m pytest tests/legtoleg/make_pictures.py
"""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from legtoleg.authoring.workbook import write_pages
from legtoleg.core.paths import ROOT, START
from legtoleg.demo.trial import run_trial

pytestmark = [pytest.mark.slow, pytest.mark.browser]
LARGEST = 200_000
FIGURE, BENCH, PAPER = "03_heater_power", "10_call_to_close", "01_made_dead"


def keep(name: str, png: bytes) -> None:
    """Keep a picture as a small PNG of at most 128 colors."""
    picture = Image.open(io.BytesIO(png)).convert("RGB").quantize(128, dither=Image.Dither.NONE)
    path = ROOT / ".pictures" / f"{name}.png"
    path.parent.mkdir(exist_ok=True)
    picture.save(path, optimize=True)
    assert path.stat().st_size < LARGEST


def around(page: Any, first: Any, last: Any, margin: int = 12) -> bytes:
    """Return the picture from the top of ``first`` to the bottom of ``last``, which must fit into the window."""
    first.scroll_into_view_if_needed()
    a, b = first.bounding_box(), last.bounding_box()
    left, top = min(a["x"], b["x"]) - margin, a["y"] - margin
    right = max(a["x"] + a["width"], b["x"] + b["width"]) + margin
    clip = {"x": left, "y": top, "width": right - left, "height": b["y"] + b["height"] + margin - top}
    return bytes(page.screenshot(clip=clip))


def test_the_report(request: pytest.FixtureRequest, tmp_path: Path) -> None:
    run_trial(tmp_path / "try", 12, 1)
    page = request.getfixturevalue("page")  # not before: a browser and a kernel want the same loop
    page.set_viewport_size({"width": 1560, "height": 1500})
    page.goto((tmp_path / "try" / "report.html").as_uri())
    keep("report", around(page, page.locator("h1"), page.locator(".lists"), 6))


def test_a_workbook_page(request: pytest.FixtureRequest, tmp_path: Path) -> None:
    (path,) = write_pages(tmp_path, PAPER, "demo-02")
    page = request.getfixturevalue("page")
    page.set_viewport_size({"width": 860, "height": 1600})
    page.goto(path.as_uri())
    heading = page.get_by_role("heading", name="The ground wire on the cabinet")
    keep("workbook", around(page, heading, page.locator(".practice").nth(1)))


def test_start_page(lab: Any) -> None:
    with lab.notebook(f"{START}/{START}.ipynb") as notebook:
        lab.run_all()
        notebook.locator(".jp-WindowedPanel-outer").evaluate("outer => { outer.scrollTop = 0; }")
        keep("start", lab.page.screenshot())


def test_a_figure_that_follows_its_knobs(lab: Any) -> None:
    with lab.notebook(f"{FIGURE}/{FIGURE}.ipynb") as notebook:
        lab.run_all()
        view = notebook.locator(".fig-view").nth(1)
        view.get_by_role("slider").first.focus()
        lab.page.keyboard.press("ArrowLeft")
        view.get_by_text("2 of three coils").wait_for()
        lab.page.wait_for_timeout(1500)
        keep("figure", around(lab.page, view, view))


def test_the_bench(lab: Any) -> None:
    lab.page.set_viewport_size({"width": 1500, "height": 2000})
    with lab.notebook(f"{BENCH}/{BENCH}.ipynb") as notebook:
        lab.run_all()
        panel = notebook.locator(".ltl-bench").last
        prove = "Check the meter on a known live source"
        acts = ("Pull the plug", prove, "Test dead", prove, "Take the cover off")
        wires = ("wire T1", "wire T2", "wire T3", "wire T0")
        for turn, name in enumerate((*acts, "heater box", *wires, "ohms", "T1", "T0", "T3", "T0"), 1):
            if name == "ohms":
                panel.locator(".mv-upright [data-mode=ohms]").click()
            elif name in ("T0", "T1", "T3"):
                panel.locator(f"[data-point][aria-label*='tagged {name}']").first.click()
            else:
                if name == wires[0]:
                    panel.get_by_role("tab", name="Wires").click()
                panel.get_by_role("button", name=name, exact=True).click()
            panel.locator(f"xpath=self::*[@data-turn='{turn}']").wait_for()
        keep("bench", panel.screenshot())
    lab.page.set_viewport_size({"width": 1400, "height": 1000})
