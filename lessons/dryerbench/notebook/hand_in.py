"""Hand in: read what was answered, say what was understood, and leave a record; right or wrong is not said here."""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from html import escape

from IPython.core.getipython import get_ipython
from IPython.display import display

from dryerbench.core.errors import LegToLegError, UnknownQuestionError
from dryerbench.core.identity import PRACTICE, find_kit, find_try
from dryerbench.course.job_card import JobCard
from dryerbench.course.lesson_spec import LessonSpec
from dryerbench.course.questions import AnyQuestion, BenchQuestion, FaultQuestion, Lettered
from dryerbench.drawing.interactive_figure import MODE
from dryerbench.notebook import answer_cells, plain_errors
from dryerbench.notebook.answer_entry import AnswerEntry
from dryerbench.notebook.answer_record import whole_mark_of
from dryerbench.notebook.class_link import note
from dryerbench.notebook.progress import note_answered
from dryerbench.notebook.taken_answer import words_box
from dryerbench.registry import sheet

BUTTON = "Hand in this page"
"""What stands on the button at the end of a page."""

_UNCHANGED = "The answer is the one from before. If you changed the cell above, run that cell first, then this one."


@dataclass
class _Session:
    """What is open in this notebook: a lesson and its job card, or several of them in a refresher."""

    opened: list[tuple[LessonSpec, JobCard]] = field(default_factory=list)
    entries: dict[str, AnswerEntry] = field(default_factory=dict)
    """The answers whose hand-in cells ran since the page was opened, by question."""

    @property
    def sheet(self) -> LessonSpec | None:
        """The lesson that is open, or the first of several."""
        return self.opened[0][0] if self.opened else None

    @property
    def card(self) -> JobCard:
        """The job card of that lesson; ask for it only when one is open."""
        return self.opened[0][1]


_SESSION = _Session()


def job_card(lesson: str, try_number: int | None = None) -> JobCard:
    """Open ``lesson`` and return the job card of this kit's machine (without a kit: the practice machine).

    After a hold a new card is dealt: the file ``tries.json`` that comes with the feedback says so, or ``try_number``.

    Raises
    ------
    UnknownQuestionError
        If there is no such lesson.
    KitError
        If the kit's mark is damaged, or ``try_number`` is no number of a card.
    """
    return job_cards(lesson, try_number=try_number)[0]


def job_cards(*lessons: str, try_number: int | None = None) -> tuple[JobCard, ...]:
    """Open several lessons at once, for a refresher, and return the job card of this kit's machine in each.

    Raises
    ------
    UnknownQuestionError
        If there is no such lesson.
    KitError
        If the kit's mark is damaged, or ``try_number`` is no number of a card.
    """
    plain_errors.switch_on()
    apprentice = find_kit().apprentice
    _SESSION.opened = [(one, one.card(apprentice, find_try(one.lesson, try_number))) for one in map(sheet, lessons)]
    _SESSION.entries = {}
    note("opened", lesson=lessons[0])
    answer_cells.switch_on(question.name for paper, _ in _SESSION.opened for question in paper.questions)
    return tuple(card for _, card in _SESSION.opened)


def close_lessons() -> None:
    """Leave no lesson open, as in a page whose first cell has not run."""
    _SESSION.opened, _SESSION.entries = [], {}


def _question(name: str) -> tuple[AnyQuestion, JobCard]:
    """Return the question ``name`` of what is open, and the card that it is about."""
    if _SESSION.sheet is None:
        raise LegToLegError("Run the cell with your job card first, then this one.")
    for paper, card in _SESSION.opened:
        if any(question.name == name for question in paper.questions):
            return paper.question(name), card
    return _SESSION.sheet.question(name), _SESSION.card


def _lettered(name: str) -> tuple[Lettered[JobCard], JobCard]:
    question, card = _question(name)
    if not isinstance(question, Lettered):
        raise LegToLegError(f"The question {name} has no options to choose from.")
    return question, card


def _with_boxes() -> bool:
    """Tell whether this is a page with somebody at it, where boxes can be answered in."""
    return get_ipython() is not None and os.environ.get(MODE, "live") == "live"


def options(name: str) -> None:
    """Show the options of the question ``name``, lettered in this kit's own order.

    Raises
    ------
    UnknownQuestionError
        If the open lesson has no such question.
    LegToLegError
        If no lesson is open, or the question has no options.
    """
    question, card = _lettered(name)
    lettered = question.lettered(card)
    rows = "".join(
        f"<tr><td style='text-align:left;vertical-align:top'><b>{letter}</b></td>"
        f"<td style='text-align:left;white-space:normal'>{escape(option.text)}</td></tr>"
        for letter, option in lettered.items()
    )
    plain = "\n".join(f"{letter}  {option.text}" for letter, option in lettered.items())
    table = f"<table><tbody>{rows}</tbody></table>"
    if _with_boxes():  # the box below has them too: here they are for whoever types letters into the cell
        table = f"<details><summary>The options as a list</summary>{table}</details>"
    display({"text/plain": plain, "text/html": table}, raw=True)


