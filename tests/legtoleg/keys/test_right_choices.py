"""What is right of each choice, told here from the lines of the card as a person reads them, not by the key's code."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

from dryerbench.bench.placement import placement_of
from dryerbench.course.bench_card import faults_of, machine_of
from dryerbench.course.questions import Choice, Choices
from dryerbench.registry import SHEETS, sheet
from dryerbench.topics.air_and_drying.sheet import trouble_of
from dryerbench.topics.heat_switches.sheet import cup_case_of
from dryerbench.topics.open_and_close.cabinets import cover_rows
from legtoleg.keys.answer_key import references
from legtoleg.keys.reference import ChoiceReference

IDS = [f"someone-{n}" for n in range(4)]
MANY = [f"someone-{n}" for n in range(40)]


def said(card: Any, start: str) -> str:
    """Return what the card's line that begins with ``start`` says."""
    (value,) = [line.value for line in card.lines if line.label.startswith(start)]
    return str(value)


def number(card: Any, start: str) -> float:
    found = re.match(r"-?[0-9.]+", said(card, start).replace("$", ""))
    assert found
    return float(found.group())


def offered(name: str, lesson: str, card: Any) -> dict[str, str]:
    question: Any = sheet(lesson).question(name)
    return {option.key: option.text for option in question.options_for(card)}


def verdict_of_the_test(card: Any) -> str:
    tested = [float(line.value.split()[0]) for line in card.lines if line.label.startswith("The test:")]
    proofs = [number(card, "Before the test"), number(card, "After the test")]
    if any(volts > 30 for volts in tested):
        return "live"
    return "dead" if min(proofs) > 100 else "unproved"


def body_effect(card: Any) -> str:
    milliamps = 1000 * number(card, "One leg to ground") / number(card, "The person")
    return max((key for key in offered("body_effect", "01_made_dead", card) if float(key) <= milliamps), key=float)


def leak_verdict(card: Any) -> str:
    leaks = number(card, "Second job: supply") / 2 / number(card, "Third job: element to cabinet")
    may = min(5.0, max(0.75, 0.75 * number(card, "Third job: nameplate")))
    return "over" if leaks > may else "under"


def zero_volts(card: Any) -> str:
    reaches, across = (said(card, f"Heat on, read live: {where} (question 5)") for where in ("L2 to H7", "H7 to H8"))
    return "either" if reaches == "0.0 V" else "closed" if across == "0.0 V" else "open"


def traced_open(card: Any) -> str:
    names = {"H2": "control-open", "H4": "cycling-open", "H6": "cut-off-blown", "H8": "high-limit-open"}
    for point, fault in names.items():
        if number(card, f"Heat on, read live: L2 to {point} (question 4)") < 50:
            return fault
    return "motor-heat-contact-open"


def reset_limit(card: Any) -> str:
    """Not popped: elsewhere. Popped and OL: replace. Popped, closed and the cause fixed: prove. Else find it."""
    there = said(card, "The limit with a button")
    if there.startswith("not popped"):
        return "elsewhere"
    if there.endswith("OL"):
        return "replace"
    return "prove" if "is replaced" in there else "find"


_SECOND = "The second dryer (question 1"
_WAYS = {
    "Cabin": ("L1 Cen", "Cen Lim Cut RelA"),
    "Closet": ("L1 Man Heat Hi CycH coil Lim Cen L2", "Man Heat Hi CycH Lim Cen"),
    "Hallway": ("L2 RelA coil Cut Lim Cen L1", "Cut Lim Cen"),
    "Pantry": ("L1 RelA coil Lim Cut Cen L2", "Lim Cut Cen"),
    "Porch": ("L1 Cen", "Cen Cut Lim Rel"),
    "Workshop": ("L2 Cut Heat Cyc LimA coil Cen L1", "Cut Heat Cyc Cen"),
}
"""Of each second dryer, read off its drawn sheet: its heater line (or its beginning), and what stops all heat."""


def second_leg(card: Any) -> str:
    """The centrifugal switch's leg while the drum turns; the dial's at rest; a board lets neither through at rest."""
    line = _WAYS[said(card, "The second dryer (questions 11").split(",")[0]][0].split()
    ends = {"L1": "leg 1", "L2": "leg 2"}
    at_switch = line[0] if line[1] == "Cen" else line[-1]
    if "drum turning" in said(card, f"{_SECOND}2)"):
        return ends[at_switch]
    return ends[line[0]] if "Heat" in line else "neither"


