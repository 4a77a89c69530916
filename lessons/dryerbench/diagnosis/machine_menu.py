"""What could be read, looked at and listened to on a machine of the family, and the minutes that each takes.

Readings are those that show one of its faults, continuity along the heater's way from either leg, amps, air and warmth.
Never among them: a joint that is moved live, and an insulation test with a board's wires on. ``alone`` means that the
wires at the two points are off, which reads the same as every wire off. Minutes are invented, of the usual size.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from dryerbench.bench.access import cover_minutes
from dryerbench.bench.senses import VENT, place_seen
from dryerbench.family.arrangement import BLOCK, CABINET, Arrangement
from dryerbench.family.fault_readings import shown_by
from dryerbench.family.faults import faults_of
from dryerbench.family.machine import standard
from dryerbench.family.settings import Setting, read_setting
from dryerbench.family.wiring import heater_points, node

RUN_MINUTES = 10.0
"""How long a machine is let run before its warmth is judged [min]."""
_READ = {
    "ohms": 0.7,
    "low-impedance": 0.9,
    "clamp": 1.0,
    "leakage": 2.0,
    "look": 1.0,
    "listen": 0.5,
    "airflow": 6.0,
    "warmth": 12.0,
}
_VENT_MINUTES = 6.0
_DEAD_MINUTES, _POWER_MINUTES, _GEAR_MINUTES, _DIAL_MINUTES = 5.0, 4.0, 2.0, 0.3
_HELD_MINUTES, _WIRE_MINUTES, _DOOR_MINUTES, _STIR_MINUTES = 6.0, 1.0, 0.4, 0.8
_START_MINUTES = 0.5
LIVE_MODES = ("low-impedance", "clamp", "leakage")


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing that could be found out: mode, places, and the state, as ``settings.read_setting`` takes it.

    ``given`` is the state itself where a bench stood in one that has no words.
    """

    mode: str
    places: tuple[str, ...]
    state: str
    given: Setting | None = None

    @property
    def setting(self) -> Setting:
        """The state of the machine for it."""
        return self.given or read_setting(self.state)

    @property
    def powered(self) -> bool:
        """Whether the machine has power for it."""
        return self.setting.powered

    @property
    def live(self) -> bool:
        """Whether it is work on live parts: a qualified person's."""
        return self.mode in LIVE_MODES

    def __str__(self) -> str:
        return f"{self.mode} at {' and '.join(self.places)}, {self.state}"


@cache
def menu(made: Arrangement) -> tuple[Reading, ...]:
    """Return everything that could be found out on a machine of this arrangement, in a textbook's order.

    First what is seen and heard, then the receptacle, the way of the heater part by part, the rest of the parts, the
    path to the cabinet, and at the end what needs the machine to run.
    """
    return tuple(dict.fromkeys((*_senses(made), *_ordered(made), *_running(made))))


def _senses(made: Arrangement) -> Iterator[Reading]:
    machine = standard(made)
    spots = dict.fromkeys(place_seen(machine.arrangement, fault) for fault in faults_of(made))
    yield from (Reading("look", (spot,), "off") for spot in sorted(spots))


def _ordered(made: Arrangement) -> Iterator[Reading]:
    found = [_shown(one.a, one.b, one.state) for fault in faults_of(made) for one in shown_by(standard(made), fault)]
    found = [one for one in found if not (one.powered and (one.setting.stirred or _across_plug(one)))]
    found += [Reading("ohms", (leg, point), made.heats[0]) for leg in ("L1", "L2") for point in heater_points(made)]
    way = ("outlet-1", "outlet-2", "outlet-N", "outlet-G", "plug-1", "plug-2", "plug-N", *BLOCK, *heater_points(made))
    order = {point: place for place, point in enumerate(way)}

    def rank(one: Reading) -> tuple[bool, bool, int]:
        inside = one.live and not one.places[0].startswith("outlet-")
        return inside, CABINET in one.places, min(order.get(point, len(order)) for point in one.places)

    yield from sorted(found, key=rank)


