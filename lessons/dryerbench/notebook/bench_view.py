"""What a person sees of a bench: the state, the meter, the trail in words and the findings; never the faults."""

from __future__ import annotations

from itertools import accumulate
from typing import Protocol

from dryerbench.bench.bench import Bench
from dryerbench.bench.shop_names import mode_words
from dryerbench.bench.trail import Act
from dryerbench.core.tables import table


def reading_in(trail: list[Act]) -> dict[str, object]:
    """Return the last reading of a trail: what is shown, of what, whether something was done since; empty if none."""
    for back, act in enumerate(reversed(trail)):
        reading = act.get("reading")
        if reading is not None:
            beep = {None: "", True: " · beeps", False: " · silent"}[reading["beeps"]]
            return {
                "shown": reading["shown"],
                "beep": beep,
                "trouble": reading["trouble"],
                "of": f"{mode_words(reading['mode'])} · {_places(reading['places'])}",
                "old": back > 0,
            }
    return {}


def _places(places: list[str]) -> str:
    return " to ".join(places)


def act_words(act: Act) -> str:
    """Return one act of a trail as a person reads it: what was done, what it read, what happened."""
    given = [str(value) for value in act["with"].values() if value is not None]
    reading = act.get("reading")
    if act["act"] in ("probe", "clamp", "temperature") and reading is not None:
        beep = {None: "", True: ", beeps", False: ", silent"}[reading["beeps"]]
        said = f"{mode_words(reading['mode'])}, {_places(reading['places'])}: "
        said += f"{reading['shown']}{beep}"
    else:
        said = table("bench-acts").row(act=act["act"]).text("title") + (f" ({', '.join(given)})" if given else "")
    return "; ".join([said, *act["happened"]])


def trail_words(trail: list[Act]) -> list[str]:
    """Return the acts of a trail in words, each with the minutes spent when it was done."""
    clock = accumulate(act["minutes"] for act in trail)
    return [f"{at:.1f} min: {act_words(act)}" for at, act in zip(clock, trail, strict=True)]


def state_words(bench: Bench, names: Naming) -> str:
    """Return the state of machine and meter in one line."""
    now = bench.state
    heat = ("low" if now.low_heat else "high") if now.calling else "off"
    said = [
        "plug in" if now.plugged else "plug out",
        f"breaker {'on' if now.breaker_on else 'open'}{', locked' if bench.locked else ''}",
        f"cover {'off' if bench.cover_off else 'on'}",
        f"door {'closed' if now.door_closed else 'open'}",
        f"heat set to {heat}",
        "running" if now.running else "stopped",
        *([f"off: {', '.join(map(names.of_wire, sorted(now.pulled)))}"] if now.pulled else []),
        *(["rated gloves on"] if bench.gear else []),
        *(["cap on the plug"] if bench.capped else []),
        *(["line splitter in"] if bench.splitter else []),
    ]
    return "; ".join(said)


class Naming(Protocol):
    """How the page calls what a bench has names for."""

    def of_act(self, act: Act) -> Act:
        """Return a record with every place in it as the page calls it."""

    def of_wire(self, wire: str) -> str:
        """Return what a wire is called."""


def words_of(bench: Bench, names: Naming) -> str:
    """Return all that the panel shows of ``bench``, in words, as the page calls its things."""
    acts = [names.of_act(act) for act in bench.trail]
    reading = reading_in(acts)
    shown = f"{reading['shown']}{reading['beep']} ({reading['of']})" if reading else "nothing read yet"
    lines = [
        f"The bench. The dryer: {state_words(bench, names)}.",
        f"The meter: dial on {mode_words(bench.mode)}; last reading: {shown}.",
        f"Minutes: {bench.minutes:.1f}; acts: {len(bench.trail)}.",
        *trail_words(acts),
        *(f"{'Safety' if one.gate else 'Note'}: {one}" for one in bench.findings),
    ]
    return "\n".join(lines)
