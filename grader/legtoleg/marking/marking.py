"""Marking: answers as data in, outcomes out. Knows the machine and the models; runs nothing of the apprentice's."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import AnyQuestion, Choice, FaultQuestion
from dryerbench.registry import sheet
from legtoleg.keys.answer_key import references, worked
from legtoleg.keys.reference import AnyReference, ChoiceReference, Reference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.bench_marking import ABOUT_ANOTHER, OTHER_MACHINE, judge_fault, judge_work
from legtoleg.marking.judgements import UNSAFE, Judgement
from legtoleg.marking.letters_marking import judge_choice, judge_choices, judge_order, keys_in, named
from legtoleg.marking.outcomes import Outcome
from legtoleg.marking.practice_machine import SAYS, fitting
from legtoleg.marking.quantity_marking import QuantityContext, judge_quantity, judge_unread
from legtoleg.marking.readings_marking import judge_readings

_NOTHING = {
    "blank": "Not answered.",
    "no_record": "Nothing was handed in: the cell left no answer. Type your answer and run the whole notebook.",
    "two_records": "This cell handed in more than one answer, so none counts. Leave the hand-in cell as it was.",
    "bad_record": "What this cell handed in is not an answer record. Leave the hand-in cell as it was.",
    "python_error": 'The cell stopped with a Python error, so there was no answer. Put it in quotes, like "8.94 A".',
    "kernel_died": "The notebook stopped running before this cell, so there is no answer from it.",
    "newer": "The page that you handed in does not have this question: your kit is older than the question. The rest "
    "counts as it is. Get a new kit from your instructor, and answer the question there.",
    "unreadable": "This could not be read. Write it the way that the line above the answer asks for.",
}
OPEN = ("blank", "no_record", "kernel_died", "newer")
_FITTING = {
    "quantity": ("quantity", "over_limit"),
    "choice": ("letters",),
    "choices": ("letters",),
    "order": ("letters",),
    "readings": ("readings",),
    "work": ("work",),
    "fault": ("fault",),
}
_JUDGES: dict[str, Callable[..., Judgement]] = {
    "choice": judge_choice,
    "choices": judge_choices,
    "order": judge_order,
    "readings": judge_readings,
    "work": judge_work,
    "fault": judge_fault,
}


def mark_lesson(
    lesson: str,
    apprentice: str,
    found: Mapping[str, Found],
    try_number: int = 1,
    by: Sequence[AnyReference] | None = None,
) -> dict[str, Outcome]:
    """Return the outcome of every question of ``lesson`` for ``apprentice``'s own machine at this try.

    ``by`` are the lesson's references where their benches are not opened as the lesson opens them.

    Raises
    ------
    UnknownQuestionError
        If there is no such lesson.
    """
    paper = sheet(lesson)
    card = paper.card(apprentice, try_number)
    desk = QuantityContext(lesson, card, worked(lesson, card))
    answers = {question.name: found.get(question.name, Found("no_record")) for question in paper.questions}
    judged = {
        reference.question: _judge(paper.question(reference.question), reference, answers[reference.question], desk)
        for reference in (references(lesson) if by is None else by)
    }
    judged |= dict.fromkeys(_about_another(judged, answers, references(lesson)), ABOUT_ANOTHER)
    wrong = {name: answers[name] for name, one in judged.items() if one.points == 0}
    for name in fitting(desk, wrong) if desk.unexplained else ():
        judged[name] = replace(judged[name], note="practice_machine", says=f"{judged[name].says} {SAYS}")
    return {
        question.name: _outcome(question, judged[question.name], answer, _shown(question, answer, card))
        for question, answer in zip(paper.questions, answers.values(), strict=True)
    }


def _about_another(
    judged: Mapping[str, Judgement], answers: Mapping[str, Found], there: Sequence[AnyReference]
) -> list[str]:
    """Return the questions that were answered by the machine of an earlier kit, as the work they go with was done."""
    moved = {name for name, one in judged.items() if one.note == OTHER_MACHINE}
    return [one.question for one in there if isinstance(one, Reference | ChoiceReference)
            and moved & set(one.stands_on) and answers[one.question].state not in _NOTHING]  # fmt: skip


def _judge(question: AnyQuestion, reference: AnyReference, answer: Found, desk: QuantityContext) -> Judgement:
    if answer.state not in _FITTING[question.kind]:
        state = answer.state if answer.state in _NOTHING else "bad_record"
        if question.kind == "quantity":
            desk.own[question.name] = desk.right[question.name]
            desk.good.add(question.name)
            differing = judge_unread(question, answer, desk)  # type: ignore[arg-type]
            if differing is not None:
                return differing
        return Judgement(0.0, state, _NOTHING[state])
    if question.kind == "quantity":
        return judge_quantity(question, reference, answer, desk)  # type: ignore[arg-type]
    return _JUDGES[question.kind](question, reference, answer, desk.card)


def _outcome(question: AnyQuestion, judged: Judgement, answer: Found, shown: str) -> Outcome:
    safety, message = "", judged.says
    if question.safety:
        clear = judged.points == question.points if judged.safe is None else judged.safe
        safety = "clear" if clear else "open" if answer.state in OPEN else "held"
        if safety != "clear":
            message += " This one is about safety: the lesson is not signed off until it is right."
    elif judged.note == UNSAFE:
        safety, message = "held", f"{message} The lesson is not signed off until the work is done safely."
    worth = (judged.points, question.points, judged.note)
    key = "" if question.safety else judged.key
    return Outcome(question.name, *worth, message, shown, safety, judged.work, key)


def _shown(question: AnyQuestion, answer: Found, card: JobCard) -> str:
    """Return the answer as it was understood; one letter with its words, since letters differ between apprentices."""
    if answer.answered:
        shown = f"{answer.magnitude:.6g} {answer.unit}"
        return f"{shown}, from {answer.working}" if answer.working else shown
    if answer.rows:
        rows = [f"{row.magnitude:.6g} {row.unit}" if row.answered else row.typed or "–" for row in answer.rows.values()]
        return "; ".join(rows)
    if isinstance(question, Choice | FaultQuestion) and len(answer.letters) == 1:
        return named(question, card, frozenset(keys_in(question, answer, card) or ())) or answer.typed
    return answer.typed
