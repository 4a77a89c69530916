"""The engine for other computers: one notebook after the other, outputs checked, an early end said."""

from __future__ import annotations

from typing import Any

import pytest
from nbformat.v4 import new_output

from legtoleg.sandbox import kernel_engine
from legtoleg.sandbox.engine import Job, Limits
from legtoleg.sandbox.kernel_engine import KernelEngine
from legtoleg.sandbox.run_notebook import RUN


def test_outputs_are_checked_and_an_early_end_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: dict[str, Any] = {}

    class Runner:
        log: Any = type("Log", (), {"setLevel": lambda *_: None})()

        def __init__(self, **limits: int) -> None:
            asked.update(limits)

        def preprocess(self, notebook: Any, resources: Any) -> Any:
            asked["student"] = resources["nbgrader"]["student"]
            notebook.cells[0].outputs = [new_output("stream", text=notebook.cells[0].source), {"output_type": "odd"}]
            return notebook, {RUN: "it died"}

    monkeypatch.setattr(kernel_engine, "RunNotebook", Runner)
    run = KernelEngine(Limits(cell_seconds=3, notebook_seconds=7)).run(Job("ada-01", "a_lesson", ("one", "two")))
    assert asked == {"timeout": 3, "notebook_seconds": 7, "student": "ada-01"}
    assert run.ended == "it died"
    assert run.outputs == {0: [{"output_type": "stream", "name": "stdout", "text": "one"}], 1: []}
