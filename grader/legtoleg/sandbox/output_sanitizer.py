"""What cells showed, read as untrusted data and turned into outputs that a notebook may hold."""

from __future__ import annotations

import math
import re
from typing import TypeAlias

import nbformat
from nbformat.notebooknode import NotebookNode

Json: TypeAlias = "bool | int | float | str | list[Json] | dict[str, Json] | None"
"""What plain JSON holds."""
Output = dict[str, Json]

MOST_OUTPUTS = 200
"""Outputs of one cell that are kept."""
MOST_CHARACTERS = 400_000
"""Characters of one text that are kept."""
_JSON = re.compile(r"application/(.*\+)?json")
_MOST_KINDS = 12
_DEEPEST = 8


def plain_data(value: object, depth: int = 0) -> Json:
    """Return ``value`` if it is plain JSON of finite numbers and moderate depth; anything else becomes None."""
    if isinstance(value, str):  # first what there is most of: a notebook has a thousand texts
        return _plain_text(value)
    if value is None or isinstance(value, bool | int):
        return value
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, list) and depth < _DEEPEST:
        return [plain_data(item, depth + 1) for item in value[:1000]]
    if isinstance(value, dict) and depth < _DEEPEST:
        pairs = value.items() if len(value) <= 1000 else list(value.items())[:1000]
        return {_plain_text(str(key)): plain_data(item, depth + 1) for key, item in pairs}
    return None


def _plain_text(text: str) -> str:
    kept = text if len(text) <= MOST_CHARACTERS else text[:MOST_CHARACTERS]
    return kept if kept.isascii() else kept.encode("utf-8", "replace").decode("utf-8")


def _bundle(data: object) -> dict[str, Json] | None:
    """Return the forms of one display: text by media type, or data where the type is JSON."""
    if not isinstance(data, dict):
        return None
    kept: dict[str, Json] = {}
    for kind, value in list(data.items())[:_MOST_KINDS]:
        if isinstance(kind, str) and (_JSON.fullmatch(kind) or isinstance(value, str)):
            kept[kind[:200]] = plain_data(value)
    return kept or None


def _checked(output: object) -> Output | None:
    if not isinstance(output, dict):
        return None
    kind = output.get("output_type")
    if kind == "stream" and output.get("name") in ("stdout", "stderr") and isinstance(output.get("text"), str):
        return {"output_type": kind, "name": output["name"], "text": plain_data(output["text"])}
    if kind in ("display_data", "execute_result"):
        data = _bundle(output.get("data"))
        return None if data is None else {"output_type": kind, "data": data, "metadata": {}}
    if kind == "error":
        lines = output.get("traceback")
        texts = [plain_data(str(line)[:4000]) for line in lines[:100]] if isinstance(lines, list) else []
        name, value = (plain_data(str(output.get(key, ""))[:2000]) for key in ("ename", "evalue"))
        return {"output_type": kind, "ename": name, "evalue": value, "traceback": texts}
    return None


def checked_outputs(outputs: object) -> list[Output]:
    """Return those of ``outputs`` that have the form of a notebook's outputs, cut to a readable size."""
    if not isinstance(outputs, list):
        return []
    return [good for output in outputs[:MOST_OUTPUTS] if (good := _checked(output)) is not None]


def as_nodes(outputs: list[Output]) -> list[NotebookNode]:
    """Return checked outputs as nbformat's nodes."""
    return [nbformat.from_dict(_whole(output)) for output in outputs]


def _whole(output: Output) -> Output:
    return {**output, "execution_count": None} if output["output_type"] == "execute_result" else output
