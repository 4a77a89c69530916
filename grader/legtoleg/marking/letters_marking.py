"""Marking letters: one option, several options, an order of steps."""

from __future__ import annotations

from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import Choice, Choices, Lettered, Order
from legtoleg.keys.reference import ChoiceReference, OrderReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.judgements import Judgement, slipped


def keys_in(question: Lettered[JobCard], answer: Found, card: JobCard) -> list[str] | None:
    """Return the keys of the options whose letters were handed in, in that order; None if a letter is not offered."""
    options = question.lettered(card)
    if not set(answer.letters) <= set(options):
        return None
    return [options[letter].key for letter in answer.letters]


def named(question: Lettered[JobCard], card: JobCard, keys: frozenset[str]) -> str:
    """Return the options of ``keys`` as the apprentice saw them: ``b (text)``."""
    found = [f"{letter} ({option.text.rstrip('.')})" for letter, option in question.lettered(card).items()
             if option.key in keys]  # fmt: skip
    return "; ".join(found)


_STRANGE = Judgement(0.0, "bad_record", "The letters handed in are not those that this question offers.")


def judge_choice(
    question: Choice[JobCard], reference: ChoiceReference[JobCard], answer: Found, card: JobCard
) -> Judgement:
    """Return the judgement of one letter."""
    keys, right = keys_in(question, answer, card), reference.right(card)
    if keys is None or len(keys) != 1:
        return _STRANGE
    if keys[0] in right:
        return Judgement(question.points, "right", "Right.")
    tail = f" Right is {named(question, card, right)}."
    return _with_slips(keys, reference, tail)


def _with_slips(keys: list[str], reference: ChoiceReference[JobCard], tail: str, points: float = 0.0) -> Judgement:
    codes = tuple(dict.fromkeys(reference.slips[key] for key in keys if key in reference.slips))
    if not codes:
        return Judgement(points, "wrong", f"Not that.{tail}", safe=False)
    judged = slipped(codes, points, safe=False)
    return Judgement(points, judged.note, judged.says + tail, safe=False)


def judge_choices(
    question: Choices[JobCard], reference: ChoiceReference[JobCard], answer: Found, card: JobCard
) -> Judgement:
    """Return the judgement of all letters that fit: a share for each right one, less one for each wrong one."""
    keys, right = keys_in(question, answer, card), reference.right(card)
    if keys is None:
        return _STRANGE
    wrong, missed = [key for key in keys if key not in right], [key for key in sorted(right) if key not in keys]
    if not wrong and not missed:
        return Judgement(question.points, "right", "Right, all of them.")
    share = max(0, len(right) - len(missed) - len(wrong)) / len(right)
    points = round(question.points * share * 2) / 2
    points = min(points, question.points - 0.5)
    return _with_slips([*wrong, *missed], reference, f" Right is {named(question, card, right)}.", points)


def judge_order(question: Order[JobCard], reference: OrderReference, answer: Found, card: JobCard) -> Judgement:
    """Return the judgement of an order: full for any that keeps all rules; half if only harmless rules are broken."""
    keys = keys_in(question, answer, card)
    if keys is None:
        return _STRANGE
    place = {key: number for number, key in enumerate(keys)}
    missing = [option.text for option in question.options_for(card) if option.key not in place]
    broken = [rule for rule in reference.rules if _is_broken(rule.first, rule.then, place)]
    if any(rule.unsafe for rule in broken):
        unsafe = tuple(dict.fromkeys(rule.slip for rule in broken if rule.unsafe))
        return slipped(unsafe, safe=False)
    if missing:
        return Judgement(0.0, "steps_missing", f"Not all steps are there; missing: {'; '.join(missing)}", safe=False)
    if broken:
        return slipped(tuple(dict.fromkeys(rule.slip for rule in broken)), question.points / 2, safe=True)
    return Judgement(question.points, "right", "Right: it can be done in this order, safely.")


def _is_broken(first: str, then: str, place: dict[str, int]) -> bool:
    return then in place and place.get(first, len(place)) > place[then]
