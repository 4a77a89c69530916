"""Members: the modules of all topics that are called alike, found rather than listed: a topic is added as a folder."""

from __future__ import annotations

import pkgutil
from importlib import import_module
from importlib.util import find_spec
from types import ModuleType

TOPICS = "dryerbench.topics"


def topics() -> list[str]:
    """Return the names of all topics, sorted."""
    return sorted(found.name for found in pkgutil.iter_modules(import_module(TOPICS).__path__) if found.ispkg)


def members(name: str) -> dict[str, ModuleType]:
    """Return the module ``name`` of every topic that has one, by topic, sorted."""
    places = {topic: f"{TOPICS}.{topic}.{name}" for topic in topics()}
    return {topic: import_module(place) for topic, place in places.items() if find_spec(place)}
