"""The marking of lesson 10: right is full for anybody, every slip is named, what is unsafe holds the lesson."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.access import arrangement_of, replaceable
from dryerbench.bench.acts import HANDS
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue, family_of, read_fault
from dryerbench.bench.machine import on_the_bench
from dryerbench.bench.states import named_state
from dryerbench.core.random_stream import Stream
from dryerbench.core.sealed import unsealed
from dryerbench.course.bench_card import CardError, faults_of, machine_of, open_bench
from dryerbench.diagnosis.call_dealing import ELECTRICIAN
from dryerbench.diagnosis.machine_complaints import suspects, told_on
from dryerbench.diagnosis.machine_dealing import STORIES, plain_faults, story_of, with_cause
from dryerbench.diagnosis.machine_hand_over import hands_of, heard_alike
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import Fault as FamilyFault
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.notebook.forms import LONGEST_TRAIL
from dryerbench.registry import SLIPS, sheet
from dryerbench.topics.call_to_close.sheet import LESSON, RULE_PERCENT, heard_on
from legtoleg.demo.simulated_letters import letters_of
from legtoleg.keys.answer_key import quantities, references
from legtoleg.keys.call_goals import CAUSE_GOALS, HAND_OVER_GOALS, REPAIR_GOALS
from legtoleg.keys.call_to_close import names_on, quote_percent
from legtoleg.keys.repair_goals import readings_of
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.bench_marking import OTHER_MACHINE
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome

from .call_paths import DEAD, SLOTS, Acts, bond, found_on, heater, parts, probe, proof, read

PAPER = sheet(LESSON)
IDS = [f"someone-{n}" for n in range(40)]
BY_NAME: dict[str, Any] = {reference.question: reference for reference in references(LESSON)}
CALL = ["ask", "unplug", "prove", "dead", "again", "open", "measure", "quote", "fit", "close", "power", "record"]
WORK = ((1, "call_repair"), (2, "cause_removed"))
FOUR_WIRE = [one for one in machine_names() if one != "schoolroom" and arrangement(one).cord == "four-wire"]

OLD_PAIRS = "T1 T0,T2 T0,T3 T0,T0 case,T1 case,T2 case,T3 case,H1 H2,H3 H4,H5 H6,H7 H8,S1 S2,L1 D,W1 W0"
OLD_OFF = (*sorted(named_state("all-wires-off").pulled), "wire W2")
OLD: Acts = [*DEAD, *(("pull_wire", {"wire": wire}) for wire in OLD_OFF), ("ask_heat", {"heat": "high"}),
             *(act for pair in OLD_PAIRS.split(",") for act in probe(*pair.split())),
             *(("put_back_wire", {"wire": wire}) for wire in OLD_OFF), ("cover_on", {})]  # fmt: skip
"""What was read on the lessons' own machine while it stood at every call."""


def heard(card: Any, call: int) -> str:
    return unsealed(card.job(call)).heard


def readings(card: Any, call: int = 1) -> Acts:
    return found_on(card, call, heard(card, call))[0]


def back(card: Any, call: int) -> Acts:
    return found_on(card, call, heard(card, call))[1]


def proved(card: Any, call: int) -> Acts:
    return proof(machine_of(card, call), back(card, call))


def repair(card: Any, call: int = 1) -> Acts:
    return [*readings(card, call), *parts(card, call), *proved(card, call)]


def other(card: Any) -> tuple[Arrangement, str]:
    """Return the arrangement of call 3, and what is wrong there."""
    return arrangement_of(machine_of(card, 3)), faults_of(card, 3)[0]


def searched(card: Any, leave_out: int = 0) -> Acts:
    made, there = other(card)
    names = [name for name in heard_alike(made, there) if name not in hands_of(made)]
    done, again = read(machine_of(card, 3), tuple(names[leave_out:]))
    return [*DEAD, *done, *again, ("cover_on", {})]


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
    assert marked(apprentice, "call_fault", fault(apprentice, right_name(apprentice), readings(card))).note == "right"
    assert worked(apprentice, "call_repair", repair(card)).note == "right"
    assert worked(apprentice, "cause_removed", repair(card, 2)).note == "right"
    assert worked(apprentice, "handed_over", hand_over(card)).note == "right"
    assert marked(apprentice, "call_order", letters("call_order", apprentice, CALL)).note == "right"


