"""The slips of lesson 02, two legs."""

from __future__ import annotations

from dryerbench.course.slips import Slip

SLIPS = (
    Slip(
        "legs_cancel",
        "The legs do not cancel: one swings up while the other swings down, so from one to the other the volts add.",
        "Two legs and a neutral",
    ),
    Slip(
        "third_of_a_turn",
        "That is for legs a third of a turn apart, off three phases. In a house they are half a turn apart: double.",
        "Two legs and a neutral",
    ),
    Slip(
        "leg_alone",
        "That is one leg to neutral. The question asks for the volts from one leg to the other.",
        "Two legs and a neutral",
    ),
    Slip(
        "nominal_volts",
        "Those are the round volts of a textbook. Your card says what one leg has in this house: start from that.",
        "Two legs and a neutral",
    ),
    Slip(
        "half_a_turn",
        "Double is for legs half a turn apart. Off three phases they are a third of a turn apart: times 1.732.",
        "208 volts",
    ),
    Slip(
        "neutral_adds",
        "The amps of the two legs were added. They swing against each other: the neutral carries only the difference.",
        "What the neutral carries",
    ),
    Slip(
        "neutral_idle",
        "The neutral is idle only when both legs carry the same. With unequal loads it carries the difference.",
        "What the neutral carries",
    ),
    Slip(
        "larger_load",
        "Those are the amps of the larger load alone. The other leg takes its own amps off that.",
        "What the neutral carries",
    ),
    Slip(
        "both_legs_on_load",
        "Each load sits between one leg and neutral: it gets one leg's volts, not the volts from leg to leg.",
        "What the neutral carries",
    ),
    Slip(
        "each_keeps_its_leg",
        "That holds while the neutral is whole. With it open nothing keeps each load at one leg's volts.",
        "The neutral opens",
    ),
    Slip(
        "other_load",
        "That is what the other load gets. In a row the load with more ohms gets more volts.",
        "The neutral opens",
    ),
    Slip(
        "all_on_one_load",
        "All of leg to leg lies across the two loads together. They share it by their ohms.",
        "The neutral opens",
    ),
    Slip(
        "one_leg_in_a_row",
        "The two loads in a row sit between leg and leg: start from the volts from leg to leg.",
        "The neutral opens",
    ),
    Slip(
        "strap_holds_zero",
        "The strap ties the case to the neutral, and the neutral is open: nothing holds it at zero any more. The leg "
        "comes through the machine onto the case. Someone who believes 0 V here gets hurt.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "both_legs_on_case",
        "From leg to leg it is double, but ground lies in the middle: from a leg to ground it is one leg's volts.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "half_leg_on_case",
        "Nothing halves it. While nobody touches the case no current flows, so nothing is lost on the way.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "strap_on_four",
        "With four wires the strap comes off. Left on, it puts the neutral's current on the case and the ground wire, "
        "and an open neutral puts a leg on the case.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "strap_off_three",
        "With three wires the strap is the only ground that the case has. Without it a fault makes the case live.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "cord_not_counted",
        "“Whatever the cord” cannot be right: what grounds the case depends on how many wires the cord has.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "bare_hands",
        "The readings were taken without the precautions of live work. Even a slot that turns out dead is live until "
        "the meter has said so.",
        "Reading a receptacle",
    ),
    Slip(
        "pair_not_read",
        "Not every pair was read in the low-impedance setting: leg to leg, and each leg to neutral.",
        "Reading a receptacle",
    ),
    Slip(
        "phantom_read",
        "Those are ghost volts: a wire connected to nothing picks up volts from the live wire beside it, and the "
        "ordinary setting shows them. Read in the low-impedance setting.",
        "Reading a receptacle",
    ),
    Slip(
        "called_sound",
        "Sound is a full leg to neutral on both sides, and double that from leg to leg. One of yours is not.",
        "What the readings say",
    ),
    Slip(
        "called_lost_leg",
        "A lost leg takes away every pair that it is in: leg to leg, and itself to neutral. The other leg stays.",
        "What the readings say",
    ),
    Slip(
        "called_open_neutral",
        "With the neutral of the branch open, leg to leg is full, and neither leg shows anything to neutral.",
        "What the readings say",
    ),
    Slip(
        "called_service_neutral",
        "With the neutral of the service open, leg to leg is full, one leg to neutral is high, and the other is low.",
        "What the readings say",
    ),
    Slip(
        "called_wye",
        "In a 208 V building each leg has its full volts to neutral, and only leg to leg is less than double.",
        "What the readings say",
    ),
    Slip(
        "called_sag",
        "A sag takes the same share off all three: both legs to neutral are low, and leg to leg is still double.",
        "What the readings say",
    ),
)
