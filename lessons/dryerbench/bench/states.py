"""States of the machine: what is plugged, switched, running and warm, and which contacts are closed from that."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TypedDict

from dryerbench.core.errors import LegToLegError
from dryerbench.core.tables import Row, table
from dryerbench.family.kinds import HEATS

ROOM = 25.0
_OTHER_DIALS = ("mid", "air", "off")
_GLOWS = 200.0  # °C
_HEATING_MINUTES = 10.0  # a named state that heats has done so for as long as one act lets it run


class StateError(LegToLegError, LookupError):
    """A state that this bench does not know; the text lists those it does."""


class _Switched(TypedDict, total=False):
    plugged: bool
    breaker_on: bool
    door_closed: bool
    start_pressed: bool
    running: bool
    calling: bool
    low_heat: bool
    exhaust_celsius: float
    limit_celsius: float
    element_celsius: float
    cutoff_blown: bool
    ran: float
    dial: str
    stirred: bool


class StateChange(_Switched, total=False):
    """Fields of a state that an act changes."""

    pulled: frozenset[str]
    tripped: frozenset[str]


class StateData(_Switched):
    """A state as plain data for JSON."""

    pulled: list[str]
    tripped: list[str]


def heat_asked(heat: str) -> StateChange:
    """Return the change of state when the control is set to ``heat``: high, mid, low, none, air or off."""
    dial = heat if heat in _OTHER_DIALS else ""
    return {"calling": heat in HEATS, "low_heat": heat == "low", "dial": dial}


@dataclass(frozen=True, slots=True)
class State:
    """What a person has done to the machine, how warm it is (°C), and which switches the heat holds open.

    ``ran`` is for a state that was asked for: the minutes that the machine was asked to run with heat. ``dial`` is
    where the control stands if ``calling`` and ``low_heat`` do not say it: ``mid``, ``air`` or ``off``. ``stirred``:
    somebody moves the joints, for as long as one reading takes.
    """

    plugged: bool = True
    breaker_on: bool = True
    door_closed: bool = True
    start_pressed: bool = False
    running: bool = False
    calling: bool = False
    low_heat: bool = False
    exhaust_celsius: float = ROOM
    limit_celsius: float = ROOM
    element_celsius: float = ROOM
    cutoff_blown: bool = False
    pulled: frozenset[str] = frozenset()
    tripped: frozenset[str] = frozenset()
    ran: float = 0.0
    dial: str = ""
    stirred: bool = False

    @property
    def tag(self) -> str:
        """What tells this state from another, as text that is the same on every computer."""
        flags = {
            "plugged": self.plugged,
            "breaker": self.breaker_on,
            "door": self.door_closed,
            "start": self.start_pressed,
            "running": self.running,
            "calling": self.calling,
            "low": self.low_heat,
            "blown": self.cutoff_blown,
            "stirred": self.stirred,
        }
        warm = f"{self.exhaust_celsius:g} {self.limit_celsius:g} {self.element_celsius:g}"
        words = {"tripped": " ".join(sorted(self.tripped)), "dial": self.dial}
        more = [f"{what} {said}" for what, said in words.items() if said]
        on = " ".join(name for name, on in flags.items() if on)
        return "/".join((on, warm, " ".join(sorted(self.pulled)), *more))

    def as_data(self) -> StateData:
        """Return the state as plain data for JSON; ``dial`` is there only if it says something."""
        data = self._as_data()
        return data | {"dial": self.dial} if self.dial else data

    def _as_data(self) -> StateData:
        return {
            "plugged": self.plugged,
            "breaker_on": self.breaker_on,
            "door_closed": self.door_closed,
            "start_pressed": self.start_pressed,
            "running": self.running,
            "calling": self.calling,
            "low_heat": self.low_heat,
            "exhaust_celsius": self.exhaust_celsius,
            "limit_celsius": self.limit_celsius,
            "element_celsius": self.element_celsius,
            "cutoff_blown": self.cutoff_blown,
            "pulled": sorted(self.pulled),
            "tripped": sorted(self.tripped),
            "ran": self.ran,
        }

    @staticmethod
    def from_data(data: StateData) -> State:
        """Return the state that became ``data``."""
        return State(
            data["plugged"],
            data["breaker_on"],
            data["door_closed"],
            data["start_pressed"],
            data["running"],
            data["calling"],
            data["low_heat"],
            data["exhaust_celsius"],
            data["limit_celsius"],
            data["element_celsius"],
            data["cutoff_blown"],
            frozenset(data["pulled"]),
            frozenset(data["tripped"]),
            data["ran"],
            data.get("dial", ""),
        )


def _cell(row: Row, key: str) -> bool:
    return row[key] == "yes"


def state_names() -> tuple[str, ...]:
    """Return the names of the states in the table ``bench-states``."""
    return tuple(table("bench-states").texts("state"))


@cache
def named_state(name: str) -> State:
    """Return the state ``name`` of the table ``bench-states``.

    Raises
    ------
    StateError
        For a name that the table does not have.
    """
    names = state_names()
    if name not in names:
        raise StateError(f"There is no state '{name}'. The states are: {', '.join(names)}.")
    row = table("bench-states").row(state=name)
    pulled = str(row["pulled"] or "")
    heating = _cell(row, "running") and _cell(row, "calling") and row.number("element_celsius") > _GLOWS
    return State(
        plugged=_cell(row, "plugged"),
        breaker_on=_cell(row, "breaker_on"),
        door_closed=_cell(row, "door_closed"),
        start_pressed=_cell(row, "start_pressed"),
        running=_cell(row, "running"),
        calling=_cell(row, "calling"),
        low_heat=_cell(row, "low_heat"),
        exhaust_celsius=row.number("exhaust_celsius"),
        limit_celsius=row.number("limit_celsius"),
        element_celsius=row.number("element_celsius"),
        pulled=frozenset(name for name in pulled.split(";") if name),
        ran=_HEATING_MINUTES if heating else 0.0,
    )
