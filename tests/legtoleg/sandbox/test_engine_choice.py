"""Engines: the best way that a computer allows, said in words; what it does not protect from is said too."""

from __future__ import annotations

import pytest

from legtoleg.sandbox import engine_choice, jail
from legtoleg.sandbox.engine import EngineError, Job, Limits, Run, WarmEngine
from legtoleg.sandbox.engine_choice import Chosen, choose_engine
from legtoleg.sandbox.jail import BUBBLEWRAP, NAMESPACES, SHARED, Way
from legtoleg.sandbox.serial_engine import SerialEngine

CELLS = (
    "1 + 1",
    "1 / 0",
    "from dryerbench import *\njob_card('03_heater_power').heading",
    "print('x')",
    "import legtoleg.keys.reference",
)


def shows_the_same(run: Run) -> None:
    assert run.ended == ""
    assert run.outputs[0][0]["data"]["text/plain"] == "2"
    assert run.outputs[1][0]["ename"] == "ZeroDivisionError"
    assert "demo-01" in run.outputs[2][0]["data"]["text/plain"]
    assert run.outputs[3][0]["text"] == "x\n"
    assert run.outputs[4][0]["ename"] == "ModuleNotFoundError"


@pytest.mark.slow
def test_the_jailed_one(bubblewrap: None) -> None:
    chosen = choose_engine(3)
    assert isinstance(chosen.engine, WarmEngine)
    assert (chosen.workers, chosen.warning, chosen.how) == (3, "", BUBBLEWRAP.words)
    chosen.engine.close()


@pytest.mark.slow
@pytest.mark.parametrize("way", [BUBBLEWRAP, NAMESPACES, SHARED, None], ids=str)
def test_every_way_shows_the_same_and_says_whether_it_isolates(
    bubblewrap: None, monkeypatch: pytest.MonkeyPatch, way: Way | None
) -> None:
    monkeypatch.setattr(engine_choice, "_ways", lambda: iter([] if way is None else [way]))
    for made_up in (False, True):
        chosen = choose_engine(2, Limits(cell_seconds=5, notebook_seconds=60), made_up=made_up)
        try:
            assert isinstance(chosen.engine, SerialEngine if way is None else WarmEngine)
            for _ in range(2):
                run = chosen.engine.run(Job("demo-01", "03_heater_power", CELLS))
                shows_the_same(run)
                assert run.isolated is (way is not None and way.isolates)
        finally:
            chosen.engine.close()
        safe = made_up or run.isolated
        assert ("graded without isolation" in chosen.warning) is not safe
        assert ("without isolation" in chosen.how) is (way == SHARED or (way is None and not made_up))


@pytest.fixture
def refusing(monkeypatch: pytest.MonkeyPatch) -> list[Way]:
    """Let no warm parent start; note the ways that were tried."""
    tried: list[Way] = []

    def refuse(self: WarmEngine, job: Job) -> None:
        tried.append(self.way)
        raise EngineError("no namespaces.")

    monkeypatch.setattr(engine_choice.WarmEngine, "run", refuse)
    return tried


def choose_on(monkeypatch: pytest.MonkeyPatch, system: str, *, bubblewrap: bool) -> Chosen:
    monkeypatch.setattr(engine_choice.sys, "platform", system)
    monkeypatch.setattr(jail, "available", lambda: bubblewrap)
    return choose_engine(3)


def test_the_best_is_tried_first_and_what_failed_is_said(monkeypatch: pytest.MonkeyPatch, refusing: list[Way]) -> None:
    chosen = choose_on(monkeypatch, "linux", bubblewrap=True)
    assert refusing == [BUBBLEWRAP, NAMESPACES, SHARED]
    assert isinstance(chosen.engine, SerialEngine)
    assert "(no namespaces)" in chosen.warning
    refusing.clear()
    choose_on(monkeypatch, "linux", bubblewrap=False)
    assert refusing == [NAMESPACES, SHARED]


@pytest.mark.parametrize("system", ["darwin", "win32"])
def test_elsewhere_there_is_a_process_for_each(
    monkeypatch: pytest.MonkeyPatch, refusing: list[Way], system: str
) -> None:
    chosen = choose_on(monkeypatch, system, bubblewrap=False)
    assert refusing == []
    assert isinstance(chosen.engine, SerialEngine)
    assert f"{system} has no namespaces" in chosen.warning
