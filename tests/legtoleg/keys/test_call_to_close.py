"""The marking of lesson 10: right is full for anybody, every slip is named, what is unsafe holds the lesson."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.access import arrangement_of, pullable
from dryerbench.bench.acts import HANDS
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue
from dryerbench.bench.states import named_state
from dryerbench.course.bench_card import CardError, faults_of, machine_of, open_bench
from dryerbench.diagnosis.call_dealing import ELECTRICIAN, names_of
from dryerbench.diagnosis.machine_hand_over import dead_readings_of, hands_of, heard_alike
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import read_fault as read_family_fault
from dryerbench.family.settings import read_setting
from dryerbench.registry import SLIPS, sheet
from dryerbench.topics.call_to_close.sheet import LESSON, OFFERED, RULE_PERCENT, heard_on
from legtoleg.demo.simulated_letters import letters_of
from legtoleg.keys.answer_key import quantities, references
from legtoleg.keys.call_goals import CAUSE_GOALS, HAND_OVER_GOALS, REPAIR_GOALS
from legtoleg.keys.call_to_close import quote_percent
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.bench_marking import OTHER_MACHINE
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


OUTLETS = ("outlet-1", "outlet-2"), ("outlet-1", "outlet-N"), ("outlet-2", "outlet-N")
SLOTS: Acts = [("gear_on", {}), ("prove_meter", {}), *(act for a, b in OUTLETS for act in probe(a, b, "low-impedance")),
               ("prove_meter", {}), ("gear_off", {})]  # fmt: skip


def other(card: Any) -> tuple[Arrangement, str]:
    """Return the arrangement of call 3, and what is wrong there."""
    return arrangement_of(machine_of(card, 3)), faults_of(card, 3)[0]


def read_dead(card: Any, names: list[str]) -> Acts:
    """Return the acts that read each of the faults ``names`` on the dead machine of call 3, and put it back."""
    made, _ = other(card)
    done: Acts = []
    off: set[str] = set()
    for one in (one for name in names for one in dead_readings_of(made, read_family_fault(name, made))):
        setting = read_setting(one.state)
        ends = {wire.name for point in (one.a, one.b) if point in made.points for wire in made.wires_at(point)}
        wanted = ends & set(pullable(machine_of(card, 3))) if setting.pulled else set()
        done += [("put_back_wire", {"wire": wire}) for wire in sorted(off - wanted)]
        done += [("pull_wire", {"wire": wire}) for wire in sorted(wanted - off)]
        off = wanted
        done += [("open_door", {})] * (not setting.door_closed)
        done += [("ask_heat", {"heat": setting.dial}), *probe(one.a, one.b)]
        done += [("close_door", {})] * (not setting.door_closed)
    return [*done, *(("put_back_wire", {"wire": wire}) for wire in sorted(off))]


def searched(card: Any, leave_out: int = 0) -> Acts:
    made, there = other(card)
    suspects = [name for name in heard_alike(made, there) if name not in hands_of(made)]
    return [*DEAD, *read_dead(card, suspects[leave_out:]), ("cover_on", {})]


def hand_over(card: Any) -> Acts:
    made, there = other(card)
    return [*searched(card), *SLOTS, ("stop_and_hand_over", {"to": hands_of(made)[there]})]


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
                  "control contact", "thermistor", "door switch", "run winding", "vent", "ground wire")  # fmt: skip
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


LIGHTS = ("service-neutral-lost",)


def test_a_call_that_is_not_yours_is_not_repaired_and_goes_to_the_right_hands() -> None:
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        made, name = other(card)
        done = hand_over(card)
        for to in set(HANDS) - {hands_of(made)[name]}:
            elsewhere = [*done[:-1], ("stop_and_hand_over", {"to": to})]
            outcome = worked(apprentice, "handed_over", elsewhere)
            if (name,) == LIGHTS:
                assert outcome.note == ("handed_to_the_wrong" if to == "qualified person" else "right")
            elif to != "qualified person":
                assert "handed_to_the_wrong" in outcome.note
            else:
                assert outcome.note == "right"
        assert "not_handed_over" in worked(apprentice, "handed_over", done[:-1]).note
        # with the service's neutral open the strap or the bond can put volts on the case: that is unsafe besides
        assert worked(apprentice, "handed_over", [*done, ("plug_in", {})]).note in ("left_in_use", "unsafe_act")
        fitted = [*done, ("cover_off", {}), ("replace_part", {"part": catalogue(name)["part"]})]
        outcome = worked(apprentice, "handed_over", fitted)
        assert outcome.points == 0
        assert outcome.safety == "held"


def test_dead_readings_alone_hand_it_to_a_qualified_person() -> None:
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        lights = faults_of(card, 3) == LIGHTS
        done = [*searched(card), ("stop_and_hand_over", {"to": "qualified person"})]
        assert worked(apprentice, "handed_over", done).note == ("handed_to_the_wrong" if lights else "right")
        nothing = [("unplug", {}), ("stop_and_hand_over", {"to": "qualified person"})]
        expected = "handed_to_the_wrong" if lights else "handed_over_unread"
        assert worked(apprentice, "handed_over", nothing).note == expected


def test_one_suspect_left_unread_is_not_enough() -> None:
    thin = 0
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        if faults_of(card, 3) != LIGHTS:
            done = [*searched(card, leave_out=1), ("stop_and_hand_over", {"to": "qualified person"})]
            thin += worked(apprentice, "handed_over", done).note == "handed_over_unread"
    assert thin > 4


def test_an_electrician_is_called_by_what_the_receptacle_shows() -> None:
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        made, name = other(card)
        if hands_of(made)[name] == ELECTRICIAN:
            done = [*searched(card), ("stop_and_hand_over", {"to": ELECTRICIAN})]
            assert worked(apprentice, "handed_over", done).note == "handed_over_unread"


def test_work_on_the_machine_of_an_earlier_kit_is_told_apart() -> None:
    """The lessons' own machine stood at call 3 before: the line says what counts and what is to be done."""
    done = [*READ, *BACK, ("cover_on", {}), *SLOTS, ("stop_and_hand_over", {"to": ELECTRICIAN})]
    for apprentice in IDS[:8]:
        outcome = worked(apprentice, "handed_over", done)
        assert (outcome.note, outcome.points, outcome.safety) == (OTHER_MACHINE, 0, "held")
        assert "The rest of this page counts" in outcome.message
        assert worked(apprentice, "handed_over", [*done, ("fly", {})]).note == "bad_trail"


def test_nothing_done_earns_nothing_and_a_call_handed_over_unread_little() -> None:
    """Whoever does nothing has replaced no sound part and left no wire off: that shows no skill."""
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        for name in ("call_repair", "cause_removed", "handed_over"):
            outcome = worked(apprentice, name, [("unplug", {})])
            assert (outcome.points, outcome.safety) == (0, "held"), name
        opened = worked(apprentice, "call_repair", DEAD)
        assert "part_not_read" not in opened.note
        if faults_of(card, 3) != LIGHTS:
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
