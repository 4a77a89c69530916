"""Job cards: what they show, and that an id cannot become markup."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.course.job_card import JobCard, Line


@dataclass(frozen=True, repr=False)
class SmallCard(JobCard):
    @property
    def lines(self) -> tuple[Line, ...]:
        return (Line("Supply", "240 V", "card.supply"),)


def test_it_says_whose_it_is() -> None:
    assert "The dryer of demo-01" in repr(SmallCard("demo-01", "x"))
    assert "Do not hand it in" in repr(SmallCard("practice", "x"))


def test_it_shows_its_lines() -> None:
    card = SmallCard("demo-01", "x")
    assert "Supply  240 V" in repr(card)
    assert "<b>240 V</b>" in card._repr_html_()


def test_an_id_is_text() -> None:
    assert "<b>x" not in SmallCard("<b>x", "x")._repr_html_()


def test_an_empty_card_is_only_its_heading() -> None:
    assert repr(JobCard("demo-01", "x")).count("\n") == 0