@pytest.mark.parametrize("last", [["stop"], ["stop", "unplug"], ["unplug"], ["stop", "open_breaker", "lock"]])
def test_it_is_proved_in_any_order_of_stopping_and_unplugging(last: list[str]) -> None:
    for apprentice in IDS[:6]:
        for call, name in WORK:
            done = [*repair(PAPER.card(apprentice), call), *((act, {}) for act in last)]
            assert worked(apprentice, name, done).note == "right"


@pytest.mark.parametrize("name", FOUR_WIRE)
def test_every_plain_fault_of_every_machine_is_found_repaired_and_proved_by_its_dead_readings(name: str) -> None:
    """What is taught leaves one name, costs no more minutes than count, and no safety officer stops it."""
    made = arrangement(name)
    machine = on_the_bench(drawn_machine(made, Stream(f"test/{name}"), "test"))
    for fault in (None, *plain_faults(made)):
        written = [f"{fault.name}@{fault.on}"] if fault else []
        bench = Bench(machine, written)
        key = told_on(made)[written[0]] if fault else "slow"
        done, again = read(machine, suspects(made, key))
        for act, given in [*DEAD, *bond(machine), *heater(machine), *done]:
            bench.do(act, **given)
        named = written[0] if fault else "sound"
        assert BY_NAME["call_fault"].left(bench, named) == [named]
        assert bench.minutes < 100
        fixed = [("replace_part", {"part": str(catalogue(one)["part"])}) for one in written]
        for act, given in [*fixed, *proof(machine, again)]:
            bench.do(act, **given)
        assert not [goal.slip for goal in REPAIR_GOALS if not goal.reached(bench)], named
        assert not [finding for finding in bench.findings if finding.gate], named


def test_the_parts_cannon_earns_nothing_and_is_told_what_it_cost() -> None:
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        for call, name in WORK:
            there = replaceable(machine_of(card, call))
            shots: Acts = [("replace_part", {"part": part}) for part, (_, by_others) in there.items() if not by_others]
            for before, again in (
                found_on(card, call, heard(card, call)),
                ([*DEAD, *heater(machine_of(card, call))], []),
            ):
                outcome = worked(apprentice, name, [*before, *shots, *proof(machine_of(card, call), again)])
                assert (outcome.points, outcome.safety) == (0, "held")
                assert "parts_cannon" in outcome.note
                assert "The customer would pay $" in outcome.message


def test_a_part_is_read_before_it_is_replaced() -> None:
    tried = 0
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        pairs = readings_of(machine_of(card))
        if faults_of(card) and not any({"case"} & pair for _, given in parts(card, 1) for pair in pairs[given["part"]]):
            blind = [*DEAD, *heater(machine_of(card)), *parts(card, 1), *proof(machine_of(card), [])]
            outcome = worked(apprentice, "call_repair", blind)
            assert (outcome.note, outcome.safety) == ("part_not_read", "held")
            tried += 1
    assert tried > 5


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
        for call, name in WORK:
            outcome = worked(apprentice, name, without(repair(PAPER.card(apprentice), call), *left_out))
            assert (outcome.note, outcome.safety) == (code, "held")
            assert 0 < outcome.points < outcome.max_points


def test_heater_and_bond_are_read_after_the_work() -> None:
    for apprentice in IDS[:6]:
        card = PAPER.card(apprentice)
        machine = machine_of(card, 2)
        heaters = [given for act, given in heater(machine) if act == "probe"]
        for left_out, code in ((heaters, "case_not_read_again"), ([{"a": "plug-G", "b": "case"}], "bond_not_read")):
            last = [act for act in proved(card, 2) if act[1] not in left_out]
            outcome = worked(apprentice, "cause_removed", [*readings(card, 2), *parts(card, 2), *last])
            assert (outcome.note, outcome.safety) == (code, "held")


