"""Access: what of a machine can be probed, pulled, replaced and looked at, and which cover is in front of it."""

from __future__ import annotations

from functools import cache, lru_cache

from dryerbench.bench import wiring
from dryerbench.bench.faults import catalogue, from_family
from dryerbench.bench.machine import Machine
from dryerbench.bench.schoolroom import FAMILY_PARTS, POINTS, family_machine, our_name
from dryerbench.core.tables import Row, table
from dryerbench.family.arrangement import BLOCK, CABINET, Arrangement, Cover
from dryerbench.family.faults import faults_of
from dryerbench.family.kinds import ONE_SHOT
from dryerbench.family.wiring import pullable as family_pullable

_FAMILY_POINTS = {ours: theirs for theirs, ours in POINTS.items()}
_SCREW_MINUTES, _COVER_MINUTES = 0.3, 0.5


def arrangement_of(machine: Machine) -> Arrangement:
    """Return the arrangement that ``machine`` is one of."""
    return family_machine(machine).arrangement


@lru_cache(maxsize=64)
def behind(machine: Machine) -> dict[str, str]:
    """Return behind what each test point lies: ``outlet``, ``plug``, ``cover``, or ``outside`` for the bare case."""
    rows = {row.text("point"): row.text("behind") for row in table("test-points").rows}
    if machine.stands is None:
        return rows
    outer = {point: place for point, place in rows.items() if place != "cover"}
    inner = [point for point in arrangement_of(machine).points if point != CABINET]
    return {**outer, **dict.fromkeys(inner, "cover")}


def pullable(machine: Machine) -> tuple[str, ...]:
    """Return the wires of ``machine`` that a hand can pull off."""
    if machine.stands is not None:
        return family_pullable(machine.stands.arrangement)
    return tuple(name for name in wiring.pullable() if machine.cord == "four-wire" or name != "ground wire")


def one_shots(machine: Machine) -> frozenset[str]:
    """Return the switches that open once and stay open, by the bench's names."""
    return frozenset(our_name(machine, part.name) for part in arrangement_of(machine).of_kind(*ONE_SHOT))


def limits(machine: Machine) -> frozenset[str]:
    """Return the high limits, by the bench's names."""
    return frozenset(our_name(machine, part.name) for part in arrangement_of(machine).of_kind("high limit"))


def thermostats(machine: Machine) -> frozenset[str]:
    """Return the cycling thermostats, by the bench's names."""
    return frozenset(our_name(machine, part.name) for part in arrangement_of(machine).of_kind("cycling thermostat"))


def coils(machine: Machine) -> tuple[str, ...]:
    """Return the heater's coils, by the bench's names."""
    return tuple(our_name(machine, coil.name) for coil in arrangement_of(machine).coils)


@lru_cache(maxsize=64)
def replaceable(machine: Machine) -> dict[str, tuple[float, bool]]:
    """Return what can be replaced or put right, with its minutes, and whether an electrician does it."""
    found: dict[str, tuple[float, bool]] = {}
    for row in _rows(machine):
        minutes, by_electrician = row.number("minutes"), row["who"] == "electrician"
        known = found.get(row.text("part"), (0.0, by_electrician))
        found[row.text("part")] = (max(minutes, known[0]), known[1])
    return found


@lru_cache(maxsize=64)
def part_prices(machine: Machine) -> dict[str, tuple[float, float]]:
    """Return the minutes and the dollars that each part takes (invented for training).

    A part has one price, whatever is wrong with it: the longest job and the dearest part of its faults.
    """
    found: dict[str, tuple[float, float]] = {}
    for row in _rows(machine):
        minutes, dollars = found.get(row.text("part"), (0.0, 0.0))
        found[row.text("part")] = (max(minutes, row.number("minutes")), max(dollars, row.number("parts_cost")))
    return found


def _rows(machine: Machine) -> list[Row]:
    """Return the faults that ``machine`` can have, as rows like those of the table ``faults``."""
    if machine.stands is None:
        return list(table("faults").rows)
    return [catalogue(from_family(fault).name) for fault in faults_of(arrangement_of(machine))]


def _bared(cover: Cover, place: str) -> bool:
    return place in cover.bares or place.partition(".")[0] in cover.bares


def _places(machine: Machine, name: str) -> tuple[str, ...]:
    """Return the points or parts, as the family calls them, at which a point, part or wire of the bench is."""
    if machine.stands is None:
        name = _FAMILY_POINTS.get(name, FAMILY_PARTS.get(name, name))
    if name in BLOCK or name == "terminal block":
        return ("block",)
    if name.startswith("coil "):
        return (f"Box.{name[5:].partition('-')[0]}",)
    if name.startswith("wire "):
        ends = name[5:].split("-")
        return tuple("block" if end in BLOCK else end for end in ends)
    return (name,)


@cache
def covers_before(machine: Machine, name: str) -> tuple[frozenset[str], ...]:
    """Return, for each place at which a point, part or wire is, the covers that bare it; nothing if no cover does."""
    covers = arrangement_of(machine).covers
    found = [frozenset(cover.name for cover in covers if _bared(cover, place)) for place in _places(machine, name)]
    return tuple(names for names in found if names)


def cover_minutes(cover: Cover) -> float:
    """Return the minutes that a cover takes off, by its screws (invented, of the usual size)."""
    return _COVER_MINUTES + _SCREW_MINUTES * sum(count for count, _ in cover.screws)
