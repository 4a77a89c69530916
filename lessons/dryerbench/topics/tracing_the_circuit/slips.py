"""The slips of lesson 07, tracing the circuit."""

from __future__ import annotations

from dryerbench.course.slips import Slip

_READ = "Reading the line off the diagram"
_OPEN = "The open contact has all the volts"
_ALONG = "Along the line, from the far leg"
_HALF = "Half, and half again"
_DEAD = "Dead first"
_REST = "Two contacts are open at rest"
_LIVE = "When only live will do"

SLIPS = (
    Slip(
        "open_reads_nothing",
        "No current is not no volts. With no current nothing is lost on the way, so all of the supply stands at the "
        "open contact.",
        _OPEN,
    ),
    Slip(
        "one_leg_across_open",
        "That is one leg. The one side of the open contact is at leg 1 and the other, through the heater, at leg 2: "
        "take leg to leg.",
        _OPEN,
    ),
    Slip(
        "shared_by_contacts",
        "The contacts do not share the volts. A closed one takes next to nothing, and the open one takes all.",
        _OPEN,
    ),
    Slip(
        "supply_across_closed",
        "That is the supply, and it stands across an open contact. A closed one has only amps times its own ohms.",
        _OPEN,
    ),
    Slip(
        "squared_the_amps",
        "Amps times amps times ohms are watts. Volts are amps times ohms.",
        _OPEN,
    ),
    Slip(
        "divided_the_drop",
        "The ohms were divided by the amps. Volts are amps times ohms.",
        _OPEN,
    ),
    Slip(
        "zero_means_closed",
        "0 V does not prove a contact closed. If the line is open somewhere else, both its ends are at the same leg, "
        "and a bad contact reads 0 V too.",
        _OPEN,
    ),
    Slip(
        "zero_means_open",
        "An open contact that gets its volts reads the whole supply. 0 V says closed, or no volts there.",
        _OPEN,
    ),
    Slip(
        "zero_taken_for_dead",
        "0 V between two points says nothing about either of them against the case. Both can be at 120 V. Someone "
        "who touches them gets hurt.",
        _OPEN,
    ),
    Slip(
        "line_turned_round",
        "That is turned round. From L2 you read the whole supply as far as the volts of leg 1 get, and nothing past "
        "the open contact: there the line hangs on leg 2 through the elements.",
        _ALONG,
    ),
    Slip(
        "one_leg_along_the_line",
        "That is one leg, as against the case or neutral. The black probe is on L2: leg to leg.",
        _ALONG,
    ),
    Slip(
        "border_misread",
        "The open contact lies between the last point that reads the supply and the first that reads nothing.",
        _ALONG,
    ),
    Slip(
        "sound_line_read",
        "A whole line has leg 1 all the way to the elements, and the volts are lost in them. Here they are lost before "
        "them, or not even there.",
        _ALONG,
    ),
    Slip(
        "one_by_one",
        "That is one after another. By halves, each reading throws out half of what is left.",
        _HALF,
    ),
    Slip(
        "each_place_once",
        "That is a reading for each place. By halves, each reading throws out half of what is left.",
        _HALF,
    ),
    Slip(
        "halved_once",
        "That halves only once. Go on halving what is left until one place is left.",
        _HALF,
    ),
    Slip(
        "readings_not_minutes",
        "That is the number of readings. The question asks for minutes: times the minutes of each.",
        _HALF,
    ),
    Slip(
        "one_split_short",
        "That is one reading short. An odd number does not split evenly, and you may be left with the bigger part: "
        "round up.",
        _HALF,
    ),
    Slip(
        "one_place_a_reading",
        "That reading throws out little if you have no luck. Go to the middle: it throws out half, luck or not.",
        _HALF,
    ),
    Slip(
        "nothing_new",
        "Your readings say that already. Take one that tells you something new.",
        _HALF,
    ),
    Slip(
        "not_in_doubt",
        "That is not where the doubt is. Mark on the line what your readings have cleared, and what reads OL.",
        _HALF,
    ),
    Slip(
        "line_not_followed",
        "Without the points written down, a reading has no place. Follow the line on the diagram first.",
        _READ,
    ),
    Slip(
        "traced_before_dead",
        "That is ohms, or a hand, on a circuit that is not proved dead. Plug out, meter proved, tested dead, meter "
        "proved again, then the cover, then the ohms.",
        _DEAD,
    ),
    Slip(
        "trace_meter_unproved",
        "The test for dead was made with a meter that nobody had proved.",
        _DEAD,
    ),
    Slip(
        "trace_zero_unproved",
        "The meter was not proved again after the test for dead. If it died meanwhile, its zero is worth nothing.",
        _DEAD,
    ),
    Slip(
        "points_behind_cover",
        "Those points are behind the cover, and the cover is still on.",
        _DEAD,
    ),
    Slip(
        "split_before_whole",
        "First the whole line: if it is not open, there is nothing to split. And the part alone comes last.",
        _HALF,
    ),
    Slip(
        "control_left_off",
        "With the control off its contact is open as it should be, and the whole line reads OL whatever else is wrong. "
        "Turn it to heat first.",
        _REST,
    ),
    Slip(
        "motor_contact_at_rest",
        "The motor's heat contact is open whenever the motor stands. OL there, dead, says nothing.",
        _REST,
    ),
    Slip(
        "neighbor_named",
        "That is not the part that reads OL. Measure across each suspect's own two points, control on heat.",
        _HALF,
    ),
    Slip(
        "open_not_singled_out",
        "The name is right, but your readings would fit another part as well. Read until only one is left.",
        _HALF,
    ),
    Slip(
        "live_before_dead_tests",
        "Nearly everything in this line can be found dead. Live comes last, if it comes at all.",
        _LIVE,
    ),
    Slip(
        "live_alone",
        "Nobody measures live alone. Someone who is qualified does it, and someone who can cut the power is near.",
        _LIVE,
    ),
    Slip(
        "wrong_category",
        "A meter or leads below the circuit's category can burst at a surge. Read what is printed on both.",
        _LIVE,
    ),
    Slip(
        "bare_hands_live",
        "Rated gloves and one hand: with a probe in each hand, the way from leg to leg goes through the chest.",
        _LIVE,
    ),
    Slip(
        "moved_probes_live",
        "Clip on while it is dead, power up, read, power down. What does not move cannot slip.",
        _LIVE,
    ),
    Slip(
        "jumped_a_limit",
        "Never a jumper across a limit or a cut-off. It is what keeps the lint from burning.",
        _LIVE,
    ),
    Slip(
        "ohms_dial_live",
        "Ohms on a live circuit blows the meter's fuse, or the meter. Ohms are for dead circuits.",
        _LIVE,
    ),
    Slip(
        "two_readings_say_it",
        "One reading leaves it open, but you have two. Volts as far as H7: then what stands across the limit decides.",
        _OPEN,
    ),
)
