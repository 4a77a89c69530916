"""The bench: a machine, a meter and a pair of hands, act by act; every act is logged as plain data."""

from __future__ import annotations

import time
from collections.abc import Iterable, Mapping, Sequence

from dryerbench.bench import probing
from dryerbench.bench.acts import ACTS, DETAILS, TOUCHING
from dryerbench.bench.faults import Fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.reading import Reading
from dryerbench.bench.shop_names import bench_names
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError, Worksite, situation_on
from dryerbench.core.tables import table


class Bench(Worksite):
    """One job at one machine, act by act."""

    def do(self, act: str, **given: object) -> Act:
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
        given = bench_names(given)
        record: Act = {"act": act, "with": given, "minutes": _minutes(act), "happened": [], "facts": {}}
        shocks = act in TOUCHING and not self.gear and probing.case_shocks(situation_on(self))
        try:
            ACTS[act](self, record, **given)
        except TypeError:
            raise BenchError(f"The act {act} needs: {', '.join(known)}.") from None
        self.follow_heat(record)
        if shocks:
            record["facts"]["case_live"] = True
            record["happened"].append("the cabinet gives a shock")
        record["scene"] = self.scene
        self.trail.append(record)
        self.clock.append(time.monotonic())
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

    def temperature(self, spot: str, unit: str = "°F") -> Reading:
        """Read degrees at ``exhaust``, ``limit`` or ``room``; its number is in °C, what it shows in ``unit``."""
        return _reading(self.do("temperature", spot=spot, unit=unit))


def _minutes(act: str) -> float:
    return float(table("bench-acts").row(act=act).number("minutes"))


def _reading(record: Act) -> Reading:
    return Reading.from_data(record["reading"])


def replay(machine: Machine, acts: Sequence[Mapping[str, object]], faults: Iterable[Fault | str] = ()) -> Bench:
    """Do the acts of a trail again on ``machine`` and return the bench; what the trail says it read is not believed.

    Raises
    ------
    BenchError
        For data that is no trail, or an act that was not possible.
    """
    bench = Bench(machine, faults)
    for place, act in enumerate(acts, start=1):
        given = act.get("with", {}) if isinstance(act, Mapping) else None
        name = act.get("act") if isinstance(act, Mapping) else None
        if not isinstance(given, Mapping) or not isinstance(name, str):
            raise BenchError(f"Act {place} of this trail is damaged: it has no name or no details.")
        bench.do(name, **{str(key): value for key, value in given.items()})
    return bench