def letter(name: str, *keys: str) -> str:
    """Return the letters that the options ``keys`` of the question ``name`` carry here: for worked answers.

    Raises
    ------
    UnknownQuestionError
        If the open lesson has no such question, or the question no such option.
    """
    question, card = _lettered(name)
    letters = {option.key: one for one, option in question.lettered(card).items()}
    if not set(keys) <= set(letters):
        raise UnknownQuestionError(f"The question {name} has no option {', '.join(set(keys) - set(letters))}.")
    return " ".join(letters[key] for key in keys)


def hand_in(name: str, value: object) -> None:
    """Record ``value`` as the answer to the question ``name`` and show what was recorded, with a box to answer in.

    What was typed in the box counts in place of ``value`` as long as ``value`` is what it was then.

    Raises
    ------
    UnknownQuestionError
        If the open lesson has no such question.
    LegToLegError
        If no lesson is open: the cell with the job card has to run first.
    """
    question, card = _question(name)
    before = _SESSION.entries.get(name)
    again = not answer_cells.was_run(name) and before is not None and before.taken.odd is not None
    entry = _SESSION.entries[name] = AnswerEntry(question, card, value)
    _noted(entry)
    taken = entry.taken
    if again and taken.odd is not None and not entry.by_box and not isinstance(question, BenchQuestion | FaultQuestion):
        taken = taken.noting(_UNCHANGED)
    if not _with_boxes():
        display(taken.bundle, raw=True)
        return
    from dryerbench.notebook.answer_box import AnswerBox

    entry.shown_by(display(taken.bundle, raw=True, display_id=True))
    display(AnswerBox(entry, _noted).bundle(), raw=True)


def _noted(entry: AnswerEntry) -> None:
    """Note beside the lessons, and for the instructor's board, that a question was answered so that it can be read."""
    if entry.taken.record.get("kind") not in ("blank", "unreadable"):
        note_answered(entry.card.lesson, entry.question.name)
        mark = whole_mark_of(entry.taken.record)
        note("answered", lesson=entry.card.lesson, question=entry.question.name, mark=mark)


def before_you_hand_in(*names: str) -> None:
    """Show which answers are there and readable, of the questions ``names`` or of all; never whether they are right.

    Raises
    ------
    LegToLegError
        If no lesson is open.
    """
    if _SESSION.sheet is None:
        raise LegToLegError("Run the cell with your job card first, then this one.")
    asked = [_question(name)[0] for name in names] or list(_SESSION.sheet.questions)
    states = [_state_of(question) for question in asked]
    fine = all(entry is not None and entry.taken.fine for entry, _ in states)
    told = zip(asked, (said for _, said in states), strict=True)
    lines = [f"{number}. {question.title}: {said}" for number, (question, said) in enumerate(told, 1)]
    if _SESSION.card.apprentice == PRACTICE:
        fine, lines = False, [*lines, "This is the practice dryer: open the page from the folder of your kit."]
    lines.append(f"Last, press the button “{BUTTON}” below." if _with_boxes() else "Last, save this page (Ctrl + S).")
    display(words_box("Ready to hand in" if fine else "Not ready yet", lines, fine=fine), raw=True)
    if _with_boxes():
        from dryerbench.notebook.class_bar import Page, show_class_bar

        show_class_bar(Page(_SESSION.card.apprentice, _SESSION.sheet.lesson, lambda: _left_open(asked), _bundles))


def _state_of(question: AnyQuestion) -> tuple[AnswerEntry | None, str]:
    """Return the answer to ``question`` and how it stands, in words."""
    entry = _SESSION.entries.get(question.name)
    odd = entry.taken.odd if entry else None
    return entry, "not answered yet" if odd is None else " ".join(odd) or "answered and saved"


def _left_open(asked: list[AnyQuestion]) -> str:
    """Return in one line which of the questions ``asked`` are not in order yet; empty if all are."""
    numbered = [(number, question, _state_of(question)[0]) for number, question in enumerate(asked, 1)]
    away = [str(number) for number, _, entry in numbered if entry is None]
    blank = [str(number) for number, _, entry in numbered if entry is not None and entry.taken.odd is None]
    odd = [str(number) for number, _, entry in numbered if entry is not None and entry.taken.odd]
    said = [
        f"Not answered: {', '.join(blank)}." if blank else "",
        f"Look at what is said of: {', '.join(odd)}." if odd else "",
        f"Not run since you opened this page, so they go in as the page shows them: {', '.join(away)}." if away else "",
    ]
    return " ".join(filter(None, said)) or "All questions are answered and saved."


def _bundles() -> dict[str, dict[str, object]]:
    """Return what the hand-in cells that ran show now, by question."""
    return {name: entry.taken.bundle for name, entry in _SESSION.entries.items()}
