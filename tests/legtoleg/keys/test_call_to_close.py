"""The marking of lesson 10: right is full for anybody, every slip is named, what is unsafe holds the lesson."""

from __future__ import annotations

from collections import Counter
from functools import cache
from typing import Any

import pytest

from dryerbench.bench.states import named_state
from dryerbench.course.bench_card import open_bench
from dryerbench.diagnosis.service_calls import complaint_of
from dryerbench.registry import SLIPS, sheet
from dryerbench.topics.call_to_close.sheet import LESSON, OFFERED, RULE_PERCENT
from legtoleg.demo.simulated_letters import letters_of
from legtoleg.keys.answer_key import references, worked
from legtoleg.keys.call_to_close import GOALS, expected_rows, fault_of, part_of, quote_percent_of
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

PAPER = sheet(LESSON)
IDS = [f"someone-{n}" for n in range(100)]
BY_NAME = {reference.question: reference for reference in references(LESSON)}
CALL = ["ask", "unplug", "prove", "dead", "again", "open", "measure", "quote", "fit", "close", "power", "record"]
Acts = list[tuple[str, dict[str, Any]]]

DEAD: Acts = [("unplug", {}), ("prove_meter", {}), ("test_dead", {}), ("prove_meter", {}), ("cover_off", {})]
PAIRS = "T1 T0,T2 T0,T3 T0,T1 case,T2 case,T3 case,H1 H2,H3 H4,H5 H6,H7 H8,S1 S2,L1 D,W1 W0,Q N"


def probe(a: str, b: str, mode: str = "ohms") -> Acts:
    return [("set_dial", {"mode": mode, "full_scale": None}), ("probe", {"a": a, "b": b})]


READ: Acts = [
    *DEAD,
    *(("pull_wire", {"wire": wire}) for wire in sorted(named_state("all-wires-off").pulled)),
    ("ask_heat", {"heat": "high"}),
    *(act for pair in ("plug-G case," + PAIRS).split(",") for act in probe(*pair.split())),
]


def repair(card: Any) -> Acts:
    return [
        *DEAD,
        ("replace_part", {"part": part_of(card)}),
        *probe("T0", "case"),
        *probe("plug-G", "case"),
        ("cover_on", {}),
        ("plug_in", {}),
        ("ask_heat", {"heat": "high"}),
        ("press_start", {}),
        ("let_run", {}),
        ("temperature", {"spot": "exhaust"}),
    ]


def acts(done: Acts) -> tuple[dict[str, Any], ...]:
    return tuple({"act": act, "with": given} for act, given in done)


def letters(name: str, apprentice: str, keys: list[str]) -> Found:
    typed = letters_of(PAPER.question(name), PAPER.card(apprentice), keys).replace(" ", "")
    return Found("letters", typed=typed, letters=typed)


def fault(apprentice: str, key: str, done: Acts) -> Found:
    typed = letters("call_fault", apprentice, [key]).letters
    return Found("fault", typed=typed, letters=typed, acts=acts(done))


@cache
def table(apprentice: str) -> Found:
    rows = {}
    for key, expected in expected_rows(PAPER.card(apprentice)).items():
        middle = (expected.low + expected.high) / 2
        rows[key] = Found("over_limit") if expected.over_limit else Found("quantity", middle, "Ω", 3)
    return Found("readings", rows=rows)


def solved(apprentice: str) -> dict[str, Found]:
    card = PAPER.card(apprentice)
    found = {name: Found("quantity", number, PAPER.question(name).unit) for name, number in
             worked(LESSON, card).items()}  # fmt: skip
    for name in ("suspects", "advice", "weekend", "job_record"):
        found[name] = letters(name, apprentice, sorted(BY_NAME[name].right(card)))
    return {
        **found,
        "call_order": letters("call_order", apprentice, CALL),
        "call_readings": table(apprentice),
        "call_fault": fault(apprentice, fault_of(card), READ),
        "call_repair": Found("work", acts=acts(repair(card))),
    }


