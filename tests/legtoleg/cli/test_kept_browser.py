"""Nothing is lost, and no code is needed: a lesson done in boxes in a real JupyterLab, whose kernel dies on the way."""

from __future__ import annotations

import json
import os
import shutil
import signal
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from dryerbench.course.questions import BenchQuestion, FaultQuestion, Lettered, Order, Readings
from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.cli.lab import lab_command
from legtoleg.cohort.kit import stamped
from legtoleg.marking.answer_parsing import found_in_cell
from legtoleg.marking.bench_trail_recovery import boxed_in
from legtoleg.marking.marking import mark_lesson

pytestmark = [pytest.mark.slow, pytest.mark.browser]
LESSON = "02_two_legs"
FIRST = next(word for word in lab_command(Path()) if "default_url" in word).partition("=")[2]
BUTTON = "Hand in this page"
SLOTS = {"outlet-1": "wall-1", "outlet-N": "wall-2", "outlet-2": "wall-3"}
KILL = """async () => {
    const context = window.jupyterapp.shell.currentWidget.sessionContext;
    const before = context.session.kernel.connectionStatus;
    const dies = new Promise(done => context.statusChanged.connect((_, status) =>
        (status === "autorestarting" || status === "restarting") && done()));
    context.session.kernel.requestExecute({ code: "import os, signal; os.kill(os.getpid(), signal.SIGKILL)" });
    await dies;
    await new Promise(done => {
        const look = () => context.session.kernel.status === "idle" ? done() : setTimeout(look, 100);
        look();
    });
}"""


def send(box: Any, act: Callable[[], object]) -> None:
    """Do ``act`` in the box and wait until the kernel answered it."""
    before = int(box.get_attribute("data-turn"))
    act()
    box.page.wait_for_function(
        "([box, before]) => Number(box.dataset.turn) > before", arg=[box.element_handle(), before]
    )


def as_text(value: object) -> str:
    return value if isinstance(value, str) else str(value)


def by_mouse(box: Any, question: Any, value: Any) -> None:
    """Answer in the box as with a mouse: click letters, drag steps, type and press the button."""
    if isinstance(question, FaultQuestion):
        value = value[0]
    if isinstance(question, Readings):
        for place, one in enumerate(value.values()):
            field = box.locator("input").nth(place)
            field.fill(as_text(one))
            send(box, field.blur)
    elif isinstance(question, Order):
        order = as_text(value).split()
        for place, letter in enumerate(order):
            if box.locator("li").nth(place).get_attribute("data-letter") != letter:
                send(box, lambda letter=letter, place=place: drag(box, letter, place))
    elif isinstance(question, Lettered):
        for letter in as_text(value).split():
            send(box, box.locator(f"input[value={letter}]").check)
    else:
        box.locator("input").fill(as_text(value))
        send(box, box.get_by_role("button", name="Record").click)


def drag(box: Any, letter: str, place: int) -> None:
    grip = box.locator(f"li[data-letter={letter}] .ltl-grip")
    grip.scroll_into_view_if_needed()
    start, end = grip.bounding_box(), box.locator("li").nth(place).bounding_box()
    mouse = box.page.mouse
    mouse.move(start["x"] + 5, start["y"] + start["height"] / 2)
    mouse.down()
    mouse.move(start["x"] + 5, end["y"] + 4, steps=12)
    mouse.up()


_WAY = """wanted => {
    const on = document.activeElement;
    const there = wanted.type === "radio" ? on.name === wanted.name && on.type === "radio" : on === wanted;
    if (there) return "";
    return on.compareDocumentPosition(wanted) & Node.DOCUMENT_POSITION_PRECEDING ? "Shift+Tab" : "Tab";
}"""
"""Read where the focus is, and give the key that leads to what is wanted; of radio buttons, to one of them."""


def reach(what: Any) -> None:
    """Go to ``what`` by Tab, from wherever the focus is."""
    for _ in range(250):
        key = what.evaluate(_WAY)
        if not key:
            return
        what.page.keyboard.press(key)
    raise AssertionError(f"no way by Tab to {what}")


def choose(box: Any, letter: str) -> None:
    """Go to ``letter`` and take it: by arrow keys among radio buttons, by space where there may be several."""
    keys, wanted = box.page.keyboard, box.locator(f"input[value={letter}]")
    reach(wanted)
    while not wanted.evaluate("one => one === document.activeElement"):
        send(box, lambda: keys.press("ArrowDown"))
    if not wanted.is_checked():
        send(box, lambda: keys.press("Space"))


