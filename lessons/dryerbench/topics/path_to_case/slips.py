"""The slips of lesson 05, path to case."""

from __future__ import annotations

from dryerbench.course.slips import Slip

_PULL = "Pull every wire"
_SHARED = "Find the shared terminal when nothing is labeled"
_READ = "Read everything to the cabinet"
_MEANS = "What the number means"
_WHICH = "Which coil is it?"
_WHERE = "Where does it touch?"
_HOT = "Why it stays hot with the heat off"
_GROUND = "The ground wire"
_LEAK = "How much may leak?"
_WET = "The 500-volt test"
_WIGGLE = "OL is not the last word: wiggle, tap, warm"
_GFCI = "If it trips a GFCI"

SLIPS = (
    Slip(
        "wires_still_on",
        "Read a coil with wires on",
        "The wires were still on, so the meter read the rest of the dryer too. Pull every wire off the element, T0's "
        "as well. Then read again.",
        _PULL,
    ),
    Slip(
        "probe_on_paint",
        "Probe on paint read OL",
        "You wrote OL, but this one reads a number. Your probe was probably on paint or rust. Go to bright metal, "
        "check the spot, and read again.",
        _READ,
    ),
    Slip(
        "fooled_by_shared_terminal",
        "Named the coil beside the touch",
        "This coil reads a number only because it shares T0 with the bad one. Find the coil whose two readings add up "
        "to its own ohms.",
        _WHICH,
    ),
    Slip(
        "damp_for_touch",
        "Called a metal touch damp",
        "Water and dirt leave thousands of ohms or more. A few ohms to the cabinet are metal on metal.",
        _MEANS,
    ),
    Slip(
        "control_blamed",
        "Blamed a welded control contact",
        "A welded control would heat too, but then every terminal reads OL to the cabinet. Here there is a number.",
        _HOT,
    ),
    Slip(
        "thin_case_evidence",
        "Grounded coil on too few readings",
        "You named the right coil, but your readings don't prove it yet. Read each coil end to end, and all four "
        "terminals to the cabinet.",
        _WHICH,
    ),
    Slip(
        "right_ohms_so_good",
        "Passed a coil on ohms alone",
        "Right ohms end to end say that the coil is whole. They don't say that it is off the metal. Go by the reading "
        "to the cabinet.",
        _MEANS,
    ),
    Slip(
        "power_as_test",
        "Used power as a test",
        "Power is not a test. With the control off a grounded coil takes less than the breaker holds. If the ground "
        "wire is bad too, the cabinet goes live, and whoever touches it can be killed.",
        _MEANS,
    ),
    Slip(
        "from_far_end",
        "Counted from the shared terminal",
        "You counted from the shared terminal. The question counts from the coil's own terminal. Work it again from "
        "there.",
        _WHERE,
    ),
    Slip(
        "one_over_other",
        "Divided one reading by the other",
        "You divided one reading by the other. Divide the own terminal's reading by both readings added together.",
        _WHERE,
    ),
    Slip(
        "both_legs_to_case",
        "Leg-to-leg volts to the cabinet",
        "That's leg to leg. The cabinet is at ground, and from ground to one leg it's half of that. Work it again with "
        "one leg.",
        _HOT,
    ),
    Slip(
        "near_piece",
        "Used the near piece of coil",
        "You used the piece at the coil's own terminal. With the control off, leg 2 comes in at the shared terminal. "
        "Use the piece from there to the touch.",
        _HOT,
    ),
    Slip(
        "whole_coil",
        "Used whole coil, not one piece",
        "You used the whole coil. The current leaves it at the touch, so only one piece carries it. Use that piece.",
        _HOT,
    ),
    Slip(
        "amps_for_watts",
        "Gave amps, not watts",
        "Those are the amps. The question asks for watts: volts times amps, with the volts of one leg.",
        _HOT,
    ),
    Slip(
        "control_off_is_cold",
        "Said control off means cold coil",
        "You said the coil is cold. The control opens only one line, and the other leg still feeds it. Anyone who "
        "takes this dryer for dead can be killed.",
        _HOT,
    ),
    Slip(
        "every_ground_trips",
        "Said every ground trips the breaker",
        "A breaker counts amps, and only amps that flow. First check that leg 2 reaches the coil and the current has a "
        "way back. Then work out the amps: one leg divided by the ohms to the touch.",
        _HOT,
    ),
    Slip(
        "touch_called_small",
        "Took a touch for too small",
        "First check that leg 2 reaches the coil and the current has a way back. Then work out the amps. A touch close "
        "to the shared terminal leaves little coil.",
        _HOT,
    ),
    Slip(
        "motor_contact_overlooked",
        "Overlooked the centrifugal switch",
        "The centrifugal switch is closed while the drum turns and open while it is stopped. Your card says which.",
        _HOT,
    ),
    Slip(
        "way_home_overlooked",
        "Overlooked the ground wire",
        "The ground wire is the way back, if it is on and if leg 2 reaches the coil at all. Your card says both.",
        _GROUND,
    ),
    Slip(
        "case_is_ground",
        "Took a loose cabinet for grounded",
        "You took the cabinet for ground. Without its ground wire the coil puts a full leg on it. Whoever touches it "
        "and a pipe can be killed.",
        _GROUND,
    ),
    Slip(
        "half_along",
        "Half a leg on ungrounded cabinet",
        "You took off volts lost in the coil. No current flows, so none are lost. The cabinet gets the whole leg.",
        _GROUND,
    ),
    Slip(
        "leak_not_by_kilowatt",
        "Leak limit without the kilowatts",
        "0.75 mA is for 1 kW or less. The rule allows 0.75 mA for each kW, up to its cap. Use the kW on the nameplate.",
        _LEAK,
    ),
    Slip(
        "leak_cap_forgotten",
        "Leak limit past its cap",
        "You went past the cap. The rule stops growing at a highest value, whatever the kilowatts. Look it up again.",
        _LEAK,
    ),
    Slip(
        "interrupter_for_limit",
        "GFCI's 6 mA as leak limit",
        "6 mA is where a GFCI has to trip to protect a person. The rule for a good element stays below that.",
        _LEAK,
    ),
    Slip(
        "test_volts_for_mains",
        "Used the tester's 500 V",
        "500 V is what the tester pushes with. In use one hot leg pushes, half of leg to leg. Work it again with that.",
        _LEAK,
    ),
    Slip(
        "leak_misjudged",
        "Leak verdict against the numbers",
        "Your verdict doesn't fit the numbers. Compare your last two answers: what leaks, and what the rule allows.",
        _LEAK,
    ),
    Slip(
        "limit_is_no_pass",
        "Passed a leak below the limit",
        "A leak below the limit is still a leak. Good insulation reads millions of ohms. Find the water or dirt before "
        "it goes back.",
        _LEAK,
    ),
    Slip(
        "dry_by_power",
        "Dried a leaking dryer with power",
        "Running it hot powers a dryer that leaks to its cabinet, and somebody can get a shock. Dry and clean it "
        "unplugged, then test again.",
        _WET,
    ),
    Slip(
        "number_misread",
        "Misread the reading to the cabinet",
        "Read the number and its letters again. Some ohms: the coil touches. Thousands: water or dirt. OL: no path.",
        _MEANS,
    ),
    Slip(
        "one_ol_passed",
        "Passed a coil on one OL",
        "Some coils touch only when they shake or get hot. Wiggle, tap and warm. A number counts, even if it shows "
        "once.",
        _WIGGLE,
    ),
    Slip(
        "beeper_while_tapping",
        "Beeper used for a quick touch",
        "The beeper can miss a quick or sooty touch. Watch the display.",
        _WIGGLE,
    ),
    Slip(
        "warmed_by_running",
        "Ran it to warm a coil",
        "A coil that touches puts power on the cabinet when the dryer runs. Warm the element on the bench, with a "
        "heat gun.",
        _WIGGLE,
    ),
    Slip(
        "gfci_overruled",
        "Reset or swapped a GFCI",
        "A GFCI that trips does its job: current goes another way. Do not keep resetting it, and do not have it "
        "swapped for a plain breaker.",
        _GFCI,
    ),
    Slip(
        "gfci_for_lockout",
        "Took a GFCI for a lockout",
        "A tripped GFCI makes nothing dead. Plug out, check the meter, test dead, check the meter. Then take the "
        "cover off.",
        _GFCI,
    ),
    Slip(
        "gfci_blamed",
        "Blamed the GFCI without a reading",
        "Read the coils to the cabinet first, and look for water. Both trip a good GFCI.",
        _GFCI,
    ),
    Slip(
        "nameless_not_tested_dead",
        "Hands in before testing inside",
        "You did not test dead at the terminal block before your hands went in. Check, test, check.",
        _PULL,
    ),
    Slip(
        "pairs_leave_more",
        "Shared terminal on too few pairs",
        "Your readings leave more than one answer. Pull every wire off the heater, and read every pair.",
        _SHARED,
    ),
    Slip(
        "shared_tag_wrong",
        "Wrong tag at the shared terminal",
        "Your tags do not say it. A pair with the shared terminal reads one coil, and a pair without it reads two. If "
        "coils meet at no terminal, none is shared. Then the tag is NONE.",
        _SHARED,
    ),
)
