"""The lessons against the safety rules of DEVELOPERS.md: where each rule is said, in which lesson, and by which source.

``SAID`` is the record of the read-through, lesson by rule. A phrase has to stand in the lesson as it is written here; a
lesson that a rule does not touch says why. Change a caution, and read it against the rule again.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from dryerbench.bench import Bench
from dryerbench.sheets import SHEETS
from dryerbench.slips import SLIPS

ROOT = Path(__file__).resolve().parents[2]
SOURCES = {path.stem[:2]: path.read_text(encoding="utf-8") for path in sorted((ROOT / "solutions").glob("*.md"))}
LESSONS = [number for number in SOURCES if number != "00"]

NOT = "not here: "
"""How a reason begins why a rule does not touch a lesson."""

_PAPER = NOT + "worked out on paper, no machine is opened"
_OUTSIDE = NOT + "the receptacle is read from outside, no machine is opened"
_VENT = NOT + "the vent is cleaned from outside; a cover comes off by the caution of rule 2 alone"
_NO_OHMS = NOT + "no ohm reading is taught"

SAID: dict[int, dict[str, str]] = {
    1: dict.fromkeys(LESSONS, "a licensed electrician come before"),
    2: {
        "01": "Prove dead. That is the next part. Only then a cover comes off",
        "02": _OUTSIDE,
        "03": "unplug the dryer, or open its breaker, lock it and tag it. Prove your meter on a source you know, test that "
        "the circuit is dead, and prove the meter again, before a cover comes off",
        "04": "unplugged, the meter proved on a source you know, tested dead, the meter proved again, and only then the cover",
        "05": "Prove the meter on a source you know, test dead, prove the meter again, and only then take the cover off",
        "06": "the meter proved on a source you know, the circuit tested dead, the meter proved again. Then the cover",
        "07": "prove your meter on a source you know, test that the circuit is dead, prove the meter again; only then a cover",
        "08": "A cover comes off only when the circuit is proved dead: plug out, meter proved, tested dead, meter proved again",
        "09": "Prove your meter on a source you know, test that the circuit is dead, and prove the meter again",
        "10": "prove the meter on a source you know; test dead; prove the meter again; only then the cover",
    },
    3: {
        "01": "So a zero counts only between two proofs",
        "02": "A zero counts only between two proofs",
        "03": "with a meter that was proved before and after",
        "04": "Prove it before and after, every time",
        "05": "prove the meter again, and only then",
        "06": "Dead first: unplug, prove, test, prove again",
        "07": "prove the meter again; only then",
        "08": "meter proved, tested dead, meter proved again",
        "09": "If it died during the test, its zero was worth nothing",
        "10": "A meter that died during the test shows a dead circuit too",
    },
    4: {
        "01": "test once more at the terminal block, where your hands will be",
        "02": _OUTSIDE,
        "03": _PAPER,
        "04": "proves it dead once more at the terminal block",
        "05": "test once more at the terminal block",
        "06": "test once more at the terminal block",
        "07": "once more at the terminal block",
        "08": _VENT,
        "09": "test once more at the terminal block",
        "10": "test once more at the terminal block",
    },
    5: {
        "01": "A qualified person does this, or stands beside you",
        "02": "That is work for a qualified person",
        "03": "Measuring live is work for a qualified person",
        "04": "Measuring live is a qualified person's work",
        "05": "Nothing here is measured live",
        "06": "The one live reading that this lesson talks about is work for a qualified person",
        "07": "Measuring live is work for a qualified person",
        "08": "The amps inside are a live measurement: a qualified person's work",
        "09": "Measuring with the power on, and every reading with a clamp round a single conductor is one, is work for a "
        "qualified person",
        "10": "Measuring live is work for a qualified person",
    },
    6: {
        "01": _NO_OHMS,
        "02": "Those two are ohm readings, on the plug in your hand",
        "03": "An ohmmeter put there sees a live circuit",
        "04": "Ohms, beeper and insulation test are for dead circuits only",
        "05": "Every test of this lesson is done on a dead machine",
        "06": "Every ohm reading in this lesson is taken on a dead machine",
        "07": "Never: ohms on a live circuit",
        "08": _NO_OHMS,
        "09": "These are read dead",
        "10": "All marked work here is done dead",
    },
    7: {
        "01": "Never leave it off",
        "02": "a loose neutral puts a leg on the case",
        "03": NOT + "the case is taught in 05",
        "04": "any number (lesson 05)",
        "05": "Test the bond each time",
        "06": "each element against the case with its wires off",
        "07": NOT + "one open contact is sought; the case is taught in 05",
        "08": NOT + "no part is replaced",
        "09": "Element in its place, wires off: OL to the case",
        "10": "Read the heater to the case whatever the complaint is",
    },
    8: {
        "01": "Foil or a nail in place of a fuse turns a meter into a firework",
        "02": NOT + "no guard is in reach",
        "03": "Never put in a bigger one to make it stop",
        "04": NOT + "no guard is in reach",
        "05": 'Never power a machine "to see if it trips"',
        "06": "Never join the wires of a cut-off or a high limit",
        "07": "Never: a jumper across a limit or a cut-off",
        "08": "Never take the limit out of line",
        "09": NOT + "no guard is touched; power comes last by rule 7",
        "10": "Never bridge a safety switch",
    },
    9: {
        "01": "Hand over to a licensed electrician",
        "02": "Changing the receptacle or the wire in the wall is a licensed electrician's work",
        "03": "that is a licensed electrician's work",
        "04": "or call the person who may",
        "05": "decided by the local code and a licensed electrician",
        "06": NOT + "nothing outside the machine",
        "07": "you hand over what you found",
        "08": "A machine that burns gas is not part of this course",
        "09": NOT + "nothing outside the machine",
        "10": "The wiring of the house is a licensed electrician's",
    },
    10: {
        "01": "a capacitor (on some motors and control boards) holds its charge",
        "02": _OUTSIDE,
        "03": _PAPER,
        "04": NOT + "the machine has stood, and the wires are pulled for you",
        "05": "leave the probes on after the test until the tester shows that the charge is gone",
        "06": "Hot water, a heat gun and a hot heater box burn skin",
        "07": NOT + "the machine has stood",
        "08": "until it is clean and runs cool again",
        "09": "the idler's spring bites, and a heater box that has just run burns",
        "10": "a hot heater box",
    },
    11: {
        "01": "the edges of sheet metal are knives",
        "02": _OUTSIDE,
        "03": _PAPER,
        "04": NOT + "the cover is taken off for you",
        "05": "The heater box has sharp edges",
        "06": "the box has sharp edges",
        "07": NOT + "said where panels are handled: 01, 09",
        "08": "Two people move it, and the edges of duct and case cut",
        "09": "gloves against cuts, two people for a machine that has to be moved",
        "10": "Mind its edges",
    },
    12: {
        "01": "Children and pets stay out until it is closed again",
        "02": "Children and pets stay out of the room while the slots are bare",
        "03": "A dryer must not run on that circuit until it is done",
        "04": NOT + "the machine of this lesson is drawn, and is not left",
        "05": "keep it so until the element is replaced and tested",
        "06": "Until then the machine stays unplugged and tagged",
        "07": NOT + "the machine of this lesson is drawn, and is not left",
        "08": "stopped, unplugged, tagged and left off",
        "09": "Children and pets stay away from screws and open panels",
        "10": "keep children and pets away from an open machine",
    },
}


def plain(text: str) -> str:
    """Return a source as its reader sees the words: no code, no marks, one space between words."""
    words = re.sub(r"```.*?```", " ", text, flags=re.DOTALL)
    words = re.sub(r"(?m)^[>\s]*(?:[-*] |\d+\. )?", " ", words)
    return re.sub(r"\s+", " ", words.replace("*", "").replace("⚠", ""))


def sections(text: str) -> Iterator[tuple[str, str]]:
    """Yield heading and words of each part of a lesson; what stands before the first heading is called ``top``."""
    parts = re.split(r"(?m)^#{1,3} (.*)$", re.sub(r"```.*?```", " ", text, flags=re.DOTALL))
    yield "top", plain(parts[0])
    for heading, words in zip(parts[1::2], parts[2::2], strict=True):
        yield heading.strip(), plain(words)


def rules() -> list[int]:
    """Return the numbers of the safety rules in DEVELOPERS.md."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    (own,) = re.findall(r"(?ms)^## Safety rules\n(.*?)^## ", text)
    return [int(number) for number in re.findall(r"(?m)^(\d+)\. ", own)]


