"""The slips of lesson 03, heater power."""

from __future__ import annotations

from dryerbench.course.slips import Slip

SLIPS = (
    Slip(
        "one_leg",
        "That is the number for one leg, half the volts. The element sits across both legs: "
        "use the volts from leg to leg.",
        "Two legs push one element",
    ),
    Slip(
        "upside_down",
        "The fraction is upside down. Amps are volts divided by ohms: more ohms, fewer amps.",
        "Ohm's law on one element",
    ),
    Slip(
        "times_ohms",
        "Volts and ohms were multiplied. Amps are volts divided by ohms.",
        "Ohm's law on one element",
    ),
    Slip(
        "forgot_square",
        "The square is missing. Watts go with the square of the volts, because more volts also push more amps.",
        "Watts go with the square",
    ),
    Slip(
        "series_for_parallel",
        "The elements were added up as if they stood in a row. They sit side by side: "
        "every one of them gets the full volts, and their amps add.",
        "Three side by side",
    ),
    Slip(
        "forgot_last_turn",
        "The sum of 1/R was not turned over at the end. The ohms are 1 divided by that sum.",
        "Three side by side",
    ),
    Slip(
        "average_of_three",
        "That is the average of the three. Side by side they come to about a third of one: "
        "three ways through are easier than one.",
        "Three side by side",
    ),
    Slip(
        "one_element",
        "That is one element alone. The question asks for all three at work.",
        "Three side by side",
    ),
    Slip(
        "wye_leg",
        "That takes 120 V, one phase to neutral. In a 208 V building the heater sits between two phases: use 208 V.",
        "208 volts and a sagging line",
    ),
    Slip(
        "no_change",
        "That leaves the watts as they were. A heater does not hold its watts: fewer volts push fewer amps.",
        "208 volts and a sagging line",
    ),
    Slip(
        "lost_not_left",
        "That is the share that is lost. The question asks for the share that is left.",
        "208 volts and a sagging line",
    ),
    Slip(
        "share_not_percent",
        "That is the bare ratio. For percent, multiply it by 100.",
        "A percent is a ratio times 100",
    ),
    Slip(
        "open_stops_all",
        "One open element does not stop the others: side by side, each has its own way across the line.",
        "One element open",
    ),
    Slip(
        "open_changes_nothing",
        "That still counts the open element. No current goes through it: leave it out.",
        "One element open",
    ),
    Slip(
        "part_that_stopped",
        "Those are the amps that stopped. The question asks for the amps that still flow.",
        "One element open",
    ),
    Slip(
        "off_own_reading",
        "The difference was divided by the reading. Percent off is counted from the sheet's number.",
        "How far off is an element",
    ),
    Slip(
        "whole_not_change",
        "That is the whole reading as a percent of the sheet. The question asks how far it is off: take 100 away.",
        "How far off is an element",
    ),
    Slip(
        "fahrenheit_for_celsius",
        "The °F went into the table as if they were °C. Take 32 away and divide by 1.8 first.",
        "Hot wire, cold wire",
    ),
    Slip(
        "constant_coefficient",
        "That uses the textbook's constant coefficient. It is good near room temperature only; "
        "for hot 80/20 wire take the table.",
        "Hot wire, cold wire",
    ),
    Slip(
        "cold_ohms",
        "That is the cold reading. Multiply it by the factor for the hot wire.",
        "Hot wire, cold wire",
    ),
    Slip(
        "divided_by_factor",
        "The cold ohms were divided by the factor. Hot wire has more ohms: multiply.",
        "Hot wire, cold wire",
    ),
    Slip(
        "one_way_run",
        "That counts the wire one way. The current goes out on one wire and back on the other: twice the length.",
        "Volts lost in the wire",
    ),
    Slip(
        "per_thousand_feet",
        "The table gives ohms for 1000 feet. Divide the length of the run by 1000 first.",
        "Volts lost in the wire",
    ),
    Slip(
        "share_upside_down",
        "The fraction is upside down: it is the heater's amps over the breaker's amps.",
        "The 30 A circuit",
    ),
    Slip(
        "off_means_dead",
        "Off is not dead. The control opens one line only; the other still holds the whole heater at one leg's volts "
        "to the case. Someone who believes 0 V here gets hurt.",
        "Off is not dead",
    ),
    Slip(
        "leg_to_leg_to_case",
        "That is leg to leg. The case is bonded to ground, and from one leg to ground it is half of that.",
        "Off is not dead",
    ),
    Slip(
        "dryer_is_thirty",
        "A bigger breaker is right only for a wire that can carry it. The breaker protects the wire in the wall, "
        "so the thinnest wire decides: a breaker too big lets it burn.",
        "The 30 A circuit",
    ),
    Slip(
        "sized_to_load",
        "That sizes the breaker to the load. The breaker protects the wire: a wire too thin for the load is replaced, "
        "never fused up.",
        "The 30 A circuit",
    ),
    Slip(
        "kilo",
        "The figures are right, but a thousand is missing or too many: check k (kilo) and m (milli).",
        "Kilo and milli",
    ),
    Slip("sign", "The size is right, but the sign is turned round.", "Kilo and milli"),
)
