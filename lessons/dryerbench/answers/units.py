"""The trade's units: one whitelist, converted by pint, and the names a lesson multiplies numbers by.

pint takes a quarter of a second to import and build its registry, so it is loaded on the first conversion,
not on import. Its on-disk cache is left off on purpose: it is a pickle in the user's cache folder, which an
apprentice's notebook could write and the marker would then load.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, TypeAlias

from dryerbench.core.errors import UnitMismatchError, UnknownUnitError

__all__ = [
    "BY_PINT_NAME",
    "LESSON_NAMES",
    "LONGEST_SPELLING",
    "UNITS",
    "Unit",
    "application_registry",
    "commensurable",
    "convert",
    "lesson_units",
    "quantity_of",
    "spelled",
    "unit",
]

if TYPE_CHECKING:
    from pint import UnitRegistry

Registry: TypeAlias = "UnitRegistry[float]"
"""pint's registry, whatever its magnitudes are."""


@dataclass(frozen=True)
class Unit:
    """One unit: how it is shown, what pint calls it, what it measures, and how people spell it.

    ``spellings`` count as written; ``words`` count in any case. The symbol itself is always accepted.
    """

    symbol: str
    pint: str
    quantity: str
    spellings: tuple[str, ...] = ()
    words: tuple[str, ...] = ()


def _unit(symbol: str, pint_name: str, quantity: str, spellings: str = "", words: str = "") -> Unit:
    """Return a row of the table; spellings and words are separated by commas."""
    exact, caseless = (tuple(filter(None, map(str.strip, text.split(",")))) for text in (spellings, words))
    return Unit(symbol, pint_name, quantity, (symbol, *exact), caseless)


def _inches_of(*waters: str, glued: tuple[str, ...] = ("in", "in.", '"')) -> str:
    """Return how people spell inches of water: ``in. w.c.``, ``inches of w.c.``, and the ``glued`` without a blank."""
    apart = [f"{inch}{gap}{water}" for inch in ("in", "in.", "inch", "inches", '"') for gap in (" ", " of ")
             for water in waters]  # fmt: skip
    return ", ".join([*apart, *(f"{inch}{water}" for inch in glued for water in waters)])


_OHM = "\N{GREEK CAPITAL LETTER OMEGA}"
_OHM_SIGN = "\N{OHM SIGN}"
_MICRO = "\N{MICRO SIGN}"
_MU = "\N{GREEK SMALL LETTER MU}"

