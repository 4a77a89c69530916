"""The lessons as their reader meets them: sums come out, drawings say what to look for, buttons named are there."""

from __future__ import annotations

import ast
import inspect
import operator
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from tests.dryerbench.machine_view.looks import PLATES

import dryerbench
from dryerbench.air.thermistor import BetaThermistor
from dryerbench.air.thermostats import usual_switch
from dryerbench.bench.meter import Meter
from dryerbench.bench.meter_ranges import ranges
from dryerbench.bench.shop_names import MODE_WORDS, SHOP_NAMES
from dryerbench.core.tables import table
from dryerbench.core.temperatures import fahrenheit
from dryerbench.electricity.conductors import hot_factor
from dryerbench.electricity.contacts import GOOD_CONTACT_MILLIVOLTS
from dryerbench.electricity.leakage import INTERRUPTER_TRIPS, leakage_limit
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.notebook import call_widget, machine_call_widget, machine_panel, practice_bench_widget, practice_stand
from dryerbench.registry import SLIPS
from dryerbench.topics.air_and_drying.models import BLOCKED_FROM

ROOT = Path(__file__).resolve().parents[3]
SOURCES = {path.stem: path.read_text(encoding="utf-8") for path in sorted((ROOT / "solutions").glob("*.md"))}


def prose(text: str) -> str:
    """Return a source without its head, cells, formulas and code."""
    text = re.sub(r"\A---.*?^---\n", "", text, flags=re.DOTALL | re.MULTILINE)
    return re.sub(r"```.*?```|\$\$.*?\$\$|`[^`]*`", " ", text, flags=re.DOTALL)


# --- sums ----------------------------------------------------------------------------------------------------------

_UNITS = r"(?<=\d)\s*(?:kΩ|Ω|V|A|W|mA|mV|ft|%|°F)(?![A-Za-z])"
_ATOM = r"\(*\s*\d+(?:\.\d+)?\s*\)*"
_SUM = re.compile(rf"({_ATOM}(?:\s*[×÷/+−-]\s*{_ATOM})+)\s*$")
_SHOWS = (
    r"[.,]?\s+(?:(?:and )?(?:[Tt]he )?(?:phone )?(?:shows|gives|makes)|[Ww]rite(?: down)?|[Yy]ou get)(?: about)?\s+"
)
"""What stands between the keys of a sum, set as code, and its result."""
_RESULT = re.compile(r"\s*±?\s*(\d+(?:\.\d+)?)")
_SIGNS = str.maketrans({"×": "*", "÷": "/", "−": "-"})
_WORK = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}


def worked(node: ast.expr) -> float:
    """Return the value of a sum of plain numbers."""
    if isinstance(node, ast.BinOp):
        return float(_WORK[type(node.op)](worked(node.left), worked(node.right)))
    assert isinstance(node, ast.Constant)
    return float(node.value)


def sums(text: str) -> Iterator[tuple[str, str]]:
    """Yield each sum of a lesson and the result that stands behind its equals sign, units taken off."""
    text = re.sub(r"```.*?```", " ", text, flags=re.DOTALL).replace("*", "").replace("\\$", "").replace("$", "")
    text = re.sub(r"\\text\{[^{}]*\}|\\Omega|\\%", "", text).replace("\\ ", " ").replace("\\qquad", " ; ")
    text = re.sub(r"\\frac\{([^{}]*)\}\{([^{}]*)\}", r"((\1)/(\2))", text).replace("\\times", "×").replace("\\div", "÷")
    text = re.sub(rf"=`{_SHOWS}", "= ", text.replace("`=`", "="))
    parts = re.sub(r"\s+", " ", re.sub(_UNITS, "", re.sub(_UNITS, "", text))).split("=")
    for before, after in pairwise(parts):
        left, right = _SUM.search(before), _RESULT.match(after)
        if left and right and left[1].count("(") == left[1].count(")"):
            yield left[1].strip(), right[1]


def comes_out(left: str, right: str) -> bool:
    """Tell whether ``left`` is ``right`` to the last figure written; the result may be in milli or in percent."""
    value = worked(ast.parse(left.translate(_SIGNS), mode="eval").body)
    last = 10.0 ** -len(right.partition(".")[2])
    return any(abs(value * factor - float(right)) <= 0.5001 * last for factor in (1.0, 100.0, 1000.0))


