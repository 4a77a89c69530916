"""The evidence: Bayes' rule by hand on a small case, and advice worth its minutes."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import read_fault
from dryerbench.bench.machine import Machine
from dryerbench.diagnosis.candidates import SOUND, look_at_vent, menu
from dryerbench.diagnosis.complaints import behind
from dryerbench.diagnosis.evidence import Evidence, EvidenceError
from dryerbench.diagnosis.likelihood import density
from dryerbench.diagnosis.paths import follow, from_trail, take


def test_a_density_adds_up_to_one_and_is_flat_inside_a_wide_bin() -> None:
    y = np.linspace(-50, 50, 20001)
    wide = density(y, np.array(-5.0), np.array(5.0), np.array(0.2), 100.0)
    assert np.trapezoid(wide, y) == pytest.approx(1.0, abs=2e-3)
    assert wide[10000] == pytest.approx(0.05, rel=0.01)
    assert wide.max() > 0.4
    narrow = density(y, np.array(1.0), np.array(1.0), np.array(0.5), 100.0)
    assert narrow.max() == pytest.approx(1 / (0.5 * math.sqrt(math.tau)), rel=0.02)


def test_odds_start_at_the_weights_and_add_up() -> None:
    odds = Evidence().odds()
    assert sum(odds.values()) == pytest.approx(1.0)
    assert next(iter(odds)) == "cut-off-blown"
    assert odds["cut-off-blown"] / odds["low-supply"] == pytest.approx(6.0)


def test_an_open_cut_off_is_singled_out_by_its_ohms() -> None:
    act = next(act for act in menu() if act.state == "all-wires-off" and act.places == ("H5", "H6"))
    evidence = Evidence()
    evidence.observe_act(act, take(Machine(), [read_fault("cut-off-blown")], act))
    assert evidence.singled_out() == ["cut-off-blown"]
    sound = Evidence()
    sound.observe_act(act, take(Machine(), [], act))
    assert sound.odds()["cut-off-blown"] < 1e-3


def test_one_reading_cannot_tell_two_open_elements_apart_and_the_odds_say_so() -> None:
    act = next(act for act in menu() if act.state == "heating" and act.places == ("cord 2",))
    evidence = Evidence()
    evidence.observe_act(act, take(Machine(), [read_fault("element-2-open")], act))
    assert {"element-1-open", "element-2-open", "element-3-open"} <= set(evidence.singled_out())


def test_a_complaint_is_evidence() -> None:
    evidence = Evidence()
    before = evidence.odds()["blocked-vent"]
    evidence.hear("dries slowly, limit clicks on and off")
    assert evidence.odds()["blocked-vent"] > 3 * before
    with pytest.raises(EvidenceError, match="is heard as 'meow'"):
        evidence.hear("meow")


def test_advice_is_worth_its_minutes() -> None:
    advice = Evidence().advice()
    assert advice is not None
    assert advice.bits > 0
    assert "qualified" in str(advice) or not advice.act.live
    spent = Evidence()
    spent.taken = {*menu(), look_at_vent()}
    assert spent.advice() is None


HEATER_TO_CASE = next(act for act in menu() if {"T0", "case"} == set(act.places) and not act.powered)
WITHOUT_POWER = {act for act in menu() if not act.powered}


def weighed(odds: dict[str, float]) -> Evidence:
    """Return the evidence of somebody who took every reading without power, and holds these odds."""
    evidence = Evidence()
    evidence.taken = set(WITHOUT_POWER)
    parts = [one.name for one in evidence.candidates]
    evidence.weights = np.array([odds.get(name, 0.0) / parts.count(name) for name in parts])
    assert evidence.weights.sum() == pytest.approx(1.0)
    return evidence


TELLS_LIVE = {"lost-leg-1": 0.5, "lost-leg-2": 0.5}
"""What only volts tell apart."""


@pytest.mark.parametrize("path", ["element-1-grounded", "element-2-grounded", "element-3-grounded", "leakage-to-case"])
@pytest.mark.parametrize(("odds", "safe"), [(0.5, False), (0.06, False), (0.04, True), (0.0, True)])
def test_no_power_while_a_path_from_the_heater_to_the_case_is_likely(path: str, odds: float, safe: bool) -> None:
    """One in twenty is the line (the course's own rule)."""
    evidence = weighed({path: odds, **{name: share * (1 - odds) for name, share in TELLS_LIVE.items()}})
    assert evidence.safe_to_power is safe
    advice = evidence.advice()
    assert (advice is not None) is safe
    assert advice is None or advice.act.powered


def test_likely_paths_add_up() -> None:
    evidence = weighed({"element-1-grounded": 0.03, "element-2-grounded": 0.03, "lost-leg-1": 0.94})
    assert not evidence.safe_to_power


def test_no_power_before_the_heater_was_tested_to_the_case() -> None:
    evidence = weighed(TELLS_LIVE)
    assert evidence.safe_to_power
    evidence.taken = {act for act in WITHOUT_POWER if "case" not in act.places}
    assert not evidence.safe_to_power
    evidence.taken |= {act for act in menu() if "case" in act.places and "T0" not in act.places}
    assert not evidence.safe_to_power
    advice = evidence.advice()
    assert advice is None or not advice.act.powered
    evidence.taken.add(HEATER_TO_CASE)
    assert evidence.safe_to_power


def test_a_path_that_was_read_forbids_power_whatever_the_odds_say() -> None:
    """Two faults at once: a cut-off that explains the complaint, and a leak that was read beside it."""
    bench = Bench(faults=["cut-off-blown", "leakage-to-case=50000"])
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    evidence = Evidence()
    for act in menu():
        if act.state == "unplugged" and set(act.places) in ({"T0", "case"}, {"H5", "H6"}):
            evidence.observe_act(act, bench.measure(act.mode, *act.places))
    assert HEATER_TO_CASE in evidence.taken
    assert not evidence.safe_to_power
    assert not bench.safe_to_power


def test_who_is_not_qualified_is_sent_to_no_live_reading() -> None:
    evidence = weighed(TELLS_LIVE)
    evidence.qualified = False
    assert evidence.advice() is None


NO_HEAT = {"cut-off-blown", "high-limit-open", "cycling-open", "control-open", "motor-heat-contact-open", "lost-leg-2"}


def _odds_after_a_run(*faults: str) -> tuple[dict[str, float], dict[str, float]]:
    """Return the odds before and after ten minutes with heat and one reading of the exhaust."""
    bench = Bench(faults=faults)
    for act in ("ask_heat", "press_start", "let_run"):
        bench.do(act)
    bench.temperature("exhaust")
    return Evidence().odds(), from_trail(Machine(), bench.trail).odds()


def test_cold_air_is_evidence() -> None:
    before, after = _odds_after_a_run("cut-off-blown")
    assert sum(after[name] for name in NO_HEAT) > 2.0 * sum(before[name] for name in NO_HEAT)
    assert after["sound"] < 0.2 * before["sound"]
    assert after["blocked-vent"] < 0.2 * before["blocked-vent"]


def test_warm_air_is_evidence() -> None:
    before, after = _odds_after_a_run()
    assert sum(after[name] for name in NO_HEAT) < 0.1 * sum(before[name] for name in NO_HEAT)
    assert after["sound"] > before["sound"]


def test_lukewarm_air_points_to_lost_watts() -> None:
    before, after = _odds_after_a_run("element-2-open")
    assert after["element-2-open"] > before["element-2-open"]
    assert after["cut-off-blown"] < 0.1 * before["cut-off-blown"]


POWERED = ("gear_on", "ask_heat", "press_start", "let_run", "cover_off")


@pytest.mark.parametrize(
    ("fault", "pair"), [("burnt-joint", ("L1", "N")), ("low-supply", ("L1", "L2")), ("thin-cord", ("L1", "N"))]
)
def test_a_reading_that_says_again_what_it_said_counts_once(fault: str, pair: tuple[str, str]) -> None:
    """Six times, and with the probes swapped: the meter and the machine err alike each time."""
    bench = Bench(faults=[fault])
    for act in POWERED:
        bench.do(act)
    bench.volts(*pair)
    once = from_trail(Machine(), bench.trail).odds()
    assert once[fault] > 2 * Evidence().odds()[fault]
    for _ in range(3):
        bench.volts(*pair)
        bench.volts(*reversed(pair))
    assert from_trail(Machine(), bench.trail).odds() == once


def test_a_reading_of_the_menu_counts_once_too_and_is_not_advised_again() -> None:
    evidence = Evidence()
    free, off = (next(act for act in menu() if act.state == state and act.places == ("T2", "T0"))
                 for state in ("elements-free", "all-wires-off"))  # fmt: skip
    shown = take(Machine(), [read_fault("element-2-drifted")], free)
    evidence.observe_act(free, shown)
    once = evidence.odds()
    evidence.observe_act(off, shown)
    assert evidence.odds() == once
    fresh = Evidence()
    fresh.taken = {*menu(), look_at_vent()} - {free, off}
    assert fresh.advice() is not None
    fresh.taken.add(free)
    assert fresh.advice() is None


def test_a_switch_caught_the_other_way_round_is_new() -> None:
    """A blocked vent: amps, and a little later none. Both count."""
    bench = Bench(faults=["blocked-vent=0.7"])
    for act in POWERED:
        bench.do(act)
    shown, odds = [], []
    while len({round(amps / 10.0) for amps in shown}) < 2 and len(shown) < 30:
        shown.append(bench.clamp("cord 2").value or 0.0)
        odds.append(from_trail(Machine(), bench.trail).odds()["blocked-vent"])
    assert max(shown) > 20.0
    assert min(shown) < 5.0
    assert odds[-1] > 0.5 > odds[0]


@pytest.mark.parametrize("watts", [(300.0, 1500.0), (1500.0, 300.0), (3000.0, 100.0), (1000.0, 1200.0), (50.0, 4000.0)])
def test_what_the_house_draws_is_not_known(watts: tuple[float, float]) -> None:
    """An open service neutral shares the volts by the other loads of the house, whatever they are."""
    steps = follow(replace(Machine(), house_watts=watts), [read_fault("open-service-neutral")], Machine())
    assert next(iter(steps[-1].odds)) == "open-service-neutral"


def test_a_wire_that_is_off_is_not_pulled_once_more() -> None:
    evidence = Evidence()
    alone = next(act for act in menu() if act.state == "all-wires-off" and act.places == ("H5", "H6"))
    evidence.observe_act(alone, take(Machine(), [], alone))
    evidence.weights = np.array([float(one.name in ("control-open", SOUND)) for one in evidence.candidates])
    evidence.weights /= evidence.weights.sum()
    advice = evidence.advice()
    assert advice is not None
    assert advice.act.state == "all-wires-off-calling"
    assert advice.minutes == pytest.approx(1.0)


def test_the_heater_is_read_to_the_case_where_only_readings_with_power_would_tell() -> None:
    evidence = weighed(TELLS_LIVE | {"lost-leg-1": 0.3, "motor-heat-contact-open": 0.2})
    evidence.taken = {act for act in WITHOUT_POWER if "case" not in act.places}
    advice = evidence.advice()
    assert advice is not None
    assert {"T0", "case"} == set(advice.act.places)
    assert not advice.act.powered


def test_a_look_into_the_vent_is_evidence_both_ways_and_counts_once() -> None:
    shut, clear = Evidence(), Evidence()
    vent = read_fault("blocked-vent=0.7")
    shut.observe_act(look_at_vent(), take(Machine(), [vent], look_at_vent()))
    clear.observe_act(look_at_vent(), take(Machine(), [read_fault("cycling-welded")], look_at_vent()))
    assert shut.odds()["blocked-vent"] > 0.99
    before, after = Evidence().odds(), clear.odds()
    assert after["blocked-vent"] < 0.01
    others = set(before) - {"blocked-vent"}
    assert all(after[name] / after[SOUND] == pytest.approx(before[name] / before[SOUND]) for name in others)
    clear.observe_act(look_at_vent(), take(Machine(), [], look_at_vent()))
    assert clear.odds() == after
    bench = Bench(faults=["blocked-vent=0.7"])
    bench.do("unplug")
    bench.do("look_vent")
    assert from_trail(Machine(), bench.trail).odds() == shut.odds()


def test_the_vent_is_looked_into_before_the_machine_is_opened_where_it_dries_slowly() -> None:
    steps = follow(Machine(), [read_fault("blocked-vent=0.7")], qualified=False, heard=behind("slow"))
    assert steps[0].act == look_at_vent()
    assert next(iter(steps[-1].odds)) == "blocked-vent"
    assert sum(step.minutes for step in steps) < 10.0
