"""The panel of a drawn machine worked by one hand: by mouse, by finger, or by keys alone. Nothing is called by code."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from tests.dryerbench.notebook.panel_page import doing

from dryerbench.bench.shop_names import heat_words
from dryerbench.bench.trail import Act
from dryerbench.notebook.machine_names import MachineNames
from dryerbench.notebook.machine_panel import MachinePanel
from dryerbench.notebook.machine_scene import WORDS

SAFE, RUN, PARTS = "Make it dead", "Run", "Parts"
BUTTONS: Mapping[str, tuple[str, str]] = {
    "unplug": (SAFE, "Pull the plug"),
    "plug_in": (SAFE, "Put the plug in"),
    "prove_meter": (SAFE, "Check the meter on a known live source"),
    "cover_off": (SAFE, "Take every cover off"),
    "cover_on": (SAFE, "Put every cover on"),
    "gear_on": (SAFE, "Rated gloves on (qualified)"),
    "gear_off": (SAFE, "Gloves off"),
    "open_door": (RUN, "Open the door"),
    "close_door": (RUN, "Close the door"),
    "press_start": (RUN, "Press start"),
    "let_run": (RUN, "Let it run 10 min"),
    "stop": (RUN, "Stop"),
    "look_vent": (PARTS, "Look into filter, duct and hood"),
}
"""The list and the button of each act that is one press."""
AT_THE_THING = {"unplug": "plug", "plug_in": "plug"}


class Mouse:
    """The hand at a mouse: it clicks on what it sees."""

    def __init__(self, page: Any, panel: MachinePanel) -> None:
        self.page, self.panel = page, panel

    # --- how this hand does it --------------------------------------------------------------------------------

    def press(self, what: Any) -> None:
        """Press ``what``."""
        what.click()

    def choose(self, field: Any, value: str) -> None:
        """Choose in a list; its own pop-up is the system's, and out of a test's reach."""
        field.select_option(value)

    def write(self, field: Any, words: str) -> None:
        """Write into a field."""
        field.click()
        self.page.keyboard.type(words)

    # --- what is done -----------------------------------------------------------------------------------------

    @property
    def names(self) -> MachineNames:
        """What the places of the drawing are."""
        return self.panel.names

    def answered(self, what: Any) -> None:
        """Press ``what`` and wait for the answer of the bench."""
        doing(self.page, lambda: self.press(what))

    def listed(self, tab: str, words: str) -> None:
        """Press a button of a list."""
        self.open(tab)
        self.answered(self.page.get_by_role("button", name=words, exact=True))

    def open(self, tab: str) -> None:
        """Open a list."""
        made = self.page.get_by_role("tab", name=tab)
        if made.get_attribute("aria-selected") != "true":
            self.press(made)

    def go(self, view: str) -> None:
        """Look at a place."""
        if self.panel.look.at != view:
            self.answered(self.page.locator(f".mv-places [data-go='{view}']"))

    def do(self, act: Act) -> None:
        """Do one act as the page offers it."""
        own: Mapping[str, Callable[..., None]] = {
            "test_dead": self._test_dead,
            "set_dial": self._dial,
            "ask_heat": self._heat,
            "probe": self._probe,
            "pull_wire": self._wire,
            "put_back_wire": self._wire,
            "tag_wire": self._tag,
            "replace_part": self._replace,
            "temperature": self._temperature,
        }
        name, given = act["act"], act["with"]
        thing = self.page.locator(f".mv-stage [data-place='{AT_THE_THING.get(name)}']")
        if name in own:
            own[name](**given)
        elif name in AT_THE_THING and thing.count():
            self.answered(thing)
        else:
            self.listed(*BUTTONS[name])

    def _test_dead(self, where: str = "plug") -> None:
        self.open(SAFE)
        self.choose(self.page.get_by_label("Where to test dead"), where)
        self.listed(SAFE, "Test dead")

    def _dial(self, mode: str, full_scale: None = None) -> None:
        self.answered(self.page.locator(f".mv-meter [data-mode='{WORDS[mode]}']:visible"))

    def _heat(self, heat: str) -> None:
        self.listed(RUN, f"Set heat to {heat_words(heat)}")

    def _spots(self, a: str, b: str) -> list[tuple[str, str]]:
        """Return a view and a spot for each of two points, in one view if there is one."""
        found = [{view: spot for view, spots in self.names.spots.items() for spot in spots
                  if self.names.point_at[spot] == point} for point in (a, b)]  # fmt: skip
        both = [view for view in found[0] if view in found[1]]
        views = (both[0], both[0]) if both else tuple(next(iter(one)) for one in found)
        return [(view, one[view]) for view, one in zip(views, found, strict=True)]

    def _probe(self, a: str, b: str) -> None:
        for view, spot in self._spots(a, b):
            self.go(view)
            self.answered(self.page.locator(f".mv-stage [data-point='{spot}']"))

    def _wire(self, wire: str) -> None:
        token = next(token for token, there in self.names.wire_of.items() if there == wire)
        self.go(next(view for view, spots in self.names.spots.items() if token.partition("/")[0] in spots))
        self.open("Wires")
        self.answered(self.page.locator(f"[data-wire='{token}']"))

    def _tag(self, wire: str, text: str) -> None:
        token = next(token for token, there in self.names.wire_of.items() if there == wire)
        self.go(next(view for view, spots in self.names.spots.items() if token.partition("/")[0] in spots))
        self.open("Wires")
        self.choose(self.page.get_by_label("Wire to tag"), token)
        self.write(self.page.get_by_label("Words on the tag"), text)
        self.listed("Wires", "Tag the wire")

    def _replace(self, part: str) -> None:
        words = next(words for words, there in self.names.parts.items() if there == part)
        self.open(PARTS)
        self.choose(self.page.get_by_label("Part to replace"), words)
        self.listed(PARTS, "Install a new one")

    def _temperature(self, spot: str, unit: str) -> None:
        self.open(RUN)
        self.choose(self.page.get_by_label("Where to take the temperature"), spot)
        self.choose(self.page.get_by_label("Unit of the temperature"), unit)
        self.listed(RUN, "Read the temperature")


class Finger(Mouse):
    """The hand on a screen: it taps."""

    def press(self, what: Any) -> None:
        """Tap ``what``."""
        what.tap()

    def write(self, field: Any, words: str) -> None:
        """Write into a field with the screen's own keys."""
        field.tap()
        self.page.keyboard.type(words)


