"""The colors of the machine view by name, in a light and a dark theme, and their contrast.

Contrast and luminance by the formula of WCAG 2.2 (sRGB, definitions of "relative luminance" and "contrast ratio");
lightness L* by CIE 1976, which is what grey print keeps.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

LIGHT: Mapping[str, str] = MappingProxyType(
    {
        "ink": "#20272C",  # outlines and words
        "paper": "#F5F2EA",  # the ground
        "white": "#FDFCF8",  # buttons, ceramic, sleeves
        "enamel": "#E3E5E0",  # painted metal, floor
        "zinc": "#BEC7CA",  # bare sheet metal
        "slate": "#58646C",  # holes, rubber, the meter's body
        "hole": "#20272C",  # slots, strain relief, a breaker's body
        "deep": "#6E7A82",  # the drum's back
        "faint": "#8E979B",  # seams, ribs
        "brass": "#C9A35F",  # metal that a tip can touch
        "straw": "#F0DDA8",  # paper tags, tape, lock chip
        "glow": "#F0DDA8",  # a hot coil
        "live": "#B5451B",  # only: volts, heat, the second lead
        "focus": "#1C5A94",  # only: what can be pressed or is selected
        "char": "#6A5A45",  # burnt metal and sleeve
        "scorch": "#20272C",
        "shadow": "#20272C",
        "on-ink": "#FDFCF8",  # words on ink
        "on-slate": "#FDFCF8",
        "on-live": "#FDFCF8",
        "on-straw": "#20272C",
        "display": "#E9EBDD",
        "digits": "#20272C",
        "tone-white": "#FDFCF8",
        "tone-brass": "#C9A35F",
        "tone-slate": "#58646C",
        "tone-black": "#343D44",
        "tracer-dark": "#20272C",
        "tracer-light": "#FDFCF8",
    }
)
"""Ink on paper."""

DARK: Mapping[str, str] = MappingProxyType(
    {
        "ink": "#E6EAE8",
        "paper": "#1B2124",
        "white": "#3A444A",
        "enamel": "#2C3439",
        "zinc": "#4A555C",
        "slate": "#101518",
        "hole": "#05080A",
        "deep": "#232B30",
        "faint": "#7C888F",
        "brass": "#86672D",
        "straw": "#5E5028",
        "glow": "#FFF6DC",
        "live": "#F4854F",
        "focus": "#8CC4F5",
        "char": "#3B3024",
        "scorch": "#050708",
        "shadow": "#000000",
        "on-ink": "#1B2124",
        "on-slate": "#E6EAE8",
        "on-live": "#1B2124",
        "on-straw": "#F6EBCB",
        "display": "#C9CDBB",
        "digits": "#20272C",
        "tone-white": "#F4F3EE",
        "tone-brass": "#96743A",
        "tone-slate": "#545F67",
        "tone-black": "#0B0F11",
        "tracer-dark": "#20272C",
        "tracer-light": "#F4F3EE",
    }
)
"""Light lines on a dark ground; a wire keeps its tone: white is light, black is dark."""

_TOKEN = re.compile(r'="\$([a-z-]+)"')


def dress(svg: str, palette: Mapping[str, str] = LIGHT) -> str:
    """Return ``svg`` with the colors of ``palette`` in place of their names.

    Raises
    ------
    KeyError
        For a color that the palette does not have.
    """
    return _TOKEN.sub(lambda found: f'="{palette[found[1]]}"', svg)


def dress_for_page(svg: str, prefix: str = "mv") -> str:
    """Return ``svg`` with CSS variables (``--mv-ink``) in place of the names, so that a page changes the theme."""
    return _TOKEN.sub(lambda found: f'="var(--{prefix}-{found[1]}, {LIGHT[found[1]]})"', svg)


def variables(palette: Mapping[str, str], prefix: str = "mv") -> str:
    """Return the palette as CSS declarations, for ``dress_for_page``."""
    return " ".join(f"--{prefix}-{name}: {color};" for name, color in palette.items())


def luminance(color: str) -> float:
    """Return the relative luminance of ``#RRGGBB``, 0 to 1."""
    channels = [int(color[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colors, 1 to 21."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def lightness(color: str) -> float:
    """Return CIE L* of ``#RRGGBB``, 0 to 100."""
    y = luminance(color)
    return 116 * y ** (1 / 3) - 16 if y > 216 / 24389 else y * 24389 / 27
