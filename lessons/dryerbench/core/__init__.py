"""Core: what every room stands on: errors, tables, the stream of numbers, whose machine this is, degrees.

``random_stream`` is SHA-256 in counter mode, documented in its docstring and held by golden tests: a change there
changes every machine and every handed-in trail. ``tables`` finds ``datasets/`` beside ``lessons/`` or in the wheel.
"""
