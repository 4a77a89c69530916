"""Contact: can a probe reach a point as things stand, and what two probes met there that safety is judged by."""

from __future__ import annotations

from dryerbench.bench import probing
from dryerbench.bench.access import behind
from dryerbench.bench.meter import DEAD_MODES
from dryerbench.bench.meter_ranges import fits_mains
from dryerbench.bench.shop_names import shop_name
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError, Worksite, machine_on, situation_on


def reach(bench: Worksite, point: str) -> None:
    """Do nothing if a probe can be put on ``point`` as things stand.

    Raises
    ------
    BenchError
        If it cannot: the point is behind something, or this machine does not have it.
    """
    place = behind(machine_on(bench)).get(point)
    if place is None or point not in situation_on(bench).circuit.nodes:
        raise BenchError(f"This dryer has no test point '{shop_name(point)}'.")
    if place == "cover" and not bench.bared(point):
        raise BenchError(f"{point} is behind the cover. Take it off first.")
    if place == "outlet" and bench.state.plugged and bench.splitter:
        return
    if place in ("outlet", "plug") and bench.state.plugged:
        raise BenchError(f"{shop_name(point)} cannot be reached while the plug is in the receptacle: unplug first.")


def note_probe(bench: Worksite, record: Act, a: str, b: str, shown: str) -> None:
    """Note what two probes that showed ``shown`` met: a live circuit, another path, ghost volts, a board, a charge."""
    now, mode = situation_on(bench), bench.mode
    spoiled, whole = shown == "----", bench.fuse
    touched = bool(now.hot_points([a, b])) or now.is_live(a, b)
    in_slots = [point.startswith("outlet-") for point in (a, b)]
    shrouded = all(in_slots) and bench.state.plugged
    live = touched or (any(in_slots) and bench.state.breaker_on) or (not all(in_slots) and bench.energized)
    dead_mode = mode in DEAD_MODES
    insulation = mode == "insulation" and whole and not spoiled
    record["facts"] |= {
        "isolated": bench.isolated,
        "powered": bench.powered,
        "live_bare": (touched or (dead_mode and live)) and not bench.gear and not shrouded,
        "ohms_on_live": dead_mode and (spoiled or live),
        "other_path": mode in ("ohms", "continuity") and whole and not spoiled
        and probing.reads_another_path(now, a, b),
        "phantom": mode == "volts" and whole and probing.is_phantom(bench.meter, now, a, b),
        "board_stressed": insulation
        and (probing.reaches_board(now, a, b) or probing.stresses_board(bench.meter, now, a, b)),
        "category_low": live and not fits_mains(bench.rating),
        "other_setting": mode != "insulation",
    }  # fmt: skip
    bench.charged = bench.charged or (insulation and not live)
