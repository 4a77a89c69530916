"""Bots that know no trade earn no more than chance: each answers from how a kit is written, never from what it means.

The bound: if the place of the right option in a bot's liking were drawn at random, what a bot earns over all lettered
questions would scatter about chance with a variance of at most the sum of w²·p·(1 - p), w a question's points and p its
chance, even where a question is the same for everybody (each question then counts as one draw, not as 200). A bot may
lie three such deviations above chance (1 in 700 for each bot that is honest luck). A bot that reads what is dealt
to each apprentice has no such excuse: it is held to four standard errors over 200 ids, question by question.
``python tests/hostile/test_bots.py`` prints the table of all lessons.
"""

from __future__ import annotations

import math
import re
import sys
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations
from statistics import mean
from typing import Any

import pytest

from dryerbench.bench.access import behind
from dryerbench.bench.acts import ACTS, BenchError
from dryerbench.bench.wiring import pullable
from dryerbench.bench.worksite import machine_on, situation_on
from dryerbench.core.random_stream import Stream
from dryerbench.course.bench_card import BenchCard, faults_of, machine_of, open_bench
from dryerbench.course.questions import AnyQuestion, BenchQuestion, FaultQuestion, Lettered, Option
from dryerbench.notebook.forms import LONGEST_TRAIL
from dryerbench.registry import SHEETS
from legtoleg.demo.simulated_letters import letters_of
from legtoleg.keys.answer_key import references
from legtoleg.keys.reference import AnyReference, FaultReference, WorkReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.bench_marking import judge_fault, judge_work
from legtoleg.marking.letters_marking import judge_choice, judge_choices, judge_order

Ranking = Callable[[Lettered, Any, Sequence[Option]], list[Option]]
"""Ranks the options as dealt, the one that the bot likes best first."""


def written(question: Lettered, card: Any) -> list[Option]:
    """Return the options in the order in which the sheet itself has them."""
    return list(question.options(card) if callable(question.options) else question.options)


def _words(text: str) -> list[str]:
    return re.findall(r"[a-z]+", text.lower())


_KNOWN = Counter(
    word
    for paper in SHEETS.values()
    for question in paper.questions
    if isinstance(question, Lettered)
    for option in question.options_for(paper.card("practice"))
    for word in set(_words(option.text))
)


def seen_on(thing: Any, depth: int = 3) -> str:
    """Return everything that public attributes of ``thing`` show, as one text."""
    if depth == 0 or isinstance(thing, str | int | float | bool | None):
        return f" {thing!r} "
    if isinstance(thing, list | tuple | set | frozenset):
        return " ".join(seen_on(one, depth - 1) for one in thing)
    if isinstance(thing, dict):
        return " ".join(f" {key!r} {seen_on(one, depth - 1)}" for key, one in thing.items())
    names = [name for name in dir(thing) if not name.startswith("_")]
    found = [getattr(thing, name, "") for name in names if name != "lines"]
    return " ".join([repr(thing), *(seen_on(one, depth - 1) for one in found if not callable(one))])


def _stands(key: str, text: str) -> bool:
    return re.search(rf"['\" ]{re.escape(key)}['\"=: ]", text) is not None


@cache
def _on_all_cards(lesson: str) -> tuple[str, ...]:
    return tuple(seen_on(SHEETS[lesson].card(f"stranger-{number}")) for number in range(20))


def _attributes(_: Lettered, card: Any, dealt: Sequence[Option]) -> list[Option]:
    """Choose what the card's attributes name: the option whose key stands in one of them, and not on every card.

    A word that stands on everybody's card ("on", the shop's rule of repair) says nothing of this machine.
    """
    text = seen_on(card)
    shown = [option for option in dealt if _stands(option.key, text)]
    shown = [one for one in shown if not all(_stands(one.key, other) for other in _on_all_cards(card.lesson))]
    return [*shown, *(option for option in dealt if option not in shown)]


RANKINGS: dict[str, Ranking] = {
    "first dealt": lambda question, card, dealt: list(dealt),
    "last dealt": lambda question, card, dealt: list(dealt)[::-1],
    "source order": lambda question, card, dealt: written(question, card),
    "source order, turned": lambda question, card, dealt: written(question, card)[::-1],
    "longest": lambda question, card, dealt: sorted(dealt, key=lambda option: -len(option.text)),
    "shortest": lambda question, card, dealt: sorted(dealt, key=lambda option: len(option.text)),
    "alphabetical": lambda question, card, dealt: sorted(dealt, key=lambda option: option.text),
    "key, alphabetical": lambda question, card, dealt: sorted(dealt, key=lambda option: option.key),
    "most frequent words": lambda question, card, dealt: sorted(
        dealt, key=lambda option: -sum(_KNOWN[word] for word in _words(option.text)) / (len(_words(option.text)) or 1)
    ),
    "attributes of the card": _attributes,
}
"""The bots that answer with letters, by name."""


