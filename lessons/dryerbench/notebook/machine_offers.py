"""What the panel of a drawn machine offers and says: lists for keys and readers, the state, the trail in words."""

from __future__ import annotations

from collections.abc import Sequence

from dryerbench.bench.acts import DETAILS, HANDS, heats_of
from dryerbench.bench.adjustments import resettable
from dryerbench.bench.contact import reach
from dryerbench.bench.customer import TALKS
from dryerbench.bench.meter_ranges import RATINGS
from dryerbench.bench.senses import LONGEST_TAG, looks, tappable
from dryerbench.bench.shop_names import CABINET_WORD, CASE, heat_words, mode_words, shop_name
from dryerbench.bench.worksite import situation_on
from dryerbench.core.errors import LegToLegError
from dryerbench.core.tables import table
from dryerbench.machine_view.palette import DARK, LIGHT, variables
from dryerbench.machine_view.scene import SIDES
from dryerbench.machine_view.side_view import spoken_view
from dryerbench.notebook.bench_view import trail_words
from dryerbench.notebook.machine_names import COIL, MachineNames
from dryerbench.notebook.machine_scene import Look, on_display, places, position
from dryerbench.notebook.panel_lists import ALL, Lists
from dryerbench.notebook.tool_places import jaw_words, probe_choices, probe_places, warm_words

Choice = list[str]
"""What can be chosen: what the page sends, and its words."""


def _called(names: Sequence[str]) -> list[Choice]:
    return [[name, shop_name(name)] for name in names]


def _same(words: Sequence[str]) -> list[Choice]:
    return [[word, word] for word in words]


def _all_spots(names: MachineNames) -> list[Choice]:
    there = [spot for spot, point in names.point_at.items() if point != CASE and names.measured(spot)]
    if names.named:
        return _called([CASE, *dict.fromkeys(names.point_at[spot] for spot in there)])
    return [[CASE, CABINET_WORD], *([spot, names.at_spot(spot)] for spot in there)]


def _all_wires(names: MachineNames) -> list[Choice]:
    circuit = situation_on(names.bench).circuit
    return [[token, words] for token, words, wire in names.wires_here(tuple(names.point_at)) if wire in circuit]


def _bond(names: MachineNames) -> list[Choice]:
    return [["ground wire", "ground wire"]] if "ground wire" in situation_on(names.bench).circuit else []


def more_offers(names: MachineNames, acts: Sequence[str]) -> list[dict[str, object]]:
    """Return the acts of the list *More* as plain data: act, title, and each detail with what there is to choose."""
    wires = [*_all_wires(names), *_bond(names)] if acts else []
    ends = _all_spots(names) if acts else []
    choices: dict[tuple[str, str], list[Choice]] = {
        ("take_meter", "rating"): _same(RATINGS),
        ("look", "place"): _called(looks(names.bench)),
        ("wiggle", "wire"): [["cord", "cord"], *wires],
        ("tap", "part"): _same([names.of_part(part) for part in tappable(names.bench)]),
        ("phone_customer", "about"): _same(list(TALKS)),
        ("order_part", "part"): _same(list(names.orders)),
        ("reset", "part"): _same([names.of_part(part) for part in resettable(names.machine)]),
        ("tighten", "wire"): [["cord", "screws of the terminal block"], *_all_wires(names)],
        **{(act, end): ends for act in ("wiggle", "tap") for end in "ab"},
    }
    return [
        {
            "act": name,
            "title": table("bench-acts").row(act=name).text("title"),
            "fields": [{"name": key, "choices": choices.get((name, key))} for key in DETAILS.get(name, ())],
        }
        for name in acts
        if all(choices.get((name, key)) != [] for key in DETAILS.get(name, ()))
    ]


def offers(names: MachineNames, lists: Lists = ALL) -> dict[str, object]:
    """Return what does not change while one works: what can be chosen, and the colors of both themes."""
    circuit = situation_on(names.bench).circuit
    cord = [name for name in ("cord 1", "cord 2", "cord N") if name in circuit]
    parts = _same(list(names.parts)) if names.named else [["", COIL], *_same(list(names.parts))]
    return {
        "named": names.named,
        "tag": 0 if names.named else LONGEST_TAG,
        "heats": [[heat, heat_words(heat)] for heat in heats_of(names.bench)],
        "cords": ["cord", *cord, *(one[0] for one in _bond(names))],
        "warm": probe_choices(names),
        "parts": parts,
        "box": [] if names.named else _box_spots(names),
        "dead": _called(["plug", "outlet", "block"]),
        "hands": list(HANDS),
        "covers": [[f"cover-{number}", cover.name] for number, cover in enumerate(names.own.covers, start=1)],
        "colors": {"light": variables(LIGHT), "dark": variables(DARK)},
        "pages": list(lists.pages),
        "more": more_offers(names, lists.more),
    }


