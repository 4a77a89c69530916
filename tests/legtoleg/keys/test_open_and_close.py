"""Lesson 09's references: solved is full, every slip is named, unsafe is held."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.placement import placement_of
from dryerbench.course.bench_card import faults_of, machine_of, open_bench
from dryerbench.topics.open_and_close.belt import Belt
from dryerbench.topics.open_and_close.cabinets import EXAMPLE, covers_needed, no_cover_too_many, second_names
from dryerbench.topics.open_and_close.sheet import LESSON
from legtoleg.keys.answer_key import quantities, references, worked
from legtoleg.keys.open_and_close import _GOALS, _belt, _rows
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

from .conftest import Lesson

KEYS = Lesson(LESSON)
PAPER, handed_in, lettered, right_keys = KEYS.spec, KEYS.handed_in, KEYS.lettered, KEYS.right_keys
IDS = [f"anyone-{n}" for n in range(100)]
WIRES = ("wire T1", "wire T2", "wire T3", "wire T0")
REFERENCE = {reference.question: reference for reference in references(LESSON)}
DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter")


def opened(card: Any, *, dead: bool = True) -> Any:
    bench = open_bench(card)
    for act in (*(DEAD if dead else ()), "cover_off"):
        bench.do(act)
    return bench


def repaired(card: Any, *, block: bool = True, before: bool = True) -> Any:
    bench = opened(card)
    if block:
        bench.do("test_dead", where="block")
        bench.do("prove_meter")
    for wire in WIRES:
        bench.do("pull_wire", wire=wire)
    if before:
        bench.ohms(f"T{card.bad_element}", "T0")
    bench.do("replace_part", part=f"element {card.bad_element}")
    return bench


def readings(bench: Any) -> dict[str, str]:
    rows = PAPER.question("proof_readings").rows
    return {row.label: str(bench.ohms(*row.key.rsplit("-", 1))) for row in rows}


def proved(
    card: Any, *, block: bool = True, before: bool = True, part: bool = True, elements: tuple[int, ...] = (1, 2, 3),
    case: bool = True, bond: bool = True, again: bool = True, fixed: bool = True, wires: bool = True,
    cover: bool = True, run: bool = True, exhaust: bool = True,
) -> Any:  # fmt: skip
    """Return the whole job; ``again``: a bond put right is read again."""
    bench = repaired(card, block=block, before=before) if part else opened(card)
    for wire in () if part else WIRES:
        bench.do("pull_wire", wire=wire)
    for element in elements:
        bench.ohms(f"T{element}", "T0")
    if case:
        bench.ohms("T0", "case")
    if bond:
        bench.ohms("plug-G", "case")
    if fixed and "missing-bond" in faults_of(card):
        bench.do("replace_part", part="ground wire")
        if bond and again:
            bench.ohms("plug-G", "case")
    for wire in WIRES if wires else WIRES[1:]:
        bench.do("put_back_wire", wire=wire)
    for act in (*(["cover_on"] if cover else []), "plug_in", "ask_heat", "press_start", *(["let_run"] if run else [])):
        bench.do(act)
    if exhaust:
        bench.temperature("exhaust")
    return bench


def solved(apprentice: str) -> dict[str, Found]:
    card = PAPER.card(apprentice)
    right = worked(LESSON, card)
    letters = ("teardown", "belt_run", "screw_tally", "before_power", "close_up", "clamp_verdict", "second_screws")
    found = {
        one.question: Found("quantity", right[one.question], PAPER.question(one.question).unit)
        for one in quantities(LESSON)
    }
    for name in (*letters, "at_the_cord", "line_splitter"):
        found[name] = lettered(name, card, right_keys(name, card))
    found["proof_readings"] = handed_in("proof_readings", card, readings(repaired(card)))
    found["close_and_prove"] = handed_in("close_and_prove", card, proved(card))
    found["second_cabinet"] = handed_in("second_cabinet", card, second_done(card))
    return found


def second_open(card: Any, *, block: bool) -> Any:
    """Return the second dryer dead and open to its block, tested there too or not."""
    bench = open_bench(card, 2)
    for act in DEAD:
        bench.do(act)
    for cover in placement_of(machine_of(card, 2)).covers_over("block"):
        bench.do("cover_off", cover=cover.name)
    for act, given in (("test_dead", {"where": "block"}), ("prove_meter", {})) if block else ():
        bench.do(act, **given)
    return bench


def second_done(
    card: Any, *, block: bool = True, every: bool = False, wires: bool = True, read: bool = True, closed: bool = True
) -> Any:
    """Return the second dryer opened and closed; ``every``: every cover off."""
    bench, placed = second_open(card, block=block), placement_of(machine_of(card, 2))
    made = placed.arrangement
    there = placed.covers if every else covers_needed(machine_of(card, 2))
    for cover in there:
        if cover.name not in bench.covers_off:
            bench.do("cover_off", cover=cover.name)
    ends = [one.name for one in made.wires if {one.a, one.b} & set(made.box_terminals)] if wires else []
    for wire in ends:
        bench.do("pull_wire", wire=wire)
    for terminal in made.box_terminals if read else ():
        bench.ohms(terminal, "case")
    for wire in ends:
        bench.do("put_back_wire", wire=wire)
    for cover in reversed(placed.covers):
        if closed and cover.name in bench.covers_off:
            bench.do("cover_on", cover=cover.name)
    return bench


def marked(apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(LESSON, apprentice, {name: found})[name]


def test_solved_is_full_and_untouched_is_nothing() -> None:
    for apprentice in IDS[:20]:
        full = list(mark_lesson(LESSON, apprentice, solved(apprentice)).values())
        assert [one.question for one in full if one.points != one.max_points] == [], apprentice
        assert signed_off(full)
    assert all(one.points == 0 for one in mark_lesson(LESSON, "anyone-1", {}).values())


def test_another_valid_order_earns_full_marks() -> None:
    card = PAPER.card("anyone-1")
    early_proof = ["prove_first", "power_off", *right_keys("teardown", card)[2:]]
    rest = ["test_dead", "prove_again", "cover_off", "photo", "belt_off", "drum_out", "wires_off", "heater_out"]
    assert marked("anyone-1", "teardown", lettered("teardown", card, [*early_proof[:2], *rest])).note == "right"
    bond_first = ["bond_test", "vent_on", "heater_in", "case_test", "wires_on", "drum_in", "belt_on", "cover_on"]
    order = lettered("close_up", card, [*bond_first, "power_on", "run_proof"])
    assert marked("anyone-1", "close_up", order).note == "right"


@pytest.mark.parametrize(
    ("early", "before", "code"),
    [
        ("cover_off", "power_off", "hands_in_before_dead"),
        ("cover_off", "test_dead", "hands_in_before_dead"),
        ("cover_off", "prove_again", "zero_not_proved"),
        ("test_dead", "prove_first", "meter_not_proved_first"),
        ("test_dead", "power_off", "tested_while_on"),
        ("wires_off", "test_dead", "hands_in_before_dead"),
    ],
)
def test_the_unsafe_orders_of_opening_up(early: str, before: str, code: str) -> None:
    card = PAPER.card("anyone-2")
    order = [key for key in right_keys("teardown", card) if key != early]
    order.insert(order.index(before), early)
    outcome = marked("anyone-2", "teardown", lettered("teardown", card, order))
    assert code in outcome.note.split("+")
    assert outcome.safety == "held"


def test_readings_with_the_wires_on_are_named() -> None:
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        bench = opened(card)
        bench.do("replace_part", part=f"element {card.bad_element}")
        outcome = marked(apprentice, "proof_readings", handed_in("proof_readings", card, readings(bench)))
        assert outcome.note == "read_with_wires_on", (apprentice, outcome.message)


def test_readings_of_the_old_element_or_with_ol_turned_round_are_named() -> None:
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        right = readings(repaired(card))
        turned = {label: "OL" if shown != "OL" else "0.3 Ω" for label, shown in right.items()}
        notes = marked(apprentice, "proof_readings", handed_in("proof_readings", card, turned)).note.split("+")
        assert set(notes) == {"ol_after_the_repair", "number_where_ol_is_due"}


def test_nulled_leads_and_plain_ones_both_count() -> None:
    for apprentice in IDS[:30]:
        card = PAPER.card(apprentice)
        bench = repaired(card)
        bench.do("null_leads")
        assert marked(apprentice, "proof_readings", handed_in("proof_readings", card, readings(bench))).note == "right"


def test_the_bond_row_is_what_the_machine_has() -> None:
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        assert _rows(card)["plug-G-case"].over_limit == ("missing-bond" in faults_of(card))


BONDED = [card for card in map(PAPER.card, IDS) if "missing-bond" not in faults_of(card)]
UNBONDED = [card for card in map(PAPER.card, IDS) if "missing-bond" in faults_of(card)]
GOALS = 11
"""How many goals the work has, six points together."""


def points_of(reached: int) -> float:
    return round(6 * reached / GOALS * 2) / 2


@pytest.mark.parametrize(
    ("cards", "left_out", "lost"),
    [
        ("any", {"block": False}, ("dead_not_tested_inside",)),
        ("any", {"before": False}, ("part_not_read",)),
        ("any", {"elements": (1, 2)}, ("elements_not_read",)),
        ("any", {"elements": ()}, ("elements_not_read",)),
        ("any", {"case": False}, ("powered_before_case_test",)),
        ("bonded", {"bond": False}, ("powered_before_bond",)),
        ("unbonded", {"again": False}, ("powered_before_bond",)),
        ("unbonded", {"fixed": False}, ("bond_not_put_right", "powered_before_bond")),
        ("any", {"run": False}, ("never_ran", "exhaust_not_read")),
        ("any", {"exhaust": False}, ("exhaust_not_read",)),
    ],
)
def test_each_goal_left_out_is_named_and_costs_its_points(
    cards: str, left_out: dict[str, Any], lost: tuple[str, ...]
) -> None:
    who = {"any": [BONDED[0], UNBONDED[0], UNBONDED[1]], "bonded": BONDED[:3], "unbonded": UNBONDED[:3]}[cards]
    silent = 1 if left_out in ({"bond": False}, {"again": False}) else 0
    """A bond that is on shows nothing while nobody has read it."""
    for card in who:
        outcome = marked(
            card.apprentice, "close_and_prove", handed_in("close_and_prove", card, proved(card, **left_out))
        )
        assert outcome.note == "+".join(lost), (card.apprentice, outcome.message)
        assert outcome.points == points_of(GOALS - len(lost) - silent)
        assert outcome.safety == "held"


def test_the_whole_job_is_full_for_everybody() -> None:
    for card in (*BONDED[:10], *UNBONDED[:10]):
        bench = proved(card)
        assert [goal.slip for goal in _GOALS if not goal.earned(bench)] == [], card.apprentice
        assert bench.findings == []
    assert len(_GOALS) == GOALS


def test_an_old_element_left_in_is_named() -> None:
    """One that is open: with a grounded one it is unsafe besides."""
    card = next(card for card in BONDED if "grounded" not in faults_of(card)[0])
    outcome = marked(card.apprentice, "close_and_prove", handed_in("close_and_prove", card, proved(card, part=False)))
    assert "part_not_replaced" in outcome.note.split("+")
    assert outcome.safety == "held"
    assert outcome.points == points_of(GOALS - 3)


def test_nothing_done_earns_nothing_and_sound_parts_replaced_void_the_work() -> None:
    for card in (BONDED[0], UNBONDED[0]):
        for acts in ((), ({"act": "unplug", "with": {}},)):
            outcome = marked(card.apprentice, "close_and_prove", Found("work", acts=acts))
            assert (outcome.points, outcome.safety) == (0.0, "held")
    card = BONDED[1]
    bench = repaired(card)
    bench.do("replace_part", part="high limit")
    outcome = marked(card.apprentice, "close_and_prove", handed_in("close_and_prove", card, bench))
    assert (outcome.points, outcome.safety) == (0.0, "held")
    assert "You replaced good parts: 1. The customer would pay $14 for them." in outcome.message


def finished(bench: Any, *between: str, exhaust: bool = True) -> Any:
    """Close ``bench`` up, run it, do what comes ``between``, read the exhaust."""
    for wire in WIRES:
        bench.do("put_back_wire", wire=wire)
    for act in ("cover_on", "plug_in", "ask_heat", "press_start", "let_run", *between):
        bench.do(act)
    if exhaust:
        bench.temperature("exhaust")
    return bench


def read_after(bench: Any, *pairs: tuple[str, str]) -> Any:
    for a, b in pairs or (("T1", "T0"), ("T2", "T0"), ("T3", "T0"), ("T0", "case"), ("plug-G", "case")):
        bench.ohms(a, b)
    return bench


def missed(bench: Any) -> list[str]:
    return [goal.slip for goal in _GOALS if not goal.reached(bench)]


def test_a_second_run_may_be_the_one_that_is_read() -> None:
    bench = finished(read_after(repaired(BONDED[0])), "stop", "press_start", "let_run")
    assert missed(bench) == []


@pytest.mark.parametrize("ends", ["stop", "unplug", "open_door"])
def test_a_reading_after_the_run_has_ended_is_none(ends: str) -> None:
    assert missed(finished(read_after(repaired(BONDED[0])), ends)) == ["exhaust_not_read"]


def test_a_reading_with_the_wires_on_shows_no_element() -> None:
    card = BONDED[0]
    bench = opened(card)
    for act, given in (("test_dead", {"where": "block"}), ("prove_meter", {})):
        bench.do(act, **given)
    bench.ohms(f"T{card.bad_element}", "case")
    bench.ohms(f"T{card.bad_element}", "T0")
    bench.do("replace_part", part=f"element {card.bad_element}")
    read_after(bench)
    for act in ("cover_on", "plug_in", "ask_heat", "press_start", "let_run"):
        bench.do(act)
    bench.temperature("exhaust")
    assert missed(bench) == ["elements_not_read"]


def test_readings_before_the_work_or_after_the_power_are_none() -> None:
    bench = repaired(BONDED[0])
    finished(bench)
    for act in ("stop", "unplug", *DEAD[1:], "cover_off"):
        bench.do(act)
    bench.do("test_dead", where="block")
    bench.do("prove_meter")
    for wire in WIRES:
        bench.do("pull_wire", wire=wire)
    read_after(bench)
    for wire in WIRES:
        bench.do("put_back_wire", wire=wire)
    bench.do("cover_on")
    assert missed(bench) == ["elements_not_read", "powered_before_case_test", "powered_before_bond"]


@pytest.mark.parametrize("left_out", [{"wires": False}, {"cover": False}])
def test_power_on_loose_wires_or_an_open_machine_is_unsafe(left_out: dict[str, bool]) -> None:
    for apprentice in IDS[:20]:
        card = PAPER.card(apprentice)
        outcome = marked(apprentice, "close_and_prove", handed_in("close_and_prove", card, proved(card, **left_out)))
        assert (outcome.note, outcome.points, outcome.safety) == ("unsafe_act", 0.0, "held")


def test_a_cover_off_a_live_machine_and_a_grounded_heater_under_power_are_unsafe() -> None:
    card = PAPER.card("anyone-1")
    outcome = marked("anyone-1", "close_and_prove", handed_in("close_and_prove", card, opened(card, dead=False)))
    assert (outcome.note, outcome.safety) == ("unsafe_act", "held")
    grounded = next(one for one in IDS if "grounded" in faults_of(PAPER.card(one))[0])
    card = PAPER.card(grounded)
    outcome = marked(grounded, "close_and_prove", handed_in("close_and_prove", card, proved(card, part=False)))
    assert (outcome.note, outcome.safety) == ("unsafe_act", "held")


def test_the_case_test_before_the_new_part_does_not_count() -> None:
    card = next(card for card in map(PAPER.card, IDS) if faults_of(card)[0].endswith("open"))
    bench = opened(card)
    for wire in WIRES:
        bench.do("pull_wire", wire=wire)
    bench.ohms("T0", "case")
    bench.do("replace_part", part=f"element {card.bad_element}")
    assert "powered_before_case_test" in missed(bench)
    bench.insulation("T2", "case")
    assert "powered_before_case_test" not in missed(bench)


@pytest.mark.parametrize("mode", ["ohms", "insulation"])
def test_a_reading_that_met_a_live_machine_shows_neither_a_sound_element_nor_a_sound_bond(mode: str) -> None:
    bench = open_bench(BONDED[0])
    for act in ("cover_off", "ask_heat", "press_start"):
        bench.do(act)
    getattr(bench, mode)("T1", "case")
    reading = bench.trail[-1]["reading"]
    assert (reading["value"], reading["shown"] != "OL") == (None, True)
    assert {"powered_before_case_test", "powered_before_bond", "elements_not_read"} <= set(missed(bench))


@pytest.mark.parametrize(
    ("lies", "asks_for"),
    [
        (Belt(), "drum_front"),
        (Belt(travel=2.0), "drum_front"),
        (Belt(travel=0.0), "idler"),
        (Belt(ribs_inward=False), "turn_over"),
        (Belt(on_pulley=False), "pulley"),
        (Belt(twisted=True), "untwist"),
        (Belt(twisted=True, travel=0.0), "untwist"),
    ],
)
def test_what_a_belt_asks_for(lies: Belt, asks_for: str) -> None:
    assert _belt(lies) == asks_for


# --- the second dryer -----------------------------------------------------------------------------------------------

KINDS = {machine_of(card, 2).stands.arrangement.name: card for card in map(PAPER.card, IDS)}
"""A card for each machine that is dealt as the second one."""


def test_every_machine_but_two_is_dealt_as_the_second() -> None:
    assert {name.lower() for name in KINDS} == set(second_names())
    assert {"schoolroom", EXAMPLE}.isdisjoint(second_names())


@pytest.mark.parametrize("name", KINDS)
def test_the_second_dryer_opened_no_farther_than_it_takes_is_full(name: str) -> None:
    card = KINDS[name]
    outcome = marked(card.apprentice, "second_cabinet", handed_in("second_cabinet", card, second_done(card)))
    assert (outcome.note, outcome.points) == ("right", 4.0), outcome.message


@pytest.mark.parametrize(
    ("left_out", "code"),
    [
        ({"every": True}, "cover_not_needed"),
        ({"closed": False}, "second_left_open"),
        ({"read": False}, "second_heater_not_read"),
        ({"block": False}, "dead_not_tested_inside"),
    ],
)
@pytest.mark.parametrize("name", KINDS)
def test_each_goal_of_the_second_dryer_is_named(name: str, left_out: dict[str, bool], code: str) -> None:
    card = KINDS[name]
    outcome = marked(
        card.apprentice, "second_cabinet", handed_in("second_cabinet", card, second_done(card, **left_out))
    )
    assert code in outcome.note.split("+") or (outcome.note == "unsafe_act" and code == "dead_not_tested_inside")
    assert outcome.points < 4.0


def test_every_cover_at_once_is_too_many() -> None:
    card = KINDS["Garage"]
    bench = open_bench(card, 2)
    for act in (*DEAD, "cover_off"):
        bench.do(act)
    assert not no_cover_too_many(bench)


def test_an_untouched_second_dryer_earns_nothing() -> None:
    card = KINDS["Porch"]
    for acts in ((), ({"act": "unplug", "with": {}},)):
        outcome = marked(card.apprentice, "second_cabinet", Found("work", acts=acts))
        assert (outcome.points, outcome.safety) == (0.0, "held")


@pytest.mark.parametrize(
    ("name", "screws"),
    [("Alcove", 11), ("Attic", 10), ("Cellar", 9), ("Closet", 9), ("Garage", 5), ("Hallway", 8), ("Landing", 12),
     ("Mudroom", 13), ("Pantry", 9), ("Porch", 8), ("Workshop", 8)],
)  # fmt: skip
def test_the_count_of_screws_follows_the_machine(name: str, screws: int) -> None:
    """Counted by hand from each machine's list of covers."""
    card = KINDS[name]
    assert right_keys("second_screws", card) == [str(screws)]
    for key in (option.key for option in PAPER.question("second_screws").options_for(card)):
        note = marked(card.apprentice, "second_screws", lettered("second_screws", card, [key])).note
        assert (note == "right") == (key == str(screws)), (name, key, note)


def test_wrong_counts_are_named() -> None:
    card = KINDS["Mudroom"]
    notes = {key: marked(card.apprentice, "second_screws", lettered("second_screws", card, [key])).note
             for key in ("11", "15")}  # fmt: skip
    assert notes == {"11": "block_cover_forgotten", "15": "every_cover_counted"}
