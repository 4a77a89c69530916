"""How a simulated apprentice gets a question with letters wrong: one known slip, and the letters it leads to."""

from __future__ import annotations

from graphlib import TopologicalSorter

from dryerbench.core.random_stream import Stream
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import AnyQuestion, Choice, Choices, Lettered, Order
from legtoleg.keys.reference import AnyReference, Before, ChoiceReference, OrderReference


def letters_of(question: Lettered[JobCard], card: JobCard, keys: list[str]) -> str:
    """Return the letters that ``keys`` carry on ``card``, in the order of ``keys``."""
    letters = {option.key: letter for letter, option in question.lettered(card).items()}
    return " ".join(letters[key] for key in keys)


def slip_in_letters(
    question: AnyQuestion, reference: AnyReference, card: JobCard, stream: Stream
) -> tuple[str, str] | None:
    """Return the letters of one slip that earns nothing, and its code; None if this question has none."""
    if isinstance(question, Choice | Choices) and isinstance(reference, ChoiceReference):
        keys = {option.key for option in question.options_for(card)}
        slips = reference.slips_on(card)
        wrong = sorted(key for key in slips if key in keys and key not in reference.right(card))
        if not wrong:
            return None
        key = stream.choose(wrong)
        return letters_of(question, card, [key]), slips[key]
    if isinstance(question, Order) and isinstance(reference, OrderReference):
        unsafe = [rule for rule in reference.rules if rule.unsafe]
        if not unsafe:
            return None
        rule = stream.choose(unsafe)
        order = _too_early(an_order(question, reference, card), rule)
        return letters_of(question, card, order), rule.slip
    return None


def an_order(question: Order[JobCard], reference: OrderReference, card: JobCard) -> list[str]:
    """Return the keys of all steps in one order that keeps all rules."""
    graph: dict[str, set[str]] = {option.key: set() for option in question.options_for(card)}
    for rule in reference.rules:
        graph[rule.then].add(rule.first)
    return list(TopologicalSorter(graph).static_order())


def _too_early(order: list[str], rule: Before) -> list[str]:
    """Return ``order`` with the second step of ``rule`` put right before its first."""
    rest = [key for key in order if key != rule.then]
    place = rest.index(rule.first)
    return [*rest[:place], rule.then, *rest[place:]]
