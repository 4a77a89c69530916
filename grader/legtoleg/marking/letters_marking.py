"""Marking letters: one option, several options, an order of steps."""

from __future__ import annotations

from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import Choice, Choices, Lettered, Order
from dryerbench.registry import SLIPS
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
    key = f"The right answer is {named(question, card, right)}."
    slip, safe = reference.slip(keys[0], card), keys[0] in reference.harmless(card)
    if slip is None:
        return Judgement(0.0, "wrong", "Not that.", safe=safe, key=key)
    return slipped((slip,), safe=safe, key=key)


def _lines(letters: dict[str, str]) -> str:
    """Return the slips of letters in words, letters of one slip together: ``a, c: … e: …``."""
    together: dict[str, list[str]] = {}
    for letter, slip in sorted(letters.items()):
        together.setdefault(slip, []).append(letter)
    return " ".join(
        f"{', '.join(those)}: {SLIPS[slip].says if slip else 'Not that.'}" for slip, those in together.items()
    )


def _left_out(missed: list[str], slips: list[str]) -> str:
    """Return in words that something is left out, without saying which letters."""
    if not missed:
        return ""
    count = "One that belongs is missing." if len(missed) == 1 else f"{len(missed)} that belong are missing."
    return " ".join([count, *(SLIPS[slip].says for slip in slips)])


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
    picked = {letter: reference.slip(option.key, card) or "" for letter, option in question.lettered(card).items()
              if option.key in wrong}  # fmt: skip
    of_missed = dict.fromkeys(slip for key in missed if (slip := reference.slip(key, card)))
    codes = dict.fromkeys([*filter(None, picked.values()), *of_missed])
    says = f"{_lines(picked)} {_left_out(missed, [one for one in of_missed if one not in picked.values()])}".strip()
    safe = reference.harmless(card).issuperset(wrong + missed)
    right_are = f"The right answer is {named(question, card, right)}."
    return Judgement(points, "+".join(codes) or "wrong", says, safe=safe, key=right_are)


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
        return Judgement(0.0, "steps_missing", f"Some steps are missing: {'; '.join(missing)}", safe=False)
    if broken:
        return slipped(tuple(dict.fromkeys(rule.slip for rule in broken)), question.points / 2, safe=True)
    return Judgement(question.points, "right", "Right. You can safely do it in this order.")


def _is_broken(first: str, then: str, place: dict[str, int]) -> bool:
    return then in place and place.get(first, len(place)) > place[then]
