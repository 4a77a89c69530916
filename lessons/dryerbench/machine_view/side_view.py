"""One side of a machine in a scene: which covers are off, what they bare, and what a place is called."""

from __future__ import annotations

from dryerbench.family.arrangement import Cover
from dryerbench.family.own_machine import OwnMachine
from dryerbench.machine_view.covers import CABINET_BOX, covers_on_side, fixed_shell, is_bare, lies_on, region
from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.scene import Scene
from dryerbench.machine_view.stand import standing

CONSOLES = ("console", "fascia", "strip")
NAMES = {
    "block": "terminal block",
    "door-frame": "door switch",
    "belt-idler": "belt switch",
    "base": "relay on the base",
    "wall": "receptacle",
}
"""What a close-up is called, where its id does not say it."""


def spoken_view(view: str) -> str:
    """Return what a place is called."""
    if view.startswith("box-"):
        return "heater box" if view == "box-1" else "second heater box"
    return NAMES.get(view, view.replace("-", " "))


class SideView:
    """One side of a machine in a scene: what is off, what is on, what can be seen."""

    def __init__(self, own: OwnMachine, scene: Scene) -> None:
        self.own, self.scene, self.side = own, scene, scene.side
        self.covers = covers_on_side(own, self.side)
        self.off = [cover for cover in self.covers if cover.name in scene.covers_off]
        self.on = [cover for cover in self.covers if cover.name not in scene.covers_off]
        self.shut = [*fixed_shell(own, self.side)]
        self.shut += [where for cover in self.on if (where := region(own, cover)) is not None]

    def hidden(self, box: Box) -> bool:
        """Return whether sheet metal stands before the whole of ``box``."""
        return any(where.holds(box) for where in self.shut)

    def cover_on(self, thing: str) -> Cover | None:
        """Return the cover that lies on a part inside and is on."""
        return next((cover for cover in self.on if lies_on(cover) == thing), None)

    @property
    def drum_is_out(self) -> bool:
        """Whether the drum came out with a cover."""
        return any("drum comes out" in cover.how for cover in self.off)

    @property
    def opened(self) -> bool:
        """Whether the inside shows at all."""
        return any(
            (where := region(self.own, cover)) is not None and where.y >= CABINET_BOX.y and where.w > 100
            for cover in self.off
        )

    def terminals_bare(self, view: str) -> bool:
        """Return whether all terminals of a heater box are bare."""
        there = [t for t, seat in self.own.seats.items() if view == f"box-{seat.box + 1}"]
        return all(is_bare(self.own, t, self.scene.covers_off) for t in there)

    @property
    def shown(self) -> set[str]:
        """The close-ups whose things are not hidden."""
        return {one.view for one in standing(self.own, self.side) if self.opened and not self.hidden(one.box)}
