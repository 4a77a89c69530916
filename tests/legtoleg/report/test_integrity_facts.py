"""Facts: planted copying, code, borrowed numbers and acts too fast are stated; honest people are left alone."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from dryerbench.answers.tolerance import rounded
from dryerbench.registry import sheet
from legtoleg.demo.simulated_apprentices import simulate
from legtoleg.keys.answer_key import worked
from legtoleg.report.answer_cells import AnswerCell, Paper, course_names, normalized
from legtoleg.report.integrity_facts import code_answers, copied, facts_of, fitting, odds_words, too_fast

LESSON = "03_heater_power"
PAPER = sheet(LESSON)


def typed(who: str, numbers: Mapping[str, float]) -> Paper:
    """Return the paper of ``who`` with ``numbers`` typed, each judged against their own machine."""
    right = worked(LESSON, PAPER.card(who))
    cells = {}
    for question in PAPER.questions:
        text = rounded(numbers[question.name], question.figures)
        full = text == rounded(right[question.name], question.figures)
        code = normalized(f'{question.name} = "{text} {question.unit}"')
        cells[question.name] = AnswerCell(code, (), full, float(text))
    return Paper(who, LESSON, cells)


def own(who: str) -> Paper:
    return typed(who, worked(LESSON, PAPER.card(who)))


@cache
def honest(lesson: str) -> tuple[Paper, ...]:
    """Return 300 simulated apprentices who type: right, slips, follow-through and gaps, nobody copying."""
    paper, found = sheet(lesson), []
    for number in range(1, 301):
        person = simulate(number, 1, lesson)
        cells = {}
        for deed in person.deeds:
            if deed.typed and not deed.cell:
                value = deed.typed.strip('"').split()[0].rstrip("AWVΩ%amps")
                points = paper.question(deed.question).points
                code = normalized(f"{deed.question} = {deed.typed}")
                cells[deed.question] = AnswerCell(code, (), deed.expected_points == points, _float(value))
        found.append(Paper(person.apprentice, lesson, cells))
    return tuple(found)


def _float(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


def test_the_same_cells_pasted_by_three_are_stated_with_odds() -> None:
    ada = worked(LESSON, PAPER.card("ada"))
    papers = [own("ada"), typed("bo", ada), typed("cy", ada), own("di")]
    found = copied(papers)
    assert {fact.people for fact in found} == {("ada", "bo"), ("ada", "cy"), ("bo", "cy")}
    assert all(fact.odds is not None and fact.odds < 1e-3 for fact in found)
    assert "answer cells of ada and bo are the same" in found[0].words
    assert "Chance alone does that less than once in 1,000,000 cohorts" in found[0].words


def test_numbers_of_another_machine_are_stated() -> None:
    found = fitting([own("ada"), typed("bo", worked(LESSON, PAPER.card("ada"))), own("cy"), own("di")])
    assert [fact.people for fact in found] == [("bo", "ada")]
    assert "fit the dryer of ada" in found[0].words
    assert "dealt at random, none fits so many" in found[0].words


def test_three_hundred_honest_people_make_no_more_facts_than_stated() -> None:
    for lesson in (LESSON,):
        found = facts_of(honest(lesson))
        # Odds count over the whole cohort for cells; for numbers 1 of 400 machines, times all other people.
        assert len([fact for fact in found if fact.kind == "same cells"]) <= 1, found[:3]
        assert len([fact for fact in found if fact.kind == "numbers of another dryer"]) <= 0.01 * 300, found[:3]
        assert not [fact for fact in found if fact.kind not in ("same cells", "numbers of another dryer")]


def test_right_answers_that_happen_to_be_the_same_are_no_fact() -> None:
    same = worked(LESSON, PAPER.card("ada"))
    right = [Paper(who, LESSON, own("ada").cells) for who in ("ada", "bo")]
    assert all(cell.full for cell in right[1].cells.values())
    assert not copied(right), same


def test_code_and_the_names_that_it_uses() -> None:
    lines = [line.name for line in PAPER.card("ada").lines]
    assert course_names("x = card.supply_volts / card.element_ohms[0] * A", lines) == ()
    assert course_names('x = "8.9 A"', lines) == ()
    assert course_names("from dryerbench.registry import SHEETS\nx = 1", lines) == ("dryerbench.registry.SHEETS",)
    assert "card.sealed" in course_names("x = card.sealed", lines)
    assert course_names('x = letter("q", "k")', lines) == ("letter",)
    assert course_names("bench.do('unplug')\nx = bench", lines) == ("bench.do",)
    assert course_names("x = (", lines) == ()
    cells = {"element_current": AnswerCell("c", ("letter",))}
    (fact,) = code_answers(Paper("ada", LESSON, cells))
    assert fact.words == "Question 1 of ada: the answer is code, with these names of the course: letter."
    assert not code_answers(own("ada"))


def test_acts_that_no_hand_can_do() -> None:
    def paper(step: float) -> Paper:
        cell = AnswerCell("c", act_seconds=tuple(step * n for n in range(20)), bench_minutes=31.0)
        return Paper("ada", LESSON, {"element_current": cell})

    (fact,) = too_fast(paper(0.01))
    assert "20 acts on the bench in 0.2 seconds" in fact.words
    assert not too_fast(paper(2.0))


def test_odds_in_words() -> None:
    assert odds_words(1 / 40_000) == "about once in 40,000 cohorts of this size"
    assert odds_words(0.0) == "practically never"
