"""The sealed bench as an honest page uses it: the panel, cells, a lost answer, a service that is killed."""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.worksite import situation_on
from dryerbench.core.sealed import unsealed
from dryerbench.notebook import sealed_bench
from dryerbench.notebook.far_desk import FarDesk
from dryerbench.notebook.machine_panel import MachinePanel, Panel
from dryerbench.notebook.sealed_bench import SealedBench, SealedBenchError, SealedLink
from legtoleg.classroom import sealed_service
from legtoleg.classroom.sealed_dealing import (
    CALL_JOBS,
    DEALT_FROM,
    Dealer,
    SealedJob,
    SealedMeter,
    sealed_references,
)
from legtoleg.classroom.sealed_marking import bench_outcomes, mark_calls
from legtoleg.classroom.sealed_pace import MOST, SECONDS_A_MINUTE, Pace
from legtoleg.marking.answer_parsing import Found, GivenAct
from legtoleg.marking.marking import mark_lesson

call_paths = import_module("..keys.call_paths", __package__)

DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off")


class OnTheLessonsDryer(Dealer):
    """Deals call 1 as it was while it stood on the lessons' own machine: its points have the names of the lessons."""

    def bench(self, test: str, who: str, job: SealedJob) -> Bench:
        if job is not CALL_JOBS[0]:
            return super().bench(test, who, job)
        card: Any = self.card(test, who, job.lesson)
        there = unsealed(card.earlier[0])
        bench = Bench(there.machine, there.faults)
        bench.meter = SealedMeter()
        return bench


