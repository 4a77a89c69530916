"""The witness's commands as a person types them: sheet, seen, due, entries, correct, verify; bad input is one line."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from legtoleg.authoring import pdf
from legtoleg.report.report_run import seen_at_a_machine

from .conftest import Typed

KIND = "electric, cord and plug, three coils"
SEEN = ("--by", "Ida Demo", "--machine", KIND)
ADA = ("--who", "ada-01", *SEEN)
TOMORROW = (datetime.now(UTC) + timedelta(days=2)).date().isoformat()


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with a roster and nothing else: a cohort's or a shop's; no Chromium is here."""
    monkeypatch.setattr(pdf, "find_chromium", lambda _="": _none())
    (tmp_path / "term").mkdir()
    (tmp_path / "term" / "roster.csv").write_text("id,name\nada-01,Ada Demo\nbo-02,Bo Demo\n", encoding="utf-8")
    return tmp_path / "term"


def _none() -> Path:
    raise pdf.ChromiumMissingError("No Chromium is here.")


def test_from_the_sheet_to_the_proof(folder: Path, typed: Typed) -> None:
    code, said = typed("witness", "due", folder)
    assert (code, said.count("nobody has watched them on a real dryer")) == (0, 2)
    assert "0 of 2 were seen to pass." in said
    code, said = typed("witness", "sheet", folder, "--due", "--for", "ada-01", "--paper", "a4")
    assert code == 0
    page = Path(re.findall(r"Page: (.*)\n", said)[0])
    text = page.read_text(encoding="utf-8")
    assert text.count("Ada Demo") == 1, "named twice, printed once"
    assert "Bo Demo" in text
    assert "No Chromium is here." in said
    code, said = typed("witness", "seen", folder, *ADA, "--passed", "1-3,5-9", "--missed", "4", "--note", "calm")
    assert code == 0
    assert "Entry 2, for ada-01 on" in said
    assert "No pass: " in said
    code, said = typed("witness", "seen", folder, *ADA, "--passed", "1-9", "--live-by", "Jo Demo")
    assert "ada-01 has passed all nine steps: the witness is there." in said
    kept = re.findall(r"Hash: (\w+)", said)[0]
    code, said = typed("witness", "seen", folder, *ADA, "--missed", "1-9", "--on", "2026-01-05")
    assert "No effect: a later dryer counts, entry 3" in said
    code, said = typed("witness", "due", folder)
    assert "✓ ada-01" in said
    assert "1 of 2 were seen to pass." in said
    code, said = typed("witness", "entries", folder, "--who", "ada-01")
    assert [line.split()[0] for line in said.splitlines()[:-1]] == ["2", "3", "4"]
    code, said = typed("witness", "entries", folder, "--who", "bo-02")
    assert said.strip() == "Nothing is entered for bo-02 yet."
    code, said = typed("witness", "correct", folder, "--entry", "3", "--reason", "it was Bo", "--by", "Ida Demo")
    assert code == 0
    assert "entry 3 does not count any more. Both stay in the record." in said
    assert "step 4, " in said, "what counts now is said: the dryer before"
    code, said = typed("witness", "entries", folder)
    assert "(does not count: entry 5)" in said
    code, said = typed("witness", "verify", folder, "--kept", kept[:12])
    assert code == 0
    assert "Whole: 5 entries" in said
    assert "that of entry 3," in said


def test_nobody_left_and_nothing_entered(folder: Path, typed: Typed) -> None:
    assert typed("witness", "verify", folder) == (0, "Nothing is entered yet, so there is nothing to verify.\n")
    assert typed("witness", "entries", folder) == (0, "Nothing is entered yet.\n")
    for who in ("ada-01", "bo-02"):
        typed("witness", "seen", folder, "--who", who, *SEEN, "--passed", "1-9")
    assert typed("witness", "sheet", folder, "--due") == (0, "No one is left to be watched.\n")
    assert "2 of 2 were seen to pass.\n" in typed("witness", "due", folder)[1]


def test_who_has_left_is_not_to_be_watched(folder: Path, typed: Typed) -> None:
    roster = "id,name,left\nada-01,Ada Demo,\nbo-02,Bo Demo,2026-01-31\ncy-03,Cy Demo,2100-01-01\n"
    (folder / "roster.csv").write_text(roster, encoding="utf-8")
    assert "0 of 2 were seen to pass." in typed("witness", "due", folder)[1]
    said = typed("witness", "sheet", folder, "--due")[1]
    text = Path(re.findall(r"Page: (.*)\n", said)[0]).read_text(encoding="utf-8")
    assert "Cy Demo" in text
    assert "Bo Demo" not in text


