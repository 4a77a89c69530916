"""Sums: random ones against exact fractions, free ones against a second reader, junk never more than a question."""

from __future__ import annotations

import ast
import builtins
import math
import re
from dataclasses import dataclass
from fractions import Fraction

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from dryerbench.answers.answer import Answer
from dryerbench.answers.clarification import REASONS
from dryerbench.answers.parser import LONGEST, read
from dryerbench.answers.working import DEEPEST, HIGHEST_POWER, MOST_NUMBERS, sum_in
from dryerbench.core.errors import SumError, UnreadableAnswerError

# ---- the oracle: units by their definitions as exact fractions, worked by Python's own arithmetic on them ----

FOOT = Fraction(3048, 10000)
SIZES: dict[str, tuple[Fraction, str]] = {
    "A": (Fraction(1), "A"),
    "mA": (Fraction(1, 1000), "A"),
    "V": (Fraction(1), "V"),
    "volts": (Fraction(1), "V"),
    "ohm": (Fraction(1), "V A-1"),
    "kohm": (Fraction(1000), "V A-1"),
    "W": (Fraction(1), "V A"),
    "kW": (Fraction(1000), "V A"),
    "ft": (FOOT, "m"),
    "in": (FOOT / 12, "m"),
    "min": (Fraction(60), "s"),
    "h": (Fraction(3600), "s"),
    "kWh": (Fraction(3600000), "V A s"),
    "ft/min": (FOOT / 60, "m s-1"),
    "cfm": (FOOT**3 / 60, "m3 s-1"),
    "%": (Fraction(1, 100), ""),
}
TOLD = {
    "A": "A", "V": "V", "V A-1": "Ω", "V A": "W", "V A s": "kWh", "m": "ft", "s": "min", "m s-1": "ft/min",
    "m3 s-1": "cfm", "": "%",
}  # fmt: skip
BY_SYMBOL = {"Ω": "ohm", "kΩ": "kohm"}


def powers_of(text: str) -> dict[str, int]:
    found = {}
    for word in text.split():
        name, power = re.fullmatch(r"([A-Za-z]+?)(-?\d+)?", word).groups()
        found[name] = int(power or 1)
    return found


class OddError(Exception):
    """What must be asked about."""


@dataclass(frozen=True)
class Exact:
    """An exact number with its dimension."""

    size: Fraction
    powers: tuple[tuple[str, int], ...]
    bare: bool

    @staticmethod
    def of(number: Fraction, unit: str) -> Exact:
        size, text = SIZES[unit] if unit else (Fraction(1), "")
        return Exact(number * size, tuple(sorted(powers_of(text).items())), not unit)

    def combined(self, other: Exact, sign: int) -> tuple[tuple[str, int], ...]:
        names = {name for name, _ in (*self.powers, *other.powers)}
        mine, its = dict(self.powers), dict(other.powers)
        both = {name: mine.get(name, 0) + sign * its.get(name, 0) for name in names}
        return tuple(sorted((name, power) for name, power in both.items() if power))

    def __add__(self, other: Exact) -> Exact:
        if self.powers != other.powers or self.bare != other.bare:
            raise OddError
        return Exact(self.size + other.size, self.powers, self.bare)

    def __neg__(self) -> Exact:
        return Exact(-self.size, self.powers, self.bare)

    def __sub__(self, other: Exact) -> Exact:
        return self + -other

    def __mul__(self, other: Exact) -> Exact:
        return Exact(self.size * other.size, self.combined(other, 1), self.bare and other.bare)

    def __truediv__(self, other: Exact) -> Exact:
        if not other.size:
            raise OddError
        return Exact(self.size / other.size, self.combined(other, -1), self.bare and other.bare)

    def to(self, symbol: str) -> Fraction:
        size, text = SIZES[BY_SYMBOL.get(symbol, symbol)]
        if self.bare or dict(self.powers) != powers_of(text):
            raise OddError
        return self.size / size

    @property
    def has_unit(self) -> bool:
        return not self.bare and any(dict(self.powers) == powers_of(text) for text in TOLD)


def power(base: Exact, exponent: int) -> Exact:
    made = base
    for _ in range(exponent - 1):
        made = made * base
    return made


# ---- random sums, made as trees, written as people write, and worked by the oracle at the same time ----

NUMBERS = st.sampled_from(["240", "27", "8.9", "0.5", "3", "120.5", "208", "1.21", "6400", "2", "7", "0", "1e3", ".25"])
UNIT_TEXTS = st.sampled_from(["", *SIZES])


