"""Eyes and hands: what is seen at a place, what a reading does while a wire is moved or a part is tapped, tags.

What is seen follows from the faults. A loose or burnt joint moves with its wire, and with the part at its end when that
is tapped. Of the lessons' burnt joint the strength then runs through its whole range (``_MOVED``, ``_TAPPED``).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from dryerbench.bench.access import arrangement_of, pullable
from dryerbench.bench.contact import note_probe, reach
from dryerbench.bench.faults import Fault, catalogue, family_of
from dryerbench.bench.machine import ELEMENTS
from dryerbench.bench.reading import Reading
from dryerbench.bench.schoolroom import our_name
from dryerbench.bench.shop_names import listed
from dryerbench.bench.situation import Situation
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError, Worksite, faults_on, machine_on, situation_on
from dryerbench.family import faults as family_faults
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.fault_targets import Target
from dryerbench.family.faults import target_of

_HEATER_WIRES = frozenset({"wire T0", "wire T1", "wire T2", "wire T3"})
LONGEST_TAG = 24
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
    return [
        kind,
        "there is a long, thin extension cord in between" if extension else "it goes straight to the receptacle",
    ]


def _plug(bench: Worksite) -> list[str]:
    if bench.state.plugged:
        raise BenchError("The blades are in the receptacle. Pull the plug to see them.")
    return ["the blades are bright and straight"]


def _block(bench: Worksite) -> list[str]:
    _open(bench, "The terminal block")
    names, four = _names(bench), machine_on(bench).cord == "four-wire"
    joint = "the leg 1 screw is brown and its wire is stiff" if "burnt-joint" in names else "screws and wires are clean"
    strapped = "strap-left-on" in names or (not four and "strap-missing" not in names)
    strap = "a strap connects neutral to the cabinet" if strapped else "no strap connects neutral to the cabinet"
    ground = "the green wire is off the cabinet" if "missing-bond" in names else "the green wire is on the cabinet"
    return [joint, strap, *([ground] if four else [])]


def _heater(bench: Worksite) -> list[str]:
    _open(bench, "The heater box")
    if not bench.state.pulled >= _HEATER_WIRES:
        raise BenchError("The coils are in the heater box. Pull the wires off T0 to T3, and it comes out.")
    bad = {
        "open": "is broken",
        "shorted": "has shorted turns",
        "grounded": "touches its frame",
    }
    seen = [
        f"coil {n} {words}" for n in ELEMENTS for end, words in bad.items()
        if f"element-{n}-{end}" in _names(bench)
    ]  # fmt: skip
    damp = ["the insulators are dirty and damp"] if "leakage-to-case" in _names(bench) else []
    return seen + damp or ["the coils are whole and clear of the metal"]


def _switches(bench: Worksite) -> list[str]:
    _open(bench, "The thermostats")
    return ["nothing shows on the thermostats. Only a reading tells"]


def _motor(bench: Worksite) -> list[str]:
    _open(bench, "The motor")
    return ["there is lint around the motor; belt and pulley are in place"]


LOOKS: Mapping[str, Callable[[Worksite], list[str]]] = {
    "outside": _outside,
    "plug": _plug,
    "terminal block": _block,
    "heater box": _heater,
    "heat switches": _switches,
    "motor": _motor,
}
"""Where one can look, and what is seen there, in words. The vent has an act of its own."""


_PLACES = {"block screw": "terminal block", "plug blade": "plug"}
_AT_BOX = ("coil", "heater lead", "splice lead", "jumper", "shared terminal")
_AT_BLOCK = ("ground-off", "strap-left-on", "strap-off")
_SHOWS_NOTHING = "nothing"
VENT = "vent"
"""Where a fault of the air alone is seen: lint screen, duct and hood."""


def looks(bench: Worksite) -> tuple[str, ...]:
    """Return where one can look at the machine on ``bench``."""
    machine = machine_on(bench)
    if machine.stands is None:
        return tuple(LOOKS)
    return (
        "outside",
        "plug",
        "terminal block",
        *dict.fromkeys((*dict(arrangement_of(machine).stands).values(), "box")),
    )


def place_seen(made: Arrangement, fault: family_faults.Fault) -> str:
    """Return where a fault of the family can be seen on a machine of the arrangement; of the air alone, in the vent."""
    if fault.air_lost and fault.kind.on == ("machine",):
        return VENT
    where = fault.kind.on[0]
    if where in _AT_BOX:
        return "box"
    if where == "machine":
        return "terminal block" if fault.name in _AT_BLOCK else "outside"
    return _PLACES.get(where, dict(made.stands).get(fault.on, "outside"))


def seen_at(bench: Worksite, place: str) -> list[str]:
    """Return what the faults of the family show at ``place``, on a machine that is not the lessons' own."""
    if machine_on(bench).stands is None and place == VENT:
        return []
    made, found = arrangement_of(machine_on(bench)), family_of(machine_on(bench), faults_on(bench))
    words = [fault.kind.seen for fault in found if place_seen(made, fault) == place]
    return [one for one in words if one != _SHOWS_NOTHING]


