"""What axe-core, by its own rules, finds wrong with a page that is made here."""

from __future__ import annotations

from typing import Any

import pytest

OURS = (".jp-RenderedMarkdown", ".jp-OutputArea-output")
"""What of a page in JupyterLab is ours: the texts of a lesson, and what its cells show."""
_RUN = """async parts => {
    const { violations } = await window.axe.run(parts || document, { resultTypes: ["violations"] });
    return violations;
}"""
"""Run all rules of axe-core, which is on the page already, over the page or parts of it."""


def violations(page: Any, *parts: str) -> dict[str, str]:
    """Return the rules that a page breaks, each with the first place where it does; all of it or ``parts`` of it."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate(axe.axe_script)
    found = page.evaluate(_RUN, {"include": [[part] for part in parts]} if parts else None)
    return {one["id"]: f"{one['help']}: {[node['html'][:200] for node in one['nodes'][:3]]}" for one in found}
