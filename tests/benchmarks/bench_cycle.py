"""How fast a cycle is beside SciPy's solve_ivp and beside plain fine steps, and how close. Run by hand:

OPENBLAS_NUM_THREADS=1 python tests/benchmarks/bench_cycle.py
"""

from __future__ import annotations

import statistics
import time
from typing import TYPE_CHECKING

import numpy as np
from scipy.integrate import solve_ivp

from dryerbench.air.cycle import Cycle
from dryerbench.air.drying import LIMIT, THERMOSTAT, WATER, DryingModel
from dryerbench.air.ducts import Duct

if TYPE_CHECKING:
    from collections.abc import Callable

Outcome = tuple[float, float]
"""Minutes to dry, and the heater's kWh in 60 minutes."""


def ours(cycle: Cycle) -> Outcome:
    """Return what the course computes."""
    record = cycle.run()
    return record.minutes_to_dry or float("nan"), record.heater_joules() / 3.6e6


def _switched(cycle: Cycle) -> tuple[DryingModel, list[tuple[int, float, float]]]:
    model = DryingModel(cycle.body, cycle.load, cycle.room, cycle.dry_air_flow, cycle.heater.lit)
    parts = ((cycle.thermostat, THERMOSTAT), (cycle.high_limit, LIMIT))
    return model, [(place, part.opens, part.closes or 0.0) for part, place in parts if part is not None]


def fine_steps(cycle: Cycle, step: float) -> Outcome:
    """Return what order-4 Runge-Kutta gives in steps of ``step`` [s], switches moved at the steps' ends."""
    model, switches = _switched(cycle)
    closed, joules, dry = [True] * len(switches), 0.0, float("nan")
    on, off = model.rates(cycle.heater.closed_watts), model.rates(0.0)
    state, goal = np.array(model.start()), cycle.load.dry_at * cycle.load.dry_kg
    for number in range(round(cycle.minutes * 60 / step)):
        rates = on if all(closed) else off
        k1 = np.array(rates(state.tolist()))
        k2 = np.array(rates((state + step / 2 * k1).tolist()))
        k3 = np.array(rates((state + step / 2 * k2).tolist()))
        k4 = np.array(rates((state + step * k3).tolist()))
        before, state = state[WATER], state + step / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
        joules += cycle.heater.closed_watts * step * all(closed)
        if before > goal >= state[WATER]:
            dry = (number + (before - goal) / (before - state[WATER])) * step / 60
        for at, (place, opens, closes) in enumerate(switches):
            closed[at] = state[place] < opens if closed[at] else state[place] <= closes
    return dry, joules / 3.6e6


def scipys(cycle: Cycle, rtol: float = 1e-6) -> Outcome:
    """Return what solve_ivp gives, stopped by its own events at each switch in turn."""
    model, switches = _switched(cycle)
    closed, now, state, joules, dry = [True] * len(switches), 0.0, np.array(model.start()), 0.0, float("nan")
    goal, end = cycle.load.dry_at * cycle.load.dry_kg, cycle.minutes * 60.0
    while now < end:
        levels = [(p, o if shut else c, 1 if shut else -1) for shut, (p, o, c) in zip(closed, switches, strict=True)]
        levels.append((WATER, goal if np.isnan(dry) else -1.0, -1))
        events: list[Callable[..., float]] = []
        for place, level, direction in levels:

            def event(_: float, y: np.ndarray, place: int = place, level: float = level) -> float:
                return float(y[place] - level)

            event.terminal, event.direction = True, direction  # type: ignore[attr-defined]
            events.append(event)
        watts = cycle.heater.closed_watts * all(closed)
        rates = model.rates(watts)
        found = solve_ivp(lambda _, y, f=rates: f(y.tolist()), (now, end), state, events=events, rtol=rtol, atol=1e-6)
        joules, now, state = joules + watts * (found.t[-1] - now), found.t[-1], found.y[:, -1]
        hit = next((at for at, times in enumerate(found.t_events) if len(times)), None)
        if hit is not None and hit < len(switches):
            closed[hit] = not closed[hit]
        elif hit is not None:
            dry = now / 60.0
    return dry, joules / 3.6e6


def timed(work: Callable[[], Outcome], times: int) -> tuple[Outcome, float]:
    """Return the outcome and the median time [ms] of ``times`` runs after a first one."""
    outcome, spans = work(), []
    for _ in range(times):
        start = time.perf_counter()
        work()
        spans.append(1e3 * (time.perf_counter() - start))
    return outcome, statistics.median(spans)


def main() -> None:
    """Print one row for each way and cycle: time, ratio to ours, and how far its results are from ours."""
    cycles = {
        "sound": Cycle(),
        "blocked 0.80": Cycle(duct=Duct(blocked=0.8)),
        "blocked 0.85": Cycle(duct=Duct(blocked=0.85)),
    }
    for name, cycle in cycles.items():
        (dry, kwh), own = timed(lambda c=cycle: ours(c), 15)
        print(f"{name}: ours {own:.1f} ms; dry {dry:.4f} min, heater {kwh:.5f} kWh")
        ways = {
            "solve_ivp, rtol 1e-6": (lambda c=cycle: scipys(c), 3),
            "plain steps of 1 s": (lambda c=cycle: fine_steps(c, 1.0), 2),
            "plain steps of 0.1 s": (lambda c=cycle: fine_steps(c, 0.1), 1),
        }
        for way, (work, times) in ways.items():
            (other_dry, other_kwh), span = timed(work, times)
            print(
                f"  {way:22} {span:8.1f} ms, {span / own:6.1f} times ours;"
                f" dry {other_dry / dry - 1:+.1e}, kWh {other_kwh / kwh - 1:+.1e} from ours"
            )


if __name__ == "__main__":
    main()