@st.composite
def sums(draw: st.DrawFn, depth: int = 3) -> tuple[str, str, Exact | None, float]:
    """Return (text, kind of its outermost node, exact value or None where it is odd, largest size on the way)."""
    kind = draw(st.sampled_from(["number"] if depth == 0 else ["number", "group", "power", "add", "mul", "mul"]))
    blank = draw(st.sampled_from(["", " "]))
    if kind == "number":
        number, unit = draw(NUMBERS), draw(UNIT_TEXTS)
        value = Exact.of(Fraction(number), unit)
        return number + (blank or " ") * bool(unit) + unit, kind, value, float(abs(value.size))
    if kind == "group":
        text, _, value, most = draw(sums(depth=depth - 1))
        unit = draw(st.sampled_from(["", "", "A", "ohm"]))
        if unit and value is not None:
            value = Exact.of(value.size, unit) if value.bare else None
        return f"({text}){blank}{unit}", kind, value, most
    if kind == "power":
        text, inner, value, most = draw(sums(depth=depth - 1))
        exponent = draw(st.integers(1, HIGHEST_POWER))
        if inner not in ("number", "plain"):
            text = f"({text})"
        sign = draw(st.sampled_from([f"{blank}^{blank}{exponent}", f"**{exponent}"]))
        return text + sign, kind, None if value is None else power(value, exponent), most
    left, a, one, most_left = draw(sums(depth=depth - 1))
    right, b, other, most_right = draw(sums(depth=depth - 1))
    if kind == "add":
        sign = draw(st.sampled_from("+-\N{MINUS SIGN}"))
        right = f"({right})" if b == "add" else right
    else:
        sign = draw(st.sampled_from("*/×·÷"))
        left = f"({left})" if a == "add" else left
        right = f"({right})" if b in ("add", "mul") else right
    most = max(most_left, most_right)
    value = None
    if one is not None and other is not None:
        try:
            made = {"+": one.__add__, "*": one.__mul__, "/": one.__truediv__, "-": one.__sub__}
            value = made[sign.translate(str.maketrans("×·÷\N{MINUS SIGN}", "**/-"))](other)
        except OddError:
            value = None
        else:
            most = max(most, float(abs(value.size)))
    return f"{left}{blank}{sign}{blank}{right}", kind, value, most


def outcome(text: str) -> Answer | UnreadableAnswerError:
    """Return the answer, or the one line that asks about it; anything else that is raised goes on."""
    try:
        return read(text)
    except UnreadableAnswerError as error:
        asked = error
    assert asked.reason in REASONS, text
    assert str(asked).isprintable(), text
    assert len(str(asked)) < 320, text
    return asked


@settings(max_examples=1500, deadline=None)
@given(sums())
@example(("240 V / 27 ohm", "mul", Exact.of(Fraction(240), "V") / Exact.of(Fraction(27), "ohm"), 240.0))
def test_random_sums_come_to_what_exact_fractions_come_to(made: tuple[str, str, Exact | None, float]) -> None:
    text, _, value, most = made
    assume(len(text) <= LONGEST)
    answer = outcome(text)
    if isinstance(answer, UnreadableAnswerError):
        plain = value is not None and value.has_unit and answer.reason not in ("not_finite", "several")
        hundred = "100" in str(answer)
        assert not plain or hundred or "beyond" in str(answer) or not sum_in(" ".join(text.split())), (
            text,
            str(answer),
        )
        return
    if not answer.working:
        return
    assert value is not None, (text, answer)
    exact = value.to(answer.unit)
    scale = most / float(SIZES[BY_SYMBOL.get(answer.unit, answer.unit)][0])
    assert math.isclose(answer.magnitude, exact, rel_tol=1e-9, abs_tol=1e-9 * scale), (text, answer, float(exact))


def test_most_random_sums_that_have_a_unit_are_taken() -> None:
    taken: list[bool] = []

    @settings(max_examples=2000, deadline=None, database=None, derandomize=True)
    @given(sums())
    def run(made: tuple[str, str, Exact | None, float]) -> None:
        text, kind, value, _ = made
        if value is not None and value.has_unit and kind in ("add", "mul"):
            taken.append(isinstance(outcome(text), Answer))

    run()
    assert len(taken) > 60
    assert sum(taken) > 0.8 * len(taken)


# ---- a second reader of texts that nobody made as trees ----

