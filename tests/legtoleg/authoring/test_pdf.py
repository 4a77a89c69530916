"""Printing: a missing Chromium, and one that makes nothing, are one clear line."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from legtoleg.authoring import pdf


def test_no_chromium_says_what_to_do(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(pdf.ChromiumMissingError, match=r"not on this computer, so no PDF.*--browser PATH"):
        pdf.find_chromium()
    with pytest.raises(pdf.ChromiumMissingError, match="no program gone"):
        pdf.find_chromium("gone")


def test_the_one_that_is_named_is_taken() -> None:
    assert pdf.find_chromium(sys.executable) == sys.executable


def test_no_pdf_is_an_error_and_no_old_one_stays(tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    page.write_text("<p>hello</p>", encoding="utf-8")
    page.with_suffix(".pdf").write_bytes(b"old")
    with pytest.raises(pdf.PrintingError, match=r"no PDF of page\.html"):
        pdf.print_pdf(page, sys.executable)
    assert not page.with_suffix(".pdf").exists()