def test_every_box_of_a_heater_is_read_and_any_terminal_of_one_is_enough() -> None:
    """Coils that hang together are one: one reading is of all of them; a second box has its own."""
    for name, several in (("hallway", False), ("mudroom", True)):
        machine = on_the_bench(drawn_machine(arrangement(name), Stream(f"test/{name}"), "test"))
        made = arrangement_of(machine)
        off = [("pull_wire", {"wire": wire.name}) for point in made.box_terminals for wire in made.wires_at(point)
               if wire.mark.tone != "bare"]  # fmt: skip
        for point in made.box_terminals:
            bench = Bench(machine)
            for act, given in [*DEAD, *{str(one): one for one in off}.values(), *probe(point, "case")]:
                bench.do(act, **given)
            goal = next(goal for goal in REPAIR_GOALS if goal.slip == "case_not_read_again")
            assert goal.reached(bench) is not several


def test_the_vent_may_be_swept_last_of_all_with_the_machine_closed_up() -> None:
    """Nobody touches heater or bond at the vent: what was read there still holds, and the cover is on."""
    swept = 0
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        fixes = parts(card, 2)
        vent = [fix for fix in fixes if fix[1]["part"] == "vent"]
        if vent and swept < 4:
            last = proved(card, 2)
            closed = last.index(("cover_on", {})) + 1
            rest = [fix for fix in fixes if fix not in vent]
            done = [*readings(card, 2), *rest, *last[:closed], *vent, *last[closed:]]
            assert worked(apprentice, "cause_removed", done).note == "right"
            swept += 1
    assert swept == 4


def family_faults(card: Any) -> list[FamilyFault]:
    machine = machine_of(card, 2)
    return list(family_of(machine, [read_fault(one, machine) for one in faults_of(card, 2)]))


def test_every_story_of_a_cause_can_be_closed_with_honest_readings_and_none_without_its_cause() -> None:
    """One apprentice for each story: found, put right and proved by what the page teaches, within three hours."""
    met: dict[str, str] = {}
    for number in range(60):
        apprentice = f"story-{number}"
        names = [one.partition("@")[0].partition("=")[0] for one in faults_of(PAPER.card(apprentice), 2)]
        met.setdefault(story_of(names), apprentice)
    assert set(met) == set(STORIES)
    for story, apprentice in met.items():
        card = PAPER.card(apprentice)
        outcome = worked(apprentice, "cause_removed", repair(card, 2))
        assert outcome.note == "right", story
        assert outcome.work is not None
        assert outcome.work.minutes < 300, story
        assert len(repair(card, 2)) < LONGEST_TRAIL, story
        fixes = parts(card, 2)
        assert len(fixes) > 1
        for left in fixes:
            rest = [fix for fix in fixes if fix != left]
            done = [*readings(card, 2), *rest, *proved(card, 2)]
            assert "faulty_part_still_in" in worked(apprentice, "cause_removed", done).note, (story, left)


def test_a_trip_may_be_reset_in_place_of_a_new_part_once_its_cause_is_gone() -> None:
    tried = 0
    for number in range(60):
        apprentice = f"reset-{number}"
        card = PAPER.card(apprentice)
        if tried == 3 or not faults_of(card, 2)[0].startswith("manual-tripped"):
            continue
        (first, *rest), tried = parts(card, 2), tried + 1
        reset: Acts = [("reset", {"part": first[1]["part"]})]
        done = [*readings(card, 2), *rest, *reset, *proved(card, 2)]
        assert worked(apprentice, "cause_removed", done).note == "right"
        hasty = [*DEAD, *reset, *readings(card, 2)[len(DEAD) :], *rest, *proved(card, 2)]
        assert "cause_not_looked_for" in worked(apprentice, "cause_removed", hasty).note
    assert tried


