"""Drawings with knobs for heat, air and drying: the cycle, the air, a switch in a cup, a thermistor, a contact."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from dryerbench.air.airflow import DryerPassage, operating_point
from dryerbench.air.cycle import Cycle
from dryerbench.air.cycle_record import CycleRecord
from dryerbench.air.ducts import Duct, code_check
from dryerbench.air.heater_power import USUAL_ELEMENTS, HeaterPower
from dryerbench.air.thermistor import BetaThermistor, DriftedThermistor
from dryerbench.air.thermostats import usual_switch
from dryerbench.air.warm_test import Cup, WarmTest
from dryerbench.core.temperatures import celsius, fahrenheit
from dryerbench.drawing.figure_style import BLACK, BLUE, DARK, GRAY, RED, tidy
from dryerbench.drawing.heat_plots import paint_airflow, paint_cup, paint_cycle, summary
from dryerbench.drawing.interactive_figure import Explorer
from dryerbench.drawing.knobs import Knob, Values
from dryerbench.electricity import contacts

if TYPE_CHECKING:
    from matplotlib.figure import Figure

CUP_PARTS = ("cycling_thermostat", "high_limit", "thermal_cutoff")
MOST_SHUT = 0.95
LEFT_OF_DOT = 175.0
"""Temperature from which a thermistor's reading stands on the left of its dot [°F]."""


# --- the drying cycle --------------------------------------------------------------------------------------------


@lru_cache(maxsize=64)
def _record(volts: float, open_elements: int, shut: float, clogged: float) -> CycleRecord:
    heater = HeaterPower.parallel(volts=volts, open_elements=tuple(range(1, open_elements + 1)))
    passage = DryerPassage(filter_blocked=min(clogged / 100.0, MOST_SHUT))
    return Cycle(heater, Duct(blocked=shut / 100.0), passage, minutes=90.0).run()


def _cycle_at(at: Values) -> CycleRecord:
    return _record(at["volts"], round(at["open"]), at["shut"], at["clogged"])


def _paint_cycle(figure: Figure, at: Values) -> None:
    paint_cycle(figure, _cycle_at(at), "A load dries")


def _say_cycle(at: Values) -> str:
    record = _cycle_at(at)
    hottest = fahrenheit(record.peak("limit"))
    return (
        f"{summary(record)}. The heater makes {record.heater_watts(0.0)[0]:.0f} W while it is on; "
        f"the high limit's body reaches {hottest:.0f} °F."
    )


def show_cycle() -> None:
    """Show how a load dries: temperatures (°F), heater current (A), water in the load (%)."""
    Explorer(
        "A load dries",
        (
            Knob("shut", "Vent shut at its flap", 0, 100, 5, 0, "%"),
            Knob("clogged", "Lint filter clogged", 0, 95, 5, 0, "%"),
            Knob("open", "Open coils", 0, len(USUAL_ELEMENTS), 1, 0, ""),
            Knob("volts", "Leg to leg", 180, 250, 1, 240, "V"),
        ),
        _paint_cycle,
        _say_cycle,
        height=7.4,
    ).show()


# --- the air -----------------------------------------------------------------------------------------------------


def _duct(at: Values) -> Duct:
    return Duct(at["feet"], ("mitred_90",) * round(at["elbows"]), blocked=at["shut"] / 100.0, lint_mm=at["lint"])


def _passage(at: Values) -> DryerPassage:
    return DryerPassage(filter_blocked=at["clogged"] / 100.0)


def _paint_air(figure: Figure, at: Values) -> None:
    paint_airflow(figure, {"duct and dryer": _duct(at)}, "Where blower and duct agree", _passage(at))


def _say_air(at: Values) -> str:
    duct = _duct(at)
    point = operating_point(duct, _passage(at))
    return (
        f"The blower moves {point.cfm:.0f} cfm; a gauge at the exhaust outlet reads "
        f"{point.back_pressure_inches:.2f} inches of water. {code_check(duct)}"
    )


def show_airflow() -> None:
    """Show the blower's curve against duct and dryer: flow (cfm), pressure (inches of water)."""
    Explorer(
        "Where blower and duct agree",
        (
            Knob("feet", "Straight duct", 0, 60, 1, 15, "ft"),
            Knob("elbows", "90° elbows", 0, 6, 1, 2, ""),
            Knob("lint", "Lint on the duct's wall", 0, 30, 1, 0, "mm"),
            Knob("shut", "Flap shut", 0, 100, 5, 0, "%"),
            Knob("clogged", "Lint filter clogged", 0, 95, 5, 0, "%"),
        ),
        _paint_air,
        _say_air,
        height=5.4,
    ).show()


# --- a heat switch in a cup --------------------------------------------------------------------------------------


def _cup_test(at: Values) -> WarmTest:
    return WarmTest(usual_switch(CUP_PARTS[round(at["part"]) - 1]), Cup(celsius(at["water"])))


def _paint_cup(figure: Figure, at: Values) -> None:
    test = _cup_test(at)
    paint_cup(figure, test, f"In a cup of hot water: {test.part.name}")


def _say_cup(at: Values) -> str:
    test = _cup_test(at)
    opens, closes = test.opens_after, test.closes_after
    if opens is None:
        told = (
            f"The part never gets to the {fahrenheit(test.part.opens):.0f} °F at which it opens. "
            "So it stays closed, and this check says nothing about its rating."
        )
    elif closes is None:
        told = f"It opens after {opens:.0f} s and stays open."
    else:
        told = f"It opens after {opens:.0f} s and closes again after {closes / 60:.0f} min, as the water cools."
    return f"{told} Dryer unplugged, part taken out; hot water scalds; dry the part before it goes back."


