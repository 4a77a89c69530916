"""Work on the bench in numbers: the minutes it took, the advised path beside it, and how far its readings decide."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeGuard

SETTLES, THIN = "settles", "thin"
"""The evidence of a named fault: the readings leave the true one alone, or they leave others possible."""
_MOST_LEFT = 4


@dataclass(frozen=True)
class BenchWork:
    """How one question was worked on the bench.

    ``minutes`` up to the first part replaced, for a fault to name, or in all; ``advised`` the minutes of the course's
    own advice to such a fault, where there is one; ``evidence`` ``settles`` or ``thin`` for a fault, else empty;
    ``left`` what thin readings leave possible, in words, likeliest first.
    """

    minutes: float
    advised: float | None = None
    evidence: str = ""
    left: tuple[str, ...] = ()

    @staticmethod
    def from_data(data: object) -> BenchWork | None:
        """Return the work written as plain data; None if there is none, as in marks made before it was kept."""
        if not isinstance(data, dict) or not _is_number(data.get("minutes")):
            return None
        advised, left = data.get("advised"), data.get("left")
        return BenchWork(
            float(data["minutes"]),
            float(advised) if _is_number(advised) else None,
            str(data.get("evidence", "")),
            tuple(str(one) for one in left) if isinstance(left, list | tuple) else (),
        )

    def words(self, *, right: bool, named: bool = True) -> list[str]:
        """Return it in sentences for the apprentice; ``right``: the fault was named rightly, or nothing was to name.

        What thin readings leave possible is counted, or ``named`` once nothing hangs on it any more.
        """
        said = [f"On the bench: {_minutes(self.minutes)}."]
        if self.advised is not None:
            said.append(_beside(self.minutes, self.advised))
        if self.evidence == SETTLES and not right:
            said.append("Your readings do leave only the true fault. Look at them again.")
        if self.evidence == THIN and self.left and not named:
            count = len(self.left)
            said.append(
                f"Your readings leave {count} fault{'s' * (count != 1)} possible: keep reading until one is left."
            )
        elif self.evidence == THIN and self.left:
            said.append(f"Your readings still fit: {_listed(self.left)}.")
        return said


def _beside(minutes: float, advised: float) -> str:
    """Return how ``minutes`` of work compare with the ``advised`` path."""
    if minutes < advised:
        return f"Our suggested way takes longer, about {_minutes(advised)}."
    return f"Our suggested way takes about {_minutes(advised)}."


def _is_number(value: object) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _minutes(value: float) -> str:
    count = round(value)
    return f"{count} minute" if count == 1 else f"{count} minutes"


def _listed(names: tuple[str, ...]) -> str:
    more = len(names) - _MOST_LEFT
    shown = list(names if more <= 1 else names[:_MOST_LEFT])
    return "; ".join(shown) + (f"; and {more} more" if more > 1 else "")