def second_next(card: Any) -> str:
    """After one reading the half, after two the half of the open half; nothing is open: a coil."""
    read = said(card, "Read dead, set to high").split(", ")
    if len(read) == 1:
        return "half" if read[0].endswith("OL") else "coil"
    return "first" if read[1].endswith("OL") else "third"


def second_screws(card: Any) -> str:
    """By what the lesson prints of the covers: those over block and heater, and each that one of them waits for."""
    rows = {row[0]: row for row in cover_rows(placement_of(machine_of(card, 2)))}
    off = [name for name, row in rows.items() if "terminal block" in row[3] or "terminals of" in row[3]]
    for name in off:
        first = re.match(r"after the ([^;]+)", rows[name][2])
        off += [first[1]] if first and first[1] not in off else []
    return str(sum(int(count) for name in off for count in re.findall(r"\d+", rows[name][1])))


def screw_tally(card: Any) -> str:
    for cup, words in (("cover", "cover"), ("drum front", "front bulkhead"), ("heater box", "heater box")):
        out, back = re.findall(r"\d+", said(card, f"Screws of the {words}"))
        if out != back:
            return cup
    raise AssertionError(card)


def clamp_verdict(card: Any) -> str:
    whole = number(card, "After the repair") / (number(card, "Every coil") / 3 * 1.026)
    share = number(card, "… and the clamp shows") / whole
    return {0: "whole_cord", 1: "two_out", 2: "one_out", 3: "fits"}[round(3 * share)]


def advice(card: Any) -> str:
    from legtoleg.keys.call_to_close import fix_minutes, parts_price

    minutes = 2 * number(card, "Call 2: drive") + number(card, "Call 2: finding") + fix_minutes(card)
    price = number(card, "Trip charge") + parts_price(card) + number(card, "Labor") * minutes / 60
    return "repair" if price <= number(card, "A new dryer") / 2 else "replace"


ONE: dict[str, tuple[str, Callable[[Any], str]]] = {
    "body_effect": ("01_made_dead", body_effect),
    "first_aid": ("01_made_dead", lambda card: (
        "cut" if "locked on" in said(card, "Somebody at work") else
        "cpr" if "do not answer" in said(card, "Somebody at work") else "doctor")),
    "test_verdict": ("01_made_dead", verdict_of_the_test),
    "frame_strap": ("02_two_legs", lambda card: (
        {"four wires": "off", "three wires": "on"}[said(card, "The dryer's cord")])),
    "receptacle_fault": ("02_two_legs", lambda card: (faults_of(card) or ("sound",))[0]),
    "which_phantom": ("04_trusting_the_meter", lambda card: min(
        (texts := offered("which_phantom", "04_trusting_the_meter", card)),
        key=lambda key: (volts := [float(one) for one in re.findall(r"[0-9.]+", texts[key])])[1] / volts[0],
    )),
    "still_there": ("04_trusting_the_meter", lambda card: (
        "stop" if number(card, "Question 10: the same") > 30 else "on")),
    "number_to_case": ("05_path_to_case", lambda card: (
        {"9.4 Ω": "replace", "47 kΩ": "find", "OL, and OL at 500 V too": "close"}[said(card, "Question 3")])),
    "will_it_stop": ("05_path_to_case", lambda card: (
        "motor" if "is stopped" in said(card, "Question 6") else
        "bond" if "ground wire off" in said(card, "Question 6") else
        "breaker" if 120 / number(card, "Question 6") > 45 else "nothing")),
    "leak_verdict": ("05_path_to_case", leak_verdict),
    "in_the_cup": ("06_heat_switches", lambda card: {"blind_limit": "blind", "blind_thermostat": "blind"}.get(
        cup_case_of(card), cup_case_of(card))),
    "no_cutoff_here": ("06_heat_switches", lambda card: (
        "fit" if re.match("the right cut-off; (the cause is found|a new|the vent is swept)", said(card, "In the truck"))
        else "leave")),
    "reset_limit": ("06_heat_switches", reset_limit),
    "traced_open": ("07_tracing_the_circuit", traced_open),
    "zero_volts": ("07_tracing_the_circuit", zero_volts),
    "next_reading": ("07_tracing_the_circuit", lambda card: {
        "L1 to H8 OL": "L1-H4", "L1 to H8 OL, L1 to H4 OL": "L1-H2", "L1 to H8 OL, L1 to H4 0.3 Ω": "H4-H6",
        "L1 to H8 0.3 Ω": "elements"}.get(said(card, "Read dead, control"), "alone")),
    "second_leg": ("07_tracing_the_circuit", second_leg),
    "second_next": ("07_tracing_the_circuit", second_next),
    "slow_because": ("08_air_and_drying", lambda card: trouble_of(card).cause),
    "lint_found": ("08_air_and_drying", lambda card: (
        "stop" if re.search("smells hot|weak air", said(card, "Another house")) else "run")),
    "belt_run": ("09_open_and_close", lambda card: next(key for words, key in (
        ("does not turn", "pulley"), ("against", "untwist"), ("beside it", "idler"), ("on the ribs", "turn_over"),
        ("", "drum_front")) if words in said(card, "The belt"))),
    "screw_tally": ("09_open_and_close", screw_tally),
    "second_screws": ("09_open_and_close", second_screws),
    "clamp_verdict": ("09_open_and_close", clamp_verdict),
    "advice": ("10_call_to_close", advice),
    "weekend": ("10_call_to_close", lambda card: (
        "run" if re.search("ran with heat, exhaust 1[0-9]+ °F$", said(card, "Another job")) else "stay_out")),
}  # fmt: skip
"""Of each choice with one letter: its lesson, and what is right by the card."""

