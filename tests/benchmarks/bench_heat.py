"""How fast heat follows an act on the bench: whole moves, and beside SciPy's solve_ivp. Run by hand:

OPENBLAS_NUM_THREADS=1 python tests/benchmarks/bench_heat.py
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

import numpy as np
from scipy.integrate import solve_ivp

from dryerbench.air.drying import LIMIT, WATER, DryingModel
from dryerbench.air.warm_machine import HeatParts, Passed, Power, cold, let_pass
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import read_fault
from dryerbench.bench.heat import LIMIT_SWITCH, heat_parts
from dryerbench.bench.machine import Machine

WATTS, SECONDS = 5900.0, 600.0


def median_ms(work: Callable[[], object], times: int) -> float:
    """Return the median time [ms] of ``times`` runs after a first one."""
    work()
    spans = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        spans.append(1e3 * (time.perf_counter() - start))
    return statistics.median(spans)


def ours(parts: HeatParts) -> Passed:
    """Return ten minutes of heat as the bench follows them."""
    return let_pass(cold(parts), frozenset(), parts, lambda opened: Power(0.0 if opened else WATTS, 1.0, True), SECONDS)


def scipys(parts: HeatParts, rtol: float = 1e-6) -> np.ndarray:
    """Return the same by solve_ivp, stopped by its own event at each move of the limit."""
    model = DryingModel(parts.body, parts.load, parts.room, parts.flow)
    limit = parts.switches[LIMIT_SWITCH][0]
    now, state, closed = 0.0, np.array(cold(parts).places), True
    while now < SECONDS:
        level, direction = (limit.opens, 1) if closed else (limit.closes or 0.0, -1)

        def event(_: float, y: np.ndarray, level: float = level) -> float:
            return float(y[LIMIT] - level)

        event.terminal, event.direction = True, direction  # type: ignore[attr-defined]
        rates = model.rates(WATTS * closed)
        found = solve_ivp(
            lambda _, y, f=rates: f(y.tolist()), (now, SECONDS), state, events=[event], rtol=rtol, atol=1e-6
        )
        now, state = found.t[-1], found.y[:, -1]
        closed = closed != bool(len(found.t_events[0]))
    return np.asarray(state)


def move(*faults: str) -> tuple[float, float, float]:
    """Return the ms of a first ``let_run`` on a machine never seen, of the slowest more, and of a reading meanwhile."""

    def started(volts: float) -> Bench:
        bench = Bench(Machine(leg_volts=volts), faults)
        bench.do("ask_heat")
        bench.do("press_start")
        return bench

    firsts, nexts, readings = [], [], []
    for number in range(7):
        bench = started(118.0 + number / 10.0)
        for spans, act, given in (
            (firsts, "let_run", {}),
            *((nexts, "let_run", {}),) * 8,
            *((readings, "temperature", {"spot": "exhaust"}),) * 3,
        ):
            start = time.perf_counter()
            bench.do(act, **given)
            spans.append(1e3 * (time.perf_counter() - start))
    return statistics.median(firsts), max(nexts), statistics.median(readings)


def main() -> None:
    """Print one row for each machine: the kernel's time for a move, and ten minutes of heat beside solve_ivp."""
    move()
    for faults in ((), ("blocked-vent=0.6",), ("blocked-vent=0.8",), ("cut-off-blown",), ("element-1-grounded=0.4",)):
        first, worst, reading = move(*faults)
        name = " ".join(faults) or "sound"
        print(
            f"{name:24} let_run: first {first:5.1f} ms, slowest of 56 more {worst:5.1f} ms; reading {reading:4.1f} ms"
        )
    for fault in ("blocked-vent=0.35", "blocked-vent=0.8"):
        parts = heat_parts(Machine(), (read_fault(fault),))
        own, other = median_ms(lambda p=parts: ours(p), 9), median_ms(lambda p=parts: scipys(p), 3)
        off = ours(parts).heat.places[WATER] - scipys(parts)[WATER]
        print(
            f"{fault:24} ten minutes: ours {own:.1f} ms, solve_ivp {other:.1f} ms, {other / own:.1f} times;"
            f" water {off:+.1e} kg"
        )


if __name__ == "__main__":
    main()
