"""The slips of lesson 03, heater power."""

from __future__ import annotations

from dryerbench.course.slips import OHMS_LAW, Slip

SLIPS = (
    Slip(
        "one_leg",
        "Used one leg's volts",
        "That is the number for one leg, half the volts. The coil is across both legs. Use the volts from leg to leg.",
        "Two legs push one coil",
    ),
    Slip(
        "upside_down",
        "Ohm's law the wrong way around",
        f"You divided the wrong way around. {OHMS_LAW['amps']} More ohms mean fewer amps.",
        "Ohm's law on one coil",
    ),
    Slip(
        "times_ohms",
        "Multiplied volts by ohms",
        f"You multiplied volts and ohms. {OHMS_LAW['amps']} Divide.",
        "Ohm's law on one coil",
    ),
    Slip(
        "ohms_for_amps",
        "Took volts times ohms for watts",
        f"You multiplied volts and ohms. {OHMS_LAW['watts']} Work out the amps first.",
        "Ohm's law on one coil",
    ),
    Slip(
        "forgot_square",
        "Did not square the volts",
        "The square is missing. More volts also push more amps, so watts go with volts times volts.",
        "Watts go with the square",
    ),
    Slip(
        "series_for_parallel",
        "Added parallel coils as series",
        "You added the coils as if they were in series. They are in parallel. "
        "Each one gets the full volts, and their amps add.",
        "Three side by side",
    ),
    Slip(
        "forgot_last_turn",
        "Stopped before the last division",
        "One step is missing. You added the three answers. Now divide 1 by that sum.",
        "Three side by side",
    ),
    Slip(
        "average_of_three",
        "Took the average of three coils",
        "That is the average of the three. Side by side they come to about a third of one. "
        "Divide 1 by each, add, and divide 1 by the sum.",
        "Three side by side",
    ),
    Slip(
        "one_element",
        "Worked out one coil alone",
        "That is one coil alone. The question asks for all three.",
        "Three side by side",
    ),
    Slip(
        "wye_leg",
        "Used 120 V, not 208 V",
        "You used 120 V, one leg to neutral. In a 208 V building the heater is between two legs. Use 208 V.",
        "208 volts and a sagging line",
    ),
    Slip(
        "no_change",
        "Same watts at fewer volts",
        "You left the watts as they were. Fewer volts push fewer amps, so a heater makes fewer watts. Use the square.",
        "208 volts and a sagging line",
    ),
    Slip(
        "lost_not_left",
        "Gave what is lost, not left",
        "That is what is lost. The question asks what is left. Subtract from 100 %.",
        "208 volts and a sagging line",
    ),
    Slip(
        "share_not_percent",
        "Gave a ratio, not a percent",
        "That is the ratio. For percent, multiply it by 100.",
        "A percent is a ratio times 100",
    ),
    Slip(
        "open_stops_all",
        "One open coil stops the others",
        "One open coil does not stop the others. Side by side, each has its own path. Count the two that work.",
        "One coil open",
    ),
    Slip(
        "open_changes_nothing",
        "Still counted the open coil",
        "You still counted the open coil. No current goes through it. Leave it out.",
        "One coil open",
    ),
    Slip(
        "part_that_stopped",
        "Gave the amps that stopped",
        "Those are the amps that stopped. The question asks for the amps that still flow.",
        "One coil open",
    ),
    Slip(
        "off_own_reading",
        "Percent off counted from the reading",
        "You divided by the reading. Percent off is counted from the tech sheet's number. Divide by that.",
        "How far off is a coil",
    ),
    Slip(
        "whole_not_change",
        "Whole percent, not percent off",
        "That is the whole reading in percent of the tech sheet. The question asks how far off it is. Subtract 100.",
        "How far off is a coil",
    ),
    Slip(
        "fahrenheit_for_celsius",
        "Used °F in a °C table",
        "You used °F in a table of °C. Subtract 32 and divide by 1.8 first.",
        "Hot wire, cold wire",
    ),
    Slip(
        "constant_coefficient",
        "Room-temperature factor for hot wire",
        "You used the textbook's one number for each degree. It is only good near room temperature. "
        "For hot 80/20 wire use the table.",
        "Hot wire, cold wire",
    ),
    Slip(
        "cold_ohms",
        "Gave cold ohms for hot wire",
        "That is the cold reading. Multiply it by the factor for the hot wire.",
        "Hot wire, cold wire",
    ),
    Slip(
        "divided_by_factor",
        "Divided cold ohms by the factor",
        "You divided the cold ohms by the factor. Hot wire has more ohms. Multiply.",
        "Hot wire, cold wire",
    ),
    Slip(
        "one_way_run",
        "Counted the wire one way",
        "You counted the wire one way. The current goes out on one wire and back on the other. Use twice the length.",
        "Volts lost in the wire",
    ),
    Slip(
        "per_thousand_feet",
        "Did not divide by 1000 feet",
        "The table gives ohms for 1000 feet. Divide the length of the wire by 1000 first.",
        "Volts lost in the wire",
    ),
    Slip(
        "share_upside_down",
        "Divided breaker amps by heater amps",
        "You divided the wrong way around. Divide the heater's amps by the breaker's amps.",
        "The 30 A circuit",
    ),
    Slip(
        "off_means_dead",
        "Took control off for dead",
        "Off is not dead. The control opens only one line, and the other still puts a full leg on the heater. "
        "Anyone who believes 0 V here can be killed.",
        "Off is not dead",
    ),
    Slip(
        "leg_to_leg_to_case",
        "Leg-to-leg volts with control off",
        "That is leg to leg. The cabinet is at ground, and from ground to one leg it's half of that. Work it again "
        "with one leg.",
        "Off is not dead",
    ),
    Slip(
        "dryer_is_thirty",
        "Breaker too big for the wire",
        "The wire on your card can't carry that breaker. The breaker protects the wire in the wall, and one that is "
        "too big "
        "lets it burn. Go by the wire.",
        "The 30 A circuit",
    ),
    Slip(
        "sized_to_load",
        "Sized the breaker to the load",
        "You sized the breaker to the load. The breaker protects the wire. A wire that is too thin is replaced, and "
        "never "
        "covered with a bigger breaker: it can burn the house.",
        "The 30 A circuit",
    ),
    Slip(
        "kilo",
        "Off by a thousand",
        "The digits are right, but you are off by a thousand. Check k (kilo) and m (milli).",
        "Kilo and milli",
    ),
    Slip("sign", "Reversed the sign", "The number is right, but the sign is reversed.", "Kilo and milli"),
)
