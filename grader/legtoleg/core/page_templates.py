"""Page templates: HTML in which whatever is put in is escaped."""

from __future__ import annotations

from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template

from legtoleg.core.paths import TEMPLATES


@cache
def template(name: str) -> Template:
    """Return a page's template; whatever is put into it is escaped."""
    pages = Environment(loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined)
    return pages.get_template(name)
