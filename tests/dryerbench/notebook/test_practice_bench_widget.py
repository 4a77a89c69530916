"""A practice bench on a page: its job, every mistake at once, what is missing, and the fault named by its readings."""

from __future__ import annotations

import pytest

from dryerbench.course.practice_bench import NoPracticeBenchError
from dryerbench.drawing.interactive_figure import MODE
from dryerbench.notebook import bench_display, practice_stand
from dryerbench.notebook.kept_bench import KeptBench
from dryerbench.notebook.practice_bench_widget import PracticeBenchPad, practice_bench
from dryerbench.notebook.work_log import WorkLog
from dryerbench.registry import PRACTICE_BENCHES, bench_to_practice


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[dict]:
    found: list[dict] = []
    monkeypatch.setattr(practice_stand, "show_bundle", found.append)
    monkeypatch.setattr(bench_display, "show_bundle", found.append)
    return found


@pytest.mark.parametrize("name", PRACTICE_BENCHES)
@pytest.mark.parametrize("mode", ["words", "still", "live"])
def test_it_shows_its_job_and_not_its_fault(
    shown: list[dict], monkeypatch: pytest.MonkeyPatch, mode: str, name: str
) -> None:
    monkeypatch.setenv(MODE, mode)
    practice_bench(name)
    job = bench_to_practice(name).job(1)
    assert shown[0]["text/plain"].startswith(f"Practice dryer 1, not graded: {job.made.name}, ")
    assert len(shown) == (1 if mode == "live" else 2)
    assert not [fault for fault in job.faults if fault in str(shown)]


@pytest.mark.parametrize("number", [0, -1, 1.5, True, "2"])
def test_a_strange_number_is_told_in_a_line(number: object) -> None:
    with pytest.raises(NoPracticeBenchError, match="numbered 1, 2, 3"):
        practice_bench("make_dead", number)
    with pytest.raises(NoPracticeBenchError, match="no practice bench called 'dead'"):
        practice_bench("dead")


def test_a_mistake_is_named_at_once_and_gone_after_the_next_good_act(tmp_path) -> None:
    kind = bench_to_practice("make_dead")
    job = kind.job(1)
    bench = KeptBench(job.bench, "seed", 1, WorkLog(tmp_path / "log"))
    pad = PracticeBenchPad(kind, job, bench)
    bench.do("unplug")
    assert pad.at_once.value == ""
    bench.do("cover_off", cover="rear plate")
    assert "At once" in pad.at_once.value
    assert bench.findings[0].caution[:20] in pad.at_once.value
    bench.do("cover_on", cover="rear plate")
    assert pad.at_once.value == ""
    bench.start_again()
    bench.do("unplug")
    bench.do("cover_off", cover="rear plate")
    assert "At once" in pad.at_once.value


def test_the_buttons_check_and_name() -> None:
    kind = bench_to_practice("fault_to_case")
    job = kind.job(1)
    pad = PracticeBenchPad(kind, job, job.bench())
    pad.check.click()
    assert "You did not test dead at the terminal block" in pad.says.value
    pad.fault.value = job.right[0]
    pad.name.click()
    assert "No reading of yours shows that yet." in pad.says.value
    pad.sheet.click()
    assert "Readings, plug out" in pad.says.value
