"""Circuits: a netlist as text, the nodal analysis that solves it, and the SPICE deck of it."""
