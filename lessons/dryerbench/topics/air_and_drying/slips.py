"""The slips of lesson 08, air and drying."""

from __future__ import annotations

from dryerbench.course.slips import Slip
from dryerbench.topics.air_and_drying.models import BLOCKED_FROM

_LENGTH, _FLOW, _HEAT = "How long a duct may be", "How much air moves", "Less air, hotter air"
_GAUGE, _TIME, _CAUSE = "What the gauge says", "The heater's share of the time", "Read the run"
_LINT, _CLEAN = "Lint burns", "Clean the vent"

SLIPS = (
    Slip(
        "elbows_left_out",
        "Left out the elbows",
        "That is the longest straight duct without an elbow. Every elbow takes its feet off.",
        _LENGTH,
    ),
    Slip(
        "elbows_added",
        "Added feet for the elbows",
        "You added the elbows. They cost air, so their feet come off.",
        _LENGTH,
    ),
    Slip(
        "forty_five_as_ninety",
        "Counted 45° elbows as 90°",
        "You counted the 45° elbows as 90° ones. A 45° elbow takes off half as many feet.",
        _LENGTH,
    ),
    Slip(
        "other_edition",
        "Used another edition of the code",
        "That is the length of a different edition of the code. Use the one on your card.",
        _LENGTH,
    ),
    Slip(
        "diameter_as_radius",
        "Used the duct's diameter as radius",
        "Your area is four times too big. The 4 inches are across the duct, so its radius is 2 inches.",
        _FLOW,
    ),
    Slip(
        "square_duct",
        "Took a round duct for square",
        "That is a square opening of 4 by 4 inches. A round one has 0.785 of that.",
        _FLOW,
    ),
    Slip(
        "square_inches",
        "Area in square inches",
        "You used square inches. The speed is in feet, so the area has to be in square feet.",
        _FLOW,
    ),
    Slip(
        "room_left_out",
        "Left out the room's temperature",
        "That is how much warmer the air gets. Add the temperature of the room it starts from.",
        _HEAT,
    ),
    Slip(
        "watts_for_btu",
        "Used watts for BTU an hour",
        "You used the watts as they are. Multiply them by 3.412 first, for BTU an hour.",
        _HEAT,
    ),
    Slip(
        "pressure_straight",
        "Did not square the airflow",
        "You used the airflow once. Pressure goes with its square: half the air, a quarter of the pressure.",
        _GAUGE,
    ),
    Slip(
        "pressure_unchanged",
        "Same pressure at less air",
        "That is the pressure at 200 cfm. At your airflow the same duct takes less.",
        _GAUGE,
    ),
    Slip(
        "pressure_upside_down",
        "Airflow ratio upside down",
        "You have the two airflows upside down. Less air through the same duct takes less pressure.",
        _GAUGE,
    ),
    Slip("off_share", "Gave the time heat was off", "That is the share of the time that the heater was off.", _TIME),
    Slip(
        "longer_of_own",
        "Divided by the slow time",
        "You divided by the slow time. Divide by the time when it worked right.",
        _TIME,
    ),
    Slip(
        "whole_not_longer",
        "Whole percent, not how much longer",
        "That is the whole time as a percent of the good one. To get how much longer, take off 100.",
        _TIME,
    ),
    Slip(
        "blamed_vent",
        "Blamed the vent for slow drying",
        f"A blocked vent drives the gauge above {BLOCKED_FROM:g} times what the clean duct takes at that airflow. "
        "Compare the two.",
        _CAUSE,
    ),
    Slip(
        "blamed_filter",
        "Blamed lint screen for slow drying",
        f"A clogged screen gives little air, and a gauge at no more than {BLOCKED_FROM:g} times what the clean duct "
        "takes. Compare both.",
        _CAUSE,
    ),
    Slip(
        "blamed_element",
        "Blamed a coil for slow drying",
        "With one coil of three open, the heater draws two thirds of its amps. Compare the amps.",
        _CAUSE,
    ),
    Slip(
        "blamed_supply",
        "Blamed low supply for slow drying",
        "At 208 V the heater draws 87 % of its amps. Compare the amps.",
        _CAUSE,
    ),
    Slip(
        "blamed_cool_thermostat",
        "Blamed early thermostat for slow drying",
        "A thermostat that opens too early cycles while the load is wet, with cool exhaust. See which switch opened.",
        _CAUSE,
    ),
    Slip(
        "blamed_welded",
        "Blamed welded thermostat for slow drying",
        "A welded thermostat does not make a load slow: the heat stays on. Here it is weak, or it is interrupted.",
        _CAUSE,
    ),
    Slip(
        "trap_missed",
        "Accepted a bad vent part",
        "That one traps lint, or burns, or puts damp and lint where nobody sees them. It does not belong on a vent.",
        _LINT,
    ),
    Slip(
        "sound_vent_blamed",
        "Rejected a good vent part",
        "That one is right as it is: smooth, open, and nothing that reaches into the air.",
        _LINT,
    ),
    Slip(
        "cleaned_plugged_in",
        "Cleaned with power on",
        "You had your hands at the dryer with its power on. Pull the plug first. If it is behind the dryer, open, "
        "lock and tag the breaker. The vent is back there, and so are its wires.",
        _CLEAN,
    ),
    Slip(
        "ran_without_duct",
        "Ran it before duct was back",
        "You ran the dryer before the duct was back. Lint and damp then blow into the room and over the heater.",
        _CLEAN,
    ),
    Slip(
        "vent_steps_turned",
        "Vent cleaning in wrong order",
        "You can't do one of the steps there, or a later step undoes it.",
        _CLEAN,
    ),
    Slip(
        "ran_on_with_lint",
        "Let it run on packed lint",
        "You let it run on a packed vent. That is how dryer fires start: stop it, unplug it, clean it.",
        _LINT,
    ),
    Slip(
        "filter_is_not_the_vent",
        "Took lint screen for the vent",
        "The lint screen is only the first place. The lint that got past it is in the vent, and that is still packed.",
        _LINT,
    ),
    Slip(
        "vented_indoors",
        "Blew the exhaust indoors",
        "Blowing indoors puts lint and damp into the room, and lint back into the dryer. It has to go outside.",
        _LINT,
    ),
    Slip(
        "good_air_stopped",
        "Stopped a dryer with clean vent",
        "Flap open, strong air, low gauge, quiet limit: that vent is clean. If it is still slow, check the heat.",
        _LINT,
    ),
    Slip(
        "transition_passed",
        "Passed a bad transition duct",
        "A transition duct is listed for that, at most 8 ft long, and never inside a wall. Others hold lint and feed a "
        "fire.",
        "How long a duct may be",
    ),
    Slip(
        "blower_passed",
        "Passed a bad blower",
        "A wheel that slips or is full of lint moves little air. So does a cracked housing.",
        "Where blower and duct agree",
    ),
    Slip(
        "good_way_blamed",
        "Blamed a good duct or blower",
        "That is as it has to be. Leave it, and look on.",
        "How long a duct may be",
    ),
)
