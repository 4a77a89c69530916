"""A shop: a folder with its settings, its people, its ledger; what day it is there."""

from __future__ import annotations

import json
import os
import tomllib
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from functools import cached_property
from pathlib import Path
from secrets import token_hex
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sqlalchemy import URL

from dryerbench.core.errors import LegToLegError
from dryerbench.core.version import FIELD, course_version
from legtoleg.core.files import write_whole
from legtoleg.core.folder_search import marked_folder
from legtoleg.core.outside_words import plain_words
from legtoleg.intake.roster import SHOP_PEOPLE, Person, id_called, read_roster, roster_text
from legtoleg.ledger.entry import OPENED, Draft, Entry
from legtoleg.ledger.ledger import Ledger
from legtoleg.ledger.noted_ledger import NOTE, NotedLedger
from legtoleg.refresher.record.ledger_entry import FORM
from legtoleg.refresher.record.safety_topics import Topic, read_topics

SETTINGS, PEOPLE = "shop.toml", SHOP_PEOPLE
LEDGER = "ledger.db"
_AHEAD = timedelta(days=20 * 365)
SOON = 30
"""Days before its day from which something counts as due, if the shop does not say otherwise."""


class ShopError(LegToLegError, ValueError):
    """A shop's folder or a wish about it that cannot be; the text says what to do."""


def _clock() -> datetime:
    return datetime.now(UTC)


