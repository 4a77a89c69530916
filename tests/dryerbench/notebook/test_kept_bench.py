"""The kept bench: every act is kept, opening does them again, and nothing written earns what was not done."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.worksite import BenchError
from dryerbench.core import identity
from dryerbench.notebook import kept_bench as module
from dryerbench.notebook import work_log
from dryerbench.notebook.forms import acts_of
from dryerbench.notebook.kept_bench import KeptBench, open_bench
from dryerbench.notebook.machine_panel import MachinePanel
from dryerbench.notebook.running_cell import RunningCell
from dryerbench.notebook.work_log import read_line, written
from dryerbench.registry import sheet

LESSON = "02_two_legs"
DONE = [("gear_on", {}), ("unplug", {}), ("prove_meter", {}), ("set_dial", {"mode": "low-impedance"}),
        ("probe", {"a": "outlet-1", "b": "outlet-2"}), ("gear_off", {})]  # fmt: skip
LOOK = RunningCell("open", "1")


class Page:
    """A page with a kernel: what runs now, what was said, and how it is started again."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
        self.said: list[str] = []
        self.runs: RunningCell | None = LOOK
        self.card = sheet(LESSON).card("demo-01")
        self.patch, self.folder = monkeypatch, folder
        monkeypatch.setattr(module, "running_cell", lambda: self.runs)
        monkeypatch.setattr(module, "show_bundle", lambda bundle: self.said.append(bundle["text/plain"]))
        self.restart()

    def restart(self) -> None:
        self.patch.setattr(module, "_OPEN", {})
        self.patch.setattr(work_log, "_LOGS", {})
        self.said.clear()

    def open(self) -> Bench:
        self.runs = LOOK
        bench = open_bench(self.card)
        self.runs = None
        return bench

    @property
    def log(self) -> Path:
        return self.folder / identity.WORK / f"{LESSON}.jsonl"


@pytest.fixture
def paper(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Page]:
    (tmp_path / identity.MARK).write_text('{"apprentice": "demo-01"}')
    monkeypatch.chdir(tmp_path)
    return Page(monkeypatch, tmp_path)


def work(bench: Bench, acts: list = DONE) -> Bench:
    for act, given in acts:
        bench.do(act, **given)
    return bench


def names(bench: Bench) -> list[str]:
    return [act["act"] for act in bench.trail]


def test_a_bench_is_as_it_was_left(paper: Page) -> None:
    bench = paper.open()
    assert paper.said == []
    before = work(bench).trail
    paper.restart()
    again = paper.open()
    assert again is not bench
    assert json.dumps(again.trail) == json.dumps(before)
    assert [act["act"] for act in acts_of(again)] == [act for act, _ in DONE]
    assert paper.said[0].startswith(f"This bench is as you left it: {len(DONE)} acts from ")


@pytest.mark.parametrize("end", range(0, 2000, 41))
def test_a_kernel_killed_at_any_byte_costs_one_act_at_most(paper: Page, end: int) -> None:
    work(paper.open())
    whole = paper.log.read_bytes()
    end = min(end, len(whole))
    paper.log.write_bytes(whole[:end])
    paper.restart()
    bench = paper.open()
    assert names(bench) == [act for act, _ in DONE][: len(bench.trail)]
    assert len(bench.trail) >= whole[:end].count(b"\n")


def test_a_damaged_line_costs_itself_and_is_told(paper: Page) -> None:
    work(paper.open(), [("unplug", {}), ("prove_meter", {}), ("plug_in", {}), ("open_breaker", {})])
    lines = paper.log.read_bytes().splitlines(keepends=True)
    paper.log.write_bytes(b"".join([lines[0].replace(b"unplug", b"inplug"), *lines[1:]]))
    paper.restart()
    assert names(paper.open()) == ["prove_meter", "open_breaker"]
    assert paper.said == [paper.said[0]]
    assert "Not possible again, because a line before is damaged: 1 of the acts kept." in paper.said[0]


def test_starting_again_keeps_the_old_trail_in_the_file(paper: Page) -> None:
    bench = work(paper.open())
    assert isinstance(bench, KeptBench)
    assert f"The {len(DONE)} acts before are kept" in bench.start_again()
    assert bench.trail == []
    assert bench.state.plugged
    bench.do("open_breaker")
    paper.restart()
    assert names(paper.open()) == ["open_breaker"]
    kinds = [line["kind"] for line in map(read_line, paper.log.read_bytes().splitlines()) if line]
    assert kinds == ["act"] * len(DONE) + ["again", "act"]


