"""Engines: the best way of running notebooks that this computer allows, in words, and what it does not protect from."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass

from legtoleg.sandbox import jail
from legtoleg.sandbox.engine import Engine, EngineError, Job, Limits, WarmEngine
from legtoleg.sandbox.jail import BUBBLEWRAP, NAMESPACES, SHARED, Way
from legtoleg.sandbox.serial_engine import SerialEngine

_CAREFUL = (
    "graded without isolation, and every grade says so: this computer cannot shut notebooks in ({why}), so they run "
    "with your own rights. Grade hand-ins from people you do not know on a Linux computer with bubblewrap."
)
TRIAL = Job("practice", "", ("1",))


@dataclass(frozen=True)
class Chosen:
    """An engine, how many notebooks it runs at once, how it runs them, and a warning (empty: fully protected)."""

    engine: Engine
    workers: int
    warning: str = ""
    how: str = BUBBLEWRAP.words


def _ways() -> Iterator[Way]:
    """Yield the ways in which a warm parent may run here, the best first."""
    if sys.platform == "linux":
        if jail.available():
            yield BUBBLEWRAP
        yield NAMESPACES
        yield SHARED


def choose_engine(workers: int, limits: Limits | None = None, *, made_up: bool = False) -> Chosen:
    """Return the warm engine that shuts notebooks in as well as this computer allows, after it ran one.

    What was ``made_up`` here needs no isolation: no warning then, and where nothing can be isolated, notebooks share
    their processes.
    """
    why = f"{sys.platform} has no namespaces" if sys.platform != "linux" else ""
    for way in _ways():
        engine = WarmEngine(limits, way)
        try:
            engine.run(TRIAL)
        except EngineError as error:
            engine.close()
            why = why or str(error).rstrip(".")
            continue
        warning = "" if way.isolates or made_up else _CAREFUL.format(why=why)
        return Chosen(engine, workers, warning, way.words)
    how = "in processes that they share" if made_up else "each in a process of its own, without isolation"
    serial = SerialEngine(limits, together=made_up)
    return Chosen(serial, workers, "" if made_up else _CAREFUL.format(why=why), how)
