"""What the refresher's tests share: a made-up shop whose clock the test turns."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import cache
from itertools import count
from pathlib import Path
from typing import Any

import nbformat
import pytest

from legtoleg.authoring.lesson_source import worked_source
from legtoleg.ledger.entry import Entry
from legtoleg.refresher.record.shop import Settings, Shop
from legtoleg.refresher.testing.issuing import Issued
from legtoleg.refresher.testing.question_pool import PoolQuestion
from legtoleg.sandbox.engine import Engine
from legtoleg.sandbox.engine_choice import choose_engine
from legtoleg.witness.job_steps import job_steps
from legtoleg.witness.witness_record import WitnessRecord

FIRST = ("Ada", "Bo", "Cy", "Di", "Ed", "Flo", "Gus", "Hal", "Ida", "Jo", "Kit", "Lou")
IDS = [f"{name.lower()}-{number:02d}" for number, name in enumerate(FIRST, 1)]


@dataclass
class Clock:
    """A clock that stands where the test puts it."""

    now: datetime = datetime(2027, 1, 4, 18, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def people(tmp_path: Path) -> Path:
    path = tmp_path / "people-of-the-shop.csv"
    rows = [f"{who},{name} Demo" for who, name in zip(IDS, FIRST, strict=True)]
    path.write_text("id,name\n" + "\n".join(rows) + "\n", encoding="utf-8")
    return path


@pytest.fixture
def shop(tmp_path: Path, people: Path, clock: Clock) -> Shop:
    return Shop.make(tmp_path / "shop", Settings("Demo shop", "America/Denver"), people, clock)


SEEN_ON = "electric, cord and plug, three coils"


@pytest.fixture
def seen(shop: Shop, clock: Clock) -> WitnessRecord:
    """Return the shop's witness record: Ada passed, Bo missed a safety step, one entry was wrong, Lou has left."""
    record = WitnessRecord(shop.folder, clock)
    whole = {one.name: True for one in job_steps()}
    record.see("ada-01", "Ida Demo", SEEN_ON, whole, date(2027, 1, 2))
    record.see("bo-02", "Ida Demo", SEEN_ON, whole, date(2027, 1, 3), note="=1+1")
    record.correct(3, "it was Cy", "Ida Demo")
    safety = next(one.name for one in job_steps() if one.safety)
    record.see("bo-02", "Ida Demo", SEEN_ON, {**whole, safety: False}, date(2027, 1, 4))
    record.see("lou-12", "Ida Demo", SEEN_ON, whole, date(2027, 1, 4))
    rows = [
        line for line in (shop.folder / "people.csv").read_text(encoding="utf-8").splitlines() if "lou-12" not in line
    ]
    (shop.folder / "people.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    return record


Outcome = Callable[..., Entry]
NUMBERS = count(1)


@pytest.fixture
def outcome() -> Outcome:
    """Return how to enter an outcome without running a notebook."""

    def enter(shop: Shop, who: str, on: Any, *, passed: bool = True, held: tuple[str, ...] = ()) -> Entry:
        issue = f"{who}.t{next(NUMBERS):06d}"
        asked = [[topic, "01_made_dead", "make_dead"] for topic in shop.topics]
        shop.enter(shop.draft("issued", who, on, issue=issue, attempt=1, items=asked))
        data = {
            "issue": issue,
            "passed": passed,
            "points": 30.0 if passed else 20.5,
            "of": 36.0,
            "topics": list(shop.topics),
            "held": list(held),
            "questions": [],
            "file": "0" * 64,
        }
        return shop.enter(shop.draft("recorded", who, on, **data))

    return enter


@cache
def worked(item: PoolQuestion, job: str) -> str:
    """Return the worked answer to ``item``, as its lesson has it, on the card of ``job``."""
    return f"card = {job}\n{worked_source(item.lesson, item.name)}"


def fill(issued: Issued, answers: dict[str, str] | None = None, *, leave: tuple[str, ...] = ()) -> bytes:
    """Return the test with worked answers filled in, or with ``answers`` of one's own in their place."""
    page = nbformat.read(issued.notebook, as_version=4)
    lessons = list(dict.fromkeys(item.lesson for item in issued.items))
    by_id = {cell.id: cell for cell in page.cells}
    for item in issued.items:
        if item.name not in leave:
            own = (answers or {}).get(item.name)
            by_id[f"{item.name}-answer"].source = own or worked(item, f"job_{lessons.index(item.lesson) + 1}")
    return nbformat.writes(page).encode("utf-8")


@pytest.fixture(scope="session")
def engine() -> Iterator[Engine]:
    """Return the engine that this computer allows, jailed where it can be."""
    chosen = choose_engine(1)
    yield chosen.engine
    chosen.engine.close()


@pytest.fixture
def filled() -> Callable[..., bytes]:
    return fill
