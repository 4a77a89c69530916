"""The marking of lesson 10: right is full for anybody, every slip is named, what is unsafe holds the lesson."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue, read_fault
from dryerbench.bench.states import named_state
from dryerbench.course.bench_card import CardError, faults_of, open_bench
from dryerbench.diagnosis.call_dealing import HANDED_OVER, names_of
from dryerbench.registry import SLIPS, sheet
from dryerbench.topics.call_to_close.sheet import LESSON, OFFERED, RULE_PERCENT, heard_on
from legtoleg.demo.simulated_letters import letters_of
from legtoleg.keys.answer_key import quantities, references
from legtoleg.keys.call_goals import CAUSE_GOALS, HAND_OVER_GOALS, REPAIR_GOALS
from legtoleg.keys.call_to_close import quote_percent
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome

PAPER = sheet(LESSON)
IDS = [f"someone-{n}" for n in range(40)]
BY_NAME: dict[str, Any] = {reference.question: reference for reference in references(LESSON)}
CALL = ["ask", "unplug", "prove", "dead", "again", "open", "measure", "quote", "fit", "close", "power", "record"]
Acts = list[tuple[str, dict[str, Any]]]

DEAD: Acts = [("unplug", {}), ("prove_meter", {}), ("test_dead", {}), ("prove_meter", {}), ("look_vent", {}),
              ("cover_off", {}), ("test_dead", {"where": "block"}), ("prove_meter", {})]  # fmt: skip
PAIRS = "T1 T0,T2 T0,T3 T0,T0 case,T1 case,T2 case,T3 case,H1 H2,H3 H4,H5 H6,H7 H8,S1 S2,L1 D,W1 W0"
OFF = (*sorted(named_state("all-wires-off").pulled), "wire W2")
PULL: Acts = [("pull_wire", {"wire": wire}) for wire in OFF]
BACK: Acts = [("put_back_wire", {"wire": wire}) for wire in OFF]
HEAT: Acts = [("ask_heat", {"heat": "high"})]


def probe(a: str, b: str, mode: str = "ohms") -> Acts:
    return [("set_dial", {"mode": mode, "full_scale": None}), ("probe", {"a": a, "b": b})]


def probes(pairs: str) -> Acts:
    return [act for pair in pairs.split(",") for act in probe(*pair.split())]


READ: Acts = [*DEAD, *PULL, *HEAT, *probes("plug-G case," + PAIRS)]
HOT: Acts = [("warm_parts", {"celsius": 76}), *probe("H3", "H4"), ("warm_parts", {"celsius": 140}), *probe("H7", "H8"),
             ("cool_down", {})]  # fmt: skip
PROOF: Acts = [*probes("T0 case,plug-G case"), *BACK, ("cover_on", {}), ("plug_in", {}), *HEAT, ("press_start", {}),
               ("let_run", {}), ("temperature", {"spot": "exhaust"})]  # fmt: skip


def parts(card: Any, call: int) -> Acts:
    names = names_of(faults_of(card, call))
    return [("replace_part", {"part": catalogue(name)["part"]}) for name in names]


def repair(card: Any, call: int = 1) -> Acts:
    return [*READ, *(HOT if call == 2 else []), *parts(card, call), *PROOF]


def hand_over(card: Any) -> Acts:
    slots = [("gear_on", {}), ("prove_meter", {}), *(act for pair in ("1 2", "1 N", "2 N") for act in probe(
        f"outlet-{pair.split()[0]}", f"outlet-{pair.split()[1]}", "low-impedance"))]  # fmt: skip
    to = HANDED_OVER[read_fault(faults_of(card, 3)[0]).name]
    return [*READ, *BACK, ("cover_on", {}), *slots, ("prove_meter", {}), ("gear_off", {}),
            ("stop_and_hand_over", {"to": to})]  # fmt: skip


def acts(done: Acts) -> tuple[dict[str, Any], ...]:
    return tuple({"act": act, "with": given} for act, given in done)


def letters(name: str, apprentice: str, keys: list[str]) -> Found:
    typed = letters_of(PAPER.question(name), PAPER.card(apprentice), keys).replace(" ", "")  # type: ignore[arg-type]
    return Found("letters", typed=typed, letters=typed)


def fault(apprentice: str, key: str, done: Acts) -> Found:
    typed = letters("call_fault", apprentice, [key]).letters
    return Found("fault", typed=typed, letters=typed, acts=acts(done))


def marked(apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(LESSON, apprentice, {name: found})[name]


def worked(apprentice: str, name: str, done: Acts) -> Outcome:
    return marked(apprentice, name, Found("work", acts=acts(done)))


def right_name(apprentice: str) -> str:
    return min(BY_NAME["call_fault"].right(PAPER.card(apprentice)))


def without(done: Acts, *left_out: str) -> Acts:
    return [act for act in done if act[0] not in left_out and str(act[1]) not in left_out]


@pytest.mark.parametrize("apprentice", IDS[:12])
def test_solved_is_full(apprentice: str) -> None:
    card = PAPER.card(apprentice)
    assert marked(apprentice, "call_fault", fault(apprentice, right_name(apprentice), READ)).note == "right"
    assert worked(apprentice, "call_repair", repair(card)).note == "right"
    assert worked(apprentice, "cause_removed", repair(card, 2)).note == "right"
    assert worked(apprentice, "handed_over", hand_over(card)).note == "right"
    assert marked(apprentice, "call_order", letters("call_order", apprentice, CALL)).note == "right"


@pytest.mark.parametrize("last", [["stop"], ["stop", "unplug"], ["unplug"], ["stop", "open_breaker", "lock"]])
def test_it_is_proved_in_any_order_of_stopping_and_unplugging(last: list[str]) -> None:
    for apprentice in IDS[:6]:
        for call, name in ((1, "call_repair"), (2, "cause_removed")):
            done = [*repair(PAPER.card(apprentice), call), *((act, {}) for act in last)]
            assert worked(apprentice, name, done).note == "right"


def test_the_parts_cannon_earns_nothing_and_is_told_what_it_cost() -> None:
    everything = ("element 1", "element 2", "element 3", "high limit", "thermal cut-off", "cycling thermostat",
                  "control contact", "thermistor", "door switch", "run winding", "vent", "bond wire")  # fmt: skip
    for apprentice in IDS[:12]:
        for call, name in ((1, "call_repair"), (2, "cause_removed")):
            shots: Acts = [("replace_part", {"part": part}) for part in everything]
            for read in (READ, [*DEAD, *PULL, *HEAT]):
                outcome = worked(apprentice, name, [*read, *(HOT if call == 2 else []), *shots, *PROOF])
                assert outcome.points == 0
                assert outcome.safety == "held"
                assert "parts_cannon" in outcome.note
                assert "The customer would pay $" in outcome.message


def test_a_part_is_read_before_it_is_replaced() -> None:
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        if faults_of(card):
            blind = [*DEAD, *PULL, *HEAT, *parts(card, 1), *PROOF]
            outcome = worked(apprentice, "call_repair", blind)
            assert (outcome.note, outcome.safety) == ("part_not_read", "held")


@pytest.mark.parametrize(
    ("left_out", "code"),
    [
        (("temperature",), "not_run_with_heat"),
        (("let_run",), "not_run_with_heat"),
        (("{'where': 'block'}",), "dead_not_tested_inside"),
    ],
)
def test_work_done_in_part_is_named_and_held(left_out: tuple[str, ...], code: str) -> None:
    for apprentice in IDS[:6]:
        for call, name in ((1, "call_repair"), (2, "cause_removed")):
            outcome = worked(apprentice, name, without(repair(PAPER.card(apprentice), call), *left_out))
            assert (outcome.note, outcome.safety) == (code, "held")
            assert 0 < outcome.points < outcome.max_points


def test_heater_and_bond_are_read_after_the_work() -> None:
    for apprentice in IDS[:6]:
        card = PAPER.card(apprentice)
        for pair, code in (("T0 case", "case_not_read_again"), ("plug-G case", "bond_not_read")):
            proof = [act for act in PROOF if act[1] != dict(zip("ab", pair.split(), strict=True))]
            outcome = worked(apprentice, "cause_removed", [*READ, *HOT, *parts(card, 2), *proof])
            inside = any(given["part"] != "vent" for _, given in parts(card, 2))
            assert (outcome.note, outcome.safety) == ((code, "held") if inside else ("right", "clear"))


def test_the_vent_may_be_swept_last_of_all_with_the_machine_closed_up() -> None:
    """Nobody touches heater or bond at the vent: what was read there still holds, and the cover is on."""
    swept = 0
    for apprentice in IDS:
        fixes = parts(PAPER.card(apprentice), 2)
        vent = [fix for fix in fixes if fix[1]["part"] == "vent"]
        if vent and len(fixes) > 1 and swept < 4:
            rest = [fix for fix in fixes if fix not in vent]
            closed = PROOF.index(("cover_on", {})) + 1
            done = [*READ, *HOT, *rest, *PROOF[:closed], *vent, *PROOF[closed:]]
            assert worked(apprentice, "cause_removed", done).note == "right"
            swept += 1
    assert swept == 4


def test_a_cause_left_in_or_not_looked_for_is_named() -> None:
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        fixes = parts(card, 2)
        if len(fixes) > 1:
            outcome = worked(apprentice, "cause_removed", [*READ, *HOT, fixes[0], *PROOF])
            grounded = any("grounded" in name for name in names_of(faults_of(card, 2)))  # powered so, it is unsafe too
            assert ("unsafe_act" if grounded else "faulty_part_still_in") in outcome.note
        cold = [*READ, *fixes, *PROOF]
        assert "cause_not_looked_for" in worked(apprentice, "cause_removed", cold).note


def test_one_reading_of_the_bad_part_is_thin() -> None:
    thin = 0
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        if len(faults_of(card)) != 1 or heard_on(card) not in ("no-heat", "slow", "dead"):
            continue
        pairs = {f"element-{n}-open": f"T{n} T0" for n in (1, 2, 3)} | {
            "cycling-open": "H3 H4",
            "high-limit-open": "H7 H8",
            "control-open": "H1 H2",
            "door-switch-open": "L1 D",
        }
        done = [*DEAD, *PULL, *HEAT, *probe(*pairs[faults_of(card)[0]].split())]
        outcome = marked(apprentice, "call_fault", fault(apprentice, faults_of(card)[0], done))
        assert (outcome.note, outcome.points, outcome.safety) == ("thin_evidence", 3, "clear")
        thin += 1
    assert thin > 5


def test_every_wrong_name_is_named_and_holds() -> None:
    for apprentice in IDS[:8]:
        right = BY_NAME["call_fault"].right(PAPER.card(apprentice))
        for key in set(OFFERED) - right:
            outcome = marked(apprentice, "call_fault", fault(apprentice, key, DEAD))
            assert outcome.note == BY_NAME["call_fault"].slips[key]
            assert (outcome.points, outcome.safety) == (0, "held")


def test_a_call_that_is_not_yours_is_not_repaired_and_goes_to_the_right_hands() -> None:
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        name = read_fault(faults_of(card, 3)[0]).name
        done = hand_over(card)
        for to in set(HANDED_OVER.values()) - {HANDED_OVER[name]}:
            other = [*done[:-1], ("stop_and_hand_over", {"to": to})]
            outcome = worked(apprentice, "handed_over", other)
            if name == "open-service-neutral":
                assert outcome.note == ("handed_to_the_wrong" if to == "qualified person" else "right")
            elif to != "qualified person":
                assert "handed_to_the_wrong" in outcome.note
        assert "not_handed_over" in worked(apprentice, "handed_over", done[:-1]).note
        plugged = [*done, ("plug_in", {})]
        # with the service's neutral open the strap or the bond can put volts on the case: that is unsafe besides
        assert worked(apprentice, "handed_over", plugged).note in ("left_in_use", "unsafe_act")
        fitted = [*done, ("replace_part", {"part": catalogue(name)["part"]})]
        outcome = worked(apprentice, "handed_over", fitted)
        assert outcome.points == 0
        assert outcome.safety == "held"


def test_dead_readings_alone_hand_it_to_a_qualified_person() -> None:
    done = [*READ, *BACK, ("cover_on", {}), ("stop_and_hand_over", {"to": "qualified person"})]
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        lights = faults_of(card, 3) == ("open-service-neutral",)
        assert worked(apprentice, "handed_over", done).note == ("handed_to_the_wrong" if lights else "right")
        nothing = [("unplug", {}), ("stop_and_hand_over", {"to": "qualified person"})]
        expected = "handed_to_the_wrong" if lights else "handed_over_unread"
        assert worked(apprentice, "handed_over", nothing).note == expected


def test_nothing_done_earns_nothing_and_a_call_handed_over_unread_little() -> None:
    """Whoever does nothing has replaced no sound part and left no wire off: that shows no skill."""
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        for name in ("call_repair", "cause_removed", "handed_over"):
            outcome = worked(apprentice, name, [("unplug", {})])
            assert (outcome.points, outcome.safety) == (0, "held"), name
        opened = worked(apprentice, "call_repair", DEAD)
        assert "part_not_read" not in opened.note
        if faults_of(card, 3) != ("open-service-neutral",):
            nothing = [("unplug", {}), ("stop_and_hand_over", {"to": "qualified person"})]
            assert worked(apprentice, "handed_over", nothing).points == 2


def test_an_unsafe_way_holds() -> None:
    for apprentice in IDS[:4]:
        done = without(repair(PAPER.card(apprentice)), "prove_meter")
        outcome = worked(apprentice, "call_repair", done)
        assert (outcome.note, outcome.points, outcome.safety) == ("unsafe_act", 0, "held")


def test_an_own_time_carries_over_to_the_quote() -> None:
    card = PAPER.card("demo-01")
    task = {one.question: one for one in quantities(LESSON)}["quote_share"]
    own = task.task.value(task.numbers(card, {"call_minutes": 60.0}))
    found = {"call_minutes": Found("quantity", 60.0, "min", 3), "quote_share": Found("quantity", own, "%", 3)}
    assert mark_lesson(LESSON, "demo-01", found)["quote_share"].note == "follow_through"


def test_the_rule_of_the_shop_decides() -> None:
    advised = {quote_percent(PAPER.card(one)) <= RULE_PERCENT: BY_NAME["advice"].right(PAPER.card(one)) for one in IDS}
    assert advised == {True: frozenset({"repair"}), False: frozenset({"replace"})}


def test_other_safe_orders_are_full() -> None:
    for order in (
        ["prove", "unplug", "dead", "again", "open", "ask", *CALL[6:]],
        ["unplug", "ask", "prove", "dead", "again", "open", *CALL[6:]],
    ):
        assert marked("demo-01", "call_order", letters("call_order", "demo-01", order)).note == "right"


def test_the_card_has_three_calls_and_every_goal_has_words() -> None:
    assert {goal.slip for goal in (*REPAIR_GOALS, *CAUSE_GOALS, *HAND_OVER_GOALS)} <= set(SLIPS)
    card = PAPER.card("demo-01")
    assert isinstance(open_bench(card, 3), Bench)
    with pytest.raises(CardError, match="open_bench"):
        open_bench(card, 4)
    with pytest.raises(CardError, match="one job"):
        open_bench(sheet("01_made_dead").card("demo-01"), 2)