def test_what_the_opening_cell_does_itself_is_done_again_at_a_new_start(paper: Page) -> None:
    bench = paper.open()
    paper.runs = LOOK
    bench.do("unplug")
    paper.runs = None
    bench.do("prove_meter")
    assert isinstance(bench, KeptBench)
    bench.start_again()
    assert names(bench) == ["unplug"]
    paper.restart()
    bench = paper.open()
    paper.runs = LOOK
    bench.do("unplug")
    assert names(bench) == ["unplug"]


def test_a_cell_that_runs_again_after_opening_finds_its_acts_done(paper: Page) -> None:
    cell = RunningCell("own", "2")

    def own(bench: Bench) -> list[str]:
        paper.runs = cell
        bench.do("unplug")
        bench.do("prove_meter")
        shown = [str(bench.ohms("plug-1", "plug-2")), str(bench.volts("outlet-1", "outlet-2"))]
        paper.runs = None
        return shown

    bench = paper.open()
    bench.do("gear_on")
    first = own(bench)
    bench.do("gear_off")
    before = names(bench)
    paper.restart()
    bench = paper.open()
    assert own(bench) == first
    assert names(bench) == before
    with pytest.raises(BenchError):  # the second time it is done anew, as ever
        own(bench)


def test_a_cell_that_does_more_than_before_does_the_rest(paper: Page) -> None:
    cell = RunningCell("own", "3")
    bench = paper.open()
    paper.runs = cell
    for act in ("gear_on", "unplug"):
        bench.do(act)
    first = str(bench.low_impedance("outlet-1", "outlet-2"))
    paper.runs = None
    bench.do("set_dial", mode="ohms")
    paper.restart()
    bench = paper.open()
    paper.runs = cell
    for act in ("gear_on", "unplug"):
        bench.do(act)
    assert str(bench.low_impedance("outlet-1", "outlet-2")) == first
    assert names(bench) == ["gear_on", "unplug", "set_dial", "probe", "set_dial"]
    second = bench.low_impedance("outlet-1", "outlet-N")
    assert names(bench)[-2:] == ["set_dial", "probe"]
    assert bench.mode == "low-impedance"
    assert second.mode == "low-impedance"


def test_an_answer_cell_and_a_page_that_is_only_run_have_a_fresh_bench(
    paper: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    work(paper.open())
    paper.runs = RunningCell("receptacle_check-answer", "4")
    assert type(open_bench(paper.card)) is Bench
    paper.runs = LOOK
    monkeypatch.setenv("LEGTOLEG_FIGURES", "words")
    assert type(open_bench(paper.card)) is Bench


def test_a_bench_where_nothing_can_be_written_works_all_the_same(paper: Page) -> None:
    (paper.folder / identity.WORK).write_text("no folder")
    bench = work(paper.open())
    assert names(bench) == [act for act, _ in DONE]
    assert paper.said == []


def test_what_is_written_earns_no_more_than_doing_it(paper: Page) -> None:
    """A forged file with readings, minutes and times of its own gives the trail that its acts give."""
    honest = Bench(*_there(paper))
    work(honest)
    forged = [
        {"form": 1, "kind": "act", "card": paper.card.seed, "at": 5.0, "call": 1, "act": act, "with": given, "cell": "",
         "minutes": 0.0, "reading": {"shown": "240.0 V"}, "happened": ["proved"], "facts": {"dead": True}}
        for act, given in DONE
    ]  # fmt: skip
    unsafe = [("cover_off", {}), ("no_such_act", {}), ("probe", {"a": "T1", "b": "T0", "reading": "27.0"}), (5, 7)]
    forged += [{**forged[0], "act": act, "with": given} for act, given in unsafe]
    paper.log.parent.mkdir()
    paper.log.write_bytes(b"".join(map(written, forged)))
    bench = paper.open()
    work(honest, [("cover_off", {})])
    assert json.dumps(bench.trail) == json.dumps(honest.trail)
    assert bench.minutes == honest.minutes > 0
    assert [str(one) for one in bench.findings] == [str(one) for one in honest.findings]


def _there(paper: Page) -> tuple:
    from dryerbench.course.bench_card import faults_of, machine_of

    return machine_of(paper.card), faults_of(paper.card)


def test_two_pages_at_once_are_told_of(paper: Page) -> None:
    bench = work(paper.open())
    assert isinstance(bench, KeptBench)
    assert bench.trouble == ""
    paper.restart()
    paper.open().do("plug_in")
    assert "open in another page" in bench.trouble


def test_the_panel_starts_the_machine_again(paper: Page) -> None:
    bench = work(paper.open())
    panel = MachinePanel(bench)
    assert panel.menu["kept"]
    panel.receive({"act": "start_again", "turn": 4})
    assert (panel.view["trail"], panel.view["turn"], panel.view["plugged"]) == ([], 4, True)
    assert "are kept" in panel.view["said"]
    assert not MachinePanel(Bench(*_there(paper))).menu["kept"]
