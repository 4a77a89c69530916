"""Practice of lesson 09's kinds of question: cases of their own, with their answers."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.practice_question import (
    Case,
    FillTable,
    PickMany,
    PickOne,
    PracticeQuestion,
    PutInOrder,
    Reading,
    ReadingsGo,
    Step,
)

_TEARDOWN = PutInOrder(
    read="Steps that wait for each other",
    jobs=(
        (
            "Lint has to come out of a blower behind the front panel. The dryer still runs. What comes when?",
            (
                Step("Stop it, and hold the plug in your hand."),
                Step("See 120 V on the meter at a live receptacle.", after={}),
                Step(
                    "Read the blades of the plug: each pair, each to the cabinet.",
                    after={
                        "Stop it, and hold the plug in your hand.": "tested_while_on",
                        "See 120 V on the meter at a live receptacle.": "meter_not_proved_first",
                    },
                ),
                Step("See 120 V at the live receptacle again.", "zero_not_proved"),
                Step("Take the front panel off, its 6 screws into cup A.", "hands_in_before_dead"),
                Step("Read the terminal block dead.", "cannot_reach"),
                Step("Photograph the blower housing and its wires.", "hands_in_before_dead"),
                Step("Unplug the thermistor from the housing.", "photo_too_late"),
                Step("Lift the housing off, its screws into cup B.", "wires_torn"),
            ),
        ),
        (
            "The dryer is open and has tested dead. Its idler wheel squeals and has to come out. What comes when?",
            (
                Step("Photograph how the belt goes around idler and pulley."),
                Step("Swing the idler back and slide the belt off the pulley.", "photo_too_late"),
                Step("Lift the drum away.", "drum_on_its_belt"),
                Step("Unhook the spring of the idler arm.", "cannot_reach"),
                Step("Take the idler off its arm.", "The spring pulls at the arm until it is unhooked."),
            ),
        ),
    ),
)

_CLOSE = PutInOrder(
    read="Putting it back together",
    jobs=(
        (
            "A new coil sits in the heater box, and the box lies on the bench. The plug is out. What comes when?",
            (
                Step("Screw the box into its place, 4 screws of cup C."),
                Step("Read each terminal to the bare metal: OL.", "tested_out_of_its_place"),
                Step("Push each spade on its terminal and tug it.", "wires_on_for_the_test"),
                Step("Drum and belt in, two turns by hand.", "not_the_way_back"),
                Step("Rear panel on, 9 screws of cup A.", "not_the_way_back"),
                Step("Read the ground pin to the cabinet: 0.2 Ω.", after={}),
                Step(
                    "Plug it in.",
                    after={
                        "Rear panel on, 9 screws of cup A.": "powered_before_cover",
                        "Read the ground pin to the cabinet: 0.2 Ω.": "powered_before_bond",
                        "Clamp the exhaust hose on.": "run_without_duct",
                    },
                ),
                Step("Run it hot, and read the air at the hood.", "That needs the power on."),
                Step("Clamp the exhaust hose on.", after={}),
            ),
        ),
        (
            "A blower wheel is replaced. Nothing else is out of its place but the drum. What comes when?",
            (
                Step("Turn the wheel by hand: it rubs nowhere."),
                Step("Set the drum back on its rollers.", "not_the_way_back"),
                Step("Lay the belt around the pulley, ribs in.", "not_the_way_back"),
                Step("Turn the drum twice: the motor turns with it.", "Without its belt the motor does not turn."),
                Step("Front panel on, and every cup is empty.", "not_the_way_back"),
                Step("Power on, then read the air at the hood.", "powered_before_cover"),
            ),
        ),
    ),
)

_BELT = PickOne(
    read="How the belt runs",
    cases=(
        Case(
            "You turn the drum. The motor pulley does not move, and the belt turns. The idler wheel runs "
            "on smooth rubber. "
            "What do you do?",
            "Lay the belt around the pulley too.",
            {
                "Turn the ribs to the other side.": "belt_ribs_out",
                "Close up: the belt turns.": "belt_not_looked_at",
                "Look for a half twist.": "belt_crossed",
            },
            "The pulley drives the belt, so the belt has to go around it.",
        ),
        Case(
            "You turn the drum. The motor turns with it. The wheel of the idler runs on the ribs. What do you do?",
            "Off with it, and on again with the ribs to the inside.",
            {
                "Push the idler against it.": "idler_beside_belt",
                "Close up: the motor turns.": "belt_not_looked_at",
                "Lay it around the pulley.": "belt_misses_pulley",
            },
            "The smooth back runs on the idler.",
        ),
        Case(
            "You turn the drum to the right, and the motor turns to the left. What do you do?",
            "Take it off and look for the half twist.",
            {
                "Let the motor turn as it likes: close up.": "belt_not_looked_at",
                "Lay it around the pulley.": "belt_misses_pulley",
                "Turn the ribs to the other side.": "belt_ribs_out",
            },
            "A twisted belt turns the motor against the drum.",
        ),
        Case(
            "You turn the drum twice. The motor turns with it. The belt lies 100° around the pulley, and "
            "it hangs slack. "
            "What do you do?",
            "Set the idler against the belt.",
            {
                "Close up: it turned twice.": "belt_not_looked_at",
                "Look for a half twist.": "belt_crossed",
                "Turn the ribs to the other side.": "belt_ribs_out",
            },
            "The idler makes the belt lie far around the pulley.",
        ),
    ),
)


def _tally(stream: Stream) -> Case:
    """Return the counts of three cups, of which one is not empty."""
    panels = ("rear panel", "blower housing", "motor bracket")
    short = stream.choose(panels)
    out = {panel: stream.integer(3, 9) for panel in panels}
    lines = ", ".join(f"{panel} {out[panel]} out, {out[panel] - (panel == short)} back" for panel in panels)
    return Case(
        f"The dryer is unplugged and closed up. The cups: {lines}. What do you do?",
        f"Find the hole of the {short}, opening no farther than that.",
        {
            f"Find the hole of the {panel}, opening no farther than that.": "wrong_cup"
            for panel in panels
            if panel != short
        }
        | {"Keep that screw for another dryer.": "spare_screws"},
        "Out, less back, is what is left in the cup.",
    )


_BEFORE = PickMany(
    read="Proved before power",
    told="A new element is in. Which of these do you read or see before the plug goes in? Name all.",
    fits={
        "A tug at every spade: none slides": "powered_with_loose_wires",
        "Empty cups A, B and C": "cups_not_empty",
        "From the ground pin to bare metal of the cabinet: 0.3 Ω": "powered_before_bond",
        "From each terminal to bare metal, wires off: OL": "powered_before_case_test",
        "The ohms of each coil, and those on the tech sheet": "elements_not_read",
    },
    fits_not={
        "A beep from coil to coil": "beeper_for_a_number",
        "A flap at the hood that lifts": "proof_needs_power",
        "The amps of one leg": "proof_needs_power",
        "The temperature of the air": "proof_needs_power",
        "0.1 Ω from a flat blade of the plug to the cabinet": "line_on_the_case",
    },
)


def _repaired(stream: Stream) -> ReadingsGo:
    """Return the dead readings of a heater of two or three coils after its repair."""
    count, ohms = stream.integer(2, 3), stream.step("16.0", "31.0", "0.5")
    ground = stream.step("0.1", "0.4", "0.1")
    coils = [
        Reading(
            f"New coil {n}, from its own end to the shared one",
            "Ω",
            ohms,
            "ol_after_the_repair",
            {"read_with_wires_on": ohms / count},
        )
        for n in range(1, count + 1)
    ]
    whole = "Both" if count == 2 else f"All {count}"
    return ReadingsGo(
        f"{whole} coils of a heater are new, {ohms:g} Ω each, every wire off. The dryer has a good ground wire of "
        f"{ground:g} Ω. The leads are zeroed. What does the meter read?",
        (
            *coils,
            Reading("Shared end to bare metal of the box", "Ω", None, "number_where_ol_is_due"),
            Reading("Ground pin to bare metal of the cabinet", "Ω", ground, "ol_after_the_repair", loose=0.1),
        ),
    )


def _clamp(stream: Stream) -> Case:
    """Return a predicted and a shown current, with three, two or one coil working, or the cord as a whole."""
    whole = stream.step("20.0", "27.0", "0.1")
    texts = {
        1.0: "Near enough: all three coils carry current.",
        2 / 3: "One coil does not heat. Unplug, test dead, find it.",
        1 / 3: "Two coils do not heat. Unplug, test dead, find them.",
        0.01: "The clamp is on every wire of the cord. Put it on one.",
    }
    share = stream.choose(tuple(texts))
    slips = {1.0: "called_it_whole", 2 / 3: "miscounted_elements", 1 / 3: "miscounted_elements", 0.01: "blamed_the_jaw"}
    return Case(
        f"You predicted {whole:.1f} A for three equal coils. The clamp shows {whole * share:.1f} A, and the breaker "
        "holds. What do you say?",
        texts[share],
        {text: slips[of] for of, text in texts.items() if of != share}
        | {"Fine: a breaker that holds is the proof.": "breaker_is_no_proof"},
        "Compare with the prediction, two thirds of it, and one third.",
    )


_CORD = PickMany(
    read="Putting it back together",
    told="You look where the cord comes into a dead dryer. Which of these do you fix before power? Name all.",
    fits={
        "A screw that turns a quarter turn by hand": "block_passed",
        "Black, brittle plastic around the middle screw": "block_passed",
        "Copper hairs that reach from one screw toward the next": "block_passed",
        "Neutral and a leg pinched under the same screw": "block_passed",
        "The clamp at the hole is gone, and the cord rubs on sheet metal": "cord_not_held",
        "You pull at the plug end, and the copper slides at the screws": "cord_not_held",
        "Three wires in the cord, and the link from neutral to cabinet is missing": "strap_against_cord",
        "Four wires in the cord, and the link from neutral to cabinet is still there": "strap_against_cord",
    },
    fits_not={
        "A link from neutral to cabinet with a cord of three wires": "strap_against_cord",
        "Four wires in the cord, green on the cabinet, no link": "strap_against_cord",
        "Screws at the torque on the sheet, one wire under each": "good_cord_blamed",
        "The clamp is snug, and a tug stops at it": "good_cord_blamed",
        "Bright copper at each screw, with no hair out of place": "good_cord_blamed",
        "A little dust on a block with bright, tight screws": "good_cord_blamed",
    },
)

_SPLITTER = PickMany(
    read="Amps with the cover on: the line splitter",
    told="Somebody writes down how to read amps with a line splitter. Which lines are right? Name all.",
    fits={
        "Before it goes between: dryer unplugged": "splitter_plug_in",
        "Off again only with the plug out": "splitter_plug_in",
        "CAT III printed on it, nothing cracked": "splitter_not_fit",
        "Clamp on leg 1 alone, then on leg 2 alone": "splitter_all_wires",
        "Leg 1 reads 22 A and leg 2 reads 26 A: the motor is on leg 2": "splitter_misread",
        "4 A in the neutral with the drum turning: the motor": "splitter_misread",
        "2 A in the green wire: off at once, and look for a coil that touches": "splitter_misread",
        "Only the person whom the shop has named for live work": "splitter_is_live",
    },
    fits_not={
        "Clamp around the bundle: that adds everything up": "splitter_all_wires",
        "Cover on, so the apprentice may read alone": "splitter_is_live",
        "Bare hands will do: the wires have insulation": "splitter_is_live",
        "No splitter here: cut the jacket of an old cord": "splitter_not_fit",
        "Lend it to the customer until the next visit": "splitter_not_fit",
        "Plug stays in: slip the splitter over the blades": "splitter_plug_in",
        "2 A in the green wire: that is the motor": "splitter_misread",
    },
)

PRACTICE_QUESTIONS: dict[str, PracticeQuestion] = {
    "teardown": _TEARDOWN,
    "belt_run": _BELT,
    "screw_tally": PickOne("Picture and cups", (_tally,)),
    "before_power": _BEFORE,
    "close_up": _CLOSE,
    "proof_readings": FillTable("Proved before power", (_repaired,)),
    "at_the_cord": _CORD,
    "line_splitter": _SPLITTER,
    "clamp_verdict": PickOne("The amps against the prediction", (_clamp,)),
}
