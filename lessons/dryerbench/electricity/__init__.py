"""Electricity: the formulas of the trade (Ohm's law, supply, conductors, shock, leakage, contacts)."""
