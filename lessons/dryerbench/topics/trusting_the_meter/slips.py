"""The slips of lesson 04, trusting the meter."""

from __future__ import annotations

from dryerbench.course.slips import Slip

SLIPS = (
    Slip(
        "percent_alone",
        "That is the percent alone. The counts come on top: so many times the last place on the display.",
        "A reading is a band",
    ),
    Slip(
        "counts_alone",
        "Those are the counts alone. The percent of the reading comes on top.",
        "A reading is a band",
    ),
    Slip(
        "counts_as_units",
        "The counts were taken as whole ohms or volts. One count is one step of the last place: 0.1 on a display "
        "that shows tenths.",
        "A reading is a band",
    ),
    Slip(
        "percent_of_full_scale",
        "The percent was taken from the top of the range. It is a percent of the reading.",
        "A reading is a band",
    ),
    Slip("other_end", "That is the high end. For the low end take the plus-or-minus away.", "A reading is a band"),
    Slip(
        "width_for_end",
        "That is the plus-or-minus by itself. The low end is the reading less that.",
        "A reading is a band",
    ),
    Slip(
        "count_of_fine_range",
        "Those are counts of 0.1 Ω, as on the 600 Ω range. On the 6 kΩ range one count is 1 Ω.",
        "The range sets the count",
    ),
    Slip(
        "ohms_for_percent",
        "Those are the ohms by which it may be off. For percent, divide by the reading and multiply by 100.",
        "The range sets the count",
    ),
    Slip(
        "leads_left_in",
        "The leads are still in it. What the meter shows with the tips joined is not the element: take it away.",
        "The leads are in the reading",
    ),
    Slip(
        "leads_added",
        "The leads were added once more. They are in the reading already: take them away.",
        "The leads are in the reading",
    ),
    Slip(
        "leads_taken_twice",
        "The leads were taken away twice. The reading with the tips joined holds both leads.",
        "The leads are in the reading",
    ),
    Slip(
        "ol_where_a_number_is",
        "OL was written where there is a number. OL is no path at all; a good path reads near 0.",
        "OL is not zero",
    ),
    Slip(
        "zero_for_ol",
        "A number was written where the meter shows OL. OL means no path; 0 would be a perfect path.",
        "OL is not zero",
    ),
    Slip(
        "beeper_fooled",
        "The beeper sounds there too. It sounds for any low path: a bridged or grounded element sounds as fine as a "
        "sound one.",
        "Why a beeper fools",
    ),
    Slip(
        "beeper_has_a_mark",
        "The beeper knows one thing only: under its mark of 40 Ω or not. Compare each number with that.",
        "Why a beeper fools",
    ),
    Slip(
        "beeper_deaf_to_damp",
        "Thousands of ohms are far over the mark: the beeper stays silent, and the leak is there all the same.",
        "Why a beeper fools",
    ),
    Slip(
        "beeper_called_fine",
        "That trusts the beeper. It sounded at an element with too few ohms. Read the numbers.",
        "Why a beeper fools",
    ),
    Slip(
        "wrong_element_named",
        "That element reads what it should. Look for the one whose ohms are far below the other two.",
        "Why a beeper fools",
    ),
    Slip(
        "leak_without_a_number",
        "From the elements to the case it reads OL: no leak. Look at the numbers from terminal to terminal.",
        "OL is not zero",
    ),
    Slip(
        "no_number_read",
        "The name is right, but your readings do not show it yet: read ohms at all three elements, wires off.",
        "Why a beeper fools",
    ),
    Slip(
        "meter_takes_nothing",
        "That forgets the path: it and the meter share the volts, each according to its ohms.",
        "Ghost volts",
    ),
    Slip(
        "volts_left_in_path",
        "Those are the volts that stay in the path. The meter shows its own share.",
        "Ghost volts",
    ),
    Slip(
        "path_over_meter",
        "The path was divided by the meter. The meter's share is its own ohms over both together.",
        "Ghost volts",
    ),
    Slip(
        "steady_called_phantom",
        "Those volts stay when the meter loads them: they are real. A ghost reading falls to nearly nothing.",
        "Ghost volts",
    ),
    Slip(
        "small_called_phantom",
        "A small number does not make it ghost volts. These volts stay under load; ghost volts drop to almost zero.",
        "Ghost volts",
    ),
    Slip(
        "live_called_phantom",
        "Ghost volts drop to almost zero in the low-impedance setting. These volts stayed: the circuit is live, and "
        "someone who goes on gets hurt.",
        "Volts that stay are real",
    ),
    Slip(
        "ohms_to_find_volts",
        "Ohms are measured on a dead circuit only. On a live one the meter's fuse goes, and a lesser meter can burst.",
        "Volts that stay are real",
    ),
    Slip(
        "one_leg_is_little",
        "One leg kills as surely as two: a hand at 120 V and a foot on the ground are enough. Stop.",
        "Volts that stay are real",
    ),
    Slip(
        "phantom_feared",
        "The low-impedance setting loads what it reads, and these volts fell away: nothing stands behind them.",
        "Ghost volts",
    ),
)
