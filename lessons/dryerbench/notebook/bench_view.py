"""What a person sees of a bench: the state, the meter, the trail in words and the findings; never the faults."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import accumulate
from typing import Protocol

from dryerbench.bench.access import arrangement_of, behind, pullable, replaceable
from dryerbench.bench.acts import DETAILS, HANDS
from dryerbench.bench.bench import Bench
from dryerbench.bench.contact import reach
from dryerbench.bench.customer import TALKS
from dryerbench.bench.meter import PROBE_MODES, RATINGS, SPOTS, ranges
from dryerbench.bench.senses import looks, tappable
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError, machine_on, situation_on
from dryerbench.core.tables import table
from dryerbench.drawing.panel_drawing import drawing, neighbors
from dryerbench.drawing.terminal_board import board_neighbors, terminal_board

MODE_WORDS = {
    "volts": "volts",
    "low-impedance": "volts, low impedance",
    "ohms": "ohms",
    "continuity": "continuity (beeper)",
    "insulation": "insulation, 500 V",
}
"""How the dial's settings are written."""

_PLACES = {"block": "terminal block", "cabinet": "cabinet, bare metal", "Box": "heater box"}

Probes = Mapping[str, str | None]
NO_PROBES: Probes = {"A": None, "B": None}


def points_of(bench: Bench) -> list[str]:
    """Return the test points that this machine has."""
    nodes = set(situation_on(bench).circuit.nodes)
    return [point for point in behind(machine_on(bench)) if point in nodes]


def reachable(bench: Bench, point: str) -> bool:
    """Tell whether a probe can be put on ``point`` as things stand."""
    try:
        reach(bench, point)
    except BenchError:
        return False
    return True


MORE = (
    *("glasses_on", "glasses_off", "cap_plug", "uncap_plug", "take_meter", "discharge", "fit_splitter"),
    *("remove_splitter", "look", "wiggle", "tap", "tag_wire", "airflow", "pressure", "leakage", "stored_fault"),
    *("service_test", "phone_customer", "order_part", "leave"),
)
"""Acts that a panel has where a lesson asks for them, and leaves out elsewhere."""


def more_acts(bench: Bench, names: Sequence[str]) -> list[dict[str, object]]:
    """Return the acts ``names`` of ``MORE`` as plain data: act, title, and each detail with what there is to choose.

    Raises
    ------
    BenchError
        For an act that is not among them.
    """
    strange = [name for name in names if name not in MORE]
    if strange:
        raise BenchError(f"'{strange[0]}' is none of the further acts: {', '.join(MORE)}.")
    there = points_of(bench)
    wires = list(pullable(machine_on(bench)))
    parts = [name for name, (_, by_electrician) in replaceable(machine_on(bench)).items() if not by_electrician]
    choices: dict[tuple[str, str], list[str]] = {
        ("take_meter", "rating"): list(RATINGS),
        ("look", "place"): list(looks(bench)),
        ("wiggle", "wire"): ["cord", *(wire for wire in wires if wire in situation_on(bench).circuit)],
        ("tap", "part"): list(tappable(bench)),
        ("tag_wire", "wire"): wires,
        ("phone_customer", "about"): list(TALKS),
        ("order_part", "part"): parts,
    }
    choices |= {(act, end): there for act in ("wiggle", "tap") for end in "ab"}
    return [
        {
            "act": name,
            "title": table("bench-acts").row(act=name).text("title"),
            "fields": [{"name": key, "choices": choices.get((name, key))} for key in DETAILS.get(name, ())],
        }
        for name in names
    ]


