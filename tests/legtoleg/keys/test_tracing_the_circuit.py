"""Lesson 07's references: solved is full, every slip is named, unsafe is held."""

from __future__ import annotations

from typing import Any

from dryerbench.course.bench_card import faults_of, machine_of, open_bench
from dryerbench.topics.tracing_the_circuit.heater_line import CONTACTS, in_doubt
from dryerbench.topics.tracing_the_circuit.sheet import LESSON, SECOND_ROWS, read_dead_of
from legtoleg.demo.simulated_letters import letters_of
from legtoleg.keys.answer_key import quantities, references, worked
from legtoleg.keys.tracing_the_circuit import _along
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

from .conftest import Lesson

KEYS = Lesson(LESSON)
PAPER, handed_in, lettered, right_keys = KEYS.spec, KEYS.handed_in, KEYS.lettered, KEYS.right_keys
IDS = [f"anyone-{n}" for n in range(100)]
REFERENCE = {reference.question: reference for reference in references(LESSON)}
CARDS = {apprentice: PAPER.card(apprentice) for apprentice in IDS}
DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off")
LETTERED = (
    *("traced_open", "zero_volts", "next_reading", "dead_trace", "live_work"),
    *("second_suspects", "second_leg", "second_next"),
)


def opened(card: Any, *, heat: bool = True) -> Any:
    bench = open_bench(card)
    for act in (*DEAD, *(["ask_heat"] if heat else [])):
        bench.do(act)
    return bench


def halved(card: Any) -> Any:
    """Return the bench after the fewest readings: the whole, half, a contact of the open half."""
    bench = opened(card)
    bench.ohms("L1", "H8")
    first = bench.ohms("L1", "H4").shown == "OL"
    a, b, c, d = ("H1", "H2", "H3", "H4") if first else ("H5", "H6", "H7", "H8")
    if bench.ohms(a, b).shown != "OL":
        bench.ohms(c, d)
    return bench


def named(card: Any, key: str, bench: Any) -> Found:
    return handed_in("open_part", card, (letters_of(PAPER.question("open_part"), card, [key]), bench))


def predicted(card: Any, lit: str = "", dark: str = "0 V") -> dict[str, str]:
    rows = _along(card)
    lit = lit or f"{card.supply_volts} V"
    return {f"L2 to {key.removeprefix('L2-')}": dark if one.low == 0 else lit for key, one in rows.items()}


def second_predicted(card: Any) -> dict[str, str]:
    """Return question 13 answered in the middle of what counts."""
    rows = REFERENCE["second_volts"].rows(card)
    return {row.label: f"{(rows[row.key].low + rows[row.key].high) / 2:.0f} V" for row in SECOND_ROWS}


def solved(apprentice: str) -> dict[str, Found]:
    card = CARDS[apprentice]
    right = worked(LESSON, card)
    found = {
        one.question: Found("quantity", right[one.question], PAPER.question(one.question).unit)
        for one in quantities(LESSON)
    }
    found |= {name: lettered(name, card, right_keys(name, card)) for name in LETTERED}
    found["along_the_line"] = handed_in("along_the_line", card, predicted(card))
    found["second_volts"] = handed_in("second_volts", card, second_predicted(card))
    found["open_part"] = named(card, faults_of(card)[0], halved(card))
    return found


def read_on(card: Any) -> str:
    """Return what the card says was read dead before question 7."""
    return str(next(line.value for line in card.lines if "(question 7)" in line.label))


