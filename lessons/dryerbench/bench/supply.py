"""Acts at the supply: plug, breaker, and its lock and tag."""

from __future__ import annotations

from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError, Worksite


def unplug(bench: Worksite, record: Act) -> None:
    """Pull the plug."""
    if not bench.state.plugged:
        raise BenchError("The plug is out already.")
    record["facts"]["under_load"] = bench.state.running and bench.powered
    bench.settle(record, plugged=False, running=False)


def plug_in(bench: Worksite, record: Act) -> None:
    """Put the plug in."""
    if bench.state.plugged:
        raise BenchError("The plug is in already.")
    if bench.capped:
        raise BenchError("A cap with lock and tag is on the plug. Take it off first, if it is yours.")
    bench.switch(record, plugged=True)


def open_breaker(bench: Worksite, record: Act) -> None:
    """Open the breaker."""
    record["facts"]["under_load"] = bench.state.running and bench.powered
    bench.settle(record, breaker_on=False, running=False)


def close_breaker(bench: Worksite, record: Act) -> None:
    """Close the breaker."""
    if bench.locked:
        raise BenchError("The breaker is locked open. Take lock and tag off first, if they are yours.")
    bench.switch(record, breaker_on=True)


def lock(bench: Worksite, _: Act) -> None:
    """Lock and tag the open breaker."""
    if bench.state.breaker_on:
        raise BenchError("The breaker is on. Open it before you lock it.")
    bench.locked = True


def unlock(bench: Worksite, record: Act) -> None:
    """Take lock and tag off the breaker."""
    bench.locked = False
    bench.note_power(record)
