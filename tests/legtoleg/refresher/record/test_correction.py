"""Corrections: a wrong entry stays and does not count; a wrong correction can itself be corrected."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from legtoleg.ledger.corrections import CorrectionError, in_force
from legtoleg.refresher.record.correction import correct
from legtoleg.refresher.record.due_list import dues
from legtoleg.refresher.record.shop import Shop


def good(shop: Shop) -> bool:
    return dues(shop, shop.today()).people[0].may_work


def test_there_and_back(shop: Shop, outcome: Callable[..., Any]) -> None:
    outcome(shop, "ada-01", date(2027, 1, 4))
    assert good(shop)
    first = correct(shop, 3, "the wrong file", "Ida Demo")
    assert not good(shop)
    assert [entry.number for entry in in_force(shop.entries())] == [1, 2, 4]
    correct(shop, first.number, "it was the right file", "Ida Demo")
    assert good(shop)
    assert [entry.number for entry in in_force(shop.entries())] == [1, 2, 3, 5]
    correct(shop, 3, "no, it was the wrong one", "Ida Demo")
    assert not good(shop)


def test_what_cannot_be_corrected(shop: Shop, outcome: Callable[..., Any]) -> None:
    outcome(shop, "ada-01", date(2027, 1, 4))
    correct(shop, 3, "the wrong file", "Ida Demo")
    for number, says in ((9, "There is no entry 9"), (1, "nothing to correct"), (2, "nothing to correct")):
        with pytest.raises(CorrectionError, match=says):
            correct(shop, number, "wrong", "Ida Demo")
    with pytest.raises(CorrectionError, match="entry 4 says so"):
        correct(shop, 3, "again", "Ida Demo")
    with pytest.raises(CorrectionError, match="Say why"):
        correct(shop, 3, " ", "Ida Demo")
    assert len(shop.entries()) == 4
