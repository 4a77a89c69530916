"""What leaves a sealed bench: what a technician beside the machine would see, hear and read, and nothing else."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from dryerbench.bench.bench import Bench
from dryerbench.bench.states import ROOM
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import machine_on
from dryerbench.notebook.machine_desk import MachineDesk
from dryerbench.notebook.machine_names import MachineNames, NoSuchPlaceError, own_machine_of
from dryerbench.notebook.machine_scene import Look, Shown

SILENT = frozenset({"the thermal cut-off blows"})
"""What happens without a sound or a sight; a reading tells."""

SEEN = (
    *("plugged", "breaker_on", "locked", "gear", "door_closed", "heat", "running", "covers_off", "nulled", "fuse"),
    *("dial", "places", "reach", "tips", "tip_words", "put", "wires", "reading", "trail"),
)
"""What leaves of all that the panel of a lesson shows in words."""


class SealedNames(MachineNames):
    """The names of a machine under test: on one not seen before there are places alone, for code as for the page."""

    def of_act(self, act: Act) -> Act:
        """Return a record with every place as the page calls it, and nothing in it that nobody hears or sees."""
        found = super().of_act({**act, "happened": [words for words in act["happened"] if words not in SILENT]})
        if "readings" in act:
            found["readings"] = [self.of_reading(one) for one in act["readings"]]
        return found

    def point(self, said: object) -> str:
        """Return the bench's point that is meant; the words of a record mean what they meant there.

        Raises
        ------
        NoSuchPlaceError
            If there is none.
        """
        try:
            return super().point(said)
        except NoSuchPlaceError:
            for spot, point in self.point_at.items():
                if said == self.at_spot(spot):
                    return point
            raise


def sealed_names(bench: Bench) -> SealedNames:
    """Return the names of the machine on ``bench``: the lessons' own dryer has them, and no other."""
    return SealedNames(bench, own_machine_of(bench), named=machine_on(bench).stands is None)


class SealedDesk(MachineDesk):
    """The desk of a machine under test: ``before`` passes while an act may be done, ``done`` is the one that was."""

    def __init__(self, names: SealedNames, look: Look | None = None, before: Callable[[], None] = lambda: None) -> None:
        super().__init__(names, look=look)
        self.done: Act | None = None
        self._before = before

    def check_length(self) -> None:
        """Pass: ``before`` looks at every act."""

    def on_bench(self, act: str, given: Mapping[str, object]) -> Act:
        """Do one act, if it may be done now, and return its record."""
        self._before()
        self.done = self.bench.do(act, **given)
        return self.done

    def by_code(self, act: str, given: Mapping[str, object]) -> str:
        """Do one act as a cell asks for it: in the bench's own words where the page has them too."""
        self.on_bench(act, given if self.names.named else self.meant(act, given))
        return ""

    def shown(self) -> Shown:
        """Return what a page shows: no safety finding, which is judged when the test is marked, and no inner heat."""
        found = super().shown()
        held = _held(self.bench.trail)
        found["view"] = {
            **{key: found["view"][key] for key in SEEN},
            "findings": None,
            "fahrenheit": None if held is None else round(held * 1.8 + 32.0),
            "minutes": round(self.bench.minutes, 6),
        }
        return found

    def stands(self) -> dict[str, object]:
        """Return how far the job is and how the meter is set."""
        bench = self.bench
        return {"minutes": round(bench.minutes, 6), "mode": bench.mode, "full_scale": bench.full_scale}

    def look_data(self) -> dict[str, object]:
        """Return where one looks, where the tips are, and what the display holds, as plain data."""
        look = self.look
        put = {"jaw": look.jaw, "bead": look.bead, "airflow": look.airflow}
        return {"at": look.at, "tips": dict(look.tips), "dial": look.dial, "held": look.held, **put}

    def record(self) -> dict[str, object] | None:
        """Return the act that was done as the page may have it; None if none was."""
        return None if self.done is None else sealed_act(self.names.of_act(self.done))


def sealed_act(act: Act) -> dict[str, object]:
    """Return one act as the page may have it: what was done, its minutes, what was noticed, what was read.

    What the safety rules noted, the scene and the state asked for stay here: they follow from the fault.
    """
    seen: dict[str, object] = {
        "act": act["act"],
        "with": act["with"],
        "minutes": act["minutes"],
        "happened": act["happened"],
        "facts": {},
    }
    if "reading" in act:
        seen["reading"] = act["reading"]
    if "readings" in act:
        seen["readings"] = act["readings"]
    if "gauge" in act:
        seen["gauge"] = act["gauge"]
    return seen


def _held(trail: Sequence[Act]) -> float | None:
    """Return at how many °C the apprentice holds or left the parts; None once the machine was powered."""
    for act in reversed(trail):
        if act["act"] == "warm_parts":
            celsius = act["with"].get("celsius")
            return float(celsius) if isinstance(celsius, int | float) else None
        if act["act"] == "cool_down":
            return ROOM
        if act.get("scene", {}).get("energized", True):
            return None
    return ROOM