def changed(apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(LESSON, apprentice, {name: found})[name]


def test_solved_is_full() -> None:
    for apprentice in IDS[:20]:
        marks = list(mark_lesson(LESSON, apprentice, solved(apprentice)).values())
        assert [mark.note for mark in marks] == ["right"] * len(PAPER.questions), apprentice
        assert signed_off(marks)


def test_the_rule_of_the_shop_decides() -> None:
    advised = {
        quote_percent_of(PAPER.card(one)) <= RULE_PERCENT: BY_NAME["advice"].right(PAPER.card(one)) for one in IDS
    }
    assert advised == {True: frozenset({"repair"}), False: frozenset({"replace"})}


def test_other_safe_orders_are_full() -> None:
    for order in (
        ["prove", "unplug", "dead", "again", "open", "ask", *CALL[6:]],
        ["unplug", "ask", "prove", "dead", "again", "open", *CALL[6:]],
    ):
        assert changed("demo-01", "call_order", letters("call_order", "demo-01", order)).note == "right"


def test_rows_read_with_the_wires_on_or_turned_round_are_named() -> None:
    seen: Counter[str] = Counter()
    for apprentice in IDS:
        card, right = PAPER.card(apprentice), table(apprentice)
        for key, expected in expected_rows(card).items():
            wrong = {"ol_for_number": Found("over_limit")} if not expected.over_limit else {}
            wrong |= {"number_for_ol": Found("quantity", 13.5, "Ω", 3)} if expected.over_limit else {}
            wrong |= {code: Found("quantity", value, "Ω", 3) for code, value in (expected.slips or {}).items()}
            for code, answer in wrong.items():
                outcome = changed(apprentice, "call_readings", Found("readings", rows={**right.rows, key: answer}))
                assert outcome.note == code, (apprentice, key, outcome.note)
                assert 0 < outcome.points < outcome.max_points
                seen[code] += 1
    assert set(seen) == {"ol_for_number", "number_for_ol", "number_in_circuit"}


def test_the_meter_s_own_reading_is_right_with_and_without_leads_stored() -> None:
    for apprentice in IDS[:40]:
        for null in (False, True):
            bench = open_bench(PAPER.card(apprentice))
            for act, given in (*DEAD, *(("pull_wire", {"wire": f"wire T{n}"}) for n in range(4))):
                bench.do(act, **given)
            if null:
                bench.do("null_leads")
            rows = {}
            for key, ends in {
                "T1": ("T1", "T0"),
                "T2": ("T2", "T0"),
                "T3": ("T3", "T0"),
                "case": ("T0", "case"),
            }.items():
                value = bench.ohms(*ends).value
                rows[key] = Found("over_limit") if value is None else Found("quantity", value, "Ω", 3)
            assert changed(apprentice, "call_readings", Found("readings", rows=rows)).note == "right", (
                apprentice,
                null,
            )


def test_evidence_stands_after_the_repair_was_done_on_the_same_bench() -> None:
    for apprentice in IDS[:10]:
        card = PAPER.card(apprentice)
        whole = [*READ, *repair(card)[len(DEAD) :]]
        assert (
            changed(apprentice, "call_fault", fault(apprentice, fault_of(card), whole[: len(READ) + 3])).note == "right"
        )


def without(apprentice: str, *left_out: str) -> Found:
    done = repair(PAPER.card(apprentice))
    return Found("work", acts=acts([act for act in done if act[0] not in left_out and str(act[1]) not in left_out]))


def test_proved_then_stopped_and_unplugged_is_right() -> None:
    for apprentice in IDS[:10]:
        done = repair(PAPER.card(apprentice))
        for last in (["stop"], ["unplug"], ["stop", "unplug"], ["stop", "open_breaker", "lock"]):
            found = Found("work", acts=acts([*done, *[(act, {}) for act in last]]))
            assert changed(apprentice, "call_repair", found).note == "right", last


def test_parts_warmed_by_hand_are_no_run() -> None:
    for apprentice in IDS[:10]:
        done = repair(PAPER.card(apprentice))
        place = next(at for at, act in enumerate(done) if act[0] == "temperature")
        read_late = [*done[:place], ("stop", {}), *done[place:]]
        outcome = changed(apprentice, "call_repair", Found("work", acts=acts(read_late)))
        assert (outcome.note, outcome.safety) == ("not_run_with_heat", "held")


@pytest.mark.parametrize(
    ("left_out", "codes"),
    [
        (("temperature",), {"not_run_with_heat"}),
        (("let_run",), {"not_run_with_heat"}),
        (("cover_on", "plug_in", "ask_heat", "press_start", "let_run"), {"wires_left_off", "not_run_with_heat"}),
        (("{'a': 'T0', 'b': 'case'}",), {"case_not_read_again"}),
        (("{'a': 'plug-G', 'b': 'case'}",), {"bond_not_read"}),
        (("prove_meter",), {"unsafe_act"}),
        (("cover_on",), {"unsafe_act"}),
    ],
)
def test_work_done_in_part_is_named_and_held(left_out: tuple[str, ...], codes: set[str]) -> None:
    for apprentice in IDS[:10]:
        outcome = changed(apprentice, "call_repair", without(apprentice, *left_out))
        assert set(outcome.note.split("+")) == codes, (apprentice, outcome.note)
        assert outcome.points < outcome.max_points
        assert outcome.safety == "held"


def test_the_wrong_part_is_named() -> None:
    for apprentice in IDS[:20]:
        card = PAPER.card(apprentice)
        done = [act if act[0] != "replace_part" else ("replace_part", {"part": "bias heater"}) for act in repair(card)]
        outcome = changed(apprentice, "call_repair", Found("work", acts=acts(done)))
        unsafe = fault_of(card).endswith("-grounded")
        assert "faulty_part_still_in" in outcome.note or (unsafe and outcome.note == "unsafe_act")
        assert outcome.safety == "held"


def test_every_goal_has_words() -> None:
    assert {goal.slip for goal in GOALS} <= set(SLIPS)
    assert all(complaint_of(name) for name in OFFERED)
