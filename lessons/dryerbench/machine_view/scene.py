"""The scene: what has been done to the machine and what has been seen of it, as far as a drawing shows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from dryerbench.family.arrangement import Wire

SIDES = ("front", "rear")


@dataclass(frozen=True, slots=True)
class Scene:
    """What has been done and seen.

    ``covers_off`` and ``screws_out`` (name: how many) are the covers' names. ``pulled`` holds names of wires (off
    at both ends) or ``wire A-B@A`` (off at A). ``tags`` (point: the person's own word), ``burnt`` (points that were
    looked at and were burnt), ``probes`` (first and second tip) and ``chosen`` name points, or what can be pressed;
    ``picked`` the points of a part that was picked on the wiring sheet, in practice alone. ``hot`` names places
    that a hand finds hot, ``glowing`` the heater boxes whose coils glow. ``out_of_reach`` names places that
    something stands before. ``named`` writes beside each part what it is: for a first lesson, never in graded work.
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
    breaker_on: bool = True
    locked: bool = False
    side: str = "front"
    named: bool = False

    def marks(self, point: str) -> bool:
        """Return whether ``point`` has the ring of what is chosen."""
        return point == self.chosen or point in self.picked

    def is_off(self, wire: Wire, point: str) -> bool:
        """Return whether ``wire`` is off its terminal ``point``."""
        return wire.name in self.pulled or f"{wire.name}@{point}" in self.pulled