def by_keys(box: Any, question: Any, value: Any) -> None:
    """Go to the box and answer in it by keys alone: Tab, arrow keys, space, Enter."""
    keys = box.page.keyboard
    if isinstance(question, FaultQuestion):
        value = value[0]
    if isinstance(question, Readings):
        reach(box.locator("input").first)
        for one in value.values():
            keys.press("Control+a")
            keys.type(as_text(one))
            send(box, lambda: keys.press("Enter"))
    elif isinstance(question, Order):
        for place, letter in enumerate(as_text(value).split()):
            reach(box.locator(f"li[data-letter={letter}] button").first)
            letters = [item.get_attribute("data-letter") for item in box.locator("li").all()]
            for _ in range(letters.index(letter) - place):
                send(box, lambda: keys.press("ArrowUp"))
    elif isinstance(question, Lettered):
        for letter in as_text(value).split():
            choose(box, letter)
    else:
        reach(box.locator("input"))
        keys.press("Control+a")
        keys.type(as_text(value))
        send(box, lambda: keys.press("Enter"))


def box_of(notebook: Any, name: str) -> Any:
    return notebook.locator(f".ltl-answer:not(.ltl-practice)[data-question={name}]")


def press(notebook: Any, words: str, role: str = "button") -> None:
    """Press a button of the bench, in whichever of its lists it is, and wait for its answer."""
    panel = notebook.locator(".ltl-bench").last
    turn = panel.get_attribute("data-turn")
    made = panel.get_by_role(role, name=words, exact=True)
    if not made.count():
        for tab in panel.get_by_role("tab").all():
            tab.click()
            if made.count():
                break
    made.first.click()
    panel.page.wait_for_function("([panel, turn]) => panel.dataset.turn !== turn", arg=[panel.element_handle(), turn])


def probe(notebook: Any, a: str, b: str) -> None:
    """Read between two slots of the receptacle by pressing them on the drawing."""
    panel = notebook.locator(".ltl-bench").last
    for point in (a, b):
        turn = panel.get_attribute("data-turn")
        panel.locator(f"[data-point='{SLOTS[point]}']").click()
        panel.page.wait_for_function(
            "([panel, turn]) => panel.dataset.turn !== turn", arg=[panel.element_handle(), turn]
        )


def read_the_receptacle(notebook: Any) -> None:
    """Read the receptacle's volts, check the meter again, and take the gloves off."""
    press(notebook, "dial to LoZ")
    press(notebook, "receptacle")
    for a, b in (("outlet-1", "outlet-2"), ("outlet-1", "outlet-N"), ("outlet-2", "outlet-N")):
        probe(notebook, a, b)
    for words in ("Check the meter on a known live source", "Gloves off"):
        press(notebook, words)


def acts(notebook: Any) -> int:
    words = notebook.locator(".ltl-bench").last.locator(".ltl-head").first.inner_text()
    return int(words.split()[1])


def reopen(lab: Any, path: str) -> None:
    """Load the whole page anew, as somebody does who comes back, and open the lesson."""
    lab.page.reload()
    lab.page.wait_for_function("() => window.jupyterapp")
    lab.page.evaluate(
        """async path => {
        const app = window.jupyterapp;
        await app.restored;
        const widget = await app.commands.execute("docmanager:open", { path });
        await widget.context.ready;
        await widget.sessionContext.ready;
        await widget.revealed;
    }""",
        path,
    )


def as_packed(lab: Any) -> None:
    """Put the lesson back as the kit had it, with nothing kept."""
    page = lab.lessons / LESSON / f"{LESSON}.ipynb"
    page.write_text(stamped(built_path(LESSON), lab.apprentice), encoding="utf-8")
    for folder in ("kept_work", "hand_in"):
        shutil.rmtree(lab.lessons / folder, ignore_errors=True)