def test_a_cause_left_in_or_not_looked_for_is_named() -> None:
    for apprentice in IDS[:12]:
        card = PAPER.card(apprentice)
        fixes = parts(card, 2)
        outcome = worked(apprentice, "cause_removed", [*readings(card, 2), fixes[0], *proved(card, 2)])
        assert "faulty_part_still_in" in outcome.note
        cold = without(readings(card, 2), "warm_parts", "cool_down")
        done = [*cold, *fixes, *proved(card, 2)]
        made = arrangement_of(machine_of(card, 2))
        wrong = {one.on for one in family_faults(card) if one.kind.does == "opens"}
        hot = {part.name for part in made.of_kind("cycling thermostat", "high limit")} - wrong
        assert ("cause_not_looked_for" in worked(apprentice, "cause_removed", done).note) is bool(hot)
        unseen = without(readings(card, 2), "look_vent")
        done = [*unseen, *fixes, *proved(card, 2)]
        assert "cause_not_looked_for" in worked(apprentice, "cause_removed", done).note


def test_no_machine_blows_a_switch_while_its_thermostat_and_limit_are_held_hot() -> None:
    for name in with_cause():
        machine = on_the_bench(drawn_machine(arrangement(name), Stream(f"test/{name}"), "test"))
        bench = Bench(machine)
        for act, given in [*DEAD, *read(machine, (), hot=True)[0]]:
            assert "blows" not in "".join(bench.do(act, **given)["happened"]), name


def test_one_reading_of_the_bad_part_is_thin() -> None:
    thin = 0
    for apprentice in IDS:
        card = PAPER.card(apprentice)
        if len(faults_of(card)) != 1 or heard_on(card) not in ("no-heat", "slow", "dead"):
            continue
        (name,) = names_on(card, 1)
        done, _ = read(machine_of(card), (name,))
        outcome = marked(apprentice, "call_fault", fault(apprentice, name, [*DEAD, *done]))
        assert (outcome.note, outcome.points, outcome.safety) == ("thin_evidence", 3, "clear")
        thin += 1
    assert thin > 5


def test_every_wrong_name_is_named_and_holds() -> None:
    for apprentice in IDS[:8]:
        card = PAPER.card(apprentice)
        right, slips = BY_NAME["call_fault"].right(card), BY_NAME["call_fault"].slips_on(card)
        for key in {option.key for option in PAPER.question("call_fault").options_for(card)} - right:
            outcome = marked(apprentice, "call_fault", fault(apprentice, key, DEAD))
            assert outcome.note == slips[key]
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


def test_what_was_done_on_the_machines_of_an_earlier_kit_is_told_apart_question_by_question() -> None:
    """The lessons' own machine stood at each call before: the line says what counts and what is to be done."""
    for apprentice in IDS[:8]:
        card = PAPER.card(apprentice)
        own = acts([*OLD, *SLOTS, ("stop_and_hand_over", {"to": ELECTRICIAN})])
        found = {
            "suspects": letters("suspects", apprentice, [PAPER.question("suspects").options_for(card)[0].key]),
            "call_fault": fault(apprentice, right_name(apprentice), OLD),
            "amps_after": Found("quantity", 26.7, "A", 3),
            **{name: Found("work", acts=own) for name in ("call_repair", "cause_removed", "handed_over")},
            "call_minutes": Found("quantity", 120.0, "min", 3),
            "advice": letters("advice", apprentice, ["repair"]),
            "call_order": letters("call_order", apprentice, CALL),
        }
        outcomes = mark_lesson(LESSON, apprentice, found)
        for name in (*found, "quote_share"):
            told = (outcomes[name].note, outcomes[name].points)
            expected = {"call_order": ("right", 3), "quote_share": ("no_record", 0)}.get(name, (OTHER_MACHINE, 0))
            assert told == expected, name
        assert "The rest of this page counts" in outcomes["call_repair"].message
        assert "by its card" in outcomes["amps_after"].message
        assert worked(apprentice, "handed_over", [*OLD, ("fly", {})]).note == "bad_trail"


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
