"""The terminal: every command says its words through one door; no name from outside steers it or is read as markup."""

from __future__ import annotations

import ast
import json
import unicodedata
import zipfile
from pathlib import Path

import pytest
from typer.main import get_command

import legtoleg.cli
from legtoleg.authoring.building import released_notebook
from legtoleg.cli import command, lab
from legtoleg.cli.terminal import progress_bar, say_line, say_lines, say_text, say_trouble
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.refresher.proof import certificate

from .conftest import Typed

LESSON = "03_heater_power"
STEERS = "\x1b[2J\x1b]0;owned\x07\x9b31m\u202egpj\u200b\x7f"
"""Wipes the screen, renames the window, rings, colors, turns the direction of writing, hides, deletes."""
NASTY = f"Eve {STEERS} [red]x[/red] [/] :warning: Demo"
SHOWN = "[red]x[/red] [/] :warning:"
"""What of it is no more than letters, and stays as it is."""
FILE = NASTY.replace("/", "-")
ROSTER = f'id,name,mail,group,left\nada-01,"{NASTY}",,"{NASTY}",\nbo-02,Bo Demo,,,\ncy-03,"{NASTY}",,,2026-01-01\n'
OTHERS = {"try", "build", "lab", "class", "supervised"}
"""Not walked here: they make up their own people, open JupyterLab, or serve a class or a sealed bench."""


def steering(said: str) -> list[str]:
    return [letter for letter in said if letter != "\n" and unicodedata.category(letter) in ("Cc", "Cf", "Zl", "Zp")]