def test_every_sum_of_the_lessons_comes_out() -> None:
    found = [(lesson, left, right) for lesson, text in SOURCES.items() for left, right in sums(text)]
    assert len(found) > 40
    wrong = [one for one in found if not comes_out(one[1], one[2])]
    assert not wrong


@pytest.mark.parametrize(("left", "right"), [("240 × 8.89", "2133"), ("3.14 / 4 × 0.333 × 0.333", "0.0873")])
def test_a_sum_that_does_not_come_out_is_found(left: str, right: str) -> None:
    assert not comes_out(left, right)


# --- numbers that the code holds too -------------------------------------------------------------------------------


def _accuracy(mode: str, places: int = 1) -> str:
    scale = ranges(mode)[0]
    return f"{scale.percent:.{places}f} % + {scale.counts} counts"


def _row(first: str, table_name: str, column: str, shown: str = "g", rows: int | None = None) -> str:
    """Return a line of a lesson's table, made from the numbers of a dataset."""
    cells = table(table_name).column(column)[:rows]
    return " | ".join([f"| {first}", *(format(cell, shown) for cell in cells)]) + " |"


def told() -> Iterator[tuple[str, str]]:
    """Yield words that a lesson has to say, made from the numbers that the code computes with."""
    meter, copper = Meter(), [table("copper-conductors").row(awg=awg) for awg in (14, 12, 10)]
    thermostat, limit = usual_switch("cycling_thermostat"), usual_switch("high_limit")
    sensor = BetaThermistor()
    for row in table("shock-effects").rows:
        yield "01", f"| {row['milliamps']:g} |"
    yield "03", _row("wire, °C", "nichrome-80-20", "celsius", rows=9)
    yield "03", _row("factor", "nichrome-80-20", "factor", ".3f", rows=9)
    yield "03", _row("ohms for 1000 ft", "copper-conductors", "ohms_per_kft")
    yield "03", "| largest usual breaker | " + " | ".join(f"{row['breaker_limit']:g} A" for row in copper) + " |"
    yield "04", f"the set point is {meter.beeps_below:g} Ω"
    yield "04", f"±({_accuracy('ohms')}) for ohms"
    yield "04", f"±({_accuracy('volts')})"
    yield "04", f"it has {meter.input_ohms / 1e6:g} MΩ inside"
    yield "04", f"about {meter.low_input_ohms / 1e3:g} kΩ between the tips"
    yield "05", f"{leakage_limit(1.0):g} mA for each kW"
    yield "05", f"and at most {leakage_limit(99.0):g} mA"
    yield "05", f"it trips (4 to {INTERRUPTER_TRIPS:g} mA"
    yield "05", f"`0.75 × 6.4 =` gives {leakage_limit(6.4):g} mA"
    yield "06", f"past {fahrenheit(thermostat.opens):.0f} °F"
    yield "06", f"A high limit stamped {fahrenheit(limit.opens):.0f} °F"
    yield "06", f"beta is {sensor.beta:g} K"
    yield "06", f"about {GOOD_CONTACT_MILLIVOLTS:g} mV at heater current"
    for degrees in (0, 10, 20, 25, *range(30, 90, 10)):
        factor = sensor.ohms(float(degrees)) / sensor.ohms_at_reference
        yield "06", f"| {fahrenheit(degrees):.0f} | {degrees} | {factor:#.4g} |"
    for edition in ("2009 and later", "2006"):
        yield "08", f"| edition {edition} | {table('duct-codes').row(edition=edition)['longest_ft']:g} ft |"
    yield "08", f"| 90° | {table('duct-elbows').row(elbow='mitred_90')['code_deduction_ft']:g} ft |"
    yield "08", f"| 45° | {table('duct-elbows').row(elbow='mitred_45')['code_deduction_ft']:g} ft |"
    yield "08", f"more than {BLOCKED_FROM:g} times that: the vent is blocked"
    yield "08", f"up to {BLOCKED_FROM:g} times that: nothing blocks the vent"
    yield "09", f"±({_accuracy('clamp', 0).replace(' %', ' % of the reading')})"
    yield "09", f"about {hot_factor(500.0):g} times its cold ohms"


def test_the_numbers_of_the_lessons_are_those_of_the_code() -> None:
    words = {name[:2]: re.sub(r"\s+", " ", text.replace("**", "")) for name, text in SOURCES.items()}
    missing = [(lesson, said) for lesson, said in told() if said not in words[lesson]]
    assert not missing


# --- drawings ------------------------------------------------------------------------------------------------------

