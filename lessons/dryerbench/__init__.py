"""Leg to Leg's bench: what an apprentice holds (job card, figures, practice, hand-in).

``from dryerbench import *`` gives a lesson all it needs. Each name is fetched from its module on first use, so that
a marker that imports one module does not load figures, widgets or pint.
"""

from importlib import import_module

_HOMES = {
    "topics.air_and_drying.figures": (
        "show_blower_wheel",
        "show_duct_rule",
        "show_load",
        "show_vent_parts",
        "show_vent_run",
    ),
    "notebook.bench_display": ("show_bench",),
    "notebook.kept_bench": ("open_bench",),
    "notebook.call_widget": ("compare_paths", "heard_as", "practice_call", "price_list"),
    "notebook.machine_call_widget": ("machine_call",),
    "notebook.course_path": ("show_path",),
    "notebook.hand_in": ("before_you_hand_in", "hand_in", "job_card", "job_cards", "letter", "options"),
    "drawing.interactive_heat": ("show_airflow", "show_contact", "show_cup", "show_cycle", "show_thermistor"),
    "topics.call_to_close.figures": ("show_tech_sheet",),
    "topics.heat_switches.figures": ("show_heat_switches", "show_spades"),
    "topics.heater_power.figures": (
        "show_hot_wire",
        "show_off_not_dead",
        "show_one_element",
        "show_run",
        "show_supply",
        "show_three_elements",
    ),
    "topics.made_dead.figures": ("show_body_current", "show_bond", "show_lockout"),
    "topics.open_and_close.cabinet_figures": ("show_cabinet",),
    "topics.open_and_close.figures": ("show_belt", "show_belt_run", "show_clamp_fit", "show_open_steps"),
    "notebook.practice_bench_widget": ("practice_bench",),
    "notebook.practice_question_widget": ("practice_question",),
    "notebook.practice_widget": ("practice",),
    "notebook.supervised": ("supervised_bench", "supervised_hand_in", "supervised_test"),
    "notebook.ten_minutes": ("ten_minutes",),
    "topics.tracing_the_circuit.figures": ("show_diagram", "show_halving", "show_heater_line"),
    "topics.tracing_the_circuit.sheet_figures": ("show_second_sheet",),
    "topics.two_legs.figures": (
        "show_cord_entry",
        "show_open_neutral",
        "show_receptacle",
        "show_receptacle_faces",
        "show_strap",
        "show_two_legs",
    ),
    "topics.path_to_case.figures": ("show_coil_to_case", "show_control_open", "show_heater_boxes", "show_leak_limit"),
    "topics.trusting_the_meter.figures": ("show_beeper", "show_phantom", "show_reading_band"),
    "answers.units": ("A", "Hz", "Mohm", "V", "W", "kW", "kohm", "mA", "ohm", "percent"),
}
_HOME = {name: module for module, names in _HOMES.items() for name in names}

__all__ = [name for names in _HOMES.values() for name in names]


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"dryerbench has no {name}")
    found: object = getattr(import_module(f"dryerbench.{_HOME[name]}"), name)
    return found
