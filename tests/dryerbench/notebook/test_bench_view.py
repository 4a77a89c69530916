"""What is shown of a bench: what a person could see there, and no more."""

from __future__ import annotations

import json

import pytest

from dryerbench.bench.acts import BenchError
from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import PROBE_MODES
from dryerbench.bench.meter_ranges import ranges
from dryerbench.bench.trail import Act
from dryerbench.drawing.interactive_figure import MODE
from dryerbench.notebook import bench_display, bench_view
from dryerbench.notebook.bench_display import show_bench
from dryerbench.notebook.bench_view import reading_in, trail_words, words_of
from dryerbench.notebook.machine_desk import MachineDesk
from dryerbench.notebook.machine_names import own_names

DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off")


def opened(*faults: str) -> Bench:
    bench = Bench(faults=faults)
    for act in DEAD:
        bench.do(act)
    return bench


def desk(bench: Bench) -> MachineDesk:
    return MachineDesk(own_names(bench, named=True))


def reached(bench: Bench) -> set[str]:
    return {words for _, spots in desk(bench).shown()["view"]["reach"] for _, words in spots}


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[dict]:
    found: list[dict] = []
    monkeypatch.setattr(bench_display, "show_bundle", found.append)
    return found


def test_the_view_is_plain_data_and_names_no_fault() -> None:
    sound = json.dumps(desk(opened()).shown(), allow_nan=False)
    for fault in ("element-1-open", "cut-off-blown", "lost-leg-2"):
        bench = opened(fault)
        text = json.dumps(desk(bench).shown(), allow_nan=False)
        assert fault not in text + words_of(bench, own_names(bench, named=True))
        assert text == sound


def test_points_come_into_reach_as_things_are_opened() -> None:
    bench = Bench()
    assert reached(bench) == {"cabinet"}
    bench.do("unplug")
    assert {"plug-1", "receptacle-2"} <= reached(bench)
    assert "T1" not in reached(bench)
    assert "T1" in reached(opened())


def test_a_three_wire_machine_has_no_ground_pin() -> None:
    bench = Bench(Machine(cord="three-wire"))
    bench.do("unplug")
    assert "plug-G" not in reached(bench)
    assert "ground wire" not in desk(bench).menu()["cords"]
    assert "ground wire" in desk(Bench()).menu()["cords"]


def test_everything_on_the_menu_can_be_done() -> None:
    menu = desk(opened()).menu()
    for conductor in menu["cords"]:
        opened().clamp(conductor)
    for where, _ in menu["dead"]:
        opened().do("test_dead", where=where)
    for mode in PROBE_MODES:
        for scale in ranges(mode):
            opened().measure(mode, "T1", "T0", scale.full_scale)


def test_a_reading_is_old_once_something_else_was_done() -> None:
    bench = opened()
    assert reading_in(bench.trail) == {}
    bench.ohms("T1", "T0")
    assert not reading_in(bench.trail)["old"]
    assert reading_in(bench.trail)["of"] == "ohms · T1 to T0"
    bench.do("pull_wire", wire="wire T1")
    assert reading_in(bench.trail)["old"]


def test_the_trail_in_words_has_minutes_and_readings() -> None:
    bench = opened("element-2-open")
    bench.do("pull_wire", wire="wire T2")
    bench.continuity("T2", "T0")
    lines = trail_words(bench.trail)
    assert lines[0] == "1.0 min: pull the plug and keep it in sight"
    assert lines[-1].endswith("continuity (beeper), T2 to T0: OL, silent")
    assert len(lines) == len(bench.trail)
    assert lines[-1].startswith(f"{bench.minutes:.1f} min")


def test_every_act_has_words() -> None:
    from dryerbench.bench.acts import ACTS

    for name in ACTS:
        act: Act = {"act": name, "with": {}, "minutes": 1.0, "happened": [], "facts": {}}
        assert bench_view.act_words(act)


def test_findings_are_said() -> None:
    bench = Bench()
    bench.do("cover_off")
    gate, place, what, caution = desk(bench).shown()["view"]["findings"][0]
    assert (gate, place) == (True, 1)
    assert what.endswith(".")
    assert caution.endswith(".")
    assert "Safety: You took the cover off" in words_of(bench, own_names(bench, named=True))


def test_in_words_and_still(shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(MODE, "words")
    show_bench(opened())
    assert list(shown[0]) == ["text/plain"]
    assert "cover off" in shown[0]["text/plain"]
    monkeypatch.setenv(MODE, "still")
    show_bench(opened())
    assert set(shown[1]) == {"text/plain", "image/svg+xml"}
    monkeypatch.setenv(MODE, "live")
    show_bench(opened())
    assert "application/vnd.jupyter.widget-view+json" in shown[2]


def test_what_is_no_bench_is_said_in_one_line() -> None:
    with pytest.raises(BenchError, match=r"show_bench\(bench\)"):
        show_bench("bench")  # type: ignore[arg-type]
