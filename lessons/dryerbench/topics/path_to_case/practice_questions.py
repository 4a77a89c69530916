"""Practice of lesson 05's kinds of question: cases of their own, with their answers."""

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


def _touching(stream: Stream) -> ReadingsGo:
    """Return the readings of two coils with a shared end, of which one touches the box."""
    ohms = stream.step("18.0", "36.0", "0.5")
    near = stream.step("3.0", "15.0", "0.5")
    far = ohms - near
    return ReadingsGo(
        f"A heater has two coils of {ohms:g} Ω, from A and from B to a shared end C. All wires are off. "
        "The coil from A "
        f"touches the box, {near:g} Ω from A. The leads are zeroed. What does the meter read?",
        (
            Reading("From A to C", "Ω", ohms, "ol_where_a_number_is"),
            Reading("From B to C", "Ω", ohms, "ol_where_a_number_is"),
            Reading("From A to the box", "Ω", near, "probe_on_paint", {"from_far_end": far}),
            Reading("From C to the box", "Ω", far, "probe_on_paint", {"from_far_end": near}),
            Reading(
                "From B to the box", "Ω", ohms + far, "fooled_by_shared_terminal", {"fooled_by_shared_terminal": ohms}
            ),
        ),
        "From A and from C to the box add up to the coil. B reads all of its own coil, and then the piece from C.",
    )


def _clear(stream: Stream) -> ReadingsGo:
    """Return the readings of two coils that touch nothing."""
    ohms = stream.step("18.0", "36.0", "0.5")
    return ReadingsGo(
        f"A heater has two good coils of {ohms:g} Ω, from A and from B to a shared end C. All wires are "
        "off, and nothing "
        "touches. What does the meter read?",
        (
            Reading("From A to C", "Ω", ohms, "ol_where_a_number_is"),
            Reading("From A to B", "Ω", 2 * ohms, "ol_where_a_number_is", {"wires_still_on": ohms / 2}),
            Reading("From A to the box", "Ω", None, "zero_for_ol"),
            Reading("From C to the box", "Ω", None, "zero_for_ol"),
        ),
        "From A to B the meter reads one coil after the other. To the box there is no path.",
    )


_ASKS = PickOne(
    read="What the number means",
    cases=(
        Case(
            "A coil reads {ohms} Ω end to end, and 9 Ω to the box. The customer needs it tonight. What now?",
            "No power. A new element, and it is proved first.",
            {
                "Its ohms are right, so it goes back.": "right_ohms_so_good",
                "Plug it in and watch the breaker.": "power_as_test",
                "Dry it: nine ohms is water.": "number_misread",
            },
            "A few ohms to the box: the coil touches.",
            {"ohms": ("22", "31", "1")},
        ),
        Case(
            "A coil reads {ohms} Ω end to end, and 120 kΩ to the box. What now?",
            "No power. Look for water or dirt, dry it, clean it, and read again.",
            {
                "A new element: it touches the box.": "damp_for_touch",
                "Its ohms are right, so it goes back.": "right_ohms_so_good",
                "Let it run hot until it is dry.": "dry_by_power",
            },
            "Thousands of ohms: something wet or dirty.",
            {"ohms": ("22", "31", "1")},
        ),
        Case(
            "A coil reads {ohms} Ω end to end, and OL to the box on bright metal. What now?",
            "This coil is clear. Take the readings that are left.",
            {
                "A new element: OL means broken.": "number_misread",
                "Look for water: OL is a leak.": "number_misread",
                "Plug it in and see: that is the proof.": "power_as_test",
            },
            "OL to the box is what a good coil reads.",
            {"ohms": ("22", "31", "1")},
        ),
    ),
)

_STOPS = PickOne(
    read="Why it stays hot with the heat off",
    cases=(
        Case(
            "A coil touches the cabinet. The control is off, the drum turns, the ground wire is good. From "
            "the fed end to the "
            "touch there are 15 Ω, and a leg has 120 V. What stops the current?",
            "No part does: 8 A is too little for the breaker.",
            {
                "The breaker: any ground fault trips it.": "every_ground_trips",
                "The control: off is cold.": "control_off_is_cold",
                "The open centrifugal switch.": "motor_contact_overlooked",
            },
            "120 ÷ 15 = 8 A, and the breaker carries 30 A for hours.",
        ),
        Case(
            "A coil touches the cabinet. The control is off, the drum turns, and the ground wire has come off. "
            "What stops the current?",
            "Without a ground wire there is no current, but 120 V on the cabinet.",
            {
                "The breaker trips at once.": "every_ground_trips",
                "The control: off is cold.": "control_off_is_cold",
                "No part: it heats all the time.": "way_home_overlooked",
            },
            "The current has no way back, until somebody touches it.",
        ),
        Case(
            "A coil touches the cabinet. The control is off, the drum is stopped, and the ground wire is good. "
            "What stops the current?",
            "The centrifugal switch: it is open while the drum is stopped.",
            {
                "The breaker trips at once.": "every_ground_trips",
                "No part: it heats all the time.": "motor_contact_overlooked",
                "The ground wire takes it all away.": "motor_contact_overlooked",
            },
            "Leg 2 comes through that switch. Never count on it: one can be welded.",
        ),
        Case(
            "A coil touches the cabinet close to its fed end. The control is off, the drum turns, the ground "
            "wire is good. "
            "From the fed end to the touch there are 2 Ω, and a leg has 120 V. What stops the current?",
            "The breaker: 60 A is twice what it carries.",
            {
                "No part: a touch takes little.": "touch_called_small",
                "The control: off is cold.": "control_off_is_cold",
                "The open centrifugal switch.": "motor_contact_overlooked",
            },
            "120 ÷ 2 = 60 A, and it can still take many seconds.",
        ),
    ),
)

_COMES_AND_GOES = PickMany(
    read="OL is not the last word: wiggle, tap, warm",
    told="On another call the dryer tingles now and then. It is dead and open. Which of these do you do? Name all.",
    fits={
        "Knock lightly on the sheet metal, probes on": "one_ol_passed",
        "Move each spade a little, probes on": "one_ol_passed",
        "Take the coil out and blow hot air on it": "one_ol_passed",
        "Look for a drip above the coil": "gfci_blamed",
        "Write down the number that came and went": "one_ol_passed",
    },
    fits_not={
        "Heat it up with a load, then read it": "warmed_by_running",
        "Listen for a beep, and look at the coil": "beeper_while_tapping",
        "Press the GFCI in again and dry a load": "gfci_overruled",
        "Skip the dead test, because the GFCI is out": "gfci_for_lockout",
        "Write it off: at rest it reads OL": "one_ol_passed",
    },
)

PRACTICE_QUESTIONS: dict[str, PracticeQuestion] = {
    "case_readings": FillTable("Which coil is it?", (_touching, _clear)),
    "number_to_case": _ASKS,
    "will_it_stop": _STOPS,
    "comes_and_goes": _COMES_AND_GOES,
}
