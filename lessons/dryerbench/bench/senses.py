"""Eyes and hands: what is seen at a place, what a reading does while a wire is moved or a part is tapped, tags.

What is seen follows from the faults; what moves while it is touched stands in ``_MOVED`` and ``_TAPPED``: there the
strength of the fault runs through its whole range.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from dryerbench.bench.contact import note_probe, reach
from dryerbench.bench.faults import Fault, catalogue
from dryerbench.bench.machine import ELEMENTS
from dryerbench.bench.meter import Reading
from dryerbench.bench.situation import Situation
from dryerbench.bench.trail import Act
from dryerbench.bench.wiring import pullable
from dryerbench.bench.worksite import BenchError, Worksite, faults_on, machine_on, situation_on

_HEATER_WIRES = frozenset({"wire T0", "wire T1", "wire T2", "wire T3"})
_LONGEST_TAG = 24
_MOVED: Mapping[str, tuple[str, ...]] = {"burnt-joint": ("cord", "wire H1")}
"""By fault: the wires that move it."""
_TAPPED: Mapping[str, tuple[str, ...]] = {"burnt-joint": ("terminal block",)}
"""By fault: the parts on which a tap moves it."""
TAPPABLE = ("terminal block", "control", "cycling thermostat", "thermal cut-off", "high limit", "heater box", "motor")


def _names(bench: Worksite) -> set[str]:
    return {fault.name for fault in faults_on(bench)}


def _outside(bench: Worksite) -> list[str]:
    extension = machine_on(bench).extension_feet > 0.0 or "thin-cord" in _names(bench)
    kind = "a four-wire cord" if machine_on(bench).cord == "four-wire" else "an existing three-wire cord"
    return [kind, "a long, thin extension cord lies between" if extension else "it goes straight to the receptacle"]


def _plug(bench: Worksite) -> list[str]:
    if bench.state.plugged:
        raise BenchError("The blades are in the receptacle: pull the plug to see them.")
    return ["the blades are bright and straight"]


def _block(bench: Worksite) -> list[str]:
    _open(bench, "The terminal block")
    names, four = _names(bench), machine_on(bench).cord == "four-wire"
    joint = "the screw of leg 1 is brown and its wire hard" if "burnt-joint" in names else "screws and wires are clean"
    strapped = "strap-left-on" in names or (not four and "strap-missing" not in names)
    strap = "a strap joins neutral and frame" if strapped else "no strap joins neutral and frame"
    ground = "the green wire hangs free of the frame" if "missing-bond" in names else "the green wire is on the frame"
    return [joint, strap, *([ground] if four else [])]


def _heater(bench: Worksite) -> list[str]:
    _open(bench, "The heater box")
    if not bench.state.pulled >= _HEATER_WIRES:
        raise BenchError("The coils are in the heater box: pull the wires of T0 to T3, and it comes out.")
    bad = {
        "open": "is broken",
        "shorted": "has turns that touch each other",
        "grounded": "lies against its frame",
    }
    seen = [
        f"the coil of element {n} {words}" for n in ELEMENTS for end, words in bad.items()
        if f"element-{n}-{end}" in _names(bench)
    ]  # fmt: skip
    damp = ["the insulators are dirty and damp"] if "leakage-to-case" in _names(bench) else []
    return seen + damp or ["the coils hang whole and free"]


def _switches(bench: Worksite) -> list[str]:
    _open(bench, "The heat switches")
    return ["nothing shows on the heat switches: only a reading tells"]


def _motor(bench: Worksite) -> list[str]:
    _open(bench, "The motor")
    return ["lint lies round the motor; belt and pulley are in their places"]


LOOKS: Mapping[str, Callable[[Worksite], list[str]]] = {
    "outside": _outside,
    "plug": _plug,
    "terminal block": _block,
    "heater box": _heater,
    "heat switches": _switches,
    "motor": _motor,
}
"""Where one can look, and what is seen there, in words. The vent has an act of its own."""


def _open(bench: Worksite, what: str) -> None:
    if not bench.cover_off:
        raise BenchError(f"{what} cannot be seen with the cover on: take it off first.")


def look(bench: Worksite, record: Act, place: str) -> None:
    """Look at a place and say what is seen there."""
    if place not in LOOKS:
        raise BenchError(f"One can look at: {', '.join(LOOKS)}; not at '{place}'.")
    record["happened"] += LOOKS[place](bench)


def wiggle(bench: Worksite, record: Act, wire: str, a: str, b: str) -> None:
    """Read between two points while ``wire`` is moved."""
    there = ("cord", *(one for one in pullable() if one in situation_on(bench).circuit))
    if wire not in there:
        raise BenchError(f"There is no wire '{wire}' to move; there are: {', '.join(there)}.")
    _read_moving(bench, record, [fault for fault in faults_on(bench) if wire in _MOVED.get(fault.name, ())], a, b)


def tap(bench: Worksite, record: Act, part: str, a: str, b: str) -> None:
    """Read between two points while ``part`` is tapped with an insulated handle."""
    if part not in TAPPABLE:
        raise BenchError(f"One can tap: {', '.join(TAPPABLE)}; not '{part}'.")
    _read_moving(bench, record, [fault for fault in faults_on(bench) if part in _TAPPED.get(fault.name, ())], a, b)


def _read_moving(bench: Worksite, record: Act, moving: Sequence[Fault], a: str, b: str) -> None:
    _open(bench, "The harness")
    for point in (a, b):
        reach(bench, point)
    shown = [_read(bench, now, a, b) for now in _moved(bench, moving)]
    bench.hands(record)
    record["readings"] = [reading.as_data() for reading in shown]
    note_probe(bench, record, a, b, shown[0].shown)
    least, most = (pick(shown, key=_size) for pick in (min, max))
    jumps = len({reading.shown for reading in (least, most)}) > 1 and bool(moving)
    said = f"the reading jumps between {least.shown} and {most.shown}" if jumps else f"it stays at {shown[0].shown}"
    record["happened"].append(said)


def _moved(bench: Worksite, moving: Sequence[Fault]) -> list[Situation]:
    """Return the machine as it stands, and with each fault of ``moving`` at the ends of its range."""
    now = situation_on(bench)
    found = [now]
    for fault in moving:
        row = catalogue(fault.name)
        for strength in (row.number("strength_low"), row.number("strength_high")):
            faults = tuple(replace(one, strength=strength) if one == fault else one for one in now.faults)
            found.append(Situation(now.machine, faults, now.state))
    return found


def _read(bench: Worksite, now: Situation, a: str, b: str) -> Reading:
    given = {"full_scale": bench.full_scale, "nulled": bench.nulled, "fuse": bench.fuse}
    return bench.meter.read(now, bench.mode, a, b, **given)  # type: ignore[arg-type]


def _size(reading: Reading) -> float:
    return float("inf") if reading.value is None else reading.value


def tag_wire(bench: Worksite, record: Act, wire: str, text: str) -> None:
    """Put a tag that says ``text`` on a wire, so that it finds its way back."""
    if not bench.cover_off:
        raise BenchError("The wires are behind the cover: take it off first.")
    if wire not in pullable() or wire not in situation_on(bench).circuit:
        raise BenchError(f"There is no wire '{wire}' to tag; there are: {', '.join(pullable())}.")
    if not isinstance(text, str) or not 0 < len(text.strip()) <= _LONGEST_TAG or not text.isprintable():
        raise BenchError(f"A tag holds 1 to {_LONGEST_TAG} letters.")
    bench.hands(record)
    bench.tags[wire] = text.strip()
