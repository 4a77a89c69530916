"""The acts of somebody who works the calls of lesson 10 by what the page teaches, on whatever machine stands there."""

from __future__ import annotations

from typing import Any

from dryerbench.bench.access import arrangement_of, pullable
from dryerbench.bench.machine import Machine
from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.diagnosis.machine_complaints import suspects
from dryerbench.diagnosis.machine_hand_over import dead_readings_of
from dryerbench.family.arrangement import CABINET
from dryerbench.family.fault_readings import ShownBy, shown_by
from dryerbench.family.faults import faults_of as faults_that_can_be
from dryerbench.family.faults import read_fault
from dryerbench.family.machine import standard
from dryerbench.family.settings import Setting, read_setting
from dryerbench.topics.call_to_close.sheet import parts_of

Acts = list[tuple[str, dict[str, Any]]]
DEAD: Acts = [("unplug", {}), ("prove_meter", {}), ("test_dead", {}), ("prove_meter", {}), ("look_vent", {}),
              ("cover_off", {}), ("test_dead", {"where": "block"}), ("prove_meter", {})]  # fmt: skip
WELDED = ("cycling-welded", "limit-stuck", "motor-contact-welded")
OUTLETS = ("outlet-1", "outlet-2"), ("outlet-1", "outlet-N"), ("outlet-2", "outlet-N")


def probe(a: str, b: str, mode: str = "ohms") -> Acts:
    ends = ["case" if point == CABINET else point for point in (a, b)]
    return [("set_dial", {"mode": mode, "full_scale": None}), ("probe", {"a": ends[0], "b": ends[1]})]


SLOTS: Acts = [("gear_on", {}), ("prove_meter", {}), *(act for a, b in OUTLETS for act in probe(a, b, "low-impedance")),
               ("prove_meter", {}), ("gear_off", {})]  # fmt: skip


def bond(machine: Machine) -> Acts:
    return probe("plug-G" if machine.cord == "four-wire" else "plug-N", "case")


def heater(machine: Machine) -> Acts:
    return [act for point in arrangement_of(machine).box_terminals for act in probe(point, "case")]


def wires_at(machine: Machine, readings: list[ShownBy]) -> list[str]:
    """Return the wires that a hand can pull at the ends of what is read alone."""
    made = arrangement_of(machine)
    points = {point for one in readings if read_setting(one.state).pulled for point in (one.a, one.b)}
    ends = {wire.name for point in points & set(made.points) for wire in made.wires_at(point)}
    ends |= {f"wire {point}" for point in made.motor.terminals if points & set(made.motor.terminals)}
    return sorted(ends & set(pullable(machine)))


def dead_readings(machine: Machine, names: tuple[str, ...]) -> list[ShownBy]:
    made = arrangement_of(machine)
    return [one for name in names for one in dead_readings_of(made, read_fault(name, made))]


def held_readings(machine: Machine) -> list[ShownBy]:
    """Return the first reading of each thermostat, limit and motor contact that welds: held hot where heat opens it."""
    made = arrangement_of(machine)
    return [next(shown_by(standard(made), fault)) for fault in faults_that_can_be(made) if fault.name in WELDED]


def spade_readings(machine: Machine) -> list[ShownBy]:
    """Return the readings along each wire at the heater box that show a burnt spade at its end."""
    made = arrangement_of(machine)
    burnt = [fault for fault in faults_that_can_be(made) if fault.name == "spade-burnt"]
    return [one for fault in burnt for one in dead_readings_of(made, fault)]


def read(machine: Machine, names: tuple[str, ...], *, hot: bool = False) -> tuple[Acts, Acts]:
    """Return the acts that read the faults ``names`` with the machine dead and open, and those that put wires back.

    What is read with all wires on comes first, then everything alone, then what has to be held hot.
    """
    found, warm = dead_readings(machine, names), held_readings(machine) if hot else []
    found += spade_readings(machine) if hot else []
    off = wires_at(machine, [*found, *warm])
    joined = [one for one in found if not read_setting(one.state).pulled]
    alone = [one for one in found if read_setting(one.state).pulled and not _held(read_setting(one.state))]
    done = [act for one in joined for act in _at(one)]
    done += [("pull_wire", {"wire": wire}) for wire in off]
    done += [act for one in alone for act in _at(one)]
    for one in warm:
        setting = read_setting(one.state)
        if _held(setting):
            done.append(("warm_parts", {"celsius": round(max(setting.exhaust_celsius, setting.box_celsius), 1)}))
        done += _at(one)
    done += [("cool_down", {})] * bool(warm)
    return done, [("put_back_wire", {"wire": wire}) for wire in off]


def _held(setting: Setting) -> bool:
    return max(setting.exhaust_celsius, setting.box_celsius) > 30.0


def _at(one: ShownBy) -> Acts:
    setting = read_setting(one.state)
    door: Acts = [] if setting.door_closed else [("open_door", {})]
    shut: Acts = [] if setting.door_closed else [("close_door", {})]
    dial: Acts = [("ask_heat", {"heat": setting.dial})] if not _held(setting) else []
    return [*door, *dial, *probe(one.a, one.b), *shut]


def found_on(card: Any, call: int, heard: str) -> tuple[Acts, Acts]:
    """Return the acts from the plug to the last reading of ``call``, and those that put the wires back."""
    machine = machine_of(card, call)
    done, back = read(machine, suspects(arrangement_of(machine), heard), hot=call == 2)
    return [*DEAD, *bond(machine), *heater(machine), *done], back


def parts(card: Any, call: int) -> Acts:
    return [("replace_part", {"part": part}) for part in parts_of(machine_of(card, call), faults_of(card, call))]


def proof(machine: Machine, back: Acts) -> Acts:
    top = arrangement_of(machine).heats[0]
    return [*back, *heater(machine), *bond(machine), ("cover_on", {}), ("plug_in", {}), ("ask_heat", {"heat": top}),
            ("press_start", {}), ("let_run", {}), ("temperature", {"spot": "exhaust"})]  # fmt: skip


def repair(card: Any, call: int, heard: str) -> Acts:
    done, back = found_on(card, call, heard)
    return [*done, *parts(card, call), *proof(machine_of(card, call), back)]
