"""Candidates cover the catalogue, and what they predict is what the bench reads."""

from __future__ import annotations

import itertools

import pytest

from dryerbench.bench.faults import catalogue, fault_names, read_fault
from dryerbench.bench.heat import asked_for
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import Meter
from dryerbench.bench.probing import reaches_board
from dryerbench.bench.situation import settle
from dryerbench.bench.states import named_state
from dryerbench.diagnosis.candidates import SOUND, candidates, menu, predicted, scaled, solve_settled


@pytest.mark.parametrize("cord", ["four-wire", "three-wire"])
def test_candidates_are_the_catalogue_and_a_sound_machine(cord: str) -> None:
    found = candidates(cord)
    able = {name for name in fault_names() if catalogue(name)["cord"] in ("any", cord)}
    assert {one.name for one in found} == able | {SOUND}
    assert sum(one.prior for one in found) == pytest.approx(1.0)


def test_bins_meet_and_span_the_range() -> None:
    ends = [one.ends for one in candidates("four-wire") if one.name == "leakage-to-case"]
    assert ends[0][0] == pytest.approx(20000)
    assert ends[-1][1] == pytest.approx(2e6)
    assert all(one[1] == other[0] for one, other in itertools.pairwise(ends))


def test_the_priors_follow_the_weights() -> None:
    shares = {name: sum(one.prior for one in candidates("four-wire") if one.name == name) for name in fault_names()}
    assert shares["cut-off-blown"] / shares["low-supply"] == pytest.approx(12 / 2)


@pytest.mark.parametrize("name", ["element-1-grounded=0.05", "lost-leg-1", "cut-off-blown", "blocked-vent"])
def test_settled_batches_agree_with_one_situation(name: str) -> None:
    fault = read_fault(name)
    for state in ("heating", "unplugged", "tumbling"):
        (case,) = solve_settled(Machine(), named_state(state), [(fault,)])
        now, other = asked_for(Machine(), [fault], named_state(state))
        assert abs(case.live.at("T0") - now.live.at("T0")) < 1e-8
        assert case.warmth == now.state
        assert (case.swung is not None) == (other is not now) == (name == "blocked-vent" and state == "heating")


def test_every_reading_of_the_menu_is_predicted_as_the_meter_shows_it() -> None:
    meter = Meter()
    for act in menu():
        state = named_state(act.state)
        (case,) = solve_settled(Machine(), state, [()])
        value, spread = predicted(case, act.mode, act.places, meter.lead_ohms)
        now, _ = settle(Machine(), [], state)
        if act.mode in ("clamp", "temperature"):
            continue
        reading = meter.read(now, act.mode, act.places[0], act.places[1])
        shown = float("inf") if reading.value is None else reading.value
        assert abs(scaled(act.mode, shown) - value) < 4 * spread


def test_powered_and_covered_readings_are_known() -> None:
    heating = next(act for act in menu() if act.state == "heating")
    assert heating.powered
    assert heating.live
    free = next(act for act in menu() if act.state == "elements-free")
    assert free.behind_cover
    assert not free.powered
    assert not next(act for act in menu() if act.places == ("plug-G", "case")).behind_cover


@pytest.mark.parametrize("cord", ["four-wire", "three-wire"])
def test_no_insulation_test_is_advised_while_the_board_is_connected(cord: str) -> None:
    advised = [act for act in menu() if act.mode == "insulation"]
    assert advised
    for act in advised:
        now = settle(Machine(cord=cord), (), named_state(act.state))[0]
        assert not reaches_board(now, *act.places), act
