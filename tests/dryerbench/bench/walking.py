"""Acts to walk with, a copy of a bench, and what must be found after an act, told from the machine itself."""

from __future__ import annotations

import copy
from collections.abc import Hashable, Iterator
from dataclasses import replace
from typing import Any

from dryerbench.bench.access import arrangement_of, pullable
from dryerbench.bench.bench import Bench
from dryerbench.bench.meter import DEAD_MODES
from dryerbench.bench.senses import looks, tappable
from dryerbench.bench.worksite import BenchError, faults_on, machine_on, situation_on
from dryerbench.core.sealed import Sealed, unsealed

Variant = tuple[str, dict[str, Any]]
PLAIN = ("unplug", "plug_in", "open_breaker", "close_breaker", "lock", "unlock", "prove_meter", "cover_off", "cover_on",
         "gear_on", "gear_off", "open_door", "close_door", "press_start", "stop", "let_run", "cool_down", "null_leads",
         "replace_fuse", "look_vent", "glasses_on", "glasses_off", "cap_plug", "uncap_plug", "discharge",
         "fit_splitter", "remove_splitter", "airflow", "pressure", "leakage", "stored_fault", "service_test",
         "leave")  # fmt: skip
DETAILED: tuple[Variant, ...] = (
    *(("test_dead", {"where": where}) for where in ("plug", "block", "outlet")),
    *((act, {"wire": wire}) for act in ("pull_wire", "put_back_wire") for wire in ("wire T1", "wire T0", "wire S1")),
    *(("ask_heat", {"heat": heat}) for heat in ("high", "low", "none")),
    ("warm_parts", {"celsius": 140}),
    *(("set_dial", {"mode": mode}) for mode in ("volts", "ohms", "insulation")),
    *(("probe", {"a": a, "b": b}) for a, b in (("T0", "case"), ("T1", "T0"), ("L1", "L2"), ("plug-G", "case"),
                                               ("N", "case"), ("outlet-1", "outlet-2"), ("outlet-N", "outlet-G"),
                                               ("outlet-N", "case"), ("outlet-G", "T0"))),
    *(("clamp", {"conductor": name}) for name in ("cord", "cord 1", "wire L2")),
    *(("temperature", {"spot": spot}) for spot in ("exhaust", "limit", "motor", "heater box")),
    *(("replace_part", {"part": part}) for part in ("element 1", "ground wire", "vent", "cord", "breaker 2")),
    ("stop_and_hand_over", {"to": "licensed electrician"}),
    ("name_fault", {"fault": "element-1-open"}),
    *(("take_meter", {"rating": rating}) for rating in ("CAT II 600 V", "CAT III 600 V")),
    *(("look", {"place": place}) for place in ("outside", "terminal block", "heater box")),
    ("wiggle", {"wire": "wire H1", "a": "L1", "b": "H1"}),
    ("tap", {"part": "high limit", "a": "H7", "b": "H8"}),
    ("tag_wire", {"wire": "wire T1", "text": "one"}),
    ("phone_customer", {"about": "out of use"}),
    ("order_part", {"part": "element 1"}),
    ("reset", {"part": "Man"}),
    *(("tighten", {"wire": wire}) for wire in ("cord", "wire T1")),
)  # fmt: skip
ENDS = ("outlet-N", "outlet-G")
"""Slots of the receptacle that no leg is on."""
VARIANTS: tuple[Variant, ...] = (*((act, {}) for act in PLAIN), *DETAILED)


def variants_on(bench: Bench) -> tuple[Variant, ...]:
    """Return the acts of a walk as the machine on ``bench`` has them: its own wires, terminals and parts."""
    machine = machine_on(bench)
    if machine.stands is None:
        return VARIANTS
    made = arrangement_of(machine)
    there = set(situation_on(bench).circuit.nodes)
    wires, (a, b) = pullable(machine)[:3], made.coils[0].ends
    pairs = [(a, "case"), (a, b), ("L1", "L2"), ("plug-G", "case"), ("N", "case"), ("outlet-1", "outlet-2"),
             *((slot, end) for slot in ENDS for end in (a, "case", "plug-N"))]  # fmt: skip
    own: dict[str, list[dict[str, Any]]] = {
        **{act: [{"wire": wire} for wire in wires] for act in ("pull_wire", "put_back_wire")},
        "ask_heat": [{"heat": heat} for heat in (*made.heats, "none")],
        "probe": [{"a": one, "b": other} for one, other in pairs if {one, other} <= there],
        "clamp": [{"conductor": name} for name in ("cord", "cord 1", wires[0])],
        "replace_part": [{"part": part} for part in (made.coils[0].name, "vent", "cord", "breaker 2")],
        "wiggle": [{"wire": wires[0], "a": a, "b": b}],
        "tap": [{"part": tappable(bench)[0], "a": a, "b": b}],
        "tag_wire": [{"wire": wires[0], "text": "one"}],
        "look": [{"place": place} for place in looks(bench)],
        "order_part": [{"part": made.coils[0].name}],
        "tighten": [{"wire": wire} for wire in ("cord", wires[0])],
        "name_fault": [],
    }
    found = [(act, given) for act, given in VARIANTS if act not in own]
    return (*found, *((act, given) for act, all_given in own.items() for given in all_given))


