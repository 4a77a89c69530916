"""Settling: the CSV in which the instructor writes whose a file is, beside the page of what came."""

from __future__ import annotations

import csv
import io
from collections.abc import Collection
from dataclasses import dataclass, replace
from pathlib import Path

from legtoleg.collecting.arrivals import NOBODY, Arrival
from legtoleg.collecting.collecting import Collector, Taken
from legtoleg.core.files import write_whole
from legtoleg.core.lesson_choice import lesson_named
from legtoleg.core.outside_words import plain_words
from legtoleg.intake.csv_text import cell_text, csv_text, delimiter, rows
from legtoleg.intake.name_matching import folded
from legtoleg.intake.roster import Person

FILE = "settle.csv"
ASIDE = "settle-not-read.csv"
"""What stood in that file, when nothing in it could be read."""
COLUMNS = ("key", "file", "why", "lesson", "whose")


@dataclass(frozen=True)
class Said:
    """What the instructor wrote of one file, as it was written."""

    whose: str
    lesson: str


def read_settled(folder: Path) -> dict[str, Said]:
    """Return what is written in a cohort's ``settle.csv``, by key; nothing if there is none.

    Raises
    ------
    OSError
        If it is there and cannot be opened.
    """
    path = folder / FILE
    if not path.is_file():
        return {}
    listed = rows(csv_text(path))
    return {row["key"]: Said(row.get("whose", ""), row.get("lesson", "")) for row in listed if row.get("key")}


def not_understood(folder: Path, known: Collection[str]) -> list[str]:
    """Return what in ``settle.csv`` is of no file that came (their keys are ``known``), in lines.

    A file without the columns is kept aside, since a new one takes its place.

    Raises
    ------
    OSError
        If it cannot be read, or not kept aside.
    """
    path = folder / FILE
    text = csv_text(path) if path.is_file() else ""
    first = [name.strip().lower() for name in (text.splitlines() or [""])[0].split(delimiter(text))]
    if text.strip() and not {"key", "whose"} <= {name.strip('"') for name in first}:
        write_whole(folder / ASIDE, path.read_bytes())
        return [
            f"{FILE} was not read: its first line must name the columns {', '.join(COLUMNS)}. It is kept as {ASIDE}."
        ]
    wrote = [(row.get("key", ""), row["whose"]) for row in rows(text) if row.get("whose")]
    return [
        f"{FILE}: no file has the key “{plain_words(key, 40)}”, so “{plain_words(whose, 80)}” has no effect."
        for key, whose in wrote
        if key not in known
    ]


def write_open(folder: Path, held: list[Arrival], said: dict[str, Said]) -> None:
    """Write the files that need a person into ``settle.csv``, what was ``said`` of them kept; without any, remove it.

    Raises
    ------
    OSError
        If it is open in a program that locks it.
    """
    path = folder / FILE
    if not held:
        path.unlink(missing_ok=True)
        return
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for one in held:
        wrote = said.get(one.key, Said("", ""))
        cells = (one.key, one.file, one.what_happened, wrote.lesson or one.lesson, wrote.whose)
        writer.writerow([cell_text(cell) for cell in cells])
    write_whole(path, b"\xef\xbb\xbf" + out.getvalue().encode("utf-8"))


def _person(whose: str, people: list[Person]) -> str:
    """Return the id that is meant by an id or a whole name; empty if it fits nobody, or more than one."""
    wanted = folded(" ".join(whose.split()))
    if wanted == NOBODY:
        return NOBODY
    found = [one.id for one in people if wanted == folded(one.id)]
    named = found or [one.id for one in people if wanted == folded(" ".join(one.name.split()))]
    return named[0] if len(named) == 1 else ""


def apply(collector: Collector, written: dict[str, Said]) -> list[Taken]:
    """Settle what the instructor wrote into ``settle.csv`` and return what became of each file.

    What cannot be applied stays open, with the reason.
    """
    done = []
    for held in collector.arrivals.open():
        said = written.get(held.key)
        if said is None or not said.whose:
            continue
        who = _person(said.whose, collector.people)
        lesson = lesson_named(said.lesson, collector.lessons) if said.lesson else ""
        if not who:
            wrong = f"“{plain_words(said.whose, 80)}” fits nobody on the roster: write an id, or {NOBODY}"
        elif said.lesson and not lesson:
            wrong = f"“{plain_words(said.lesson, 80)}” is not a lesson of this cohort"
        else:
            try:
                done.append(collector.settle(held, who, lesson))
            except OSError as error:
                wrong = f"what was kept of it cannot be opened ({error.strerror})"
            else:
                continue
        done.append(Taken(held.file, "asked", f"stays open: in {FILE}, {wrong}.", digest=held.digest, cure=held.cure))
    return [replace(one, name=f"{FILE}: {one.name}") for one in done]
