"""Printing: a page to PDF through a Chromium on this computer; nothing is fetched from outside."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from dryerbench.core.errors import LegToLegError

NAMES = ("chromium", "chromium-browser")
"""What Chromium is called on the path."""

_LONGEST = 300
"""Seconds that one page may take."""


class ChromiumMissingError(LegToLegError, FileNotFoundError):
    """There is no Chromium here; the text says what to do."""


class PrintingError(LegToLegError, RuntimeError):
    """Chromium made no PDF of a page."""


def find_chromium(given: str = "") -> str:
    """Return the path of Chromium: the one ``given``, else the one on the path.

    Raises
    ------
    ChromiumMissingError
        If it is not there.
    """
    for name in (given,) if given else NAMES:
        found = shutil.which(name)
        if found:
            return found
    missing = f"There is no program {given}" if given else "Chromium is not on this computer"
    raise ChromiumMissingError(
        f"{missing}, so no PDF was made. Print the HTML pages from any browser, or name a Chromium: --browser PATH."
    )


def print_pdf(page: Path, chromium: str) -> Path:
    """Write the PDF of the HTML ``page`` beside it and return its path; the page's own style sets the paper.

    Raises
    ------
    PrintingError
        If no PDF came out.
    """
    pdf = page.with_suffix(".pdf")
    pdf.unlink(missing_ok=True)
    as_root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with tempfile.TemporaryDirectory(prefix="leg-to-leg-", ignore_cleanup_errors=True) as profile:
        command = [chromium, "--headless", "--disable-gpu", "--no-first-run", "--disable-background-networking"]
        command += [*as_root, f"--user-data-dir={profile}", "--no-pdf-header-footer", f"--print-to-pdf={pdf.resolve()}"]
        try:
            subprocess.run([*command, page.resolve().as_uri()], check=False, capture_output=True, timeout=_LONGEST)
        except (OSError, subprocess.TimeoutExpired) as error:
            raise PrintingError(f"Chromium made no PDF of {page.name}: {type(error).__name__}.") from None
    if not pdf.is_file():
        raise PrintingError(f"Chromium made no PDF of {page.name}. Print the HTML page from any browser.")
    return pdf
