"""Every pair of points, ideal and as the meter shows it."""

import csv
import io

import pytest
import typer
from typer.testing import CliRunner

from dryerbench.bench.wiring import points
from legtoleg.cli.readings_csv import COLUMNS, readings, readings_text

APP = typer.Typer()
APP.command()(readings)


def rows(text):
    return {(row["a"], row["b"]): row for row in csv.DictReader(io.StringIO(text))}


def test_all_pairs_of_a_dead_machine_in_ohms():
    found = rows(readings_text(["element-1-grounded=0.5"], "elements-free"))
    count = len(points())
    assert len(found) == count * (count - 1) // 2
    row = found["case", "T1"]
    assert row["mode"] == "ohms"
    assert float(row["ideal"]) == pytest.approx(13.51, abs=0.001)
    assert float(row["low"]) <= 13.51 <= float(row["high"])
    assert row["shown"].endswith(" Ω")
    assert found["case", "T2"]["shown"] != "OL"


def test_a_powered_machine_is_read_in_volts():
    found = rows(readings_text([], "heating"))
    row = found["L1", "L2"]
    assert row["mode"] == "volts"
    assert float(row["low"]) <= float(row["ideal"]) <= float(row["high"])


def test_ohms_on_a_powered_machine_say_what_happens():
    found = rows(readings_text([], "standing", mode="ohms"))
    assert found["L1", "L2"]["shown"] == "----"
    assert "fuse" in found["L1", "L2"]["trouble"]


def test_the_command_prints_the_same_text():
    done = CliRunner().invoke(APP, ["--fault", "lost-leg-2", "--state", "standing", "--mode", "low-impedance"])
    assert done.exit_code == 0
    assert done.stdout == readings_text(["lost-leg-2"], "standing", mode="low-impedance")
    assert done.stdout.splitlines()[0] == ",".join(COLUMNS)


def test_a_three_wire_machine_has_no_ground_points():
    found = rows(readings_text([], "unplugged", cord="three-wire", mode="continuity"))
    assert not any("outlet-G" in pair for pair in found)
    assert found["L1", "H1"]["beeps"] == "yes"
    assert found["case", "T1"]["beeps"] == "no"
    assert found["outlet-1", "outlet-2"]["beeps"] == ""
