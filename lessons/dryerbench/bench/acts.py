"""What each act of the bench needs, changes and notes. ``Bench.do`` runs them by name; the names are the table's."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import combinations

from dryerbench.bench import adjustments, customer, gauges, precautions, probing, senses, supply, warm_places
from dryerbench.bench.access import arrangement_of, cover_minutes, one_shots, pullable, replaceable
from dryerbench.bench.contact import note_probe, reach
from dryerbench.bench.faults import catalogue, fits, read_fault
from dryerbench.bench.meter import PROBE_MODES
from dryerbench.bench.meter_ranges import fits_mains, ranges
from dryerbench.bench.senses import VENT, seen_at
from dryerbench.bench.shop_names import heat_words, listed, shop_name
from dryerbench.bench.states import ROOM, heat_asked
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError, Worksite, faults_on, hold_heat, machine_on, mend, situation_on
from dryerbench.family.arrangement import Cover

_OVEN = (-20.0, 250.0)
_OUTSIDE = ("vent", "cord")  # parts that are replaced with the cover on
HANDS = ("licensed electrician", "utility", "qualified person")
"""To whom a job can be handed over: wiring of the house, neutral of the service, readings on the live machine."""


def _prove_meter(bench: Worksite, record: Act) -> None:
    record["facts"]["shows_nothing"] = not bench.fuse
    shows = "the meter shows the known live source"
    record["happened"].append(
        shows if bench.fuse else "the meter shows nothing on the known live source: do not trust it"
    )


def _test_dead(bench: Worksite, record: Act, where: str = "plug") -> None:
    places = {"plug": ("plug-1", "plug-2", "plug-N", "plug-G", "case"), "block": ("L1", "L2", "N", "case")}
    places["outlet"] = ("outlet-1", "outlet-2", "outlet-N", "outlet-G")
    if where not in places:
        raise BenchError(f"You can test dead at: {listed(places)}; not at '{where}'.")
    if where == "plug" and bench.state.plugged:
        raise BenchError(
            "The plug is in the receptacle. Unplug first and test its blades. Or, with the breaker locked, wear rated "
            "gloves, take the cover off and test at the block."
        )
    now = situation_on(bench)
    there = [point for point in places[where] if point in now.circuit.nodes]
    for point in there:
        reach(bench, point)
    shown = [bench.meter.read(now, "volts", a, b, fuse=bench.fuse) for a, b in combinations(there, 2)]
    live = any(now.is_live(a, b) for a, b in combinations(there, 2))
    found = live and bench.fuse
    record["readings"] = [reading.as_data() for reading in shown]
    record["facts"] |= {
        "found_live": found,
        "live_bare": live and not bench.gear,
        "isolated": bench.isolated,
        "category_low": live and not fits_mains(bench.rating),
    }
    record["happened"].append("the circuit is live" if found else "no volts anywhere")


def _cover_off(bench: Worksite, record: Act, cover: str = "") -> None:
    """Take one cover off, or every cover in its order."""
    covers = _covers(bench, cover)
    left = [one for one in covers if one.name not in bench.covers_off]
    if not left:
        raise BenchError("The cover is off already.")
    if cover and left[0].after and left[0].after not in bench.covers_off:
        raise BenchError(f"The {left[0].after} comes off before the {cover}.")
    bench.covers_off |= {one.name for one in left}
    _time_covers(bench, record, cover, left)


def _cover_on(bench: Worksite, record: Act, cover: str = "") -> None:
    """Put one cover on, or every cover that is off."""
    covers = _covers(bench, cover)
    there = [one for one in covers if one.name in bench.covers_off]
    if not there:
        raise BenchError("The cover is on already.")
    later = [one.name for one in _covers(bench, "") if cover and one.after == cover and one.name in bench.covers_off]
    if later:
        raise BenchError(f"The {later[0]} goes on before the {cover}.")
    bench.covers_off -= {one.name for one in there}
    _time_covers(bench, record, cover, there)
    record["facts"]["live_bare"] = bench.energized and not bench.gear


def _covers(bench: Worksite, name: str) -> tuple[Cover, ...]:
    covers = arrangement_of(machine_on(bench)).covers
    if not name:
        return covers
    found = tuple(one for one in covers if one.name == name)
    if not found:
        raise BenchError(f"There is no cover '{name}'; there are: {', '.join(one.name for one in covers)}.")
    return found


def _time_covers(bench: Worksite, record: Act, named: str, moved: Sequence[Cover]) -> None:
    """Take the minutes by the screws; all covers of the lessons' own machine together take what the table says."""
    if named or machine_on(bench).stands is not None:
        record["minutes"] = round(sum(map(cover_minutes, moved)), 1)


