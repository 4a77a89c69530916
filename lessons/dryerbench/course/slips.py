"""Slips: the mistakes that people really make, each with what to say and where the lesson cures it.

Each topic has a module ``slips`` with its ``SLIPS``; a code is written once, and other lessons may use it.
The code is the key in records and in tables for machines. People read the title.
"""

from __future__ import annotations

from dataclasses import dataclass

OHMS_LAW = {
    "amps": "Amps are volts divided by ohms.",
    "volts": "Volts are amps times ohms.",
    "ohms": "Ohms are volts divided by amps.",
    "watts": "Watts are volts times amps.",
}
"""Ohm's law and the law of power as a slip says them, by the quantity that its question asks for."""


@dataclass(frozen=True)
class Slip:
    """A known mistake: its short code, its title, the sentence for the person, the part of the lesson that cures it."""

    code: str
    title: str
    """The mistake in two to six plain words that stand alone, without the question: what an instructor reads."""
    says: str
    cure: str
