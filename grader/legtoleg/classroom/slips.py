"""Slips: one page to print and cut, with each apprentice's one-time code."""

from __future__ import annotations

from itertools import chain, count
from pathlib import Path

from legtoleg.classroom.accounts import SHORTEST, Accounts
from legtoleg.classroom.class_folder import INSTRUCTOR, ClassFolder
from legtoleg.core.files import write_whole
from legtoleg.core.page_templates import template
from legtoleg.intake.roster import Person

FILE = "slips.html"


def deal_slips(folder: ClassFolder, people: list[Person], address: str) -> Path | None:
    """Deal a code to everyone of ``people`` who has no account, and to the instructor; return the page, if any.

    Codes are on paper only, and in the class as hashes; so a page that is still there, perhaps not printed, stays.
    """
    accounts = Accounts(folder)
    names = {INSTRUCTOR: "Instructor", **{person.id: person.name for person in people}}
    new = accounts.without(names)
    if not new:
        return None
    return write_slips(folder, [(who, names[who], accounts.deal_code(who)) for who in new], address)


def write_slips(folder: ClassFolder, slips: list[tuple[str, str, str]], address: str) -> Path:
    """Write the page for ``slips`` (id, name, code), readable by the instructor alone, and return where."""
    page = template("classroom/slips.html").render(slips=slips, address=address, shortest=SHORTEST)
    names = chain([FILE], (FILE.replace(".", f"-{number}.") for number in count(2)))
    path = next(path for name in names if not (path := folder.root / name).exists())
    write_whole(path, page.encode("utf-8"), 0o600)
    return path
