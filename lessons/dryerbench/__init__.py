"""Leg to Leg's bench: what an apprentice holds (job card, figures, practice, hand-in).

``from dryerbench import *`` gives a lesson all it needs. Each name is fetched from its module on first use, so that
a marker that imports one module does not load figures, widgets or pint.
"""

from importlib import import_module
from typing import Any

_HOMES = {
    "air_and_drying_figures": ("show_duct_rule", "show_hour"),
    "bench_view": ("show_bench",),
    "benches": ("open_bench",),
    "call_pads": ("compare_paths", "practice_call", "price_list"),
    "course_path": ("show_path",),
    "handin": ("before_you_hand_in", "hand_in", "job_card", "job_cards", "letter", "options"),
    "heat_explorers": ("show_airflow", "show_contact", "show_cup", "show_cycle", "show_thermistor"),
    "heat_switches_figures": ("show_heat_switches",),
    "heater_figures": (
        "show_hot_wire",
        "show_off_not_dead",
        "show_one_element",
        "show_run",
        "show_supply",
        "show_three_elements",
    ),
    "made_dead_figures": ("show_body_current", "show_bond"),
    "open_close_figures": ("show_belt", "show_clamp_fit", "show_open_steps"),
    "pads": ("practice",),
    "tracing_figures": ("show_diagram", "show_halving", "show_heater_line"),
    "two_legs_figures": ("show_open_neutral", "show_receptacle", "show_two_legs"),
    "path_to_case_figures": ("show_coil_to_case", "show_control_open", "show_leak_limit"),
    "trusting_the_meter_figures": ("show_beeper", "show_phantom", "show_reading_band"),
    "units": ("A", "Hz", "Mohm", "V", "W", "kW", "kohm", "mA", "ohm", "percent"),
}
_HOME = {name: module for module, names in _HOMES.items() for name in names}

__all__ = [  # noqa: PLE0604 - the names of _HOMES
    *sorted(_HOME),
]


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"dryerbench has no {name}")
    return getattr(import_module(f"dryerbench.{_HOME[name]}"), name)
