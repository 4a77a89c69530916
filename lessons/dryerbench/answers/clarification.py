"""What to ask when a typed answer is not certain: one line, with the best suggestion where there is one."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from dryerbench.answers.thousands import two_readings
from dryerbench.answers.units import UNITS, spelled
from dryerbench.core.errors import UnreadableAnswerError

if TYPE_CHECKING:
    from dryerbench.answers.answer import Answer

__all__ = [
    "LARGEST",
    "REASONS",
    "SMALLEST",
    "about_difference",
    "about_name",
    "about_object",
    "about_product",
    "about_range",
    "about_size",
    "about_sum",
    "about_text",
    "hidden_character",
    "not_one_number",
    "too_long",
]

REASONS: dict[str, str] = {
    "blank": "nothing was typed",
    "no_unit": "a number without its unit",
    "no_number": "a unit without a number",
    "unknown_unit": "a unit that is not in the table",
    "unclear_unit": "a unit that can mean two things",
    "unclear_number": "a number that can be read in two ways, or in none",
    "unclear_words": "words around the answer",
    "unclear_over_limit": "perhaps the meter's OL",
    "several": "more than one value, a range or a limit",
    "unclear_sum": "a sum whose units do not come out",
    "sum_differs": "a sum with another result behind it",
    "not_finite": "a number that is not finite, or beyond anything a meter shows",
    "too_long": "more characters than an answer needs",
    "hidden_character": "a tab, a line break or another character that cannot be seen",
    "not_an_answer": "neither a text nor a number times a unit",
}
"""The codes of ``UnreadableAnswerError.reason``, each with what it stands for."""

_Parse = Callable[[str], "Answer | None"]
SMALLEST, LARGEST = 1e-30, 1e15
"""The sizes between which a number other than zero is taken for a reading, in any unit."""

_ECHOED = 40
_STEPS = 4
_HOW = 'Type one number and its unit, in quotes, as in "8.9 A".'
_NUMBER = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]{1,3})?"
_SIGNED = rf"[-+\u2212]?{_NUMBER}"
_ANY_NUMBER = re.compile(_NUMBER)
_PLACEHOLDER = re.compile(r"[\s._?…\-]*")
_BARE = re.compile(rf"{_SIGNED}|[-+\u2212]?[0-9](?:[0-9.,']*[0-9.,])?")
_NOT_FINITE = re.compile(r"(?i)[-+\u2212]?(nan|inf|infinity)\b.*")
_LIMIT = re.compile(
    r"(?i)[<>≤≥].*|(?:less|more|greater|higher|lower|smaller|bigger) than .*"
    r"|(?:under|over|above|below|at least|at most|up to|max|min|no more than) .*[0-9].*"
)
_OPEN = re.compile(
    r"(?i)[0o]\s?\.?\s?[l1]\.?|open|open circuit|open line|infinite|infinity|[-+]?inf|∞|no reading|no path"
    r"|no continuity|out of limit|over range|overload|(?:ol|o\.l\.|over limit|∞|infinite) \D{1,12}"
)
_POWER = re.compile("10([⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+)")
_SUPERSCRIPTS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")

# Ways that people write a number and a unit that can be put right in one way: (reason, pattern, replacement).
_REWRITES: tuple[tuple[str, re.Pattern[str], str], ...] = tuple(
    (reason, re.compile(pattern), replacement)
    for reason, pattern, replacement in (
        ("unclear_words", r"""^["'“”‘’(\[«„]+\s*(.*?)\s*["'“”‘’)\]»]+$""", r"\1"),
        ("unclear_words", r"^(?:[A-Za-z][A-Za-z_0-9]{0,11}\s*)?[=:]\s*", ""),
        (
            "unclear_words",
            r"(?i)^(?:the answer is|answer|it is|it's|it reads|reads|i get|i got|total)\s+",
            "",
        ),
        (
            "unclear_number",
            r"(?i)^(?:[~≈∼]+|about|approximately|approx\.?|around|roughly|circa|ca\.?|nearly|almost)\s*",
            "",
        ),
        ("unclear_number", rf"^({_SIGNED})\s*(?:±|\+/-|\+-)\s*{_NUMBER}\s*([^0-9]*)$", r"\1 \2"),
        ("unclear_number", r"^(.*?[^\s0-9].*?)\s*(?:±|\+/-|\+-)\s*[0-9].*$", r"\1"),
        ("unclear_number", r"^(?:[–—]|(?i:minus|negative) )\s*(?=[0-9.])", "-"),
        ("unclear_number", r"^([-+\u2212])\s+(?=[0-9.])", r"\1"),
        ("unclear_number", r"^([-+\u2212]?[0-9]{1,3}(?:\.[0-9]{3})+),([0-9]+)(?![0-9,.])", r"EU\1.\2"),
        ("unclear_number", r"^([-+\u2212]?[1-9][0-9]{0,2}(?:,[0-9]{3})+)(?![0-9,])", r"TH\1"),
        ("unclear_number", r"^([-+\u2212]?[1-9][0-9]{0,2}(?:['’_][0-9]{3})+)(?![0-9,'_])", r"TH\1"),
        ("unclear_number", r"^([-+\u2212]?(?:[1-9][0-9]?(?: [0-9]{3})+|[1-9][0-9]{2}(?: 000)+))(?![0-9,'_])", r"TH\1"),
        ("unclear_number", r"^([-+\u2212]?[0-9]*),([0-9]+)(?![0-9,.])", r"\1.\2"),
        ("unclear_number", r"^([-+\u2212]?[0-9]+)(?: \.|\. )([0-9]+)(?![0-9.])", r"\1.\2"),
        ("unclear_number", r"^([-+\u2212]?[0-9]*\.[0-9]+)\.(?![0-9.])", r"\1"),
        ("unclear_number", rf"^({_SIGNED})\s*[x×*·]\s*10(?:\^|\*\*)([-+]?[0-9]{{1,2}})(?![0-9.])", r"\1e\2"),
        ("unclear_number", r"^10(?:\^|\*\*)([-+]?[0-9]{1,2})(?![0-9.])", r"1e\1"),
        ("unclear_number", r"^(?:([0-9]+)(?: |-))?([0-9]+)/(2|3|4|8|16|32|64)(?![0-9./])", "FRACTION"),
        ("unclear_number", r"^([0-9]+)[kK]([0-9]+)(?: ?(?i:ohms?)| ?Ω)?$", r"\1.\2 kohm"),
        ("unclear_number", r"^([0-9]+)M([0-9]+)(?: ?(?i:ohms?)| ?Ω)?$", r"\1.\2 Mohm"),
        ("unclear_number", r"^(?=[0-9.]*[OolI])(?=[OolI.]*[0-9])([0-9OolI.]+)(?= )", "LETTERS"),
        ("unclear_words", r"^(?!.*[0-9].* )([^\s0-9.+\-\u2212]+) ?([-+\u2212]?[0-9.]+)$", r"\2 \1"),
        ("unclear_words", r"\s*[.!?,;:]+$", ""),
        ("unclear_words", r"^([^ ]+ [^ ]+),? [A-Za-z ,]+$", r"\1"),
        ("unclear_words", r"^([^ ]+ [^ ]+ [^ ]+),? [A-Za-z ,]+$", r"\1"),
        ("unclear_words", r"^([0-9.]+[^ 0-9]+),? [A-Za-z ,]+$", r"\1"),
    )
)

