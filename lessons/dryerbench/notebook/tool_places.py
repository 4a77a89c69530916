"""Where clamp and temperature probe can be put on a drawn machine: what the page calls a place, and what it is there.

As with terminals, an id says the place alone: ``box-1-1-2/1`` is the first wire at a terminal, ``block-1/cord`` the
cord's conductor at a post, ``blower-body-2`` the second part at the blower.
"""

from __future__ import annotations

from collections.abc import Mapping

from dryerbench.bench.schoolroom import our_name
from dryerbench.bench.warm_places import BOX_METAL, EXHAUST, LIMIT, MOTOR, touchable, warm_places
from dryerbench.bench.worksite import situation_on
from dryerbench.machine_view.box_view import SHEET_METAL
from dryerbench.machine_view.scene import CORD, EXHAUST_AIR, GROUND, ROOM_AIR
from dryerbench.machine_view.spots import body_spots, views
from dryerbench.notebook.machine_names import MachineNames, NoSuchPlaceError

_ONE_BY_ONE = ("cord 1", "cord N", "cord 2")
_CORD_AT = {f"{at}-{place}/cord": name for at in ("block", "wall") for place, name in enumerate(_ONE_BY_ONE, start=1)}
"""The cord's conductor at each post of the terminal block, and in each bay of a line splitter at the receptacle."""
_LUMPS = (BOX_METAL, MOTOR)
_WORDS = {"room": "the room's air", EXHAUST: "the exhaust", LIMIT: "the high limit"}


def clamp_places(names: MachineNames) -> dict[str, tuple[str, str]]:
    """Return what the clamp can be put around as things stand: id and words, by the key that the drawing has for it."""
    bench = names.bench
    circuit = situation_on(bench).circuit
    found = {CORD: (CORD, "the whole cord")}
    if bench.splitter and bench.state.plugged:
        for place, cord in enumerate(_ONE_BY_ONE, start=1):
            found[f"{CORD}@splitter-{place}"] = (f"wall-{place}/cord", f"{cord} in the line splitter")
    if bench.bared("terminal block"):
        posts = {"block-1": "L1", "block-2": "N", "block-3": "L2"}
        for post, point in posts.items():
            token = f"{post}/cord"
            words = _CORD_AT[token] if names.named else f"the cord's wire at {names.at_spot(post)}"
            found[f"{CORD}@{point}"] = (token, words)
        if GROUND in circuit:
            found[GROUND] = (GROUND, GROUND)
    for key, token, wire in names.wire_ends():
        if wire in circuit and wire not in bench.state.pulled and bench.bared(wire):
            found[key] = (token, names.at_wire(token))
    return found


def conductor_of(said: object) -> object:
    """Return the conductor that the page means, as the list of the panel says it."""
    return _CORD_AT.get(said, said) if isinstance(said, str) else said


def jaw_place(names: MachineNames, said: str, view: str) -> str:
    """Return the id of the place where the jaw is, of what was pressed or chosen in the list; nothing if not drawn.

    A wire that was chosen by its name is clamped where one looks, if one of its ends is there.
    """
    if said in _ONE_BY_ONE:
        there = {token for token, _ in clamp_places(names).values()}
        ends = [token for token, cord in _CORD_AT.items() if cord == said and token in there]
        return next((token for token in ends if token.startswith(f"{view}-")), ends[0] if ends else "")
    if said in (CORD, GROUND) or "/" in said:
        return said
    ends = [token for token, wire in names.wire_of.items() if wire == said and "/" in token]
    here = [token for token in ends if token.partition("/")[0] in names.spots.get(view, ())]
    return next(iter([*here, *ends]), "")


def jaw_holds(names: MachineNames, jaw: str) -> bool:
    """Return whether the clamp still is where it was put: nothing was closed or pulled off there since."""
    return jaw in {token for token, _ in clamp_places(names).values()}


def jaw_words(names: MachineNames, jaw: str) -> str:
    """Return what the clamp is around, in words; nothing if it is around nothing."""
    return next((words for token, words in clamp_places(names).values() if token == jaw), "")


# --- the temperature probe -------------------------------------------------------------------------------------------


def probe_places(names: MachineNames) -> Mapping[str, str]:
    """Return the bench's place at each id that the temperature probe may have on this machine."""
    own, machine = names.own, names.machine
    known = set(warm_places(machine))
    found = {ROOM_AIR: "room", EXHAUST_AIR: EXHAUST}
    for view in views(own):
        for spot, part in body_spots(own, view).items():
            place = MOTOR if part == own.arrangement.motor.name else our_name(machine, part)
            if place in known:
                found[spot] = place
    return found | ({SHEET_METAL: BOX_METAL} if BOX_METAL in known else {})


def place_of(names: MachineNames, said: object) -> str:
    """Return the bench's place for the temperature probe that the page means.

    Raises
    ------
    NoSuchPlaceError
        If there is none.
    """
    there = probe_places(names)
    called = {warm_words(names, place): place for place in there.values()} | {LIMIT: LIMIT}
    called |= {place: place for place in there.values() if names.named or place in _WORDS or place in _LUMPS}
    if isinstance(said, str) and said in (known := {**called, **there}):
        return known[said]
    raise NoSuchPlaceError("The temperature probe has no such place on this dryer.")


def bead_place(names: MachineNames, place: str) -> str:
    """Return the id of where the probe's bead is at a place of the bench."""
    limits = [part.name for part in names.own.arrangement.of_kind("high limit")]
    wanted = our_name(names.machine, limits[0]) if place == LIMIT and limits else place
    return next((spot for spot, one in probe_places(names).items() if one == wanted), "")


def warm_words(names: MachineNames, place: str) -> str:
    """Return what a place for the temperature probe is called."""
    return _WORDS.get(place) or names.of_part(place)


def touched_places(names: MachineNames) -> dict[str, str]:
    """Return the places that the temperature probe reaches as things stand: words by id."""
    there = probe_places(names).items()
    return {spot: warm_words(names, place) for spot, place in there if touchable(names.bench, place)}


def probe_choices(names: MachineNames) -> list[list[str]]:
    """Return every place for the temperature probe with its words, for the list of the panel."""
    return [[spot, warm_words(names, place)] for spot, place in probe_places(names).items()]