_LOOK = re.compile(r"\b(Move|Set|Choose|In the drawing|drawing above|Now try|Look at position|slider)\b")
_PICTURE = re.compile(r"\b[Pp]icture\b")
_NO_KNOBS = {"show_path", "show_bench", "show_tech_sheet", "show_second_sheet"}
_STILL = {*(f"show_{plate.__name__}" for plate in PLATES), "show_cabinet"}


@pytest.mark.parametrize("lesson", SOURCES)
def test_each_drawing_is_told_what_to_do_with_and_to_look_for(lesson: str) -> None:
    blocks = re.split(r"```\{code-cell\} ipython3\n(.*?)```", SOURCES[lesson], flags=re.DOTALL)
    for place in range(1, len(blocks), 2):
        name = re.match(r"(show_\w+)\(", blocks[place])
        if name is None or name[1] in _NO_KNOBS:
            continue
        before = blocks[place - 1][-700:]
        after = blocks[place + 1][:700]
        told = _PICTURE if name[1] in _STILL else _LOOK
        assert told.search(before) or told.search(after), f"{lesson}: {name[1]}"


# --- buttons -------------------------------------------------------------------------------------------------------


def labels() -> str:
    """Return every text that the panel, the practice calls and the drawings' knobs put on a page."""
    folder = Path(inspect.getfile(machine_panel)).parent
    script = "\n".join(
        (folder / name).read_text(encoding="utf-8") for name in ("panel_lists.js", "machine_panel.js", "class_bar.js")
    )
    figures = [inspect.getsource(inspect.getmodule(getattr(dryerbench, name)))
               for name in dryerbench.__all__ if name.startswith("show_")]  # fmt: skip
    parts = [*MODE_WORDS.values(), *SHOP_NAMES.values(), "plug", "exhaust", "ground wire"]
    pads = [
        inspect.getsource(module)
        for module in (call_widget, machine_call_widget, practice_bench_widget, practice_stand)
    ]
    return "\n".join([script, *pads, *figures, *parts])


_OWN = {"If you'd rather type:", "Where this comes from.", "In the way:", "Not safe yet:"}


def named_on_the_page(text: str) -> set[str]:
    """Return what a lesson sets in slanted letters with a capital: the names of buttons, boxes and knobs."""
    found = re.findall(r"(?<!\*)\*([A-Z][^*\"]{2,60}?)\*(?!\*)", prose(text))
    return {re.sub(r"\s+", " ", one) for one in found} - _OWN


@pytest.mark.parametrize("lesson", SOURCES)
def test_each_button_that_a_lesson_names_is_there(lesson: str) -> None:
    there = labels()
    missing = {one for one in named_on_the_page(SOURCES[lesson]) if one not in there}
    assert not missing


@pytest.mark.parametrize("lesson", SOURCES)
def test_nobody_is_asked_to_type_code_for_practice(lesson: str) -> None:
    typed = re.findall(r"`(?:practice_bench|practice_call|machine_call|compare_paths)\([^`]*`", prose(SOURCES[lesson]))
    assert not typed


def test_every_bench_is_led_by_clicking() -> None:
    for lesson, text in SOURCES.items():
        if "show_bench(bench" in text or "practice_call" in text:
            clicks = re.search(r"(?i)\b(click|press)\b", prose(text))
            assert clicks is not None, lesson
        code = re.findall(r"`(?:print\()?bench\.[a-z_]+\(", text)
        assert not code or "*If you'd rather type:*" in text, lesson


# --- resting points ------------------------------------------------------------------------------------------------

_STOP = "**Good place to stop.**"


def unmarked_stops(text: str) -> list[str]:
    """Return the headings before which a lesson says it can be left, and that have no mark right before them."""
    time = re.search(r"(?ms)^\*\*Time\.\*\*.*?\n\n", text)
    named = re.findall(r'"([^"]+)"', time[0]) if time and "to stop" in time[0] else []
    return [one for one in (re.sub(r"\s+", " ", name) for name in named)
            if not re.search(rf"(?ms)^{re.escape(_STOP)}[^#]*?\n\n## {re.escape(one)}$", text)]  # fmt: skip


@pytest.mark.parametrize("lesson", SOURCES)
def test_a_lesson_in_sittings_marks_where_it_can_be_left(lesson: str) -> None:
    text = SOURCES[lesson]
    assert not unmarked_stops(text)
    assert _STOP in text or not re.search(r"(?m)^\*\*Time\.\*\*.* in \w+ sittings", text)


