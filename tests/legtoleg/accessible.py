"""What axe-core, by its own rules, finds wrong with a page that is made here."""

from __future__ import annotations

from typing import Any

import pytest

OURS = (".jp-RenderedMarkdown", ".jp-OutputArea-output")
"""What of a page in JupyterLab is ours: the texts of a lesson, and what its cells show."""


def violations(page: Any, *parts: str) -> dict[str, str]:
    """Return the rules that a page breaks, each with the first place where it does; all of it or ``parts`` of it."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    context = {"include": [[part] for part in parts]} if parts else None
    found = axe.run(page, context=context).response["violations"]
    return {one["id"]: f"{one['help']}: {[node['html'][:200] for node in one['nodes'][:3]]}" for one in found}
