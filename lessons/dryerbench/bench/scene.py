"""The scene: what stands how on the worksite after an act, as far as safety is judged by it, as plain data."""

from __future__ import annotations

from typing import TypedDict


class Scene(TypedDict):
    """The worksite after one act: machine, covers, hands, meter; what nobody can see is no part of it."""

    plugged: bool
    breaker_on: bool
    locked: bool
    """Lock and tag are on the breaker."""
    capped: bool
    """A cap with lock and tag is on the plug."""
    energized: bool
    """The supply reaches the machine, or volts come back into it another way."""
    running: bool
    cover_off: bool
    gloves: bool
    glasses: bool
    loose: bool
    """A wire is off its terminal."""
    charged: bool
    """The charge of an insulation test was not let out."""
    hot: bool
    four_wire: bool
    told: bool
    """Whoever lives with the machine was told."""


AS_FOUND: Scene = {
    "plugged": True,
    "breaker_on": True,
    "locked": False,
    "capped": False,
    "energized": True,
    "running": False,
    "cover_off": False,
    "gloves": False,
    "glasses": False,
    "loose": False,
    "charged": False,
    "hot": False,
    "four_wire": True,
    "told": False,
}
"""How every job begins: plugged in, breaker on, cover on, bare hands."""


def isolated(scene: Scene) -> bool:
    """Return whether nobody else can power the machine: plug out and under one's own control, or locked out."""
    return not scene["plugged"] or (not scene["breaker_on"] and scene["locked"])


def out_of_use(scene: Scene) -> bool:
    """Return whether nobody can power the machine once everyone has left: plug capped or out, or locked out."""
    return scene["capped"] or isolated(scene)