@pytest.mark.parametrize("hand", [by_mouse, by_keys])
def test_a_lesson_without_code_outlives_its_kernel(
    lab: Any, hand: Callable[[Any, Any, Any], None], worked_answers: Callable[[str, str], dict[str, Any]]
) -> None:
    page, path = lab.page, f"{LESSON}/{LESSON}.ipynb"
    as_packed(lab)
    worked, questions = worked_answers(LESSON, lab.apprentice), sheet(LESSON).questions
    by_box = [question for question in questions if not isinstance(question, BenchQuestion)]
    half = len(by_box) // 2
    with lab.notebook(path) as notebook:
        lab.run_all()
        for question in by_box[:half]:
            hand(box_of(notebook, question.name), question, worked[question.name])
        for words in ("Rated gloves on (qualified)", "Pull the plug", "Check the meter on a known live source"):
            press(notebook, words)
        page.evaluate(KILL)
        reopen(lab, path)
        lab.run_all()
        assert acts(notebook) == 3
        assert notebook.get_by_text("This bench is as you left it: 3 acts").is_visible()
        read_the_receptacle(notebook)
    with lab.notebook(path) as notebook:  # another day
        lab.run_all()
        assert acts(notebook) == 9
        for question in by_box[half:]:
            hand(box_of(notebook, question.name), question, worked[question.name])
        notebook.get_by_role("button", name=BUTTON).click()
        notebook.get_by_text("The file to hand in is made").wait_for()
        assert notebook.get_by_text("All questions are answered and saved.").is_visible()
    made = lab.lessons / "hand_in" / f"{LESSON}-{lab.apprentice}.ipynb"
    cells = {cell["id"]: cell for cell in json.loads(made.read_text(encoding="utf-8"))["cells"]}
    shown = {question.name: cells[f"{question.name}-hand-in"]["outputs"] for question in questions}
    assert all(boxed_in(shown[question.name], question.name) for question in by_box)
    marks = mark_lesson(LESSON, lab.apprentice, {name: found_in_cell(one, name) for name, one in shown.items()})
    assert [(name, mark.points) for name, mark in marks.items()] == [(one.name, one.points) for one in questions]
    saved = json.loads((lab.lessons / path).read_text(encoding="utf-8"))
    assert {cell["id"]: cell["outputs"] for cell in saved["cells"] if cell["id"].endswith("-hand-in")} == {
        f"{name}-hand-in": outputs for name, outputs in shown.items()
    }


RUN = """async code => {
    const kernel = window.jupyterapp.shell.currentWidget.sessionContext.session.kernel;
    await kernel.requestExecute({ code }).done;
}"""
NOTE_PROCESSES = "import os, pathlib; pathlib.Path('processes').write_text(f'{os.getpid()} {os.getppid()}')"
NEXT_DAY = "import time; then = time.time; time.time = lambda: then() + 86400.0"
BY_HAND = ("leg_to_leg_volts", "frame_strap", "receptacle_check")


@contextmanager
def lid_closed(lab: Any, processes: list[int]) -> Iterator[None]:
    """Let the page, the server and the kernel stand still, as on a machine that sleeps; then wake them all."""
    page = lab.page
    line = page.context.new_cdp_session(page)
    page.context.set_offline(True)
    line.send("Page.setWebLifecycleState", {"state": "frozen"})
    for process in processes:
        os.kill(process, signal.SIGSTOP)
    try:
        yield
    finally:
        for process in processes:
            os.kill(process, signal.SIGCONT)
        line.send("Page.setWebLifecycleState", {"state": "active"})
        page.context.set_offline(False)
        line.detach()


def test_a_closed_lid_and_the_next_day_lose_nothing(
    lab: Any, worked_answers: Callable[[str, str], dict[str, Any]]
) -> None:
    """The lid is closed in the middle of a job; the rest is done on the next day, by the kernel's own clock."""
    page, path = lab.page, f"{LESSON}/{LESSON}.ipynb"
    as_packed(lab)
    worked, questions = worked_answers(LESSON, lab.apprentice), {one.name: one for one in sheet(LESSON).questions}
    with lab.notebook(path) as notebook:
        lab.run_all()
        by_mouse(box_of(notebook, BY_HAND[0]), questions[BY_HAND[0]], worked[BY_HAND[0]])
        for words in ("Rated gloves on (qualified)", "Pull the plug"):
            press(notebook, words)
        page.evaluate(RUN, NOTE_PROCESSES)
        noted = lab.lessons / LESSON / "processes"
        processes = [int(one) for one in noted.read_text(encoding="utf-8").split()]
        noted.unlink()
        with lid_closed(lab, processes):
            time.sleep(5)
        press(notebook, "Check the meter on a known live source")  # no cell is run again
        by_mouse(box_of(notebook, BY_HAND[1]), questions[BY_HAND[1]], worked[BY_HAND[1]])
        assert acts(notebook) == 3
    with lab.notebook(path) as notebook:
        page.evaluate(RUN, NEXT_DAY)
        lab.run_all()
        assert notebook.get_by_text("This bench is as you left it: 3 acts").is_visible()
        read_the_receptacle(notebook)
        lab.run_all()
        assert acts(notebook) == 9
        lab.save()
    lines = (lab.lessons / "kept_work" / f"{LESSON}.jsonl").read_text(encoding="utf-8").splitlines()
    times = [line["at"] for line in map(json.loads, lines) if line["kind"] == "act"]
    assert len(times) == 9
    assert times[3] - times[2] > 80_000
    cells = json.loads((lab.lessons / path).read_text(encoding="utf-8"))["cells"]
    shown = {cell["id"]: cell.get("outputs", []) for cell in cells}
    found = {name: found_in_cell(shown[f"{name}-hand-in"], name) for name in BY_HAND}
    marks = mark_lesson(LESSON, lab.apprentice, found)
    assert [(name, marks[name].points) for name in BY_HAND] == [(name, questions[name].points) for name in BY_HAND]


