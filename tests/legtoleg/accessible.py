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


_CRAMPED = r"""() => {
  const wrong = {};
  const beyond = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  if (beyond > 1) wrong["moves-sideways"] = `the page is ${beyond} px wider than its window`;
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  const broken = [];
  while (walker.nextNode()) {
    const node = walker.currentNode;
    if (node.parentElement.closest("code, small, script, style, svg, .file")) continue;
    for (const word of node.data.matchAll(/\p{L}{3,18}/gu)) {
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const lines = new Set([...range.getClientRects()].filter(one => one.width > 0).map(one => Math.round(one.top)));
      if (lines.size > 1) broken.push(word[0]);
    }
  }
  if (broken.length) wrong["broken-words"] = broken.slice(0, 12).join(", ");
  return wrong;
}"""


def cramped(page: Any) -> dict[str, str]:
    """Return where a page is too wide for its window, and which plain words it breaks in the middle to fit."""
    found: dict[str, str] = page.evaluate(_CRAMPED)
    return found
