"""A drawing that remembers what stands where: its parts, its words, and what can be pressed or probed on it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from html import escape

from dryerbench.machine_view.geometry import Box, Place, number, word_width
from dryerbench.machine_view.palette import LIGHT, dress, dress_for_page
from dryerbench.machine_view.strokes import EDGE, FONT, at, disc, element, group, line, path, rect, text

TOUCH = 24.5
"""Half the least distance between two targets, in units: 49 units are 44 px at the notebook's scale of 0.90."""
LEAST_SIZE = 12.0
"""The smallest words, in units: 10.8 px at that scale."""


@dataclass(frozen=True, slots=True)
class Word:
    """A line of words and the box it takes."""

    words: str
    box: Box


@dataclass(frozen=True, slots=True)
class Target:
    """What can be pressed (``place``), probed (``point``), clamped (``jaw``) or felt warm (``warm``).

    Its id, what it is called aloud, and where it is.
    """

    kind: str
    name: str
    spoken: str
    x: float
    y: float


class Drawing:
    """A drawing of ``width`` by ``height`` units, written from back to front."""

    def __init__(self, width: float, height: float, title: str, told: str) -> None:
        self.width, self.height, self.title, self.told = width, height, title, told
        self.words: list[Word] = []
        self.parts: dict[str, Box] = {}
        self.targets: list[Target] = []
        self._body: list[str] = []
        self._over: list[str] = []

    def add(self, *svg: str) -> None:
        """Draw over what is there."""
        self._body += svg

    def add_over(self, *svg: str) -> None:
        """Draw over everything, marks included."""
        self._over += svg

    @contextmanager
    def moving(self, what: str, x: float, y: float, size: float = 0.0, turn: float = 0.0) -> Iterator[None]:
        """Draw what is added meanwhile as one thing at (x, y), which a page may let slide to where it next is."""
        start = len(self._body)
        yield
        place = " ".join(number(float(length)) for length in (x, y, size, turn))
        self._body[start:] = [group(*self._body[start:], data_move=what, data_at=place)]

    def part(self, name: str, box: Box) -> None:
        """Remember the box of a part that nothing else may cover."""
        self.parts[name] = box

    def word(
        self,
        x: float,
        y: float,
        words: str,
        size: float = 12.5,
        anchor: str = "start",
        weight: int = 400,
        ink: str = "$ink",
    ) -> None:
        """Write a line of words and remember its box."""
        wide = word_width(words, size, bold=weight >= 600)
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        self.words.append(Word(words, Box(left, y - 0.8 * size, wide, size)))
        self._body.append(text(x, y, words, size, ink, anchor, weight))

    def upright_words(self, x: float, y: float, lines: list[str], size: float) -> None:
        """Write lines that read from bottom to top, centered on (x, y), and remember their boxes."""
        for k, words in enumerate(lines):
            across = x + (k - (len(lines) - 1) / 2) * 15 + size * 0.34
            wide = word_width(words, size, bold=True)
            self.words.append(Word(words, Box(across - 0.8 * size, y - wide / 2, size, wide)))
            self.add(at(across, y, text(0, 0, words, size, "$on-straw", "middle", 600), degrees=-90))

    def place(self, name: str, spoken: str, x: float, y: float, *, chosen: bool = False) -> None:
        """Mark what can be pressed: a white disc with a blue rim; ``chosen`` has the ring with four ticks."""
        mark = disc(x, y, 10, "$white", 0) + disc(x, y, 7.4, "$white", 2.4, "$focus")
        self._target(Target("place", name, spoken, x, y), mark, chosen=chosen)

    def framed(self, name: str, spoken: str, box: Box, *, chosen: bool = False) -> None:
        """Mark a symbol that can be pressed by a thin blue frame; ``chosen`` has a bold one with four ticks."""
        mark = focus_frame(box) if chosen else rect(box, "none", 1.2, 5, "$focus")
        self._target(Target("place", name, spoken, *box.middle), mark, chosen=chosen, ring="")

    def point(
        self, name: str, spoken: str, x: float, y: float, *, chosen: bool = False, mark: str | None = None
    ) -> None:
        """Mark where a probe can go: the small brother of the mark of what can be pressed."""
        drawn = disc(x, y, 4.4, "$white", 1.8, "$focus") if mark is None else mark
        self._target(Target("point", name, spoken, x, y), drawn, chosen=chosen)

    def wire(self, name: str, spoken: str, x: float, y: float, way: str, *, chosen: bool = False) -> None:
        """Mark where the clamp goes around a wire that runs along ``way``: a rim, open for the wire."""
        rim = disc(x, y, 8, "none", 5, "$white") + disc(x, y, 8, "none", 2.4, "$focus")
        reach = path(way, "none", 9, "transparent", class_="mv-way")
        self._target(Target("jaw", name, spoken, x, y), reach + ("" if chosen else rim), chosen=chosen, ring="")

    def touched(self, name: str, spoken: str, x: float, y: float, *, chosen: bool = False) -> None:
        """Mark where the temperature probe can touch: as where a tip can go."""
        drawn = disc(x, y, 8, "$white", 0) + disc(x, y, 6, "$white", 2.2, "$focus")
        self._target(Target("warm", name, spoken, x, y), "" if chosen else drawn, chosen=chosen, ring="")

    def _target(self, target: Target, mark: str, *, chosen: bool, ring: str | None = None) -> None:
        self.targets.append(target)
        hand = element("circle", cx=target.x, cy=target.y, r=TOUCH, fill="transparent")
        if ring is None:
            ring = focus_ring(target.x, target.y) if chosen else ""
        self._over.append(
            group(
                hand + ring + mark,
                **{f"data_{target.kind}": target.name},
                role="button",
                tabindex="0",
                aria_label=target.spoken,
                aria_pressed="true" if chosen else "false",
            )
        )

    def strip_marks(self) -> None:
        """Take off the marks of what can be pressed, and whatever lies over the drawing: a still has none."""
        self.targets.clear()
        self._over.clear()

    def leader(self, start: Place, end: Place) -> None:
        """Draw a thin line from a word to what it names."""
        self.add(line(*start, *end, 0.7), disc(*start, 1.8, "$ink", 0))

    def raw(self) -> str:
        """Return the SVG with the names of its colors."""
        hatch = element(
            "pattern",
            line(0, 0, 0, 7, 1.5, "$slate"),
            id="hatch",
            width="7",
            height="7",
            patternUnits="userSpaceOnUse",
            patternTransform="rotate(45)",
        )
        role = "group" if self.targets else "img"
        ground = rect(Box(0, 0, self.width, self.height), "$paper", 0)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width:g} {self.height:g}" '
            f'width="{self.width:g}" height="{self.height:g}" font-family="{FONT}" role="{role}" '
            f'aria-label="{escape(self.title, quote=True)}"><title>{escape(self.title)}</title>'
            f"<desc>{escape(self.told)}</desc>{element('defs', hatch)}{ground}{''.join(self._body)}"
            f"{''.join(self._over)}</svg>"
        )

    def svg(self, palette: Mapping[str, str] = LIGHT) -> str:
        """Return the SVG in the colors of ``palette``."""
        return dress(self.raw(), palette)

    def for_page(self) -> str:
        """Return the SVG with colors that a page sets by CSS variables."""
        return dress_for_page(self.raw())


