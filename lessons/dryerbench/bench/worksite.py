"""The worksite: a machine, a meter and a pair of hands as they stand, and what each act may change of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Unpack

from dryerbench.bench import probing, trail
from dryerbench.bench.faults import Fault, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import Meter, Reading
from dryerbench.bench.situation import Situation, settle
from dryerbench.bench.states import State, StateChange
from dryerbench.bench.trail import Act, Finding


class Worksite:
    """What a job is done on; ``trail`` holds every act so far as data for JSON."""

    def __init__(self, machine: Machine | None = None, faults: Iterable[Fault | str] = ()) -> None:
        self.machine = machine or Machine()
        self.faults = tuple(read_fault(fault) if isinstance(fault, str) else fault for fault in faults)
        self.faults_found = self.faults
        self.meter = Meter()
        self.trail: list[Act] = []
        self.cover_off = self.locked = self.gear = self.nulled = False
        self.fuse = True
        self.mode = "volts"
        self.full_scale: float | None = None
        self.asked = State()
        self._now, _ = settle(self.machine, self.faults, self.asked)

    # --- what can be seen -------------------------------------------------------------------------------------

    @property
    def situation(self) -> Situation:
        """The machine as it now is, settled."""
        return self._now

    @property
    def state(self) -> State:
        """The state of plug, breaker, switches and heat."""
        return self._now.state

    @property
    def powered(self) -> bool:
        """Whether the supply reaches the machine."""
        return self.state.plugged and self.state.breaker_on

    @property
    def isolated(self) -> bool:
        """Whether nobody else can power the machine: plug out, or breaker open and locked."""
        return not self.state.plugged or (not self.state.breaker_on and self.locked)

    @property
    def minutes(self) -> float:
        """The minutes that the job has taken."""
        return trail.minutes(self.trail)

    @property
    def findings(self) -> list[Finding]:
        """The safety findings so far."""
        return trail.findings(self.trail)

    # --- for the acts -----------------------------------------------------------------------------------------

    def settle(self, record: Act, **changes: Unpack[StateChange]) -> None:
        """Change the state, let the machine settle and note in the record what happened by itself."""
        self._now, happened = settle(self.machine, self.faults, replace(self.state, **changes))
        self.asked = replace(self.asked, **changes)
        if changes.get("start_pressed"):
            self.asked = replace(self.asked, running=True)
        if self._now.warmth.limit_celsius >= self.machine.cutoff_blows and not self.state.cutoff_blown:
            self.settle(record, cutoff_blown=True)
            record["happened"].append("the thermal cut-off blows")
        record["happened"] += happened

    def hands(self, record: Act) -> None:
        """Note whether hands are at live parts, or at parts that someone else could make live."""
        record["facts"] |= {"hands_on_live": self.powered, "isolated": self.isolated}

    def note_reading(self, record: Act, reading: Reading) -> None:
        """Put a reading in the record, with the state that was asked for: a motor that will not run is evidence."""
        record["asked"] = self.asked.as_data()
        record["reading"] = reading.as_data()
        record["facts"]["nulled"] = self.nulled

    def note_power(self, record: Act, before: Situation | None = None) -> None:
        """Note what power meets: the cover, loose wires, the case; ``before`` is the machine before a trip."""
        seen = before or self._now
        record["facts"] |= {
            "powered": seen.state.plugged and seen.state.breaker_on,
            "cover_off": self.cover_off,
            "gear": self.gear,
            "loose": bool(seen.state.pulled),
            "case_fed": probing.case_is_fed(seen),
        }

    def switch(self, record: Act, **changes: Unpack[StateChange]) -> None:
        """Change the state and note what power then did, before any breaker tripped."""
        first = Situation(self.machine, self.faults, replace(self.state, **changes))
        self.settle(record, **changes)
        fed = probing.case_is_fed(first) or probing.case_is_fed(self._now)
        self.note_power(record, first)
        record["facts"]["case_fed"] = fed
