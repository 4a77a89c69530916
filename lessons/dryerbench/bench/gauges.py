"""Other instruments: airflow at the hood, pressure in the duct, leakage, what the control has stored, its own test.

What they show stands under ``gauge`` in the trail, beside the meter's own ``reading``.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import prod

from dryerbench.air.airflow import OperatingPoint
from dryerbench.air.cycle import Cycle
from dryerbench.air.ducts import Duct
from dryerbench.bench import probing
from dryerbench.bench.access import arrangement_of, coils
from dryerbench.bench.cycle_faults import duct_with_air_lost
from dryerbench.bench.faults import Fault, family_of
from dryerbench.bench.heat import asked_for
from dryerbench.bench.machine import Machine
from dryerbench.bench.probing import leak_milliamps
from dryerbench.bench.shop_names import shop_name
from dryerbench.bench.states import State, heat_asked
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError, Worksite, faults_found_on, faults_on, machine_on, situation_on

_STORED = {"sensor-open": "sensor: no signal", "sensor-shorted": "sensor: shorted"}
_HEATS = 3.0  # amps through an element from which it heats


@lru_cache(maxsize=64)
def _air(share_lost: float) -> OperatingPoint:
    duct = duct_with_air_lost(Duct(), share_lost) if share_lost else Duct()
    return Cycle(duct=duct).air


def _air_on(bench: Worksite) -> OperatingPoint:
    there = family_of(machine_on(bench), faults_on(bench))
    return _air(1.0 - prod(1.0 - fault.air_lost for fault in there))


def _show(bench: Worksite, record: Act, mode: str, value: float, place: str) -> None:
    shown = bench.meter.gauge(situation_on(bench), mode, value, place)
    record["gauge"] = shown.as_data()
    record["happened"].append(f"{shown.shown} at the {shop_name(place)}")


def airflow(bench: Worksite, record: Act) -> None:
    """Read the airflow at the hood, in cfm; the motor has to run."""
    _show(bench, record, "airflow", _air_on(bench).cfm if bench.state.running else 0.0, "hood")


def pressure(bench: Worksite, record: Act) -> None:
    """Read the pressure in the duct behind the machine, in inches of water; the motor has to run."""
    inches = _air_on(bench).back_pressure_inches if bench.state.running else 0.0
    _show(bench, record, "pressure", inches, "duct")


def leakage(bench: Worksite, record: Act) -> None:
    """Read with a leakage clamp round all conductors but the ground: the mA that go another way home."""
    if not (bench.splitter or bench.cover_off):
        raise BenchError(
            "Around the whole cord the ground wire cancels the leak. Put the line splitter in, or open the dryer."
        )
    milliamps = leak_milliamps(situation_on(bench).live)
    record["asked"] = bench.asked.as_data()
    record["facts"]["live_bare"] = not bench.splitter and bench.energized and not bench.gear
    _show(bench, record, "leakage", milliamps, "cord, ground left out")


@lru_cache(maxsize=256)
def _runs_cold(machine: Machine, faults: tuple[Fault, ...]) -> bool:
    """Return whether a machine with ``faults`` turns and stays cold when it is set to heat: a customer ran it so."""
    asked = replace(State(running=True), **heat_asked(arrangement_of(machine).heats[0]))
    now, _ = asked_for(machine, faults, asked)
    return now.state.running and not any(abs(now.live.amps(coil)) > _HEATS for coil in coils(machine))


def stored_fault(bench: Worksite, record: Act) -> None:
    """Read what the control has stored, in plain words; it needs power."""
    if not arrangement_of(machine_on(bench)).board:
        raise BenchError("This dryer has a dial. It stores no codes.")
    if not bench.powered:
        raise BenchError("The control is dark. It needs power.")
    names = {fault.name for fault in faults_on(bench)}
    said = {"thermistor-open": "sensor: no signal", "thermistor-shorted": "sensor: shorted"}
    stored = [words for name, words in said.items() if name in names]
    stored += [words for name, words in _STORED.items() if any(one.partition("@")[0] == name for one in names)]
    ran_cold = any("the air stays cold" in act["happened"] and act["facts"].get("heat_asked") for act in bench.trail)
    before = _runs_cold(machine_on(bench), faults_found_on(bench))
    stored += ["called for heat, no heat came"] * (ran_cold or before)
    record["happened"].append("the control stored: " + ("; ".join(stored) or "nothing"))


def service_test(bench: Worksite, record: Act) -> None:
    """Let the control run its own test: motor and heat for some seconds, then off; it needs power and a closed door."""
    if not arrangement_of(machine_on(bench)).board:
        raise BenchError("This dryer has a dial. It has no test mode.")
    if not bench.powered:
        raise BenchError("The control is dark. It needs power.")
    before = bench.state
    if before.running:
        raise BenchError("The dryer is running. Stop it before you start the test mode.")
    bench.switch(record, **heat_asked(arrangement_of(machine_on(bench)).heats[0]))
    fed = record["facts"]["case_fed"]
    bench.switch(record, start_pressed=True)
    bench.settle(record, start_pressed=False)
    now = situation_on(bench)
    heats = bench.state.running and any(abs(now.live.amps(coil)) > _HEATS for coil in coils(machine_on(bench)))
    record["facts"] |= {
        "case_fed": fed or record["facts"]["case_fed"],
        "ground_current": probing.ground_amps(now) > probing.BURNING_AMPS,
    }
    turned = bench.state.running
    bench.settle(record, running=False, calling=before.calling, low_heat=before.low_heat, dial=before.dial)
    tripped = [words for words in dict.fromkeys(record["happened"]) if words == "the breaker trips"]
    said = f"the control's test: the motor {'turns' if turned else 'does not turn'}, "
    record["happened"] = [said + ("heat comes" if heats else "no heat comes"), *tripped]
