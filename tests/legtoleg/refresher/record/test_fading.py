"""Fading: from the ledger's tests alone, a miss weighs more than a pass, and a correction counts."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest

from legtoleg.ledger.corrections import in_force
from legtoleg.refresher.proof.shop_pages import shop_page
from legtoleg.refresher.record.correction import correct
from legtoleg.refresher.record.due_list import dues
from legtoleg.refresher.record.fading import Fading, fading
from legtoleg.refresher.record.history import history
from legtoleg.refresher.record.shop import Shop

DAY = date(2026, 3, 2)


@pytest.fixture
def tested(outcome: Callable[..., Any]) -> Callable[..., Any]:
    """Return how to enter a test of two topics, with the points of each out of 3."""

    def enter(shop: Shop, who: str, on: date, points: dict[str, float], held: tuple[str, ...] = ()) -> Any:
        entry = outcome(shop, who, on)
        questions = [{"question": f"q-{name}", "lesson": "01_made_dead", "topic": name, "points": got, "of": 3.0,
                      "note": "", "safety": ""} for name, got in points.items()]  # fmt: skip
        issue = f"{entry.data['issue']}-2"
        shop.enter(shop.draft("issued", who, on, issue=issue, attempt=1, items=[]))
        data = {**entry.data, "issue": issue, "questions": questions, "held": list(held)}
        return shop.enter(shop.draft("recorded", who, on, **data))

    return enter


def of(shop: Shop, who: str, day: date) -> dict[str, float]:
    found: list[Fading] = fading(history(in_force(shop.entries()), who), shop.topics, day)
    assert [one.known for one in found] == sorted(one.known for one in found)
    return {one.topic.topic: one.known for one in found}


def test_what_was_missed_fades_first(shop: Shop, tested: Callable[..., Any]) -> None:
    one, two, *_ = shop.topics
    tested(shop, "ada-01", DAY, {one: 3.0, two: 0.0})
    assert of(shop, "ada-01", DAY) == {}, "asked today"
    later = of(shop, "ada-01", DAY + timedelta(days=60))
    assert set(later) == {one, two}
    assert later[two] < later[one] < 0.9


def test_a_second_pass_holds_longer(shop: Shop, tested: Callable[..., Any]) -> None:
    one, *_ = shop.topics
    tested(shop, "ada-01", DAY, {one: 3.0})
    tested(shop, "bo-02", DAY, {one: 3.0})
    tested(shop, "bo-02", DAY + timedelta(days=30), {one: 3.0})
    day = DAY + timedelta(days=240)
    assert of(shop, "ada-01", day)[one] < of(shop, "bo-02", day).get(one, 1.0)


def test_a_held_safety_question_counts_as_missed(shop: Shop, tested: Callable[..., Any]) -> None:
    one, *_ = shop.topics
    tested(shop, "ada-01", DAY, {one: 3.0}, held=(one,))
    tested(shop, "bo-02", DAY, {one: 0.0})
    day = DAY + timedelta(days=30)
    assert of(shop, "ada-01", day) == of(shop, "bo-02", day) != {}


def test_a_corrected_test_is_not_remembered(shop: Shop, tested: Callable[..., Any]) -> None:
    one, *_ = shop.topics
    entry = tested(shop, "ada-01", DAY, {one: 0.0})
    assert of(shop, "ada-01", DAY + timedelta(days=30))
    correct(shop, entry.number, "wrong person", "Demo Lead")
    assert of(shop, "ada-01", DAY + timedelta(days=30)) == {}


def test_the_shops_page_says_it(shop: Shop, clock: Any, tested: Callable[..., Any]) -> None:
    one, *_ = shop.topics
    today = dues(shop, shop.today())
    assert "Fading" not in shop_page(today, shop.entries())
    tested(shop, "ada-01", DAY, {one: 0.0})
    page = shop_page(dues(shop, shop.today()), shop.entries())
    assert "Fading: ten minutes here first" in page
    share = of(shop, "ada-01", shop.today())[one]
    assert f"{shop.topics[one].title} {share:.0%}" in page
