"""What the trail of a bench says of a machine of the family: its readings, looks and gauges as evidence.

A continuity beep is no number and volts on 10 MΩ may be ghost volts: both are passed over where they were noted. What
was read after a part was replaced says nothing of the fault.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import Meter
from dryerbench.bench.schoolroom import family_machine, setting_of
from dryerbench.bench.states import State
from dryerbench.bench.trail import Act
from dryerbench.diagnosis.candidates import scaled
from dryerbench.diagnosis.machine_cases import Book, book, seen_as
from dryerbench.diagnosis.machine_evidence import MachineEvidence
from dryerbench.diagnosis.machine_menu import Reading
from dryerbench.diagnosis.service_calls import before_repair
from dryerbench.family.arrangement import CABINET, Arrangement
from dryerbench.family.settings import Setting

_METER = Meter()
_ON_TRAIL = "as the bench stood"


def evidence_on(
    machine: Machine, trail: Sequence[Act], hear: Callable[[MachineEvidence], None] | None = None
) -> MachineEvidence:
    """Return the evidence of ``trail`` on ``machine`` before any repair; ``hear`` weighs what is heard."""
    made = family_machine(machine).arrangement
    evidence = MachineEvidence(book(made))
    if hear is not None:
        hear(evidence)
    for one, value in found_out(made, before_repair(trail)):
        evidence.weigh(one, value)
    return evidence


def found_out(made: Arrangement, trail: Sequence[Act]) -> Iterator[tuple[Reading, float]]:
    """Yield each thing that ``trail`` found out, with its value on the scale it is weighed on."""
    for act in trail:
        if act["act"] == "look":
            place = str(act["with"]["place"])
            yield Reading("look", (place,), "off"), seen_as(made, place, act["happened"])
        elif act["act"] == "look_vent":
            yield Reading("look", ("vent",), "off"), seen_as(made, "vent", act["happened"])
        elif act["act"] == "airflow" and act["scene"]["running"]:
            yield Reading("airflow", ("hood",), "run air"), act["gauge"]["value"] or 0.0
        elif act["act"] == "leakage" and (gauge := act.get("gauge")) and gauge["value"] is not None:
            setting = setting_of(State.from_data(act["asked"]))
            yield _as_stood("leakage", ("cord",), setting), scaled("leakage", gauge["value"])
        elif act.get("reading"):
            yield from _read(act)


def done_on(known: Book, trail: Sequence[Act]) -> Iterator[tuple[Reading, float]]:
    """Yield the readings of the menu that ``trail`` took, with what each showed on its scale.

    A machine that ran was heard, and what came out was felt; that has no value. Which wires were off does not matter,
    if some were.
    """
    stood = list(found_out(known.made, trail))
    ran = _let_run(trail)
    for one in known.readings:
        if one.mode in ("listen", "warmth") and one.setting.dial in ran:
            yield one, 0.0
        yield from ((one, value) for other, value in stood if _same(one, other))


def _let_run(trail: Sequence[Act]) -> set[str]:
    """Return where the dial stood whenever ``trail`` let the machine run, or tried to."""
    dial, found = "off", set()
    for act in trail:
        if act["act"] == "ask_heat":
            dial = str(act["with"]["heat"])
        elif act["act"] == "let_run":
            found.add(dial)
    return found


def _same(one: Reading, other: Reading) -> bool:
    """Return whether a reading of the menu is one that a bench took, but for which wires were off."""
    if one.mode != other.mode or set(one.places) != set(other.places):
        return False
    if other.given is None:
        return True
    a, b = (replace(each.setting, pulled=frozenset()) for each in (one, other))
    return a == b and bool(one.setting.pulled) == bool(other.setting.pulled)


def _read(act: Act) -> Iterator[tuple[Reading, float]]:
    """Yield what a reading of the meter says, if it says something."""
    reading, setting = act["reading"], setting_of(State.from_data(act["asked"]))
    mode, shown = reading["mode"], reading["value"]
    if (shown is None and reading["shown"] != "OL") or act["facts"].get("phantom", False):
        return
    places = tuple(CABINET if place == "case" else place for place in reading["places"])
    if mode == "ohms" and not setting.powered:
        lead = 0.0 if act["facts"].get("nulled", False) else _METER.lead_ohms
        value = math.inf if shown is None else max(0.0, shown - lead)
        yield _as_stood("ohms", places, setting), scaled("ohms", value)
    elif mode in ("volts", "low-impedance") and shown is not None:
        yield _as_stood("low-impedance", places, setting), shown
    elif mode == "clamp" and shown is not None and places != ("cord",):
        yield _as_stood("clamp", places, setting), shown


def _as_stood(mode: str, places: tuple[str, ...], setting: Setting) -> Reading:
    return Reading(mode, tuple(sorted(places)), _ON_TRAIL, setting)
