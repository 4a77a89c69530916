"""The witness's record: who watched whom, on which day, on what kind of machine, and which steps were passed.

It is a ledger in the folder of a cohort or of a shop: ``witness.db``, with the last hash noted beside it. It holds
ids of who was watched and the names of who watched. A pass is all nine steps on one machine; the last machine counts.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from functools import cached_property
from pathlib import Path
from secrets import token_hex

from sqlalchemy import URL

from dryerbench.core.errors import LegToLegError
from dryerbench.core.version import FIELD, course_version
from legtoleg.cohort.cohort_folder import ROSTER
from legtoleg.core.outside_words import plain_words
from legtoleg.intake.roster import SHOP_PEOPLE, Person, id_called, read_roster
from legtoleg.ledger.corrections import correction, in_force, refuse_correction
from legtoleg.ledger.entry import CORRECTED, OPENED, Draft, Entry, EntryData, Form
from legtoleg.ledger.ledger import Ledger
from legtoleg.ledger.noted_ledger import NotedLedger
from legtoleg.witness.job_steps import job_steps

FILE, NOTE = "witness.db", "witness-last-hash.txt"
SEEN = "seen"
_OLDEST = timedelta(days=2 * 365)


def _once(kind: str, _: EntryData) -> str | None:
    return OPENED if kind == OPENED else None


FORM = Form(
    "leg-to-leg/witness/1",
    (OPENED, SEEN, CORRECTED),
    _once,
    f"put your last copies of {FILE} and {NOTE} back, both",
)


class WitnessError(LegToLegError, ValueError):
    """Something that cannot be entered or shown; the text says what to do."""


def _clock() -> datetime:
    return datetime.now(UTC)


def names_of(steps: Sequence[str]) -> str:
    """Return steps, by their short names, in words: number and what is done, a safety step marked."""
    return "; ".join(
        f"step {one.number}, {one.title[:1].lower()}{one.title[1:]}{' (safety)' * one.safety}"
        for one in job_steps()
        if one.name in steps
    )


@dataclass(frozen=True)
class Witnessed:
    """What was seen of one person the last time: the entry that says it, by whom, and the steps not passed."""

    who: str
    entry: int
    on: date
    by: str
    machine: str
    missed: tuple[str, ...]

    @property
    def passed(self) -> bool:
        """Tell whether all nine steps were passed on that machine."""
        return not self.missed

    @property
    def held(self) -> tuple[str, ...]:
        """The safety steps among those missed."""
        return tuple(one.name for one in job_steps() if one.safety and one.name in self.missed)

    @property
    def words(self) -> str:
        """What was seen, as the end of a sentence."""
        seen = f"on {self.on} by {self.by}, on {self.machine}"
        return f"seen {seen}" if self.passed else f"not passed {seen}: {names_of(self.missed)}"


def last_seen(entries: Sequence[Entry]) -> dict[str, Witnessed]:
    """Return what was seen of each person, by id, from all ``entries`` of a record: the last machine counts."""
    seen = [entry for entry in in_force(entries) if entry.kind == SEEN]
    return {entry.who: _witnessed(entry) for entry in sorted(seen, key=lambda one: (one.on, one.number))}


def _witnessed(entry: Entry) -> Witnessed:
    data = entry.data
    missed = tuple(one.name for one in job_steps() if not data["steps"].get(one.name, False))
    return Witnessed(entry.who, entry.number, entry.on, str(data["by"]), str(data["machine"]), missed)


@dataclass(frozen=True)
class WitnessRecord:
    """The record in ``folder``. ``clock`` tells the time in UTC."""

    folder: Path
    clock: Callable[[], datetime] = field(default=_clock, compare=False)

    @cached_property
    def roster(self) -> Path:
        """The file of who is here: a cohort's, else a shop's.

        Raises
        ------
        WitnessError
            If the folder has neither.
        """
        for name in (ROSTER, SHOP_PEOPLE):
            if (self.folder / name).is_file():
                return self.folder / name
        raise WitnessError(
            f"{self.folder} is neither a cohort's folder nor a shop's: there is no {ROSTER} and no {SHOP_PEOPLE} in it."
        )

    def people(self) -> dict[str, Person]:
        """Return who is here, by id.

        Raises
        ------
        RosterError
            If the file of people cannot be used.
        """
        return {person.id: person for person in read_roster(self.roster)}

    def here(self) -> list[str]:
        """Return the ids of those who have not left by today.

        Raises
        ------
        RosterError
            If the file of people cannot be used.
        """
        today = self.today()
        return [who for who, person in self.people().items() if not person.gone(today)]

    def person(self, who: str) -> Person:
        """Return the person with the id ``who``.

        Raises
        ------
        WitnessError
            If nobody of that id is here.
        """
        people = self.people()
        return people[id_called(who, people, self.roster.name, WitnessError)]

    @property
    def begun(self) -> bool:
        """Tell whether anything was ever entered: the note stays when the ledger itself is lost."""
        return (self.folder / FILE).exists() or (self.folder / NOTE).exists()

    @property
    def noted(self) -> bool:
        """Tell whether the last hash is noted beside the ledger."""
        return (self.folder / NOTE).exists()

    @cached_property
    def ledger(self) -> Ledger:
        """The ledger, which has to be there."""
        return Ledger.open(self._address, FORM)

    @property
    def _address(self) -> URL:
        return URL.create("sqlite", database=(self.folder / FILE).as_posix())

    def _noted(self, ledger: Ledger) -> NotedLedger:
        return NotedLedger(ledger, self.folder / NOTE)

    def entries(self) -> list[Entry]:
        """Return the whole ledger; empty where nothing was ever entered.

        Raises
        ------
        DamagedLedgerError
            If it is not whole.
        LedgerError
            If it is lost.
        """
        return self._noted(self.ledger).entries() if self.begun else []

    def copy(self, entries: Sequence[Entry]) -> None:
        """Make the record with all of ``entries``, which another one held, and note the last hash.

        Raises
        ------
        LedgerError
            If there is a record already.
        """
        ledger = Ledger(self._address, FORM)
        ledger.copy(entries)
        self._noted(ledger).note(entries[-1])

    def today(self) -> date:
        """Return the day that it is on this computer's clock."""
        return self.clock().astimezone().date()

    def day(self, text: str | None) -> date:
        """Return the day written as ``text`` (none: today), which must have been, and not long ago.

        Raises
        ------
        WitnessError
            If it is no day, lies in the future, or more than two years back.
        """
        if text is None:
            return self.today()
        try:
            day = date.fromisoformat(text.strip())
        except ValueError:
            raise WitnessError(f"{text!r:.40} is not a day. Write it like 2027-03-01.") from None
        if day > self.today():
            raise WitnessError(f"{day} is in the future: it is {self.today()}. Only what has been seen is entered.")
        if day < self.today() - _OLDEST:
            raise WitnessError(f"{day} is more than two years ago. Check the year.")
        return day

    def see(
        self, who: str, by: str, machine: str, steps: dict[str, bool], on: date, live_by: str = "", note: str = ""
    ) -> Entry:
        """Enter that ``by`` watched ``who`` on a ``machine``, and which ``steps`` were passed; return the entry.

        Raises
        ------
        WitnessError
            If nobody of that id is here, who watched has no name or is the same person, the machine is not described,
            or the same stands in the record already.
        LedgerError
            If it cannot be entered.
        """
        person, named, kind = self.person(who), plain_words(by, 200), plain_words(machine, 200)
        if len(named) < 2:
            raise WitnessError("Say who watched, by name: --by “First Last”.")
        if named.casefold() in (person.id.casefold(), person.name.casefold()):
            raise WitnessError(f"{named} cannot be the witness of their own work. --by must name someone else.")
        if len(kind) < 3:
            raise WitnessError(
                "Say on what kind of dryer, in your own words: --dryer “electric, cord and plug, three coils”. "
                "No brand, no serial number, no customer."
            )
        data = {"by": named, "machine": kind, "steps": steps}
        data |= {"live_by": plain_words(live_by, 200), "note": plain_words(note, 500), FIELD: course_version()}

        def unless(entries: list[Entry]) -> None:
            for one in in_force(entries):
                if one.kind == SEEN and (one.who, one.on, dict(one.data)) == (person.id, on, data):
                    raise WitnessError(f"That is in the record already: entry {one.number}. Nothing was entered.")

        if not self.begun:
            first = {"ledger": token_hex(8), FIELD: course_version()}
            self._noted(Ledger(self._address, FORM)).make(Draft(OPENED, "", self.today(), self.clock(), first))
        return self._noted(self.ledger).enter(Draft(SEEN, person.id, on, self.clock(), data), unless)

    def correct(self, number: int, reason: str, by: str) -> Entry:
        """Enter that entry ``number`` does not count, and return the correction.

        Raises
        ------
        CorrectionError
            If there is no such entry, it does not count already, or is none that can be corrected.
        """
        data = {**correction(number, reason, by), FIELD: course_version()}
        unless: Callable[[list[Entry]], None] = lambda now: refuse_correction(
            now, number, (OPENED,), "opens the record"
        )
        entries = self.entries()
        unless(entries)
        draft = Draft(CORRECTED, entries[number - 1].who, self.today(), self.clock(), data)
        return self._noted(self.ledger).enter(draft, unless)


def witnessed(folder: Path) -> dict[str, Witnessed]:
    """Return what was seen of each person, by id: the last machine counts. Nobody, where nothing was entered.

    Raises
    ------
    DamagedLedgerError
        If the record in ``folder`` is not whole.
    LedgerError
        If it is lost or cannot be read.
    """
    return last_seen(WitnessRecord(folder).entries())


def words_of(entry: Entry) -> str:
    """Return what an entry says, as one sentence."""
    data = entry.data
    if entry.kind == OPENED:
        return "record opened"
    if entry.kind == CORRECTED:
        return f"entry {data['entry']} does not count: {data['reason']} (entered by {data['by']})"
    live = f" Live readings by {data['live_by']}." if data["live_by"] else ""
    note = f" {data['note']}" if data["note"] else ""
    return f"{_witnessed(entry).words}.{live}{note}"
