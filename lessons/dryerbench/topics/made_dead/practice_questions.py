"""Practice of lesson 01's kinds of question: cases of their own, with their answers."""

from __future__ import annotations

from dryerbench.course.practice_question import Case, PickMany, PickOne, PracticeQuestion, PutInOrder, Step

_DEAD = "Dead. Take the cover off, and test once more at the terminal block."
_LIVE = "Not dead. Hands stay out, and I look for what feeds it."
_UNKNOWN = "No answer. Another meter, and every step of the test again."
_VOLTS = {"before": ("117.0", "123.0", "0.1"), "after": ("117.0", "123.0", "0.1"), "found": ("38.0", "77.0", "0.1")}

_EFFECT = PickOne(
    read="What current does to a body",
    cases=(
        Case(
            "A hand is on a leg of 120 V. The body holds it back with {ohms} Ω. Which row of the table is that?",
            "The row of 50 mA",
            {
                "The row of 1 mA": "underrated_shock",
                "The row of 10 mA": "other_row",
                "The row of 100 mA": "other_row",
            },
            "1000 × 120 ÷ {ohms} reaches 50 and not 100.",
            {"ohms": ("1300", "2300", "50")},
        ),
        Case(
            "Wet hands on a leg of 120 V, and only {ohms} Ω in the body. Which row of the table is that?",
            "The row of 100 mA",
            {
                "The row of 5 mA": "underrated_shock",
                "The row of 50 mA": "other_row",
                "The row of 300 mA": "other_row",
            },
            "1000 × 120 ÷ {ohms} reaches 100 and not 300: the heart can stop.",
            {"ohms": ("450", "1150", "50")},
        ),
        Case(
            "A dry hand touches a leg of 120 V, and the body has {ohms} Ω. Which row of the table is that?",
            "The row of 5 mA",
            {"The row of 1 mA": "other_row", "The row of 10 mA": "other_row", "The row of 50 mA": "other_row"},
            "1000 × 120 ÷ {ohms} reaches 5 and not 10.",
            {"ohms": ("13000", "23000", "500")},
        ),
        Case(
            "A sweating hand closes around a leg of 120 V, and the body has {ohms} Ω. Which row of the table is that?",
            "The row of 10 mA",
            {
                "The row of 1 mA": "underrated_shock",
                "The row of 50 mA": "other_row",
                "The row of 100 mA": "other_row",
            },
            "1000 × 120 ÷ {ohms} reaches 10 and not 50: the hand can't let go.",
            {"ohms": ("2500", "11000", "500")},
        ),
    ),
)

_KITS = PickMany(
    read="Category and leads",
    told="These lie in the van. Which of them may you use at a dryer's receptacle? Name all.",
    fits={
        "CAT III 1000 V meter and CAT III 1000 V leads, no damage, right fuse": "sound_kit_left_out",
        "CAT III 600 V meter, scuffed by years of use but whole, CAT IV 600 V leads, right fuse": "sound_kit_left_out",
        "CAT IV 1000 V meter and CAT III 600 V leads, no damage, right fuse": "sound_kit_left_out",
    },
    fits_not={
        "CAT II 1000 V meter and CAT III 1000 V leads, no damage, right fuse": "category_too_low",
        "CAT III 1000 V meter and CAT II 1000 V leads, no damage, right fuse": "category_too_low",
        "CAT III 600 V meter with foil around its fuse, CAT III 600 V leads": "damaged_kit",
        "CAT III 600 V meter with a taped crack in its body, CAT III 600 V leads": "damaged_kit",
        "Meter with 1000 V printed on it and no category, CAT III 1000 V leads": "no_category",
    },
)

_ORDER = PutInOrder(
    read="The order that makes it dead",
    jobs=(
        (
            "The plug is behind the dryer, out of reach. In which order do you make it safe to open?",
            (
                Step("Turn the dryer off at its control."),
                Step("Switch off the dryer's breaker.", "cut_under_load"),
                Step("Hang lock and tag on the breaker.", "A lock holds a breaker that is open. Open it first."),
                Step("With a second person, slide the dryer out.", "Until the breaker is locked it may be live."),
                Step("Pull the plug from behind.", "You can't reach it before the dryer is out."),
                Step("Read the meter on a live receptacle.", after={}),
                Step(
                    "Read the plug's blades, every pair.",
                    after={
                        "Pull the plug from behind.": "tested_before_isolated",
                        "Read the meter on a live receptacle.": "meter_unproved",
                    },
                ),
                Step("Read the meter on the live receptacle again.", "zero_not_confirmed"),
                Step("Unscrew the rear panel.", "opened_before_dead"),
            ),
        ),
        (
            "A hot dryer stops in the middle of a load. The plug is beside you. How do you open it?",
            (
                Step("Say to everybody that you work on it now."),
                Step("Press its stop button.", "nobody_told"),
                Step("Pull the plug and cap it with a lock.", "cut_under_load"),
                Step(
                    "Wait until the drum is stopped and the box is cool.",
                    after={"Press its stop button.": "Stop it first. Then it can come to rest."},
                ),
                Step("See that the meter shows 120 V at a live receptacle.", after={}),
                Step(
                    "Put the probes on each pair of the plug's blades.",
                    after={
                        "Pull the plug and cap it with a lock.": "tested_before_isolated",
                        "See that the meter shows 120 V at a live receptacle.": "meter_unproved",
                    },
                ),
                Step("See that the meter still shows 120 V at the live receptacle.", "zero_not_confirmed"),
                Step(
                    "Lift the top panel off.",
                    after={
                        "Wait until the drum is stopped and the box is cool.": "not_at_rest",
                        "See that the meter still shows 120 V at the live receptacle.": "opened_before_dead",
                    },
                ),
                Step("Read every pair once more at the terminal block.", "You can't reach the block before that."),
            ),
        ),
    ),
)