def test_every_rule_of_developers_has_its_line_here_or_a_test_of_its_own() -> None:
    assert rules() == list(range(1, 16))
    by_tests_below = [13, 14, 15]
    assert sorted([*SAID, *by_tests_below]) == rules()


@pytest.mark.parametrize("rule", sorted(SAID))
def test_each_lesson_says_the_rule_or_is_not_touched_by_it(rule: int) -> None:
    assert sorted(SAID[rule]) == LESSONS
    for lesson, phrase in SAID[rule].items():
        assert phrase.startswith(NOT) or phrase in plain(SOURCES[lesson]), f"lesson {lesson}, rule {rule}: {phrase}"


@pytest.mark.parametrize("number", sorted(SOURCES))
def test_a_caution_stands_before_the_first_cell(number: str) -> None:
    top = SOURCES[number].split("```{code-cell}")[0]
    box = plain("\n".join(line for line in top.splitlines() if line.startswith(">")))
    for words in ("mains voltage kills", "local codes", "the maker's instructions", "a licensed electrician"):
        assert words in box.lower(), words


# --- rule 5: a live reading is never told without its cautions in the same part ------------------------------------

LIVE = re.compile(
    r"\b(clamps?|jaw|read live|reads? a machine that is live|live reading|measur\w+ live|under load|live work"
    r"|known source is live|can only be read live|slots is live)\b"
)
NEEDS = ("qualified person", "gloves", "one hand", "category", "alone")
ONLY_NAMED = {
    ("01", "The order that makes it dead"): "an arc under load; nothing is measured",
    ("01", "When to stop"): "says to stop",
    ("04", "What to remember on the job"): "reminders",
    ("04", "Phantom volts"): "the meter's own load; the caution closes the part that follows",
    ("07", "Marked questions: your own machine"): "readings that a qualified person took",
    ("09", "What to remember on the job"): "reminders",
    ("09", "Warm air at the exhaust"): "a thermometer outside",
    ("09", "Marked questions: your own machine"): "a reading that a qualified person took",
    ("10", "Marked questions: your own call"): "a clamp that a qualified person puts on",
}
"""Parts that name a live reading and do not teach it, each with the reason."""