SEVERAL: dict[str, tuple[str, str]] = {
    "fit_kits": ("01_made_dead", "iii-1000 iii-600 iv-600"),
    "hand_over": ("01_made_dead", "burnt flicker three-wires trips"),
    "comes_and_goes": ("05_path_to_case", "before_blame handle heat_gun once spades water"),
    "beeper_sounds": ("04_trusting_the_meter", "bridged grounded limit sound"),
    "can_blow": ("06_heat_switches", "crushed grounded limit_shut lint welded"),
    "live_work": ("07_tracing_the_circuit", "category clips dead_first gloves qualified"),
    "lint_traps": ("08_air_and_drying", "attic foil_in_wall plastic screen screws"),
    "drum_to_wall": ("08_air_and_drying", "cracked in_wall long packed slips unlisted"),
    "before_power": ("09_open_and_close", "bond case cups elements wires"),
    "at_the_cord": ("09_open_and_close", "bare_hole brown moves shared strands with_strap"),
    "line_splitter": ("09_open_and_close", "category ground_amps motor_leg named one_wire plug_first"),
    "job_record": ("10_call_to_close", "cause model proof readings words"),
    "around_the_job": ("10_call_to_close", "code found_more may_be_paid not_aboard show_air ten_days"),
}
"""Of each choice with several letters: its lesson, and all that may be right; what is not offered is not."""


def reference_of(lesson: str, name: str) -> ChoiceReference[Any]:
    reference = next(one for one in references(lesson) if one.question == name)
    assert isinstance(reference, ChoiceReference)
    return reference


def test_every_choice_is_told() -> None:
    found = {question.name: lesson for lesson, paper in SHEETS.items() for question in paper.questions
             if isinstance(question, Choice | Choices)}  # fmt: skip
    told = {name: lesson for name, (lesson, _) in (*ONE.items(), *SEVERAL.items())}
    assert found == {**told, "suspects": "10_call_to_close", "second_suspects": "07_tracing_the_circuit"}


@pytest.mark.parametrize("name", ONE)
def test_one_letter_is_right_by_the_card(name: str) -> None:
    lesson, right = ONE[name]
    for apprentice in IDS if lesson == "08_air_and_drying" else MANY:
        card = sheet(lesson).card(apprentice)
        assert reference_of(lesson, name).right(card) == {right(card)}, (apprentice, card)


@pytest.mark.parametrize("name", SEVERAL)
def test_all_that_fit_are_those_of_them_that_are_offered(name: str) -> None:
    lesson, right = SEVERAL[name]
    for apprentice in MANY:
        card = sheet(lesson).card(apprentice)
        assert reference_of(lesson, name).right(card) == set(right.split()) & set(offered(name, lesson, card))


def test_what_stops_all_heat_is_what_the_drawn_sheet_has_in_every_coils_line() -> None:
    dealt = set()
    for apprentice in MANY:
        card = sheet("07_tracing_the_circuit").card(apprentice)
        name = said(card, "The second dryer (questions 11").split(",")[0]
        there = offered("second_suspects", "07_tracing_the_circuit", card)
        right = reference_of("07_tracing_the_circuit", "second_suspects").right(card)
        assert right == set(_WAYS[name][1].split()) & set(there)
        assert 0 < len(right) < len(there), (apprentice, name)
        dealt.add(name)
    assert dealt == set(_WAYS)
