"""Engines: the best way of running notebooks that this computer allows, and what it does not protect from."""

from __future__ import annotations

import sys
from dataclasses import dataclass

from legtoleg.sandbox import jail
from legtoleg.sandbox.engine import Engine, EngineError, Job, Limits, WarmEngine
from legtoleg.sandbox.kernel_engine import KernelEngine


@dataclass(frozen=True)
class Chosen:
    """An engine, how many notebooks it runs at once, and a warning for the person (empty: fully protected)."""

    engine: Engine
    workers: int
    warning: str = ""


def choose_engine(workers: int, limits: Limits | None = None) -> Chosen:
    """Return the warm, jailed engine if it runs here; else kernels, with a word on what is missing."""
    if sys.platform != "linux" or not jail.available():
        return Chosen(
            KernelEngine(limits),
            1,
            "No bubblewrap here: notebooks run with your own rights, your files and your network, one at a time. "
            "Mark hand-ins of people you do not know on a Linux machine with bubblewrap.",
        )
    engine = WarmEngine(limits)
    try:
        engine.run(Job("practice", "", ("1",)))
    except EngineError as error:
        engine.close()
        return Chosen(
            KernelEngine(limits),
            1,
            f"The fast jail does not work here ({error}) Notebooks run in slower kernels, one at a time: without "
            "network and without your files, but with no limit on memory and processes.",
        )
    return Chosen(engine, workers)
