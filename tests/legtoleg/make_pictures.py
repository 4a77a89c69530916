"""The pictures of the README, made anew into ``.pictures/``. Run by hand (it is no test, and not collected as one):

python -m pytest tests/legtoleg/make_pictures.py
"""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from tests.dryerbench.notebook.panel_page import doing, panel_page

from dryerbench.bench.bench import Bench
from dryerbench.notebook.machine_panel import MachinePanel
from legtoleg.authoring.workbook import write_pages
from legtoleg.core.paths import ROOT, START
from legtoleg.demo.trial import run_trial

pytestmark = [pytest.mark.slow, pytest.mark.browser]
LARGEST = 200_000
FIGURE, PAPER = "03_heater_power", "01_made_dead"


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
        view = notebook.locator(".fig-view[aria-label='Three coils side by side']").first
        view.get_by_role("slider").first.focus()
        lab.page.keyboard.press("ArrowLeft")
        view.locator("p").filter(has_text="2 of three coils").wait_for()
        lab.page.wait_for_timeout(1500)
        keep("figure", around(lab.page, view, view))


PROVE, PLUG, BLOCK = ("prove_meter", {}), ("test_dead", {"where": "plug"}), ("test_dead", {"where": "block"})
DEAD: tuple[tuple[str, dict[str, str]], ...] = (
    *(("unplug", {}), PROVE, PLUG, PROVE),
    *(("cover_off", {}), PROVE, BLOCK, PROVE),
)


def test_the_bench(browser: Any) -> None:
    """Element 2 of the lessons' own dryer is read: dead, open, all wires of the heater box off."""
    bench = Bench()
    for act, given in DEAD:
        bench.do(act, **given)
    panel = MachinePanel(bench)
    with panel_page(browser, panel, 1000, 760, device_scale_factor=1.5, reduced_motion="reduce") as shown:
        doing(shown, shown.locator(".mv-places").get_by_role("button", name="heater box", exact=True).click)
        shown.get_by_role("tab", name="Wires").click()
        for wire in ("wire T1", "wire T2", "wire T3", "wire T0"):
            doing(shown, shown.get_by_role("button", name=wire, exact=True).click)
        doing(shown, shown.locator("[data-mode=ohms]:visible").click)
        for point in ("T2", "T0"):
            doing(shown, shown.locator(f"[data-point='{panel.names.spot_of[point]}']").click)
        keep("bench", shown.locator(".ltl-bench").screenshot())
    assert bench.findings == []
