"""The desk of a bench that is elsewhere: it sends each press of the panel to the class, and shows what comes back."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, field
from typing import cast

from dryerbench.core.errors import LegToLegError
from dryerbench.notebook.machine_desk import asked
from dryerbench.notebook.machine_scene import Shown
from dryerbench.notebook.sealed_bench import Pressed, SealedBench, SealedBenchError

_SEE = "see"
"""The press that does nothing: the page wants to see how the bench stands."""


def _first_look() -> dict[str, object]:
    put = {"jaw": "", "bead": "", "airflow": False}
    return {"at": "front", "tips": {"A": None, "B": None}, "dial": "", "held": None, **put}


@dataclass
class FarDesk:
    """The desk of ``bench``; what it shows is what the class said last, and where this page looks is kept here."""

    bench: SealedBench
    trouble: str = ""
    """Stays empty: the class keeps every act before it says that it was done."""
    _look: dict[str, object] = field(default_factory=_first_look)
    _shown: Shown | None = None
    _shown_at: int = -1

    @property
    def acts(self) -> int:
        """How many acts the job has by now, as far as this page knows."""
        return len(self.bench.trail)

    def menu(self) -> dict[str, object]:
        """Return what the panel offers."""
        return self.bench.menu

    def ask(self, content: object) -> str:
        """Send a press and return what is said of it.

        Raises
        ------
        LegToLegError
            If it was not done; the text is the class's own.
        """
        act, given = asked(content)
        try:
            return self._press(act, given)
        except SealedBenchError as error:
            if "view" in error.answer:  # refused, but a tip was put somewhere
                self._take(cast("Pressed", error.answer))
            raise

    def shown(self) -> Shown:
        """Return what the page shows; asked for anew where code did an act, or another page.

        Raises
        ------
        SealedBenchError
            If the class says nothing and nothing was shown before.
        """
        if self._shown is None:
            self._press(_SEE, {})
        elif self._shown_at != self.acts:
            with suppress(LegToLegError):
                self._press(_SEE, {})
        assert self._shown is not None
        return self._shown

    def _press(self, act: str, given: dict[str, object]) -> str:
        said = self.bench.press(act, given, self._look)
        self._take(said)
        return said["said"]

    def _take(self, said: Pressed) -> None:
        self._look, self._shown_at = said["look"], self.acts
        self._shown = {"drawing": said["drawing"], "faces": said["faces"], "view": said["view"]}