def test_a_page_that_was_loaded_anew_hands_in_what_it_cannot_show(lab: Any) -> None:
    """The kernel ran on: its boxes work, the outputs above them do not follow, and the button hands all of it in."""
    path, name = f"{LESSON}/{LESSON}.ipynb", "leg_to_leg_volts"
    as_packed(lab)
    with lab.notebook(path) as notebook:
        lab.run_all()
        lab.save()
        reopen(lab, path)
        box = box_of(notebook, name)
        box.locator("input").fill("9 acres")
        send(box, lambda: box.locator("input").press("Enter"))
        box.get_by_text("It is kept. Choose Run, then Run All Cells").wait_for()
        box.locator("input").fill("240 V")
        send(box, lambda: box.locator("input").press("Enter"))
        notebook.get_by_role("button", name=BUTTON).click()
        notebook.get_by_text("The file to hand in is made").wait_for()
        lab.run_all()
        assert notebook.get_by_text("Recorded for “Volts from leg to leg”: 240 V").first.is_visible()
    made = json.loads((lab.lessons / "hand_in" / f"{LESSON}-{lab.apprentice}.ipynb").read_text(encoding="utf-8"))
    (outputs,) = (cell["outputs"] for cell in made["cells"] if cell["id"] == f"{name}-hand-in")
    assert found_in_cell(outputs, name).typed == "240 V"


def test_the_machine_is_started_again_by_two_presses(lab: Any) -> None:
    as_packed(lab)
    with lab.notebook(f"{LESSON}/{LESSON}.ipynb") as notebook:
        lab.run_all()
        press(notebook, "Pull the plug")
        notebook.locator(".ltl-bench").last.get_by_role("tab", name="Trail").click()
        notebook.get_by_role("button", name="Start this dryer over").click()
        assert acts(notebook) == 1
        press(notebook, "Start again: press once more")
        assert acts(notebook) == 0
        lab.run_all()
        assert acts(notebook) == 0
    kept = (lab.lessons / "kept_work" / f"{LESSON}.jsonl").read_text(encoding="utf-8")
    assert [json.loads(line)["kind"] for line in kept.splitlines()] == ["act", "again"]


def test_the_file_list_opens_at_the_lessons(lab: Any) -> None:
    address = lab.page.url.split("/lab")[0]
    lab.page.goto(f"{address}{FIRST}&token=token")
    lab.page.get_by_role("heading", name="Start here").wait_for()
    there = lab.page.locator(".jp-DirListing-item", has_text="10_call_to_close")
    there.wait_for(state="attached")
    if not there.is_visible():  # the list is closed at first
        lab.page.keyboard.press("Control+b")
        there.wait_for()
    assert lab.page.locator(".jp-DirListing-item", has_text="00_start.ipynb").count() == 0


@pytest.mark.parametrize("lesson", ["01_made_dead", LESSON, "10_call_to_close"])
def test_boxes_and_benches_pass_the_accessibility_check(lab: Any, lesson: str) -> None:
    """Every kind of box, one bench and several: axe-core, by its own rules, finds nothing."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    with lab.notebook(f"{lesson}/{lesson}.ipynb") as notebook:
        lab.run_all()
        notebook.get_by_role("button", name=BUTTON).wait_for()
        found = axe.run(lab.page, context={"include": [[".ltl-answer"], [".ltl-bench"], [".ltl-hand-in"]]})
    assert {one["id"]: one["nodes"][0]["html"] for one in found.response["violations"]} == {}