UNIT = "|".join(sorted(SIZES, key=len, reverse=True))
TOKEN = re.compile(
    r"\s*(?:(?P<number>(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d{1,3})?)"
    rf"|(?P<unit>{UNIT})(?![A-Za-z0-9])|(?P<power>\^|\*\*)|(?P<sign>[-+*/()x×]))"
)


def second_reading(text: str) -> Exact | None:
    """Return what Python's own grammar makes of the text with units as calls; None where it is no such sum."""
    written, at, numbers = "", 0, []
    before = ""
    while at < len(text.rstrip()):
        match = TOKEN.match(text, at)
        if match is None:
            return None
        at = match.end()
        if match["number"]:
            numbers.append(Fraction(match["number"]))
            written += f" q{len(numbers) - 1} "
        elif match["unit"]:
            written = written.rstrip() + f"[{list(SIZES).index(match['unit'])}]"
            if before == "unit":
                return None
        else:
            written += {"x": "*", "×": "*", "^": "**"}.get(match[0].strip(), match[0].strip())
        before = match.lastgroup or ""
    try:
        tree = ast.parse(written.strip(), mode="eval").body
        return worked(tree, numbers)
    except (SyntaxError, OddError):
        return None


def worked(node: ast.expr, numbers: list[Fraction]) -> Exact:
    if isinstance(node, ast.Name):
        return Exact.of(numbers[int(node.id[1:])], "")
    if isinstance(node, ast.UnaryOp):
        value = worked(node.operand, numbers)
        return -value if isinstance(node.op, ast.USub) else value
    if isinstance(node, ast.Subscript):
        return in_unit(worked(node.value, numbers), node)
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Pow):
        return raised(node, numbers)
    if isinstance(node, ast.BinOp):
        join = {ast.Add: Exact.__add__, ast.Sub: Exact.__sub__, ast.Mult: Exact.__mul__, ast.Div: Exact.__truediv__}
        return join[type(node.op)](worked(node.left, numbers), worked(node.right, numbers))
    raise OddError


def in_unit(value: Exact, node: ast.Subscript) -> Exact:
    if not value.bare:
        raise OddError
    return Exact.of(value.size, list(SIZES)[node.slice.value])


def raised(node: ast.BinOp, numbers: list[Fraction]) -> Exact:
    exponent = node.right.value if isinstance(node.right, ast.Subscript) else node.right
    if not isinstance(exponent, ast.Name) or numbers[int(exponent.id[1:])] not in range(1, HIGHEST_POWER + 1):
        raise OddError
    value = power(worked(node.left, numbers), int(numbers[int(exponent.id[1:])]))
    return in_unit(value, node.right) if isinstance(node.right, ast.Subscript) else value


PIECES = [
    *SIZES,
    "240",
    "27",
    "8.9",
    "2",
    "0",
    "100",
    "(",
    ")",
    "(",
    ")",
    "+",
    "-",
    "*",
    "/",
    "^",
    "**",
    "x",
    "×",
    " ",
    " ",
    " ",
]


@settings(max_examples=4000, deadline=None)
@given(st.lists(st.sampled_from(PIECES), min_size=2, max_size=14).map("".join))
@example("240 V^2/ 27ohm")
@example("(240+2) V/ 27ohm")
@example("240^2W/27")
@example("-2 V^2/27ohm")
@example("8.9--2 A")
def test_free_texts_are_read_as_a_second_reader_does_or_asked_about(text: str) -> None:
    answer = outcome(text)
    if not isinstance(answer, Answer) or not answer.working:
        return
    exact = second_reading(answer.working)
    assert exact is not None, (text, answer)
    assert math.isclose(answer.magnitude, exact.to(answer.unit), rel_tol=1e-9, abs_tol=1e-6), (text, answer)


JUNK = st.text(alphabet="0123456789.,eE+-*/^()x×÷²³=% kKmMuVAWFCΩ°'\"_[]{}:;√", max_size=60) | st.text(max_size=LONGEST)


@settings(max_examples=3000, deadline=None)
@given(JUNK)
@example("(" * LONGEST)
@example("9^" * 100)
@example("9**" * 60 + "9 A")
@example("1e999 A * 1e999 V")
@example("1e-999 A / 1e999 V")
@example("1 A / (2 - 2)")
@example("__import__('os').system('x') * 2 A")
def test_junk_is_never_more_than_a_question(text: str) -> None:
    outcome(text)


