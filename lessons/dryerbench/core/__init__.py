"""Core: what every room stands on (errors, tables, the stream of numbers, whose machine this is, degrees)."""
