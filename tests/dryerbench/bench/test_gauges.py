"""Airflow, pressure, leakage, what the control has stored, its own test."""

from __future__ import annotations

import pytest

from dryerbench.air.cycle import Cycle
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import from_family
from dryerbench.bench.machine import on_the_bench
from dryerbench.bench.worksite import BenchError
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.asked_to_run import NO_HEAT, asked_to_run
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names


def running(*faults: str) -> Bench:
    bench = Bench(faults=faults)
    for act in ("ask_heat", "press_start"):
        bench.do(act)
    return bench


def value(bench: Bench, act: str) -> float:
    return bench.do(act)["gauge"]["value"] or 0.0


def test_air_and_pressure_are_those_of_the_air_model() -> None:
    air, bench = Cycle().air, running()
    assert value(bench, "airflow") == pytest.approx(air.cfm, rel=0.04, abs=3)
    assert value(bench, "pressure") == pytest.approx(air.back_pressure_inches, rel=0.03, abs=0.03)
    assert bench.trail[-1]["gauge"]["unit"] == "inH2O"


def test_a_blocked_vent_takes_air_and_a_standing_machine_moves_none() -> None:
    assert value(running("blocked-vent=0.6"), "airflow") == pytest.approx(0.4 * Cycle().air.cfm, rel=0.08)
    assert value(running("blocked-vent=0.6"), "pressure") > value(running(), "pressure")
    assert value(Bench(), "airflow") <= 3.0


def test_what_other_instruments_show_is_no_reading_of_the_meter() -> None:
    assert "reading" not in running().do("airflow")


def test_leakage_goes_by_the_ground_and_is_read_with_the_ground_left_out() -> None:
    with pytest.raises(BenchError, match="line splitter"):
        running().do("leakage")
    found = {}
    for faults in ((), ("leakage-to-case=40000",)):
        bench = Bench(faults=faults)
        for act in ("unplug", "fit_splitter", "plug_in", "ask_heat", "press_start"):
            bench.do(act)
        found[faults] = value(bench, "leakage")
    assert found[()] < 0.3
    assert found["leakage-to-case=40000",] == pytest.approx(117.0 / 40.0, rel=0.1)


def test_the_control_stores_what_its_sensor_and_the_heat_do() -> None:
    for fault, words in (
        ("thermistor-open", "no signal"),
        ("thermistor-shorted", "shorted"),
        ("high-limit-open", "called for heat, no heat came"),
        ("element-1-open", "nothing"),
        ("door-switch-open", "nothing"),
    ):
        assert words in Bench(faults=[fault]).do("stored_fault")["happened"][0]
    cold = running("cut-off-blown")
    cold.do("let_run")
    assert "no heat came" in cold.do("stored_fault")["happened"][0]
    cold.do("open_breaker")
    with pytest.raises(BenchError, match="dark"):
        cold.do("stored_fault")


BOARDS = tuple(name for name in machine_names() if name != "schoolroom" and arrangement(name).board)


@pytest.mark.parametrize("name", BOARDS)
def test_on_arrival_a_control_has_stored_that_the_customers_run_stayed_cold(name: str) -> None:
    """By the table of what each machine does when it is asked to run, which is worked out elsewhere."""
    made = arrangement(name)
    machine = on_the_bench(drawn_machine(made, Stream(f"stored/{name}"), f"stored {name}"))
    for fault, asked in asked_to_run(made).items():
        bench = Bench(machine, [from_family(fault)])
        if bench.powered:
            said = bench.do("stored_fault")["happened"][0]
            assert ("no heat came" in said) == (asked.heard == NO_HEAT), fault


@pytest.mark.parametrize(
    ("faults", "words"),
    [
        ((), "the motor turns, heat comes"),
        (("cut-off-blown",), "the motor turns, no heat comes"),
        (("door-switch-open",), "the motor does not turn, no heat comes"),
        (("element-1-grounded=0.05",), "the breaker trips"),
    ],
)
def test_the_control_tests_itself_and_stands_as_before(faults: tuple[str, ...], words: str) -> None:
    bench = Bench(faults=faults)
    before = bench.state
    assert words in "; ".join(bench.do("service_test")["happened"])
    if "trips" not in words:
        assert bench.state == before
        assert not bench.asked.running


def test_the_controls_test_needs_power_and_a_machine_that_stands() -> None:
    with pytest.raises(BenchError, match="Stop it"):
        running().do("service_test")
    bench = Bench()
    bench.do("unplug")
    with pytest.raises(BenchError, match="dark"):
        bench.do("service_test")
