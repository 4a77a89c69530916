"""Every act of the table can be done, and what cannot be done is said in one line."""

from __future__ import annotations

import pytest

from dryerbench.bench.acts import ACTS, DETAILS, BenchError
from dryerbench.bench.bench import Bench
from dryerbench.bench.worksite import faults_on
from dryerbench.core.tables import table


def opened() -> Bench:
    bench = Bench()
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    return bench


def test_the_table_and_the_code_name_the_same_acts() -> None:
    assert list(ACTS) == table("bench-acts").column("act")
    assert set(DETAILS) <= set(ACTS)


@pytest.mark.parametrize(
    ("before", "act", "given", "words"),
    [
        ([], "fly", {}, "no act 'fly'"),
        ([], "unplug", {"fast": True}, "does not know 'fast'"),
        ([], "pull_wire", {}, "needs: wire"),
        ([], "pull_wire", {"wire": "wire T1"}, "behind the cover"),
        ([], "pull_wire", {"wire": "tail"}, "no wire 'tail'"),
        ([], "probe", {"a": "T1", "b": "T0"}, "T1 is behind the cover"),
        ([], "probe", {"a": "X9", "b": "T0"}, "no test point 'X9'"),
        ([], "probe", {"a": [], "b": "T0"}, "needs: a, b"),
        ([], "probe", {"a": "outlet-1", "b": "outlet-2"}, "unplug first"),
        ([], "plug_in", {}, "in already"),
        (["unplug"], "unplug", {}, "out already"),
        ([], "lock", {}, "Open it before"),
        (["open_breaker", "lock"], "close_breaker", {}, "locked open"),
        ([], "cover_on", {}, "on already"),
        ([], "set_dial", {"mode": "smell"}, "no 'smell'"),
        ([], "set_dial", {"mode": "ohms", "full_scale": 5}, "no range of 5"),
        ([], "ask_heat", {"heat": "tropical"}, "high, low and off"),
        ([], "test_dead", {"where": "attic"}, "not at 'attic'"),
        ([], "clamp", {"conductor": "cord 1"}, "cancel"),
        ([], "clamp", {"conductor": "neck"}, "not 'neck'"),
        ([], "temperature", {"spot": "limit"}, "behind the cover"),
        ([], "warm_parts", {"celsius": 50}, "behind the cover"),
        ([], "warm_parts", {"celsius": float("nan")}, "not at nan"),
        ([], "replace_part", {"part": "soul"}, "cannot be replaced"),
        (["unplug"], "replace_part", {"part": "element 1"}, "behind the cover"),
        ([], "name_fault", {"fault": "gremlin"}, "no fault 'gremlin'"),
        ([], "name_fault", {"fault": "strap-missing"}, "four-wire cord"),
    ],
)
def test_what_cannot_be_done(before: list[str], act: str, given: dict[str, object], words: str) -> None:
    bench = Bench()
    for earlier in before:
        bench.do(earlier)
    with pytest.raises(ValueError, match=words) as caught:
        bench.do(act, **given)
    assert "\n" not in str(caught.value)
    assert len(bench.trail) == len(before)


def test_a_pulled_wire_frees_its_part_and_goes_back() -> None:
    bench = opened()
    together = bench.ohms("T1", "T0").value
    for number in "123":
        bench.do("pull_wire", wire=f"wire T{number}")
    alone = bench.ohms("T1", "T0").value
    assert together == pytest.approx(9.2, abs=0.4)
    assert alone == pytest.approx(27.2, abs=0.6)
    with pytest.raises(BenchError, match="off already"):
        bench.do("pull_wire", wire="wire T1")
    bench.do("put_back_wire", wire="wire T1")
    with pytest.raises(BenchError, match="on already"):
        bench.do("put_back_wire", wire="wire T1")


def test_running_warms_a_machine_that_heats() -> None:
    bench = Bench()
    bench.do("ask_heat")
    assert bench.do("press_start")["happened"] == ["the motor comes up to speed"]
    assert bench.do("let_run")["happened"] == ["warm air comes out"]
    assert 50 < bench.temperature("exhaust").value < 60
    bench.do("stop")
    bench.do("cool_down")
    assert bench.temperature("exhaust").value == pytest.approx(25, abs=2)