class Keys(Mouse):
    """The hand at the keys: Tab, arrow keys, Home, Enter, and letters; it never presses with a mouse."""

    def press(self, what: Any) -> None:
        """Go to ``what`` and press Enter."""
        self.reach(what)
        self.page.keyboard.press("Enter")

    def choose(self, field: Any, value: str) -> None:
        """Go to a list and choose in it by the arrow keys."""
        self.reach(field)
        self.page.keyboard.press("Home")
        for _ in range(80):
            if field.input_value() == value:
                return
            self.page.keyboard.press("ArrowDown")
        raise AssertionError(f"{value} is not in the list")

    def write(self, field: Any, words: str) -> None:
        """Go to a field and write into it."""
        self.reach(field)
        self.page.keyboard.type(words)

    def reach(self, what: Any) -> None:
        """Go to ``what``: by Tab to it or to the group in which the arrow keys go on to it."""
        tried: list[str] = []
        for _ in range(200):
            step = what.evaluate(_NEXT_KEY, tried)
            if not step:
                return
            tried.append(step)
            self.page.keyboard.press(step.rpartition(" ")[2])
        raise AssertionError(f"no way by keys to {what}")


_NEXT_KEY = """(wanted, tried) => {
    const on = document.activeElement;
    if (on === wanted) return "";
    const group = wanted.closest(".mv-stage > svg, .mv-meter > div, [role=tablist]");
    if (group && group.contains(on)) {
        if (!wanted.closest(".mv-stage")) return "ArrowRight";
        const middle = (one) => ["cx", "cy"].map((name) => Number(one.querySelector("circle").getAttribute(name)));
        const [x, y] = middle(on), [u, v] = middle(wanted);
        const ways = [u > x ? "ArrowRight" : "ArrowLeft", v > y ? "ArrowDown" : "ArrowUp"];
        if (Math.abs(u - x) < Math.abs(v - y)) ways.reverse();
        const steps = ways.map((key) => `${on.dataset.point || on.dataset.place} ${key}`);
        return steps.find((step) => !tried.includes(step)) || steps[1];
    }
    return on.compareDocumentPosition(wanted) & Node.DOCUMENT_POSITION_PRECEDING ? "Shift+Tab" : "Tab";
}"""
"""Read where the focus is and give the key that leads on, along the longer side first; the page is not changed."""