def _pull_wire(bench: Worksite, record: Act, wire: str) -> None:
    _wire_in_reach(bench, wire)
    if wire in bench.state.pulled:
        raise BenchError(f"The {wire} is off already.")
    bench.hands(record)
    bench.settle(record, pulled=bench.state.pulled | {wire})


def _put_back_wire(bench: Worksite, record: Act, wire: str) -> None:
    _wire_in_reach(bench, wire)
    if wire not in bench.state.pulled:
        raise BenchError(f"The {wire} is on already.")
    bench.hands(record)
    bench.settle(record, pulled=bench.state.pulled - {wire})


def _wire_in_reach(bench: Worksite, wire: str) -> None:
    there = pullable(machine_on(bench))
    if wire not in there:
        raise BenchError(f"There is no wire '{wire}' to pull; there are: {listed(there)}.")
    if not bench.bared(wire):
        raise BenchError("The wires are behind the cover. Take it off first.")


def _open_door(bench: Worksite, record: Act) -> None:
    bench.settle(record, door_closed=False, running=False)


def _close_door(bench: Worksite, record: Act) -> None:
    bench.switch(record, door_closed=True)


def _ask_heat(bench: Worksite, record: Act, heat: str = "high") -> None:
    offered = heats_of(bench)
    heat = next((name for name in offered if heat in (name, heat_words(name))), heat)
    if heat not in offered:
        words = [heat_words(name) for name in offered]
        raise BenchError(f"The control has the settings {', '.join(words[:-1])} and {words[-1]}, not '{heat}'.")
    if record["with"]:
        record["with"] = {"heat": heat}
    bench.switch(record, **heat_asked(heat))


def heats_of(bench: Worksite) -> tuple[str, ...]:
    """Return the settings of the control: heats, no heat (``air`` where a dial runs without it), and off."""
    machine = machine_on(bench)
    if machine.stands is None:
        return ("high", "low", "none")
    return (*arrangement_of(machine).heats, "air", "off")


def _press_start(bench: Worksite, record: Act) -> None:
    bench.switch(record, start_pressed=True)
    bench.settle(record, start_pressed=False)
    record["happened"] = list(dict.fromkeys(record["happened"]))


def _stop(bench: Worksite, record: Act) -> None:
    bench.settle(record, running=False)


def _let_run(bench: Worksite, record: Act) -> None:
    """Let the machine run as it is set: what heat, air and switches then do follows with the minutes."""
    record["facts"]["heat_asked"] = bench.asked.calling and bench.asked.running
    record["facts"]["ground_current"] = probing.ground_amps(situation_on(bench)) > probing.BURNING_AMPS
    bench.switch(record)


def _warm_parts(bench: Worksite, record: Act, celsius: float) -> None:
    if isinstance(celsius, bool) or not isinstance(celsius, int | float) or not _OVEN[0] <= celsius <= _OVEN[1]:
        low, high = (round(one * 1.8 + 32.0) for one in _OVEN)
        raise BenchError(
            f"Parts can be held at {low} to {high} °F ({_OVEN[0]:g} to {_OVEN[1]:g} °C), not at {celsius!r}."
        )
    if not bench.cover_off:
        raise BenchError("The thermostats are behind the cover. Take it off first.")
    bench.hands(record)
    hold_heat(bench, held=True)
    kept = bench.state.tripped & one_shots(machine_on(bench))
    bench.settle(record, exhaust_celsius=float(celsius), limit_celsius=float(celsius), tripped=kept)


def _cool_down(bench: Worksite, record: Act) -> None:
    hold_heat(bench, held=False)
    kept = bench.state.tripped & one_shots(machine_on(bench))
    bench.settle(record, exhaust_celsius=ROOM, limit_celsius=ROOM, element_celsius=ROOM, tripped=kept)


