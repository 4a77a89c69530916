"""A whole term as a new instructor lives it, with a messy roster and every kind of wrong file, typed as commands.

    python tests/legtoleg/a_term.py FOLDER

prints the table of what was put in and what was said of it. All people are made up.
"""

from __future__ import annotations

import copy
import csv
import io
import json
import os
import re
import sys
import unicodedata
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import nbformat

from dryerbench.answers.tolerance import rounded
from dryerbench.notebook.answer_record import MIME
from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.cli.command import main as command
from legtoleg.cohort import marking_run
from legtoleg.cohort.cohort_folder import RECEIVED
from legtoleg.cohort.kit import stamped
from legtoleg.collecting.arrivals import FILE as ARRIVALS
from legtoleg.collecting.settling import FILE as SETTLE
from legtoleg.demo.simulated_apprentices import filled_in, simulate
from legtoleg.keys.answer_key import worked
from legtoleg.sandbox.engine import Limits
from legtoleg.sandbox.thread_pool import local_pool

LESSON, BENCH = "03_heater_power", "09_open_and_close"
LONE = f"{LESSON}.ipynb"
PAPER = sheet(LESSON)
LIMITS = Limits(cell_seconds=2, notebook_seconds=12, megabytes=400)
"""Shorter than an instructor's, so that what does not end ends sooner here."""
NOW = datetime.now(UTC).replace(microsecond=0)
STEERS = "\x1b[2J\x07\u202egpj"
LATE = ("late-40", "Lena Late")
OTHERS = {
    "jose.nunez": "José Núñez",
    "zoe-1": "Zoë Ångström",
    "thora": "Þóra Jónsdóttir",
    "2": "Ann Lee",
    "3": "Joann Leeds",
    "10": "Tenzin Demo",
    "pat-01": "O'Neil, Pat",
    "sam-a": "Sam Demo",
    "sam-b": "Sam Demo",
    "lou-09": "Lou Gone",
    "mia-01": "Mia Demo",
    "max-01": "Max Demo",
    "eve-05": f"Eve {STEERS} Demo",
    "ada-01": "Ada Demo",
    "bo-02": "Bo Demo",
}
DEMO = {who.apprentice: who.name for who in (simulate(number, 1, LESSON) for number in range(1, 25))}
PEOPLE = {**OTHERS, **DEMO}

Notebook = dict[str, Any]


def roster_text(*, late: bool) -> str:
    """Return the roster as a spreadsheet of another language writes it: its own separator, order, blanks and marks."""
    out = io.StringIO(newline="")
    rows = csv.writer(out, delimiter=";", lineterminator="\r\n")
    rows.writerow([" Name ", "GROUP", "ID", "Mail", "Phone", "Left"])
    for number, (who, name) in enumerate(PEOPLE.items()):
        left = (NOW - timedelta(days=7)).strftime("%m/%d/%Y") if who == "lou-09" else ""
        mail = f"{who}@example.org" if number % 3 else ""
        rows.writerow([f" {name} ", "evening" if number % 2 else "morning", who, mail, "555", left])
        if number % 9 == 0:
            rows.writerow([""] * 6)
    if late:
        rows.writerow([LATE[1], "evening", LATE[0], "", "", ""])
    return "\ufeff" + out.getvalue()


def right(who: str, lesson: str = LESSON, card: int = 1) -> dict[str, str]:
    """Return what somebody types who knows everything."""
    paper = sheet(lesson)
    answers = worked(lesson, paper.card(who, card))
    return {q.name: f"{rounded(answers[q.name], q.figures)} {q.unit}" for q in PAPER.questions}


def own(who: str, *, but: tuple[str, ...] = (), card: int = 1, marked: bool = True, **typed: str) -> Notebook:
    """Return the notebook of the kit of ``who``, answered right except where ``but`` or ``typed`` says otherwise."""
    text = stamped(built_path(LESSON), who) if marked else built_path(LESSON).read_text(encoding="utf-8")
    notebook: Notebook = json.loads(text)
    for name, words in {**right(who, card=card), **typed}.items():
        if name not in but:
            cell = cell_of(notebook, f"{name}-answer")
            cell["source"] = "".join(cell["source"]).replace('""', json.dumps(words, ensure_ascii=False), 1)
    return notebook


