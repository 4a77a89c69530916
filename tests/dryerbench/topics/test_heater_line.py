"""The heater's line: all the supply stands at the open contact, and halving takes log2 readings."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from dryerbench.bench.machine import Machine
from dryerbench.bench.wiring import wire_up
from dryerbench.core.errors import OutOfRangeError
from dryerbench.topics.tracing_the_circuit.heater_line import CONTACTS, LINE, heating, middle, splits, volts


def test_the_contacts_are_those_of_the_wiring() -> None:
    circuit = heating(Machine()).circuit
    for name, a, b in CONTACTS.values():
        part = circuit.part(name.replace("centrifugal", "motor centrifugal"))
        assert (part.a, part.b, part.kind) == (a, b, "contact")


def test_the_line_has_one_place_between_every_two_points() -> None:
    circuit = wire_up(Machine(), heating(Machine()).state)
    for a, b in pairwise(LINE):
        between = [p for p in circuit if {p.a, p.b} == {a, b} and p.kind in ("wire", "contact")]
        assert len(between) == 1


@pytest.mark.parametrize("fault", CONTACTS)
def test_all_the_supply_stands_at_the_open_contact_and_none_at_the_others(fault: str) -> None:
    now = heating(Machine(), fault)
    supply = volts(now, "L1", "L2")
    for key, (_, a, b) in CONTACTS.items():
        assert volts(now, a, b) == pytest.approx(supply if key == fault else 0.0, abs=0.5)


def test_a_closed_contact_has_amps_times_ohms() -> None:
    now = heating(Machine())
    amps = abs(now.live.amps("wire L2"))
    assert volts(now, "H5", "H6") == pytest.approx(amps * Machine().contact_ohms, rel=1e-6)


@pytest.mark.parametrize("places", range(1, 40))
def test_splits_are_the_worst_luck_of_halving(places: int) -> None:
    left, readings = places, 0
    while left > 1:
        left, readings = left - left // 2, readings + 1
    assert splits(places) == readings
    assert 2 ** splits(places) >= places > 2 ** (splits(places) - 1) or places == 1


def test_the_middle_halves() -> None:
    assert [middle("L1", "H8"), middle("H2", "H8"), middle("L1", "H6"), middle("H4", "H8")] == ["H4", "H5", "H3", "H6"]
    for start in range(len(LINE) - 2):
        for end in range(start + 2, len(LINE)):
            at = LINE.index(middle(LINE[start], LINE[end]))
            assert math.isclose(at - start, end - at, abs_tol=1)


def test_what_cannot_be_is_said() -> None:
    with pytest.raises(OutOfRangeError, match="one place"):
        splits(0)
    with pytest.raises(OutOfRangeError, match="nothing to split"):
        middle("H1", "H2")