def test_no_command_says_anything_by_another_way() -> None:
    folder = Path(legtoleg.cli.__file__).parent
    found = []
    for path in sorted(folder.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            name = ast.unparse(node.func) if isinstance(node, ast.Call) else ""
            last = name.rpartition(".")[2]
            if last in ("print", "echo", "secho", "Console", "Progress") or name.startswith(
                ("sys.stdout", "sys.stderr")
            ):
                found.append((path.stem, name))
    assert {stem for stem, _ in found} == {"terminal"}, found


def test_the_door_itself(capsys: pytest.CaptureFixture[str]) -> None:
    say_line(f"  a\tb   c {NASTY}\nd")
    say_lines(f"one {STEERS}\ntwo [/]")
    say_text(f"a,{STEERS}b\n")
    say_trouble(ValueError(f"{NASTY}\n{NASTY}"))
    with progress_bar() as (say, tell):
        tell(NASTY, 1, 2)
        say(NASTY)
    out, err = capsys.readouterr()
    lines = out.splitlines()
    assert lines[0].startswith("  a b   c Eve "), "spaces stay: columns stand below each other"
    assert SHOWN in lines[0]
    assert lines[0].endswith(" d")
    assert lines[2].strip() == "two [/]"
    assert lines[3].startswith("a,")
    assert err.startswith("legtoleg: Eve")
    assert len(err.splitlines()) == 2
    assert steering(out + err) == []


def test_what_others_say_in_words_of_their_own(monkeypatch: pytest.MonkeyPatch, typed: Typed) -> None:
    monkeypatch.setattr(lab, "open_lab", lambda _: 0)
    monkeypatch.setattr(lab, "lessons_to_open", lambda _: Path(f"/x/{NASTY}"))
    code, said = typed("lab")
    assert (code, steering(said)) == (0, [])
    assert SHOWN in said


@pytest.fixture
def term(tmp_path: Path) -> Path:
    """Return a cohort's folder of one lesson whose own name and people are hostile."""
    folder = tmp_path / f"term {STEERS.replace(']', '')} :warning:".replace("[", "")
    (tmp_path / "roster.csv").write_text(ROSTER, encoding="utf-8")
    Cohort.make(folder, [LESSON])
    (folder / "roster.csv").write_text(ROSTER, encoding="utf-8")
    return folder


def hand_ins(folder: Path) -> list[Path]:
    """Write what came: a kit's notebook under a hostile name, one of nobody's, a damaged one, a zip of such names."""
    notebook = json.loads(json.dumps(released_notebook(LESSON)))
    for cell in notebook["cells"]:
        if cell["cell_type"] == "code" and "answer" in cell.get("id", ""):
            cell["source"] = f'drift = "12 %"  # {STEERS}'
    nobody = json.dumps(notebook)
    notebook["metadata"]["legtoleg"] = {"apprentice": "ada-01", "lesson": LESSON}
    own = json.dumps(notebook)
    folder.mkdir()
    for file, text in ((f"own {FILE}.ipynb", own), (f"x {FILE}.ipynb", nobody), (f"cut {FILE}.ipynb", own[:99])):
        (folder / file).write_text(text, encoding="utf-8")
    with zipfile.ZipFile(folder / f"{FILE}.zip", "w") as parcel:
        parcel.writestr(f"{NASTY}.pdf", b"%PDF")
        parcel.writestr(f"{NASTY}/{NASTY}.ipynb", "{")
    return [folder, folder / f"missing {FILE}"]


@pytest.mark.slow
def test_every_command_of_a_cohort_with_hostile_names(term: Path, tmp_path: Path, typed: Typed) -> None:
    roster, walked = tmp_path / "roster.csv", set()
    bad = tmp_path / f"no {FILE}.csv"
    bad.write_text(f"id,name,mail\n{NASTY},A,\nada,B,{NASTY}\nbo,,\n", encoding="utf-8")
    steps: list[tuple[int, tuple[object, ...]]] = [
        (0, ("cohort", term, "--roster", roster)),
        (2, ("cohort", term, "--roster", bad)),
        (2, ("cohort", term, "--roster", roster, "--due", NASTY)),
        (2, ("cohort", term, "--roster", tmp_path / NASTY)),
        (2, ("cohort", tmp_path / "term [2026]", "--roster", roster)),
        (0, ("kit", "ada-01", "--name", NASTY, "--out", tmp_path / f"kits {FILE}")),
        (2, ("kit", NASTY)),
        (1, ("collect", term, *hand_ins(tmp_path / "in"))),
        (1, ("collect", term, tmp_path / "in", "--as", "ada-01", "--lesson", "3")),
        (2, ("collect", term, tmp_path / "in", "--as", NASTY)),
        (2, ("collect", tmp_path / NASTY)),
        (0, ("mark", term, "--lesson", "3")),
        (2, ("mark", term, "--lesson", NASTY)),
        (0, ("deal-again", term, "--who", "ada-01", "--lesson", "3")),
        (2, ("deal-again", term, "--who", NASTY, "--lesson", "3")),
        (2, ("deal-again", term, "--who", "ada-01", "--lesson", NASTY)),
        (0, ("report", term)),
        (2, ("report", tmp_path / NASTY)),
        (0, ("workbook", tmp_path / f"pages {FILE}", "--lesson", LESSON, "--browser", "/nowhere")),
        (2, ("workbook", tmp_path / "pages", "--lesson", NASTY)),
        (2, ("class-files", tmp_path / "x", "--on", NASTY, "--seats", "4")),
        (0, ("class-files", tmp_path / f"y {FILE}", "--on", "kubernetes", "--seats", "4")),
        (2, ("netlist", "--machine", NASTY)),
        (0, ("readings", "--variant", NASTY)),
        (2, ("dryers", NASTY)),
        (2, ("machines", NASTY)),
        (0, ("witness", "sheet", term, "--for", "ada-01", "--browser", "/nowhere")),
        (2, ("witness", "sheet", term, "--for", NASTY)),
        (0, ("witness", "seen", term, "--who", "ada-01", "--by", NASTY, "--machine", NASTY, "--passed", "1-9")),
        (2, ("witness", "seen", term, "--who", NASTY, "--by", "x", "--machine", "y", "--passed", "1-9")),
        (0, ("witness", "due", term)),
        (0, ("witness", "entries", term)),
        (2, ("witness", "entries", term, "--who", NASTY)),
        (0, ("witness", "correct", term, "--entry", "2", "--reason", NASTY, "--by", NASTY)),
        (0, ("witness", "verify", term)),
        (2, ("witness", "verify", term, "--kept", NASTY)),
    ]  # fmt: skip
    for ends, words in steps:
        code, said = typed(*words)
        assert "Traceback" not in said
        assert steering(said) == [], words
        assert said.strip(), words
        assert code == ends or (words[0] == "workbook" and code in (0, 2)), (words, code, said)
        walked.add(words[0])
    assert {"refresher", "doctor", *walked} >= set(get_command(command.app).commands) - OTHERS  # type: ignore[attr-defined]
    code, said = typed("doctor", term)
    assert steering(said) == []


@pytest.mark.slow
def test_every_command_of_a_shop_with_hostile_names(
    tmp_path: Path,
    typed,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(certificate, "chromium", lambda: None)
    people, shop = tmp_path / "people.csv", tmp_path / f"shop {FILE}"
    people.write_text(ROSTER, encoding="utf-8")
    by = ("--by", NASTY)
    steps: list[tuple[int, tuple[object, ...]]] = [
        (0, ("shop", shop, "--people", people, "--zone", "UTC", "--name", NASTY)),
        (2, ("shop", tmp_path / "y", "--people", people, "--zone", NASTY)),
        (2, ("topics", shop)),
        (0, ("due", shop)),
        (0, ("today", shop)),
        (0, ("issue", shop, "--to", "ada-01")),
        (2, ("issue", shop, "--to", NASTY)),
        (2, ("record", shop, *hand_ins(tmp_path / "in"))),
        (0, ("call", shop, "--who", "ada-01", "--trigger", "near-miss", *by)),
        (2, ("call", shop, "--who", "ada-01", "--trigger", NASTY, *by)),
        (0, ("worked", shop, "--who", "ada-01", *by)),
        (0, ("talked", shop, "--with", "ada-01", *by)),
        (0, ("entries", shop)),
        (0, ("correct", shop, "--entry", "3", "--reason", NASTY, *by)),
        (2, ("certificate", shop, "--for", NASTY)),
        (2, ("certificate", shop, "--for", "ada-01")),
        (0, ("export", shop, tmp_path / f"out {FILE}")),
        (0, ("verify", shop)),
        (2, ("verify", shop, "--kept", NASTY)),
        (0, ("backup", shop, tmp_path / f"{FILE}.zip")),
        (0, ("restore", tmp_path / f"{FILE}.zip", tmp_path / f"new {FILE}")),
        (2, ("restore", tmp_path / NASTY, tmp_path / "z")),
    ]  # fmt: skip
    told = []
    for ends, words in steps:
        code, said = typed("refresher", *words)
        assert "Traceback" not in said
        assert steering(said) == [], words
        if code != ends or not said.strip():
            told.append((words[0], code, said[-300:]))
    assert told == [], "\n".join(map(str, told))
    commands = get_command(command.app).commands["refresher"].commands  # type: ignore[attr-defined]
    assert {words[0] for _, words in steps} == set(commands)
