"""News of a class: what the instructor gave back since a page was opened, in one line with links."""

from __future__ import annotations

from dryerbench.drawing.message_box import message_box
from dryerbench.notebook.lesson_ways import came_back, linked, way_to
from dryerbench.registry import SHEETS

_NOTHING: dict[str, object] = {}


def _given_back(state: dict[str, object]) -> dict[str, dict[str, object]]:
    """Return what ``state`` says was given back, by lesson."""
    back = state.get("back")
    found = back.items() if isinstance(back, dict) else ()
    return {lesson: one for lesson, one in found if lesson in SHEETS and isinstance(one, dict)}


def _card(one: dict[str, object]) -> int:
    card = one.get("card")
    return card if type(card) is int else 1


class ClassNews:
    """What came back since the page was opened: ``take`` each state that the class tells."""

    def __init__(self, state: dict[str, object]) -> None:
        self._first = _given_back(state) if state else None
        self._now = self._first or {}

    def take(self, state: dict[str, object]) -> bool:
        """Take in how it stands, and tell whether something changed; a class that is away changes nothing."""
        if not state:
            return False
        if self._first is None:
            self._first = self._now = _given_back(state)
            return False
        before, self._now = self._now, _given_back(state)
        return self._now != before

    def _of(self, lesson: str) -> list[str]:
        old, new = (self._first or {}).get(lesson, _NOTHING), self._now.get(lesson, _NOTHING)
        signed = bool(new.get("signed"))
        return [
            *(["signed off"] if signed and not old.get("signed") else []),
            *(["feedback"] if new.get("feedback") and new.get("feedback") != old.get("feedback") else []),
            *([f"card {_card(new)} is dealt"] if not signed and _card(new) > _card(old) else []),
        ]

    @property
    def bundle(self) -> dict[str, object]:
        """The line as text and with links, as one output of a cell; empty while nothing came."""
        news = {lesson: words for lesson in SHEETS if (words := self._of(lesson))}
        if not news:
            return {"text/plain": "", "text/html": "<span></span>"}
        dealt = any("dealt" in words[-1] for words in news.values())
        begin = "New from your instructor: "
        end = ". To work on a new card, open its lesson and choose Run All Cells." if dealt else "."
        names = {one: f"lesson {one[:2]} · {SHEETS[one].title} ({', '.join(words)})" for one, words in news.items()}
        links = "; ".join(linked(name, came_back(one)[1] or way_to(one)) for one, name in names.items())
        html = f"<div role='status'>{message_box(links + end, heading=begin)}</div>"
        return {"text/plain": f"{begin}{'; '.join(names.values())}{end}", "text/html": html}