def test_a_machine_with_a_blown_cut_off_stays_cold_until_it_is_replaced() -> None:
    bench = Bench(faults=["cut-off-blown"])
    bench.do("ask_heat")
    bench.do("press_start")
    assert bench.do("let_run")["happened"] == ["the air stays cold"]
    for act in ("stop", "unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    assert bench.ohms("H5", "H6").shown == "OL"
    assert bench.do("replace_part", part="thermal cut-off")["minutes"] == 25
    assert bench.ohms("H5", "H6").value == pytest.approx(0.3, abs=0.3)
    assert not faults_on(bench)


def test_warm_parts_open_the_thermostat() -> None:
    bench = opened()
    bench.do("pull_wire", wire="wire H3")
    bench.do("warm_parts", celsius=85)
    assert bench.ohms("H3", "H4").shown == "OL"
    bench.do("cool_down")
    assert bench.ohms("H3", "H4").value == pytest.approx(0.3, abs=0.3)


def test_a_cut_off_that_blew_stays_open_when_cold_until_it_is_replaced() -> None:
    bench = Bench(faults=["blocked-vent=0.6", "high-limit-stuck"])
    bench.do("ask_heat")
    bench.do("press_start")
    assert bench.do("let_run")["happened"] == ["the thermal cut-off blows", "the air stays cold"]
    for act in ("stop", "cool_down", "unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    assert bench.ohms("H5", "H6").shown == "OL"
    bench.do("replace_part", part="thermal cut-off")
    assert bench.ohms("H5", "H6").value == pytest.approx(0.3, abs=0.3)


def test_the_houses_wiring_is_handed_over() -> None:
    bench = Bench(faults=["lost-leg-2"])
    record = bench.do("replace_part", part="breaker 2")
    assert "licensed electrician" in record["happened"][0]
    assert bench.findings == []
    assert not faults_on(bench)


def test_a_blown_fuse_shows_nothing_live_or_dead_until_it_is_replaced() -> None:
    bench = Bench()
    bench.do("gear_on")
    bench.do("cover_off")
    assert bench.ohms("L1", "L2").shown == "----"
    assert bench.ohms("T1", "T0").shown == "OL"
    assert (bench.volts("L1", "L2").value or 0.0) < 1.0
    assert "shows nothing" in bench.do("prove_meter")["happened"][0]
    assert "no volts anywhere" in bench.do("test_dead", where="block")["happened"]
    assert "do not trust it" in bench.do("null_leads")["happened"][0]
    assert not bench.nulled
    bench.do("replace_fuse")
    assert "known live source" in bench.do("prove_meter")["happened"][0]
    assert bench.volts("L1", "L2").value == pytest.approx(240, abs=4)


def test_acts_that_only_switch() -> None:
    bench = Bench()
    for act in ("open_door", "close_door", "open_breaker", "lock", "unlock", "close_breaker", "gear_on", "gear_off"):
        bench.do(act)
    bench.do("null_leads")
    assert bench.nulled
    assert bench.powered


def test_the_vent_is_looked_into_with_the_power_under_control() -> None:
    for faults, said in (((), "clear"), (("blocked-vent=0.6",), "packed")):
        bench = Bench(faults=faults)
        with pytest.raises(BenchError, match="Pull the plug"):
            bench.do("look_vent")
        bench.do("unplug")
        assert said in bench.do("look_vent")["happened"][0]


def test_a_job_is_handed_over_to_somebody_there_is() -> None:
    bench = Bench()
    assert "utility" in bench.do("stop_and_hand_over", to="utility")["happened"][0]
    with pytest.raises(BenchError, match="licensed electrician"):
        bench.do("stop_and_hand_over", to="the neighbor")


def test_degrees_that_cannot_be_held_are_told_in_fahrenheit_first() -> None:
    bench = Bench()
    with pytest.raises(BenchError, match=r"^Parts can be held at -4 to 482 °F \(-20 to 250 °C\), not at 900\.$"):
        bench.do("warm_parts", celsius=900)