def focus_ring(x: float, y: float, r: float = 19.0) -> str:
    """Return the ring of what is chosen: white under blue, with four ticks, so that it reads on any material."""
    ticks = "".join(
        path(
            f"M{x + a * (r - 1):.1f} {y + b * (r - 1):.1f}L{x + a * (r + 7):.1f} {y + b * (r + 7):.1f}",
            "none",
            2.4,
            "$focus",
        )
        for a, b in ((0.71, 0.71), (-0.71, 0.71), (-0.71, -0.71), (0.71, -0.71))
    )
    return disc(x, y, r, "none", 6, "$white") + disc(x, y, r, "none", 2.6, "$focus") + ticks


def focus_frame(box: Box) -> str:
    """Return the frame of what is chosen, where a ring would hide it: white under blue, with a tick at each corner."""
    ticks = "".join(
        line(x + 2 * a, y + 2 * b, x + 8 * a, y + 8 * b, 2.4, "$focus")
        for x, a in ((box.x, -1), (box.right, 1))
        for y, b in ((box.y, -1), (box.bottom, 1))
    )
    return rect(box, "none", 6, 5, "$white") + rect(box, "none", 2.6, 5, "$focus") + ticks


def lock_sign(x: float, y: float, scale: float = 1.0) -> str:
    """Return a small padlock."""
    hasp = f"M{x - 5 * scale:g} {y:g}v{-6 * scale:g}a{5 * scale:g} {5 * scale:g} 0 0 1 {10 * scale:g} 0v{6 * scale:g}"
    body = rect(Box(x - 9 * scale, y, 18 * scale, 14 * scale), "$brass", EDGE, 3 * scale)
    return path(hasp, "none", 2.4 * scale) + body + disc(x, y + 6 * scale, 1.8 * scale, "$ink", 0)


def veil(data: str) -> str:
    """Return the veil over what is out of reach: the ground at 62 % and a hatch."""
    return element("path", d=data, fill="$paper", fill_opacity=0.62) + element(
        "path", d=data, fill="url(#hatch)", fill_opacity=0.8
    )
