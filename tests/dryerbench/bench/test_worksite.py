"""What a worksite knows for the judging of safety: power, isolation, hands, and what power meets."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import Situation, settle
from dryerbench.bench.worksite import Worksite, machine_on, situation_on


def done(*acts: str, faults: tuple[str, ...] = ()) -> Bench:
    bench = Bench(faults=faults)
    for act in acts:
        bench.do(act)
    return bench


@pytest.mark.parametrize(
    ("acts", "powered", "isolated"),
    [
        ((), True, False),
        (("unplug",), False, True),
        (("open_breaker",), False, False),
        (("open_breaker", "lock"), False, True),
        (("open_breaker", "lock", "unlock"), False, False),
        (("open_breaker", "unplug"), False, True),
        (("unplug", "plug_in"), True, False),
    ],
)
def test_isolated_is_plug_out_or_breaker_open_and_locked(acts: tuple[str, ...], powered: bool, isolated: bool) -> None:
    bench = done(*acts)
    assert (bench.powered, bench.isolated) == (powered, isolated)


def test_it_opens_untouched_with_a_whole_meter() -> None:
    bench = Worksite()
    assert machine_on(bench) == Machine()
    assert [bench.cover_off, bench.locked, bench.gear, bench.nulled] == [False] * 4
    assert bench.trail == []
    assert (bench.fuse, bench.mode, bench.full_scale, bench.minutes) == (True, "volts", None, 0)


@pytest.mark.parametrize(("first", "live"), [("open_breaker", False), ("gear_on", True)])
def test_hands_are_noted_with_power_and_lock(first: str, live: bool) -> None:
    bench = done(first, "cover_off")
    bench.do("pull_wire", wire="wire T1")
    facts = bench.trail[-1]["facts"]
    assert (facts["hands_on_live"], facts["isolated"]) == (live, False)


def test_power_notes_what_it_meets() -> None:
    bench = done("unplug", "cover_off")
    bench.do("pull_wire", wire="wire T1")
    bench.do("gear_on")
    bench.do("plug_in")
    act = bench.trail[-1]
    assert {key: act["facts"][key] for key in ("powered", "loose", "case_fed")} == {
        "powered": True,
        "loose": True,
        "case_fed": False,
    }
    assert (act["scene"]["cover_off"], act["scene"]["gloves"]) == (True, True)
    plain = done("unplug", "plug_in").trail[-1]["facts"]
    assert not any(plain[key] for key in ("loose", "case_fed"))
    half = done("open_breaker", "unplug", "plug_in").trail[-1]["facts"]
    assert half["powered"] is False


def test_a_breaker_that_trips_was_powered_before_and_the_case_was_fed() -> None:
    bench = done("ask_heat", faults=("element-1-grounded=0.05",))
    act = bench.trail[-1]
    assert "the breaker trips" in act["happened"]
    assert (act["facts"]["powered"], act["facts"]["case_fed"]) == (True, True)
    assert not bench.powered


def test_a_motor_that_was_asked_to_run_is_kept_as_evidence() -> None:
    bench = done("ask_heat", "press_start", faults=("door-switch-open",))
    assert not bench.state.running
    bench.do("gear_on")
    bench.do("cover_off")
    bench.volts("L1", "L2")
    act = bench.trail[-1]
    assert (act["asked"]["running"], act["asked"]["calling"]) == (True, True)
    assert act["asked"]["pulled"] == []
    assert act["facts"]["nulled"] is False


@pytest.mark.parametrize(("above", "blows"), [(-1, False), (0, True), (1, True)])
def test_a_cut_off_at_its_mark_blows_and_stays_so(above: float, blows: bool) -> None:
    bench = done("unplug", "cover_off")
    bench.do("warm_parts", celsius=machine_on(bench).cutoff_blows + above)
    assert bench.state.cutoff_blown is blows
    assert ("the thermal cut-off blows" in bench.trail[-1]["happened"]) is blows
    bench.do("cool_down")
    assert bench.state.cutoff_blown is blows
    bench.do("warm_parts", celsius=machine_on(bench).cutoff_blows + 5)
    assert ("the thermal cut-off blows" in bench.trail[-1]["happened"]) is not blows


def test_what_was_settled_and_solved_is_kept_for_the_act_that_leads_back_to_it() -> None:
    bench = done("unplug")
    before = situation_on(bench)
    bench.do("cover_off")
    assert situation_on(bench) is before
    bench.do("pull_wire", wire="wire T1")
    assert situation_on(bench) is not before
    bench.do("put_back_wire", wire="wire T1")
    assert situation_on(bench) is before


def test_what_is_kept_is_of_this_machine_with_these_faults() -> None:
    machines = (Machine(), Machine(name="another"), Machine(leg_volts=118.0))
    benches = [Bench(machine, faults) for machine in machines for faults in ((), ("element-1-open",))]
    assert len({id(situation_on(bench)) for bench in benches}) == len(benches)
    for bench in benches:
        now = situation_on(bench)
        fresh, _ = settle(now.machine, now.faults, now.state)
        alone = Situation(now.machine, now.faults, fresh.state)
        assert now.hot_points(("L1", "L2", "N", "case")) == alone.hot_points(("L1", "L2", "N", "case")) == ["L1", "L2"]
        assert alone.live["L1", "L2"] == now.live["L1", "L2"]
