"""Electricity.

The formulas of the trade, each with its source: Ohm's law, supply, conductors, shock, leakage, contacts.
"""
