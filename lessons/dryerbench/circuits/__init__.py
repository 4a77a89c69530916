"""Circuits: a netlist as text, one part a line; the nodal analysis that solves it; its SPICE deck.

Wires and contacts are branches with their own amps (V_a - V_b - R I = 0; an open one says I = 0), so no digits of a
floating node drown beside milliohms, every switch position shares a ``layout``, and equal circuits are solved once.
Current sums are weighted by 1/(parts at the node), which keeps the case's rounding out of floating wires. Ghost volts
come from strays and cable capacitance only; no node is special. Decks are written from parts alone; ``ammeters=True``
keeps every digit.
"""