def test_nothing_is_evaluated(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_args: object, **_kwargs: object) -> None:
        raise AssertionError

    for name in ("eval", "exec", "compile"):
        monkeypatch.setattr(builtins, name, fail)
    answers = [outcome(text) for text in ("240 V / 27 ohm", "(1).__class__ * 2 A", "2 ** 9999 A", "abs(-2) * 2 A")]
    monkeypatch.undo()
    assert [type(answer) for answer in answers] == [Answer, *[UnreadableAnswerError] * 3]


# ---- limits, stated results, the parts of a sum ----


def test_limits() -> None:
    assert read("(" * DEEPEST + "1 A * 2" + ")" * DEEPEST).magnitude == 2
    assert isinstance(outcome("(" * (DEEPEST + 1) + "1 A * 2" + ")" * (DEEPEST + 1)), UnreadableAnswerError)
    assert read(" + ".join(["1 A"] * MOST_NUMBERS)).magnitude == MOST_NUMBERS
    assert isinstance(outcome(" + ".join(["1 A"] * (MOST_NUMBERS + 1))), UnreadableAnswerError)
    assert isinstance(outcome(f"(2 A / 1 A)^{HIGHEST_POWER + 1} * 1 A"), UnreadableAnswerError)
    assert isinstance(outcome("1e10 V * 1e10 A"), UnreadableAnswerError)


@pytest.mark.parametrize(
    ("typed", "magnitude", "unit", "figures", "working"),
    [
        ("240 V / 27 ohm", 80 / 9, "A", None, "240 V / 27 ohm"),
        ("240 V / 27 ohm = 8.9 A", 8.9, "A", 2, "240 V / 27 ohm"),
        ("240 V / 27 ohm = 8889 mA", 8889.0, "mA", 4, "240 V / 27 ohm"),
        ("240 V * 8.9 A = 2133 W", 2133.0, "W", 4, "240 V * 8.9 A"),  # 8.9 may be 8.889, rounded
        ("240 V * 8.9 A = 2100 W", 2100.0, "W", 4, "240 V * 8.9 A"),  # zeros at the end may be rounding
        ("26.7 A / 30 A = 89 %", 89.0, "%", 2, "26.7 A / 30 A"),
        ("26.7 A / 30 A * 100 = 89 %", 89.0, "%", 2, "26.7 A / 30 A * 100"),
        ("26.7 / 30 = 89 %", 89.0, "%", 2, "26.7 / 30"),
        ("155 F - 135 F = 20 F", 20.0, "°F", 2, "155 F - 135 F"),
    ],
)
def test_what_an_answer_holds(typed: str, magnitude: float, unit: str, figures: int | None, working: str) -> None:
    answer = read(typed)
    assert answer == Answer(typed, "quantity", pytest.approx(magnitude), unit, figures, working)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("240 V / 27 ohm = 9.8 A", "comes to 8.889 A, not to 9.8 A"),
        ("240 V / 27 ohm = 9.8 mA", "comes to 8889 mA, not to 9.8 mA"),
        ("240 V / 27 ohm = 8.9 W", "comes to 8.889 A, not to 8.9 W"),
        ("240 V * 8.9 A = 2200 W", "comes to 2136 W, not to 2200 W"),
        ("240 V * 8.9 A = 2090 W", "comes to 2136 W, not to 2090 W"),
        ("26.7 A / 30 A * 100 = 79 %", "comes to 89, not to 79 %"),
        ("240 / 27 = 9.8 A", "comes to 8.889, not to 9.8 A"),
        ("155 F - 135 F = 20 C", "comes to 20 °F, not to 20 °C"),
    ],
)
def test_another_result_is_asked_about_in_one_line(typed: str, said: str) -> None:
    error = outcome(typed)
    assert isinstance(error, UnreadableAnswerError)
    assert error.reason == "sum_differs"
    assert said in str(error)


def test_a_sum_can_be_worked_with_other_numbers() -> None:
    working = sum_in("208 V / 27 ohm * 3")
    assert working is not None
    assert [(one.magnitude, one.unit) for one in working.terms] == [(208, "V"), (27, "Ω"), (3, "")]
    assert working.value([240.0, 27.0, 3.0]) == (pytest.approx(80 / 3), "A")
    with pytest.raises(SumError, match="divides by zero"):
        working.value([240.0, 0.0, 3.0])


def test_one_number_is_no_sum() -> None:
    for text in ("8.9 A", "-8.9 A", "(8.9 A)", "8.9", "ft/min", "100 ft/min", "", "A"):
        assert sum_in(text) is None, text