def letters_by(question: Lettered, card: Any, ranking: Ranking) -> str:
    """Return the letters that a bot types: one, the first half of its liking for several, all for an order."""
    lettered = question.lettered(card)
    by_key = {option.key: letter for letter, option in lettered.items()}
    liked = ranking(question, card, list(lettered.values()))
    count = {"choice": 1, "fault": 1, "choices": (len(liked) + 1) // 2, "order": len(liked)}[question.kind]
    return "".join(by_key[option.key] for option in liked[:count])


def lettered_questions(lesson: str) -> list[tuple[Lettered, AnyReference]]:
    """Return the questions of ``lesson`` that letters answer; a fault's letter stands for the whole question."""
    paper = SHEETS[lesson]
    pairs: list[tuple[AnyQuestion, AnyReference]] = [(paper.question(one.question), one) for one in references(lesson)]
    return [(question, one) for question, one in pairs if isinstance(question, Lettered)]


IDS = [f"anyone-{n}" for n in range(200)]
OF_THE_KIT = (
    "first dealt",
    "last dealt",
    "source order",
    "source order, turned",
    "key, alphabetical",
    "attributes of the card",
)
"""Bots that read the kit, not the wording."""


def share(question: Lettered, reference: AnyReference, card: Any, letters: str) -> float:
    """Return the share of the points that ``letters`` earn; of a fault, as if the readings were all there."""
    found = Found("letters", letters=letters)
    if isinstance(question, FaultQuestion):
        assert isinstance(reference, FaultReference)
        return float(question.lettered(card)[letters].key in reference.right(card))
    judge: Any = {"choice": judge_choice, "choices": judge_choices, "order": judge_order}[question.kind]
    return float(judge(question, reference, found, card).points) / question.points


@dataclass
class Tally:
    """One question over all ids: its points, its chance, and the mean share that each bot earns."""

    lesson: str
    question: str
    points: int
    chance: float
    bots: dict[str, float]


def _any(luck: Stream) -> Ranking:
    return lambda _, __, dealt: luck.shuffle(dealt)


def _mean_share(question: Lettered, reference: AnyReference, cards: list[Any], ranking: Ranking) -> float:
    return mean(share(question, reference, card, letters_by(question, card, ranking)) for card in cards)


@cache
def tallies() -> tuple[Tally, ...]:
    """Return the tally of every lettered question; chance by dealing each id's likings at random, 5 times each."""
    found = []
    for lesson, paper in SHEETS.items():
        cards = [paper.card(one) for one in IDS]
        for question, reference in lettered_questions(lesson):
            bots = {name: _mean_share(question, reference, cards, ranking) for name, ranking in RANKINGS.items()}
            luck = Stream(f"bots/{lesson}/{question.name}")
            chance = mean(_mean_share(question, reference, cards, _any(luck)) for _ in range(5))
            found.append(Tally(lesson, question.name, question.points, chance, bots))
    return tuple(found)


def bound(these: Iterable[Tally]) -> float:
    """Return the points that honest luck may earn: chance and three deviations, each question one draw."""
    rows = list(these)
    variance = sum(row.points**2 * row.chance * (1 - row.chance) for row in rows)
    return sum(row.points * row.chance for row in rows) + 3 * math.sqrt(variance)


@pytest.mark.parametrize("bot", RANKINGS)
def test_no_bot_earns_more_than_luck_over_all_letters(bot: str) -> None:
    assert sum(row.points * row.bots[bot] for row in tallies()) <= bound(tallies())


@pytest.mark.parametrize("bot", ["first dealt", "last dealt", "attributes of the card"])
def test_what_is_dealt_to_each_says_nothing_question_by_question(bot: str) -> None:
    for row in tallies():
        error = math.sqrt(max(row.chance * (1 - row.chance), 0.01) / len(IDS))
        assert row.bots[bot] <= row.chance + 4 * error, (row.question, row.bots[bot], row.chance)


def test_no_wording_gives_an_answer_away() -> None:
    """A choice is given away if one bot that reads wording alone is right for at least nine in ten apprentices."""
    wording = [name for name in RANKINGS if name not in OF_THE_KIT and name != "alphabetical"]
    assert not {row.question for row in tallies() if max(row.bots[name] for name in wording) >= 0.9}


def test_the_bot_of_attributes_finds_what_a_card_names() -> None:
    """The bot is no straw man: an attribute that holds the right key earns it every point."""
    for one in IDS[:20]:
        for lesson, name in (("06_heat_switches", "in_the_cup"), ("10_call_to_close", "call_fault")):
            question, reference = next(pair for pair in lettered_questions(lesson) if pair[0].name == name)
            card = SHEETS[lesson].card(one)
            right = min(reference.right(card))  # type: ignore[union-attr]
            telling = replace(card)
            object.__setattr__(telling, "told", right)
            letters = letters_by(question, telling, _attributes)
            assert question.lettered(card)[letters].key == right


def test_a_sheet_keeps_its_options_by_key() -> None:
    for lesson, paper in SHEETS.items():
        for question, _ in lettered_questions(lesson):
            for one in IDS:
                keys = [option.key for option in written(question, paper.card(one))]
                assert keys == sorted(keys), question.name


def test_nothing_public_on_card_or_bench_holds_what_is_dealt() -> None:
    for paper in SHEETS.values():
        for one in IDS[:40]:
            card = paper.card(one)
            if not isinstance(card, BenchCard):
                continue
            bench = open_bench(card)
            text = " ".join([seen_on(card), seen_on(bench, 2), repr(vars(card)), repr(vars(bench)), repr(dir(card))])
            for fault in faults_of(card):
                assert fault not in text.replace(getattr(card, "planned_open", "-"), ""), (paper.lesson, one, fault)
                assert not {"faults", "machine", "situation"} & {*dir(card), *dir(bench)}
            calls = (1, 2, 3) if card.lesson == "10_call_to_close" else (1,)
            for call in calls:
                assert repr(machine_of(card, call).element_ohms) not in text
                assert not any(fault in text.replace(getattr(card, "planned_open", "-"), "")
                               for fault in faults_of(card, call)), (paper.lesson, one, call)  # fmt: skip


# --- the bench ------------------------------------------------------------------------------------------------------


def done(card: Any, acts: Iterable[tuple[str, dict[str, Any]]]) -> tuple[dict[str, Any], ...]:
    """Return the trail of those ``acts`` that can be done, one after another, on the machine of ``card``."""
    bench = open_bench(card)
    for act, given in acts:
        with suppress(BenchError):
            bench.do(act, **given)
        if len(bench.trail) >= LONGEST_TRAIL:
            break
    return tuple({"act": one["act"], "with": dict(one["with"])} for one in bench.trail)


def every_act(_: Any) -> list[tuple[str, dict[str, Any]]]:
    return [(act, {}) for act in ACTS]


SAFE = [(act, {}) for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off")]


def every_pair(card: Any) -> list[tuple[str, dict[str, Any]]]:
    """Open safely, pull every wire, and read every pair inside the machine in ohms."""
    bench = open_bench(card)
    there = [one for one in behind(machine_on(bench)) if one in situation_on(bench).circuit.nodes]
    inside = [one for one in there if not one.startswith(("outlet", "panel", "earth"))]
    pulls = [("pull_wire", {"wire": wire}) for wire in pullable()]
    return [*SAFE, ("ask_heat", {"heat": "high"}), *pulls, ("set_dial", {"mode": "ohms"}),
            *(("probe", {"a": a, "b": b}) for a, b in combinations(inside, 2))]  # fmt: skip


BENCH_BOTS: dict[str, Callable[[Any], list[tuple[str, dict[str, Any]]]]] = {
    "nothing": lambda _: [],
    "every act in the menu's order": every_act,
    "safe start only": lambda _: SAFE,
    "every pair of points": every_pair,
}


@pytest.mark.parametrize("bot", BENCH_BOTS)
def test_a_bot_on_the_bench_earns_no_evidence(bot: str) -> None:
    for lesson, paper in SHEETS.items():
        for reference in references(lesson):
            for one in IDS[:3]:
                question, card = paper.question(reference.question), paper.card(one)
                if isinstance(question, FaultQuestion) and isinstance(reference, FaultReference):
                    letters = letters_of(question, card, [min(reference.right(card))])
                    found = Found("fault", letters=letters, acts=done(card, BENCH_BOTS[bot](card)))
                    assert judge_fault(question, reference, found, card).points <= question.points / 2, question.name
                elif isinstance(question, BenchQuestion) and isinstance(reference, WorkReference):
                    judged = judge_work(
                        question, reference, Found("work", acts=done(card, BENCH_BOTS[bot](card))), card
                    )
                    assert not judged.safe, question.name
                    assert judged.points < question.points / 2, (question.name, judged.points)
                    assert judged.points == 0 or bot != "nothing", question.name


def table() -> str:
    """Return the table of what each bot earns of the lettered points, lesson by lesson."""
    names = list(RANKINGS)
    lines = ["lesson | points | chance | " + " | ".join(names)]
    for lesson in [*SHEETS, ""]:
        rows = [row for row in tallies() if lesson in ("", row.lesson)]
        if rows:
            earned = [sum(row.points * row.bots[name] for row in rows) for name in names]
            chance = sum(row.points * row.chance for row in rows)
            cells = [lesson or "all", str(sum(row.points for row in rows)), f"{chance:.1f}"]
            lines.append(" | ".join([*cells, *(f"{one:.1f}" for one in earned)]))
    return "\n".join(lines)


if __name__ == "__main__":
    sys.stdout.write(table() + "\n")
