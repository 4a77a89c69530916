"""The certificate: what was passed, until when it holds, what it is not; on paper where there is a browser."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pypdf
import pytest

from legtoleg.refresher.proof import certificate
from legtoleg.refresher.proof.certificate import NoCertificateError, certificate_page, write_certificate
from legtoleg.refresher.record.shop import Shop, ShopError


def test_it_says_what_it_is(shop: Shop, clock: Any, outcome: Callable[..., Any]) -> None:
    passed = outcome(shop, "ada-01", date(2027, 1, 4))
    outcome(shop, "bo-02", date(2027, 1, 4), passed=False, held=("isolation",))
    page = certificate_page(shop, "ada-01")
    for words in (
        "a training record",
        "It is not a license",
        "makes no one a qualified person",
        "Ada Demo",
        "2028-01-04",
    ):
        assert words in page
    assert passed.hash in page
    assert shop.entries()[-1].hash in page
    assert "ended:" not in page
    with pytest.raises(NoCertificateError, match="bo-02 has not passed"):
        certificate_page(shop, "bo-02")
    with pytest.raises(ShopError, match="Nobody with the id"):
        certificate_page(shop, "zed-99")
    data = {"trigger": "near-miss", "title": "A near miss", "topics": ["isolation"], "note": "", "by": "Ida Demo"}
    shop.enter(shop.draft("called", "ada-01", date(2027, 1, 4), **data))
    assert "ended: a near miss on 2027-01-04" in certificate_page(shop, "ada-01")


def test_without_a_browser_it_says_so(shop: Shop, outcome: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    outcome(shop, "ada-01", date(2027, 1, 4))
    monkeypatch.setattr(certificate, "chromium", lambda: None)
    made = write_certificate(shop, "ada-01")
    assert made.pdf is None
    assert made.why_no_pdf == "No PDF: there is no Chromium here. Open the page in any browser and print it."
    monkeypatch.setattr(certificate, "chromium", lambda: "/bin/false")
    assert "did not print" in write_certificate(shop, "ada-01").why_no_pdf


@pytest.mark.slow
@pytest.mark.browser
def test_on_paper_it_is_one_page(shop: Shop, outcome: Callable[..., Any], chromium: str) -> None:
    entry = outcome(shop, "ada-01", date(2027, 1, 4))
    made = write_certificate(shop, "ada-01")
    assert made.pdf is not None, made.why_no_pdf
    read = pypdf.PdfReader(made.pdf)
    assert len(read.pages) == 1
    text = read.pages[0].extract_text()
    assert "not a license" in text
    assert entry.hash[:20] in text.replace("\n", "")
