"""Practice of lesson 07's kinds of question: cases of their own, with their answers."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.practice_question import (
    Case,
    FillTable,
    PickMany,
    PickOne,
    PracticeQuestion,
    PutInOrder,
    Reading,
    ReadingsGo,
    Step,
)
from dryerbench.topics.tracing_the_circuit.second_practice import SECOND_PRACTICE

_PARTS = ("control", "cycling thermostat", "thermal cut-off", "high limit")
"""The contacts from leg 1 to the coils; the one at place n is between the points H(2n+1) and H(2n+2)."""


def _along(stream: Stream) -> ReadingsGo:
    """Return the volts from L2 to each point of a line with one contact open."""
    supply, place = float(stream.integer(230, 246)), stream.integer(0, len(_PARTS) - 1)
    rows = []
    for at in range(2 * len(_PARTS)):
        reached = at <= 2 * place
        slips = {"line_turned_round": 0.0 if reached else supply, "one_leg_along_the_line": supply / 2}
        rows.append(Reading(f"L2 to H{at + 1}", "V", supply if reached else 0.0, "border_misread", slips, loose=1.0))
    kept = sorted(stream.shuffle(range(len(rows)))[:4])
    return ReadingsGo(
        f"The supply has {supply:g} V from leg to leg, and the motor runs. The {_PARTS[place]} is open, and nothing "
        "else. The black probe of a qualified person stays on L2. What will the meter read?",
        tuple(rows[at] for at in kept),
        f"Leg 1 reaches H{2 * place + 1}. Every point past the open place still has volts to the cabinet.",
    )


def _border(stream: Stream) -> Case:
    """Return a line with one contact open, by two readings on either side of it."""
    volts, place = stream.integer(230, 246), stream.integer(0, len(_PARTS) - 1)
    others = [part for part in _PARTS if part != _PARTS[place]]
    return Case(
        f"The motor runs. From L2, H{2 * place + 1} reads {volts} V and H{2 * place + 2} reads 0 V. "
        "Which part is open?",
        f"The part called {_PARTS[place]}",
        {f"The part called {part}": "border_misread" for part in others}
        | {"No part of these: the coils are open": "sound_line_read"},
        "It is between the last point with the supply and the first with 0 V.",
    )


_ZERO = PickOne(
    read="The open contact has all the volts",
    cases=(
        Case(
            "From L2, H3 reads {volts} V. Across H3 and H4 the meter reads 0 V. What do you know of the thermostat?",
            "It is closed: its volts arrive, and none are lost across it.",
            {
                "It is open: no volts across it.": "zero_means_open",
                "Nothing: 0 V across it can be either.": "two_readings_say_it",
                "You may touch H3 and H4.": "zero_taken_for_dead",
            },
            "",
            {"volts": ("232", "246", "1")},
        ),
        Case(
            "From L2, H5 reads 0 V. Across H5 and H6 the meter reads 0 V. What do you know of the cut-off?",
            "Nothing: leg 1 does not arrive, so look nearer to L1.",
            {
                "It is good: no volts are lost across it.": "zero_means_closed",
                "It is blown: a good one has volts across it.": "zero_means_open",
                "H5 is dead, and a hand there is fine.": "zero_taken_for_dead",
            },
        ),
        Case(
            "From L2, H5 reads {volts} V. Across H5 and H6 the meter reads {volts} V. What do you know of the cut-off?",
            "It is open: it has the whole supply across it.",
            {
                "It is closed: the volts pass through it.": "supply_across_closed",
                "Nothing: the line can be open somewhere else.": "two_readings_say_it",
                "It shares the supply with the other parts.": "shared_by_contacts",
            },
            "",
            {"volts": ("232", "246", "1")},
        ),
    ),
)


def _next(stream: Stream) -> Case:
    """Return a chain of eight places of which some are cleared, and the reading that splits what is left."""
    letters = "ABCDEFGHI"
    low = stream.choose((0, 4))
    known = f"A to E reads {'OL' if low == 0 else '0.2 Ω'}"
    start, middle, end = letters[low], letters[low + 2], letters[low + 4]
    far, farther = ("E", "I") if low == 0 else ("A", "C")
    return Case(
        f"A line has nine points, A to I, and eight parts between them. It is dead. A to I reads OL, and {known}. "
        "Only one part is open. Which reading is next?",
        f"{start} to {middle}",
        {
            f"{start} to {end}": "nothing_new",
            f"{start} to {letters[low + 1]}": "one_place_a_reading",
            f"{far} to {farther}": "not_in_doubt",
        },
        f"The open part is between {start} and {end}. {middle} is the middle.",
    )


_ORDER = PutInOrder(
    read="Dead first",
    jobs=(
        (
            "No heat. The motor runs, and the plug is in. How do you find out if the timer passes leg 1 on?",
            (
                Step("Write the points of the heater circuit on paper."),
                Step("Stop the dryer and pull its plug.", "line_not_followed"),
                Step("See 120 V on the meter at a live receptacle.", after={}),
                Step(
                    "Read the plug's blades, each pair and each to the cabinet.",
                    after={
                        "Stop the dryer and pull its plug.": "traced_before_dead",
                        "See 120 V on the meter at a live receptacle.": "trace_meter_unproved",
                    },
                ),
                Step("See 120 V at the live receptacle again.", "trace_zero_unproved"),
                Step("Open the console, and read the block dead too.", "traced_before_dead"),
                Step("Set the timer to high heat, and read it: L1 to H2.", "points_behind_cover"),
            ),
        ),
        (
            "The dryer is open and has tested dead, plug out. The timer still stands at off. How do you go on?",
            (
                Step("Turn the timer to a heat setting."),
                Step("Read from L1 to H8.", "control_left_off"),
                Step("That was OL: read from L1 to H4.", "split_before_whole"),
                Step("That was 0.3 Ω: read from H4 to H6.", "Which half is good, the reading before tells."),
                Step(
                    "That was OL: slip a wire off the cut-off.", "One part has to be left before you take its wire off."
                ),
                Step("Read the cut-off alone.", "With its wire on, the meter can read around it."),
            ),
        ),
    ),
)

_LIVE = PickMany(
    read="When you need a live reading",
    told="Somebody plans a live reading of a contact that opens when it is hot. What is right in the plan? Name all.",
    fits={
        "CAT III 600 V printed on the meter and on both leads": "wrong_category",
        "A helper at the breaker who knows what to do": "live_alone",
        "Clips put on before the plug goes in": "moved_probes_live",
        "Rubber gloves of class 00, air-tested today, under leather": "bare_hands_live",
        "The cold readings and the hot ones on the bench came first": "live_before_dead_tests",
        "The employer has named this person for live work": "live_alone",
    },
    fits_not={
        "A short wire around the cut-off, to see if that is it": "jumped_a_limit",
        "Both hands on the probes, one each": "bare_hands_live",
        "Leads moved from point to point while it runs": "moved_probes_live",
        "Ohms across the contact while it heats": "ohms_dial_live",
        "The customer sent out, so that the person is alone": "live_alone",
    },
)

PRACTICE_QUESTIONS: dict[str, PracticeQuestion] = {
    "along_the_line": FillTable("Along the line, from the far leg", (_along,)),
    "traced_open": PickOne("Along the line, from the far leg", (_border,)),
    "zero_volts": _ZERO,
    "next_reading": PickOne("Half, and half again", (_next,)),
    "dead_trace": _ORDER,
    "live_work": _LIVE,
    **SECOND_PRACTICE,
}
