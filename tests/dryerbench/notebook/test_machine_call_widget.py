"""Practice calls on machines not seen before: nothing tells the fault, the check follows what was done."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.diagnosis.machine_calls import MachineCallError, machine_call_of, told_call, told_calls
from dryerbench.diagnosis.machine_search import title_on
from dryerbench.drawing.interactive_figure import MODE
from dryerbench.notebook import bench_display, practice_stand
from dryerbench.notebook.machine_call_widget import MachineCallPad, checked, machine_call, was_wrong
from dryerbench.notebook.machine_names import own_names


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[dict]:
    found: list[dict] = []
    monkeypatch.setattr(practice_stand, "show_bundle", found.append)
    monkeypatch.setattr(bench_display, "show_bundle", found.append)
    return found


@pytest.mark.parametrize("mode", ["words", "still", "live"])
def test_a_call_is_shown_without_its_fault_and_without_names(
    shown: list[dict], monkeypatch: pytest.MonkeyPatch, mode: str
) -> None:
    monkeypatch.setenv(MODE, mode)
    machine_call(2)
    assert shown[0]["text/plain"].startswith("Call 2 on another dryer. The customer says: “")
    assert len(shown) == (1 if mode == "live" else 2)
    assert ("image/svg+xml" in shown[-1]) == (mode != "words")
    call = told_call(2)
    assert not [one for one in (*call.faults, *call.parts, "Box.") if one in str(shown)]


def test_the_check_follows_what_was_done() -> None:
    number = next(n for n in range(1, len(told_calls()) + 1) if told_call(n).kind == "plain" and told_call(n).faults)
    call = told_call(number)
    pad = MachineCallPad(call, Bench(call.machine, call.faults))
    pad.check.click()
    assert "Not repaired yet: 1 of 1" in pad.says.value
    assert "Safety" not in pad.says.value
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        pad.bench.do(act)
    for part in call.parts:
        pad.bench.do("replace_part", part=part)
    assert not pad.tell.disabled
    pad.check.click()
    assert "Everything that was wrong is fixed. No unsafe act." in pad.says.value
    pad.bench.do("replace_part", part="Mot")
    pad.check.click()
    assert "Not needed: motor" in pad.says.value
    pad.sheet.click()
    assert "Readings, plug out" in pad.says.value


def test_a_job_that_is_not_ours_is_closed_by_handing_it_over() -> None:
    call = next(told_call(n) for n in range(1, len(told_calls()) + 1) if told_call(n).kind == "hand over")
    bench = Bench(call.machine, call.faults)
    names = own_names(bench, named=False)
    assert "not closed yet" in checked(call, bench, names)
    bench.do("unplug")
    bench.do("stop_and_hand_over", to=call.hands)
    assert f"Right: this job is for the {call.hands}." in checked(call, bench, names)


def test_what_was_wrong_is_told_by_places() -> None:
    for number in range(1, len(told_calls()) + 1):
        call = told_call(number)
        names = own_names(Bench(call.machine), named=False)
        said = was_wrong(call, names)
        assert said.startswith(("It was: ", "Nothing was wrong"))
        assert "Box." not in said
        assert "coil p" not in said


def test_a_call_that_there_is_not_is_refused_in_one_line() -> None:
    with pytest.raises(MachineCallError, match="numbered 1, 2, 3"):
        machine_call(0)


def test_the_buttons_hint_name_and_then_compare() -> None:
    call = machine_call_of(10)
    pad = MachineCallPad(call, Bench(call.machine, call.faults))
    assert pad.compare.disabled
    pad.hint.click()
    assert "Hint 1: " in pad.says.value
    pad.fault.value = title_on(call.names[0])
    pad.name.click()
    assert "Right: " in pad.says.value
    assert not pad.compare.disabled
    pad.compare.click()
    assert "Our suggested way: " in pad.says.value


def test_a_dealt_call_is_closed_by_whoever_takes_it_over() -> None:
    call = next(call for n in range(17, 60) if (call := machine_call_of(n)).hands == "licensed electrician")
    for to, closed in (("licensed electrician", True), ("qualified person", True), ("utility", False)):
        bench = Bench(call.machine, call.faults)
        bench.do("unplug")
        bench.do("stop_and_hand_over", to=to)
        assert ("Right: this job" in checked(call, bench, own_names(bench, named=False))) == closed