def simulated(number: int, lesson: str = LESSON) -> Notebook:
    """Return what a made-up apprentice hands in, with the mark of the kit."""
    person = simulate(number, 1, lesson)
    blank = nbformat.reads(stamped(built_path(lesson), person.apprentice), as_version=4)
    made: Notebook = json.loads(nbformat.writes(filled_in(blank, person)))
    return made


def cell_of(notebook: Notebook, name: str) -> dict[str, Any]:
    """Return a cell by its id."""
    found: dict[str, Any] = next(cell for cell in notebook["cells"] if cell["id"] == name)
    return found


def raw(notebook: Notebook) -> bytes:
    """Return a notebook as a file."""
    return json.dumps(notebook, ensure_ascii=False).encode()


def zipped(files: dict[str, bytes], when: datetime | None = None) -> bytes:
    """Return a zip of ``files``, saved at ``when``."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as parcel:
        for name, content in files.items():
            parcel.writestr(zipfile.ZipInfo(name, (when or NOW - timedelta(days=3)).timetuple()[:6]), content)
    return out.getvalue()


def folder_of(who: str, *, part: int = 99) -> dict[str, bytes]:
    """Return a kit's folder as it comes back: the lesson that was worked, another as it was given out, and the rest."""
    name = f"leg-to-leg-{who}"
    return {
        f"{name}/lessons/{LESSON}/{LESSON}.ipynb": raw(own(who, but=tuple(right(who))[part:])),
        f"{name}/lessons/01_made_dead/01_made_dead.ipynb": stamped(built_path("01_made_dead"), who).encode(),
        f"{name}/lessons/00_start/00_start.ipynb": stamped(built_path("00_start"), who).encode(),
        f"{name}/kit.json": json.dumps({"apprentice": who}).encode(),
        f"{name}/lessons/dryerbench/__init__.py": b"# the lessons' own\n",
    }


def with_cell(notebook: Notebook, code: str) -> Notebook:
    """Return ``notebook`` with a cell of ``code`` as its first one after the card."""
    made = copy.deepcopy(notebook)
    cell = {"cell_type": "code", "id": "mine", "metadata": {}, "source": code, "outputs": [], "execution_count": 1}
    first = next(n for n, one in enumerate(made["cells"]) if one["cell_type"] == "code")
    made["cells"].insert(first + 1, cell)
    return made


CONTROL = (
    "import json, os\n"
    "for n in range(1024):\n"
    "    for word in ('no jail: not here', 'lost', 'time'):\n"
    "        try: os.write(n, json.dumps({'ended': word}).encode() + b'\\n')\n"
    "        except OSError: pass"
)
SHARED = "import mmap\nkept = mmap.mmap(-1, 600_000_000)\nkept.write(bytes(600_000_000))\nimport time; time.sleep(5)"
SCRIPT = "<script>parent.grade = 3</script><img src=x onerror=alert(1)>"


def with_script(notebook: Notebook) -> Notebook:
    """Return ``notebook`` with script in its outputs, its text and an answer."""
    made = with_cell(notebook, f"from IPython.display import HTML\nHTML({SCRIPT!r})")
    data = {"text/html": SCRIPT, "application/javascript": "alert(1)"}
    cell_of(made, "mine")["outputs"] = [{"output_type": "display_data", "data": data, "metadata": {}}]
    made["cells"].append({"cell_type": "markdown", "id": "own-words", "metadata": {}, "source": SCRIPT})
    return made


def moved(notebook: Notebook) -> Notebook:
    """Return ``notebook`` with its code cells in the turned order."""
    made = copy.deepcopy(notebook)
    code = [cell for cell in made["cells"] if cell["cell_type"] == "code"][::-1]
    made["cells"] = [code.pop(0) if cell["cell_type"] == "code" else cell for cell in made["cells"]]
    return made


