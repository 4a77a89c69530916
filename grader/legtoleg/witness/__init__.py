"""Witnesses: who watched whom do the whole job on a real machine, by a check sheet, in a ledger of its own.

The nine steps and what has to be seen in each are tables (``witness_steps.csv``, ``witness_points.csv``). The record is
a ledger of the room ``ledger`` in the folder of a cohort or a shop. For a page: ``witnessed(folder)`` returns by id
what was seen last; which of lessons, calls and witness is missing, the report's ``three_parts`` says.
"""
