"""The slips of lesson 07, tracing the circuit."""

from __future__ import annotations

from dryerbench.course.slips import OHMS_LAW, Slip

_READ = "Reading the line off the diagram"
_OPEN = "The open contact has all the volts"
_ALONG = "Along the line, from the far leg"
_HALF = "Half, and half again"
_DEAD = "Dead first"
_REST = "Two contacts are open at rest"
_LIVE = "When you need a live reading"
_SHEET = "Another sheet, another line"

SLIPS = (
    Slip(
        "open_reads_nothing",
        "0 V across an open contact",
        "No current does not mean no volts. With no current nothing is lost on the way, so you read the whole supply "
        "across the open contact.",
        _OPEN,
    ),
    Slip(
        "one_leg_across_open",
        "One leg across an open contact",
        "That is one leg. One side of the open contact is at leg 1, and the other is at leg 2, through the heater. "
        "Use leg to leg.",
        _OPEN,
    ),
    Slip(
        "shared_by_contacts",
        "Shared volts among the contacts",
        "The contacts do not share the volts. A closed one takes almost nothing, and the open one takes all.",
        _OPEN,
    ),
    Slip(
        "supply_across_closed",
        "Full supply across a closed contact",
        "That is the supply. You read it across an open contact. A closed one has only amps times its own ohms.",
        _OPEN,
    ),
    Slip(
        "squared_the_amps",
        "Squared the amps for volts",
        f"Amps times amps times ohms are watts. {OHMS_LAW['volts']}",
        _OPEN,
    ),
    Slip(
        "divided_the_drop",
        "Divided ohms by amps",
        f"You divided the ohms by the amps. {OHMS_LAW['volts']}",
        _OPEN,
    ),
    Slip(
        "zero_means_closed",
        "Took 0 V for closed contact",
        "0 V does not prove a contact closed. If the line is open somewhere else, both its ends are on the same leg. "
        "Then a bad contact reads 0 V too.",
        _OPEN,
    ),
    Slip(
        "zero_means_open",
        "Took 0 V for open contact",
        "An open contact that gets its volts reads the whole supply. 0 V says that it is closed, "
        "or that the line is open somewhere else.",
        _OPEN,
    ),
    Slip(
        "zero_taken_for_dead",
        "Took 0 V as safe",
        "0 V between two points says nothing about either of them to the cabinet. Both can be at 120 V. Someone "
        "who touches them can be killed.",
        _OPEN,
    ),
    Slip(
        "line_turned_round",
        "Turned the line around",
        "You have it backwards. From L2 you read the whole supply everywhere leg 1 reaches. Past the open contact "
        "you read 0 V, because the line is tied to leg 2 through the coils. It is not dead: to the cabinet it still "
        "has 120 V.",
        _ALONG,
    ),
    Slip(
        "one_leg_along_the_line",
        "One leg's volts along the line",
        "That is one leg, as to the cabinet or to neutral. The black probe is on L2: leg to leg.",
        _ALONG,
    ),
    Slip(
        "border_misread",
        "Misread where the volts end",
        "The open contact is between the last point that reads the supply and the first that reads 0 V. Those past it "
        "still have 120 V to the cabinet.",
        _ALONG,
    ),
    Slip(
        "sound_line_read",
        "Took an open line for good",
        "In a good line leg 1 reaches all the way to the coils, and the volts are lost in them. Here they are lost "
        "before them, or not even there.",
        _ALONG,
    ),
    Slip(
        "one_by_one",
        "Tested one after another",
        "That is one after another. If you split in half, each reading rules out half of what is left.",
        _HALF,
    ),
    Slip(
        "each_place_once",
        "One reading for each place",
        "That is one reading for each place. If you split in half, each reading rules out half of what is left.",
        _HALF,
    ),
    Slip(
        "halved_once",
        "Split in half only once",
        "You split only once. Keep splitting what is left until one place is left.",
        _HALF,
    ),
    Slip(
        "readings_not_minutes",
        "Gave readings, not minutes",
        "That is the number of readings. The question asks for minutes: multiply by the minutes of each.",
        _HALF,
    ),
    Slip(
        "one_split_short",
        "One reading short in splitting",
        "That is one reading short. An odd number does not split evenly, and you may be left with the bigger part: "
        "round up.",
        _HALF,
    ),
    Slip(
        "one_place_a_reading",
        "Reading that rules out too little",
        "That reading rules out little if you are unlucky. Go to the middle: it rules out half, lucky or not.",
        _HALF,
    ),
    Slip(
        "nothing_new",
        "Read what was already known",
        "Your readings say that already. Take one that tells you something new.",
        _HALF,
    ),
    Slip(
        "not_in_doubt",
        "Read where no fault can be",
        "The fault can't be there. Note on the line what your readings have cleared, and what reads OL.",
        _HALF,
    ),
    Slip(
        "line_not_followed",
        "Read before following the diagram",
        "If you have not written down the points, a reading tells you nothing. Follow the line on the diagram first.",
        _READ,
    ),
    Slip(
        "traced_before_dead",
        "Ohms or hands before testing dead",
        "You put ohms, or a hand, on a circuit before you knew it was dead. That can kill you. Plug out, check the "
        "meter, test dead, check the meter again, then the cover, then the ohms.",
        _DEAD,
    ),
    Slip(
        "trace_meter_unproved",
        "Traced with an unchecked meter",
        "You tested for dead with a meter that nobody had checked. A dead meter makes every circuit look dead.",
        _DEAD,
    ),
    Slip(
        "trace_zero_unproved",
        "Traced without checking meter again",
        "You did not check the meter again after the test for dead. If it died meanwhile, its zero is worth nothing.",
        _DEAD,
    ),
    Slip(
        "points_behind_cover",
        "Read points behind a closed cover",
        "You can't reach those points: they are behind the cover, and it is still on.",
        _DEAD,
    ),
    Slip(
        "split_before_whole",
        "Split before reading the whole line",
        "Read the whole line first: if it is not open, there is nothing to split. The part alone comes last.",
        _HALF,
    ),
    Slip(
        "control_left_off",
        "Read the line with control off",
        "With the control off its contact is open, and that is normal. The whole line then reads OL, good or bad. "
        "Turn it to heat first.",
        _REST,
    ),
    Slip(
        "motor_contact_at_rest",
        "Blamed the centrifugal switch at rest",
        "The centrifugal switch is open whenever the motor is stopped. OL there, dead, says nothing.",
        _REST,
    ),
    Slip(
        "neighbor_named",
        "Named a part that reads good",
        "That is not the part that reads OL. Read across each suspect's own two points, control on heat.",
        _HALF,
    ),
    Slip(
        "open_not_singled_out",
        "Open part on too few readings",
        "You named the right part, but your readings would fit another one too. Read until only one is left.",
        _HALF,
    ),
    Slip(
        "live_before_dead_tests",
        "Went live before the dead tests",
        "You can find nearly everything in this line dead. Live comes last, if it comes at all.",
        _LIVE,
    ),
    Slip(
        "live_alone",
        "Read live with nobody near",
        "Nobody reads live alone. A qualified person does it, and someone who can cut the power is near.",
        _LIVE,
    ),
    Slip(
        "wrong_category",
        "Live without the right category",
        "A meter or test leads below the circuit's category can blow up in a surge. Read what is printed on both.",
        _LIVE,
    ),
    Slip(
        "bare_hands_live",
        "Live work without gloves, one hand",
        "Use rated gloves and one hand. With a probe in each hand, the path from leg to leg goes through your chest.",
        _LIVE,
    ),
    Slip(
        "moved_probes_live",
        "Moved probes with power on",
        "Clip on while it is dead, power up, read, power down. What does not move cannot slip.",
        _LIVE,
    ),
    Slip(
        "jumped_a_limit",
        "Put a jumper across a limit",
        "Never put a jumper across a limit or a cut-off. It is what keeps the lint from burning.",
        _LIVE,
    ),
    Slip(
        "ohms_dial_live",
        "Turned to ohms with power on",
        "Ohms on a live circuit blow the meter's fuse, or the meter in your hand. Ohms are for dead circuits.",
        _LIVE,
    ),
    Slip(
        "two_readings_say_it",
        "Did not use both live readings",
        "One reading does not decide it, but you have two. With volts at H7, the reading across the limit decides.",
        _OPEN,
    ),
    Slip(
        "not_all_heat",
        "Part that stops only some heat",
        "Not all the heat goes through that part. It feeds one coil of several, or low heat, or the motor. Follow the "
        "heater circuit again.",
        _SHEET,
    ),
    Slip(
        "line_part_missed",
        "Missed part of the heater circuit",
        "All the heat goes through that part too. If it is open, every coil stays cold while the drum turns.",
        _SHEET,
    ),
    Slip(
        "no_leg_seen",
        "No leg seen at the heater",
        "A leg still reaches the heater through closed contacts. Someone who takes this heater for dead can be killed. "
        "Walk from each end of the line toward the coil.",
        _SHEET,
    ),
    Slip(
        "leg_misread",
        "Misread the leg at the heater",
        "That is not what this sheet says. Walk from each end of the line toward the coil, and stop at the first open "
        "contact. What you walked through is at that end's leg.",
        _SHEET,
    ),
    Slip(
        "past_called_dead",
        "0 V past the open contact",
        "Past the open contact the line is tied to the other leg. From there to the cabinet it has that leg's volts. "
        "A hand there can be deadly.",
        _SHEET,
    ),
    Slip(
        "cabinet_is_no_leg",
        "Leg to leg for one leg",
        "The cabinet is at ground. From a leg to ground you read one leg, not both.",
        _SHEET,
    ),
    Slip(
        "coil_has_the_volts",
        "Open contact's volts on the coil",
        "No current flows, so no volts are lost in the coil. The open contact has them all.",
        _SHEET,
    ),
)