@pytest.mark.parametrize("lesson", LESSONS)
def test_a_live_reading_has_its_cautions_in_the_same_part(lesson: str) -> None:
    for heading, words in sections(SOURCES[lesson]):
        if LIVE.search(words) and (lesson, heading) not in ONLY_NAMED:
            missing = [need for need in NEEDS if need not in words]
            assert not missing, f"lesson {lesson}, {heading}: {missing}"


def test_parts_that_only_name_a_live_reading_are_there_and_name_one() -> None:
    named = {(lesson, heading) for lesson in LESSONS for heading, words in sections(SOURCES[lesson])
             if LIVE.search(words)}  # fmt: skip
    assert set(ONLY_NAMED) <= named


# --- rules 3 and 13: who demands what ------------------------------------------------------------------------------


def texts() -> Iterator[tuple[str, str]]:
    """Yield every text that a person reads, with its place, paragraph by paragraph."""
    for path in sorted((ROOT / "solutions").glob("*.md")):
        for paragraph in re.split(r"\n\s*>?\s*\n", path.read_text(encoding="utf-8")):
            yield path.name, plain(paragraph)
    for slip in SLIPS.values():
        yield slip.code, slip.says
    for path in [*sorted((ROOT / "datasets").iterdir()), *sorted((ROOT / "grader" / "templates").glob("*.html"))]:
        for line in path.read_text(encoding="utf-8").splitlines():
            yield path.name, line
    for path in (ROOT / "README.md", ROOT / "DEVELOPERS.md"):
        for paragraph in path.read_text(encoding="utf-8").split("\n\n"):
            yield path.name, plain(paragraph)


