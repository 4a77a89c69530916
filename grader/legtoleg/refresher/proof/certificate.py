"""Certificates: the last passed test of one person as a page to print. A training record, not a license."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from legtoleg.core.files import write_whole
from legtoleg.core.page_templates import template
from legtoleg.ledger.entry import Entry
from legtoleg.refresher.record.due_list import PersonDue, dues
from legtoleg.refresher.record.ledger_entry import RECORDED
from legtoleg.refresher.record.shop import Shop

FOLDER = "certificates"
_SECONDS = 90


class NoCertificateError(LegToLegError, LookupError):
    """A certificate for which there is no passed test."""


@dataclass(frozen=True)
class Certificate:
    """A certificate as written: the page, and the PDF or why there is none."""

    page: Path
    pdf: Path | None
    why_no_pdf: str


def last_pass(one: PersonDue) -> Entry:
    """Return the entry of the last test that was passed.

    Raises
    ------
    NoCertificateError
        If there is none.
    """
    passed = [entry for entry in one.past.entries if entry.kind == RECORDED and entry.data["passed"]]
    if not passed:
        raise NoCertificateError(f"{one.person.id} has not passed a refresher here, so there is nothing to certify.")
    return max(passed, key=lambda entry: (entry.on, entry.number))


def certificate_page(shop: Shop, who: str) -> str:
    """Return the certificate of ``who`` as HTML that stands by itself.

    Raises
    ------
    ShopError
        If nobody of that id works here.
    NoCertificateError
        If no test was passed.
    """
    who = shop.person(who).id
    entries = shop.entries()
    one = next(one for one in dues(shop, shop.today(), entries).people if one.person.id == who)
    entry = last_pass(one)
    rows = [
        {
            "title": found.topic.title,
            "critical": found.topic.critical,
            "until": found.until.isoformat() if found.until else "no period",
            "good": found.good,
            "reason": found.reason,
        }
        for found in one.found
        if found.topic.topic in entry.data["topics"]
    ]
    return template("refresher/certificate.html").render(
        shop=shop.settings.name,
        zone=shop.settings.zone,
        jurisdiction=shop.settings.jurisdiction,
        day=shop.today().isoformat(),
        name=one.person.name,
        who=who,
        on=entry.on.isoformat(),
        points=f"{entry.data['points']:g}",
        of=f"{entry.data['of']:g}",
        safety=sum(1 for question in entry.data["questions"] if question["safety"]),
        count=len(entry.data["questions"]),
        rows=rows,
        number=entry.number,
        hash=entry.hash,
        last=entries[-1].number,
        head=entries[-1].hash,
    )


def chromium() -> str | None:
    """Return the headless browser that prints to PDF, if there is one."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


def print_pdf(page: Path, pdf: Path) -> str:
    """Print ``page`` to ``pdf`` with a headless browser; return why it could not be done, or nothing."""
    browser = chromium()
    if browser is None:
        return "No PDF: there is no Chromium here. Open the page in any browser and print it."
    with tempfile.TemporaryDirectory(prefix="leg-to-leg-print-") as folder:
        made = Path(folder) / "made.pdf"
        as_root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
        command = [
            browser,
            "--headless",
            "--disable-gpu",
            "--no-first-run",
            "--disable-background-networking",
            *as_root,
        ]
        command += [f"--user-data-dir={folder}/profile", "--no-pdf-header-footer", f"--print-to-pdf={made}"]
        try:
            subprocess.run([*command, page.resolve().as_uri()], check=True, capture_output=True, timeout=_SECONDS)
            write_whole(pdf, made.read_bytes())
        except (OSError, subprocess.SubprocessError) as error:
            return (
                f"No PDF: Chromium did not print ({type(error).__name__}). Open the page in any browser and print it."
            )
    return ""


def write_certificate(shop: Shop, who: str) -> Certificate:
    """Write the certificate of ``who`` as a page and, where that can be done, as a PDF.

    Raises
    ------
    NoCertificateError
        If no test was passed.
    """
    page = shop.folder / FOLDER / f"certificate-{who}.html"
    write_whole(page, certificate_page(shop, who).encode("utf-8"))
    pdf = page.with_suffix(".pdf")
    why = print_pdf(page, pdf)
    return Certificate(page, None if why else pdf, why)
