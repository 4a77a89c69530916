"""``ngspice`` beside the solver: many circuits in one process, the volts of every node read from its raw files."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
import pytest

from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.spice import write_deck

NGSPICE = shutil.which("ngspice")


def need_ngspice() -> None:
    """Skip without ngspice; in CI, where it must be, fail."""
    if NGSPICE is None:
        reason = "ngspice is not installed (Debian: apt-get install ngspice)"
        (pytest.fail if os.environ.get("CI") == "true" else pytest.skip)(reason)


def raw_volts(path: Path) -> dict[str, complex]:
    head, _, body = path.read_bytes().partition(b"Binary:\n")
    lines = head.decode().splitlines()
    start = lines.index("Variables:") + 1
    count = int(next(line for line in lines if line.startswith("No. Variables")).split(":")[1])
    names = [line.split("\t")[2] for line in lines[start : start + count]]
    pairs = np.frombuffer(body, dtype=float).reshape(count, 2)
    return {name: complex(*pair) for name, pair in zip(names, pairs, strict=True)}


def in_ngspice(folder: Path, circuits: Sequence[Circuit]) -> Iterator[dict[str, complex]]:
    """Yield the volts of every node of each circuit, all decks in one process."""
    script = ["* all decks", ".control"]
    for place, circuit in enumerate(circuits):
        (folder / f"d{place}.cir").write_text(write_deck(circuit, ammeters=True))
        script += [f"source d{place}.cir", "run", f"write d{place}.raw", "destroy all", "remcirc"]
    (folder / "all.cir").write_text("\n".join([*script, "quit", ".endc", ".end"]) + "\n")
    subprocess.run([str(NGSPICE), "-b", "all.cir"], cwd=folder, capture_output=True, check=False, timeout=300)
    for place in range(len(circuits)):
        yield raw_volts(folder / f"d{place}.raw")
