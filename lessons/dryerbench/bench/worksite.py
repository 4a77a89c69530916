"""The worksite: a machine, a meter and a pair of hands as they stand, and what each act may change of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Unpack

from dryerbench.air.warm_machine import Heat
from dryerbench.bench import probing, safety, trail
from dryerbench.bench.access import covers_before
from dryerbench.bench.faults import Fault, catalogue, read_fault
from dryerbench.bench.heat import air_in_words, asked_after, blown_by_hand, cold_heat, let_cool, pass_minutes, words
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import Meter
from dryerbench.bench.reading import Reading
from dryerbench.bench.scene import Scene, isolated
from dryerbench.bench.situation import Situation, settle, situated
from dryerbench.bench.states import State, StateChange
from dryerbench.bench.trail import Act, Finding
from dryerbench.core.errors import LegToLegError
from dryerbench.core.sealed import Sealed, unsealed


class BenchError(LegToLegError, ValueError):
    """An act that cannot be done as things stand; the text says what is in the way."""


@dataclass
class OnSite:
    """What is behind the covers: the machine, what is and was wrong with it, and both settled as they now are."""

    machine: Machine
    faults: tuple[Fault, ...]
    now: Situation
    faults_found: tuple[Fault, ...]
    heat: Heat
    held: bool = False
    """Whether heat switches and sensor are held at a temperature by hand."""


BURNS = 60.0
"""°C of bare metal that burns a hand at a short touch (about; from memory of ISO 13732-1)."""


class Worksite:
    """What a job is done on; ``trail`` holds every act so far as data for JSON, ``sealed`` what nobody can see."""

    def __init__(self, machine: Machine | None = None, faults: Iterable[Fault | str] = ()) -> None:
        stands = machine or Machine()
        there = tuple(read_fault(fault, stands) if isinstance(fault, str) else fault for fault in faults)
        self.meter = Meter()
        self.rating = self.meter.category
        self.trail: list[Act] = []
        self.clock: list[float] = []
        """When each act of the trail was done, in s; on this computer alone, and no part of the trail."""
        self.covers_off: set[str] = set()
        self.locked = self.gear = self.nulled = False
        self.capped = self.glasses = self.charged = self.splitter = self.told = False
        self.resets: list[str] = []
        """The parts whose buttons were pushed back in after they had tripped, in order."""
        self.tags: dict[str, str] = {}
        """What a tag says on which wire."""
        self.fuse = True
        self.mode = "volts"
        self.full_scale: float | None = None
        self.asked = State() if stands.stands is None else State(dial="off")
        now, _ = settle(stands, there, self.asked)
        self.sealed = Sealed(OnSite(stands, there, now, there, cold_heat(stands, there)))

    # --- what can be seen -------------------------------------------------------------------------------------

    @property
    def state(self) -> State:
        """The state of plug, breaker, switches and heat."""
        return unsealed(self.sealed).now.state

    @property
    def cover_off(self) -> bool:
        """Whether a cover is off: something inside is bare."""
        return bool(self.covers_off)

    def bared(self, name: str) -> bool:
        """Return whether the cover before a point, part or wire is off; before what no cover is named for, any."""
        there = covers_before(unsealed(self.sealed).machine, name)
        return any(covers & self.covers_off for covers in there) if there else self.cover_off

    @property
    def powered(self) -> bool:
        """Whether the supply reaches the machine."""
        return self.state.plugged and self.state.breaker_on

    @property
    def isolated(self) -> bool:
        """Whether nobody else can power the machine: plug out, or breaker open and locked."""
        return isolated(self.scene)

    @property
    def minutes(self) -> float:
        """The minutes that the job has taken."""
        return trail.minutes(self.trail)

    @property
    def findings(self) -> list[Finding]:
        """The safety findings so far."""
        return safety.findings(self.trail)

    @property
    def safe_to_power(self) -> bool:
        """Whether the readings made show that the machine may be powered; nothing else counts."""
        return safety.safe_to_power(self.trail)

    @property
    def energized(self) -> bool:
        """Whether volts are on the machine: from the supply, or back into it another way."""
        return self.powered or probing.is_fed_back(unsealed(self.sealed).now)

    @property
    def scene(self) -> Scene:
        """What stands how, as far as safety is judged by it."""
        now = self.state
        return {
            "plugged": now.plugged,
            "breaker_on": now.breaker_on,
            "locked": self.locked,
            "capped": self.capped,
            "energized": self.energized,
            "running": now.running,
            "cover_off": self.cover_off,
            "gloves": self.gear,
            "glasses": self.glasses,
            "loose": bool(now.pulled),
            "charged": self.charged,
            "hot": max(now.exhaust_celsius, now.limit_celsius, now.element_celsius) > BURNS,
            "four_wire": unsealed(self.sealed).machine.cord == "four-wire",
            "told": self.told,
        }

    # --- for the acts -----------------------------------------------------------------------------------------

    def settle(self, record: Act, **changes: Unpack[StateChange]) -> None:
        """Change the state, let the machine settle and note in the record what happened by itself."""
        site = unsealed(self.sealed)
        site.now, happened = settle(site.machine, site.faults, replace(self.state, **changes))
        self.asked = replace(self.asked, **changes)
        if changes.get("start_pressed"):
            self.asked = replace(self.asked, running=True)
        for blown, what in blown_by_hand(site.machine, self.state):
            self.settle(record, **blown)
            record["happened"].append(f"{what} blows")
        record["happened"] += happened

    def follow_heat(self, record: Act) -> None:
        """Let the act's minutes pass over the machine's heat; note what is heard and felt, and what was asked for."""
        site = unsealed(self.sealed)
        before = site.now.state
        if site.held and not self.powered:
            return
        if site.held:
            site.held, site.heat = False, let_cool(site.heat)
        after = pass_minutes(site.machine, site.faults, before, site.heat, record["minutes"])
        site.heat = after.heat
        site.now = situated(site.machine, site.faults, after.state)
        record["happened"] += words(site.machine, after, before)
        if (site.now.state.tripped - before.tripped) & set(self.resets):
            record["happened"].append("it trips again after its reset: what made it trip is still there")
        if record["act"] == "let_run":
            record["happened"].append(air_in_words(site.machine, after))
        self.asked = asked_after(self.asked, after.state, record["minutes"])

    def hands(self, record: Act) -> None:
        """Note that hands are inside, whether at live or hot parts, or at parts that someone else could make live."""
        there = self.scene
        record["facts"] |= {
            "hands": True,
            "hands_on_live": there["energized"],
            "isolated": isolated(there),
            "hot": there["hot"] and record["act"] != "warm_parts",
        }

    def note_reading(self, record: Act, reading: Reading) -> None:
        """Put a reading in the record, with the state that was asked for: a motor that will not run is evidence."""
        record["asked"] = self.asked.as_data()
        record["reading"] = reading.as_data()
        record["facts"] |= {"nulled": self.nulled, "fuse_gone": not self.fuse}

    def note_power(self, record: Act, before: Situation | None = None) -> None:
        """Note what power meets: the cover, loose wires, the case; ``before`` is the machine before a trip."""
        seen = before or unsealed(self.sealed).now
        record["facts"] |= {
            "powered": seen.state.plugged and seen.state.breaker_on,
            "loose": bool(seen.state.pulled),
            "case_fed": probing.case_is_fed(seen),
        }

    def switch(self, record: Act, **changes: Unpack[StateChange]) -> None:
        """Change the state and note what power then did, before any breaker tripped."""
        site = unsealed(self.sealed)
        first = situated(site.machine, site.faults, replace(self.state, **changes))
        self.settle(record, **changes)
        fed = probing.case_is_fed(first) or probing.case_is_fed(site.now)
        self.note_power(record, first)
        record["facts"]["case_fed"] = fed


def machine_on(bench: Worksite) -> Machine:
    """Return the machine that stands on ``bench``."""
    return unsealed(bench.sealed).machine


def faults_on(bench: Worksite) -> tuple[Fault, ...]:
    """Return what is wrong with the machine on ``bench``, as it now is."""
    return unsealed(bench.sealed).faults


def faults_found_on(bench: Worksite) -> tuple[Fault, ...]:
    """Return what was wrong with the machine on ``bench`` before anything was done."""
    return unsealed(bench.sealed).faults_found


def situation_on(bench: Worksite) -> Situation:
    """Return the machine on ``bench`` with its faults as it now is, settled."""
    return unsealed(bench.sealed).now


def heat_on(bench: Worksite) -> Heat:
    """Return how warm the machine on ``bench`` is, place by place."""
    return unsealed(bench.sealed).heat


def hold_heat(bench: Worksite, *, held: bool) -> None:
    """Hold the heat switches and the sensor by hand, or let everything on ``bench`` cool to the room."""
    site = unsealed(bench.sealed)
    site.held = held
    if not held:
        site.heat = let_cool(site.heat)


def put_right(bench: Worksite, faults: Iterable[Fault]) -> None:
    """Take ``faults`` out of the machine on ``bench``, without a new part; it settles with the next act."""
    site, gone = unsealed(bench.sealed), set(faults)
    site.faults = tuple(fault for fault in site.faults if fault not in gone)


def mend(bench: Worksite, part: str) -> None:
    """Take every fault of ``part`` out of the machine on ``bench``; it settles with the next act."""
    site = unsealed(bench.sealed)
    site.faults = tuple(fault for fault in site.faults if catalogue(fault.name)["part"] != part)
