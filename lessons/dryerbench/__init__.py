"""Leg to Leg's bench: what an apprentice holds (job card, figures, practice, hand-in)."""

from dryerbench.handin import hand_in, job_card
from dryerbench.heater_figures import (
    show_hot_wire,
    show_off_not_dead,
    show_one_element,
    show_run,
    show_supply,
    show_three_elements,
)
from dryerbench.practice import practice
from dryerbench.units import A, Hz, Mohm, V, W, kohm, kW, mA, ohm, percent

__all__ = [
    "A",
    "Hz",
    "Mohm",
    "V",
    "W",
    "hand_in",
    "job_card",
    "kW",
    "kohm",
    "mA",
    "ohm",
    "percent",
    "practice",
    "show_hot_wire",
    "show_off_not_dead",
    "show_one_element",
    "show_run",
    "show_supply",
    "show_three_elements",
]
