"""A machine of the family by its name: listed, its sheet printed, written as a deck, read at every pair of points."""

import csv
import io
import re

import neospice
import numpy as np
import pytest
from typer.testing import CliRunner

from dryerbench.circuits.spice import deck_node
from dryerbench.core.errors import LegToLegError
from dryerbench.family.faults import faults_of
from dryerbench.family.shelf import arrangement, machine_names
from legtoleg.cli.command import app
from legtoleg.cli.family_scene import family_scene
from legtoleg.cli.machines import machine_lines
from legtoleg.cli.netlist import netlist_text
from legtoleg.cli.readings_csv import readings_text


def rows(text):
    return {(row["a"], row["b"]): row for row in csv.DictReader(io.StringIO(text))}


def test_machines_are_listed_each_on_a_line():
    done = CliRunner().invoke(app, ["machines"])
    assert done.exit_code == 0
    assert done.stdout.splitlines() == list(machine_lines())
    assert [line.split()[0] for line in done.stdout.splitlines()] == list(machine_names())


def test_a_tech_sheet_has_readings_and_ratings_but_no_trap():
    done = CliRunner().invoke(app, ["machines", "cellar"])
    assert done.exit_code == 0
    made = arrangement("cellar")
    for words in ("Box.p to Box.q, off: 10.6 ohm", "opens 238 F, closes 203 F, ±8 F", "Lim.2 to Box.p, brass ring"):
        assert words in done.stdout
    assert made.trap not in done.stdout
    assert "Cut open" not in done.stdout
    listed = done.stdout.partition("Faults, as --fault takes them:")[2].split()
    assert listed == [str(fault) for fault in faults_of(made)]


def test_the_deck_of_a_machine_by_name_is_read_by_a_simulator():
    args = ["netlist", "--machine", "cellar", "--fault", "cut-off-blown", "--state", "run high", "--ammeters"]
    done = CliRunner().invoke(app, args)
    assert done.exit_code == 0
    assert done.stdout.startswith("* dryer cellar practice, three-wire cord, cut-off-blown@Cut, state run high\n")
    simulator = neospice.Simulator()
    result = simulator.run_ac(simulator.parse(done.stdout), neospice.ACMode.LIN, 1, 60.0, 60.0)
    situation = family_scene("cellar", ["cut-off-blown"], "run high").situation
    for point in ("Box.p", "Box.q", "Cut.2"):
        volts = np.asarray(result.voltage(deck_node(situation.circuit, point)))[0]
        assert volts == pytest.approx(situation.live.at(point), rel=1e-6)
    assert abs(situation.live["Cut.1", "Cut.2"].volts) == pytest.approx(240.0, abs=2.0)
    assert abs(situation.live["Box.p", "Box.q"].volts) < 0.01


def test_the_usual_state_is_running_on_high():
    assert netlist_text([], None, machine="porch") == netlist_text([], "run high", machine="porch")


def test_all_pairs_of_a_dead_machine_by_name():
    found = rows(readings_text([], "box free", machine="alcove"))
    assert float(found["Box.p", "Box.q"]["ideal"]) == pytest.approx(28.8, abs=0.01)
    assert float(found["Box.p", "Box.r"]["ideal"]) == pytest.approx(57.6, abs=0.01)
    assert found["case", "Box.q"]["shown"] == "OL"
    assert ("outlet-G", "case") not in found, "a three-wire cord has no ground slot"


def test_a_live_machine_by_name_is_read_in_volts():
    found = rows(readings_text(["coil-open"], "run high", machine="cellar"))
    row = found["Box.p", "Box.q"]
    assert row["mode"] == "volts"
    assert float(row["low"]) <= float(row["ideal"]) <= float(row["high"])


def test_an_apprentice_has_a_machine_of_their_own():
    own = rows(readings_text([], "box free", "ada-01", machine="cellar"))
    other = rows(readings_text([], "box free", "ben-02", machine="cellar"))
    ohms = [float(one["Box.p", "Box.q"]["ideal"]) for one in (own, other)]
    assert ohms[0] != ohms[1]
    assert all(10.0 < value < 11.2 for value in ohms)


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["netlist", "--machine", "palace"], "There is no dryer 'palace'"),
        (["netlist", "--machine", "cellar", "--state", "heating"], "There is no state 'heating'. The states are: off;"),
        (["netlist", "--machine", "cellar", "--fault", "lost-leg-1"], "There is no fault 'lost-leg-1'"),
        (["netlist", "--machine", "cellar", "--cord", "four-wire"], "has a three-wire cord: leave --cord out"),
        (["netlist", "--machine", "cellar", "--probes", "T1,T0"], "no point named 'T1'"),
        (["readings", "--machine", "cellar", "--fault", "belt-switch-open"], "cannot have the fault belt-switch-open"),
        (["readings", "--machine", "cellar", "--state", "run high, on fire"], "'on fire' says nothing"),
        (["machines", "palace"], "There is no dryer 'palace'"),
    ],
)
def test_what_does_not_exist_is_one_line(args, words):
    done = CliRunner().invoke(app, args)
    assert isinstance(done.exception, LegToLegError)
    assert re.search(re.escape(words), str(done.exception))
    assert "\n" not in str(done.exception)
