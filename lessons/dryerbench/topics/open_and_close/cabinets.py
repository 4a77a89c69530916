"""Cabinets of lesson 09: another machine of the family, its covers with their fasteners, and what is behind each.

What comes off first, and with which screws, is data of the arrangement (``family.arrangement.Cover``): a second
dryer is dealt from those, and nothing of it is written here.
"""

from __future__ import annotations

from collections.abc import Sequence

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.bench.placement import placement_of
from dryerbench.bench.worksite import machine_on
from dryerbench.core.random_stream import Stream
from dryerbench.family.arrangement import Arrangement, Cover
from dryerbench.family.machine import drawn_machine
from dryerbench.family.places import Placement
from dryerbench.family.shelf import arrangement, machine_names

EXAMPLE = "cabin"
"""The dryer on which the lesson shows how it is done: nobody is dealt that one."""
_NOT_DEALT = ("schoolroom", EXAMPLE)
_HEADS = {"hex": "hex", "Ph": "Phillips", "sq": "square-drive", "qt": "quarter-turn"}
_OFFERED = 5


def second_names() -> tuple[str, ...]:
    """Return the names of the machines that the second dryer is dealt from."""
    return tuple(name for name in machine_names() if name not in _NOT_DEALT)


def deal_second(name: str, stream: Stream) -> Machine:
    """Return a dryer of another arrangement than the lesson's own, called ``name``."""
    return on_the_bench(drawn_machine(arrangement(stream.choose(second_names())), stream, name))


def covers_needed(machine: Machine) -> tuple[Cover, ...]:
    """Return the covers in front of the terminal block and of every terminal of the heater, each once, in order."""
    placed = placement_of(machine)
    found = [cover for point in ("block", *placed.in_order) for cover in placed.covers_over(point)]
    return tuple(dict.fromkeys(found))


def no_cover_too_many(bench: Bench) -> bool:
    """Return whether no cover came off that block and heater do not need; an act without a name takes every one off."""
    machine = machine_on(bench)
    needed = {cover.name for cover in covers_needed(machine)}
    taken = {str(act["with"].get("cover") or "") for act in bench.trail if act["act"] == "cover_off"}
    every = {cover.name for cover in placement_of(machine).covers}
    return taken - {""} <= needed and ("" not in taken or every <= needed)


def screws_in(covers: Sequence[Cover]) -> int:
    """Return how many fasteners hold ``covers``."""
    return sum(count for cover in covers for count, _ in cover.screws)


def screws_offered(machine: Machine, stream: Stream) -> tuple[int, ...]:
    """Return counts of fasteners to choose from: those of covers that belong together, and some beside them."""
    placed = placement_of(machine)
    over_block = placed.covers_over("block")
    over_heater = tuple(cover for point in placed.in_order for cover in placed.covers_over(point))
    groups: tuple[Sequence[Cover], ...] = (
        covers_needed(machine),
        placed.covers,
        tuple(dict.fromkeys(over_heater)),
        over_block,
        over_heater[-1:],
    )
    counts = list(dict.fromkeys(map(screws_in, groups)))
    beside = stream.shuffle([n for n in range(2, max(counts) + 4) if n not in counts])
    return tuple(sorted((*counts, *beside[: max(0, _OFFERED - len(counts))])))


def fasteners(cover: Cover) -> str:
    """Return the fasteners of a cover in words."""
    return " and ".join(f"{count} {_HEADS[head]}" for count, head in cover.screws)


def behind_it(made: Arrangement, cover: Cover) -> str:
    """Return what a cover bares, in words."""
    found = dict.fromkeys(_thing(made, thing) for thing in cover.bares)
    return ", ".join(found)


def _thing(made: Arrangement, thing: str) -> str:
    if thing == "block":
        return "terminal block"
    if thing.partition(".")[0] == "Box":
        return "terminals of the heater" if len(made.boxes) == 1 else "terminals of one heater box"
    return made.by_name[thing].kind.name


def cover_rows(placed: Placement) -> list[tuple[str, str, str, str]]:
    """Return of each cover, by its name: what it is called, its fasteners, how it comes off, what is behind it."""
    rows = []
    for cover in sorted(placed.covers, key=lambda one: one.name):
        first = f"after the {cover.after}" if cover.after else "by itself"
        rows.append((cover.name, fasteners(cover), "; ".join(filter(None, (first, cover.how))),
                     behind_it(placed.arrangement, cover)))  # fmt: skip
    return rows