STARTS: tuple[tuple[str, ...], ...] = (
    (),
    ("ask_heat", "press_start"),
    ("unplug",),
    ("open_breaker", "lock"),
    ("open_breaker", "cover_off"),
    ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"),
    ("gear_on", "cover_off"),
    ("gear_on", "cover_off", "ask_heat", "press_start"),
)
FAULTY: tuple[tuple[str, ...], ...] = (
    (),
    ("element-1-grounded=0.33", "missing-bond"),
    ("element-1-grounded=0.05",),
    ("open-service-neutral",),
)
_HANDS = ("pull_wire", "put_back_wire", "warm_parts", "wiggle", "tap", "tag_wire", "reset", "tighten")
_OPENED = frozenset({"live-without-precautions", "powered-open"})
_BARE = frozenset({"live-without-precautions"})
_TOUCHES = ("cover_off", "open_door", "close_door", "ask_heat", "press_start", "stop")


def twin(bench: Bench) -> Bench:
    """Return a bench that stands as ``bench`` does and goes its own way."""
    other = copy.copy(bench)
    other.trail, other.clock, other.tags = list(bench.trail), list(bench.clock), dict(bench.tags)
    other.covers_off = set(bench.covers_off)
    other.sealed = Sealed(replace(unsealed(bench.sealed)))
    return other


def attempt(bench: Bench, variant: Variant) -> Bench | None:
    """Return a twin of ``bench`` after an act; None if the act cannot be done as things stand."""
    after = twin(bench)
    try:
        after.do(variant[0], **variant[1])
    except BenchError:
        return None
    return after


def standing(bench: Bench) -> Hashable:
    """Return what tells one state of the worksite from another; degrees only as far as they burn."""
    now = bench.state
    machine = (now.door_closed, now.calling, now.low_heat, now.cutoff_blown, now.pulled, faults_on(bench))
    meter = (bench.mode, bench.full_scale, bench.fuse, bench.rating, bench.nulled, bench.splitter)
    return (machine, meter, tuple(bench.scene.items()))


def supplied(bench: Bench) -> bool:
    """Return whether the machine is live, told from its circuit: a leg at the block, or volts on any of its metal."""
    now = situation_on(bench)
    on = now.state.plugged and now.state.breaker_on
    return on or bool(now.state.plugged and now.hot_points(("L1", "L2", "N", "case")))


def exposed(bench: Bench) -> bool:
    """Return whether bare hands are before live parts."""
    return supplied(bench) and bench.cover_off and not bench.gear


def missed(before: Bench, after: Bench) -> Iterator[str]:
    """Yield what can hurt after the last act of ``after`` and was not found."""
    act, place = after.trail[-1], len(after.trail) - 1
    names = {one.name for one in after.findings if one.place == place}
    if exposed(after) and not exposed(before) and not names & _OPENED:
        yield "open, live and bare-handed"
    if act["act"] in _HANDS and supplied(before) and "hands-on-live" not in names:
        yield "hands on live parts"
    dead_mode = before.mode in DEAD_MODES and act["act"] == "probe"
    tips = [str(act["with"][end]).startswith("outlet") for end in "ab"] if dead_mode else []
    on = (any(tips) and before.state.breaker_on) or (not all(tips) and supplied(before))
    if dead_mode and on and "ohms-on-live" not in names:
        yield "a dead setting on a live circuit"
    if any(tips) and on and not (before.gear or before.state.plugged) and not names & _BARE:
        yield "bare hands at a live receptacle"
    loose = supplied(after) and not supplied(before) and bool(after.state.pulled)
    if loose and act["act"] in ("plug_in", "close_breaker") and "powered-loose" not in names:
        yield "power on a loose wire"
    pair = situation_on(before).live["case", "earth"]
    shocks = abs(pair.volts / (pair.ohms + 1000.0)) > 0.005
    if shocks and act["act"] in _TOUCHES and not before.gear and "case-live" not in names:
        yield "bare hands on a live case"
    if act["act"] == "leave" and after.cover_off and "left-open" not in names:
        yield "left open"
    unfinished = act["act"] in ("stop_and_hand_over", "order_part")
    if unfinished and not after.isolated and "left-in-use" not in names:
        yield "left in use"
