"""Faults: the table and the code agree, each does what it says, and no combination breaks the bench."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.bench.faults import (
    Fault,
    FaultError,
    catalogue,
    fault_names,
    faulty_circuit,
    fits,
    known_changes,
    read_fault,
)
from dryerbench.bench.heat import asked_for
from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import settle
from dryerbench.bench.states import State, named_state, state_names
from dryerbench.bench.wiring import pullable
from dryerbench.circuits.solver import solve, solve_all

MACHINES = {cord: Machine(cord=cord) for cord in ("four-wire", "three-wire")}


def machine_for(fault: Fault) -> Machine:
    return next(machine for machine in MACHINES.values() if fits(fault, machine))


def test_the_table_and_the_code_name_the_same_faults() -> None:
    assert known_changes() == set(fault_names())
    assert len(fault_names()) >= 24


@pytest.mark.parametrize("name", fault_names())
def test_every_fault_changes_what_can_be_read_somewhere(name: str) -> None:
    fault = read_fault(name)
    machine = machine_for(fault)
    if name == "blocked-vent":  # the air alone: it shows in the heat
        sound, bad = (asked_for(machine, faults, named_state("heating"))[0].state for faults in ((), (fault,)))
        assert bad.limit_celsius > sound.limit_celsius + 20.0
        return
    states = [named_state(state) for state in state_names()]
    circuits = [faulty_circuit(machine, state, faults) for faults in ((), (fault,)) for state in states]
    half = len(states)
    differs = False
    for hertz in (0.0, 60.0):
        solved = solve_all(circuits, hertz)
        for sound, bad in zip(solved[:half], solved[half:], strict=True):
            nodes = [node for node in sound.layout.nodes if node in bad.layout.nodes]
            pairs = [("case", node) for node in nodes] + [("T0", node) for node in nodes] + [("S1", "S2"), ("Q", "N")]
            for a, b in pairs:
                was, now = sound[a, b], bad[a, b]
                far = abs(was.ohms - now.ohms) > 0.02 * abs(was.ohms) + 0.1
                differs = differs or far or abs(was.volts - now.volts) > 2.0
    assert differs


def test_every_row_says_who_puts_it_right() -> None:
    assert {catalogue(name)["who"] for name in fault_names()} == {"mechanic", "electrician"}
    assert catalogue("open-service-neutral")["who"] == "electrician"


@pytest.mark.parametrize("name", fault_names())
def test_a_fault_reads_back_from_its_text(name: str) -> None:
    fault = read_fault(name)
    assert read_fault(str(fault)) == fault


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("gremlin", "no fault 'gremlin'"),
        ("element-1-open=3", "has no strength"),
        ("element-1-grounded=2", "0.05 to 0.95"),
        ("element-1-grounded=half", "not a number"),
        ("element-1-grounded=nan", "outside"),
    ],
)
def test_a_fault_that_cannot_be_is_answered_in_words(text: str, words: str) -> None:
    with pytest.raises(FaultError, match=words):
        read_fault(text)


def test_a_fault_must_fit_the_cord_and_be_named_once() -> None:
    state = named_state("standing")
    with pytest.raises(FaultError, match="needs a three-wire cord"):
        faulty_circuit(Machine(), state, [Fault("strap-missing")])
    with pytest.raises(FaultError, match="named twice"):
        faulty_circuit(Machine(), state, [Fault("low-supply", 0.1), Fault("low-supply", 0.2)])
    with pytest.raises(FaultError, match="takes a strength"):
        faulty_circuit(Machine(), state, [Fault("low-supply")])


def test_shorted_and_drifted_turns_change_the_ohms() -> None:
    state = named_state("elements-free")
    for fault, ohms in ((Fault("element-2-shorted", 0.4), 16.2), (Fault("element-2-drifted", 1.3), 35.1)):
        dead = solve(faulty_circuit(Machine(), state, [fault]), 0.0)
        assert dead["T2", "T0"].ohms.real == pytest.approx(ohms, rel=1e-6)


@pytest.mark.parametrize("share", [1 / 3, 0.5, 0.95])
def test_a_grounded_element_reads_its_share_to_the_case(share: float) -> None:
    fault = Fault("element-1-grounded", share)
    dead = solve(faulty_circuit(Machine(), named_state("elements-free"), [fault]), 0.0)
    assert dead["T1", "case"].ohms.real == pytest.approx(27 * share + 0.01, rel=1e-6)
    assert dead["T0", "case"].ohms.real == pytest.approx(27 * (1 - share) + 0.01, rel=1e-6)
    assert dead["T1", "T0"].ohms.real == pytest.approx(27, rel=1e-6)


def _stiff() -> Machine:
    """A machine whose wires and supply have next to no ohms, so that a closed form holds."""
    return Machine(
        service_ohms=1e-9,
        run_feet=1e-6,
        cord_feet=1e-6,
        wire_ohms=1e-9,
        contact_ohms=1e-9,
        joint_ohms=1e-9,
        rod_ohms=(1e9, 1e9),
    )


@pytest.mark.parametrize("share", [1 / 3, 0.5, 0.9])
@pytest.mark.parametrize("calling", [True, False])
def test_amps_of_a_grounded_element_with_its_case_bonded(share: float, calling: bool) -> None:
    state = replace(named_state("heating"), calling=calling, element_celsius=25.0)
    solution = solve(faulty_circuit(_stiff(), state, [Fault("element-1-grounded", share)]))
    # Closed: T1 at +120 V, T0 at -120 V: the touch sees 120 - 240·share behind its two halves in parallel.
    # Open: T1 hangs on T2 and T3, so 13.5 Ω and the near part lie between T0 and the touch, beside the far part;
    # T0 is at -120 V and nothing else feeds them.
    near, far, bridge = 27 * share, 27 * (1 - share), 0.01
    if calling:
        expected = (120 - 240 * share) / (near * far / 27 + bridge)
    else:
        expected = -120 / (far * (near + 13.5) / (far + near + 13.5) + bridge)
    assert solution.amps("element 1 touch").real == pytest.approx(expected, rel=1e-4, abs=0.01)


@pytest.mark.parametrize("share", [1 / 3, 0.5, 0.9])
def test_an_unbonded_case_takes_the_volts_of_the_touch(share: float) -> None:
    state = replace(named_state("heating"), element_celsius=25.0)
    faults = [Fault("element-1-grounded", share), Fault("missing-bond")]
    solution = solve(faulty_circuit(_stiff(), state, faults))
    assert solution["case", "panel-N"].volts.real == pytest.approx(120 - 240 * share, abs=0.05)
    still = replace(state, calling=False)
    off = solve(faulty_circuit(_stiff(), still, faults))
    assert abs(off["case", "panel-N"].volts) == pytest.approx(120, abs=0.05)


def test_a_lost_leg_leaves_a_phantom_that_low_impedance_takes_away() -> None:
    solution = solve(faulty_circuit(Machine(), named_state("standing"), [Fault("lost-leg-2")]))
    pair = solution["L2", "N"]
    assert abs(pair.volts) > 20
    assert abs(pair.volts * 3000 / (3000 + pair.ohms)) < 1


def test_an_open_service_neutral_shares_the_volts_between_unequal_loads() -> None:
    machine = replace(_stiff(), house_watts=(300.0, 1200.0), board_ohms=1e9)
    solution = solve(faulty_circuit(machine, named_state("standing"), [Fault("open-service-neutral")]))
    assert abs(solution["panel-1", "panel-N"].volts) == pytest.approx(240 * 48 / 60, rel=1e-3)


def _fault(draw: st.DrawFn, name: str) -> Fault:
    low, high = catalogue(name)["strength_low"], catalogue(name)["strength_high"]
    return Fault(name, None if low is None else draw(st.floats(min_value=low, max_value=high)))


def _state(draw: st.DrawFn) -> State:
    """Any state at all, sensible or not: running with the plug out, hot and cold at once, any wires pulled."""
    flag = st.booleans()
    warm = st.floats(min_value=-20.0, max_value=250.0)
    return State(
        plugged=draw(flag),
        breaker_on=draw(flag),
        door_closed=draw(flag),
        start_pressed=draw(flag),
        running=draw(flag),
        calling=draw(flag),
        low_heat=draw(flag),
        exhaust_celsius=draw(warm),
        limit_celsius=draw(warm),
        element_celsius=draw(st.floats(min_value=-20.0, max_value=900.0)),
        cutoff_blown=draw(flag),
        pulled=frozenset(draw(st.sets(st.sampled_from(pullable())))),
    )


@st.composite
def cases(draw: st.DrawFn) -> tuple[Machine, State, list[Fault]]:
    cord = draw(st.sampled_from(("four-wire", "three-wire")))
    able = [name for name in fault_names() if catalogue(name)["cord"] in ("any", cord)]
    names = draw(st.lists(st.sampled_from(able), unique=True, max_size=5))
    supply = draw(st.sampled_from(("split", "wye")))
    return (
        Machine(cord=cord, supply=supply),
        _state(draw),
        [_fault(draw, name) for name in names],
    )


@settings(max_examples=120, deadline=None)
@given(cases())
def test_no_combination_crashes_or_gives_nan(case: tuple[Machine, State, list[Fault]]) -> None:
    machine, state, faults = case
    circuit = faulty_circuit(machine, state, faults)
    assert list(circuit) == list(faulty_circuit(machine, state, faults[::-1]))
    settled, _ = settle(machine, faults, state)
    assert not settled.state.running or settled.state.plugged
    for hertz in (0.0, 60.0):
        solution = solve(circuit, hertz)
        assert np.isfinite(solution.volts).all()
        assert np.isfinite(solution.impedance).all()
    assert all(math.isfinite(abs(solution.amps(part.name))) for part in circuit)
    assert max(np.abs(solution.volts)) < 400
