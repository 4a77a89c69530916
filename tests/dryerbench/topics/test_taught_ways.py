"""The taught ways: what the worked answers of the lessons do on the bench has no finding, not even a note."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

import dryerbench
from dryerbench.bench.bench import Bench
from dryerbench.course import bench_card
from dryerbench.registry import SHEETS

ROOT = Path(__file__).resolve().parents[3]
SOURCES = {path.stem: path.read_text(encoding="utf-8") for path in sorted((ROOT / "solutions").glob("*.md"))}
WORKED = {name: [cell for cell in re.findall(r"```\{code-cell\} ipython3\n:question: \w+\n(.*?)```", text, re.DOTALL)
                 if "open_bench" in cell] for name, text in SOURCES.items()}  # fmt: skip
LESSONS = [name for name, cells in WORKED.items() if cells]


def benches(lesson: str, apprentice: str) -> list[Bench]:
    """Return the benches after the worked answers of ``lesson`` were done on the machines of ``apprentice``."""
    opened: list[Bench] = []

    def open_bench(*given: Any) -> Bench:
        opened.append(bench_card.open_bench(*given))
        return opened[-1]

    names: dict[str, Any] = {name: getattr(dryerbench, name) for name in dryerbench.__all__}
    names |= {"card": SHEETS[lesson].card(apprentice), "open_bench": open_bench, "letter": lambda *_: "a"}
    for line in re.findall(r"(?m)^from dryerbench\..* import .*$", SOURCES[lesson]):
        exec(line, names)
    names["open_bench"] = open_bench
    for cell in WORKED[lesson]:
        exec(cell, names)
    return opened


def test_the_lessons_with_a_bench_are_found() -> None:
    assert [name[:2] for name in LESSONS] == ["01", "02", "04", "05", "06", "07", "09", "10"]


@pytest.mark.parametrize("lesson", LESSONS)
def test_a_worked_answer_has_no_finding(lesson: str) -> None:
    for number in range(8):
        for bench in benches(lesson, f"taught-{number}"):
            found = {one.name for one in bench.findings}
            assert not found, (lesson, number, found)
