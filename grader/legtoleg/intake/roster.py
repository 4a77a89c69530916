"""The roster: who is in a cohort, read from a CSV file as people write them, with errors by line."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, date, datetime
from difflib import get_close_matches
from pathlib import Path

from dryerbench.core.errors import KitError, LegToLegError
from dryerbench.core.identity import PRACTICE, checked_id
from legtoleg.intake.csv_text import csv_text, delimiter

COLUMNS = ("id", "name", "mail", "group", "left")
SHOP_PEOPLE = "people.csv"
"""The roster of a shop, in its folder."""
_MOST_ERRORS = 12
_WINDOWS_OWN = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?|.*\.", re.IGNORECASE)
"""What Windows keeps for devices, and what ends with a dot, which it leaves out: no folder can be called so."""


class RosterError(LegToLegError, ValueError):
    """A roster that cannot be used; the text names each line that is wrong, one a line."""


@dataclass(frozen=True)
class Person:
    """One apprentice of a cohort."""

    id: str
    name: str
    mail: str = ""
    group: str = ""
    left: date | None = None
    """The day from which they are no longer here; None for somebody who is."""

    def gone(self, today: date) -> bool:
        """Tell whether they have left by ``today``."""
        return self.left is not None and self.left <= today


def _text(path: Path) -> str:
    try:
        return csv_text(path)
    except OSError as error:
        raise RosterError(f"The roster {path} cannot be opened: {error.strerror}.") from None


def _person(row: dict[str, str]) -> Person:
    if not row["id"]:
        raise KitError("there is no id.")
    who = checked_id(row["id"])
    if who == PRACTICE:
        raise KitError(f"The id {PRACTICE} is the practice dryer's: take another.")
    if _WINDOWS_OWN.fullmatch(who):
        raise KitError(f"The id {who} cannot be the name of a folder on Windows: take another.")
    if not row["name"]:
        raise KitError(f"{who} has no name.")
    if row["mail"] and "@" not in row["mail"]:
        raise KitError(f"{row['mail']!r:.80} is no mail address.")
    return Person(who, row["name"], row["mail"], row["group"], _day(row["left"], who))


def _day(text: str, who: str) -> date | None:
    """Return the day in the column ``left``, as people and spreadsheets write it; None if nothing stands there."""
    if not text:
        return None
    for form in ("%Y-%m-%d", "%m/%d/%Y", "%m/%d/%y"):
        with suppress(ValueError):
            return datetime.strptime(text, form).replace(tzinfo=UTC).date()
    raise KitError(f"{text!r:.40} is not a day on which {who} left: write it like 2026-12-01.")


def read_roster(path: Path) -> list[Person]:
    """Return the people in the CSV file ``path`` with columns id and name, and optionally mail, group and left.

    Raises
    ------
    RosterError
        If it cannot be read, with every wrong line named.
    """
    text = _text(path)
    reader = csv.DictReader(io.StringIO(text, newline=""), delimiter=delimiter(text))
    names = [str(name).strip().lower() for name in reader.fieldnames or []]
    if not {"id", "name"} <= set(names):
        raise RosterError(
            f"{path.name}, line 1: the columns must be id and name, and may be mail, group and left; found: "
            f"{', '.join(names)[:200] or 'nothing'}."
        )
    reader.fieldnames = names
    people: list[Person] = []
    errors: list[str] = []
    seen: dict[str, int] = {}
    for raw in reader:
        spilled = raw.pop(None, None)
        row = {key: (raw.get(key) or "").strip() for key in COLUMNS}
        if not any(row.values()):
            continue
        try:
            person = _person(row)
        except KitError as error:
            errors.append(f"{path.name}, line {reader.line_num}: {error}")
            continue
        if any(spilled or []):
            errors.append(
                f"{path.name}, line {reader.line_num}: it has more cells than there are columns. Put quotation marks "
                'around a name with a comma: "Doe, Jane".'
            )
        key = person.id.lower()
        if key in seen:
            errors.append(f"{path.name}, line {reader.line_num}: the id {person.id} is in line {seen[key]} already.")
        seen.setdefault(key, reader.line_num)
        people.append(person)
    if not people and not errors:
        errors.append(f"{path.name}: there is no one in it.")
    if errors:
        more = [f"… and {len(errors) - _MOST_ERRORS} more."] if len(errors) > _MOST_ERRORS else []
        raise RosterError("\n".join([*errors[:_MOST_ERRORS], *more]))
    return people


def id_called(said: str, ids: Iterable[str], where: str, error: type[LegToLegError] = RosterError) -> str:
    """Return the one of ``ids`` that was ``said``; capitals do not count, since no two ids differ by them alone.

    Raises
    ------
    LegToLegError
        An ``error``, if it is none of those in ``where``; it names the closest, or all.
    """
    known = {one.lower(): one for one in ids}
    wanted = said.strip().lower()
    if wanted in known:
        return known[wanted]
    near = get_close_matches(wanted, known, 1, 0.75)
    listed = ", ".join(known.values()) or "none"
    there = f"{listed[:300]}…" if len(listed) > 300 else f"{listed}."
    hint = f". Did you mean {known[near[0]]}?" if near else f"; there are: {there}"
    raise error(f"Nobody with the id {said!r:.80} is in {where}{hint}")


def roster_text(people: list[Person]) -> str:
    """Return ``people`` as the text of a CSV file."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows((one.id, one.name, one.mail, one.group, one.left or "") for one in people)
    return out.getvalue()
