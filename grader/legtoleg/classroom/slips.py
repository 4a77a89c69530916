"""Slips: one page to print and cut, with each apprentice's one-time code.

The page holds every code that nobody has used yet: new slips are put to it, and nobody's is lost. Codes are on this
page and on paper only; the class keeps hashes. The class, its command and the gate deal by the same lock.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from html.parser import HTMLParser

from legtoleg.classroom.accounts import SHORTEST, Accounts, drawn_code
from legtoleg.classroom.class_folder import INSTRUCTOR, ClassFolder
from legtoleg.cohort.one_at_a_time import at_work
from legtoleg.core.files import write_whole
from legtoleg.core.page_templates import template
from legtoleg.intake.roster import Person

FILE = "slips.html"
EARLIER = "slips-earlier.html"
"""Where a page of slips is put that cannot be read back: its codes may still be good."""
ADDRESS = "address.txt"
"""Where the class was last started: what slips say that are made while it runs."""


@dataclass(frozen=True)
class Slip:
    """One slip: whose, the code, when it was made (UTC)."""

    who: str
    name: str
    code: str
    made: str = ""

    @property
    def day(self) -> str:
        """When it was made, as it is read here."""
        return f"{datetime.fromisoformat(self.made).astimezone():%b %d, %I:%M %p}".replace(" 0", " ")


class _Reader(HTMLParser):
    """Reads the slips of a page back."""

    def __init__(self) -> None:
        super().__init__()
        self.slips: list[Slip] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        if tag == "div" and "data-code" in said:
            self.slips.append(Slip(*(said.get(f"data-{name}", "") for name in ("who", "name", "code", "made"))))


def _on_page(folder: ClassFolder) -> list[Slip]:
    path = folder.root / FILE
    if not path.is_file():
        return []
    reader = _Reader()
    try:
        reader.feed(path.read_text(encoding="utf-8"))
        for one in reader.slips:
            datetime.fromisoformat(one.made)
    except ValueError:
        return []
    return reader.slips


def unused(folder: ClassFolder) -> list[Slip]:
    """Return the slips on the page whose people have not chosen a password yet."""
    chosen = Accounts(folder).with_password()
    return [one for one in _on_page(folder) if one.who.lower() not in chosen]


def keep_address(folder: ClassFolder, address: str) -> None:
    """Keep the address at which the class was started."""
    write_whole(folder.root / ADDRESS, address.encode("utf-8"))


def kept_address(folder: ClassFolder, otherwise: str) -> str:
    """Return the address at which the class was last started; ``otherwise`` if it never was."""
    place = folder.root / ADDRESS
    return place.read_text(encoding="utf-8").strip() if place.is_file() else otherwise


def names_at_the_door(people: Iterable[Person]) -> dict[str, str]:
    """Return the names of all who may have an account, by id."""
    return {INSTRUCTOR: "Instructor", **{person.id: person.name for person in people}}


def deal_slips(folder: ClassFolder, people: list[Person], address: str) -> list[Slip]:
    """Deal a code to everyone of ``people`` who has no account, and to the instructor; return the new slips.

    Slips that nobody used yet stay on the page, and say ``address`` too.
    """
    names = names_at_the_door(people)
    with at_work(folder.root):
        new = Accounts(folder).without(names)
        return _deal(folder, {who: names[who] for who in new}, address)


def deal_anew(folder: ClassFolder, who: str, name: str, address: str) -> Slip:
    """Deal ``who`` a new code, whose password or old code is gone, and return the slip."""
    with at_work(folder.root):
        return _deal(folder, {who: name}, address)[0]


def _deal(folder: ClassFolder, names: Mapping[str, str], address: str) -> list[Slip]:
    """Put the new slips on the page first, then let them count: after a kill in between they are dealt again."""
    page, now = folder.root / FILE, datetime.now(UTC).isoformat(timespec="seconds")
    new = [Slip(who, name, drawn_code(), now) for who, name in names.items()]
    there = _on_page(folder)
    if not there and new and page.is_file():
        page.replace(folder.root / EARLIER)
    again = {one.who.lower() for one in new}
    slips = [*(one for one in unused(folder) if one.who.lower() not in again), *new]
    if new or (slips and there):
        text = template("classroom/slips.html").render(slips=slips, address=address, shortest=SHORTEST)
        write_whole(page, text.encode("utf-8"), 0o600)
    if new:
        Accounts(folder).keep_codes({one.who: one.code for one in new})
    return new
