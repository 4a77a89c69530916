"""All probe pairs of every fault in every setting of each machine of the family, beside two simulators; run by hand.

    OPENBLAS_NUM_THREADS=1 python tests/benchmarks/bench_family.py [machine ...]

Ours is timed from nothing: circuits built, motors, relays and breakers settled, then volts and ohms of every pair of
nodes (ohms alone where the plug is out). The simulators get the finished decks, each different one once, and find
one live solution each: no pairs, no settling. Only the ratio of one run means anything.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from time import perf_counter

import neospice
from bench_solver import in_ngspice

from dryerbench.circuits.solver import pair_ohms, pair_volts
from dryerbench.circuits.spice import write_deck
from dryerbench.family.all_cases import all_cases, solve_settled
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import changed_machine
from dryerbench.family.machine import standard
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.family.wiring import clear_wiring


def ours(made: Arrangement) -> float:
    """Return seconds for every pair of nodes in every case of a machine, from nothing."""
    clear_wiring()
    changed_machine.cache_clear()
    start = perf_counter()
    for one in solve_settled(standard(made), all_cases(made)):
        if one.live is not None:
            pair_volts(one.live.volts)
            pair_ohms(one.live.impedance)
        if one.dead is not None:
            pair_ohms(one.dead.impedance)
    return perf_counter() - start


def in_neospice(decks: Sequence[str]) -> float:
    """Return seconds for one live solution of each deck, parsed beforehand."""
    simulator = neospice.Simulator()
    parsed = [simulator.parse(deck) for deck in decks]
    start = perf_counter()
    for deck in parsed:
        simulator.run_ac(deck, neospice.ACMode.LIN, 1, 60.0, 60.0)
    return perf_counter() - start


def main(names: Sequence[str]) -> None:
    ours(arrangement(names[0]))
    for name in names:
        made = arrangement(name)
        cases = all_cases(made)
        circuits = [one.circuit for one in solve_settled(standard(made), cases)]
        decks = list(dict.fromkeys(write_deck(circuit) for circuit in circuits))
        own = min(ours(made) for _ in range(3))
        neo, ng = in_neospice(decks), in_ngspice(decks)
        beside = f"neospice {neo:5.2f} s, {neo / own:4.2f} of ours"
        beside += "" if ng is None else f"; ngspice {ng:5.2f} s, {ng / own:4.2f} of ours"
        print(f"{name:<11} {len(cases):5} cases, {len(decks):5} decks: ours {own:5.2f} s; {beside}")


if __name__ == "__main__":
    main(sys.argv[1:] or machine_names())
