"""Each safety finding follows from what stands how after an act, and from nothing less."""

from __future__ import annotations

import json

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.safety import findings
from dryerbench.bench.trail import finding, minutes
from dryerbench.core.tables import table

DEAD = ["unplug", "prove_meter", "test_dead", "prove_meter"]
OPEN = [*DEAD, "cover_off", "prove_meter", "test_block", "prove_meter"]


def names(bench: Bench) -> list[str]:
    return [one.name for one in bench.findings]


def done(*acts: str, faults: tuple[str, ...] = ()) -> Bench:
    bench = Bench(faults=faults)
    for act in acts:
        if act == "test_block":
            bench.do("test_dead", where="block")
        else:
            bench.do(act)
    return bench


def test_dead_proved_and_open_is_clean() -> None:
    assert names(done(*DEAD, "cover_off")) == []


@pytest.mark.parametrize(
    ("acts", "expected"),
    [
        (["unplug", "cover_off"], ["cover-before-dead"]),
        (["unplug", "prove_meter", "test_dead", "cover_off"], ["meter-not-reproved"]),
        (["unplug", "test_dead", "prove_meter", "cover_off"], ["meter-not-proved", "cover-before-dead"]),
        (["unplug", "prove_meter", "test_dead", "test_dead"], ["meter-not-proved"]),
        ([*DEAD, "test_dead", "cover_off"], ["meter-not-reproved"]),
        (["open_breaker", "cover_off"], ["cover-before-dead", "not-locked"]),
        (["open_breaker", "lock", "cover_off"], ["cover-before-dead"]),
        (["cover_off"], ["cover-before-dead", "live-without-precautions"]),
        (["gear_on", "cover_off"], ["live-work"]),
        ([*DEAD, "cover_off", "gear_on", "plug_in"], ["live-work"]),
        ([*DEAD, "plug_in", "unplug", "cover_off"], ["cover-before-dead"]),
        ([*DEAD, "cover_off", "plug_in"], ["powered-open"]),
        ([*DEAD, "cover_off", "cover_on", "plug_in", "press_start"], []),
    ],
)
def test_isolating_and_opening(acts: list[str], expected: list[str]) -> None:
    assert names(done(*acts)) == expected


def test_ohms_on_a_live_circuit() -> None:
    bench = done("gear_on", "cover_off")
    bench.ohms("L1", "L2")
    assert names(bench) == ["live-work", "ohms-on-live"]
    assert [one.gate for one in bench.findings] == [False, True]


def test_a_live_reading_without_gloves() -> None:
    bench = done("unplug")
    bench.volts("outlet-1", "outlet-2")
    assert names(bench) == ["live-without-precautions"]
    bench = done("unplug", "gear_on")
    bench.volts("outlet-1", "outlet-2")
    assert names(bench) == []


def test_the_receptacle_tested_dead_while_live() -> None:
    bench = done("unplug", "prove_meter")
    bench.do("test_dead", where="outlet")
    assert names(bench) == ["dead-test-live", "live-without-precautions"]


def test_hands_on_live() -> None:
    bench = done("gear_on", "cover_off")
    bench.do("pull_wire", wire="wire T1")
    bench.do("replace_part", part="high limit")
    assert names(bench) == ["live-work", "hands-on-live", "hands-on-live"]


def test_hands_before_dead_is_proved_again() -> None:
    bench = done(*OPEN)
    bench.do("pull_wire", wire="wire T1")
    assert names(bench) == []
    for act in ("gear_on", "plug_in", "unplug"):
        bench.do(act)
    bench.do("pull_wire", wire="wire T2")
    bench.do("pull_wire", wire="wire T3")
    assert names(bench) == ["powered-loose", "live-work", "hands-before-dead"]


def test_hands_in_on_a_breaker_that_anyone_can_close() -> None:
    bench = done("open_breaker", "lock", *DEAD, "cover_off", "plug_in", "unlock")
    bench.do("pull_wire", wire="wire T1")
    assert names(bench) == ["hands-before-dead", "not-locked"]


def test_a_grounded_machine_powered_again_after_it_was_dead() -> None:
    bench = done(*DEAD, "plug_in", "ask_heat", "press_start", faults=("element-1-grounded=0.9", "missing-bond"))
    assert names(bench) == ["powered-grounded", "case-live"]
    assert names(done("ask_heat", "press_start", faults=("element-1-grounded=0.9",))) == []
    assert names(done(*DEAD, "plug_in", "ask_heat", "press_start")) == []


def test_a_breaker_that_trips_still_shows_the_fed_case() -> None:
    bench = done(*DEAD, "plug_in", "ask_heat", "press_start", faults=("element-1-grounded=0.05",))
    assert "powered-grounded" in names(bench)


def test_power_with_a_wire_off() -> None:
    bench = done(*OPEN)
    bench.do("pull_wire", wire="wire T1")
    bench.do("cover_on")
    bench.do("plug_in")
    assert names(bench) == ["powered-loose"]