# Capital K before a unit is the usual slip for kilo and can mean nothing else (kelvin times volts is no unit
# of this trade); a capital or small m can mean milli or mega, so each of those is listed or left out by hand.
UNITS: tuple[Unit, ...] = (
    _unit("A", "ampere", "current", "a, A AC, A ac, A DC, A dc", "amp, amps, ampere, amperes, amps ac, amps dc"),
    _unit("mA", "milliampere", "current", "ma", "milliamp, milliamps, milliampere, milliamperes"),
    _unit(
        "V",
        "volt",
        "voltage",
        "v, V AC, V ac, V DC, V dc",
        "volt, volts, vac, vdc, volts ac, volts dc, ac volts, dc volts, vrms, v rms, volts rms",
    ),
    _unit("mV", "millivolt", "voltage", "mv", "millivolt, millivolts"),
    _unit("kV", "kilovolt", "voltage", "KV, kv, Kv", "kilovolt, kilovolts"),
    _unit(_OHM, "ohm", "resistance", _OHM_SIGN, "ohm, ohms"),
    _unit(
        f"m{_OHM}",
        "milliohm",
        "resistance",
        f"m{_OHM_SIGN}, m {_OHM}, m {_OHM_SIGN}",
        "milliohm, milliohms, milli ohm, milli ohms",
    ),
    _unit(
        f"k{_OHM}",
        "kiloohm",
        "resistance",
        f"k{_OHM_SIGN}, K{_OHM}, K{_OHM_SIGN}, k {_OHM}, k {_OHM_SIGN}, k",
        "kohm, kohms, k ohm, k ohms, kilohm, kilohms, kiloohm, kiloohms, kilo ohm, kilo ohms",
    ),
    _unit(
        f"M{_OHM}",
        "megaohm",
        "resistance",
        f"M{_OHM_SIGN}, M {_OHM}, M {_OHM_SIGN}, Mohm, Mohms, M ohm, M ohms",
        "meg, megs, megohm, megohms, megaohm, megaohms, meg ohm, meg ohms, mega ohm, mega ohms",
    ),
    _unit("W", "watt", "power", "w", "watt, watts"),
    _unit("kW", "kilowatt", "power", "KW, kw, Kw", "kilowatt, kilowatts"),
    _unit(
        "BTU/h",
        "british_thermal_unit_per_hour",
        "power",
        "",
        "btu/h, btu/hr, btu / h, btu / hr, btuh, btu per hour, btus per hour",
    ),
    _unit("hp", "horsepower", "power", "", "hp, horsepower"),
    _unit("VA", "volt_ampere", "apparent power", "va", "volt-amp, volt-amps, volt-ampere, volt-amperes"),
    _unit("kVA", "kilovolt_ampere", "apparent power", "KVA, kva, Kva", "kilovolt-amps, kilovolt-amperes"),
    _unit("Hz", "hertz", "frequency", "", "hz, hertz"),
    _unit("kHz", "kilohertz", "frequency", "", "khz, kilohertz"),
    _unit(
        "°F",
        "degree_Fahrenheit",
        "temperature",
        "F, f, ° F, °f",
        "degf, deg f, deg. f, degrees f, degree f, fahrenheit, degrees fahrenheit, deg fahrenheit",
    ),
    _unit(
        "°C",
        "degree_Celsius",
        "temperature",
        "C, c, ° C, °c",
        "degc, deg c, deg. c, degrees c, degree c, celsius, degrees celsius, deg celsius",
    ),
    _unit("kelvin", "kelvin", "temperature", "", "kelvin, kelvins"),
    _unit(
        "cfm",
        "cubic_foot_per_minute",
        "air flow",
        "ft³/min",
        "cfm, c.f.m., c.f.m, c f m, ft3/min, ft^3/min, cu ft/min, cubic feet per minute, cubic foot per minute",
    ),
    _unit("L/s", "liter_per_second", "air flow", "l/s", "liters per second, litres per second"),
    _unit("m³/h", "cubic_meter_per_hour", "air flow", "m3/h, m^3/h", "cubic meters per hour"),
    _unit("ft/min", "foot_per_minute", "air speed", "", "ft/min, ft / min, fpm, feet per minute, feet/min"),
    _unit("m/s", "meter_per_second", "air speed", "", "meters per second, metres per second"),
    _unit("in", "inch", "length", '"', "in, in., inch, inches"),
    _unit("ft", "foot", "length", "'", "ft, ft., foot, feet, lf, lin ft, linear ft, linear foot, linear feet"),
    _unit("mm", "millimeter", "length", "", "mm, millimeter, millimeters, millimetre, millimetres"),
    _unit("cm", "centimeter", "length", "", "cm, centimeter, centimeters, centimetre, centimetres"),
    _unit("meter", "meter", "length", "", "meter, meters, metre, metres"),
    _unit(
        "inH2O",
        "inch_H2O",
        "pressure",
        _inches_of("H₂O"),
        f"iwc, i.w.c., {_inches_of('wc', 'w.c.', 'w.c', 'wg', 'w.g.', 'w.g', 'h2o', 'h20')}, "
        + _inches_of("water", "water column", "water gauge", "water gage", glued=()),
    ),
    _unit("Pa", "pascal", "pressure", "pa", "pascal, pascals"),
    _unit("kPa", "kilopascal", "pressure", "KPa, kpa", "kilopascal, kilopascals"),
    _unit(
        "kWh",
        "kilowatt_hour",
        "energy",
        "",
        "kwh, kw h, kw-h, kwhr, kilowatt-hour, kilowatt-hours, kilowatt hours",
    ),
    _unit("Wh", "watt_hour", "energy", "wh", "watt-hour, watt-hours, watt hours"),
    _unit("J", "joule", "energy", "", "joule, joules"),
    _unit("kJ", "kilojoule", "energy", "KJ, kj", "kilojoule, kilojoules"),
    _unit("BTU", "international_british_thermal_unit", "energy", "", "btu, btus"),
    _unit("lb", "pound", "mass", "", "lb, lbs, lb., lbs., pound, pounds"),
    _unit("oz", "ounce", "mass", "", "oz, oz., ounce, ounces"),
    _unit("kg", "kilogram", "mass", "Kg, KG", "kilogram, kilograms"),
    _unit("g", "gram", "mass", "", "gram, grams"),
    _unit("s", "second", "time", "", "sec, secs, sec., second, seconds"),
    _unit("ms", "millisecond", "time", "", "millisecond, milliseconds"),
    _unit("min", "minute", "time", "", "min, min., mins, minute, minutes"),
    _unit("h", "hour", "time", "", "hr, hrs, hr., hour, hours"),
    _unit("%", "percent", "share", "", "percent, pct, per cent"),
    _unit("farad", "farad", "capacitance", "", "farad, farads"),
    _unit(
        f"{_MICRO}F",
        "microfarad",
        "capacitance",
        f"{_MU}F, uF, uf, {_MICRO}f, {_MU}f, MFD, mfd",
        "microfarad, microfarads",
    ),
    _unit("nF", "nanofarad", "capacitance", "nf", "nanofarad, nanofarads"),
    _unit("pF", "picofarad", "capacitance", "pf", "picofarad, picofarads"),
)