# Spellings that are no unit of the table: the one they may stand for, or the question to ask.
_MAY_BE = {
    "MA": "mA", "Ma": "mA", "MV": "mV", "Mv": "mV", "mF": "µF", "MF": "µF", "mf": "µF", "Mf": "µF",
    "M": "MΩ", "mega": "MΩ", "kilo": "kΩ", "R": "Ω", "r": "Ω", "ω": "Ω", "S": "s", "H": "h",
    "ft/m": "ft/min", "f/m": "ft/min", "cf/m": "cfm", "cf": "cfm", "p": "Pa", "mmf": "pF", "''": "in",
    "\N{KELVIN SIGN}": "kelvin", "℃": "°C", "℉": "°F",
}  # fmt: skip
_SHORT = 3
_LONG_WORDS = [word for row in UNITS for word in row.words if len(word) > _SHORT]
_TWO_MEANINGS = {
    **dict.fromkeys(("K", "k°", "degk", "degK", "deg K"), ("kohm", "kelvin")),
    **dict.fromkeys(("mohm", "mohms", "MOHM", "MOHMS", "m ohm", "m ohms"), ("milliohm", "Mohm")),
    **dict.fromkeys(("m",), ("meters", "minutes")),
    **dict.fromkeys(("°", "deg", "degree", "degrees", "deg.", "degs"), ("°F", "°C")),
}