def test_another_path_phantom_beeper_and_board_are_notices() -> None:
    bench = done(*DEAD, "cover_off")
    bench.ohms("T1", "T0")
    bench.insulation("S1", "S2")
    assert names(bench) == ["other-path", "insulation-through-board"]
    phantom = done("unplug", "gear_on", faults=("lost-leg-2",))
    phantom.volts("outlet-2", "outlet-N")
    assert names(phantom) == ["phantom-volts"]
    beeper = done(*DEAD, "cover_off")
    beeper.continuity("H5", "H6")
    beeper.do("name_fault", fault="cut-off-blown")
    assert names(beeper) == ["beeper-alone"]
    assert not any(one.gate for one in (*bench.findings, *phantom.findings, *beeper.findings))


def test_a_plug_or_breaker_under_load_is_a_notice() -> None:
    for act in ("unplug", "open_breaker"):
        running = done("ask_heat", "press_start", act)
        assert names(running) == ["cut-under-load"]
        assert not running.findings[0].gate
        assert names(done("ask_heat", "press_start", "stop", act)) == []
    assert names(done("open_breaker", "unplug")) == []


def test_hands_at_hot_parts_are_a_notice_until_they_have_cooled() -> None:
    ran = ["ask_heat", "press_start", "let_run", "stop"]
    bench = done("cover_off", *ran, "unplug")
    bench.do("pull_wire", wire="wire T1")
    assert names(bench).count("hot-parts") == 1
    bench.do("cool_down")
    bench.do("put_back_wire", wire="wire T1")
    assert names(bench).count("hot-parts") == 1
    slow = done(*ran, *DEAD, "cover_off", "cover_on", *OPEN[-4:])  # twenty minutes later the box can be touched
    slow.do("pull_wire", wire="wire T1")
    assert names(slow) == []
    warmed = done(*OPEN)
    warmed.do("warm_parts", celsius=140)
    warmed.do("warm_parts", celsius=76)
    assert names(warmed) == []
    warmed.do("replace_part", part="cycling thermostat")
    assert names(warmed) == ["hot-parts"]
    assert not warmed.findings[0].gate


def test_every_finding_of_the_table_has_a_plain_caution() -> None:
    for name in table("bench-findings").column("finding"):
        one = finding(name, 3)
        assert one.what.endswith(".")
        assert one.caution.endswith(".")
        assert json.loads(json.dumps(one.as_data()))["place"] == 3
        assert str(one) == f"{one.what} {one.caution}"


def test_findings_need_only_the_data() -> None:
    bench = done("unplug", "cover_off")
    assert findings(json.loads(json.dumps(bench.trail))) == bench.findings
    assert minutes(bench.trail) == 6


def test_a_fault_named_on_the_beeper_alone() -> None:
    silent = done(*DEAD, "cover_off")
    silent.do("name_fault", fault="cut-off-blown")
    assert names(silent) == []
    both = done(*DEAD, "cover_off")
    both.continuity("H5", "H6")
    both.ohms("L1", "case")
    both.do("name_fault", fault="cut-off-blown")
    assert names(both) == []


def test_a_lock_put_on_after_hands_or_probes_were_inside_is_found() -> None:
    for inside in (
        ("test_dead", {"where": "block"}),
        ("pull_wire", {"wire": "wire T1"}),
        ("probe", {"a": "T1", "b": "T0"}),
    ):
        late = done("open_breaker", "cover_off")
        late.do("set_dial", mode="ohms")
        late.do(inside[0], **inside[1])
        late.do("lock")
        assert names(late)[-1] == "locked-late", inside
        assert late.findings[-1].gate
        out = done(*DEAD, "cover_off")
        out.do("set_dial", mode="ohms")
        out.do(inside[0], **inside[1])
        out.do("open_breaker")
        out.do("lock")
        assert "locked-late" not in names(out), "the plug is out and in one's own hands"
    back = done(*DEAD, "open_breaker", "cover_off", "plug_in")
    back.ohms("T1", "T0")
    back.do("lock")
    assert names(back)[-1] == "locked-late"
    early = done("open_breaker", "lock", *DEAD, "cover_off")
    early.do("test_dead", where="block")
    assert names(early) == []
    closed = done(*OPEN)
    closed.do("pull_wire", wire="wire T1")
    closed.do("put_back_wire", wire="wire T1")
    for act in ("cover_on", "open_breaker", "lock"):
        closed.do(act)
    assert names(closed) == []


def test_gloves_off_before_the_second_proof_with_the_slots_bare_is_found() -> None:
    bench = done("gear_on", "unplug", "prove_meter")
    bench.low_impedance("outlet-1", "outlet-2")
    bench.do("gear_off")
    assert names(bench) == ["gloves-off-early"]
    proved = done("gear_on", "unplug", "prove_meter")
    proved.low_impedance("outlet-1", "outlet-2")
    for act in ("prove_meter", "gear_off"):
        proved.do(act)
    assert names(proved) == []
