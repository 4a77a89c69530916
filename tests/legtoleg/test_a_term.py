"""A whole term as a new instructor lives it: of all that was put in, nothing is unnamed, lost, or wrongly told."""

from __future__ import annotations

import csv
import json
import re
import shutil
from pathlib import Path

import pytest

from legtoleg.authoring.building import built_path
from legtoleg.cohort import cohort_config
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.collecting.collecting_run import collect_into
from legtoleg.core.paths import lesson_names

from .a_term import BENCH, LATE, LESSON, PEOPLE, Put, Term, roster_text, unsteered, whole_term

ALL = (37.0, 37.0)


def unkept(term: Term) -> list[str]:
    """Return what came and is not kept as it came; what was given out, or came twice, need not be."""
    received = term.cohort / "received"
    return [
        one["file"]
        for one in term.arrivals()
        if one["state"] not in ("untouched", "known") and not (one["kept"] and (received / one["kept"]).is_file())
    ]


def fates(term: Term, number: int, put: Put) -> set[tuple[str, str]]:
    """Return the fates of what came of one thing, and whose it is; without those of a kit that ask nothing."""
    named = {(one["state"], one["whose"]) for one in term.named(number)}
    return named if put.state == "untouched" else {one for one in named if one[0] != "untouched"}


def wrongly_told(term: Term) -> list[tuple[str, object]]:
    """Return each thing of which something else is said than has to be, or nothing at all."""
    found: list[tuple[str, object]] = []
    for number, put in enumerate(term.puts):
        said = fates(term, number, put)
        if not any(state == put.state and put.whose in ("", whose) for state, whose in said):
            found.append((f"{put.what}: {put.file}", said))
        elif not all(one["words"] for one in term.named(number)):
            found.append((put.what, "no words"))
    return found


def superseded(puts: list[Put]) -> list[Put]:
    """Return the things with the fate that they have in the end: of two that count, the first does not any more."""
    ends = [
        Put(one.what, one.file, one.content, "kept" if "years ahead" in one.what else one.state, one.whose)
        for one in puts
    ]
    assert [one.state for one in ends].count("kept") == 1
    return ends


def test_every_kind_of_wrong_file_is_named_kept_and_told(tmp_path: Path) -> None:
    """The collecting part by itself, without a book and without commands: fast."""
    term = Term(tmp_path)
    term.cohort.mkdir()
    cohort_config.write(term.cohort)
    (term.cohort / "roster.csv").write_text(roster_text(late=False), encoding="utf-8")
    for lesson in lesson_names():
        (term.cohort / "release" / lesson).mkdir(parents=True)
        shutil.copy(built_path(lesson), term.cohort / "release" / lesson)
    term.fill_inbox()
    cohort = Cohort.at(term.cohort)
    done = collect_into(cohort, [term.inbox])
    term.puts = superseded(term.puts)
    assert len(term.puts) >= 50
    assert wrongly_told(term) == []
    assert unkept(term) == []
    page = (term.cohort / "what_came.html").read_text(encoding="utf-8")
    assert unsteered(page)
    for number in range(len(term.puts)):
        assert f"{term.place(number).name}/" in page, "each stands on the page"
    assert done.open == sum(one["state"] in ("asked", "refused") for one in term.arrivals()) > 15
    counting = [(one["whose"], one["lesson"]) for one in term.arrivals() if one["state"] == "counts"]
    assert len(counting) == len(set(counting)), "of a person's hand-ins of a lesson one counts"
    assert {path.parts[-3] for path in term.cohort.glob("submitted/*/*/*.ipynb")} == {whose for whose, _ in counting}
    before = term.arrivals()
    again = collect_into(cohort, [term.inbox])
    changed = [(one, now) for one, now in zip(before, term.arrivals(), strict=True) if one["state"] != now["state"]]
    assert changed == [], "all of it once more changes nothing"
    assert again.open == done.open


@pytest.mark.slow
@pytest.mark.jail
def test_a_whole_term(tmp_path: Path) -> None:
    term = whole_term(tmp_path)
    text = term.table()
    said = {name: words for name, (_, words) in term.said.items()}
    codes = [code for code, _ in term.said.values()]
    assert unsteered(text)
    assert all(unsteered(words) for words in said.values())
    assert "Traceback" not in text
    assert set(codes) == {0, 1, 2}
    assert [row.put for row in term.rows if not [words for words in row.said if words]] == [], "nothing is unnamed"
    assert unkept(term) == []
    # The roster: four wrong lines named; then 39, the leaver without a kit, then one more.
    (roster, first, _, joined, *_) = list(said.values())
    assert re.findall(r"line (\d)", roster) == ["3", "2", "4", "5", "6"]
    assert "39 apprentices, 39 of them new" in first
    assert "Left, so no kit was packed for them: lou-09." in first
    assert "40 apprentices, 1 of them new" in joined
    kits = {path.name for path in (term.cohort / "kits").iterdir()}
    assert len(kits) == len(PEOPLE)
    assert not [name for name in kits if "lou-09" in name]
    # The marks: a wrong or hostile file costs no right answer, and earns none.
    less = {"eve-05": 35, "demo-08": 31, "demo-09": 6, "demo-10": 0, "demo-18": 0}
    simulated = {f"demo-{number:02d}" for number in range(1, 8)}
    for (who, lesson), marks in term.points.items():
        if who not in simulated:
            assert marks[0] == less.get(who, ALL[0]), (who, lesson)
    assert term.states["demo-18", BENCH] == "came, not graded"
    assert term.states["demo-08", LESSON] == "held for safety"
    assert term.points[LATE[0], LESSON] == ALL
    path = term.cohort / "autograded" / "demo-13" / LESSON / f"{LESSON}.ipynb"
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    prose = [cell["source"] for cell in cells if cell["cell_type"] != "code"]
    shown = [text for text in prose if not (text.startswith("```\n") and text.endswith("\n```"))]
    assert len(prose) == len(shown) + 1, "the apprentice's own words are shown letter by letter"
    shown += [json.dumps(cell.get("outputs", [])) for cell in cells]
    assert not re.search(r"<script|<img|onerror=|javascript", "".join(shown))
    # After a hold: the new card, the second hand-in, and what was worked out on an old card.
    people = {row["id"]: row for row in _people(term)}
    assert people["demo-08"][LESSON] == "signed off"
    assert people["demo-08"]["part: real dryer"].startswith("seen on")
    assert people["lou-09"]["left"]
    second = said["The second hand-in: marked"]
    assert "demo-01, 03_heater_power: was not graded: it was worked out on card 1, and card 2 is the one" in second
    due = said["The witness: who is left"]
    assert "1 of 39 were seen to pass." in due
    assert "lou-09" not in due, "nobody watches who has left"
    report = (term.cohort / "report.html").read_text(encoding="utf-8")
    assert unsteered(report)
    assert "How the notebooks ran: all" in report
    assert "numbers of another dryer" in report
    assert "demo-09" in report


def _people(term: Term) -> list[dict[str, str]]:
    with (term.cohort / "report-people.csv").open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))
