"""Where the clamp can be put on the drawn wires: one place on each wire, so far apart that a finger finds its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import atan2, degrees, dist

from dryerbench.family.arrangement import Mark
from dryerbench.machine_view.drawing import TOUCH, Drawing
from dryerbench.machine_view.geometry import Place
from dryerbench.machine_view.held_tools import AT_SIDE, Wire, jaw, put
from dryerbench.machine_view.scene import Scene

_STEP = 5.0
_EDGE = 18.0
_TRIES = 40_000


@dataclass(frozen=True, slots=True)
class Way:
    """A drawn wire: its key in ``Scene.wires``, the corners it runs through, its mark (None: a cord), its width."""

    key: str
    corners: tuple[Place, ...]
    mark: Mark | None
    width: float = 4.6
    first: float = 4.0
    """How far from its first corner on the jaw may be put."""


Grip = tuple[float, float, float]
"""Where the jaw goes on a wire, and the wire's direction there, in degrees."""


def _along(corners: Sequence[Place], first: float) -> Iterator[Grip]:
    """Yield places along a wire, from its connector on."""
    gone = 0.0
    for (ax, ay), (bx, by) in pairwise(corners):
        length = dist((ax, ay), (bx, by))
        if not length:
            continue
        at = max(first - gone, 4.0 if gone else first)
        while at <= length:
            share = at / length
            yield ax + (bx - ax) * share, ay + (by - ay) * share, degrees(atan2(by - ay, bx - ax))
            at += _STEP
        gone += length


@lru_cache(maxsize=256)
def grips(
    ways: tuple[tuple[tuple[Place, ...], float], ...], taken: tuple[Place, ...], size: Place
) -> tuple[Grip | None, ...]:
    """Return where the jaw goes on each wire: as near to its connector as all of them stay apart; None: nowhere.

    ``ways`` are corners and where each begins; ``taken`` is what else can be pressed, on a drawing of ``size``.
    """
    apart = 2 * TOUCH
    offered = [
        [
            one
            for one in _along(corners, first)
            if _EDGE < one[0] < size[0] - _EDGE
            and _EDGE < one[1] < size[1] - _EDGE
            and all(dist(one[:2], other) >= apart for other in taken)
        ]
        for corners, first in ways
    ]
    order = sorted(range(len(ways)), key=lambda place: len(offered[place]))
    chosen: dict[int, Grip] = {}
    tries = 0

    def placed(depth: int) -> bool:
        nonlocal tries
        if depth == len(order):
            return True
        here = order[depth]
        for one in offered[here]:
            tries += 1
            if tries > _TRIES:
                return False
            if all(dist(one[:2], other[:2]) >= apart for other in chosen.values()):
                chosen[here] = one
                if placed(depth + 1):
                    return True
                del chosen[here]
        return False

    if not placed(0):
        _as_many_as_fit(order, offered, chosen, apart)
    return tuple(chosen.get(place) for place in range(len(ways)))


def _as_many_as_fit(
    order: Sequence[int], offered: Sequence[Sequence[Grip]], chosen: dict[int, Grip], apart: float
) -> None:
    chosen.clear()
    for here in order:
        free = (one for one in offered[here] if all(dist(one[:2], other[:2]) >= apart for other in chosen.values()))
        found = next(free, None)
        if found is not None:
            chosen[here] = found


def _rest(found: Sequence[Grip | None], here: Grip) -> list[Place]:
    return [one[:2] for one in found if one is not None and one != here]


def draw_wire_grips(drawing: Drawing, scene: Scene, ways: Sequence[Way], rest: Place = AT_SIDE) -> None:
    """Mark where the clamp can be put on each wire that can be clamped, and draw it where it is."""
    there = [way for way in ways if way.key in scene.wires]
    taken = tuple((one.x, one.y) for one in drawing.targets)
    size = (drawing.width, drawing.height)
    found = grips(tuple((way.corners, way.first) for way in there), taken, size)
    for way, grip in zip(there, found, strict=True):
        if grip is None:
            continue
        name, spoken = scene.wires[way.key]
        x, y, along = grip
        here = name == scene.jaw
        drawing.wire(name, spoken, x, y, _data(way.corners), chosen=here)
        if here:
            others = [(one.x, one.y) for one in drawing.targets if one.name != name]
            drawn = jaw(Wire(x, y, along, way.mark, way.width), [*others, *_rest(found, grip)], rest)
            drawing.add_over(put("clamp", x, y, drawn))


def _data(corners: Sequence[Place]) -> str:
    return "M" + "L".join(f"{x:g} {y:g}" for x, y in corners)