def about_text(text: str, parse: _Parse) -> UnreadableAnswerError:
    """Return what to ask about a text that ``parse`` does not accept."""
    tidy = _tidy(text)
    answer = parse(tidy)
    if answer is not None:
        return _suggesting(text, answer, "hidden_character")
    for ask in (
        _about_thousand,
        _about_nothing,
        _about_open,
        _about_unit_alone,
        _about_number_alone,
        _about_not_finite,
        _about_limit,
    ):
        error = ask(tidy, text)
        if error is not None:
            return error
    return _rewritten(tidy, text, parse) or _about_unit(tidy, text, parse) or _about_several(tidy, text)


def _tidy(text: str) -> str:
    """Return the text with plain single blanks, no invisible characters, and 10³ as 10^3."""
    spaced = re.sub(r"\s+", " ", text)
    visible = "".join(character for character in spaced if character.isprintable())
    return _POWER.sub(lambda match: "10^" + match[1].translate(_SUPERSCRIPTS), visible).strip()


def about_object(value: object, number: float | None) -> UnreadableAnswerError:
    """Return what to ask about something that is no text; only its exact type is looked at."""
    if value is None or value is Ellipsis:
        return _about_blank()
    if number is None:
        return UnreadableAnswerError(f"That is not an answer. {_HOW}", "not_an_answer")
    if not math.isfinite(number):
        return UnreadableAnswerError(f"That number is not finite. {_HOW}", "not_finite")
    return _about_missing_unit(f"{number:.6g}")


def about_product(magnitude: float) -> UnreadableAnswerError:
    """Return what to ask about a number times units that make up nothing in the table."""
    number = f"{magnitude:.6g}"
    return UnreadableAnswerError(
        f"The units behind {number} come to nothing that is asked for here. {_HOW}", "unknown_unit"
    )


def about_size(magnitude: float, unit: str) -> UnreadableAnswerError:
    """Return what to ask about a number that no meter can show."""
    return UnreadableAnswerError(f"{magnitude:.6g} {unit} is beyond anything a meter shows. {_HOW}", "not_finite")


def about_sum(text: str, why: str) -> UnreadableAnswerError:
    """Return what to ask about a sum that comes to nothing; ``why`` is the end of the sentence."""
    return UnreadableAnswerError(f"The sum {_echo(text)} cannot be read: {why}", "unclear_sum")


def about_difference(text: str, comes_to: str, stated: str) -> UnreadableAnswerError:
    """Return what to ask about the sum in ``text`` with another result behind it than it comes to."""
    return UnreadableAnswerError(
        f"{_echo(text)} comes to {comes_to}, not to {stated}. Which of the two is it?", "sum_differs"
    )


def about_name(text: str, rest: str) -> UnreadableAnswerError:
    """Return what to ask about a sum, ``rest``, with a name in front of it."""
    return UnreadableAnswerError(
        f"Is {_echo(text)} the sum {_echo(rest)}? Type it without what is in front of it.", "unclear_words"
    )


def about_range(text: str) -> UnreadableAnswerError:
    """Return what to ask about a small number less a larger one, which may be a range."""
    return UnreadableAnswerError(
        f"Is {_echo(text)} a range or a subtraction? Give one value, or the larger number first.", "several"
    )


def not_one_number() -> UnreadableAnswerError:
    """Return what to ask about a quantity that holds something else than one real number."""
    return UnreadableAnswerError(f"That unit has no single plain number in front of it. {_HOW}", "not_an_answer")