def _across_plug(one: Reading) -> bool:
    """Return whether a live reading is across a blade of the plug: it would have to be drawn half out."""
    return one.places[0].startswith("outlet-") != one.places[1].startswith("outlet-")


def _shown(a: str, b: str, state: str) -> Reading:
    receptacle = all(point.startswith("outlet-") for point in (node(a), node(b)))
    live = read_setting(state).powered or receptacle
    return Reading("low-impedance" if live else "ohms", (a, b), state)


def _running(made: Arrangement) -> Iterator[Reading]:
    for heat in (made.heats[0], "air"):
        yield Reading("listen", ("motor",), f"run {heat}")
    yield Reading("airflow", ("hood",), "run air")
    for heat in (*made.heats, "air"):
        yield Reading("warmth", ("exhaust",), f"run {heat}")
    for heat in made.heats:
        yield from (Reading("clamp", (f"cord {leg}",), f"run {heat}") for leg in "12")


@cache
def _covers(made: Arrangement, one: Reading) -> frozenset[str]:
    """Return the covers that have to be off for a reading, with those before them; of a point's covers the easiest."""
    needs: set[str] = set()
    if one.mode == "look":
        parts = [part for part, spot in made.stands if spot == one.places[0]]
        parts += {"terminal block": ["block"], "box": list(made.box_terminals)}.get(one.places[0], [])
    elif one.mode in ("ohms", "low-impedance"):
        parts = ["block" if point in BLOCK else point for point in one.places]
    else:
        parts = []
    for part in parts:
        there = [cover for cover in made.covers if part in cover.bares or part.partition(".")[0] in cover.bares]
        if there:
            needs.add(min(there, key=cover_minutes).name)
    before = {cover.name: cover.after for cover in made.covers}
    chain = list(needs)
    for name in chain:
        chain += [before[name]] * bool(before[name])
    return frozenset(chain)


@dataclass(frozen=True, slots=True)
class Stands:
    """How a job stands: the state of the machine, the covers that are off, whether it was proved dead."""

    state: str = "plugged"
    off: frozenset[str] = frozenset()
    pulled: frozenset[str] = frozenset()
    proved: bool = False


def after(made: Arrangement, one: Reading, stands: Stands) -> Stands:
    """Return how the job stands once a reading was taken."""
    dead = not one.powered
    return Stands(one.state, stands.off | _covers(made, one), _pulled(made, one), dead)


def _pulled(made: Arrangement, one: Reading) -> frozenset[str]:
    if not one.setting.pulled:
        return frozenset()
    if one.state.startswith("box free"):
        there = made.box_terminals
    else:
        there = tuple(point for point in one.places if point in made.points)
    return frozenset(wire.name for point in there for wire in made.wires_at(point))


def minutes(made: Arrangement, one: Reading, stands: Stands) -> float:
    """Return the minutes that a reading takes, with what has to be set up for it as the job ``stands``."""
    spent = _VENT_MINUTES if one.places == (VENT,) else _READ[one.mode]
    old, new = read_setting(stands.state), one.setting
    receptacle = one.live and one.places[0].startswith("outlet-")
    inside = not receptacle and one.mode in ("ohms", "low-impedance", "look")
    named = {cover.name: cover for cover in made.covers}
    spent += sum(cover_minutes(named[name]) for name in _covers(made, one) - stands.off)
    if not one.powered and (not stands.proved or old.powered) and (inside or receptacle):
        spent += _DEAD_MINUTES
    if one.powered and not old.powered:
        spent += _POWER_MINUTES + (0.0 if one.live else sum(cover_minutes(named[name]) for name in stands.off))
    if one.live:
        spent += _GEAR_MINUTES
    spent += _WIRE_MINUTES * len(_pulled(made, one) ^ stands.pulled)
    spent += _DIAL_MINUTES * (old.dial != new.dial) + _DOOR_MINUTES * (old.door_closed != new.door_closed)
    spent += _STIR_MINUTES * new.stirred + _START_MINUTES * (new.running and not old.running)
    held = new.box_celsius != old.box_celsius and "held" in one.state
    return round(spent + _HELD_MINUTES * held, 2)
