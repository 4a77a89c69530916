"""When a hand-in was saved: a clock is believed as far as it can be right, and never beyond the day of arrival."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

FIRST_YEAR = 2000
"""A clock before it was never set."""
_ZONES = timedelta(hours=26)
"""How far two right clocks can be apart: a zip holds local time without its zone."""
_FORM = "%Y-%m-%d %H:%M:%S UTC"


@dataclass(frozen=True)
class Saved:
    """When a hand-in counts as saved; with ``doubt``, what its clock said instead, for a person."""

    at: datetime
    doubt: str = ""

    def stamp_after(self, standing: datetime | None) -> datetime:
        """Return the time to stand beside the hand-in once it counts, after that of the one it replaces.

        With a wrong clock that is the start of the day of arrival: what was saved later that day is never older.
        """
        if not self.doubt:
            return self.at
        start = self.at.replace(hour=0, minute=0, second=0, microsecond=0)
        return start if standing is None else max(start, min(standing + timedelta(seconds=1), self.at))


def saved(said: datetime | None, arrived: datetime) -> Saved:
    """Return when a file counts as saved that says ``said`` (UTC) and ``arrived`` (UTC)."""
    if said is None:
        return Saved(arrived, "it says no time")
    if said.year < FIRST_YEAR or said > arrived + _ZONES:
        return Saved(arrived, f"its clock says {said.year:04}-{said.month:02}-{said.day:02}")
    return Saved(min(said, arrived))


def clipped(standing: datetime, now: datetime) -> datetime:
    """Return the time beside a hand-in, ``now`` at the latest: what an older program believed of a wrong clock."""
    return min(standing, now)


def stamp_text(when: datetime) -> str:
    """Return ``when`` as nbgrader writes and reads it."""
    return when.astimezone(UTC).strftime(_FORM)


def read_stamp(text: str) -> datetime | None:
    """Return the time in a stamp of ours; None if it is none."""
    try:
        return datetime.strptime(text.strip(), _FORM).replace(tzinfo=UTC)
    except ValueError:
        return None
