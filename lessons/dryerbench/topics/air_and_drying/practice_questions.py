"""Practice of lesson 08's kinds of question: cases of their own, with their answers."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.practice_question import Case, PickMany, PickOne, PracticeQuestion, PutInOrder, Step

_VENT = "The way out is blocked: vent or hood"
_INSIDE = "Something inside holds the air back: lint screen first"
_COIL = "A coil carries nothing"
_VOLTS = "The building has 208 V"
_EARLY = "The thermostat opens too soon"
_SLIPS = {
    _VENT: "blamed_vent",
    _INSIDE: "blamed_filter",
    _COIL: "blamed_element",
    _VOLTS: "blamed_supply",
    _EARLY: "blamed_cool_thermostat",
}


def _run(stream: Stream, right: str) -> Case:
    """Return the record of one slow hour, with numbers of its own, that shows ``right``."""
    amps, clean = stream.step("20.0", "27.0", "0.1"), stream.step("0.08", "0.14", "0.01")
    short_of_air = right in (_VENT, _INSIDE)
    cfm = stream.integer(60, 95) if short_of_air else stream.integer(140, 165)
    gauge = clean * {_VENT: stream.step("4", "8", "1")}.get(right, 1.0)
    now = amps * {_COIL: 0.667, _VOLTS: 0.867}.get(right, 1.0)
    switch = {
        _VENT: f"the limit opened {stream.integer(8, 19)} times",
        _INSIDE: f"the limit opened {stream.integer(8, 19)} times",
        _EARLY: f"the thermostat opened {stream.integer(15, 30)} times while the load was wet, exhaust {95} °F",
    }.get(right, "no switch opened")
    return Case(
        f"One hour of a slow dryer: {cfm} cfm at the hood. The gauge shows {gauge:.2f} inches, and the "
        "clean duct takes "
        f"{clean:.2f} at that airflow. {now:.1f} A now, {amps:.1f} A when it was good; {switch}. Why is it slow?",
        right,
        {text: slip for text, slip in _SLIPS.items() if text != right},
        "The line of the table that fits: compare air, gauge, amps, and which switch opened.",
    )


def _blocked(stream: Stream) -> Case:
    return _run(stream, _VENT)


def _screen(stream: Stream) -> Case:
    return _run(stream, _INSIDE)


def _coil_out(stream: Stream) -> Case:
    return _run(stream, _COIL)


def _low_volts(stream: Stream) -> Case:
    return _run(stream, _VOLTS)


def _too_early(stream: Stream) -> Case:
    return _run(stream, _EARLY)


_TRAPS = PickMany(
    read="Lint burns",
    told="You look at another vent. Which of these do not belong there? Name all.",
    fits={
        "A cage of chicken wire across the hood": "trap_missed",
        "A hose of vinyl with a wire coil": "trap_missed",
        "A vent that blows into the crawl space": "trap_missed",
        "Rivets that stick out into the duct": "trap_missed",
        "Foil accordion hose through the ceiling": "trap_missed",
    },
    fits_not={
        "A damper at the hood that shuts by its own weight": "sound_vent_blamed",
        "A hood on the outside wall, a foot above the ground": "sound_vent_blamed",
        "Foil tape around each joint": "sound_vent_blamed",
        "Galvanized pipe of 4 inches with a smooth inside": "sound_vent_blamed",
        "Joints that lap the way the air goes": "sound_vent_blamed",
    },
)

_ORDER = PutInOrder(
    read="Clean the vent",
    jobs=(
        (
            "The plug is in reach, and the hood is on the wall behind. How do you clean the hose there?",
            (
                Step("Stop the load and take the plug out."),
                Step("Pull the dryer away from the wall.", "cleaned_plugged_in"),
                Step("Loosen both clamps and take the hose down.", "vent_steps_turned"),
                Step("Vacuum the hose and both its ends.", "vent_steps_turned"),
                Step("Clamp the hose on again.", "vent_steps_turned"),
                Step("Roll the dryer back, and see that the hose is not flat.", "vent_steps_turned"),
                Step("Plug it in.", "cleaned_plugged_in"),
                Step("Start it hot and read the air at the hood.", "ran_without_duct"),
            ),
        ),
        (
            "The plug is behind the dryer, and nobody can reach it. How do you get at the duct?",
            (
                Step("Open the breaker of the dryer."),
                Step(
                    "Lock the breaker and hang your tag on it.", "A lock holds a breaker that is open. Open it first."
                ),
                Step("Walk the dryer out with a second person.", "cleaned_plugged_in"),
                Step("Reach behind it and pull the plug.", "vent_steps_turned"),
                Step("Undo the foil tape and take the duct apart.", "cleaned_plugged_in"),
                Step("Brush each piece until the metal shows.", "vent_steps_turned"),
                Step("Put the pieces together with new foil tape.", "vent_steps_turned"),
            ),
        ),
    ),
)

_FOUND = PickOne(
    read="Lint burns",
    cases=(
        Case(
            "A dryer runs. Its hood blows hardly any air, and the laundry room smells scorched. What do you do?",
            "Off and unplugged now. It runs again when vent and screen are clean.",
            {
                "Empty the screen, and let the load finish.": "filter_is_not_the_vent",
                "Open the hose, so that the air can get out here.": "vented_indoors",
                "Let it run, and come back with a brush tomorrow.": "ran_on_with_lint",
            },
            "That is how dryer fires start.",
        ),
        Case(
            "A dryer runs. Its flap stands wide open, the air is strong, the gauge is low, the limit stays closed. "
            "The load is slow. What do you do?",
            "The air is good. Next, read the heat: amps and switches.",
            {
                "Stop it and clean the vent.": "good_air_stopped",
                "Take the hose off for more air.": "vented_indoors",
                "Empty the screen: it is always the screen.": "filter_is_not_the_vent",
            },
            "",
        ),
        Case(
            "A dryer runs. The limit clicks every few minutes and the flap barely moves. The customer "
            "wants these towels. "
            "What do you do?",
            "No more heat. Plug out, tag on, and the vent is cleaned first.",
            {
                "Twenty more minutes, while somebody watches.": "ran_on_with_lint",
                "A clean screen, then twenty more minutes.": "filter_is_not_the_vent",
                "Hose off, window open, then twenty more minutes.": "vented_indoors",
            },
            "The limit opens because the heat can't get out.",
        ),
    ),
)

_WAY = PickMany(
    read="How long a duct may be",
    told="You follow the air of a dryer from the drum to the wall, plug out. Which of these do you fix before the next "
    "run? Name all.",
    fits={
        "The wheel of the blower wobbles, and its hub spins free": "blower_passed",
        "Wet lint between the blades of the blower": "blower_passed",
        "A sock in the housing of the blower, and a split in its seam": "blower_passed",
        "The screw of the blower's hub is gone, and the shaft turns inside it": "blower_passed",
        "10 ft of transition duct, because the dryer was moved": "transition_passed",
        "Transition duct that goes through the drywall and up": "transition_passed",
        "Plastic hose from the dryer to the wall": "transition_passed",
        "Foil hose from the hardware store, with nothing printed on it": "transition_passed",
    },
    fits_not={
        "6 ft of listed transition duct, in one gentle bend": "good_way_blamed",
        "8 ft of listed transition duct, in plain view": "good_way_blamed",
        "3 ft of listed transition duct, short and straight": "good_way_blamed",
        "Smooth metal duct through the wall, joints taped": "good_way_blamed",
        "Felt at the drum that drags lightly all around": "good_way_blamed",
        "Blades with bare plastic, no lint between": "good_way_blamed",
        "A blower that you cannot turn on its shaft": "good_way_blamed",
    },
)

PRACTICE_QUESTIONS: dict[str, PracticeQuestion] = {
    "slow_because": PickOne("Read the run", (_blocked, _coil_out, _screen, _too_early, _low_volts)),
    "lint_traps": _TRAPS,
    "cleaning": _ORDER,
    "lint_found": _FOUND,
    "drum_to_wall": _WAY,
}
