"""The course's tables: CSV files described by ``datasets/datapackage.json`` (Data Package v2)."""

from __future__ import annotations

import csv
import json
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import TypeAlias

from dryerbench.core.errors import TableError

Cell: TypeAlias = str | int | float | None
"""One cell: None where nothing stands."""

_CASTS: dict[str, type[str | int | float]] = {"number": float, "integer": int, "string": str}


class Row(dict[str, Cell]):
    """One row, by the names of its columns."""

    def text(self, column: str) -> str:
        """Return the words in ``column``.

        Raises
        ------
        TableError
            If no words stand there.
        """
        cell = self[column]
        if not isinstance(cell, str):
            raise TableError(f"The column {column} has {cell!r} where words belong.")
        return cell

    def number(self, column: str) -> float:
        """Return the number in ``column``.

        Raises
        ------
        TableError
            If no number stands there.
        """
        cell = self[column]
        if not isinstance(cell, int | float):
            raise TableError(f"The column {column} has {cell!r} where a number belongs.")
        return cell

    def whole(self, column: str) -> int:
        """Return the whole number in ``column``.

        Raises
        ------
        TableError
            If none stands there.
        """
        cell = self[column]
        if not isinstance(cell, int):
            raise TableError(f"The column {column} has {cell!r} where a whole number belongs.")
        return cell

    def number_or_none(self, column: str) -> float | None:
        """Return the number in ``column``, or None if the cell is empty.

        Raises
        ------
        TableError
            If words stand there.
        """
        return None if self[column] is None else self.number(column)


def datasets_folder() -> Path:
    """Return the folder of the tables: inside an installed wheel, else beside ``lessons/`` in a checkout or a kit.

    Raises
    ------
    TableError
        If neither place has a ``datapackage.json``.
    """
    here = Path(__file__).resolve().parent.parent
    for folder in (here / "datasets", here.parent.parent / "datasets"):
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
    rows: tuple[Row, ...]

    def column(self, name: str) -> list[Cell]:
        """Return one column, top to bottom, in the unit ``units[name]``.

        Raises
        ------
        TableError
            If the table has no such column.
        """
        if name not in self.units:
            raise TableError(f"The table {self.name} has no column {name}; it has {', '.join(self.units)}.")
        return [row[name] for row in self.rows]

    def texts(self, name: str) -> list[str]:
        """Return one column of words, top to bottom.

        Raises
        ------
        TableError
            If the table has no such column, or a cell of it no words.
        """
        self.column(name)
        return [row.text(name) for row in self.rows]

    def numbers(self, name: str) -> list[float]:
        """Return one column of numbers, top to bottom, in the unit ``units[name]``.

        Raises
        ------
        TableError
            If the table has no such column, or a cell of it no number.
        """
        self.column(name)
        return [row.number(name) for row in self.rows]

    def row(self, **wanted: Cell) -> Row:
        """Return the one row whose cells equal ``wanted``.

        Raises
        ------
        TableError
            If there is no such row.
        """
        key = tuple(wanted.items())
        if key not in self._found:
            self._found[key] = self._search(wanted)
        return self._found[key]

    @cached_property
    def _found(self) -> dict[tuple[tuple[str, Cell], ...], Row]:
        """The rows that were asked for, by what they were asked for with."""
        return {}

    def _search(self, wanted: dict[str, Cell]) -> Row:
        for row in self.rows:
            if all(row.get(key) == value for key, value in wanted.items()):
                return row
        what = ", ".join(f"{key} = {value}" for key, value in wanted.items())
        raise TableError(f"The table {self.name} has no row with {what}.")


def _cell(text: str, field: dict[str, str]) -> Cell:
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
        rows = tuple(Row({key: _cell(text, fields[key]) for key, text in row.items()}) for row in csv.DictReader(file))
    return Table(
        name=name,
        title=resource["title"],
        units={key: field.get("unit", "") for key, field in fields.items()},
        sources=tuple(source["title"] for source in resource.get("sources", [])),
        rows=rows,
    )
