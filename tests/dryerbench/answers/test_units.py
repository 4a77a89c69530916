import subprocess
import sys
from itertools import combinations, product
from pathlib import Path

import pint
import pytest
from scipy import constants as si

from dryerbench.answers import units
from dryerbench.answers.units import (
    LESSON_NAMES,
    UNITS,
    commensurable,
    convert,
    lesson_units,
    quantity_of,
    spelled,
    unit,
)
from dryerbench.core.errors import LegToLegError, UnitMismatchError, UnknownUnitError

# Each unit's size in SI units, by its definition and not by pint. scipy.constants holds the international
# inch, foot, pound, ounce, the mechanical horsepower and the international-table BTU.
SIZES = {
    "current": {"A": 1, "mA": si.milli},
    "voltage": {"V": 1, "mV": si.milli, "kV": si.kilo},
    "resistance": {"Ω": 1, "mΩ": si.milli, "kΩ": si.kilo, "MΩ": si.mega},
    "power": {"W": 1, "kW": si.kilo, "BTU/h": si.Btu / si.hour, "hp": si.hp},
    "apparent power": {"VA": 1, "kVA": si.kilo},
    "frequency": {"Hz": 1, "kHz": si.kilo},
    "air flow": {"cfm": si.foot**3 / si.minute, "L/s": si.liter, "m³/h": 1 / si.hour},
    "air speed": {"ft/min": si.foot / si.minute, "m/s": 1},
    "length": {"in": si.inch, "ft": si.foot, "mm": si.milli, "cm": si.centi, "meter": 1},
    # conventional inch of water: 1000 kg/m³ times standard gravity times an inch
    "pressure": {"inH2O": 1000 * si.g * si.inch, "Pa": 1, "kPa": si.kilo},
    "energy": {"kWh": 3.6e6, "Wh": 3600, "J": 1, "kJ": si.kilo, "BTU": si.Btu},
    "mass": {"lb": si.lb, "oz": si.oz, "kg": 1, "g": si.gram},
    "time": {"s": 1, "ms": si.milli, "min": si.minute, "h": si.hour},
    "share": {"%": 0.01},
    "capacitance": {"farad": 1, "µF": si.micro, "nF": si.nano, "pF": si.pico},
}
SYMBOLS = [row.symbol for row in UNITS]
PAIRS = [(quantity, a, b) for quantity, sizes in SIZES.items() for a, b in product(sizes, sizes)]


def test_every_unit_has_a_size_from_outside():
    known = {symbol for sizes in SIZES.values() for symbol in sizes}
    assert known | {"°F", "°C", "kelvin"} == set(SYMBOLS)


@pytest.mark.parametrize(("quantity", "a", "b"), PAIRS)
def test_sizes_against_their_definitions(quantity, a, b):
    assert quantity_of(a) == quantity
    assert convert(1.0, a, b) == pytest.approx(SIZES[quantity][a] / SIZES[quantity][b], rel=1e-12)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius", "kelvin"),
    [(-40.0, -40.0, 233.15), (32.0, 0.0, 273.15), (212.0, 100.0, 373.15), (155.0, 205 / 3, 205 / 3 + 273.15)],
)
def test_temperatures_with_their_offsets(fahrenheit, celsius, kelvin):
    in_all = {"°F": fahrenheit, "°C": celsius, "kelvin": kelvin}
    for a, b in product(in_all, in_all):
        assert convert(in_all[a], a, b) == pytest.approx(in_all[b], abs=1e-9)


def test_what_converts_into_what_is_as_pint_has_it():
    dimension = units.application_registry().get_dimensionality
    for a, b in product(UNITS, UNITS):
        assert commensurable(a.symbol, b.symbol) is bool(dimension(a.pint) == dimension(b.pint)), (a.symbol, b.symbol)
    unlike = {
        frozenset({a.quantity, b.quantity})
        for a, b in combinations(UNITS, 2)
        if a.quantity != b.quantity and commensurable(a.symbol, b.symbol)
    }
    assert unlike == {frozenset({"power", "apparent power"})}


def test_unlike_units_are_refused_by_name():
    with pytest.raises(UnitMismatchError, match=r"^V measures voltage, A measures current\.$") as caught:
        convert(240.0, "V", "A")
    assert isinstance(caught.value, ValueError)
    assert isinstance(caught.value, LegToLegError)


@pytest.mark.parametrize("call", [unit, quantity_of, lambda symbol: convert(1.0, symbol, "A")])
def test_unknown_symbols_are_refused_with_the_list(call):
    with pytest.raises(UnknownUnitError, match="There is no unit 'amps'; the table has A, mA, V"):
        call("amps")


def test_no_spelling_stands_in_two_rows():
    exact = [spelling for row in UNITS for spelling in row.spellings]
    words = [word for row in UNITS for word in row.words]
    assert len(exact) == len(set(exact))
    assert len(words) == len(set(words))
    assert all(word == word.lower() and word.isascii() for word in words)
    for row in UNITS:
        for text in (*row.spellings, *row.words):
            assert spelled(text) is row, text


def test_spellings_that_could_mean_two_things_are_in_no_row():
    for text in ("K", "m", "M", "mohm", "MOHM", "m ohm", "MA", "Ma", "MV", "MW", "mW", "mw", "mF", "MF", "deg", "°"):
        assert spelled(text) is None, text


def test_letters_that_only_lower_to_a_unit_are_refused():
    assert spelled("\N{KELVIN SIGN}ohm") is None


def test_lesson_names_give_pint_quantities():
    for name, symbol in LESSON_NAMES.items():
        quantity = 3 * getattr(units, name)
        assert type(quantity) is pint.get_application_registry().Quantity
        assert quantity == 3 * lesson_units()[name]
        assert name.isidentifier()
        assert unit(symbol)


def test_a_lesson_works_out_a_current():
    assert (240 * units.V / (27 * units.ohm)).to("ampere").magnitude == pytest.approx(80 / 9)


def test_a_temperature_is_a_reading_from_either_side():
    assert (212 * units.degF).to("degC").magnitude == pytest.approx(100.0)
    assert (units.degC * 100).to(units.degF).magnitude == pytest.approx(212.0)


def test_traps_are_left_out():
    for name in ("s", "m", "g", "h", "F", "C", "J", "k", "min", "in", "R", "I"):
        assert name not in LESSON_NAMES
        with pytest.raises(AttributeError):
            getattr(units, name)


ALONE = """
import sys, types
package = types.ModuleType("dryerbench")
package.__path__ = [sys.argv[1]]
sys.modules["dryerbench"] = package
from dryerbench.answers.parser import read
read("8.9 A")
print(sorted({"pint", "numpy"} & set(sys.modules)))
"""


def test_reading_a_typed_answer_needs_neither_pint_nor_numpy():
    folder = str(Path(units.__file__).parents[1])
    done = subprocess.run([sys.executable, "-c", ALONE, folder], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
