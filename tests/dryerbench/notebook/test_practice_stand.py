"""The practice stand: another dryer in place, the trail of the one before kept, the same dryer after a restart."""

from __future__ import annotations

from pathlib import Path

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.worksite import machine_on
from dryerbench.core import identity
from dryerbench.diagnosis.service_calls import CallError
from dryerbench.drawing.interactive_figure import MODE
from dryerbench.notebook import kept_bench, practice_stand, work_log
from dryerbench.notebook.call_widget import dealt_call, practice_call
from dryerbench.notebook.kept_bench import Keeper
from dryerbench.notebook.machine_call_widget import dealt_machine_call, machine_call
from dryerbench.notebook.practice_bench_widget import dealt_bench, practice_bench
from dryerbench.notebook.practice_stand import PracticeStand, Series
from dryerbench.notebook.running_cell import RunningCell

SERIES = {
    "bench": Series(lambda number: dealt_bench("make_dead", number), "practice-bench/make_dead"),
    "call": Series(dealt_call, "practice-call"),
    "machine": Series(dealt_machine_call, "machine-call"),
}
SHOW = {"bench": lambda *number: practice_bench("make_dead", *number), "call": practice_call, "machine": machine_call}


class Kernel:
    """A kernel in a folder of lessons: which cell runs, the stands that were shown, a restart."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.patch = monkeypatch
        self.stands: list[PracticeStand] = []
        self.cell: RunningCell | None = None
        monkeypatch.setenv(MODE, "live")
        monkeypatch.setattr(kept_bench, "running_cell", lambda: self.cell)
        monkeypatch.setattr(practice_stand, "show_bundle", lambda _: None)
        monkeypatch.setattr(practice_stand, "PracticeStand", self._stand)
        self.restart()

    def _stand(self, series: Series, number: int, kept: Keeper) -> PracticeStand:
        self.stands.append(PracticeStand(series, number, kept))
        return self.stands[-1]

    def restart(self) -> None:
        self.patch.setattr(kept_bench, "_OPEN", {})
        self.patch.setattr(work_log, "_LOGS", {})

    def run(self, kind: str, *number: int, place: str = "a-cell") -> PracticeStand:
        self.cell = RunningCell(place, str(number))
        SHOW[kind](*number)
        self.cell = None
        return self.stands[-1]


@pytest.fixture
def kernel(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Kernel:
    (tmp_path / identity.MARK).write_text('{"apprentice": "demo-01"}')
    monkeypatch.chdir(tmp_path)
    return Kernel(monkeypatch)


def acts(bench: Bench) -> list[str]:
    return [act["act"] for act in bench.trail]


def head(stand: PracticeStand) -> str:
    return str(stand.view.children[0].value)


@pytest.mark.parametrize("kind", SERIES)
def test_another_dryer_stands_in_place_and_the_one_before_is_as_it_was_left(kernel: Kernel, kind: str) -> None:
    stand = kernel.run(kind)
    assert (stand.number, stand.before.disabled) == (1, True)
    stand.benches[1].do("unplug")
    first = head(stand)
    stand.another.click()
    assert stand.number == 2
    assert "This is dryer 2." in stand.says.value
    assert head(stand) != first
    assert stand.view.children[1].bench is stand.benches[2]
    assert machine_on(stand.benches[2]) != machine_on(stand.benches[1])
    assert acts(stand.benches[2]) == []
    stand.benches[2].do("open_breaker")
    stand.before.click()
    assert head(stand) == first
    assert "dryer 1 as you left it, with 1 act done" in stand.says.value
    assert stand.view.children[1].bench is stand.benches[1]
    assert [acts(stand.benches[number]) for number in (1, 2)] == [["unplug"], ["open_breaker"]]


@pytest.mark.parametrize("kind", SERIES)
def test_after_a_restart_the_dryer_that_stood_there_stands_there_with_its_trail(kernel: Kernel, kind: str) -> None:
    stand = kernel.run(kind)
    stand.benches[1].do("unplug")
    stand.another.click()
    stand.another.click()
    stand.benches[3].do("open_breaker")
    kernel.restart()
    again = kernel.run(kind)
    assert again.number == 3
    assert acts(again.benches[3]) == ["open_breaker"]
    assert "as you left it: 1 act" in head(again)
    again.before.click()
    again.before.click()
    assert acts(again.benches[1]) == ["unplug"]


def test_a_cell_with_another_number_begins_there_and_no_cell_moves_another(kernel: Kernel) -> None:
    kernel.run("call").another.click()
    assert kernel.run("call", 7).number == 7
    assert kernel.run("call", place="another-cell").number == 1
    assert kernel.run("call").number == 2


def test_the_buttons_of_each_dryer_work_on_its_own_bench(kernel: Kernel) -> None:
    stand = kernel.run("bench")
    stand.another.click()
    pad = stand.view.children[-1]
    stand.benches[2].do("cover_off")
    assert "At once" in pad.children[0].value
    stand.before.click()
    assert "At once" not in stand.view.children[-1].children[0].value
    stand.another.click()
    assert stand.view.children[-1] is pad


@pytest.mark.parametrize("kind", SERIES)
def test_without_a_folder_of_lessons_it_is_kept_as_long_as_it_stands_there(
    kernel: Kernel, monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory, kind: str
) -> None:
    monkeypatch.chdir(tmp_path_factory.mktemp("elsewhere"))
    stand = kernel.run(kind)
    stand.benches[1].do("unplug")
    stand.another.click()
    stand.before.click()
    assert acts(stand.benches[1]) == ["unplug"]
    assert kernel.run(kind).number == 1


@pytest.mark.parametrize("kind", SERIES)
def test_a_damaged_number_in_the_log_is_passed_over(kernel: Kernel, kind: str) -> None:
    kernel.cell = RunningCell("a-cell", "()")
    kept = kept_bench.keeper(practice_stand.LOG)
    for strange in (0, -3, "4", True, None):
        kept.note(SERIES[kind].seed, strange)
    assert kernel.run(kind).number == 1


def test_where_no_further_dryer_is_dealt_that_is_said_and_the_one_shown_stays(kernel: Kernel) -> None:
    def deal(number: int) -> practice_stand.Dealt:
        if number > 1:
            raise CallError("There is one dryer.")
        return dealt_call(number)

    stand = PracticeStand(Series(deal, "one"), 1, Keeper(None))
    stand.another.click()
    assert (stand.number, "There is one dryer." in stand.says.value) == (1, True)