def _set_dial(bench: Worksite, _: Act, mode: str, full_scale: float | None = None) -> None:
    if mode not in PROBE_MODES:
        raise BenchError(f"The dial has no '{mode}'; it has {', '.join(PROBE_MODES)}.")
    if full_scale is not None and all(scale.full_scale != full_scale for scale in ranges(mode)):
        offered = ", ".join(scale.show(scale.full_scale) for scale in ranges(mode))
        raise BenchError(f"The setting {mode} has no range of {full_scale!r}; it has {offered}.")
    bench.mode, bench.full_scale = mode, full_scale


def _null_leads(bench: Worksite, record: Act) -> None:
    if not bench.fuse:
        record["happened"].append("the meter shows OL with its tips touching: do not trust it")
        return
    bench.nulled = True
    null = bench.meter.lead_null(machine_on(bench).name)
    record["happened"].append(f"the meter stores {null:.1f} Ω of its test leads")


def _replace_fuse(bench: Worksite, _: Act) -> None:
    bench.fuse = True


def _probe(bench: Worksite, record: Act, a: str, b: str) -> None:
    for point in (a, b):
        reach(bench, point)
    now, mode = situation_on(bench), bench.mode
    reading = bench.meter.read(now, mode, a, b, full_scale=bench.full_scale, nulled=bench.nulled, fuse=bench.fuse)
    bench.note_reading(record, reading)
    note_probe(bench, record, a, b, reading.shown)
    if "fuse" in reading.trouble:
        bench.fuse = False
        record["happened"].append("the meter's fuse blows")


def _clamp(bench: Worksite, record: Act, conductor: str) -> None:
    cord = tuple(name for name in ("cord 1", "cord 2", "cord N", "ground wire") if name in situation_on(bench).circuit)
    inside = conductor.startswith("wire ")
    wires = pullable(machine_on(bench))
    if conductor not in (*wires, *cord, "cord") or (inside and conductor not in situation_on(bench).circuit):
        raise BenchError(f"The clamp goes around the cord, {listed((*cord, *wires))}; not '{shop_name(conductor)}'.")
    split = bench.splitter and conductor in ("cord 1", "cord 2", "cord N")
    if conductor != "cord" and not bench.bared(conductor if inside else "terminal block") and not split:
        raise BenchError(
            "You reach one wire behind the cover, or with a line splitter. Around the whole cord the amps cancel."
        )
    jaw = cord if conductor == "cord" else (conductor,)
    bench.note_reading(record, bench.meter.clamp(situation_on(bench), jaw, conductor))
    record["facts"] |= {
        "live_bare": conductor != "cord" and bench.energized and not bench.gear and not split,
        "category_low": bench.energized and not fits_mains(bench.rating),
    }


def _replace_part(bench: Worksite, record: Act, part: str) -> None:
    """Put a new part in; what belongs to the house's wiring is handed over, not touched."""
    parts = replaceable(machine_on(bench))
    if part not in parts:
        raise BenchError(f"'{shop_name(part)}' cannot be replaced; these can: {listed(parts)}.")
    record["minutes"], by_electrician = parts[part]
    if not by_electrician and part not in _OUTSIDE and not bench.bared(part):
        raise BenchError(f"The {shop_name(part)} is behind the cover. Take it off first.")
    if by_electrician:
        record["happened"].append("handed off: house wiring is a job for a licensed electrician or the utility")
    elif part in _OUTSIDE:
        record["facts"] |= {
            "hands_on_live": part == "cord" and bench.energized,
            "outside_in_use": part == "vent" and not bench.isolated,
        }
    else:
        bench.hands(record)
    mend(bench, part)
    tripped = bench.state.tripped - {part}
    if part == "thermal cut-off":
        bench.settle(record, cutoff_blown=False)
    else:
        bench.settle(record, tripped=tripped)


def _look_vent(bench: Worksite, record: Act) -> None:
    """Look into filter, duct and hood, with the machine pulled forward: that takes a machine that nobody can power."""
    if not bench.isolated:
        raise BenchError("The duct is behind the dryer. Pull the plug, or lock the breaker, before you move it.")
    blocked = any(catalogue(fault.name)["part"] == "vent" for fault in faults_on(bench))
    record["facts"]["vent_blocked"] = blocked
    shows = seen_at(bench, VENT) or ["lint is packed in the vent"]
    record["happened"] += shows if blocked else ["lint screen, duct and vent hood are clear"]


