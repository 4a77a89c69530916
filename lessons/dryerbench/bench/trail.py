"""The trail of a job: every act with its minutes as plain data, and what a safety finding is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NotRequired, TypedDict

from dryerbench.bench.reading import ReadingData
from dryerbench.bench.scene import Scene
from dryerbench.bench.states import StateData
from dryerbench.core.tables import table

VERSION = 2
"""Of the trail. 1 drew each reading's error anew; 2 has one meter's own gain and offset, and judges every state."""

Act = TypedDict(
    "Act",
    {
        "act": str,
        "with": dict[str, object],
        "minutes": float,
        "happened": list[str],
        "facts": dict[str, bool],
        "scene": NotRequired[Scene],
        "asked": NotRequired[StateData],
        "reading": NotRequired[ReadingData],
        "readings": NotRequired[list[ReadingData]],
        "gauge": NotRequired[ReadingData],
    },
)
"""One act: its name, what it was given, its minutes, what happened and was noted, the scene it left, the state asked
for, what the meter read and what any other instrument showed.

What it was given is checked by the act itself: it may come from a page or from a hand-in.
"""


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding: the act's place in the trail, what was done, the caution, and whether it keeps from sign-off.

    ``origin`` says where the rule is from, and how it is known; ``since`` from which version of the trail on it counts:
    an older trail was made on a bench that did not say it.
    """

    name: str
    place: int
    what: str
    caution: str
    gate: bool
    origin: str = ""
    since: int = 1

    def __str__(self) -> str:
        return f"{self.what} {self.caution}"

    def as_data(self) -> dict[str, str | int | bool]:
        """Return the finding as plain data for JSON."""
        return {
            "name": self.name,
            "place": self.place,
            "what": self.what,
            "caution": self.caution,
            "gate": self.gate,
            "origin": self.origin,
        }


def finding(name: str, place: int) -> Finding:
    """Return the finding ``name`` of the table ``bench-findings`` for the act at ``place``.

    Raises
    ------
    TableError
        For a name that the table does not have.
    """
    row = table("bench-findings").row(finding=name)
    said = (row.text("what"), row.text("caution"), row["gate"] == "yes", row.text("origin"), row.whole("since"))
    return Finding(name, place, *said)


def minutes(acts: Iterable[Act]) -> float:
    """Return the minutes that all ``acts`` took together."""
    return float(sum(act["minutes"] for act in acts))
