"""What leaves a sealed bench: what a technician beside the machine would see, hear and read, and nothing else."""

from __future__ import annotations

from collections.abc import Sequence

from dryerbench.bench.bench import Bench
from dryerbench.bench.contact import reach
from dryerbench.bench.states import ROOM
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError
from dryerbench.notebook.bench_view import MORE, menu_of, points_of, reading_of

SILENT = frozenset({"the thermal cut-off blows"})
"""What happens without a sound or a sight; a reading tells."""


def sealed_act(act: Act) -> dict[str, object]:
    """Return one act as the page may have it: what was done, its minutes, what was noticed, what was read.

    What the safety rules noted, the scene and the state asked for stay here: they follow from the fault.
    """
    seen: dict[str, object] = {
        "act": act["act"],
        "with": act["with"],
        "minutes": act["minutes"],
        "happened": [words for words in act["happened"] if words not in SILENT],
        "facts": {},
    }
    if "reading" in act:
        seen["reading"] = act["reading"]
    if "readings" in act:
        seen["readings"] = act["readings"]
    if "gauge" in act:
        seen["gauge"] = act["gauge"]
    return seen


def sealed_menu(bench: Bench) -> dict[str, object]:
    """Return what can be chosen on ``bench``: the same whatever is wrong with the machine."""
    return menu_of(bench, MORE)


def sealed_view(bench: Bench) -> dict[str, object]:
    """Return how ``bench`` stands, as far as it is seen. Safety is judged when the test is marked, and not before."""
    state = bench.state
    return {
        "plugged": state.plugged,
        "breaker_on": state.breaker_on,
        "locked": bench.locked,
        "cover_off": bench.cover_off,
        "gear": bench.gear,
        "door_closed": state.door_closed,
        "heat": ("low" if state.low_heat else "high") if state.calling else "none",
        "running": state.running,
        "held": _held(bench.trail),
        "pulled": sorted(state.pulled),
        "mode": bench.mode,
        "full_scale": bench.full_scale,
        "nulled": bench.nulled,
        "fuse": bench.fuse,
        "barred": _barred(bench),
        "reading": reading_of(bench),
        "minutes": round(bench.minutes, 6),
    }


def _held(trail: Sequence[Act]) -> float | None:
    """Return at how many °C the apprentice holds or left the parts; None once the machine was powered."""
    for act in reversed(trail):
        if act["act"] == "warm_parts":
            celsius = act["with"].get("celsius")
            return float(celsius) if isinstance(celsius, int | float) else None
        if act["act"] == "cool_down":
            return ROOM
        if act.get("scene", {}).get("energized", True):
            return None
    return ROOM


def _barred(bench: Bench) -> dict[str, str]:
    """Return the points that no probe reaches as things stand, each with what is in the way."""
    found = {}
    for point in points_of(bench):
        try:
            reach(bench, point)
        except BenchError as error:
            found[point] = str(error)
    return found
