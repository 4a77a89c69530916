"""Hand-ins that were not graded: for each a small file that says why and what to do, until it is graded.

They are in the cohort's folder ``.not-graded``, one file for an apprentice and a lesson. A file speaks of the hand-in
whose digest it holds, and of none that came later.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from pathlib import Path

from legtoleg.core.files import write_whole

FOLDER = ".not-graded"
ASK_AGAIN = "ask for the lesson again, and take it in with legtoleg collect"
"""What to do about a file that cannot be read."""


@dataclass(frozen=True)
class Refusal:
    """Why one hand-in was not graded: the digest of what came, and the reason with what to do, as one sentence."""

    handed_in: str
    why: str


@dataclass(frozen=True)
class Refusals:
    """What is noted in the cohort in ``folder`` of hand-ins that were not graded."""

    folder: Path

    def _path(self, apprentice: str, lesson: str) -> Path:
        return self.folder / FOLDER / lesson / f"{apprentice}.json"

    def note(self, apprentice: str, lesson: str, handed_in: str, why: str) -> None:
        """Note why a hand-in with the digest ``handed_in`` was not graded."""
        text = json.dumps(asdict(Refusal(handed_in, why)), ensure_ascii=False, indent=1) + "\n"
        write_whole(self._path(apprentice, lesson), text.encode("utf-8", "replace"))

    def clear(self, apprentice: str, lesson: str) -> None:
        """Take out what is noted of somebody's lesson: it is graded now."""
        self._path(apprentice, lesson).unlink(missing_ok=True)

    def why(self, apprentice: str, lesson: str, handed_in: str) -> str:
        """Return why the hand-in with the digest ``handed_in`` was not graded; empty if nothing is noted of it."""
        try:
            found = Refusal(**json.loads(self._path(apprentice, lesson).read_text(encoding="utf-8")))
        except (OSError, ValueError, TypeError):
            return ""
        return str(found.why) if found.handed_in == handed_in else ""
