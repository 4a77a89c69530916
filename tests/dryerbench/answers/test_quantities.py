import math
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pint
import pytest

from dryerbench.answers.clarification import REASONS
from dryerbench.answers.parser import read
from dryerbench.answers.quantities import measured, real
from dryerbench.answers.units import A, V, degC, degF, inH2O, kW, ohm, percent, unit
from dryerbench.core.errors import UnreadableAnswerError


def asked(value):
    """Return the error that reading the value raises; it must ask in one line, by a known code."""
    with pytest.raises(UnreadableAnswerError) as caught:
        read(value)
    error = caught.value
    assert error.reason in REASONS
    assert len(str(error).splitlines()) == 1
    assert str(error).isprintable()
    return error


def outcome(value):
    """Return the answer, or the error that asks about it; anything else that is raised goes on."""
    try:
        return read(value)
    except UnreadableAnswerError as error:
        return error


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (8.9 * A, "8.9 A"),
        (9 * A, "9 A"),
        (np.float64(8.9) * A, "8.9 A"),
        (np.int32(9) * A, "9 A"),
        (240 * V / (27 * ohm), "8.88889 A"),
        ((240 * V) ** 2 / (27 * ohm), "2133.33 W"),
        (240 * V * (8.9 * A), "2136 W"),
        (2.1 * kW, "2.1 kW"),
        (2.1 * kW / (240 * V), "8.75 A"),
        (135 * degF, "135 °F"),
        ((212 * degF).to(degC), "100 °C"),
        (75 * percent, "75 %"),
        (0.6 * inH2O, "0.6 inH2O"),
        (pint.Quantity(8.9, "ampere"), "8.9 A"),
    ],
)
def test_a_number_times_a_unit(value, text):
    answer = read(value)
    assert (answer.text, answer.figures, answer.kind) == (text, None, "quantity")
    assert read(answer.typed).magnitude == answer.magnitude


@pytest.mark.parametrize(
    ("value", "reason"),
    [
        (8.9, "no_unit"),
        (np.float64(8.9), "no_unit"),
        (27, "no_unit"),
        (math.nan, "not_finite"),
        (-math.inf, "not_finite"),
        (10**400, "not_finite"),
        (10**400 * A, "not_finite"),
        (math.nan * A, "not_finite"),
        (1e-300 * A, "not_finite"),
        (None, "blank"),
        (..., "blank"),
        (True, "not_an_answer"),
        (np.True_, "not_an_answer"),
        (1j, "not_an_answer"),
        (1j * A, "not_an_answer"),
        (b"8.9 A", "not_an_answer"),
        (["8.9 A"], "not_an_answer"),
        ([1, 2] * A, "not_an_answer"),
        (pint.Quantity(np.array(8.9), "ampere"), "not_an_answer"),
        (np.str_("8.9 A"), "not_an_answer"),
        (Decimal("8.9"), "not_an_answer"),
        (Fraction(89, 10), "not_an_answer"),
        (A, "not_an_answer"),
        (1 * A / A, "unknown_unit"),
        (135 * degF - 100 * degF, "unknown_unit"),
        (3 * V * A * A, "unknown_unit"),
        (3 * V * (1 * inH2O) / (1 * percent), "unknown_unit"),
        (pint.Quantity(60, "rpm"), "unknown_unit"),
        (pint.Quantity(1, "1/second"), "unknown_unit"),
        (pint.Quantity(150, "centifermi"), "unknown_unit"),
        (pint.UnitRegistry().Quantity(8.9, "ampere"), "not_an_answer"),
    ],
    ids=repr,
)
def test_objects_that_are_asked_about(value, reason):
    assert asked(value).reason == reason


class Touched(BaseException):
    """Raised by whatever a lying object is asked to do."""


def touch(*_args, **_kwargs):
    raise Touched


TRAPS = dict.fromkeys(
    [
        "__eq__",
        "__ne__",
        "__lt__",
        "__hash__",
        "__float__",
        "__int__",
        "__index__",
        "__complex__",
        "__bool__",
        "__len__",
        "__iter__",
        "__str__",
        "__repr__",
        "__format__",
        "__getattr__",
        "__getattribute__",
        "__getitem__",
        "__contains__",
        "__call__",
        "__array__",
        "__reduce_ex__",
        "keys",
        "items",
        "get",
        "lower",
        "strip",
        "translate",
        "startswith",
    ],
    touch,
)
LyingType = type("LyingType", (type,), {**TRAPS, "__instancecheck__": touch, "__subclasscheck__": touch})
Quantity = type(8.9 * A)


def lying_objects():
    yield object.__new__(LyingType("Liar", (), TRAPS))
    yield LyingType("Liar", (), TRAPS)
    yield type("Text", (str,), TRAPS)("8.9 A")
    yield type("Number", (float,), TRAPS)(8.9)
    yield type("Whole", (int,), TRAPS)(9)
    yield object.__new__(type("Other", (Quantity,), TRAPS))
    for inside in ("_magnitude", "_units"):
        for lie in (
            object.__new__(LyingType("Liar", (), TRAPS)),
            type("Number", (float,), TRAPS)(8.9),
            type("T", (str,), TRAPS)("V"),
        ):
            quantity = 8.9 * A
            quantity.__dict__[inside] = lie
            yield quantity
    quantity = 8.9 * A
    quantity.__dict__ = type("Inside", (dict,), TRAPS)()
    yield quantity


def test_a_lying_object_can_only_be_refused():
    for value in lying_objects():
        made = outcome(value)
        assert type(made) is UnreadableAnswerError
        assert made.reason in ("not_an_answer", "unknown_unit")


def test_a_quantity_is_taken_apart():
    assert measured(8.9 * A) == (8.9, unit("A"))
    assert measured(240 * V / (30 * ohm)) == (8.0, unit("A"))
    assert measured("8.9 A") is None
    assert measured(8.9) is None


@pytest.mark.parametrize("value", [8, 8.0, np.float32(8), np.uint8(8), np.int64(8)])
def test_real_scalars(value):
    assert real(value) == 8.0


def test_high_powers_are_refused_without_working_them_out():
    assert measured(pint.Quantity(1e300, "ampere ** 1000")) == (1e300, None)