def _look_elsewhere(bench: Worksite, place: str) -> list[str]:
    """Return what is seen at ``place`` of a machine that is not the lessons' own."""
    if place == "outside":
        return [*_outside(bench), *seen_at(bench, place)]
    if place == "plug":
        return seen_at(bench, place) or _plug(bench)
    made = arrangement_of(machine_on(bench))
    parts = [part for part, spot in made.stands if spot == place] + list(made.box_terminals) * (place == "box")
    if not all(map(bench.bared, parts or [place])):
        raise BenchError(f"The {place} cannot be seen with its cover on. Take the cover off first.")
    return seen_at(bench, place) or ["nothing shows there. Only a reading tells"]


def _open(bench: Worksite, what: str) -> None:
    if not bench.cover_off:
        raise BenchError(f"{what} cannot be seen with the cover on. Take the cover off first.")


def look(bench: Worksite, record: Act, place: str) -> None:
    """Look at a place and say what is seen there."""
    if place not in looks(bench):
        raise BenchError(f"You can look at: {listed(looks(bench))}; not at '{place}'.")
    own = machine_on(bench).stands is None
    record["happened"] += LOOKS[place](bench) if own else _look_elsewhere(bench, place)


def wiggle(bench: Worksite, record: Act, wire: str, a: str, b: str) -> None:
    """Read between two points while ``wire`` is moved."""
    there = ("cord", *(one for one in pullable(machine_on(bench)) if one in situation_on(bench).circuit))
    if wire not in there:
        raise BenchError(f"There is no wire '{wire}' to move; there are: {', '.join(there)}.")
    _read_moving(bench, record, [fault for fault in faults_on(bench) if wire in _moves(bench, fault)], a, b)


def _joint(bench: Worksite, fault: Fault) -> Target | None:
    """Return what a fault hangs on that moves when it is touched: a loose or burnt joint of the family."""
    (known,) = family_of(machine_on(bench), [fault])
    moves = known.kind.does in ("loosens", "burns") or (known.kind.does == "joint" and fault.name not in _MOVED)
    return target_of(arrangement_of(machine_on(bench)), known) if moves else None


def _moves(bench: Worksite, fault: Fault) -> tuple[str, ...]:
    """Return the wires that move ``fault``."""
    joint = _joint(bench, fault)
    if joint is None:
        return _MOVED.get(fault.name, ())
    return ("cord",) if joint.part.startswith(("cord ", "plug ")) else (our_name(machine_on(bench), joint.part),)


def _shakes(bench: Worksite, fault: Fault) -> tuple[str, ...]:
    """Return the parts on which a tap moves ``fault``."""
    joint = _joint(bench, fault)
    if joint is None:
        return _TAPPED.get(fault.name, ())
    at_block = joint.part.startswith("cord ")
    ends = [end.partition(".")[0] for end in joint.points]
    return ("terminal block",) if at_block else ("heater box", *(our_name(machine_on(bench), end) for end in ends))


def tappable(bench: Worksite) -> tuple[str, ...]:
    """Return the parts of the machine on ``bench`` that can be tapped."""
    machine = machine_on(bench)
    if machine.stands is None:
        return TAPPABLE
    return ("terminal block", "heater box", *(part.name for part in arrangement_of(machine).parts))


def tap(bench: Worksite, record: Act, part: str, a: str, b: str) -> None:
    """Read between two points while ``part`` is tapped with an insulated handle."""
    if part not in tappable(bench):
        raise BenchError(f"You can tap: {', '.join(tappable(bench))}; not '{part}'.")
    _read_moving(bench, record, [fault for fault in faults_on(bench) if part in _shakes(bench, fault)], a, b)


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
    """Return the machine as it stands, and moved: joints stirred, the lessons' burnt joint at the ends of its range."""
    now = situation_on(bench)
    found = [now]
    for fault in moving:
        if _joint(bench, fault) is not None:
            found.append(now.moved(stirred=True))
            continue
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
    if not bench.bared(wire):
        raise BenchError("The wires are behind the cover. Take it off first.")
    there = pullable(machine_on(bench))
    if wire not in there:
        raise BenchError(f"There is no wire '{wire}' to tag; there are: {', '.join(there)}.")
    if not isinstance(text, str) or not 0 < len(text.strip()) <= LONGEST_TAG or not text.isprintable():
        raise BenchError(f"A tag holds 1 to {LONGEST_TAG} letters.")
    bench.hands(record)
    bench.tags[wire] = text.strip()