BY_PINT_NAME = {row.pint: row for row in UNITS}
LONGEST_SPELLING = max(len(text) for row in UNITS for text in (*row.spellings, *row.words))
"""Characters."""
_BY_SYMBOL = {row.symbol: row for row in UNITS}
_BY_SPELLING = {spelling: row for row in UNITS for spelling in row.spellings}
_BY_WORD = {word: row for row in UNITS for word in row.words}

# What a keyboard or a word processor puts in place of a degree sign or of the marks of feet and inches.
_LOOK_ALIKES = str.maketrans({"º": "°", "˚": "°", "’": "'", "‘": "'", "”": '"', "“": '"', "″": '"', "′": "'"})

# Names by which a lesson multiplies: 8.9 * A. Left out as traps: s, m, g, h, F, C, J and k (a learner's own
# variables, or two meanings), in (a Python word) and min (a Python function): second, meter, minute, hour,
# inch stand for them, and there is no farad, gram or joule.
LESSON_NAMES: dict[str, str] = {
    "A": "A", "mA": "mA", "V": "V", "mV": "mV", "ohm": _OHM, "kohm": f"k{_OHM}", "Mohm": f"M{_OHM}",
    "W": "W", "kW": "kW", "hp": "hp", "VA": "VA", "kVA": "kVA", "Hz": "Hz",
    "degF": "°F", "degC": "°C", "K": "kelvin",
    "cfm": "cfm", "fpm": "ft/min", "inch": "in", "foot": "ft", "mm": "mm", "meter": "meter",
    "inH2O": "inH2O", "Pa": "Pa", "BTUh": "BTU/h", "BTU": "BTU", "Wh": "Wh", "kWh": "kWh",
    "lb": "lb", "kg": "kg", "second": "s", "minute": "min", "hour": "h", "percent": "%", "uF": f"{_MICRO}F",
}  # fmt: skip

_DEFINITIONS = {
    "cubic_foot_per_minute": "foot ** 3 / minute = cfm",
    "foot_per_minute": "foot / minute = fpm",
    "cubic_meter_per_hour": "meter ** 3 / hour",
    "liter_per_second": "liter / second",
    "meter_per_second": "meter / second",
    "british_thermal_unit_per_hour": "international_british_thermal_unit / hour = BTUh",
    "inch_H2O": "249.08891 * pascal = inH2O",
}
_TEMPERATURES = ("°F", "°C", "kelvin")
_SAME_DIMENSION = {"apparent power": "power"}
"""Quantities that differ in name only: their units convert into each other."""