def older(notebook: Notebook) -> bytes:
    """Return ``notebook`` as nbformat 3 of years ago."""
    written: str = nbformat.writes(nbformat.convert(nbformat.reads(json.dumps(notebook), as_version=4), 3), version=3)
    return written.encode()


def old_letters(who: str) -> Notebook:
    """Return a hand-in whose letters an older version of the course dealt."""
    notebook: Notebook = json.loads(stamped(built_path(BENCH), who))
    cell = next(
        cell for cell in notebook["cells"] if cell["cell_type"] == "code" and "hand_in" in "".join(cell["source"])
    )
    cell["source"] = ["answer = 'B'\n", *cell["source"]]
    record = {"question": "x", "letters": ["A"], "apprentice": who}
    cell["outputs"] = [{"output_type": "display_data", "data": {MIME: record}, "metadata": {}}]
    return notebook


def endless(who: str) -> Notebook:
    """Return a hand-in with a trail of 50,000 acts on the bench."""
    notebook: Notebook = json.loads(stamped(built_path(BENCH), who))
    cell = next(cell for cell in notebook["cells"] if 'hand_in("close_and_prove"' in "".join(cell["source"]))
    acts = [{"act": "wait", "with": {"minutes": 1}}] * 50_000
    record = {"question": "close_and_prove", "apprentice": who, "acts": acts}
    cell["outputs"] = [{"output_type": "display_data", "data": {MIME: record}, "metadata": {}}]
    return notebook


def bombs(depth: int, inside: bytes) -> bytes:
    """Return ``inside`` in a zip in a zip, ``depth`` deep."""
    for level in range(depth):
        inside = zipped({f"level {level}.zip" if level else f"{LESSON}.ipynb": inside})
    return inside


@dataclass(frozen=True)
class Put:
    """One thing that came: what it is in words, its file, its content, and what has to be said of it."""

    what: str
    file: str
    content: bytes
    state: str
    whose: str = ""
    days: int = 3
    """How many days ago it was saved; less than nothing: in the time to come."""