def too_long(text: str, longest: int) -> UnreadableAnswerError:
    """Return what to ask about a text with too many characters."""
    return UnreadableAnswerError(f"That answer has {len(text)} characters; {longest} are the most. {_HOW}", "too_long")


def hidden_character(text: str) -> UnreadableAnswerError:
    """Return what to ask about a text with a control character in it."""
    return UnreadableAnswerError(
        f"There is a tab, a line break or another hidden character in {_echo(text)}. Type it again.",
        "hidden_character",
    )


def _echo(text: str) -> str:
    """Return the text in quotes, fit to stand in one line: no hidden characters, 40 at most."""
    plain = text.replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", " ")
    shown = "".join(character if character.isprintable() else "\N{REPLACEMENT CHARACTER}" for character in plain)
    return f"'{shown}'" if len(shown) <= _ECHOED else f"'{shown[:_ECHOED]}…'"


def _suggesting(text: str, answer: Answer, reason: str) -> UnreadableAnswerError:
    return _about_thousand(answer.text, text) or UnreadableAnswerError(
        f"Is {_echo(text)} {answer.text}?", reason, answer.text
    )


def _about_blank() -> UnreadableAnswerError:
    return UnreadableAnswerError(f"There is no answer yet. {_HOW}", "blank")


def _about_missing_unit(number: str) -> UnreadableAnswerError:
    return UnreadableAnswerError(
        f'{number} of what? Put the unit behind the number, in quotes, as in "8.9 A".', "no_unit"
    )


def _about_nothing(tidy: str, _text: str) -> UnreadableAnswerError | None:
    return _about_blank() if _PLACEHOLDER.fullmatch(tidy) else None


def _about_open(tidy: str, text: str) -> UnreadableAnswerError | None:
    if not _OPEN.fullmatch(tidy):
        return None
    return UnreadableAnswerError(f"Is {_echo(text)} the meter's OL (over limit)?", "unclear_over_limit", "OL")


def _about_number_alone(tidy: str, text: str) -> UnreadableAnswerError | None:
    return _about_missing_unit(_echo(text)[1:-1]) if _BARE.fullmatch(tidy) else None


def _about_unit_alone(tidy: str, text: str) -> UnreadableAnswerError | None:
    if spelled(tidy) is None and tidy not in _TWO_MEANINGS and tidy not in _MAY_BE:
        return None
    return UnreadableAnswerError(
        f'How many? Put the number in front of {_echo(text)}, in quotes, as in "8.9 A".', "no_number"
    )


def _about_not_finite(tidy: str, text: str) -> UnreadableAnswerError | None:
    number = re.match(_SIGNED, tidy)
    if number is None:
        far = _NOT_FINITE.fullmatch(tidy) is not None
    else:
        size = abs(float(number[0].replace("\u2212", "-")))
        far = not SMALLEST <= size <= LARGEST and spelled(tidy[number.end() :].strip()) is not None
    if not far:
        return None
    return UnreadableAnswerError(f"{_echo(text)} is not a number that a meter can show. {_HOW}", "not_finite")


def _about_limit(tidy: str, text: str) -> UnreadableAnswerError | None:
    if not _LIMIT.fullmatch(tidy):
        return None
    return UnreadableAnswerError(
        f'{_echo(text)} is a limit, not one value. Type the number that the meter shows, or "OL".', "several"
    )


def _about_thousand(tidy: str, text: str) -> UnreadableAnswerError | None:
    number = re.match(r"([-\u2212]?)\+?([0-9.]+)", tidy)
    unit = spelled(tidy[number.end() :].strip().removesuffix(".")) if number else None
    readings = two_readings(number[2], unit.symbol) if number and unit else None
    if number is None or readings is None:
        return None
    one, other = (f"{'-' if number[1] else ''}{reading}" for reading in readings)
    return UnreadableAnswerError(f'Is {_echo(text)} "{one}" or "{other}"? Type one of the two.', "unclear_number")


