"""The slips of lesson 04, trusting the meter."""

from __future__ import annotations

from dryerbench.course.slips import Slip

SLIPS = (
    Slip(
        "percent_alone",
        "Left out the counts",
        "That is the percent alone. Add the counts: each one is a step of the last digit on the display.",
        "A reading is a band",
    ),
    Slip(
        "counts_alone",
        "Left out the percent of reading",
        "Those are the counts alone. Add the percent of the reading.",
        "A reading is a band",
    ),
    Slip(
        "counts_as_units",
        "Counts as whole ohms or volts",
        "You took the counts as whole ohms or volts. One count is one step of the last digit: 0.1 on a display "
        "that shows tenths.",
        "A reading is a band",
    ),
    Slip(
        "percent_of_full_scale",
        "Percent of range, not of reading",
        "You took the percent of the whole range. It is a percent of the reading.",
        "A reading is a band",
    ),
    Slip(
        "other_end",
        "Gave the high end",
        "That is the high end. For the low end, subtract the plus-or-minus.",
        "A reading is a band",
    ),
    Slip(
        "width_for_end",
        "Plus-or-minus for the low end",
        "That is the plus-or-minus by itself. For the low end, subtract it from the reading.",
        "A reading is a band",
    ),
    Slip(
        "count_of_fine_range",
        "Used counts of the wrong range",
        "You used counts of 0.1 Ω, as on the 600 Ω range. On the 6 kΩ range one count is 1 Ω.",
        "The range sets the count",
    ),
    Slip(
        "ohms_for_percent",
        "Gave ohms off, not percent",
        "Those are the ohms that it may be off. For percent, divide by the reading and multiply by 100.",
        "The range sets the count",
    ),
    Slip(
        "leads_left_in",
        "Left the test leads in",
        "The test leads are still in it. Subtract what the meter shows with the tips together.",
        "The leads are in the reading",
    ),
    Slip(
        "leads_added",
        "Added the test leads",
        "You added the test leads once more. They are already in the reading. Subtract them.",
        "The leads are in the reading",
    ),
    Slip(
        "leads_taken_twice",
        "Subtracted the test leads twice",
        "You subtracted the test leads twice. The reading with the tips together has both of them in it.",
        "The leads are in the reading",
    ),
    Slip(
        "ol_where_a_number_is",
        "Wrote OL for a number",
        "You wrote OL, but this one reads a number. OL is no path at all, and a good path reads near 0. Read it again.",
        "OL is not zero",
    ),
    Slip(
        "zero_for_ol",
        "Wrote a number for OL",
        "You wrote a number, but the meter shows OL here. OL means no path, and 0 is a perfect path. Read it again.",
        "OL is not zero",
    ),
    Slip(
        "beeper_fooled",
        "Missed a beep at bad parts",
        "The beeper sounds there too. It sounds at anything under its set point, good or bad. Compare each number "
        "with 40 Ω.",
        "Why a beeper can fool you",
    ),
    Slip(
        "beeper_has_a_mark",
        "Expected a beep over 40 Ω",
        "One you named is over the set point. The beeper sounds only under 40 Ω. Compare each number with that.",
        "Why a beeper can fool you",
    ),
    Slip(
        "beeper_deaf_to_damp",
        "Expected a beep from damp",
        "Thousands of ohms are far over the set point. The beeper stays silent, and it leaks all the same.",
        "Why a beeper can fool you",
    ),
    Slip(
        "beeper_called_fine",
        "Passed a bad coil by beep",
        "You trusted the beeper. It sounded at a coil with too few ohms. Read the numbers.",
        "Why a beeper can fool you",
    ),
    Slip(
        "wrong_element_named",
        "Named the wrong shorted coil",
        "That coil reads what it should. Find the one that is far below the other two.",
        "Why a beeper can fool you",
    ),
    Slip(
        "leak_without_a_number",
        "Blamed a leak that reads OL",
        "From the coils to the cabinet it reads OL, so nothing leaks. Compare the three readings end to end.",
        "OL is not zero",
    ),
    Slip(
        "no_number_read",
        "Shorted coil without all three readings",
        "You named the right one, but your readings don't prove it yet. Read all three coils in ohms, wires off.",
        "Why a beeper can fool you",
    ),
    Slip(
        "meter_takes_nothing",
        "Left out the path's ohms",
        "You left out the path. The path and the meter share the volts by their ohms. Add both first.",
        "Ghost volts",
    ),
    Slip(
        "volts_left_in_path",
        "Gave the path's volts",
        "Those are the volts across the path. The meter shows its own share. Use the meter's ohms on top.",
        "Ghost volts",
    ),
    Slip(
        "path_over_meter",
        "Divided path ohms by meter ohms",
        "You divided the path by the meter. Divide the meter's ohms by both together.",
        "Ghost volts",
    ),
    Slip(
        "steady_called_phantom",
        "Called steady volts ghost volts",
        "Those volts stay under load, so they are real. Ghost volts drop to almost zero. Compare the pairs again.",
        "Ghost volts",
    ),
    Slip(
        "small_called_phantom",
        "Called small volts ghost volts",
        "A small number does not make them ghost volts. These stay under load, and ghost volts drop to almost zero.",
        "Ghost volts",
    ),
    Slip(
        "live_called_phantom",
        "Called a live circuit ghost volts",
        "Ghost volts drop to almost zero on LoZ. These stayed, so the circuit is live. "
        "Anyone who goes on can be killed.",
        "Volts that stay are real",
    ),
    Slip(
        "ohms_to_find_volts",
        "Measured ohms on a live circuit",
        "You measured ohms on a live circuit. It blows the meter's fuse, and a cheap meter can blow up in your hand. "
        "Ohms are for dead circuits.",
        "Volts that stay are real",
    ),
    Slip(
        "one_leg_is_little",
        "Took one leg for harmless",
        "One leg kills too. A hand at 120 V and a foot on the ground are enough. Stop.",
        "Volts that stay are real",
    ),
    Slip(
        "phantom_feared",
        "Called ghost volts live",
        "Low impedance loads what it reads, and these volts dropped to almost zero. So they were ghost volts. Check "
        "the meter again.",
        "Ghost volts",
    ),
)