@pytest.fixture
def here(tmp_path: Path, load: Callable[[str], ModuleType], monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    module = load("sealed_class")
    monkeypatch.setattr(sealed_service, "is_of_seat", lambda *_: True)
    folder = module.make_folder(tmp_path / "cohort", tmp_path / "s")
    one = module.SealedClass(folder, dealer=OnTheLessonsDryer(folder.secret(DEALT_FROM))).start()
    monkeypatch.setenv("LEGTOLEG_CLASS", str(one.path().with_name("class")))
    yield one
    one.stop()


def opened(here: Any, job: str = "call-1", test: str = "") -> SealedBench:
    return SealedBench.at(SealedLink.here(), test or here.open(), job)


def place(panel: Panel, probe: str, spot: str, *, alone: bool = False) -> None:
    panel.receive({"act": "place", "with": {"probe": probe, "spot": spot, "alone": alone}})


def test_a_bench_reads_as_the_one_that_the_class_holds(here: Any) -> None:
    test = here.open()
    bench = opened(here, test=test)
    mine = here.room.dealer.bench(test, "ada-01", CALL_JOBS[0])
    for act in DEAD:
        assert bench.do(act)["minutes"] == mine.do(act)["minutes"]
    assert bench.ohms("T1", "T0") == mine.ohms("T1", "T0")
    assert bench.minutes == pytest.approx(mine.minutes)
    assert [act["act"] for act in bench.trail] == [act["act"] for act in mine.trail]


SHOWN = ("drawing", "faces")


@pytest.mark.parametrize("job", [0, 2], ids=["the lessons' dryer", "a dryer not seen before"])
def test_the_panel_shows_what_a_bench_in_the_kernel_shows(here: Any, job: int) -> None:
    test, named = here.open(), job == 0
    far = Panel(FarDesk(opened(here, CALL_JOBS[job].key, test)))
    near = MachinePanel(here.room.dealer.bench(test, "ada-01", CALL_JOBS[job]), named=named)
    assert far.menu == near.menu
    spots = iter(spot for name in near.names.spots if name.startswith("box") for spot in near.names.spots[name])
    a, b = next(spots), next(spots)
    presses: list[tuple[str, dict[str, object]]] = [
        ("place", {"probe": "A", "spot": a}),
        ("go", {"at": "box-1"}),
        *((act, {}) for act in DEAD),
        ("go", {"at": "box-1"}),
        ("wire", {"wire": f"{a}/1"}),
        ("tag_wire", {"wire": f"{a}/1", "text": "mine"}),
        ("dial", {"at": "ohms"}),
        ("place", {"probe": "A", "spot": a}),
        ("place", {"probe": "B", "spot": b, "alone": True}),
        ("key", {"name": "hold"}),
        ("key", {"name": "range"}),
        ("dial", {"at": "clamp"}),
        ("again", {}),
        ("warm_parts", {"fahrenheit": 140}),
        ("cover_on", {}),
        ("nothing of that name", {}),
    ]
    for act, given in presses:
        for panel in (far, near):
            panel.receive({"act": act, "with": given, "turn": 7})
        assert [getattr(far, name) for name in SHOWN] == [getattr(near, name) for name in SHOWN], act
        for key, value in near.view.items():
            if key == "findings":
                assert far.view[key] is None
            elif key != "minutes" and not (key == "said" and "acts are:" in value):
                assert json.loads(json.dumps(value)) == far.view[key], (act, key)
    assert far.view["fahrenheit"] == 140
    assert len(far.view["trail"]) == len(near.bench.trail) > len(DEAD) + 4


def test_code_and_panel_are_at_the_same_bench(here: Any) -> None:
    bench = opened(here)
    panel = Panel(FarDesk(bench))
    for act in DEAD:
        bench.do(act)
    panel.follow()
    assert len(panel.view["trail"]) == len(DEAD)
    panel.receive({"act": "dial", "with": {"at": "ohms"}})
    place(panel, "A", "T1")
    assert panel.view["said"] == "Probe A is on T1. Now the other one."
    place(panel, "B", "T0")
    assert panel.view["reading"]["of"] == "ohms · T1 to T0"
    assert bench.trail[-1]["with"] == {"a": "T1", "b": "T0"}
    assert bench.ohms("T1", "T0").shown == bench.trail[-2]["reading"]["shown"]


def test_a_press_on_a_page_that_is_behind_shows_how_the_bench_stands(here: Any) -> None:
    test = here.open()
    panel, other = Panel(FarDesk(opened(here, test=test))), opened(here, test=test)
    other.do("unplug")
    panel.receive({"act": "plug_in", "turn": 2})
    assert panel.view["refused"]
    assert "1 act by now" in panel.view["said"]
    assert not panel.view["plugged"]
    panel.receive({"act": "plug_in", "turn": 3})
    assert panel.view["plugged"]
    here.book().end(test)
    panel.receive({"act": "unplug", "turn": 4})
    assert panel.view["refused"]
    assert "has ended" in panel.view["said"]
    assert panel.view["plugged"]


def test_a_refused_press_leaves_no_act_and_keeps_the_tip_that_was_put(here: Any) -> None:
    test = here.open()
    panel = Panel(FarDesk(opened(here, test=test)))
    for act in DEAD:
        panel.receive({"act": act})
    panel.receive({"act": "dial", "with": {"at": "temp"}})
    place(panel, "A", "T1")
    place(panel, "B", "T0")
    assert panel.view["refused"]
    assert "dial is on temp" in panel.view["said"]
    assert panel.view["tip_words"] == {"A": "T1", "B": "T0"}
    assert len(here.book().acts(test, "ada-01", "call-1")) == len(DEAD)
    panel.receive({"act": "start_again"})
    assert panel.view["refused"]
    panel.receive("nothing that is an act")
    assert panel.view["refused"]
    assert len(here.book().acts(test, "ada-01", "call-1")) == len(DEAD)


def test_a_machine_not_seen_before_is_worked_by_places_in_code_too(here: Any) -> None:
    test = here.open()
    bench = opened(here, "call-3", test)
    for act in DEAD:
        bench.do(act)
    b = "case"
    spots = [spot for _, there in Panel(FarDesk(bench)).view["reach"] for spot, _ in there]
    a = next(spot for spot in spots if spot.startswith("box") and "metal" not in spot)
    reading = bench.ohms(a, b)
    words = bench.trail[-1]["with"]["a"]
    assert str(words).startswith("heater box terminal")
    assert bench.ohms(str(words), b).shown == reading.shown
    name = here.book().acts(test, "ada-01", "call-3")[-1].act["with"]["a"]
    assert "." in name
    with pytest.raises(SealedBenchError, match="no such place"):
        bench.ohms(name, b)


def test_a_page_that_is_opened_again_goes_on(here: Any) -> None:
    test = here.open()
    first = opened(here, test=test)
    first.do("unplug")
    second = opened(here, test=test)
    assert second.trail == first.trail
    second.do("prove_meter")
    with pytest.raises(SealedBenchError, match="2 acts by now"):
        first.do("plug_in")
    assert first.trail == second.trail
    first.do("test_dead")
    assert len(here.book().acts(test, "ada-01", "call-1")) == 3


def test_a_lost_answer_is_asked_again_and_nothing_is_done_twice(here: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    test = here.open()
    bench = opened(here, test=test)
    truly, lost = sealed_bench.ask, []

    def losing(*given: Any) -> Any:
        found = truly(*given)
        if not lost:
            lost.append(found)
            raise ConnectionResetError
        return found

    monkeypatch.setattr(sealed_bench, "ask", losing)
    bench.do("unplug")
    assert len(lost) == 1
    assert len(here.book().acts(test, "ada-01", "call-1")) == 1


def test_an_answer_that_is_asked_again_is_the_same_to_the_byte_after_a_kill(here: Any) -> None:
    test = here.open()
    before = [here.act(test, n, act).text for n, act in enumerate(DEAD)]
    reading = here.act(test, len(DEAD), "probe", a="L1", b="case").text
    state = here.ask("GET", f"/tests/{test}/call-1").text
    here.again()
    assert here.ask("GET", f"/tests/{test}/call-1").text == state
    assert [here.act(test, n, act).text for n, act in enumerate(DEAD)] == before
    assert here.act(test, len(DEAD), "probe", a="L1", b="case").text == reading
    assert here.act(test, len(DEAD) + 1, "probe", a="L2", b="case").status == 200


def test_what_could_not_be_written_was_not_done(here: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    test = here.open()
    here.act(test, 0, "unplug")

    def full(*_: object) -> None:
        raise sqlite3.OperationalError("database or disk is full")

    with monkeypatch.context() as broken:
        broken.setattr(type(here.room.book), "write", full)
        got = here.act(test, 1, "prove_meter")
    assert got.status == 507
    assert "nothing was done" in got.said["said"]
    assert here.act(test, 1, "prove_meter").said["n"] == 2
    assert len(here.book().acts(test, "ada-01", "call-1")) == 2


def test_the_book_is_only_added_to(here: Any) -> None:
    here.act(here.open(), 0, "unplug")
    rows = sqlite3.connect(here.folder.root / "secrets" / "supervised.sqlite")
    for words in ("update acts set act = ''", "delete from acts", "delete from ends", "update tests set until = 0"):
        if words == "delete from ends":
            continue
        with pytest.raises(sqlite3.IntegrityError, match="only added to"):
            rows.execute(words)
    rows.close()
    place = here.folder.root / "secrets"
    assert place.stat().st_mode & 0o077 == 0
    assert (place / "supervised.sqlite").stat().st_mode & 0o077 == 0


def test_one_try_in_a_window_of_time(here: Any) -> None:
    test = here.open(minutes=60.0)
    bench = opened(here, test=test)
    bench.do("unplug")
    here.clock.now += 3600
    with pytest.raises(SealedBenchError, match="has ended"):
        bench.do("plug_in")
    here.clock.now -= 1_000_000  # the computer's clock is set back
    with pytest.raises(SealedBenchError, match="has ended"):
        bench.do("plug_in")
    here.again()
    with pytest.raises(SealedBenchError, match="has ended"):
        bench.do("plug_in")
    here.clock.now += 1_000_000
    second = here.open(minutes=60.0)
    assert here.ask("POST", f"/tests/{second}/end").status == 200
    assert here.act(second, 0, "unplug").status == 409
    assert here.act(second, 0, "unplug", who="bo-02").status == 200
    here.book().end(second)
    assert here.act(second, 1, "prove_meter", who="bo-02").status == 409


def test_steps_take_their_share_of_time() -> None:
    pace = Pace(0.0)
    assert pace.wait(0.0) == 0
    pace = pace.spent(0.0, 10.0)
    assert pace.wait(0.0) == pytest.approx((10 - MOST) * SECONDS_A_MINUTE)
    assert pace.wait(15.0) == 0
    assert pace.wait(-1000.0) == pytest.approx(15.0)
    assert pace.spent(1e9, 0.0).balance == MOST


@pytest.fixture
def slept(here: Any, monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """Have the class's clock go on as long as the page would sleep; return each sleep [s]."""
    found: list[float] = []

    def sleep(seconds: float) -> None:
        found.append(seconds)
        here.clock.now += seconds

    monkeypatch.setattr(sealed_bench.time, "sleep", sleep)
    return found


def test_the_page_waits_for_its_turn_by_itself(here: Any, slept: list[float]) -> None:
    here.clock.run = 0.0
    bench = opened(here)
    for act in DEAD:
        bench.do(act)
    bench.do("cover_on")
    assert slept
    assert sum(slept) == pytest.approx((10 - MOST) * SECONDS_A_MINUTE, abs=0.3)


def as_drawn(names: Any, given: Mapping[str, Any]) -> dict[str, Any]:
    """Return what an act is given in the words of a drawing that has no names."""
    words = {"a": lambda point: names.spot_of.get(point, point), "wire": names._token_of.get, "part": names.of_part}
    words["b"] = words["a"]
    return {key: words[key](value) if key in words else value for key, value in given.items()}


def test_the_same_marker_marks_the_trail_as_it_marks_a_page(here: Any, slept: list[float]) -> None:
    test = here.open()
    card: Any = here.room.dealer.card(test, "ada-01", "10_call_to_close")
    names: Any = MachinePanel(here.room.dealer.bench(test, "ada-01", CALL_JOBS[1]), named=False).names
    bench = opened(here, "call-2", test)
    for act, given in call_paths.repair(card, 2, unsealed(card.job(2)).heard):
        bench.do(act, **as_drawn(names, given))
    assert sum(slept) > SECONDS_A_MINUTE  # work that heats takes its share of time
    outcomes = {one.question: one for one in bench_outcomes(here.book(), here.room.dealer, test, "ada-01")}
    assert outcomes["cause_removed"].full, outcomes["cause_removed"].message
    assert outcomes["handed_over"].note == "no_record"
    acts = tuple(
        GivenAct({"act": str(one.act["act"]), "with": dict(one.act["with"])})  # type: ignore[call-overload]
        for one in here.book().acts(test, "ada-01", "call-2")
    )
    name = here.room.dealer.name(test, "ada-01", "10_call_to_close")
    by_kit = mark_lesson("10_call_to_close", name, {"cause_removed": Found("work", acts=acts)})
    assert by_kit["cause_removed"] == outcomes["cause_removed"]


def test_a_fault_is_named_once_with_the_readings_so_far(here: Any) -> None:
    test = here.open()
    bench = opened(here, test=test)
    bench.do("unplug")
    right = {one[0] for one in bench.offers}
    question = next(one for one in sealed_references("10_call_to_close") if one.question == "call_fault")
    key = min(question.right(here.room.dealer.card(test, "ada-01", "10_call_to_close")))  # type: ignore[union-attr,call-arg,arg-type]
    assert key in right
    other = min(right - {key})
    assert "when the test is graded" in bench.name_fault(str(key))
    assert "when the test is graded" in bench.name_fault(str(key))
    with pytest.raises(SealedBenchError, match="first name counts"):
        bench.name_fault(other)
    outcomes = {one.question: one for one in bench_outcomes(here.book(), here.room.dealer, test, "ada-01")}
    assert outcomes["call_fault"].note == "thin_evidence"


def test_marks_come_when_nobody_can_use_them(here: Any) -> None:
    test = here.open("ada-01")
    opened(here, test=test).do("unplug")
    with pytest.raises(Exception, match="still open for ada-01"):
        mark_calls(here.folder, test)
    here.book().end(test)
    (taken,) = mark_calls(here.folder, test)
    assert not taken.passed
    page = here.folder.cohort.folder / "feedback" / "ada-01" / f"supervised-{test}.html"
    assert "Not passed" in page.read_text(encoding="utf-8")
    kept = json.loads((here.folder.root / "supervised" / f"{test}.json").read_text(encoding="utf-8"))
    assert [one["question"] for one in kept["takers"]["ada-01"]] == [
        "call_fault", "call_repair", "cause_removed", "handed_over"
    ]  # fmt: skip


def test_two_tests_at_once_are_refused(here: Any) -> None:
    here.open("ada-01")
    with pytest.raises(Exception, match="ada-01 has a supervised test open"):
        here.open()
    with pytest.raises(Exception, match="Say who"):
        here.book().open("calls", {}, 60)


def test_every_test_and_person_has_machines_of_their_own(here: Any) -> None:
    dealer = here.room.dealer
    names = {dealer.name(test, who, "10_call_to_close") for test in ("a", "b") for who in ("ada-01", "bo-02")}
    assert len(names) == 4
    other = type(dealer)("00" * 32)
    assert other.name("a", "ada-01", "10_call_to_close") not in names


def test_the_meter_of_a_test_reads_inside_its_band(here: Any) -> None:
    plain, sealed = Bench(faults=["element-2-open"]), Bench(faults=["element-2-open"])
    sealed.meter = SealedMeter()
    for bench in (plain, sealed):
        bench.do("unplug")
        bench.do("cover_off")
    truth = plain.meter.ideal(situation_on(plain), "ohms", "T1", "T0")
    for bench in (plain, sealed):
        reading = bench.ohms("T1", "T0")
        assert reading.low <= truth <= reading.high


@pytest.mark.skipif(os.getuid() != 0, reason="other users need root")
def test_only_the_owner_of_the_home_is_answered(
    tmp_path: Path, load: Callable[[str], ModuleType], capfd: pytest.CaptureFixture[str]
) -> None:
    module = load("sealed_class")
    import tempfile

    with tempfile.TemporaryDirectory(prefix="ltl-") as short:
        Path(short).chmod(0o755)
        folder = module.make_folder(tmp_path / "cohort", Path(short) / "s")
        (Path(short) / "s").chmod(0o711)
        os.chown(folder.homes / "ada-01", 70_001, 70_001)
        os.chown(folder.homes / "bo-02", 70_002, 70_002)
        one = module.SealedClass(folder).start()
        got: dict[int, list[int]] = {}
        for user in (70_001, 70_002, 0):
            read, write = os.pipe()
            child = os.fork()
            if child == 0:
                if user:
                    os.setresgid(user, user, user)
                    os.setresuid(user, user, user)
                found = [one.ask("GET", "/tests", who=who).status for who in ("ada-01", "bo-02")]
                os.write(write, json.dumps(found).encode())
                os._exit(0)
            os.waitpid(child, 0)
            got[user] = json.loads(os.read(read, 100))
            os.close(read)
            os.close(write)
        one.stop()
    assert got == {70_001: [200, 403], 70_002: [403, 200], 0: [403, 403]}
