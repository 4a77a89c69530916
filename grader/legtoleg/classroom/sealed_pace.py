"""The pace of a supervised test: acts take their minutes' share of real time, so that nobody asks in bulk."""

from __future__ import annotations

from dataclasses import dataclass

SECONDS_A_MINUTE = 3.0
"""Real seconds for a minute on the bench: a job of 50 minutes takes two and a half at least."""
MOST = 5.0
"""Minutes on the bench that can be done at once after a pause."""
REFUSED = 0.2
"""Minutes that something which cannot be done costs: nobody tries a thousand."""


@dataclass(frozen=True)
class Pace:
    """What one person has left at ``at`` (s): minutes on the bench, below 0 after a long act."""

    at: float
    balance: float = MOST

    def wait(self, now: float) -> float:
        """Return the real seconds until the next act is taken; 0 if it is taken now."""
        return max(0.0, -self._now(now) * SECONDS_A_MINUTE)

    def spent(self, now: float, minutes: float) -> Pace:
        """Return what is left after ``minutes`` on the bench at ``now``."""
        return Pace(max(now, self.at), self._now(now) - minutes)

    def _now(self, now: float) -> float:
        return min(MOST, self.balance + max(0.0, now - self.at) / SECONDS_A_MINUTE)


def wait_words(seconds: float) -> str:
    """Return what is said to somebody who is too fast."""
    whole = max(1, round(seconds + 0.5))
    return (
        f"Too fast: on a dryer each step takes its time, and so it does here. The bench takes your next step in "
        f"{whole} second{'s' * (whole != 1)}. Nothing was done."
    )
