"""The bench's catalogue in the drying cycle: every fault runs or says why not, and does what its complaint says."""

from dataclasses import replace

import pytest

from dryerbench.air.cycle import Cycle
from dryerbench.air.ducts import Duct
from dryerbench.air.heater_power import HeaterPower
from dryerbench.bench.cycle_faults import (
    ENDS_AT,
    NoCycleError,
    duct_with_air_lost,
    faulty_cycle,
    heater_power,
    state_at,
)
from dryerbench.bench.faults import fault_names, fits, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.schoolroom import contacts
from dryerbench.bench.states import named_state

MACHINE = Machine()
NO_MOTOR = {"lost-leg-1", "open-neutral", "open-service-neutral", "door-switch-open", "run-winding-open"}
NO_HEAT = {
    "high-limit-open",
    "cut-off-blown",
    "cycling-open",
    "motor-heat-contact-open",
    "control-open",
    "lost-leg-2",
}


def cycle(*texts, machine=MACHINE, **settings):
    return faulty_cycle(machine, [read_fault(text) for text in texts], **settings)


SOUND = cycle().run()


@pytest.mark.parametrize("name", fault_names())
def test_every_fault_of_the_catalogue_has_its_cycle(name):
    fault = read_fault(name)
    machine = MACHINE if fits(fault, MACHINE) else replace(MACHINE, cord="three-wire")
    if name in NO_MOTOR:
        with pytest.raises(NoCycleError, match="motor stops") as caught:
            faulty_cycle(machine, [fault])
        assert "\n" not in str(caught.value)
        return
    record = faulty_cycle(machine, [fault]).run()
    assert record.balance.relative < 1e-3
    assert (record.heater_joules() < 1000.0) == (name in NO_HEAT)


def test_a_sound_heater_is_the_circuits():
    """Less than the bare 6400 W by hot wire, contacts and cord; nothing with the contacts open or at rest."""
    power = heater_power(MACHINE)
    assert 0.9 * 6400.0 < power.closed_watts < 6400.0
    assert power.open_watts < 1e-3
    assert power.stopped_watts < 1e-3
    assert power.lit == 1.0


@pytest.mark.parametrize("number", [1, 2, 3])
def test_an_open_element_takes_a_third(number):
    power = heater_power(MACHINE, [read_fault(f"element-{number}-open")])
    assert power.closed_watts / heater_power(MACHINE).closed_watts == pytest.approx(2 / 3, rel=0.03)
    assert power.lit == pytest.approx(2 / 3)


def test_208_volts_takes_a_quarter():
    power = heater_power(MACHINE, [read_fault("supply-208")])
    assert power.closed_watts / heater_power(MACHINE).closed_watts == pytest.approx(0.7511, rel=0.01)


@pytest.mark.parametrize("share", [0.2, 0.33, 0.5, 0.8])
def test_the_circuits_grounded_element_is_the_closed_forms(share):
    """The bench counts from the element's own terminal, which the contacts break; the closed form from the other."""
    power = heater_power(MACHINE, [read_fault(f"element-2-grounded={share}")])
    form = HeaterPower.grounded(element=2, fraction=1.0 - share)
    assert power.closed_watts == pytest.approx(form.closed_watts, rel=0.12)
    assert power.open_watts == pytest.approx(form.open_watts, rel=0.12)
    assert power.open_amps == pytest.approx(form.open_amps, rel=0.12)
    assert power.stopped_watts < 1e-3


def test_grounded_near_the_live_end_trips_the_breaker():
    with pytest.raises(NoCycleError, match="breaker trips"):
        cycle("element-1-grounded=0.05")


def test_grounded_with_a_welded_control_heats_at_rest_until_a_switch_breaks_it():
    record = cycle("element-1-grounded=0.4", "control-welded", run_minutes=20.0).run()
    assert record.heater_watts(20.05)[0] > 1000.0
    assert record.openings("high_limit") > 0


def test_a_welded_control_heats_through_the_cool_down():
    welded, sound = (cycle(*faults, cool_down=20.0).run() for faults in (("control-welded",), ()))
    assert sound.heating(45.0)[0] == 0.0
    assert welded.heater_joules() > 1.1 * sound.heater_joules()


def test_air_lost_is_what_was_asked():
    for share in (0.35, 0.6, 0.8):
        duct = duct_with_air_lost(Duct(), share)
        assert Cycle(duct=duct).air.flow == pytest.approx((1.0 - share) * Cycle().air.flow, rel=1e-3)


def test_complaints_come_true():
    assert cycle("blocked-vent").run().openings("high_limit") > 10
    assert cycle("blocked-vent", "high-limit-stuck").run().cutoff_blown
    assert cycle("cycling-welded").run().peak("exhaust") > SOUND.peak("exhaust") + 10.0
    assert cycle("cycling-off-mark=-25", minutes=150.0).run().minutes_to_dry > 2.0 * SOUND.minutes_to_dry
    assert cycle("burnt-joint").run().minutes_to_dry > SOUND.minutes_to_dry + 2.0


def test_a_thermistor_ends_it_damp_or_runs_on():
    ends = {
        name: cycle(name, board_ends=True, cool_down=5.0).run() for name in ("thermistor-open", "thermistor-shorted")
    }
    sound = cycle(board_ends=True, cool_down=5.0).run()
    low, high = (cycle(f"thermistor-drifted={factor}", board_ends=True, cool_down=5.0).run() for factor in (0.5, 2.0))
    assert sound.celsius("thermostat", sound.heat_end / 60.0)[0] == pytest.approx(ENDS_AT, abs=1e-3)
    assert ends["thermistor-shorted"].heat_end < 10.0
    assert low.heat_end < sound.heat_end < high.heat_end <= ends["thermistor-open"].heat_end == 55.0 * 60.0
    assert low.moisture(60.0)[0] > 0.065 > sound.moisture(60.0)[0]


def test_low_heat_is_cooler_and_needs_its_bias_heater():
    low, broken = (cycle(*faults, low_heat=True).run() for faults in ((), ("bias-heater-open",)))
    assert low.peak("thermostat") < SOUND.peak("thermostat") - 5.0
    assert broken.peak("thermostat") == pytest.approx(SOUND.peak("thermostat"), abs=0.5)


def test_the_benchs_state_takes_the_cycles_temperatures():
    state = state_at(SOUND, 10.0, named_state("heating"))
    assert state.limit_celsius == pytest.approx(SOUND.celsius("limit", 10.0)[0])
    closed = contacts(MACHINE, state)
    assert closed["cycling thermostat"]
    assert closed["high limit"]
    killed = cycle("blocked-vent=0.8", "high-limit-stuck").run()
    after = state_at(killed, killed.minutes, named_state("heating"))
    assert not contacts(MACHINE, after)["thermal cut-off"]