def menu_of(bench: Bench, more: Sequence[str] = ()) -> dict[str, object]:
    """Return what does not change while one works on ``bench``: the drawing, and what can be chosen, as plain data.

    ``more`` names the acts of ``MORE`` that this panel has besides the usual ones.

    Raises
    ------
    BenchError
        For an act that is not among them.
    """
    circuit = situation_on(bench).circuit
    wires = list(pullable(machine_on(bench)))
    cord = [name for name in ("cord 1", "cord 2", "cord N") if name in circuit]
    return {
        **_drawing_of(bench),
        "points": points_of(bench),
        "modes": [[mode, MODE_WORDS[mode]] for mode in PROBE_MODES],
        "ranges": {mode: [[scale.full_scale, scale.show(scale.full_scale)] for scale in ranges(mode)]
                   for mode in PROBE_MODES},
        "wires": wires,
        "conductors": ["cord", *cord, *(wire for wire in wires if wire in circuit)],
        "spots": list(SPOTS),
        "parts": list(replaceable(machine_on(bench))),
        "dead": ["plug", "outlet", "block"],
        "hands": list(HANDS),
        "more": more_acts(bench, more),
    }  # fmt: skip


def _drawing_of(bench: Bench) -> dict[str, object]:
    """Return the lessons' dryer as it is drawn, or the terminals of any other machine, and where arrow keys go."""
    machine, points = machine_on(bench), points_of(bench)
    if machine.stands is None:
        return {"drawing": drawing(), "neighbors": neighbors(points)}
    parts = arrangement_of(machine).parts
    words = {part.name: f"{part.kind.name} {part.name}" for part in parts} | _PLACES
    covered = {point: words_behind for point, words_behind in behind(machine).items() if point in points}
    return {"drawing": terminal_board(covered, words), "neighbors": board_neighbors(points)}


def view_of(bench: Bench, probes: Probes = NO_PROBES) -> dict[str, object]:
    """Return what can be seen of ``bench`` now, as plain data for the panel."""
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
        "celsius": [state.exhaust_celsius, state.limit_celsius],
        "pulled": sorted(state.pulled),
        "mode": bench.mode,
        "full_scale": bench.full_scale,
        "nulled": bench.nulled,
        "fuse": bench.fuse,
        "reach": [point for point in points_of(bench) if reachable(bench, point)],
        "probes": dict(probes),
        "reading": reading_of(bench),
        "minutes": bench.minutes,
        "trail": trail_words(bench.trail),
        "findings": [[one.gate, one.place + 1, one.what, one.caution] for one in bench.findings],
    }


def reading_of(bench: Bench) -> dict[str, object]:
    """Return the last reading: what is shown, of what, and whether something was done since; empty if none."""
    return reading_in(bench.trail)


def reading_in(trail: Sequence[Act]) -> dict[str, object]:
    """Return the last reading of a trail, as ``reading_of`` does."""
    for back, act in enumerate(reversed(trail)):
        reading = act.get("reading")
        if reading is not None:
            beep = {None: "", True: " · beeps", False: " · silent"}[reading["beeps"]]
            return {
                "shown": reading["shown"],
                "beep": beep,
                "trouble": reading["trouble"],
                "of": f"{MODE_WORDS.get(reading['mode'], reading['mode'])} · {_places(reading['places'])}",
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
        said = f"{MODE_WORDS.get(reading['mode'], reading['mode'])}, {_places(reading['places'])}: "
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
    now = view_of(bench)
    said = [
        "plug in" if now["plugged"] else "plug out",
        f"breaker {'on' if now['breaker_on'] else 'open'}{', locked' if now['locked'] else ''}",
        f"cover {'off' if now['cover_off'] else 'on'}",
        f"door {'closed' if now['door_closed'] else 'open'}",
        f"heat set to {now['heat']}",
        "running" if now["running"] else "stopped",
        *([f"off: {', '.join(map(names.of_wire, sorted(bench.state.pulled)))}"] if now["pulled"] else []),
        *(["rated gloves on"] if now["gear"] else []),
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
        f"The bench. The machine: {state_words(bench, names)}.",
        f"The meter: dial on {MODE_WORDS[bench.mode]}; last reading: {shown}.",
        f"Minutes: {bench.minutes:.1f}; acts: {len(bench.trail)}.",
        *trail_words(acts),
        *(f"{'Safety' if one.gate else 'Note'}: {one}" for one in bench.findings),
    ]
    return "\n".join(lines)
