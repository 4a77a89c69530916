"""Practice of lesson 04's kinds of question: cases of their own, with their answers."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.practice_question import (
    Case,
    FillTable,
    PickMany,
    PickOne,
    PracticeQuestion,
    Reading,
    ReadingsGo,
)


def _displays(stream: Stream) -> ReadingsGo:
    """Return parts read with leads that have ohms of their own, one of them open."""
    leads = stream.step("0.2", "0.6", "0.1")
    coil, winding = stream.step("18.0", "40.0", "0.1"), stream.step("2.0", "4.0", "0.1")
    shown = {"A heater coil": coil + leads, "A motor winding": winding + leads, "A closed door switch": leads}
    rows = []
    for label, ohms in shown.items():
        slips = {"leads_left_in": ohms, "leads_added": ohms + leads}
        rows.append(Reading(label, "Ω", ohms - leads, "ol_where_a_number_is", slips, loose=0.051))
    told = "; ".join(f"{label[0].lower() + label[1:]} {ohms:.1f}" for label, ohms in shown.items())
    return ReadingsGo(
        f"Every part is alone, wires off, dial on ohms. With the tips together the display says {leads:.1f}. It says: "
        f"{told}; from a coil to the metal around it OL. What does each have, without the leads?",
        (*rows, Reading("From that coil to the metal", "Ω", None, "zero_for_ol")),
        "A switch that is left with near 0 Ω is closed. OL is no path at all.",
    )


_BEEPS = PickMany(
    read="Why a beeper can fool you",
    told="Your beeper sounds under 40 Ω. At which of these will it sound? Name all.",
    fits={
        "A cycling thermostat that is closed: 0.2 Ω": "beeper_fooled",
        "A motor winding of 3.1 Ω": "beeper_fooled",
        "A coil that sagged onto the box: 22 Ω to the metal": "beeper_fooled",
        "A heater coil with a third of its turns bridged: 17.8 Ω": "beeper_fooled",
        "A whole heater coil of 38.2 Ω": "beeper_fooled",
    },
    fits_not={
        "A coil burnt in two: OL": "beeper_has_a_mark",
        "A corroded spade with 52 Ω in it": "beeper_has_a_mark",
        "A thermistor of 10 kΩ": "beeper_has_a_mark",
        "Lint and water from a coil to the metal: 65 kΩ": "beeper_deaf_to_damp",
        "Wet dirt under an insulator: 3 MΩ": "beeper_deaf_to_damp",
    },
)


def _ghost(stream: Stream) -> Case:
    """Return three wires, each with two readings, of which one drops on LoZ."""
    volts = {"small": stream.step("8.0", "30.0", "0.1"), "odd": stream.step("60.0", "95.0", "0.1")}
    volts["leg"] = stream.step("116.0", "123.0", "0.1")
    ghost = stream.choose(("small", "odd", "leg"))
    texts = {
        name: f"Normal setting {number:.1f} V, LoZ {0.3 if name == ghost else number - 0.3:.1f} V"
        for name, number in volts.items()
    }
    slips = {"small": "small_called_phantom", "odd": "steady_called_phantom", "leg": "live_called_phantom"}
    return Case(
        "A meter reads three wires to the cabinet, each one twice. Which wire has ghost volts?",
        texts[ghost],
        {texts[name]: slips[name] for name in volts if name != ghost},
        "Ghost volts drop to almost zero under load. The size says nothing.",
    )


_STAYS = PickOne(
    read="Volts that stay are real",
    cases=(
        Case(
            "The breaker is locked open. L2 to cabinet reads {volts} V, and {volts} V on LoZ. What do you do?",
            "Hands off. Something feeds it, and I find out what.",
            {
                "Nothing to fear: the breaker is open, so it is a ghost.": "live_called_phantom",
                "Read it in ohms.": "ohms_to_find_volts",
                "Work on with gloves: it is just one leg.": "one_leg_is_little",
            },
            "The volts stayed under load.",
            {"volts": ("115", "123", "1")},
        ),
        Case(
            "The breaker is locked open. L2 to cabinet reads {volts} V, and 0.4 V on LoZ. What do you do?",
            "A ghost. I check the meter once more, and then I go on.",
            {
                "Hands off: volts are volts.": "phantom_feared",
                "Read it in ohms first.": "ohms_to_find_volts",
                "Call the utility.": "phantom_feared",
            },
            "Low impedance pulled the volts down to almost nothing.",
            {"volts": ("31", "84", "1")},
        ),
        Case(
            "The breaker is locked open. L1 to cabinet reads {volts} V, and the same on LoZ. What do you do?",
            "Stop. Those volts are real, odd as they are.",
            {
                "Go on: that is not even a leg.": "one_leg_is_little",
                "Go on: an odd number is always a ghost.": "live_called_phantom",
                "Turn to ohms to be sure.": "ohms_to_find_volts",
            },
            "What stays under load is real.",
            {"volts": ("41", "79", "1")},
        ),
    ),
)

PRACTICE_QUESTIONS: dict[str, PracticeQuestion] = {
    "bench_table": FillTable("The leads are in the reading", (_displays,)),
    "beeper_sounds": _BEEPS,
    "which_phantom": PickOne("Ghost volts", (_ghost,)),
    "still_there": _STAYS,
}
