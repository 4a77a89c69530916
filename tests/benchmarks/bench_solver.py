"""All probe pairs of every fault in every state, beside two simulators on the same decks; run by hand.

    OPENBLAS_NUM_THREADS=1 python tests/benchmarks/bench_solver.py

Ours is timed from the machine to the volts and ohms of every pair of nodes, live and dead. The simulators are given
decks that are written and (where that is possible) parsed beforehand, and find one live solution each: no pairs.
Only the ratio of one run means anything.
"""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from pathlib import Path
from time import perf_counter

import neospice

from dryerbench.bench.faults import fault_names, faulty_circuit, fits, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.states import named_state, state_names
from dryerbench.bench.wiring import wire_up
from dryerbench.circuits import solver, values
from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.recent import Recent
from dryerbench.circuits.solver import pair_ohms, pair_volts, solve, solve_all
from dryerbench.circuits.spice import write_deck


def build() -> list[Circuit]:
    machines = (Machine(), Machine(cord="three-wire"))
    circuits = []
    for name in ("", *fault_names()):
        faults = [read_fault(name)] if name else []
        machine = next(one for one in machines if all(fits(fault, one) for fault in faults))
        circuits += [faulty_circuit(machine, named_state(state), faults) for state in state_names()]
    return circuits


def ours() -> tuple[float, float]:
    """Return seconds for everything, and seconds for the live solutions alone."""
    wire_up.cache_clear()
    start = perf_counter()
    circuits = build()
    middle = perf_counter()
    live = solve_all(circuits)
    done = perf_counter()
    dead = solve_all(circuits, 0.0)
    for solution in live:
        pair_volts(solution.volts)
        pair_ohms(solution.impedance)
    for solution in dead:
        pair_ohms(solution.impedance)
    return perf_counter() - start, done - middle


def theirs(decks: list[str]) -> float:
    simulator = neospice.Simulator()
    parsed = [simulator.parse(deck) for deck in decks]
    start = perf_counter()
    for deck in parsed:
        simulator.run_ac(deck, neospice.ACMode.LIN, 1, 60.0, 60.0)
    return perf_counter() - start


def pairs_of(circuits: list[Circuit]) -> tuple[float, float]:
    """Return seconds for the ohms of every pair of dead machines: ours, and one run a node in the simulator."""
    simulator = neospice.Simulator()
    decks = [
        simulator.parse(write_deck(circuit, probes=(node, circuit.reference)))
        for circuit in circuits
        for node in circuit.nodes
    ]
    start = perf_counter()
    for solution in solve_all(circuits, 0.0):
        pair_ohms(solution.impedance)
    middle = perf_counter()
    for deck in decks:
        simulator.run(deck)
    return middle - start, perf_counter() - middle


def one_after_the_other() -> tuple[float, float]:
    """Return seconds for circuits as a bench asks for them, one by one and each twice; and with nothing remembered."""
    circuits = [circuit for circuit in build()[:400] for _ in range(2)]
    start = perf_counter()
    for circuit in circuits:
        solve(circuit)
    middle = perf_counter()
    for circuit in circuits:
        values._READERS, solver._SOLVED = Recent(64), Recent(16)
        solve(circuit)
    return middle - start, perf_counter() - middle


def in_ngspice(decks: list[str]) -> float | None:
    """Return seconds for reading and running every deck in one process, or None without ngspice."""
    program = shutil.which("ngspice")
    if program is None:
        return None
    with tempfile.TemporaryDirectory() as folder:
        script = ["* all decks", ".control"]
        for place, deck in enumerate(decks):
            Path(folder, f"d{place}.cir").write_text(deck)
            script += [f"source d{place}.cir", "run", "destroy all", "remcirc"]
        Path(folder, "all.cir").write_text("\n".join([*script, "quit", ".endc", ".end"]) + "\n")
        start = perf_counter()
        subprocess.run([program, "-b", "all.cir"], cwd=folder, capture_output=True, check=False)
        return perf_counter() - start


def main() -> None:
    build()
    decks = [write_deck(circuit) for circuit in build()]
    whole, live = min(ours() for _ in range(3))
    neo = min(theirs(decks) for _ in range(3))
    ng = in_ngspice(decks)
    own, other = pairs_of(build()[:: len(state_names())])
    kept, forgotten = min(one_after_the_other() for _ in range(3))
    print(f"one by one, each twice: {kept:.2f} s; with nothing remembered {forgotten:.2f} s, {forgotten / kept:.1f} x")
    print(f"{len(decks)} circuits ({len(fault_names()) + 1} x {len(state_names())})")
    print(f"ours, built and solved live and dead, all pairs: {whole:.2f} s; live solutions alone {live:.2f} s")
    print(f"neospice, parsed before, one live solution each: {neo:.2f} s, {neo / live:.2f} of our live time")
    print(f"ohms of all pairs, one dead state a fault: ours {own:.3f} s, neospice {other:.2f} s, {other / own:.0f} x")
    if ng is not None:
        print(f"ngspice, decks read and run in one process:      {ng:.2f} s, {ng / live:.1f} of our live time")


if __name__ == "__main__":
    main()
