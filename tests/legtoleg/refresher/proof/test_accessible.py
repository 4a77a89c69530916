"""On the refresher's pages, the result of a test and the certificate axe-core finds nothing, and nothing is cramped."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from tests.legtoleg.accessible import cramped, violations

from legtoleg.marking.outcomes import Outcome
from legtoleg.refresher.proof.certificate import certificate_page
from legtoleg.refresher.proof.shop_pages import due_page, shop_page
from legtoleg.refresher.record.due_list import dues
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.testing.issuing import issue
from legtoleg.refresher.testing.result_page import result_page
from legtoleg.refresher.testing.test_marking import Marked
from legtoleg.witness.witness_record import WitnessRecord

from .test_shop_pages import lived


def result(shop: Shop) -> str:
    """Return the page about a test with right answers, wrong ones, and a safety question of each kind."""
    issued = issue(shop, "ada-01")
    said = [
        ("right", "Right.", "clear"),
        ("one_leg", "One leg is still hot.", "held"),
        ("blank", "Not answered.", "open"),
    ]
    outcomes = [
        (item, Outcome(item.name, 2.0 * (note == "right"), 2.0, note, message, "240 V", safety))
        for number, item in enumerate(issued.items)
        for note, message, safety in [said[number % 3]]
    ]
    return result_page(shop, issued.person, issued.issue, Marked(outcomes, ["A remark for a person."]), 2)


@pytest.mark.slow
@pytest.mark.browser
@pytest.mark.parametrize("width", [1366, 390])
def test_pages_of_the_refresher(
    shop: Shop, clock: Any, outcome: Callable[..., Any], seen: WitnessRecord, width: int, page: Any
) -> None:
    lived(shop, clock, outcome)
    made = {
        "due": due_page(dues(shop, shop.today())),
        "shop": shop_page(dues(shop, shop.today()), shop.entries(), seen.entries()),
        "result": result(shop),
        "certificate": certificate_page(shop, "bo-02"),
    }
    page.set_viewport_size({"width": width, "height": 900})
    found = {}
    for name, text in made.items():
        page.set_content(text)
        found[name] = violations(page) | cramped(page)
    assert not any(found.values()), found
