"""Axe-core finds nothing on the refresher's pages and on the certificate, wide and narrow."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from tests.legtoleg.accessible import violations

from legtoleg.refresher.proof.certificate import certificate_page
from legtoleg.refresher.proof.shop_pages import due_page, shop_page
from legtoleg.refresher.record.due_list import dues
from legtoleg.refresher.record.shop import Shop

from .test_shop_pages import lived


@pytest.mark.slow
@pytest.mark.browser
@pytest.mark.parametrize("width", [1366, 390])
def test_pages_of_the_refresher(shop: Shop, clock: Any, outcome: Callable[..., Any], width: int, page: Any) -> None:
    lived(shop, clock, outcome)
    made = {
        "due": due_page(dues(shop, shop.today())),
        "shop": shop_page(dues(shop, shop.today()), shop.entries()),
        "certificate": certificate_page(shop, "bo-02"),
    }
    page.set_viewport_size({"width": width, "height": 900})
    found = {}
    for name, text in made.items():
        page.set_content(text)
        found[name] = violations(page)
    assert not any(found.values()), found
