"""Which contacts are closed follows from what was done and how warm it is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dryerbench.air.thermostats import usual_switch
from dryerbench.bench.machine import Machine
from dryerbench.bench.schoolroom import contacts
from dryerbench.bench.states import State, StateError, named_state, state_names
from dryerbench.bench.wiring import pullable


def test_every_named_state_is_built_and_pulls_only_wires_that_exist() -> None:
    for name in state_names():
        assert named_state(name).pulled <= set(pullable())


def test_a_running_motor_closes_the_heat_contact_and_opens_the_start_winding() -> None:
    closed = contacts(Machine(), State(running=True))
    assert closed["motor centrifugal switch"]
    assert closed["motor hold contact"]
    assert not closed["motor start contact"]


@pytest.mark.parametrize(
    ("part", "field", "mark"),
    [
        ("cycling thermostat", "exhaust_celsius", usual_switch("cycling_thermostat").opens),
        ("high limit", "limit_celsius", usual_switch("high_limit").opens),
    ],
)
def test_a_thermostat_opens_at_its_mark(part: str, field: str, mark: float) -> None:
    assert contacts(Machine(), replace(State(), **{field: mark - 0.1}))[part]
    assert not contacts(Machine(), replace(State(), **{field: mark}))[part]


def test_a_blown_cut_off_stays_open_when_cold() -> None:
    assert contacts(Machine(), State())["thermal cut-off"]
    assert not contacts(Machine(), State(cutoff_blown=True))["thermal cut-off"]
    assert not contacts(Machine(), State(limit_celsius=180.0))["thermal cut-off"]


def test_an_unknown_state_is_answered_with_the_list() -> None:
    with pytest.raises(StateError, match=r"no state 'asleep'.*unplugged.*heating"):
        named_state("asleep")
