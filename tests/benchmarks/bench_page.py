"""How long a move takes to reach the page: from the press to the new picture, in a JupyterLab in Chromium.

    python -m tests.benchmarks.bench_page

Each press is timed in the page, from the pointer going down to the frame after the panel's answer is drawn. Beside it,
in the same run and by the same presses, the older panel, a schematic, where it is in the tree (up to commit fda95c48).
The milliseconds are this computer's; the ratio is what can be compared.
"""

from __future__ import annotations

import json
import shutil
import statistics
import tempfile
from pathlib import Path
from typing import Any

from tests.conftest import open_browser
from tests.legtoleg.conftest import Lab, new_page, server

from dryerbench import notebook as rooms
from legtoleg.cli.lab import lab_command, lab_environment
from legtoleg.core.paths import ROOT

PANELS = {"drawn": ("machine_panel", "MachinePanel"), "schematic": ("panel", "BenchPanel")}
DEAD = (
    "Pull the plug",
    "Check the meter on a known live source",
    "Test dead",
    "Check the meter on a known live source",
)
POINTS = ("T1", "T0", "T2", "T3")
ROUNDS = 3
CELL = """
from IPython.display import display
from dryerbench.bench.bench import Bench
from dryerbench.notebook.{module} import {panel}
display({panel}(Bench()).bundle(), raw=True)
"""
WATCH = """() => {
    const root = document.querySelector(".ltl-bench");
    window.took = [];
    let begun = 0;
    root.addEventListener("pointerdown", () => { begun = performance.now(); }, true);
    new MutationObserver(() => {
        const from = begun;
        requestAnimationFrame(() => {
            const after = new MessageChannel();
            after.port1.onmessage = () => window.took.push(performance.now() - from);
            after.port2.postMessage(null);
        });
    }).observe(root, { attributes: true, attributeFilter: ["data-turn"] });
}"""


def notebook(path: Path, panel: str) -> None:
    """Write a notebook whose one cell shows a panel."""
    module, name = PANELS[panel]
    cell = {"cell_type": "code", "id": "a", "metadata": {}, "outputs": [], "execution_count": None}
    cell["source"] = CELL.format(module=module, panel=name)
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    made = {"cells": [cell], "metadata": {"kernelspec": kernel}, "nbformat": 4, "nbformat_minor": 5}
    path.write_text(json.dumps(made), encoding="utf-8")


def press(page: Any, what: Any) -> float:
    """Press and return the milliseconds to the frame that shows the answer."""
    before = page.evaluate("() => window.took.length")
    what.scroll_into_view_if_needed()
    what.click(force=True)
    page.wait_for_function("before => window.took.length > before", arg=before)
    return float(page.evaluate("() => window.took.at(-1)"))


def button(root: Any, name: str) -> Any:
    """Return a visible button of the panel by its words."""
    return root.get_by_role("button", name=name, exact=True).first


def moves(page: Any, panel: str) -> dict[str, list[float]]:
    """Work one panel; return the times of its acts, and of its points with both probes."""
    root = page.locator(".ltl-bench")
    page.evaluate(WATCH)
    acts = [press(page, button(root, name)) for name in DEAD]
    acts.append(press(page, button(root, "Take the cover off")))
    if panel == "drawn":
        acts.append(press(page, root.locator("[data-mode=ohms]:visible").first))
        acts.append(press(page, button(root, "heater box")))
        spots = [root.locator(f"[data-point][aria-label*='{name}']").first for name in POINTS]
    else:
        acts.append(press(page, root.locator("input[value=ohms]").first))
        spots = [root.locator(f"[data-point='{name}']") for name in POINTS]
    points = [press(page, spot) for _ in range(2) for spot in spots]
    return {"acts": acts, "points": points}


def main() -> None:
    """Print a line for each panel, and the ratio."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        raise SystemExit("Chromium is not there; the page cannot be measured.")
    there = [panel for panel, (module, _) in PANELS.items() if (Path(rooms.__file__).parent / f"{module}.js").exists()]
    took: dict[str, dict[str, list[float]]] = {panel: {"acts": [], "points": []} for panel in there}
    with tempfile.TemporaryDirectory() as folder:
        where = Path(folder)
        for panel in there:
            notebook(where / f"{panel}.ipynb", panel)
        own = {"PYTHONPATH": str(ROOT / "lessons"), "JUPYTERLAB_WORKSPACES_DIR": str(where / "workspaces")}
        command = lab_command(where, "--LabApp.expose_app_in_browser=True")
        environment = {**lab_environment(where), **own}
        with (
            server(command, environment, where / "log", where) as address,
            open_browser(chromium) as browser,
            new_page(browser) as page,
        ):
            page.goto(f"{address}/lab?token=token")
            page.wait_for_function("() => window.jupyterapp !== undefined")
            for _ in range(ROUNDS):
                for panel in there:
                    for kind, found in once(page, panel).items():
                        took[panel][kind] += found
    for panel, kinds in took.items():
        told = (f"{kind} {statistics.median(found):6.1f} ms of {len(found)}" for kind, found in kinds.items())
        print(f"{panel:10}", *told)
    if len(took) > 1:
        both = [statistics.median([*kinds["acts"], *kinds["points"]]) for kinds in took.values()]
        print(f"the drawn panel takes {both[0] / both[1]:.2f} times as long as the schematic")


def once(page: Any, panel: str) -> dict[str, list[float]]:
    """Open the notebook of one panel, run it, work it, and close it."""
    lab = Lab(page, Path(), "")
    with lab.notebook(f"{panel}.ipynb"):
        lab.run_all()
        page.locator(".ltl-bench").wait_for()
        return moves(page, panel)


if __name__ == "__main__":
    main()
