"""Witnesses: who watched whom do the whole job on a real machine, on a check sheet, in a ledger of its own."""
