"""The deck is written from the parts, opens stay as remarks, and clashing names are refused."""

from __future__ import annotations

import pytest

from dryerbench.circuits.circuit import CircuitError, read_circuit
from dryerbench.circuits.spice import write_deck

TEXT = """
leg 2: source from service-N to L2, 120 V at 180 deg
element 1: resistance from L2 to T0, 27 ohm
stray: capacitance from T0 to earth, 2e-11 F
high limit: contact from T0 to H8, closed, 0.01 ohm
control contact: contact from H8 to earth, open, 0.01 ohm
bar: wire from service-N to earth, 0 ohm
"""


def test_each_part_is_a_card() -> None:
    lines = write_deck(read_circuit(TEXT), "a dryer").splitlines()
    assert lines[0] == "* a dryer"
    assert "V_leg_2 l2 service_n AC 120.0 180.0" in lines
    assert "R_element_1 l2 t0 27.0" in lines
    assert "C_stray t0 0 2e-11" in lines
    assert "R_high_limit t0 h8 0.01" in lines
    assert "* open: R_control_contact h8 0" in lines
    assert "V_bar service_n 0 DC 0" in lines
    assert lines[-2:] == [".ac lin 1 60.0 60.0", ".end"]


def test_a_dead_deck_drives_one_ampere_through_the_probes() -> None:
    lines = write_deck(read_circuit(TEXT), probes=("T0", "L2")).splitlines()
    assert "V_leg_2 l2 service_n DC 0" in lines
    assert "I_probes l2 t0 DC 1" in lines
    assert ".op" in lines


def test_ammeters_name_the_current_of_a_contact() -> None:
    deck = write_deck(read_circuit(TEXT), ammeters=True)
    assert "V_high_limit t0 high_limit_m DC 0\nH_high_limit high_limit_m h8 V_high_limit 0.01" in deck


def test_two_names_that_become_one_are_refused() -> None:
    with pytest.raises(CircuitError, match="one name: T-1, T_1"):
        write_deck(read_circuit("a: wire from T-1 to earth, 1 ohm\nb: wire from T_1 to earth, 1 ohm"))