def marked(apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(LESSON, apprentice, {name: found})[name]


def test_solved_is_full_and_untouched_is_nothing() -> None:
    for apprentice in IDS[:20]:
        full = list(mark_lesson(LESSON, apprentice, solved(apprentice)).values())
        assert [one.question for one in full if one.points != one.max_points] == [], apprentice
        assert signed_off(full)
    assert all(one.points == 0 for one in mark_lesson(LESSON, "anyone-1", {}).values())


def test_another_valid_order_earns_full_marks() -> None:
    card = CARDS["anyone-1"]
    late = ["prove_first", "power_off", "call_heat", "test_dead", "prove_again", "diagram", "cover_off"]
    outcome = marked("anyone-1", "dead_trace", lettered("dead_trace", card, [*late, "whole", "half", "alone"]))
    assert (outcome.note, outcome.safety) == ("right", "clear")


def test_the_line_turned_round_or_at_one_leg_is_named() -> None:
    for apprentice, card in CARDS.items():
        turned = predicted(card, lit="0 V", dark=f"{card.supply_volts} V")
        outcome = marked(apprentice, "along_the_line", handed_in("along_the_line", card, turned))
        assert outcome.note == "line_turned_round"
        one_leg = predicted(card, lit=f"{card.supply_volts / 2} V", dark=f"{card.supply_volts / 2} V")
        outcome = marked(apprentice, "along_the_line", handed_in("along_the_line", card, one_leg))
        assert outcome.note == "one_leg_along_the_line"


def test_the_predicted_line_is_what_the_bench_would_read() -> None:
    from dryerbench.topics.tracing_the_circuit.heater_line import heating, volts

    for card in list(CARDS.values())[:25]:
        now = heating(machine_of(card), card.planned_open)
        for key, one in _along(card).items():
            assert one.low <= volts(now, "L2", key.removeprefix("L2-")) <= one.high


def test_the_fewest_readings_single_it_out_and_wrong_names_are_named() -> None:
    for apprentice, card in CARDS.items():
        bench = halved(card)
        for key in CONTACTS:
            outcome = marked(apprentice, "open_part", named(card, key, bench))
            if key in faults_of(card):
                assert outcome.note == "right"
                continue
            wanted = "motor_contact_at_rest" if key.startswith("motor") else "neighbor_named"
            assert (outcome.note, outcome.points, outcome.safety) == (wanted, 0.0, "held")


def test_readings_with_the_control_off_are_thin() -> None:
    apprentice, card = next(item for item in CARDS.items() if faults_of(item[1]) == ("control-open",))
    bench = opened(card, heat=False)
    bench.ohms("H1", "H2")
    outcome = marked(apprentice, "open_part", named(card, "control-open", bench))
    assert outcome.note == "open_not_singled_out"


def test_the_next_reading_halves_what_is_left_whichever_way_it_comes_out() -> None:
    """Both outcomes of the right reading leave half of the places; every other one offered may leave more."""
    for apprentice, card in CARDS.items():
        read, doubt = read_dead_of(card), in_doubt(read_dead_of(card))
        (right,) = REFERENCE["next_reading"].right(card)
        if "-" in right:
            left = {key: max(len(in_doubt((*read, (*key.split("-"), is_open)))) for is_open in (True, False)) - 1
                    for key in ("H4-H6", "L1-H2", "L1-H4")}  # fmt: skip
            assert left[right] == (len(doubt) - 1) / 2, apprentice
            assert min(left, key=left.__getitem__) == right
        else:
            assert (right, len(doubt)) in (("alone", 2), ("elements", 0))


def test_every_other_next_reading_is_told_what_is_the_matter_with_it() -> None:
    told = {words: REFERENCE["next_reading"].slips_on(card) for card in CARDS.values()
            if (words := read_on(card))}  # fmt: skip
    half = told["L1 to H8 OL, L1 to H4 OL"]
    assert (half["L1-H4"], half["H4-H6"], half["elements"]) == ("nothing_new", "not_in_doubt", "not_in_doubt")
    assert half["alone"] == "one_place_a_reading"
    assert told["L1 to H8 OL"]["L1-H2"] == "one_place_a_reading"
    assert told["L1 to H8 0.3 Ω"]["alone"] == "not_in_doubt"
    assert told["L1 to H8 0.3 Ω"]["L1-H2"] == "nothing_new"
    one_left = "L1 to H8 OL, L1 to H4 0.3 Ω, H4 to H6 0.3 Ω, H7 to H8 OL"
    assert told[one_left]["H4-H6"] == "not_in_doubt"
