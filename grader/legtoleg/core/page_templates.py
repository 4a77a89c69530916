"""Page templates: HTML in which whatever is put in is escaped, and loses what steers a screen."""

from __future__ import annotations

from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template

from legtoleg.core.outside_words import unsteered
from legtoleg.core.paths import TEMPLATES


def _shown(value: object) -> object:
    """Return what is put into a page without letters that steer a screen or turn the direction of writing."""
    return unsteered(value) if type(value) is str else value


@cache
def template(name: str) -> Template:
    """Return a page's template; whatever is put into it is escaped."""
    pages = Environment(loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined, finalize=_shown)
    return pages.get_template(name)
