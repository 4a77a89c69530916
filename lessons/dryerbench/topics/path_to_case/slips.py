"""The slips of lesson 05, path to case."""

from __future__ import annotations

from dryerbench.course.slips import Slip

SLIPS = (
    Slip(
        "wires_still_on",
        "That is the reading with the wires still on: the elements and the machine's wires were read together. "
        "Pull the wires off T1, T2 and T3 first.",
        "The test, step by step",
    ),
    Slip(
        "probe_on_paint",
        "There is a number here, and OL was written. A probe on paint, rust or dirt makes no contact: "
        "OL is good news only from a probe on bright metal.",
        "The test, step by step",
    ),
    Slip(
        "fooled_by_shared_terminal",
        "All three read a number to the case, because they share a terminal. The grounded one is the one whose "
        "two readings to the case add up to its own ohms.",
        "Which of the three is it?",
    ),
    Slip(
        "damp_for_touch",
        "Damp leaves thousands of ohms or more. A few ohms to the case are metal on metal.",
        "Metal or damp?",
    ),
    Slip(
        "control_blamed",
        "A welded control would heat too, but then every terminal would read OL to the case. Here there is a number.",
        "Why it can stay hot with the control off",
    ),
    Slip(
        "thin_case_evidence",
        "You named the right fault, but your readings do not prove it yet. Read every element from its terminal to T0, "
        "and from each of the four terminals to the cabinet.",
        "Which of the three is it?",
    ),
    Slip(
        "right_ohms_so_good",
        "Right ohms from end to end say that the coil is whole, not that it hangs free. A number to the case: replace.",
        "A number is a grounded element",
    ),
    Slip(
        "power_as_test",
        "Power is no test. With the control off a grounded element takes less than the breaker holds, "
        "and a case that is badly bonded goes live. Someone gets hurt.",
        "A number is a grounded element",
    ),
    Slip(
        "from_far_end",
        "That is counted from the shared terminal. The question counts from the element's own terminal.",
        "Where along the coil?",
    ),
    Slip(
        "one_over_other",
        "One reading was divided by the other. The share is one reading divided by both together.",
        "Where along the coil?",
    ),
    Slip(
        "both_legs_to_case",
        "Those are the volts from leg to leg. The case is at ground, and from one leg to ground it is half of that.",
        "Why it can stay hot with the control off",
    ),
    Slip(
        "near_piece",
        "That is the piece at the element's own terminal. With the control open, leg 2 comes in at the shared "
        "terminal, through the other piece.",
        "Why it can stay hot with the control off",
    ),
    Slip(
        "whole_coil",
        "That takes the whole coil. The current leaves it at the place where it touches: only one piece carries it.",
        "Why it can stay hot with the control off",
    ),
    Slip(
        "amps_for_watts",
        "Those are the amps. Watts are volts times amps: 120 V push them.",
        "Why it can stay hot with the control off",
    ),
    Slip(
        "control_off_is_cold",
        "The control opens one line only. The other line still feeds the grounded element, and the case is the way "
        "back. Someone who takes it for cold and dead gets hurt.",
        "Why it can stay hot with the control off",
    ),
    Slip(
        "every_ground_trips",
        "A breaker counts amps, not mistakes, and it counts only what flows. First see that the line of leg 2 is "
        "closed and the current has a way home. Then work the amps out: one leg by the ohms up to the shared terminal.",
        "Why it can stay hot with the control off",
    ),
    Slip(
        "touch_called_small",
        "First see that the line of leg 2 is closed and the current has a way home. Then work the amps out: a touch "
        "close to the shared terminal leaves little coil.",
        "Why it can stay hot with the control off",
    ),
    Slip(
        "motor_contact_overlooked",
        "The motor's own contact is closed while the drum turns and open while it stands. Your card says which.",
        "Why it can stay hot with the control off",
    ),
    Slip(
        "way_home_overlooked",
        "The current goes home through the ground wire while that is on, if leg 2 gets to the heater at all. "
        "Your card says both.",
        "The ground wire",
    ),
    Slip(
        "case_is_ground",
        "The case is at ground only while its ground wire is on. Without it the touching coil lifts the case to "
        "a full leg. Someone who trusts this case gets hurt.",
        "The ground wire",
    ),
    Slip(
        "half_along",
        "No current flows, so no volts are lost along the coil: the case gets all of the leg.",
        "The ground wire",
    ),
    Slip(
        "leak_not_by_kilowatt",
        "0.75 mA is for a heater of 1 kW or less. Here it is 0.75 mA for each kW, up to the cap of the standard.",
        "How much may leak?",
    ),
    Slip(
        "leak_cap_forgotten",
        "The limit does not grow without end: the standard has a cap, whatever the kilowatts.",
        "How much may leak?",
    ),
    Slip(
        "interrupter_for_limit",
        "6 mA is where a ground-fault interrupter has to trip to save a person. A sound machine stays below that.",
        "How much may leak?",
    ),
    Slip(
        "test_volts_for_mains",
        "500 V is what the tester puts on. At work one leg pushes: half of leg to leg.",
        "How much may leak?",
    ),
    Slip(
        "leak_misjudged",
        "Compare your last two answers: what leaks with what may leak.",
        "How much may leak?",
    ),
    Slip(
        "limit_is_no_pass",
        "A leak below the limit is still a leak: sound insulation reads millions of ohms. Find the path before it goes "
        "back.",
        "Metal or damp?",
    ),
    Slip(
        "dry_by_power",
        "Drying it out by its own heat powers a machine that leaks to its case. Dry and clean it isolated, test again.",
        "Metal or damp?",
    ),
    Slip(
        "number_misread",
        "Read the number: some ohms are a coil that touches, thousands are damp or dirt, OL is no path at all.",
        "Metal or damp?",
    ),
)
