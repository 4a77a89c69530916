"""The page "What an answer may look like" (``lessons/ANSWERS.md``), made from the examples that the tests run."""

from __future__ import annotations

import csv
from itertools import groupby
from pathlib import Path

from dryerbench.answers.units import LESSON_NAMES, UNITS

__all__ = ["EXAMPLES", "PAGE", "page_text", "write_page"]

EXAMPLES = Path("tests/dryerbench/answers/answer_examples.csv")
"""The examples, from the top of a checkout: columns group, typed, reads_as, asks."""
PAGE = Path("lessons/ANSWERS.md")
"""The page, from the top of a checkout."""

_HEAD = """# What an answer may look like

Type your answer after the `=` sign, in quotes. It is one number, then its unit, or the sum that leads to it.

```python
element_current = "8.89 A"
element_current = "240 V / 27 ohm"
element_current = "240 V / 27 ohm = 8.89 A"
```

The unit can be typed the way it is said in the shop. Capitals matter only where m (milli) and M (mega) differ. When
a number or a unit could mean two things, the page asks you, in one line. It does not guess. Type it again the clear
way.

- Use a point for the decimals (`8.9`), and nothing between thousands (`1200`).
- Give as many figures as the question asks for. Zeros at the end count: `0.30 ohm` has two figures, `240 V` three.
- When the meter shows that it is over its limit, the answer is `"OL"`, with no unit.
- In a sum every number that has a unit carries it. Numbers in brackets may share one: `(8.9 + 8.8 + 9.0) A`. There are
  `+ - * /`, brackets, `x`, `×`, `÷`, and powers: `240 V ^ 2` is the square of 240 V. A sum is taken as it comes out, so
  you need not round it. If you type a result behind it, that is your answer. It has to be what the sum comes to.
- The sum stays with your answer. When the answer is wrong, it can show that only one number or the last step was off.
- Volts times amps come out in W. Type VA only where VA is asked for.
- Three decimals are read as typed (`26.667 A`, `0.375 in`). Some may be thousands, like `10.000 ohm`, or `1.200 W` and
  other units that go by the thousand. Then the page asks you.
- You can only subtract temperatures from one another, both in °F or both in °C.
- Python can work it out too, with units and no quotes: `240 * V / (27 * ohm)` is 8.89 A.

*This page is made from the course's own tests: each line is tried whenever the course is tested.*
"""
_SPECIAL = {
    "\N{NO-BREAK SPACE}": "with a no-break space",
    "\N{OHM SIGN}": "with the other ohm sign",
    "\N{GREEK SMALL LETTER MU}": "with the Greek letter mu",
    "\N{MINUS SIGN}": "with a true minus sign",
    '"': "between single quotes",
}

_LOOK_ALIKES = str.maketrans("\N{OHM SIGN}\N{GREEK SMALL LETTER MU}", "\N{GREEK CAPITAL LETTER OMEGA}\N{MICRO SIGN}")


def page_text(examples: Path) -> str:
    """Return the page in Markdown, made from the file of examples and the table of units."""
    with examples.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    sections = [_section(group, list(members)) for group, members in groupby(rows, key=lambda row: row["group"])]
    return "\n".join([_HEAD, *sections, _units_section()])


def write_page(root: Path) -> Path:
    """Write the page of the checkout at ``root`` and return where it is."""
    page = root / PAGE
    page.write_text(page_text(root / EXAMPLES), encoding="utf-8", newline="\n")
    return page


def _section(group: str, rows: list[dict[str, str]]) -> str:
    asked = any(row["asks"] for row in rows)
    lines = [
        f"## {group}",
        "",
        "| you type | you are asked |" if asked else "| you type | it is read as |",
        "| --- | --- |",
    ]
    lines += [f"| {_typed(row['typed'])} | {_cell(row['asks'] or row['reads_as'])} |" for row in rows]
    return "\n".join([*lines, ""])


def _typed(text: str) -> str:
    """Return what is typed as code, with a word on a character that cannot be told by eye."""
    if not text:
        return "*(nothing)*"
    notes = [note for character, note in _SPECIAL.items() if character in text]
    code = f"`` {text} ``" if "`" in text else f"`{text}`"
    return " ".join([_cell(code), *(f"({note})" for note in notes)])


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def _units_section() -> str:
    names = {symbol: name for name, symbol in LESSON_NAMES.items()}
    lines = [
        "## Every unit",
        "",
        "Words in small letters may be typed in any case. The last column is the unit's name in a sum with units, such",
        "as `8.9 * A`; a lesson brings the names that it needs.",
        "",
        "| unit | it measures | may also be typed | in a sum |",
        "| --- | --- | --- | --- |",
    ]
    for row in UNITS:
        others = {text.translate(_LOOK_ALIKES): text for text in (*row.words, *row.spellings)}
        also = ", ".join(f"`{text}`" for text in others if text != row.symbol)
        name = f"`{names[row.symbol]}`" if row.symbol in names else ""
        lines.append(f"| {row.symbol} | {row.quantity} | {_cell(also)} | {name} |")
    return "\n".join([*lines, ""])


if __name__ == "__main__":
    write_page(Path(__file__).resolve().parents[3])