def _decimal_of_fraction(match: re.Match[str]) -> str:
    """Return "1 1/2" as "1.5"; a fraction over one is left as it is."""
    whole, top, bottom = int(match[1] or 0), int(match[2]), int(match[3])
    return f"{whole + top / bottom:.5g}" if top < bottom else match[0]


_REPLACERS: dict[str, Callable[[re.Match[str]], str]] = {
    "FRACTION": _decimal_of_fraction,
    "LETTERS": lambda match: match[1].translate(str.maketrans("OolI", "0011")),
    r"TH\1": lambda match: re.sub("[ ,'’_]", "", match[1]),
    r"EU\1.\2": lambda match: f"{match[1].replace('.', '')}.{match[2]}",
}


def _rewrites(text: str) -> Iterator[tuple[str, str]]:
    """Yield (reason, text put right in one way)."""
    for reason, pattern, replacement in _REWRITES:
        changed = pattern.sub(_REPLACERS.get(replacement, replacement), text, count=1).strip()
        if changed != text:
            yield reason, changed


def _rewritten(tidy: str, text: str, parse: _Parse) -> UnreadableAnswerError | None:
    """Return the suggestion that the fewest changes lead to, at most four."""
    seen, front = {tidy}, [(tidy, "")]
    for _ in range(_STEPS):
        following: list[tuple[str, str]] = []
        for current, first in front:
            for reason, changed in _rewrites(current):
                answer = parse(changed) or _respelled(changed, parse)
                if answer is not None:
                    return _suggesting(text, answer, first or reason)
                if _BARE.fullmatch(changed):
                    return _about_missing_unit(_echo(text))
                if changed not in seen:
                    seen.add(changed)
                    following.append((changed, first or reason))
        front = following
    return None


def _respelled(tidy: str, parse: _Parse) -> Answer | None:
    """Return the answer if the unit behind the number is one that may stand for one of the table."""
    number = re.match(_SIGNED, tidy)
    if number is None:
        return None
    symbol = _MAY_BE.get(tidy[number.end() :].strip())
    return parse(f"{number[0]} {symbol}") if symbol else None


def _about_unit(tidy: str, text: str, parse: _Parse) -> UnreadableAnswerError | None:
    """Return what to ask when a number is followed by something that is no unit of the table."""
    number = re.match(_SIGNED, tidy)
    if number is None:
        return None
    typed = tidy[number.end() :].strip()
    if not typed or _ANY_NUMBER.search(typed) or typed[0] in "+-*/.,^×÷±–=@":
        return None
    answer = _respelled(tidy, parse)
    if answer is not None:
        return _suggesting(text, answer, "unclear_unit")
    if typed in _TWO_MEANINGS:
        one, other = (f"{number[0]} {unit}" for unit in _TWO_MEANINGS[typed])
        return UnreadableAnswerError(f'Is {_echo(text)} "{one}" or "{other}"? Type one of the two.', "unclear_unit")
    words = [word for word in _LONG_WORDS if word[0] == typed[0].lower()] if len(typed) > _SHORT else []
    close = difflib.get_close_matches(typed.lower(), words, n=1, cutoff=0.8)
    answer = parse(f"{number[0]} {close[0]}") if close else None
    if answer is not None:
        return _suggesting(text, answer, "unknown_unit")
    return UnreadableAnswerError(
        f"{_echo(typed)} in {_echo(text)} is no unit used here. "
        "Type for example V, A, ohm, kohm, W, kW, °F, cfm or OL.",
        "unknown_unit",
    )


def _about_several(tidy: str, text: str) -> UnreadableAnswerError:
    """Return what to ask about the rest: more than one number, or none that can be read."""
    numbers = len(re.findall(r"[0-9][0-9.,']*", tidy))
    if numbers > 1 and re.search(r"[A-Za-zΩ°%*×·/÷+–-]| [0-9]", tidy):
        return UnreadableAnswerError(
            f"{_echo(text)} has more than one number in it. Give one value, or a sum with a unit behind each number, "
            "as in 12 V / 4 ohm.",
            "several",
        )
    return UnreadableAnswerError(f"{_echo(text)} cannot be read with certainty. {_HOW}", "unclear_number")