@cache
def _with_definitions(registry: Registry) -> Registry:
    """Return the registry with the trade's compound units defined in it, once."""
    registry.get_dimensionality("ampere")  # a lazy registry has no names before its first use
    names = set(dir(registry))
    for name, definition in _DEFINITIONS.items():
        if name not in names:
            registry.define(f"{name} = {definition}")
    return registry


def application_registry() -> Registry:
    """Return pint's application registry, built on first use."""
    import pint

    return _with_definitions(pint.application_registry.get())  # type: ignore[no-untyped-call]


def unit(symbol: str) -> Unit:
    """Return the unit with this canonical symbol, such as ``"A"`` or ``"°F"``.

    Raises
    ------
    UnknownUnitError
        If the table has no such symbol.
    """
    if symbol not in _BY_SYMBOL:
        raise UnknownUnitError(f"There is no unit {symbol!r}; the table has {', '.join(_BY_SYMBOL)}.")
    return _BY_SYMBOL[symbol]


def spelled(text: str) -> Unit | None:
    """Return the unit that ``text`` is an accepted spelling of, or None; blanks must be single spaces."""
    plain = text.translate(_LOOK_ALIKES)
    return _BY_SPELLING.get(plain) or (_BY_WORD.get(plain.lower()) if plain.isascii() else None)


def quantity_of(symbol: str) -> str:
    """Return what a unit measures, in plain words: ``quantity_of("kW")`` is ``"power"``.

    Raises
    ------
    UnknownUnitError
        If the table has no such symbol.
    """
    return unit(symbol).quantity


def commensurable(a: str, b: str) -> bool:
    """Return whether two units convert into each other (W and VA do, W and A do not), as the table has it.

    Raises
    ------
    UnknownUnitError
        If the table lacks either symbol.
    """
    return _dimension(a) == _dimension(b)


def _dimension(symbol: str) -> str:
    quantity = quantity_of(symbol)
    return _SAME_DIMENSION.get(quantity, quantity)


def convert(magnitude: float, unit: str, to: str) -> float:
    """Return ``magnitude`` of ``unit`` in ``to`` (canonical symbols; °F, °C, kelvin with their offsets).

    Raises
    ------
    UnknownUnitError
        If the table lacks either symbol.
    UnitMismatchError
        If the two units measure different things.
    """
    if not commensurable(unit, to):
        raise UnitMismatchError(f"{unit} measures {quantity_of(unit)}, {to} measures {quantity_of(to)}.")
    if unit in _TEMPERATURES and unit != to:
        return _converted(magnitude, unit, to)
    return float(magnitude) * _factor(unit, to)


@cache
def _factor(unit: str, to: str) -> float:
    return 1.0 if unit == to else _converted(1.0, unit, to)


def _converted(magnitude: float, unit: str, to: str) -> float:
    return float(application_registry().convert(float(magnitude), _BY_SYMBOL[unit].pint, _BY_SYMBOL[to].pint))


def _degree_class(registry: Registry) -> Callable[[str], object]:
    """Return pint's unit class, but one that a plain number may be multiplied by: ``135 * degF``.

    pint refuses that for units with an offset, since for it 135 times a degree could be a difference; in a
    lesson it is always a reading of a thermometer.
    """

    class Degree(registry.Unit):  # type: ignore[name-defined,misc]
        def __mul__(self, other: float) -> object:
            return registry.Quantity(other, self._units)

        __rmul__ = __mul__

    return Degree


@cache
def _lesson_units(registry: Registry) -> dict[str, object]:
    degree = _degree_class(registry)
    rows = {name: _BY_SYMBOL[symbol] for name, symbol in LESSON_NAMES.items()}
    return {
        name: degree(row.pint) if row.quantity == "temperature" else registry.Unit(row.pint)
        for name, row in rows.items()
    }


def lesson_units() -> dict[str, object]:
    """Return the names of ``LESSON_NAMES`` as pint units, such that ``8.9 * A`` is a pint quantity."""
    return dict(_lesson_units(application_registry()))


def __getattr__(name: str) -> object:
    """Return one lesson unit on first use: ``from dryerbench.answers.units import A``."""
    if name in LESSON_NAMES:
        return lesson_units()[name]
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
