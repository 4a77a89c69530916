"""A supervised test on the page: its jobs with their panels, naming a fault, handing in. The class holds the rest."""

from __future__ import annotations

import os
from datetime import datetime
from html import escape
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from dryerbench.drawing.interactive_figure import MODE, show_bundle
from dryerbench.drawing.message_box import message_box
from dryerbench.notebook.bench_display import show_bench
from dryerbench.notebook.class_bar import PAGE, saved_page
from dryerbench.notebook.sealed_bench import SealedBench, SealedLink, Supervised
from dryerbench.notebook.widget_row import widget_row

_SAVING = 3.0


def supervised_bench(test: str, job: str) -> SealedBench:
    """Return the bench ``job`` of the supervised ``test``, as it stands in the class.

    Raises
    ------
    SealedBenchError
        If no class runs this page, there is no such test for you, or it has ended.
    """
    return SealedBench.at(SealedLink.here(), test, job)


def told_of(test: Supervised) -> str:
    """Return what is said of a test in one line."""
    until = datetime.fromisoformat(test["until"]).astimezone()
    if not test["open"]:
        return f"{test['title']} ({test['test']}): it has ended. Your instructor grades it."
    minutes = round(test["left"] / 60)
    return f"{test['title']} ({test['test']}): open until {until:%H:%M}, {minutes} minutes from now. One try."


def fetch_page(test: str) -> Path:
    """Write the page of a refresher beside this one, if it is not there yet, and return it.

    Raises
    ------
    SealedBenchError
        If it is not to be had.
    """
    said = SealedLink.here().said("GET", f"/tests/{test}/page")
    place = Path(os.environ.get(PAGE, "")).parent / Path(str(said["file"])).name
    if not place.exists():
        place.write_text(str(said["page"]), encoding="utf-8")
    return place


def supervised_hand_in(test: str, page: str) -> None:
    """Hand the ``page`` of a refresher in, as it is saved: the test is over for you then.

    Raises
    ------
    LegToLegError
        If the page is not saved here, or the class did not take it.
    """
    named = Path(os.environ.get(PAGE, ""))
    content, saved = saved_page(named if named.suffix == ".ipynb" else Path(page), _SAVING)
    said = SealedLink.here().said("POST", f"/tests/{test}/page", content)
    words = f"Handed in, as the page was saved at {saved:%H:%M:%S}. Receipt (SHA-256): {said['sha256']}"
    show_bundle({"text/plain": words, "text/html": message_box(escape(words))})


class FaultPad:
    """The widgets with which the fault of one job is named: once."""

    def __init__(self, bench: SealedBench) -> None:
        import ipywidgets as widgets

        self.bench = bench
        self.fault = widgets.Dropdown(options=[(words, key) for key, words in bench.offers], description="The fault is")
        self.name = widgets.Button(description="Name it, once", disabled=bool(bench.named))
        self.says = widgets.HTML()
        self.view = widgets.VBox([widget_row(self.fault, self.name), self.says])
        if bench.named:
            self.fault.value = bench.named
            self._say("You named this fault.")
        self.name.on_click(lambda _: self.answer())

    def answer(self) -> None:
        """Name the fault that stands there."""
        try:
            said = self.bench.name_fault(self.fault.value)
        except LegToLegError as error:
            said = str(error)
        self.name.disabled = bool(self.bench.named)
        self._say(said)

    def _say(self, words: str) -> None:
        self.says.value = message_box(escape(words), spoken=True)


class EndPad:
    """The button that ends a test: pressed twice, since there is one try."""

    def __init__(self, test: str) -> None:
        import ipywidgets as widgets

        self.test, self.sure = test, False
        self.button = widgets.Button(description="I am done: end the test", layout=widgets.Layout(width="18em"))
        self.says = widgets.HTML()
        self.view = widgets.VBox([self.button, self.says])
        self.button.on_click(lambda _: self.press())

    def press(self) -> None:
        """Ask once, then end it."""
        if not self.sure:
            self.sure = True
            self.says.value = message_box(
                "After that nothing can be done on its dryers. Press again to end it.", spoken=True
            )
            return
        try:
            said = SealedLink.here().said("POST", f"/tests/{self.test}/end")["said"]
            self.button.disabled = True
        except LegToLegError as error:
            said = error
        self.says.value = message_box(escape(str(said)), spoken=True)


def supervised_test() -> None:
    """Show the supervised test that is open for you: each machine with its panel, and what to hand in.

    Raises
    ------
    SealedBenchError
        If no class runs this page.
    """
    link = SealedLink.here()
    tests = link.tests()
    there = [one for one in tests if one["open"]]
    lines = [told_of(one) for one in there or tests[:1]] or ["No supervised test is open for you."]
    show_bundle({"text/plain": "\n".join(lines), "text/html": "".join(f"<p>{escape(line)}</p>" for line in lines)})
    for test in there:
        _show_test(link, test)


def _show_test(link: SealedLink, test: Supervised) -> None:
    if test["kind"] == "refresher":
        page = fetch_page(test["test"])
        show_bundle({
            "text/plain": f"Your page: {page.name}",
            "text/markdown": f"Your page is next to this one: [{page.name}]({page.name}). Open it and begin.",
        })  # fmt: skip
        return
    for job, _, _ in test["jobs"]:
        bench = SealedBench.at(link, test["test"], job)
        head = "".join(f"<p>{escape(line)}</p>" for line in bench.known)
        show_bundle({"text/plain": bench.words(), "text/html": f"<h3>{escape(bench.title)}</h3>{head}"})
        show_bench(bench)
        if bench.offers:
            _show_pad(FaultPad(bench))
    _show_pad(EndPad(test["test"]))


def _show_pad(pad: FaultPad | EndPad) -> None:
    if os.environ.get(MODE, "live") == "live":
        bundle: dict[str, object] = pad.view._repr_mimebundle_()
        show_bundle({**bundle, "text/plain": "The buttons of this test."})