def wrong_files() -> list[Put]:
    """Return every kind of wrong file, and some right ones, in the order in which they are put in."""
    eve, jpg = STEERS, b"\xff\xd8\xff\xe0" + bytes(2000)
    damaged = bytearray(zipped({f"{LESSON}.ipynb": raw(own("mia-01"))}))
    damaged[len(damaged) // 3 : len(damaged) // 2] = bytes(len(damaged) // 2 - len(damaged) // 3)
    twice = raw(own("max-01"))
    ipynb, name = ".ipynb", "José Núñez"
    two_kits = folder_of("demo-21") | folder_of("demo-22")
    own_words = raw({"cells": [], "metadata": {}, "nbformat": 4})
    given_out, still_on = stamped(built_path(LESSON), "demo-24").encode(), own("demo-08", control_off_volts="0 V")
    return [
        Put("a whole kit, zipped", "whole kit.zip", zipped(folder_of("demo-20")), "counts", "demo-20"),
        Put("two kits in one zip", "both.zip", zipped(two_kits), "counts", "demo-21"),
        Put("renamed, with the kit's mark", "homework FINAL v2" + ipynb, raw(own("ada-01")), "counts", "ada-01"),
        Put("another person's zip with fewer answers and a later date", "Ada.zip",
            zipped(folder_of("ada-01", part=2), NOW - timedelta(days=1)), "asked", "ada-01", 1),
        Put("a neighbor's mark under an own name", "Bo Demo" + ipynb, raw(own("demo-23")), "asked"),
        Put("a clock that is years ahead", LONE, raw(own("bo-02", but=("drift",))), "counts", "bo-02", -3000),
        Put("the same lesson again, by a right clock", LONE, raw(own("bo-02")), "counts", "bo-02", 0),
        Put("a zip in a zip", "mail.zip", bombs(2, raw(own("sam-a"))), "counts", "sam-a"),
        Put("a zip in a zip in a zip in a zip", "deep.zip", bombs(9, raw(own("sam-a"))), "refused"),
        Put("a damaged zip", "damaged.zip", bytes(damaged), "refused"),
        Put("half a zip", "half.zip", zipped(folder_of("mia-01"))[:900], "refused"),
        Put("half a notebook", "half" + ipynb, raw(own("mia-01"))[:5000], "refused"),
        Put("an empty file", LONE, b"", "refused"),
        Put("a web page", f"{LESSON}.html", b"<html><body>exported</body></html>", "refused"),
        Put("a phone's photo", "IMG_2041.jpg", jpg, "refused"),
        Put("a program text", f"{LESSON}.py", b"# exported\nelement_current = '8.9 A'\n", "refused"),
        Put("a PDF", "Mia Demo.pdf", b"%PDF-1.7\n", "refused"),
        Put("an archive of another make", "lesson.rar", b"Rar!\x1a\x07\x00" + bytes(99), "refused"),
        Put("a word processor's file", "answers.docx", zipped({"word/document.xml": b"<x/>"}), "refused"),
        Put("named .ipynb.txt by the mail", f"{LESSON}{ipynb}.txt", raw(own("mia-01")), "counts", "mia-01"),
        Put("no mark, no name", LONE, raw(own("thora", marked=False)), "asked"),
        Put("no mark, and two names", "Ada Demo and Max Demo" + ipynb, raw(own("ada-01", marked=False)), "asked"),
        Put("no mark, and a name that two have", "Sam Demo" + ipynb, raw(own("sam-b", marked=False)), "asked"),
        Put("a browser's suffix, no mark", f"{LESSON} (3){ipynb}", raw(own("3", marked=False)), "asked"),
        Put("a browser's suffix, with the mark", f"{LESSON} (2){ipynb}", raw(own("10")), "counts", "10"),
        Put("a short id as the whole name", "2" + ipynb, raw(own("2", marked=False)), "counts", "2"),
        Put("a name inside another name", "Joann Leeds" + ipynb, raw(own("3", marked=False)), "counts", "3"),
        Put("a name with accents apart", unicodedata.normalize("NFD", name) + ipynb,
            raw(own("jose.nunez", marked=False)), "counts", "jose.nunez"),
        Put("a name without its accents", "Zoe Angstrom" + ipynb, raw(own("zoe-1", marked=False)), "counts", "zoe-1"),
        Put("the name turned, as a school's system writes it", f"oneilpat_4711_{LESSON}{ipynb}",
            raw(own("pat-01", marked=False)), "counts", "pat-01"),
        Put("the first of two that are the same", LONE, twice, "counts", "max-01"),
        Put("the second of two that are the same", f"copy of {LESSON}{ipynb}", twice, "known", "max-01"),
        Put("a lesson as it was given out", LONE, given_out, "untouched"),
        Put("the start page", "00_start" + ipynb, built_path("00_start").read_bytes(), "untouched"),
        Put("somebody who is on no roster", LONE, raw(own("zed-99")), "asked"),
        Put("somebody who has left", LONE, raw(own("lou-09")), "counts", "lou-09"),
        Put("a notebook that is no lesson", "my own" + ipynb, own_words, "refused"),
        Put("the notebook format of years ago", LONE, older(own("demo-19")), "counts", "demo-19"),
        Put("an older version of the course", f"{BENCH}.ipynb", raw(old_letters("demo-18")), "counts", "demo-18"),
        Put("saved as UTF-16", LONE, raw(own("demo-17")).decode().encode("utf-16"), "counts", "demo-17"),
        Put("control words of the marking", LONE, raw(with_cell(own("demo-16"), CONTROL)), "counts", "demo-16"),
        Put("600 MB of shared memory", LONE, raw(with_cell(own("demo-15"), SHARED)), "counts", "demo-15"),
        Put("a cell without end", LONE, raw(with_cell(own("demo-14"), "while True: pass")), "counts", "demo-14"),
        Put("script in outputs and text", LONE, raw(with_script(own("demo-13"))), "counts", "demo-13"),
        Put("codes that steer a terminal, in name and answer", f"x {eve}{ipynb}",
            raw(own("eve-05", drift=f"12 % {eve}")), "counts", "eve-05"),
        Put("cells in another order", LONE, raw(moved(own("demo-12"))), "counts", "demo-12"),
        Put("a date before there were files", "old.zip", zipped(
            {LONE: raw(own("demo-11"))}, datetime(1980, 1, 1, tzinfo=UTC)), "counts", "demo-11"),
        Put("a trail of 50,000 acts", f"{BENCH}.ipynb", raw(endless("demo-10")), "counts", "demo-10"),
        Put("a neighbor's answers under the own mark", LONE,
            raw(own("demo-09", **right("demo-07"))), "counts", "demo-09"),
        Put("held: live with the control off", LONE, raw(still_on), "counts", "demo-08"),
        *(Put("as it should be", LONE, raw(simulated(number)), "counts", f"demo-{number:02d}")
          for number in range(1, 8)),
    ]  # fmt: skip


@dataclass
class Row:
    """One line of the table: the stage, what was put in, and what was said of it."""

    stage: str
    put: str
    said: list[str] = field(default_factory=list)


@contextmanager
def short_limits() -> Iterator[None]:
    """Let what does not end be stopped sooner than for an instructor."""
    before = marking_run.local_pool
    marking_run.local_pool = lambda workers, **more: local_pool(workers, LIMITS, **more)  # type: ignore[assignment]
    try:
        yield
    finally:
        marking_run.local_pool = before


def typed(*words: object) -> tuple[int, str]:
    """Type a command, and return what it ends with and what it says; an error that is not ours comes through."""
    out, before = io.StringIO(), sys.argv
    sys.argv = ["legtoleg", *map(str, words)]
    code: object = 0
    try:
        with redirect_stdout(out), redirect_stderr(out):
            command()
    except SystemExit as end:
        code = end.code
    finally:
        sys.argv = before
    return int(code or 0) if isinstance(code, int | None) else 1, out.getvalue()


class Term:
    """A term in ``folder``: its cohort, its inbox, and the table as it grows."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.cohort, self.inbox = folder, folder / "spring", folder / "inbox"
        self.inbox.mkdir(parents=True)
        self.rows: list[Row] = []
        self.said: dict[str, tuple[int, str]] = {}
        self.points: dict[tuple[str, str], tuple[float, float]] = {}
        self.states: dict[tuple[str, str], str] = {}
        self.puts = wrong_files()

    def type(self, stage: str, put: str, *words: object) -> tuple[int, str]:
        """Type a command, and put into the table what it said."""
        code, said = typed(*words)
        self.said[f"{stage}: {put}"] = code, said
        short = said.replace(f"{self.folder}/", "")
        self.rows.append(Row(stage, put, [*short.splitlines(), f"(it ended with {code})"]))
        return code, said

    def place(self, number: int) -> Path:
        """Return the folder into which the thing of that ``number`` is put: two letters that name nobody."""
        return self.inbox / f"kind-q{chr(97 + number // 26)}{chr(97 + number % 26)}"

    def fill_inbox(self) -> None:
        """Put everything into the inbox, each in a folder of its own, in order."""
        for number, one in enumerate(self.puts):
            path = self.place(number) / one.file
            path.parent.mkdir()
            path.write_bytes(one.content)
            then = (NOW - timedelta(days=one.days)).timestamp()
            os.utime(path, (then, then))

    def arrivals(self) -> list[dict[str, str]]:
        """Return the list of all that came."""
        path = self.cohort / RECEIVED / ARRIVALS
        listed: list[dict[str, str]] = json.loads(path.read_text(encoding="utf-8"))
        return listed

    def named(self, number: int) -> list[dict[str, str]]:
        """Return what is listed of the thing of that ``number``."""
        return [one for one in self.arrivals() if f"{self.place(number).name}/" in one["file"]]

    def tell_of_files(self, stage: str, fate: Callable[[dict[str, str]], str]) -> None:
        """Put a line into the table for each thing that came, with all that is listed of it."""
        for number, one in enumerate(self.puts):
            self.rows.append(Row(stage, f"{one.what}: {one.file}", [fate(said) for said in self.named(number)]))

    def tell_of_marks(self, stage: str) -> None:
        """Put a line into the table for each person and lesson that came: points, state, and what the report says."""
        with (self.cohort / "report-answers.csv").open(encoding="utf-8-sig", newline="") as file:
            answers = list(csv.DictReader(file))
        with (self.cohort / "report-people.csv").open(encoding="utf-8-sig", newline="") as file:
            states = {row["id"].lstrip("'"): row for row in csv.DictReader(file)}
        for one in [*self.puts, Put("the late joiner", "", b"", "counts", LATE[0])]:
            lesson = BENCH if one.file.startswith(BENCH) else LESSON
            if one.state != "counts" or not one.whose:
                continue
            mine = [row for row in answers if row["id"].lstrip("'") == one.whose and row["lesson"] == lesson]
            points, of = (sum(float(row[name]) for row in mine) for name in ("points", "of"))
            notes = sorted({row["note"] for row in mine if row["points"] != row["of"]})
            self.points[one.whose, lesson] = (points, of)
            self.states[one.whose, lesson] = states[one.whose][lesson]
            said = f"card {mine[0]['card']}: {points:g} of {of:g} points" if mine else "nothing is graded"
            self.rows.append(
                Row(
                    stage, f"{one.what} ({one.whose})", [f"{states[one.whose][lesson]}; {said}", ", ".join(notes)[:200]]
                )
            )

    def tell_of_facts(self, stage: str) -> None:
        """Put the report's facts into the table."""
        with (self.cohort / "report-facts.csv").open(encoding="utf-8-sig", newline="") as file:
            facts = [" · ".join(row) for row in csv.reader(file)]
        self.rows.append(Row(stage, "facts to talk about, the first ones", facts[:9]))

    def settle(self, whose: dict[str, str]) -> int:
        """Write into the CSV whose each open file is, by a part of its path; all others are nobody's."""
        path = self.cohort / SETTLE
        rows = list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig"), newline="")))
        for row in rows:
            row["whose"] = next((who for part, who in whose.items() if part in row["file"]), "nobody")
        with path.open("w", encoding="utf-8", newline="") as file:
            out = csv.DictWriter(file, list(rows[0]))
            out.writeheader()
            out.writerows(rows)
        return len(rows)

    def kept(self) -> set[bytes]:
        """Return the content of every file that is kept as it came."""
        return {path.read_bytes() for path in (self.cohort / RECEIVED).rglob("*") if path.is_file()}

    def table(self) -> str:
        """Return the table as text."""
        lines = ["A term as a new instructor lives it: what was put in, and what was said. Everybody is made up.", ""]
        stage = ""
        for row in self.rows:
            if row.stage != stage:
                stage = row.stage
                lines += ["", f"== {stage} =="]
            lines += [plain(row.put), *(f"      → {plain(words)}" for words in row.said if words.strip())]
        return "\n".join(lines) + "\n"


def plain(words: str) -> str:
    """Return ``words`` with what a terminal must not get written out."""
    return "".join(one if one.isprintable() else f"\\x{ord(one):02x}" for one in words)


def fate(said: dict[str, str]) -> str:
    """Return one line of the list of what came."""
    inside = said["file"].partition("/kind-q")[2].partition("/")[2]
    whose = f" [{said['whose']}]" if said["whose"] else ""
    return f"{inside}: {said['state']}{whose}: {said['words'].replace('legtoleg collect', 'collect')}"


def whole_term(folder: Path) -> Term:
    """Live the term in ``folder``, and return it with its table."""
    term = Term(folder)
    roster, cohort = folder / "roster.csv", term.cohort
    roster.write_text(
        "id,name,mail\nada-01,Ada,\nAda-01,Ada again,\nbo 02,Bo,\ncy,,\ndi,Di,at home\n", encoding="utf-8"
    )
    term.type(
        "The roster",
        "a roster with a double id, a space in an id, no name, no mail",
        "cohort",
        cohort,
        "--roster",
        roster,
    )
    roster.write_text(roster_text(late=False), encoding="utf-8")
    due = (NOW - timedelta(days=2)).date().isoformat()
    words = ("cohort", cohort, "--roster", roster, "--due", f"{LESSON}={due}")
    term.type("The roster", "39 people, semicolons, blanks, a byte-order mark, two groups, a leaver", *words)
    term.fill_inbox()
    term.type(
        "What came",
        f"{len(term.puts)} things in one inbox, and a path that is not there",
        "collect",
        cohort,
        term.inbox,
        folder / "gone.zip",
    )
    term.tell_of_files("What came, thing by thing", fate)
    roster.write_text(roster_text(late=True), encoding="utf-8")
    term.type("A late joiner", "the roster with one more", *words)
    late = folder / f"{LATE[1]}.ipynb"
    late.write_bytes(raw(own(LATE[0])))
    term.type("A late joiner", "their first hand-in", "collect", cohort, late)
    thora = term.place(next(n for n, one in enumerate(term.puts) if one.what == "no mark, no name")).name
    count = term.settle({thora: "Þóra Jónsdóttir"})
    term.type("Doubts settled", f"{count} in settle.csv: one named, the rest nobody's", "collect", cohort)
    with short_limits():
        term.type("Marking", "all that counts", "mark", cohort)
        term.type("Marking", "once more, nothing new", "mark", cohort)
    term.type("The report", "after the first marking", "report", cohort)
    term.tell_of_marks("What was marked, person by person")
    term.type("A new card", "for one who asked", "deal-again", cohort, "--who", "demo-01", "--lesson", "3")
    term.type("A new card", "for nobody on the roster", "deal-again", cohort, "--who", "zed-99", "--lesson", "3")
    again = folder / "second"
    again.mkdir()
    for who, number in (("demo-08", 2), ("demo-01", 1)):
        notebook = own(who, card=number, but=("drift",) if number == 1 else ())
        notebook["metadata"]["leg_to_leg"]["try"] = number
        (again / f"{who}.ipynb").write_bytes(raw(notebook))
    term.type(
        "The second hand-in", "of card 2 after a hold, and of card 1 where card 2 was dealt", "collect", cohort, again
    )
    if any(one["state"] in ("asked", "refused") for one in term.arrivals()):
        term.settle({"demo-01": "demo-01"})
        term.type("The second hand-in", "the one that lost an answer: it is to count", "collect", cohort)
    with short_limits():
        term.type("The second hand-in", "marked", "mark", cohort)
    seen = ("--by", "Ida Demo", "--machine", "electric, cord and plug, two coils", "--passed")
    ahead = (NOW + timedelta(days=9)).date().isoformat()
    for what, who, *more in (
        ("all nine steps", "demo-08", "1-9"),
        ("step 4 missed", "ada-01", "1-3,5-9", "--missed", "4"),
        ("a day that has not been", "bo-02", "1-9", "--on", ahead),
    ):
        term.type("The witness", what, "witness", "seen", cohort, "--who", who, *seen, *more)
    term.type("The witness", "who is left", "witness", "due", cohort)
    term.type("The report", "at the end", "report", cohort)
    term.tell_of_facts("The report")
    return term


def unsteered(text: str) -> bool:
    """Tell whether ``text`` holds nothing that steers a terminal."""
    return not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200b\u202a-\u202e\u2066-\u2069]", text)


if __name__ == "__main__":
    sys.stdout.write(whole_term(Path(sys.argv[1]).resolve()).table())
