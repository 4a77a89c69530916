"""What a sheet promises, worked out by the solver: the machine on paper, with stiff supply and wires of no ohms.

A sheet's numbers are nameplate numbers: cold coils, 120 V at each leg of the block, nothing lost in wires. A state is
a setting's words, and after commas what is supposed besides: ``Cut open``, ``Cen shut``, ``L2 lost``, ``240 V``.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from functools import cache

from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.solver import Solution, solve
from dryerbench.family.arrangement import Arrangement, Expectation
from dryerbench.family.house import Site
from dryerbench.family.machine import Machine, default_site
from dryerbench.family.settings import Setting, SettingError, read_setting
from dryerbench.family.wiring import OPEN_OHMS, node, wire_up

MOST_OHMS = 4e7
"""From here on a meter shows OL [Ω]."""
HOT_VOLTS = 20.0
_NO_OHMS = 1e-6
_SUPPOSED = re.compile(r"(?P<what>[\w.-]+) (?P<how>open|shut|lost)|(?P<volts>208|240) V")
_LEGS = {"L1": "breaker 1", "L2": "breaker 2", "N": "run N"}


def on_paper(made: Arrangement, supply: str | None = None) -> Machine:
    """Return the machine of the sheet: stiff supply, no ohms in wires and contacts, no stray capacitance."""
    site = Site(
        supply=supply or default_site(made).supply,
        cord_feet=0.0,
        run_feet=0.0,
        service_ohms=_NO_OHMS,
        joint_ohms=_NO_OHMS,
        cable_farads_per_foot=0.0,
    )
    return Machine(
        made, "on paper", site, contact_ohms=_NO_OHMS, wire_ohms=_NO_OHMS, harness_farads=0.0, beside_farads=0.0
    )


@dataclass(frozen=True, slots=True)
class Supposed:
    """A state as a sheet writes it: the setting, and what is supposed besides."""

    setting: Setting
    opened: tuple[str, ...] = ()
    shut: tuple[str, ...] = ()
    lost: tuple[str, ...] = ()
    volts: int | None = None


def read_state(words: str) -> Supposed:
    """Return the state that ``words`` name, such as ``run high, Cut open``.

    Raises
    ------
    SettingError
        For words that name no state.
    """
    first, *rest = (item.strip() for item in words.split(","))
    plain, found = [first], Supposed(Setting())
    for item in rest:
        match = _SUPPOSED.fullmatch(item)
        if match is None or item.lower() == "door open":
            plain.append(item)
        elif match["volts"]:
            found = replace(found, volts=int(match["volts"]))
        elif match["how"] == "lost":
            if match["what"] not in _LEGS:
                raise SettingError(f"'{match['what']}' is no leg that can be lost: write L1, L2 or N.")
            found = replace(found, lost=(*found.lost, match["what"]))
        elif match["how"] == "open":
            found = replace(found, opened=(*found.opened, match["what"]))
        else:
            found = replace(found, shut=(*found.shut, match["what"]))
    return replace(found, setting=read_setting(", ".join(plain)))


def _supposed_parts(made: Arrangement, circuit: Circuit, state: Supposed) -> Circuit:
    for what in state.lost:
        circuit = circuit.changed(_LEGS[what], closed=False)
    for what in state.opened:
        circuit = _opened(made, circuit, what)
    for what in state.shut:
        circuit = circuit.changed(what, closed=True)
    return circuit


def _opened(made: Arrangement, circuit: Circuit, what: str) -> Circuit:
    name = "run winding" if what == made.motor.name else f"coil {what}" if f"coil {what}" in circuit else what
    part = circuit.part(name)
    if part.kind == "resistance":
        return circuit.changed(name, value=OPEN_OHMS)
    return circuit.changed(name, closed=False)


def circuit_in(made: Arrangement, words: str, machine: Machine | None = None) -> Circuit:
    """Return the circuit of the machine on paper (or of ``machine``) in the state that ``words`` name.

    Raises
    ------
    SettingError
        For words that name no state.
    CircuitError
        For a part that the machine does not have.
    """
    state = read_state(words)
    supply = {208: "wye", 240: "split", None: None}[state.volts]
    there = machine or on_paper(made, supply)
    if machine is not None and supply is not None:
        there = replace(machine, site=replace(machine.site, supply=supply))
    return _supposed_parts(made, wire_up(there, state.setting), state)


def shown_ohms(ohms: float) -> str:
    """Return ohms with the digits that the sheets give."""
    if ohms > MOST_OHMS:
        return "OL"
    for least, factor, digits, unit in ((1e6, 1e6, 2, "Mohm"), (1e3, 1e3, 2, "kohm"), (200.0, 1.0, 0, "ohm")):
        if ohms >= least:
            return f"{ohms / factor:.{digits}f} {unit}"
    return f"{abs(ohms):.1f} ohm"


def coil_watts(made: Arrangement, live: Solution) -> float:
    """Return the watts that all heater coils make."""
    return sum(live.watts(coil.name).real for coil in made.coils)


@cache
def heater_ohms(made: Arrangement) -> float:
    """Return the cold Ω of the whole heater from leg to leg on its strongest heat, by the sheet."""
    live = solve(circuit_in(made, f"run {made.heats[0]}"))
    return on_paper(made).site.leg_to_leg ** 2 / coil_watts(made, live)


def worked_out(made: Arrangement, one: Expectation, machine: Machine | None = None) -> str:
    """Return what the solver says in the place of an expectation's value, with the sheets' digits.

    Raises
    ------
    SettingError
        For a state that does not exist.
    CircuitError
        For a part or point that the machine does not have.
    """
    circuit = circuit_in(made, one.state, machine)
    if one.what == "between" and not read_state(one.state).setting.powered:
        pair = solve(circuit, 0.0)[node(one.places[0]), node(one.places[1])]
        return shown_ohms(pair.ohms.real)
    live = solve(circuit)
    if one.what == "between":
        return f"{abs(live[node(one.places[0]), node(one.places[1])].volts):.0f} V"
    if one.what == "amps":
        return f"{abs(live.amps('cord ' + one.places[0][-1])):.1f} A"
    return f"{coil_watts(made, live):.0f} W"


def power_of(made: Arrangement, heat: str, supply_volts: int) -> tuple[float, float]:
    """Return watts of the coils and amps of the greater leg, the motor and all small loads off."""
    loads = [part.name for part in made.parts if "ohms" in part.kind.must and "sensor" not in part.kind.name]
    loads = [f"{'board supply' if name == 'Brd' else name} open" for name in loads]
    circuit = circuit_in(made, f"run {heat}, {supply_volts} V")
    for name in loads:
        circuit = _opened(made, circuit, name.removesuffix(" open"))
    live = solve(_opened(made, circuit, made.motor.name))
    return coil_watts(made, live), max(abs(live.amps(f"cord {leg}")) for leg in "12")


def legs_with_motor(made: Arrangement, coil_factor: float = 1.0) -> dict[str, float]:
    """Return the amps of L1, L2 and N on the highest heat with the drum turning, coils at a factor of the sheet's."""
    machine = on_paper(made).with_own((coil.name, "ohms", coil.ohms * coil_factor) for coil in made.coils)
    live = solve(circuit_in(made, f"run {made.heats[0]}", machine))
    return {leg: abs(live.amps(f"cord {leg[-1]}")) for leg in ("L1", "L2", "N")}