BAD = [
    (("sheet", "--for", "eve-09"), "eve-09"),
    (("sheet", "--paper", "a0"), "a0"),
    (("seen", "--who", "eve-09", *SEEN, "--passed", "1-9"), "eve-09"),
    (("seen", *ADA), "step"),
    (("seen", *ADA, "--passed", "1-8"), "9"),
    (("seen", *ADA, "--passed", "1-9", "--missed", "4"), "4"),
    (("seen", *ADA, "--passed", "1-10"), "10"),
    (("seen", *ADA, "--passed", "0-9"), "0"),
    (("seen", *ADA, "--passed", "9-1"), "9-1"),
    (("seen", *ADA, "--passed", "most"), "most"),
    (("seen", *ADA, "--passed", "all"), "is in the record already"),
    (("seen", *ADA, "--passed", "1-" + "9" * 5000), "9"),
    (("seen", *ADA, "--passed", "1-9", "--on", "yesterday"), "yesterday"),
    (("seen", *ADA, "--passed", "1-9", "--on", TOMORROW), TOMORROW),
    (("seen", *ADA, "--passed", "1-9", "--on", "1890-01-01"), "1890-01-01"),
    (("seen", *ADA, "--passed", "1-9", "--on", "2026-02-30"), "2026-02-30"),
    (("seen", "--who", "ada-01", "--by", " ", "--machine", KIND, "--passed", "1-9"), "watched"),
    (("seen", "--who", "ada-01", "--by", "Ida Demo", "--dryer", "\x07", "--passed", "1-9"), "dryer"),
    (("entries", "--who", "eve-09"), "eve-09"),
    (("correct", "--entry", "1", "--reason", "x", "--by", "y"), "1"),
    (("correct", "--entry", "99", "--reason", "x", "--by", "y"), "99"),
    (("correct", "--entry", "-1", "--reason", "x", "--by", "y"), "-1"),
    (("correct", "--entry", str(10**30), "--reason", "x", "--by", "y"), ""),
    (("correct", "--entry", "2", "--reason", " ", "--by", "y"), "why"),
    (("correct", "--entry", "2", "--reason", "x", "--by", " "), ""),
    (("verify", "--kept", "0" * 64), "0000"),
    (("verify", "--kept", "zz"), "zz"),
]


@pytest.mark.parametrize(("words", "names"), BAD, ids=[" ".join(words)[:60] for words, _ in BAD])
def test_bad_input_is_one_line_and_enters_nothing(
    folder: Path, typed: Typed, words: tuple[str, ...], names: str
) -> None:
    typed("witness", "seen", folder, *ADA, "--passed", "1-9")
    before = (folder / "witness.db").read_bytes()
    code, said = typed("witness", words[0], folder, *words[1:])
    assert code == 2, said
    lines = [line for line in said.splitlines() if line.startswith("legtoleg: ")]
    assert len(lines) == 1, said
    assert names.lower() in said.lower()
    assert (folder / "witness.db").read_bytes() == before


@pytest.mark.parametrize("step", ["sheet", "due", "entries", "verify"])
def test_a_folder_that_is_none(tmp_path: Path, typed: Typed, step: str) -> None:
    for place in (tmp_path / "nowhere", tmp_path):
        code, said = typed("witness", step, place)
        assert code == 2
        assert said.startswith("legtoleg: ")
        assert len(said.splitlines()) == 1
        assert not (tmp_path / "witness.db").exists()


def damaged(folder: Path) -> None:
    (folder / "witness.db").write_bytes(b"no database at all" * 100)


def changed(folder: Path) -> None:
    with closing(sqlite3.connect(folder / "witness.db")) as book:
        table = book.execute("select name from sqlite_master where sql like '%before%' and type = 'table'").fetchone()[
            0
        ]
        for (name,) in book.execute("select name from sqlite_master where type = 'trigger'").fetchall():
            book.execute(f"drop trigger {name}")
        done = book.execute(f"update {table} set body = replace(body, 'Ida', 'Eve') where number = 2")
        assert done.rowcount == 1
        book.commit()


def no_roster(folder: Path) -> None:
    (folder / "roster.csv").write_text("names\nAda\n", encoding="utf-8")


@pytest.mark.parametrize("harm", [damaged, changed, no_roster])
@pytest.mark.parametrize("step", ["sheet", "due", "entries", "verify", "seen", "correct"])
def test_a_damaged_record_is_one_line(folder: Path, typed: Typed, harm: Callable[[Path], None], step: str) -> None:
    typed("witness", "seen", folder, *ADA, "--passed", "1-9")
    harm(folder)
    more = {
        "seen": (*ADA, "--passed", "1-9"),
        "correct": ("--entry", "2", "--reason", "x", "--by", "y"),
        "sheet": ("--due",),
    }
    code, said = typed("witness", step, folder, *more.get(step, ()))
    assert code == 2, said
    assert said.count("legtoleg: ") == 1
    assert len(said.splitlines()) == 1, said


def test_a_note_that_was_deleted_is_said(folder: Path, typed: Typed) -> None:
    typed("witness", "seen", folder, *ADA, "--passed", "1-9")
    (folder / "witness-last-hash.txt").unlink()
    code, said = typed("witness", "verify", folder)
    assert code == 1
    assert said.startswith("! witness-last-hash.txt is missing")


def test_a_cohort_s_report_hears_of_it(folder: Path, typed: Typed) -> None:
    """The record that the commands write is the one that the report reads."""
    typed("witness", "seen", folder, *ADA, "--passed", "1-9")
    found = seen_at_a_machine(folder)
    assert list(found) == ["ada-01"]
    assert "Ida Demo" in found["ada-01"]