_VERDICT = PickOne(
    read="Reading the test",
    cases=(
        Case(
            "Known source {before} V. All six pairs 0.0 V. Known source again 0.0 V. What do you say?",
            _UNKNOWN,
            {_DEAD: "believed_a_zero", _LIVE: "called_live"},
            "The meter may have died before the first pair.",
            _VOLTS,
        ),
        Case(
            "Known source {before} V. All six pairs 0.0 V. Known source again {after} V. What do you say?",
            _DEAD,
            {_UNKNOWN: "proof_was_good", _LIVE: "called_live"},
            "Zeros count between two good checks.",
            _VOLTS,
        ),
        Case(
            "Known source {before} V. L1 to L2 0.0 V, L1 to cabinet {after} V, L2 to cabinet {after} V. "
            "Known source again {before} V. What do you say?",
            _LIVE,
            {_DEAD: "believed_a_zero", _UNKNOWN: "proof_was_good"},
            "Both points are on one leg, and it is live.",
            _VOLTS,
        ),
        Case(
            "Known source {before} V. L2 to cabinet {found} V, every other pair 0.0 V. Known source again {after} V. "
            "What do you say?",
            _LIVE,
            {_DEAD: "believed_a_zero", _UNKNOWN: "proof_was_good"},
            "One pair that is not zero is enough.",
            _VOLTS,
        ),
    ),
)

_JOBS = PickMany(
    read="When to stop",
    told="Which of these jobs go to a licensed electrician? Name all.",
    fits={
        "A cable in the wall that a screw went through": "kept_a_licensed_job",
        "A panel that buzzes when the dryer heats": "kept_a_licensed_job",
        "A receptacle that hangs loose in its box": "kept_a_licensed_job",
        "A second dryer receptacle for the garage": "kept_a_licensed_job",
    },
    fits_not={
        "A drum that squeals, in a dryer that tested dead": "gave_a_job_away",
        "A high limit that reads OL cold, in a dryer that tested dead": "gave_a_job_away",
        "A lint screen with a torn edge": "gave_a_job_away",
        "A motor that hums and does not start, in a dryer that tested dead": "gave_a_job_away",
    },
)

_FIRST_AID = PickOne(
    read="If somebody gets a shock",
    cases=(
        Case(
            "A helper's hand is locked on a live lamp cord. Its plug is beside you. What is first?",
            "Pull that plug, and touch only the plug. Then 911.",
            {
                "Drag the helper off by the belt.": "touched_the_shocked",
                "Call 911 and leave the cord plugged in until they come.": "help_came_late",
                "Start chest compressions.": "touched_the_shocked",
            },
            "Power off comes before everything else.",
        ),
        Case(
            "The breaker is off and the helper lies free, gasps, and doesn't answer. What is first?",
            "911 and the AED, and press on the chest until help comes.",
            {
                "Look for another breaker to turn off.": "power_was_off",
                "Lay the helper on one side: gasping is breathing.": "awake_or_not",
                "Let the helper lie quiet for ten minutes.": "help_came_late",
            },
            "Gasping does not count as breathing.",
        ),
        Case(
            "The helper got a shock, let go at once, and jokes about it. What is first?",
            "The job stops. You stay with the helper until a doctor has seen them, today.",
            {
                "The helper drives home alone and lies down.": "shock_made_light",
                "You press on the chest until help comes.": "awake_or_not",
                "You both finish the job, with care.": "shock_made_light",
            },
            "The heart can lose its rhythm hours later.",
        ),
        Case(
            "A hand is locked on a wire in the wall. You can't reach a plug or the panel. What is first?",
            "Stay off, send somebody to the main breaker, and call 911.",
            {
                "Kick the arm loose with your boot.": "touched_the_shocked",
                "Go and get your rated gloves from the van.": "help_came_late",
                "Hold the other hand, so that they don't fall.": "touched_the_shocked",
            },
            "If you touch them, you are stuck too.",
        ),
    ),
)

PRACTICE_QUESTIONS: dict[str, PracticeQuestion] = {
    "body_effect": _EFFECT,
    "fit_kits": _KITS,
    "dead_order": _ORDER,
    "test_verdict": _VERDICT,
    "hand_over": _JOBS,
    "first_aid": _FIRST_AID,
}
