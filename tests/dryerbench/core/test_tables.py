"""The tables: described as Data Package v2 asks, read as described."""

from __future__ import annotations

import csv
import json

import pytest

from dryerbench.core.errors import TableError
from dryerbench.core.tables import datasets_folder, table

PACKAGE = json.loads((datasets_folder() / "datapackage.json").read_text(encoding="utf-8"))
NAMES = [resource["name"] for resource in PACKAGE["resources"]]


@pytest.mark.parametrize("resource", PACKAGE["resources"], ids=NAMES)
def test_every_table_is_described(resource: dict) -> None:
    with (datasets_folder() / resource["path"]).open(encoding="utf-8", newline="") as file:
        header = next(csv.reader(file))
    assert header == [field["name"] for field in resource["schema"]["fields"]]
    assert resource["title"]
    assert resource["sources"]
    assert all(source["title"] for source in resource["sources"])
    assert all(field["title"] for field in resource["schema"]["fields"])
    assert all("unit" in field for field in resource["schema"]["fields"] if field["type"] in ("number", "integer"))


def test_every_file_is_described() -> None:
    described = {resource["path"] for resource in PACKAGE["resources"]}
    assert {path.name for path in datasets_folder().glob("*.csv")} == described


@pytest.mark.parametrize("name", NAMES)
def test_every_table_reads(name: str) -> None:
    read = table(name)
    assert read.rows
    for column in read.units:
        assert len(read.column(column)) == len(read.rows)


def test_what_is_not_there_is_said() -> None:
    with pytest.raises(TableError, match="no table nowhere"):
        table("nowhere")
    with pytest.raises(TableError, match="no column color"):
        table("copper-conductors").column("color")
    with pytest.raises(TableError, match="no row with awg = 3"):
        table("copper-conductors").row(awg=3)


def test_units_are_kept() -> None:
    assert table("copper-conductors").units["ohms_per_kft"] == "Ω/kft"
