"""A board of terminals: any machine's test points by the part they belong to, for a page that cannot draw the machine.

What a supervised test holds elsewhere is shown so: which points there are is on the tech sheet; nothing tells a fault.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import groupby

from dryerbench.drawing.panel_drawing import SPOTS, WIDTH, neighbors_of

_COLUMNS, _FIRST, _TOP = 5, 280, 70
_WIDE, _HIGH, _APART, _MOST = 168, 104, 40, 4
_OUTSIDE = ("outlet", "plug")


def _cell(number: int) -> tuple[int, int]:
    """Return the left edge and the top of cell ``number`` of the board."""
    return _FIRST + number % _COLUMNS * _WIDE, _TOP + number // _COLUMNS * _HIGH


def board_spots(points: Iterable[str]) -> dict[str, tuple[int, int, str]]:
    """Return where each of ``points`` is on the board, and on which side its name is written; lengths of the page."""
    there = list(points)
    spots = {point: SPOTS[point] for point in there if point.split("-")[0] in _OUTSIDE}
    inside = [point for point in there if point not in spots]
    number = 0
    for _, group in groupby(inside, part_of):
        ends = list(group)
        for start in range(0, len(ends), _MOST):
            left, top = _cell(number)
            for place, point in enumerate(ends[start : start + _MOST]):
                spots[point] = (left + place * _APART, top + 50, "below" if place % 2 else "above")
            number += 1
    return {point: spots[point] for point in there}


def part_of(point: str) -> str:
    """Return the part that ``point`` belongs to; the terminal block is one part, and the bare cabinet another."""
    head, dot, _ = point.partition(".")
    return head if dot else "cabinet" if point == "case" else "block"


def terminal_board(behind: Mapping[str, str], words: Mapping[str, str]) -> dict[str, object]:
    """Return the board as plain data for the panel.

    ``behind`` says for each point what has to be off before it is reached, ``words`` what each part is.
    """
    spots = board_spots(behind)
    inside = [point for point in behind if point.split("-")[0] not in _OUTSIDE]
    said, number = [], 0
    for part, group in groupby(inside, part_of):
        cells = -(-len(list(group)) // _MOST)
        left, top = _cell(number)
        said.append([left + 50, top + 8, words.get(part, part)])
        number += cells
    height = _cell(number - 1)[1] + _HIGH + 20
    return {
        "size": [WIDTH, max(640, height)],
        "cover": [_FIRST - 60, _TOP - 30, WIDTH - _FIRST + 40, max(640, height) - _TOP],
        "board": [0, 0, 0, 0],
        "case": [0, 0, 0],
        "words": [[60, 26, "receptacle"], [150, 26, "cord plug"], *said],
        "points": [
            {
                "name": name,
                "x": x,
                "y": y,
                "side": side,
                "title": f"{words.get(part_of(name), part_of(name))}: {name}" if name in inside else name,
                "behind": behind[name],
            }
            for name, (x, y, side) in spots.items()
        ],
        "parts": [],
        "wires": [],
    }


def board_neighbors(points: Iterable[str]) -> dict[str, dict[str, str]]:
    """Return, for each of ``points`` on the board, the point that each arrow key goes to."""
    return neighbors_of(board_spots(points))