def _box_spots(names: MachineNames) -> list[Choice]:
    terminals = set(names.own.seats)
    return [[spot, names.at_spot(spot)] for spot in names.point_at if names.terminal(spot) in terminals]


def seen(names: MachineNames, look: Look) -> dict[str, object]:
    """Return what can be seen of the bench now, as plain data; never the faults, and no name that is not shown."""
    bench = names.bench
    state = bench.state
    acts = [names.of_act(act) for act in bench.trail]
    dial = state.dial if names.machine.stands else ("low" if state.low_heat else "high") if state.calling else "none"
    return {
        "plugged": state.plugged,
        "breaker_on": state.breaker_on,
        "locked": bench.locked,
        "gear": bench.gear,
        "door_closed": state.door_closed,
        "heat": dial,
        "running": state.running,
        "fahrenheit": None if state.exhaust_celsius is None else round(state.exhaust_celsius * 1.8 + 32.0),
        "covers_off": [f"cover-{n}" for n, one in enumerate(names.own.covers, 1) if one.name in bench.covers_off],
        "nulled": bench.nulled,
        "fuse": bench.fuse,
        "dial": position(bench, look),
        "places": places(names),
        "reach": in_reach(names),
        "tips": {letter: spot or "" for letter, spot in look.tips.items()},
        "tip_words": {letter: names.at_spot(spot) if spot else "" for letter, spot in look.tips.items()},
        "put": put_words(names, look),
        "wires": wires_in_hand(names, look),
        "reading": reading_words(names, look),
        "minutes": bench.minutes,
        "trail": trail_words(acts),
        "findings": [[one.gate, one.place + 1, names.clean(one.what), one.caution] for one in bench.findings],
    }


def put_words(names: MachineNames, look: Look) -> dict[str, str]:
    """Return where clamp, temperature probe and airflow meter are, in words; nothing for what is put nowhere."""
    place = probe_places(names).get(look.bead)
    return {
        "clamp": jaw_words(names, look.jaw) if look.jaw else "",
        "temp": warm_words(names, place) if place else "",
        "airflow": "vent hood" if look.airflow else "",
    }


def in_reach(names: MachineNames) -> list[tuple[str, list[Choice]]]:
    """Return the spots that a probe reaches as things stand, place by place."""
    found = [("", [[names.spot_of[CASE], CABINET_WORD]])]
    for view, spots in names.spots.items():
        there = [
            [spot, names.at_spot(spot)] for spot in spots if names.point_at[spot] != CASE and _reaches(names, spot)
        ]
        if there:
            found.append((spoken_view(view), there))
    return found


def _reaches(names: MachineNames, spot: str) -> bool:
    try:
        reach(names.bench, names.point_at[spot])
    except LegToLegError:
        return False
    return True


def wires_in_hand(names: MachineNames, look: Look) -> list[list[object]]:
    """Return the wires that the page lists: of the place that is looked at, or all that have names.

    Each has its id, its words, whether it is off, and the spots on which it is.
    """
    if names.named:
        spots = tuple(names.point_at)
    elif look.at in SIDES:
        spots = ()
    else:
        spots = tuple(spot for spot in names.spots[look.at] if _reaches(names, spot))
    circuit, pulled = situation_on(names.bench).circuit, names.bench.state.pulled
    found: list[list[object]] = [
        [token, words, wire in pulled, names.spots_of_wire(wire)]
        for token, words, wire in names.wires_here(spots)
        if wire in circuit or wire in pulled
    ]
    bond = names.named or look.at == "block"
    return found + [[token, words, token in pulled, []] for token, words in (_bond(names) if bond else [])]


def reading_words(names: MachineNames, look: Look) -> dict[str, object]:
    """Return the last reading in words: what is shown, of what, and whether something was done since."""
    reading, old = on_display([names.of_act(act) for act in names.bench.trail], look)
    if reading is None:
        return {}
    beep = {None: "", True: " · beeps", False: " · silent"}[reading["beeps"]]
    mode = mode_words(reading["mode"])
    jaw = jaw_words(names, look.jaw) if reading["mode"] == "clamp" and look.jaw else ""
    return {
        "shown": reading["shown"] + beep,
        "of": f"{mode} · {jaw or ' to '.join(reading['places'])}",
        "trouble": reading["trouble"],
        "old": old,
        "held": look.held is not None,
        "beeps": bool(reading["beeps"]),
    }
