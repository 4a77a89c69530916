"""The command's deck is the deck of the scene, and a simulator reads it."""

import neospice
import numpy as np
import pytest
import typer
from typer.testing import CliRunner

from dryerbench.circuits.spice import deck_node
from dryerbench.core.errors import LegToLegError
from legtoleg.cli.netlist import netlist, netlist_text
from legtoleg.cli.settled_scene import scene

APP = typer.Typer()
APP.command()(netlist)


def test_the_command_prints_the_deck():
    done = CliRunner().invoke(
        APP, ["--fault", "element-1-grounded=0.4", "--state", "heating", "--variant", "anna-example"]
    )
    assert done.exit_code == 0
    assert done.stdout == netlist_text(["element-1-grounded=0.4"], "heating", "anna-example")
    assert done.stdout.startswith("* dryer anna-example, four-wire cord, element-1-grounded=0.4, state heating")


def test_two_faults_on_a_three_wire_machine():
    args = ["--fault", "strap-missing", "--fault", "lost-leg-2", "--cord", "three-wire", "--state", "standing"]
    done = CliRunner().invoke(APP, args)
    assert done.exit_code == 0
    assert "* open: R_frame_strap n case" in done.stdout


def test_a_simulator_reads_what_the_command_prints():
    circuit = scene([], "heating").situation
    simulator = neospice.Simulator()
    result = simulator.run_ac(simulator.parse(netlist_text([], "heating")), neospice.ACMode.LIN, 1, 60.0, 60.0)
    volts = np.asarray(result.voltage(deck_node(circuit.circuit, "T0")))[0]
    assert volts == pytest.approx(circuit.live.at("T0"), rel=1e-6)


def test_ohms_through_two_probes():
    simulator = neospice.Simulator()
    result = simulator.run(simulator.parse(netlist_text([], "elements-free", probes="T1, T0", ammeters=True))).dc
    volts = [np.atleast_1d(result.voltage(node))[0] for node in ("t1", "t0")]
    assert volts[0] - volts[1] == pytest.approx(27.0, rel=1e-5)


@pytest.mark.parametrize(("probes", "words"), [("T1", "Give two points"), ("T1,T9", "no point named 'T9'")])
def test_bad_probes_are_said(probes, words):
    with pytest.raises(LegToLegError, match=words):
        netlist_text([], "unplugged", probes=probes)
