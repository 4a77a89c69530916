"""The slips of lesson 08, air and drying."""

from __future__ import annotations

from dryerbench.course.slips import Slip

_LENGTH, _FLOW, _HEAT = "How long a duct may be", "How much air moves", "Less air, hotter air"
_GAUGE, _TIME, _CAUSE = "What the gauge says", "The heater's share of the time", "Read the run"
_LINT, _CLEAN = "Lint burns", "Clean the vent"

SLIPS = (
    Slip(
        "elbows_left_out",
        "That is the longest straight duct without an elbow. Every elbow takes its feet off.",
        _LENGTH,
    ),
    Slip("elbows_added", "The elbows were added. They cost air, so their feet come off.", _LENGTH),
    Slip(
        "forty_five_as_ninety",
        "The 45° elbows were taken for 90° ones. A 45° elbow takes half as many feet off.",
        _LENGTH,
    ),
    Slip("other_edition", "That takes the length of another edition of the code than the one on your card.", _LENGTH),
    Slip(
        "diameter_as_radius",
        "The area came out four times too big: the 4 inches are across the duct, so its radius is 2 inches.",
        _FLOW,
    ),
    Slip("square_duct", "That is a square opening of 4 by 4 inches. A round one has 0.785 of that.", _FLOW),
    Slip(
        "square_inches", "That used square inches. The speed is in feet, so the area has to be in square feet.", _FLOW
    ),
    Slip(
        "room_left_out", "That is how much warmer the air gets. Add the temperature of the room it starts from.", _HEAT
    ),
    Slip("watts_for_btu", "The watts went in as they were. Multiply them by 3.412 first, for BTU an hour.", _HEAT),
    Slip(
        "pressure_straight",
        "That went straight with the flow. Pressure goes with its square: half the air, a quarter of the pressure.",
        _GAUGE,
    ),
    Slip("pressure_unchanged", "That is the pressure at 200 cfm. At your flow the same duct takes less.", _GAUGE),
    Slip(
        "pressure_upside_down", "The flows are upside down. Less air through the same duct takes less pressure.", _GAUGE
    ),
    Slip("off_share", "That is the share of the time that the heater was off.", _TIME),
    Slip("longer_of_own", "That was divided by the slow time. Compare with the time when all was sound.", _TIME),
    Slip(
        "whole_not_longer",
        "That is the whole time as a percent of the sound one. How much longer is that, less 100.",
        _TIME,
    ),
    Slip(
        "blamed_vent",
        "A blocked vent drives the gauge far above what the clean duct takes at that flow. Compare the two.",
        _CAUSE,
    ),
    Slip(
        "blamed_filter",
        "A clogged filter leaves little air, and a gauge that shows no more than the clean duct takes. Compare both.",
        _CAUSE,
    ),
    Slip(
        "blamed_element",
        "With one element of three open the heater takes two thirds of its amps. Compare the amps.",
        _CAUSE,
    ),
    Slip("blamed_supply", "At 208 V the heater takes 87 % of its amps. Compare the amps.", _CAUSE),
    Slip(
        "blamed_cool_thermostat",
        "A thermostat that opens too early cycles while the load is wet, with cool exhaust. Look which switch opened.",
        _CAUSE,
    ),
    Slip(
        "blamed_welded",
        "A welded thermostat does not make a load slow: the heat stays on. Here it is weak, or it is interrupted.",
        _CAUSE,
    ),
    Slip(
        "trap_missed",
        "That one holds lint, or burns, or puts damp and lint where nobody sees them. It does not belong on a vent.",
        _LINT,
    ),
    Slip(
        "sound_vent_blamed", "That one is right as it is: smooth, open, and nothing that reaches into the air.", _LINT
    ),
    Slip(
        "cleaned_plugged_in",
        "Hands were at the machine with its power on. Cut it off first, at the plug, or at a breaker that you lock and "
        "tag where the plug is behind the machine: the vent is behind it, and so are its wires.",
        _CLEAN,
    ),
    Slip(
        "ran_without_duct",
        "The machine ran before the duct was back. Lint and damp then blow into the room and over the heater.",
        _CLEAN,
    ),
    Slip("vent_steps_turned", "One of the steps cannot be done, or is undone, there.", _CLEAN),
    Slip(
        "ran_on_with_lint",
        "It went on running on a packed vent. That is how dryer fires start: stop it, unplug it, clean it.",
        _LINT,
    ),
    Slip(
        "filter_is_not_the_vent",
        "The filter is only the first place. The lint that passed it sits in the vent, and that is still packed.",
        _LINT,
    ),
    Slip(
        "vented_indoors",
        "Blowing indoors puts lint and damp into the room, and lint back into the machine. It has to go outside.",
        _LINT,
    ),
    Slip(
        "good_air_stopped",
        "Flap open, strong air, low gauge, quiet limit: that vent is clean. Slow with good air is a matter of heat.",
        _LINT,
    ),
)
