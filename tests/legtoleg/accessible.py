"""What axe-core, by its own rules, finds wrong with a page that is made here."""

from __future__ import annotations

from typing import Any

import pytest


def violations(page: Any) -> dict[str, str]:
    """Return the rules that a whole page breaks, each with the first place where it does."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    found = axe.run(page).response["violations"]
    return {one["id"]: f"{one['help']}: {one['nodes'][0]['html'][:200]}" for one in found}
