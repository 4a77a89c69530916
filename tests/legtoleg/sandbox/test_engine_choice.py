"""Engines: the jailed one where it runs; where it does not, kernels, with a word on what is not protected."""

from __future__ import annotations

import pytest

from legtoleg.sandbox import engine_choice, jail
from legtoleg.sandbox.engine import EngineError, Job, Limits, WarmEngine
from legtoleg.sandbox.engine_choice import choose_engine
from legtoleg.sandbox.kernel_engine import KernelEngine

pytestmark = pytest.mark.slow
CELLS = (
    "1 + 1",
    "1 / 0",
    "from dryerbench import *\njob_card('03_heater_power').heading",
    "print('x')",
)


def test_the_jailed_one(bubblewrap: None) -> None:
    chosen = choose_engine(3)
    assert isinstance(chosen.engine, WarmEngine)
    assert (chosen.workers, chosen.warning) == (3, "")
    chosen.engine.close()


def test_without_a_jail_kernels_show_the_same_and_say_what_is_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(jail, "available", lambda: False)
    chosen = choose_engine(3, Limits(cell_seconds=5, notebook_seconds=60))
    assert isinstance(chosen.engine, KernelEngine)
    assert chosen.workers == 1
    assert "with your own rights" in chosen.warning
    run = chosen.engine.run(Job("demo-01", "03_heater_power", CELLS))
    assert run.ended == ""
    assert run.outputs[0][0]["data"]["text/plain"] == "2"
    assert run.outputs[1][0]["ename"] == "ZeroDivisionError"
    assert "demo-01" in run.outputs[2][0]["data"]["text/plain"]
    assert run.outputs[3][0]["text"] == "x\n"
    chosen.engine.close()


def test_where_namespaces_are_forbidden_kernels_take_over(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(self: WarmEngine, job: Job) -> None:
        raise EngineError("no namespaces.")

    monkeypatch.setattr(jail, "available", lambda: True)
    monkeypatch.setattr(engine_choice.WarmEngine, "run", refuse)
    chosen = choose_engine(3)
    assert isinstance(chosen.engine, KernelEngine)
    assert "no namespaces" in chosen.warning