def test_a_stop_that_is_not_marked_is_found() -> None:
    text = SOURCES["04_trusting_the_meter"]
    assert unmarked_stops(text.replace(_STOP, "")) == ["Why a beeper can fool you"]


# --- names ---------------------------------------------------------------------------------------------------------

NAMES = {
    # bodies, standards and ratings
    *("ASTM", "CFR", "IEC", "IRC", "NEC", "NFPA", "OSHA", "UL", "UMC", "US", "Administration", "CAT", "AWG", "ISO"),
    # sources, places, people of the textbooks, days
    *("OpenStax", "College", "Physics", "America", "North", "West", "Euler", "Eytelwein", "Ohm", "Monday", "Sunday"),
    # keys, programs of the page, what a meter says
    *(
        "Python",
        "PRACTICE",
        "MACHINE",
        "Ctrl",
        "Enter",
        "Esc",
        "Shift",
        "Tab",
        "REL",
        "RANGE",
        "OK",
        "II",
        "III",
        "IV",
        "OL",
        "BTU",
        "AED",
        "GFCI",
        "CPR",
        "STOP",
        "Phillips",  # the cross in a screw's head: type H of ISO 4757 (from memory)
        "CC",  # with BY: the license of the open textbook
    ),
}
"""Every word with a capital that is no plain word of these texts: no maker, no shop, no person is among them."""

STARTS = {
    "Advise",
    "Blowing",
    "Cells",  # of the menu
    "Categories",
    "Changing",
    "Checking",
    "Closer",
    "Defer",
    "Demonstration",
    "Distrust",
    "Driving",
    "Friday",
    "Halve",
    "Hint",
    "Holding",
    "Hottest",
    "INF",  # no limit, in a table of readings
    "Labor",
    "Lay",
    "Ours",
    "Otherwise",
    "Passing",
    "Pick",
    "Mind",
    "Moving",
    "Newer",
    "Practice",
    "Predict",
    "Prying",
    "Pushing",
    "Release",
    "Renew",
    "Saturday",
    "Shoot",
    "Sort",
    "Sweat",
    "TV",
    "Tracing",
    "Treat",
    "Trusting",
    "Tuesday",
    "Turned",
    "Unscrew",
    "Watching",
}
"""Plain words that happen to stand at the start of a sentence or a label only."""

TOKENS = {"70E", "D120", "M1502"}
"""Letters with figures that are no test point: numbers of standards. A model number would be one more."""


def corpus() -> str:
    """Return all that apprentices read: lessons, options, slips, tables."""
    from dryerbench.registry import SHEETS

    said = [prose(text) for text in SOURCES.values()] + [slip.says for slip in SLIPS.values()]
    for paper in SHEETS.values():
        card = paper.card("practice")
        said.append(repr(card))
        for question in paper.questions:
            said.append(question.title)
            said += [option.text for option in getattr(question, "options_for", lambda _: ())(card)]
    tables = [path.read_text(encoding="utf-8") for path in (ROOT / "datasets").glob("*.csv")]
    said += [re.sub(r"@[\w.-]+", "", one) for one in tables]  # a fault's place is a part's tag, not a word
    return "\n".join(said)


def strange_names(text: str) -> set[str]:
    """Return the words with a capital that never stand without one, and that are not in ``NAMES``."""
    plain = set(re.findall(r"\b[a-z]+\b", text))
    named = set(re.findall(r"\b[A-Z][a-z]+(?:[A-Z][a-z]+)*\b|\b[A-Z]{2,}\b", text))
    return {word for word in named if word.lower() not in plain} - NAMES


def strange_tokens(text: str) -> set[str]:
    """Return the words of capitals and figures that are neither test points nor in ``TOKENS``."""
    words = set(re.findall(r"\b(?=[A-Z0-9]*[A-Z])(?=[A-Z0-9]*\d)[A-Z0-9]{2,}\b", text))
    return {word for word in words if not re.fullmatch(r"[A-Z]\d", word)} - TOKENS


def test_nobody_and_no_maker_is_named() -> None:
    tags = {part.name for name in machine_names() for part in arrangement(name).parts}
    assert strange_names(corpus()) <= STARTS | tags
    assert not strange_tokens(corpus())


def test_a_maker_and_a_model_would_be_found() -> None:
    text = corpus() + " Fit the part of Kelmarsh for the DX4410."
    assert "Kelmarsh" in strange_names(text)
    assert strange_tokens(text) == {"DX4410"}
