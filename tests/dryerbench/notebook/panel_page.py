"""The panel of a drawn machine in a real browser, without a notebook round it: its page script, and its Python."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from dryerbench.notebook import machine_panel
from dryerbench.notebook.machine_panel import MachinePanel

_HOST = """
<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Bench</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<style>body { margin: 0; padding: 8px; background: %s; } %s</style></head>
<body data-jp-theme-light="%s"><main><h1 style="position:absolute;left:-99em">Bench</h1><div id="here"></div></main>
<script type="module">%s
const state = JSON.parse(await window.ask("null"));
const heard = {};
window.state = state;
const model = {
  get: (name) => state[name],
  on: (name, act) => (heard[name] = act),
  off: () => {},
  send: async (content) => {
    if (window.lost > 0) return void (window.lost -= 1); // a line that drops what is sent
    Object.assign(state, JSON.parse(await window.ask(JSON.stringify(content))));
    heard["change:view"]();
  },
};
render({ model, el: document.getElementById("here") });
window.ready = true;
</script></body></html>
"""


@contextmanager
def panel_page(
    browser: Any, panel: MachinePanel, width: int = 960, height: int = 650, *, dark: bool = False, **given: Any
) -> Iterator[Any]:
    """Show ``panel`` on a page of that size; ``given`` goes to the browser's context."""

    def ask(content: str) -> str:
        said = json.loads(content)
        if said is not None:
            panel.receive(said)
        names = ("menu", "drawing", "faces", "view")
        return json.dumps({name: getattr(panel, name) for name in names}, allow_nan=False)

    folder = Path(machine_panel.__file__)
    script = machine_panel.SCRIPT.replace("export default { render };", "")
    style = folder.with_suffix(".css").read_text(encoding="utf-8")
    context = browser.new_context(viewport={"width": width, "height": height}, **given)
    page = context.new_page()
    page.set_default_timeout(30_000)
    page.expose_function("ask", ask)
    ground = "#14191c" if dark else "#ffffff"
    page.set_content(_HOST % (ground, style, "false" if dark else "true", script))
    page.wait_for_function("() => window.ready")
    yield page
    context.close()


def settled(page: Any, before: str) -> None:
    """Wait until the page shows the answer to what was just done."""
    page.wait_for_function("before => document.querySelector('.ltl-bench').dataset.turn !== before", arg=before)


def doing(page: Any, act: Any) -> None:
    """Do ``act`` on the page and wait for its answer."""
    before = page.locator(".ltl-bench").get_attribute("data-turn")
    act()
    settled(page, before)


class Keys:
    """The page worked by keys alone."""

    def __init__(self, page: Any) -> None:
        self.page = page

    def on(self) -> str:
        """Return what has the focus: its spot, place or dial's position, or its words."""
        return str(
            self.page.evaluate(
                """() => { const on = document.activeElement;
                return on.dataset.point || on.dataset.place || on.dataset.mode || on.textContent.trim(); }"""
            )
        )

    def tab_to(self, wanted: str, *, back: bool = False) -> None:
        """Go to ``wanted`` by Tab."""
        self._until(lambda: self.on() == wanted, "Shift+Tab" if back else "Tab", wanted)

    def walk(self, wanted: str) -> None:
        """Go to ``wanted`` by the right arrow: from tab to tab, round the dial."""
        self._until(lambda: self.on() == wanted, "ArrowRight", wanted)

    def back_to(self, selector: str) -> None:
        """Go back by Tab until the focus is inside of what ``selector`` finds."""
        inside = f"() => !!document.activeElement.closest('{selector}')"
        self._until(lambda: bool(self.page.evaluate(inside)), "Shift+Tab", selector)

    def _until(self, there: Callable[[], bool], key: str, wanted: str) -> None:
        for _ in range(60):
            if there():
                return
            self.page.keyboard.press(key)
        raise AssertionError(f"no way to {wanted} by {key}; the focus is on {self.on()}")

    def press(self, key: str = "Enter") -> None:
        """Press a key that the bench answers."""
        doing(self.page, lambda: self.page.keyboard.press(key))

    def arrows_to(self, wanted: str) -> None:
        """Go from the focused spot to ``wanted`` by arrow keys, always along the longer side."""
        for _ in range(60):
            if self.on() == wanted:
                return
            self.page.keyboard.press(self.page.evaluate(_TOWARD, wanted))
        raise AssertionError(f"no way to {wanted} by arrow keys; the focus is on {self.on()}")


_TOWARD = """wanted => {
    const middle = (one) => ["cx", "cy"].map((name) => Number(one.querySelector("circle").getAttribute(name)));
    const [x, y] = middle(document.activeElement);
    const [u, v] = middle(document.querySelector(`[data-point='${wanted}']`));
    if (Math.abs(u - x) > Math.abs(v - y)) return u > x ? "ArrowRight" : "ArrowLeft";
    return v > y ? "ArrowDown" : "ArrowUp";
}"""