def _quoted(text: str) -> str:
    """Return ``text`` as a TOML string; of the letters that JSON leaves as they are, TOML forbids one."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


@dataclass(frozen=True)
class Settings:
    """What ``shop.toml`` holds: the shop's name, its time zone, and where ledger and lessons' marks are."""

    name: str
    zone: str
    ledger: str = ""
    days: int = SOON
    cohort: str = ""
    jurisdiction: str = ""

    def text(self) -> str:
        """Return the settings as TOML, each with a word on what it is."""
        return (
            "# The shop's settings. Everything in this folder stays on this computer.\n"
            f"name = {_quoted(self.name)}\n"
            f"zone = {_quoted(self.zone)}  # the time zone in which a day of the shop begins and ends\n"
            f"days = {self.days}  # from so many days before its day on, something counts as due\n"
            f"jurisdiction = {_quoted(self.jurisdiction)}  # whose rules hold here; printed on pages\n"
            f"cohort = {_quoted(self.cohort)}  # the folder of the lessons' cohort, if its grades are at hand\n"
            f"ledger = {_quoted(self.ledger)}  # empty: {LEDGER} here; else a SQLAlchemy address (PostgreSQL)\n"
        )


def _check_kinds(made: Settings) -> None:
    right = all(type(getattr(made, name)) is str for name in ("name", "zone", "ledger", "cohort", "jurisdiction"))
    if not right or type(made.days) is not int or made.days < 0 or not made.name.strip():
        raise TypeError("a value is of the wrong kind")


def _settings(path: Path) -> Settings:
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8-sig"))
        made = Settings(**data)
        _check_kinds(made)
    except (OSError, ValueError, TypeError) as error:
        raise ShopError(f"{SETTINGS} cannot be used: {str(error).removeprefix('Settings.__init__() ')}.") from None
    zone_named(made.zone)
    return made


def zone_named(name: str) -> ZoneInfo:
    """Return the time zone ``name``.

    Raises
    ------
    ShopError
        If there is none of that name.
    """
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise ShopError(
            f"There is no time zone {name!r:.60}: write one like America/Denver or Europe/Berlin."
        ) from None


@dataclass(frozen=True)
class Shop:
    """The shop in ``folder``. ``clock`` tells the time in UTC."""

    folder: Path
    settings: Settings
    clock: Callable[[], datetime] = field(default=_clock, compare=False)

    @staticmethod
    def at(folder: Path, clock: Callable[[], datetime] = _clock) -> Shop:
        """Return the shop in ``folder``.

        Raises
        ------
        ShopError
            If there is none, or its settings cannot be used.
        """
        make = f"legtoleg refresher shop {folder} --people FILE --zone ZONE --name NAME"
        marked_folder(folder, SETTINGS, "shop", make, ShopError)
        return Shop(folder.resolve(), _settings(folder / SETTINGS), clock)

    @staticmethod
    def make(folder: Path, settings: Settings, people: Path, clock: Callable[[], datetime] = _clock) -> Shop:
        """Make the shop's folder and open its ledger.

        Raises
        ------
        ShopError
            If there is a shop already, or a setting cannot be.
        RosterError
            If the file ``people`` cannot be used.
        """
        if (folder / SETTINGS).exists():
            raise ShopError(f"{folder} is a shop's folder already. Change {SETTINGS} and {PEOPLE} in it as you need.")
        zone_named(settings.zone)
        if not settings.name.strip():
            raise ShopError("Give the shop a name: --name “…”.")
        listed = read_roster(people)
        folder.mkdir(parents=True, exist_ok=True)
        shop = Shop(folder.resolve(), settings, clock)
        about = {"shop": settings.name, "zone": settings.zone, "ledger": token_hex(8), FIELD: course_version()}
        shop._noted(Ledger(shop.address, FORM)).make(Draft(OPENED, "", shop.today(), shop.clock(), about))
        write_whole(folder / PEOPLE, roster_text(listed).encode("utf-8"))
        write_whole(folder / SETTINGS, settings.text().encode("utf-8"))
        return shop

    @property
    def address(self) -> str | URL:
        """The SQLAlchemy address of the ledger; as an object where a folder's name may hold any letter."""
        return self.settings.ledger or URL.create("sqlite", database=(self.folder / LEDGER).as_posix())

    @cached_property
    def ledger(self) -> Ledger:
        """The ledger, which has to be there."""
        return Ledger.open(self.address, FORM)

    @cached_property
    def topics(self) -> dict[str, Topic]:
        """The topics with the shop's own intervals."""
        return read_topics(self.folder)

    def people(self) -> dict[str, Person]:
        """Return who works here, by id.

        Raises
        ------
        RosterError
            If the file of people cannot be used.
        """
        return {person.id: person for person in read_roster(self.folder / PEOPLE)}

    def person(self, who: str) -> Person:
        """Return the person with the id ``who``.

        Raises
        ------
        ShopError
            If nobody of that id works here.
        """
        people = self.people()
        return people[id_called(who, people, PEOPLE, ShopError)]

    def today(self) -> date:
        """Return the day that it is at the shop."""
        return self.clock().astimezone(zone_named(self.settings.zone)).date()

    def day(self, text: str | None, *, past: bool) -> date:
        """Return the day written as ``text`` (none: today). With ``past`` it must not lie in the future.

        Raises
        ------
        ShopError
            If it is no day, lies before the ledger was opened, lies in the future and must not, or lies too far in it.
        """
        if text is None:
            return self.today()
        try:
            day = date.fromisoformat(text.strip())
        except ValueError:
            raise ShopError(f"{text!r:.40} is not a day. Write it like 2027-03-01.") from None
        if past and day > self.today():
            raise ShopError(
                f"{day} is in the future: at the shop ({self.settings.zone}) it is {self.today()}. "
                "Only what has happened is entered."
            )
        opened = self.entries()[0].on
        if day < opened:
            raise ShopError(f"{day} is before {opened}, the day on which this shop's ledger was opened.")
        if day > self.today() + _AHEAD:
            raise ShopError(f"{day} is more than {_AHEAD.days // 365} years ahead. Check the year.")
        return day

    def entries(self) -> list[Entry]:
        """Return the whole ledger, and compare it with the last hash that was noted beside it.

        Raises
        ------
        DamagedLedgerError
            If it is not whole, or lacks what was noted.
        """
        return self._noted(self.ledger).entries()

    def _noted(self, ledger: Ledger) -> NotedLedger:
        return NotedLedger(ledger, self.folder / NOTE)

    def note(self, entry: Entry) -> None:
        """Note the last hash beside the ledger; a kill before it leaves an older note, which still holds.

        Raises
        ------
        LedgerError
            If the note cannot be written; the entry is in the ledger then.
        """
        self._noted(self.ledger).note(entry)

    @property
    def noted(self) -> bool:
        """Tell whether the last hash is noted beside the ledger, as it is from the set-up on."""
        return (self.folder / NOTE).exists()

    def enter(self, draft: Draft, unless: Callable[[list[Entry]], None] = lambda _: None) -> Entry:
        """Enter ``draft`` in one step and note its hash.

        Raises
        ------
        LedgerError
            If it cannot be entered.
        """
        return self._noted(self.ledger).enter(draft, unless)

    def draft_by(self, by: str, kind: str, who: str, on: date, **data: object) -> Draft:
        """Return a draft of what a person enters by hand: ``by`` is that person's name.

        Raises
        ------
        ShopError
            If no name is said.
        """
        named = plain_words(by, 200)
        if not named:
            raise ShopError("Say who enters it, by name: --by “First Last”. Nothing was entered.")
        return self.draft(kind, who, on, by=named, **data)

    def draft(self, kind: str, who: str, on: date, **data: object) -> Draft:
        """Return a draft that is entered now, by this version of the course; older entries may say no version."""
        return Draft(kind, who, on, self.clock(), {**data, FIELD: course_version()})


def owner_only(path: Path) -> None:
    """Let nobody but the owner read ``path``, where the system knows such rights."""
    if os.name == "posix":
        path.chmod(0o600)
