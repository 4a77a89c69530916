"""The roster: who is in a cohort, read from a CSV file as people write them, with errors by line."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path

from dryerbench.core.errors import KitError, LegToLegError
from dryerbench.core.identity import PRACTICE, checked_id
from legtoleg.intake.csv_text import csv_text, delimiter

COLUMNS = ("id", "name", "mail", "group")
SHOP_PEOPLE = "people.csv"
"""The roster of a shop, in its folder."""
_MOST_ERRORS = 12


class RosterError(LegToLegError, ValueError):
    """A roster that cannot be used; the text names each line that is wrong, one a line."""


@dataclass(frozen=True)
class Person:
    """One apprentice of a cohort."""

    id: str
    name: str
    mail: str = ""
    group: str = ""


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
        raise KitError(f"The id {PRACTICE} is the practice machine's: take another.")
    if not row["name"]:
        raise KitError(f"{who} has no name.")
    if row["mail"] and "@" not in row["mail"]:
        raise KitError(f"{row['mail']!r:.80} is no mail address.")
    return Person(who, row["name"], row["mail"], row["group"])


def read_roster(path: Path) -> list[Person]:
    """Return the people in the CSV file ``path`` with columns id and name, and optionally mail and group.

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
            f"{path.name}, line 1: the columns must be id and name, and may be mail and group; found: "
            f"{', '.join(names)[:200] or 'nothing'}."
        )
    reader.fieldnames = names
    people: list[Person] = []
    errors: list[str] = []
    seen: dict[str, int] = {}
    for raw in reader:
        row = {key: (raw.get(key) or "").strip() for key in COLUMNS}
        if not any(row.values()):
            continue
        try:
            person = _person(row)
        except KitError as error:
            errors.append(f"{path.name}, line {reader.line_num}: {error}")
            continue
        key = person.id.lower()
        if key in seen:
            errors.append(
                f"{path.name}, line {reader.line_num}: the id {person.id} stands in line {seen[key]} already."
            )
        seen.setdefault(key, reader.line_num)
        people.append(person)
    if not people and not errors:
        errors.append(f"{path.name}: there is nobody in it.")
    if errors:
        more = [f"… and {len(errors) - _MOST_ERRORS} more."] if len(errors) > _MOST_ERRORS else []
        raise RosterError("\n".join([*errors[:_MOST_ERRORS], *more]))
    return people


def roster_text(people: list[Person]) -> str:
    """Return ``people`` as the text of a CSV file."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows((person.id, person.name, person.mail, person.group) for person in people)
    return out.getvalue()
