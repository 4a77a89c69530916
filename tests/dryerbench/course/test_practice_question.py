"""Practice of kinds: every card can be solved, every mistake is named, and nothing tells an answer on a real card."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from dryerbench.core.errors import KitError
from dryerbench.core.identity import checked_id
from dryerbench.core.random_stream import Stream
from dryerbench.course.practice_question import (
    Case,
    LettersGo,
    NoPracticeQuestionError,
    PickMany,
    PickOne,
    PickParts,
    PutInOrder,
    Reading,
    ReadingsGo,
    as_asked,
    practice_card,
)
from dryerbench.course.questions import Lettered
from dryerbench.registry import PRACTICE_QUESTIONS, SHEETS, SLIPS, question_to_practice

NAMES = sorted(PRACTICE_QUESTIONS)
NUMBERS = range(1, 31)


def letters_goes(name: str) -> Iterator[LettersGo]:
    for number in NUMBERS:
        go = PRACTICE_QUESTIONS[name].go(name, number)
        if isinstance(go, LettersGo):
            yield go


def slips_of(name: str) -> set[str]:
    """Return every slip, and every reason in words, that the practice ``name`` can name."""
    one = PRACTICE_QUESTIONS[name]
    found: set[str] = set()
    if isinstance(one, PickMany):
        found |= {*one.fits.values(), *one.fits_not.values()}
    elif isinstance(one, PickParts):
        for case in (make(Stream(f"t/{n}")) for make in one.cases for n in NUMBERS):
            found |= {*case.fits.values(), *case.fits_not.values()}
    elif isinstance(one, PutInOrder):
        for _, steps in one.jobs:
            for at, step in enumerate(steps):
                found |= set(step.waits_for(steps[at - 1] if at else None).values())
    elif isinstance(one, PickOne):
        for case in one.cases:
            made = [case] if isinstance(case, Case) else [case(Stream(f"t/{n}")) for n in NUMBERS]
            found |= {slip for each in made for slip in each.wrong.values()}
    else:
        for number in NUMBERS:
            go = one.go(name, number)
            assert isinstance(go, ReadingsGo)
            found |= {slip for row in go.readings for slip in (row.other, *row.slips)}
    return found


@pytest.mark.parametrize("name", NAMES)
def test_every_mistake_is_a_slip_of_the_course_or_a_reason_in_words(name: str) -> None:
    for slip in slips_of(name):
        assert slip in SLIPS or (slip.endswith(".") and " " in slip), slip


@pytest.mark.parametrize("name", NAMES)
def test_every_card_is_asked_in_the_kind_of_its_question(name: str) -> None:
    spec, practice = question_to_practice(name)
    for number in NUMBERS:
        asked = as_asked(spec.question(name), practice.go(name, number))
        assert asked.kind == spec.question(name).kind


@pytest.mark.parametrize("name", NAMES)
def test_no_option_is_one_of_the_graded_question(name: str) -> None:
    spec, _ = question_to_practice(name)
    graded = spec.question(name)
    if not isinstance(graded, Lettered):
        return
    real = {one.text for k in range(1, 9) for one in graded.options_for(spec.card(f"demo-{k:02d}"))}
    for go in letters_goes(name):
        assert real.isdisjoint(one.text for one in go.options)


@pytest.mark.parametrize("name", [name for name in NAMES if isinstance(PRACTICE_QUESTIONS[name], PickOne)])
def test_one_option_is_right_and_every_other_names_its_slip(name: str) -> None:
    for go in letters_goes(name):
        judged = {one.key: go.missed([one.key]) for one in go.options}
        assert [key for key, missed in judged.items() if not missed] == ["0"]
        assert all(missed[0].slip for key, missed in judged.items() if key != "0")
        assert len({one.text for one in go.options}) == len(go.options) >= 3
        assert "{" not in go.told + go.why + "".join(one.text for one in go.options)


@pytest.mark.parametrize("name", [name for name in NAMES if isinstance(PRACTICE_QUESTIONS[name], PickMany)])
def test_what_fits_is_right_and_one_more_or_one_less_names_it(name: str) -> None:
    pool = PRACTICE_QUESTIONS[name]
    assert isinstance(pool, PickMany)
    for go in letters_goes(name):
        right = [one.key for one in go.options if one.text in pool.fits]
        assert 0 < len(right) < len(go.options) == pool.dealt
        assert go.missed(right) == ()
        for one in go.options:
            (missed,) = go.missed([key for key in (*right, one.key) if one.key not in right or key != one.key])
            assert one.text.rstrip(".") in missed.about
    texts = [{one.text for one in go.options} for go in letters_goes(name)]
    assert len({frozenset(one) for one in texts}) > 3


@pytest.mark.parametrize("name", [name for name in NAMES if isinstance(PRACTICE_QUESTIONS[name], PickParts)])
def test_a_case_that_is_made_anew_has_parts_that_fit_and_parts_that_do_not(name: str) -> None:
    for go in letters_goes(name):
        right = [one.key for one in go.options if go.missed([]) and any(
            missed.about.startswith(f"“{one.text}”") for missed in go.missed([]))]  # fmt: skip
        assert 0 < len(right) < len(go.options)
        assert go.missed(right) == ()
    assert len({go.told for go in letters_goes(name)}) > 1


@pytest.mark.parametrize("name", [name for name in NAMES if isinstance(PRACTICE_QUESTIONS[name], PutInOrder)])
def test_the_written_order_is_right_and_each_turned_pair_is_named(name: str) -> None:
    pool = PRACTICE_QUESTIONS[name]
    assert isinstance(pool, PutInOrder)
    for number, (_, steps) in enumerate(pool.jobs, 1):
        go = pool.go(name, number)
        assert isinstance(go, LettersGo)
        key = {one.text: one.key for one in go.options}
        right = sorted(steps, key=lambda step: _depth(step.text, steps))
        keys = [key[step.text] for step in right]
        assert go.missed(keys) == ()
        assert [one.key for one in sorted(go.options, key=lambda one: one.key)] != [key[step.text] for step in steps]
        named = {missed.slip for missed in go.missed(keys[::-1])}
        waits = [step.waits_for(steps[at - 1] if at else None) for at, step in enumerate(steps)]
        assert named == {slip for one in waits for slip in one.values()}
        assert go.missed(keys[:-1])[0].slip == ""


def _depth(text: str, steps: tuple) -> int:
    """Return how many steps in a row have to come before ``text``."""
    at = next(place for place, step in enumerate(steps) if step.text == text)
    waits = steps[at].waits_for(steps[at - 1] if at else None)
    return 1 + max((_depth(one, steps) for one in waits), default=0)


@pytest.mark.parametrize("name", NAMES)
def test_tables_are_right_with_their_own_numbers_and_name_their_slips(name: str) -> None:
    for number in NUMBERS:
        go = PRACTICE_QUESTIONS[name].go(name, number)
        if not isinstance(go, ReadingsGo):
            continue
        right = {str(place): one.number for place, one in enumerate(go.readings)}
        assert go.missed(right) == ()
        assert len(go.missed({})) == len(go.readings)
        for place, one in enumerate(go.readings):
            turned = {**right, str(place): None if one.number is not None else 5.0}
            assert [missed.slip for missed in go.missed(turned)] == [one.other]
            for code, wrong in one.slips.items():
                if not one.fits(wrong):
                    assert one.slip(wrong) in one.slips, (one, code)


def test_a_reading_counts_within_its_looseness_or_to_three_figures() -> None:
    one = Reading("x", "Ω", 27.04, "ol", {"half": 13.52}, loose=0.0)
    assert one.fits(27.0)
    assert not one.fits(27.3)
    assert not one.fits(None)
    assert (one.slip(13.5), one.slip(None), one.slip(99.0)) == ("half", "ol", "")
    assert Reading("x", "Ω", 0.0, "ol", loose=0.5).fits(0.4)
    assert not Reading("x", "Ω", 0.0, "ol", loose=0.5).fits(0.6)


def test_no_roster_can_hold_a_practice_card() -> None:
    for number in (1, 2, 99):
        with pytest.raises(KitError):
            checked_id(practice_card("01_made_dead", number).apprentice)


@pytest.mark.parametrize("number", [0, -1, 1.5, True, "2", 10**9])
def test_a_number_that_is_none_is_told_in_one_line(number: object) -> None:
    with pytest.raises(NoPracticeQuestionError, match="whole number"):
        PRACTICE_QUESTIONS["dead_order"].go("dead_order", number)  # type: ignore[arg-type]


def test_a_name_that_is_none_is_told_with_those_there_are() -> None:
    with pytest.raises(NoPracticeQuestionError, match="dead_order"):
        question_to_practice("nothing")


def test_the_same_number_is_the_same_card_and_numbers_differ() -> None:
    for name in NAMES:
        one = PRACTICE_QUESTIONS[name]
        assert one.go(name, 7).told == one.go(name, 7).told
        shown = set()
        for number in NUMBERS:
            go = one.go(name, number)
            shown.add((go.told, *(one.text for one in go.options)) if isinstance(go, LettersGo) else (go.told,))
        assert len(shown) > 1, name


def test_every_practice_is_of_a_question_that_is_there() -> None:
    asked = {one.name for spec in SHEETS.values() for one in spec.questions}
    assert set(PRACTICE_QUESTIONS) <= asked
