"""The course's tables: CSV files described by ``datasets/datapackage.json`` (Data Package v2)."""

from __future__ import annotations

import csv
import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from dryerbench.core.errors import TableError

_CASTS: dict[str, type] = {"number": float, "integer": int, "string": str}


def datasets_folder() -> Path:
    """Return the folder of the tables: beside ``lessons/`` in a checkout or a kit, inside an installed wheel.

    Raises
    ------
    TableError
        If neither place has a ``datapackage.json``.
    """
    here = Path(__file__).resolve().parent.parent
    for folder in (here.parent.parent / "datasets", here / "datasets"):
        if (folder / "datapackage.json").is_file():
            return folder
    raise TableError("The folder datasets/ is missing beside lessons/: unpack the whole kit again.")


@dataclass(frozen=True)
class Table:
    """One table: its rows as typed dicts, the unit of each column, and where the numbers come from."""

    name: str
    title: str
    units: dict[str, str]
    sources: tuple[str, ...]
    rows: tuple[dict[str, Any], ...]

    def column(self, name: str) -> list[Any]:
        """Return one column, top to bottom, in the unit ``units[name]``.

        Raises
        ------
        TableError
            If the table has no such column.
        """
        if name not in self.units:
            raise TableError(f"The table {self.name} has no column {name}; it has {', '.join(self.units)}.")
        return [row[name] for row in self.rows]

    def row(self, **wanted: Any) -> dict[str, Any]:
        """Return the one row whose cells equal ``wanted``.

        Raises
        ------
        TableError
            If there is no such row.
        """
        for row in self.rows:
            if all(row.get(key) == value for key, value in wanted.items()):
                return row
        what = ", ".join(f"{key} = {value}" for key, value in wanted.items())
        raise TableError(f"The table {self.name} has no row with {what}.")


def _cell(text: str, field: dict[str, Any]) -> Any:
    return None if text == "" else _CASTS[field.get("type", "string")](text)


@cache
def table(name: str) -> Table:
    """Return the table ``name`` of ``datasets/datapackage.json``, read once.

    Raises
    ------
    TableError
        If no such table is described.
    """
    folder = datasets_folder()
    package = json.loads((folder / "datapackage.json").read_text(encoding="utf-8"))
    found = [resource for resource in package["resources"] if resource["name"] == name]
    if not found:
        raise TableError(f"There is no table {name} in datasets/.")
    resource = found[0]
    fields = {field["name"]: field for field in resource["schema"]["fields"]}
    with (folder / resource["path"]).open(encoding="utf-8", newline="") as file:
        rows = tuple({key: _cell(text, fields[key]) for key, text in row.items()} for row in csv.DictReader(file))
    return Table(
        name=name,
        title=resource["title"],
        units={key: field.get("unit", "") for key, field in fields.items()},
        sources=tuple(source["title"] for source in resource.get("sources", [])),
        rows=rows,
    )
