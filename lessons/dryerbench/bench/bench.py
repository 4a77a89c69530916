"""The bench: a machine, a meter and a pair of hands, act by act; every act is logged as plain data."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, replace
from typing import Any

from dryerbench.bench import probing, trail
from dryerbench.bench.acts import ACTS, DETAILS, BenchError
from dryerbench.bench.faults import Fault, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import Meter, Reading
from dryerbench.bench.situation import Situation, settle
from dryerbench.bench.states import State
from dryerbench.bench.trail import Act, Finding
from dryerbench.core.tables import table


class Bench:
    """One job at one machine. Every method is an act; ``trail`` holds them all as data for JSON."""

    def __init__(self, machine: Machine | None = None, faults: Iterable[Fault | str] = ()) -> None:
        self.machine = machine or Machine()
        self.faults = tuple(read_fault(fault) if isinstance(fault, str) else fault for fault in faults)
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

    # --- acts -------------------------------------------------------------------------------------------------

    def do(self, act: str, **given: Any) -> Act:
        """Do one act by its name and return its record.

        Raises
        ------
        BenchError
            For an act that does not exist, wrong details, or one that is not possible as things stand.
        """
        if act not in ACTS:
            raise BenchError(f"There is no act '{act}'. The acts are: {', '.join(ACTS)}.")
        known = DETAILS.get(act, ())
        strange = sorted(set(given) - set(known))
        if strange:
            raise BenchError(f"The act {act} does not know '{strange[0]}'; it takes: {', '.join(known) or 'nothing'}.")
        record: Act = {"act": act, "with": given, "minutes": _minutes(act), "happened": [], "facts": {}}
        try:
            ACTS[act](self, record, **given)
        except TypeError:
            raise BenchError(f"The act {act} needs: {', '.join(known)}.") from None
        self.trail.append(record)
        return record

    def volts(self, a: str, b: str) -> Reading:
        """Read ac volts between two points with the 10 MΩ setting."""
        return self.measure("volts", a, b)

    def low_impedance(self, a: str, b: str) -> Reading:
        """Read ac volts between two points with the low-impedance setting."""
        return self.measure("low-impedance", a, b)

    def ohms(self, a: str, b: str) -> Reading:
        """Read ohms between two points."""
        return self.measure("ohms", a, b)

    def continuity(self, a: str, b: str) -> Reading:
        """Listen for the beeper between two points."""
        return self.measure("continuity", a, b)

    def insulation(self, a: str, b: str) -> Reading:
        """Test the insulation between two points at 500 V dc."""
        return self.measure("insulation", a, b)

    def measure(self, mode: str, a: str, b: str, full_scale: float | None = None) -> Reading:
        """Set the dial if it stands elsewhere, put the probes on two points and read.

        Raises
        ------
        BenchError
            If a point cannot be reached, or the meter's fuse is gone.
        MeterError
            For a mode or a range that the meter does not have.
        """
        if (mode, full_scale) != (self.mode, self.full_scale):
            self.do("set_dial", mode=mode, full_scale=full_scale)
        return _reading(self.do("probe", a=a, b=b))

    def clamp(self, conductor: str) -> Reading:
        """Read amps with the jaw round one conductor, or round the whole ``cord``."""
        return _reading(self.do("clamp", conductor=conductor))

    def temperature(self, spot: str) -> Reading:
        """Read degrees at ``exhaust``, ``limit`` or ``room``."""
        return _reading(self.do("temperature", spot=spot))

    # --- for the acts -----------------------------------------------------------------------------------------

    def settle(self, record: Act, **changes: Any) -> None:
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
        asked = asdict(self.asked)
        record["asked"] = asked | {"pulled": sorted(asked["pulled"])}
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

    def switch(self, record: Act, **changes: Any) -> None:
        """Change the state and note what power then did, before any breaker tripped."""
        first = Situation(self.machine, self.faults, replace(self.state, **changes))
        self.settle(record, **changes)
        fed = probing.case_is_fed(first) or probing.case_is_fed(self._now)
        self.note_power(record, first)
        record["facts"]["case_fed"] = fed


def _minutes(act: str) -> float:
    return float(table("bench-acts").row(act=act)["minutes"])


def _reading(record: Act) -> Reading:
    data = dict(record["reading"])
    data["places"] = tuple(data["places"])
    data["high"] = float("inf") if data["high"] is None else data["high"]
    return Reading(**data)


def replay(machine: Machine, acts: Sequence[Mapping[str, Any]], faults: Iterable[Fault | str] = ()) -> Bench:
    """Do the acts of a trail again on ``machine`` and return the bench; what the trail says it read is not believed.

    Raises
    ------
    BenchError
        For data that is no trail, or an act that was not possible.
    """
    bench = Bench(machine, faults)
    for place, act in enumerate(acts, start=1):
        given = act.get("with", {}) if isinstance(act, Mapping) else None
        if not isinstance(given, Mapping) or not isinstance(act.get("act"), str):
            raise BenchError(f"Act {place} of this trail is damaged: it has no name or no details.")
        bench.do(act["act"], **{str(key): value for key, value in given.items()})
    return bench
