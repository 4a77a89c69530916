"""The scene: what has been done to the machine and what has been seen of it, as far as a drawing shows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from dryerbench.family.arrangement import Wire

SIDES = ("front", "rear")
CORD, GROUND = "cord", "ground wire"
"""The keys of the whole cord and of the cord's ground in ``Scene.wires``."""
ROOM_AIR, EXHAUST_AIR = "room", "exhaust"
"""The ids of the room's air and of the air that comes out, in ``Scene.touchable``."""


def wire_key(wire: str, point: str) -> str:
    """Return what an end of a wire is called in ``Scene.wires``."""
    return f"{wire}@{point}"


@dataclass(frozen=True, slots=True)
class Scene:
    """What has been done and seen.

    ``covers_off`` and ``screws_out`` (name: how many) are the covers' names. ``pulled`` holds names of wires (off
    at both ends) or ``wire A-B@A`` (off at A). ``tags`` (point: the person's own word), ``burnt`` (points that were
    looked at and were burnt), ``probes`` (first and second tip) and ``chosen`` name points, or what can be pressed;
    ``picked`` the points of a part that was picked on the wiring sheet, in practice alone. ``hot`` names places
    that a hand finds hot, ``glowing`` the heater boxes whose coils glow. ``out_of_reach`` names places that
    something stands before. ``named`` writes beside each part what it is: for a first lesson, never in graded work.

    ``splitter``: a line splitter is between plug and receptacle. ``hand`` is what takes the place of the two
    probes: ``clamp`` or ``temp``. ``wires`` (a wire at a point, as ``wire_key`` writes it: id and words) can be
    clamped, and ``jaw`` is the id of the one that is; ``touchable`` (id: words) can be touched by the temperature
    probe, whose bead is at ``bead``. ``hood``: the airflow can be read at the vent hood; ``airflow`` is what the
    airflow meter there shows, None if it is not there.
    """

    covers_off: tuple[str, ...] = ()
    screws_out: Mapping[str, int] = field(default_factory=dict)
    pulled: frozenset[str] = frozenset()
    tags: Mapping[str, str] = field(default_factory=dict)
    hot: frozenset[str] = frozenset()
    glowing: frozenset[str] = frozenset()
    burnt: frozenset[str] = frozenset()
    out_of_reach: frozenset[str] = frozenset()
    chosen: str = ""
    picked: frozenset[str] = frozenset()
    probes: tuple[str, str] = ("", "")
    plugged: bool = True
    splitter: bool = False
    breaker_on: bool = True
    locked: bool = False
    side: str = "front"
    named: bool = False
    hand: str = ""
    wires: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    jaw: str = ""
    touchable: Mapping[str, str] = field(default_factory=dict)
    bead: str = ""
    airflow: str | None = None
    hood: bool = False

    def marks(self, point: str) -> bool:
        """Return whether ``point`` has the ring of what is chosen."""
        return point == self.chosen or point in self.picked

    def is_off(self, wire: Wire, point: str) -> bool:
        """Return whether ``wire`` is off its terminal ``point``."""
        return wire.name in self.pulled or f"{wire.name}@{point}" in self.pulled
