"""The ledger of tries: for which time a card was dealt to an apprentice, and why. What a kit says is not asked.

One small file for each apprentice and lesson that was dealt more than once, in the cohort's folder ``tries``; beside
it the marked notebook and the page of each try that is over. A lesson without a file is at its first try.
"""

from __future__ import annotations

import hashlib
import json
import shutil
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path

from dryerbench.core.identity import MOST_TRIES
from legtoleg.core.files import write_whole
from legtoleg.core.notebook_format import Resources

FOLDER = "tries"
TRY = "leg_to_leg_try"
"""Where in nbconvert's resources, and in a marked notebook's metadata, it stands which try it is."""
CACHE = ".marked"
"""The folder of the marking cache, which knows by which try a hand-in was marked."""
HELD, ASKED = "held for safety", "asked for"


@dataclass(frozen=True)
class Deal:
    """One card dealt after the first: its number, the day, and why."""

    number: int
    day: str
    why: str


@dataclass(frozen=True)
class TryLedger:
    """The ledger of the cohort in ``folder``."""

    folder: Path

    def _path(self, apprentice: str, lesson: str) -> Path:
        return self.folder / FOLDER / apprentice / f"{lesson}.json"

    def deals(self, apprentice: str, lesson: str) -> list[Deal]:
        """Return the cards dealt after the first, in order."""
        try:
            rows = json.loads(self._path(apprentice, lesson).read_text(encoding="utf-8"))
            return [Deal(int(row["number"]), str(row["day"]), str(row["why"])) for row in rows]
        except (OSError, ValueError, KeyError, TypeError):
            return []

    def current(self, apprentice: str, lesson: str) -> int:
        """Return the number of the card that counts now."""
        return max((deal.number for deal in self.deals(apprentice, lesson)), default=1)

    def deal(self, apprentice: str, lesson: str, why: str, day: date | None = None) -> int:
        """Deal another card and return its number; after ``MOST_TRIES`` the last one stays."""
        before = self.deals(apprentice, lesson)
        number = self.current(apprentice, lesson) + 1
        if number > MOST_TRIES:
            return MOST_TRIES
        today = day or date.today()  # noqa: DTZ011 - the day on the instructor's own clock
        rows = [asdict(one) for one in (*before, Deal(number, today.isoformat(), why))]
        write_whole(self._path(apprentice, lesson), (json.dumps(rows, indent=1) + "\n").encode("utf-8"))
        return number

    def kept(self, apprentice: str, lesson: str, number: int, suffix: str) -> Path:
        """Return where the marked notebook (``.ipynb``) or the page (``.html``) of one try is kept."""
        return self.folder / FOLDER / apprentice / lesson / f"try-{number}{suffix}"

    def keep(self, apprentice: str, lesson: str, number: int, *files: Path) -> None:
        """Keep copies of the marked notebook and the page of one try."""
        for file in files:
            if file.is_file():
                place = self.kept(apprentice, lesson, number, file.suffix)
                place.parent.mkdir(parents=True, exist_ok=True)
                place.unlink(missing_ok=True)
                shutil.copyfile(file, place)


def try_in(resources: Resources) -> int:
    """Return the try of the notebook that nbgrader has in hand, from the cohort's own records; 1 without any.

    A hand-in that was marked before keeps its try; a new one is of the card dealt last.
    """
    if TRY in resources:
        return int(resources[TRY])
    place = resources.get("metadata", {}).get("path")
    about = resources["nbgrader"]
    who, lesson = about["student"], about["assignment"]
    if not place or len(Path(place).resolve().parents) < 3:
        return 1
    folder = Path(place).resolve().parents[2]
    try:
        came = hashlib.sha256((folder / "submitted" / who / lesson / f"{lesson}.ipynb").read_bytes()).hexdigest()
        line = json.loads((folder / CACHE / lesson / f"{who}.json").read_text(encoding="utf-8"))
        if line["handed_in"] == came:
            return int(line.get("try_number", 1))
    except (OSError, ValueError, KeyError, TypeError):
        pass
    return TryLedger(folder).current(who, lesson)
