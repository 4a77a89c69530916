"""Each lesson's panel has the acts that the lesson needs, every act is taught somewhere, and calls have all."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from dryerbench.bench.acts import ACTS
from dryerbench.bench.bench import Bench
from dryerbench.core.tables import table
from dryerbench.notebook.machine_panel import SCRIPT, MachinePanel
from dryerbench.notebook.panel_lists import ALL, MORE_LIST, lists_of
from dryerbench.registry import PRACTICE_BENCHES, SHEETS, lesson_of

ON = {row.text("act"): row["list"] for row in table("bench-acts").rows}
"""The list of each act."""
SOLUTIONS = Path(__file__).parents[3] / "solutions"
TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in sorted(SOLUTIONS.glob("*.md"))}
WITH_BENCH = [lesson for lesson, text in TEXTS.items() if "show_bench(" in text]
READS = {"ohms": "probe", "volts": "probe", "low_impedance": "probe", "continuity": "probe", "insulation": "probe"}


def done_in(text: str) -> set[str]:
    """Return the acts that a lesson's worked answers do on its benches."""
    cells = " ".join(re.findall(r"```\{code-cell\}.*?```", text, re.DOTALL))
    found = set(re.findall(r'bench\.do\(\s*"(\w+)"', cells))
    for listed in re.findall(r"for act in [\[(]([^\])]*)[\])]", cells):
        found |= set(re.findall(r'"(\w+)"', listed))
    found |= {
        READS.get(name, name)
        for name in re.findall(r"bench\.(ohms|volts|low_impedance|continuity|clamp|temperature)\(", cells)
    }
    return found


@pytest.mark.parametrize("lesson", WITH_BENCH)
def test_what_the_worked_answers_do_is_on_the_lessons_panel(lesson: str) -> None:
    lists, done = lists_of(lesson), done_in(TEXTS[lesson])
    assert len(done) > 4
    for act in done:
        assert ON[act] in lists.pages or act in lists.more, act


@pytest.mark.parametrize("lesson", WITH_BENCH)
def test_the_lesson_names_itself_to_its_benches(lesson: str) -> None:
    assert re.findall(r"show_bench\((.*?)\)", TEXTS[lesson]) == ["bench, card.lesson"] * TEXTS[lesson].count(
        "show_bench("
    )


def test_every_act_is_on_a_list_and_in_a_lesson_and_calls_have_all() -> None:
    assert {act for act, there in ON.items() if not there} == {"name_fault"}, "named in a box of its own"
    taught = {act for lesson in WITH_BENCH for act in lists_of(lesson).more}
    assert taught == set(ALL.more) == {act for act, there in ON.items() if there == MORE_LIST}
    assert set(ON) == set(ACTS)
    assert lists_of("10_call_to_close") == ALL


def test_a_lesson_leaves_out_what_it_does_not_need() -> None:
    first = lists_of("01_made_dead")
    assert "Parts" not in first.pages
    assert "Run" not in first.pages
    assert "order_part" not in first.more


def test_the_lessons_of_the_table_have_benches() -> None:
    numbers = {number for row in table("bench-acts").rows if row["lessons"] for number in row.text("lessons").split()}
    assert numbers <= {lesson[:2] for lesson in WITH_BENCH}
    assert {lesson_of(name) for name in PRACTICE_BENCHES} <= set(SHEETS)
    assert lesson_of("no such question") == ""


def test_where_nothing_runs_clamp_and_probe_of_heat_are_refused_in_one_line() -> None:
    panel = MachinePanel(Bench(), lists_of("01_made_dead"))
    for at in ("clamp", "temp"):
        panel.receive({"act": "dial", "with": {"at": at}})
        assert panel.view["refused"]
        assert panel.view["said"] == f"Nothing runs in this lesson: {at} has nothing to read."
    assert panel.view["dial"] == "volts"


def test_the_page_can_fill_every_list() -> None:
    filled = set(re.findall(r"lists\.(\w+) = ", SCRIPT)) | set(re.findall(r'lists\["([^"]+)"\] = ', SCRIPT))
    assert filled == {*ALL.pages, MORE_LIST}, json.dumps(ALL.pages)