def legs_at(made: Arrangement, where: str, words: str) -> str:
    """Return which legs stand at the ``heater`` or the ``windings`` in a state, or ``nothing``."""
    live = solve(circuit_in(made, words))
    points = made.box_terminals if where == "heater" else (f"{made.motor.name}.r", f"{made.motor.name}.c")
    found = {"leg 1" if live.at(point).real > 0 else "leg 2" for point in points if abs(live.at(point)) > HOT_VOLTS}
    return " + ".join(sorted(found)) or "nothing"


def air_numbers(made: Arrangement) -> tuple[float, float, float]:
    """Return °F after the coil in good air, and the cfm under which the limit and the cut-off open.

    Rise in °F = 3.412·W / (1.08·cfm) over a room at 70 °F (handbook rule for air's sensible heat, checks.md 21).
    """
    watts = power_of(made, made.heats[0], made.made_for)[0]
    carried = 3.412 * watts / 1.08
    limit = made.of_kind("high limit")[0].numbers["opens"]
    cutoff = made.of_kind("cut-off", "manual cut-off")[0].numbers["opens"]
    return 70.0 + carried / made.air.cfm, carried / (limit - 70.0), carried / (cutoff - 70.0)


def is_open(shown: str) -> bool:
    """Return whether a shown reading is over the range."""
    return shown == "OL"


def plain_value(shown: str) -> float:
    """Return a shown reading in Ω, V, A or W; endless for OL.

    Raises
    ------
    ValueError
        For words that are no reading.
    """
    if is_open(shown):
        return math.inf
    number, unit = shown.split()
    return float(number) * {"kohm": 1e3, "Mohm": 1e6}.get(unit, 1.0)
