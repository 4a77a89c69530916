"""The tech sheet says what a technician may know, and nothing that is worked out for the trainer."""

from __future__ import annotations

import pytest

from dryerbench.core.random_stream import stream_for
from dryerbench.family.places import drawn_placement
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.family.tech_sheet import sensor_table, sheet_lines


@pytest.mark.parametrize("name", machine_names())
def test_a_sheet_names_every_part_coil_and_wire(name: str) -> None:
    made = arrangement(name)
    text = "\n".join(sheet_lines(made))
    for part in made.parts:
        assert f"  {part.name:<6} {part.kind.name}" in text
    for coil in made.coils:
        assert f"{coil.ends[0]} to {coil.ends[1]} {coil.ohms:g} ohm" in text
    for one in made.sheet:
        assert str(one) in text
    for one in made.worked_out:
        assert "open" not in one.state or str(one) not in text
    assert made.trap not in text


def test_a_sheet_of_ones_own_machine_has_its_marks() -> None:
    made = arrangement("alcove")
    marks = drawn_placement(made, stream_for("ada-01", "bench")).marks
    lines = list(sheet_lines(made, marks))
    for wire, mark in zip(made.wires, marks, strict=True):
        assert f"  {wire.a} to {wire.b}, {mark}" in lines


@pytest.mark.parametrize(
    ("name", "sensor", "kiloohms"),
    [
        ("porch", "The", (24.21, 12.50, 6.88, 4.00, 2.43)),
        ("hallway", "The", (21.04, 11.00, 6.12, 3.59, 2.21)),
        ("hallway", "Thi", (106.22, 52.00, 27.26, 15.16, 8.87)),
        ("cabin", "The", (18.39, 9.10, 4.82, 2.70, 1.59)),
    ],
)
def test_sensor_tables_by_the_beta_law(name: str, sensor: str, kiloohms: tuple[float, ...]) -> None:
    table = sensor_table(arrangement(name).by_name[sensor])
    assert [degrees for degrees, _ in table] == [50, 77, 104, 131, 158]
    assert [round(ohms / 1e3, 2) for _, ohms in table] == list(kiloohms)