def _stop_and_hand_over(_: Worksite, record: Act, to: str) -> None:
    if to not in HANDS:
        raise BenchError(f"You can hand a job to one of: {', '.join(HANDS)}; not to '{to}'.")
    record["happened"].append(f"the job is handed to: {to}")


def _name_fault(bench: Worksite, record: Act, fault: str) -> None:
    named = read_fault(fault, machine_on(bench))
    if not fits(named, machine_on(bench)):
        raise BenchError(f"This dryer has a {machine_on(bench).cord} cord: it cannot have the fault {named.name}.")
    record["with"] = {"fault": str(named)}


TOUCHING = frozenset(
    (
        "cover_off",
        "cover_on",
        "pull_wire",
        "put_back_wire",
        "open_door",
        "close_door",
        "ask_heat",
        "press_start",
        "stop",
        "warm_parts",
        "look_vent",
        "wiggle",
        "tap",
        "tag_wire",
        "service_test",
        "reset",
        "tighten",
    )
)
"""Acts for which a hand lies on the machine's case."""
ACTS: Mapping[str, Callable[..., None]] = {
    "unplug": supply.unplug,
    "plug_in": supply.plug_in,
    "open_breaker": supply.open_breaker,
    "close_breaker": supply.close_breaker,
    "lock": supply.lock,
    "unlock": supply.unlock,
    "prove_meter": _prove_meter,
    "test_dead": _test_dead,
    "cover_off": _cover_off,
    "cover_on": _cover_on,
    "gear_on": precautions.gear_on,
    "gear_off": precautions.gear_off,
    "pull_wire": _pull_wire,
    "put_back_wire": _put_back_wire,
    "open_door": _open_door,
    "close_door": _close_door,
    "ask_heat": _ask_heat,
    "press_start": _press_start,
    "stop": _stop,
    "let_run": _let_run,
    "warm_parts": _warm_parts,
    "cool_down": _cool_down,
    "set_dial": _set_dial,
    "null_leads": _null_leads,
    "replace_fuse": _replace_fuse,
    "probe": _probe,
    "clamp": _clamp,
    "temperature": warm_places.temperature,
    "replace_part": _replace_part,
    "look_vent": _look_vent,
    "stop_and_hand_over": _stop_and_hand_over,
    "name_fault": _name_fault,
    "glasses_on": precautions.glasses_on,
    "glasses_off": precautions.glasses_off,
    "cap_plug": precautions.cap_plug,
    "uncap_plug": precautions.uncap_plug,
    "take_meter": precautions.take_meter,
    "discharge": precautions.discharge,
    "fit_splitter": precautions.fit_splitter,
    "remove_splitter": precautions.remove_splitter,
    "look": senses.look,
    "wiggle": senses.wiggle,
    "tap": senses.tap,
    "tag_wire": senses.tag_wire,
    "airflow": gauges.airflow,
    "pressure": gauges.pressure,
    "leakage": gauges.leakage,
    "stored_fault": gauges.stored_fault,
    "service_test": gauges.service_test,
    "phone_customer": customer.phone_customer,
    "order_part": customer.order_part,
    "leave": customer.leave,
    "reset": adjustments.reset,
    "tighten": adjustments.tighten,
}
DETAILS: Mapping[str, tuple[str, ...]] = {
    "test_dead": ("where",),
    "cover_off": ("cover",),
    "cover_on": ("cover",),
    "pull_wire": ("wire",),
    "put_back_wire": ("wire",),
    "ask_heat": ("heat",),
    "warm_parts": ("celsius",),
    "set_dial": ("mode", "full_scale"),
    "probe": ("a", "b"),
    "clamp": ("conductor",),
    "temperature": ("spot", "unit"),
    "replace_part": ("part",),
    "stop_and_hand_over": ("to",),
    "name_fault": ("fault",),
    "take_meter": ("rating",),
    "look": ("place",),
    "wiggle": ("wire", "a", "b"),
    "tap": ("part", "a", "b"),
    "tag_wire": ("wire", "text"),
    "phone_customer": ("about",),
    "order_part": ("part",),
    "reset": ("part",),
    "tighten": ("wire",),
}