CLAIMS = {
    "NFPA 70E": ("120.5", "2018", "2021", "120.6", "2024", "second hand"),
    "OSHA": ("1910.333(b)(2)(iv)(B)", "only above 600 V"),
    "1910.333": ("OSHA", "only above 600 V"),
    "1910.147": ("29 CFR 1910.147(d)", "second hand"),
}
"""Words that must stand beside a source where it is named (checked against the sources as read at second hand)."""


def wrong_claims(words: str) -> list[str]:
    """Return what is missing beside the sources that ``words`` name."""
    return [f"{name}: {need}" for name, needs in CLAIMS.items() if name in words for need in needs if need not in words]


def test_each_source_is_cited_for_what_it_says() -> None:
    for place, words in texts():
        assert not wrong_claims(words), f"{place}: {words[:200]}"
    cited = [name for _, words in texts() for name in CLAIMS if name in words]
    assert min(cited.count(name) for name in CLAIMS) >= 1
    assert cited.count("NFPA 70E") >= 7


@pytest.mark.parametrize(
    "claim",
    [
        "OSHA requires that the meter is proved before and after each test.",
        "Proving the meter: NFPA 70E.",
        "OSHA's 1910.333(b)(2)(iv)(B) demands it at any voltage.",
        "Lock, tag and verify: 29 CFR 1910.147.",
    ],
)
def test_a_wrong_claim_would_be_found(claim: str) -> None:
    assert wrong_claims(claim)


UNREAD = ("IEC 61010", "IEC 60335-1", "UL 943", "NEC", "IRC M1502", "ASTM D120")


def test_what_was_not_read_at_first_hand_says_so() -> None:
    for place, words in ((path, words) for path, words in texts() if path.endswith(".md") and path[0].isdigit()):
        if any(name in words for name in UNREAD) and "4 inch metal duct:" not in words:
            assert "second hand" in words or "from memory" in words, f"{place}: {words[:200]}"


def test_common_practice_is_called_so() -> None:
    for number, words in ((number, plain(text)) for number, text in SOURCES.items()):
        for found in re.finditer(r"CAT III for a dryer circuit", words):
            assert "common practice" in words[found.start() : found.end() + 60], number


# --- rules 14 and 15: what the bench does for people, and what holds a lesson ---------------------------------------


@pytest.mark.parametrize("lesson", LESSONS)
def test_what_a_cell_does_on_the_bench_is_safe(lesson: str) -> None:
    """Run the acts that a lesson's own cells do before anybody has touched the bench: nothing is found, not even a note."""
    cells = re.findall(r"```\{code-cell\} ipython3\n(?!:question:)(.*?)```", SOURCES[lesson], re.DOTALL)
    for cell in (cell for cell in cells if "open_bench" in cell):
        bench = Bench()
        for act, given in re.findall(r'(?m)bench\.do\("(\w+)"(?:, (\w+="[^"]+"))?\)', cell):
            bench.do(act, **dict([given.replace('"', "").split("=")] if given else []))
        assert bench.findings == []
        opened = [place for place, act in enumerate(bench.trail) if act["act"] == "cover_off"]
        tested = [place for place, act in enumerate(bench.trail) if act["act"] == "test_dead"]
        assert not opened or max(tested) > opened[0], "no test at the terminal block"


def test_every_lesson_has_questions_that_hold_it() -> None:
    for lesson, paper in SHEETS.items():
        held = [question for question in paper.questions if question.safety]
        assert len(held) >= 1 + (lesson != "04_trusting_the_meter"), lesson