def show_cup() -> None:
    """Show a heat switch warming in a cup of hot water: temperatures (°F) and what the meter says."""
    Explorer(
        "A thermostat in a cup of hot water",
        (
            Knob("part", "1 thermostat, 2 limit, 3 cut-off", 1, 3, 1, 1, ""),
            Knob("water", "Water", 120, 210, 5, 190, "°F"),
        ),
        _paint_cup,
        _say_cup,
        height=5.4,
    ).show()


# --- a thermistor ------------------------------------------------------------------------------------------------


def _thermistors(at: Values) -> tuple[BetaThermistor, DriftedThermistor]:
    sound = BetaThermistor()
    return sound, DriftedThermistor(sound, at["factor"])


def _paint_thermistor(figure: Figure, at: Values) -> None:
    sound, fitted = _thermistors(at)
    axes = figure.subplots()
    warm = np.linspace(32.0, 212.0, 91)
    curve = [sound.ohms(celsius(float(t))) / 1000.0 for t in warm]
    drifted = [fitted.ohms(celsius(float(t))) / 1000.0 for t in warm]
    axes.semilogy(warm, curve, color=BLUE, linewidth=2.0, label="good, by its table")
    axes.semilogy(warm, drifted, color=RED, linewidth=2.0, linestyle="--", label="the one installed")
    reads = fitted.ohms(celsius(at["degrees"])) / 1000.0
    axes.plot(at["degrees"], reads, "o", color=BLACK, markersize=8)
    beyond = at["degrees"] > LEFT_OF_DOT  # near the right edge there is room on the left only, below the curve
    axes.annotate(
        f"{reads:.2f} kΩ",
        (at["degrees"], reads),
        xytext=(-9, -14) if beyond else (9, 7),
        textcoords="offset points",
        ha="right" if beyond else "left",
        fontsize=11,
    )
    axes.set_xlim(32.0, 212.0)
    axes.set_ylim(0.2, 120.0)
    axes.set_yticks([0.3, 1, 3, 10, 30, 100], ["0.3", "1", "3", "10", "30", "100"])
    axes.legend(frameon=False)
    axes.set_title("A thermistor's ohms fall as it warms")
    tidy(axes, "temperature (°F)", "resistance (kΩ)")


def _say_thermistor(at: Values) -> str:
    sound, fitted = _thermistors(at)
    reads = fitted.ohms(celsius(at["degrees"]))
    believed = fahrenheit(sound.celsius(reads))
    return (
        f"At {at['degrees']:.0f} °F this thermistor reads {reads / 1000:.2f} kΩ; "
        f"a control that trusts the table takes it for {believed:.0f} °F."
    )


def show_thermistor() -> None:
    """Show a thermistor's resistance (kΩ) against temperature (°F), sound and drifted."""
    Explorer(
        "A thermistor, good and drifted",
        (
            Knob("degrees", "Temperature", 32, 212, 1, 77, "°F"),
            Knob("factor", "Drift: ohms times", 0.3, 3.0, 0.1, 1.6, ""),
        ),
        _paint_thermistor,
        _say_thermistor,
    ).show()


# --- a contact ---------------------------------------------------------------------------------------------------


def _paint_contact(figure: Figure, at: Values) -> None:
    drop, heat = figure.subplots(1, 2)
    ohms, amps = np.linspace(0.0, 0.1, 101), at["amps"]
    here = at["milliohms"] / 1000.0
    panels = (
        (drop, contacts.millivolts, BLUE, "drop across the contact (mV)", 3200.0),
        (heat, contacts.watts, RED, "heat in it (W)", 100.0),
    )
    for axes, formula, color, name, top in panels:
        axes.plot(1000.0 * ohms, [formula(float(value), amps) for value in ohms], color=color, linewidth=2.0)
        axes.plot(at["milliohms"], formula(here, amps), "o", color=BLACK, markersize=8)
        axes.set_xlim(0.0, 100.0)
        axes.set_ylim(0.0, top)
        tidy(axes, "contact (mΩ)", name)
    mark = contacts.GOOD_CONTACT_MILLIVOLTS
    drop.axhline(mark, color=GRAY, linestyle=":", linewidth=1.4)
    drop.annotate("suspect above this", (99.0, mark), xytext=(0, 4), textcoords="offset points", ha="right", color=DARK)
    figure.suptitle("A closed contact is not quite nothing")


def _say_contact(at: Values) -> str:
    ohms, amps = at["milliohms"] / 1000.0, at["amps"]
    drop, heat = contacts.millivolts(ohms, amps), contacts.watts(ohms, amps)
    told = "That is a good contact." if drop <= contacts.GOOD_CONTACT_MILLIVOLTS else "It is burning up."
    return (
        f"{at['milliohms']:.0f} mΩ at {amps:.1f} A drop {drop:.0f} mV and make {heat:.1f} W. {told} "
        "The drop is a live measurement: a qualified person's work."
    )


def show_contact() -> None:
    """Show a contact's drop (mV) and heat (W) against its resistance (mΩ) at a heater's current (A)."""
    Explorer(
        "A closed contact is not quite nothing",
        (
            Knob("milliohms", "Contact", 0, 100, 1, 10, "mΩ"),
            Knob("amps", "Heater current", 5, 30, 0.5, 26.5, "A"),
        ),
        _paint_contact,
        _say_contact,
    ).show()
