"""The lessons against the safety rules of DEVELOPERS.md: where each rule is said, in which lesson, and by which source.

``safety_words.csv`` is the record of the read-through, lesson by rule. What is ``said`` has to stand in the lesson in
these words; where a rule does not touch a lesson, ``not_touched`` says why. Change a caution, and read it against its
rule again.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.registry import SHEETS, SLIPS

ROOT = Path(__file__).resolve().parents[3]
SOURCES = {path.stem[:2]: path.read_text(encoding="utf-8") for path in sorted((ROOT / "solutions").glob("*.md"))}
LESSONS = [number for number in SOURCES if number != "00"]

with (Path(__file__).parent / "safety_words.csv").open(encoding="utf-8", newline="") as _file:
    SAID = {(int(row["rule"]), row["lesson"]): (row["said"], row["not_touched"]) for row in csv.DictReader(_file)}


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
    in_the_table = sorted({rule for rule, _ in SAID})
    assert [*in_the_table, *by_tests_below] == rules()
    assert set(SAID) == {(rule, lesson) for rule in in_the_table for lesson in LESSONS}


@pytest.mark.parametrize("lesson", LESSONS)
def test_a_lesson_says_each_rule_or_is_not_touched_by_it(lesson: str) -> None:
    words = plain(SOURCES[lesson])
    for (rule, _), (said, not_touched) in ((key, row) for key, row in SAID.items() if key[1] == lesson):
        assert bool(said) != bool(not_touched), rule
        assert said in words, f"lesson {lesson}, rule {rule}: {said}"


@pytest.mark.parametrize("number", sorted(SOURCES))
def test_a_caution_stands_before_the_first_cell(number: str) -> None:
    top = SOURCES[number].split("```{code-cell}")[0]
    box = plain("\n".join(line for line in top.splitlines() if line.startswith(">")))
    for words in ("house voltage kills", "local codes", "the manufacturer's instructions", "a licensed electrician"):
        assert words in box.lower(), words


# --- rule 5: a live reading is never told without its cautions in the same part ------------------------------------

LIVE = re.compile(
    r"\b(clamps?|jaw|read live|reads? a dryer that is live|live reading|measur\w+ live|under load|live work"
    r"|known source is live|can only be read live|slots is live)\b"
)
NEEDS = ("qualified person", "gloves", "one hand", "category", "alone")
ONLY_NAMED = {
    ("01", "The order that makes it dead"): "an arc under load; nothing is measured",
    ("01", "When to stop"): "says to stop",
    ("04", "What to remember on the job"): "reminders",
    ("04", "Ghost volts"): "the meter's own load; the caution closes the part that follows",
    ("07", "Graded questions: your own dryer"): "readings that a qualified person took",
    ("09", "What to remember on the job"): "reminders",
    ("09", "Warm air at the exhaust"): "a thermometer outside",
    ("09", "Practice cards"): "asks for a reading that is told",
    ("09", "Graded questions: your own dryer"): "a reading that a qualified person took",
    ("10", "Graded questions: your own three calls"): "a clamp that a qualified person puts on",
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
    for path in [
        *sorted((ROOT / "datasets").iterdir()),
        *sorted((ROOT / "grader" / "legtoleg" / "templates").glob("*.html")),
    ]:
        for line in path.read_text(encoding="utf-8").splitlines():
            yield path.name, line
    for path in (ROOT / "README.md", ROOT / "DEVELOPERS.md"):
        for paragraph in path.read_text(encoding="utf-8").split("\n\n"):
            yield path.name, plain(paragraph)


CLAIMS = {
    r"NFPA 70E": ("120.5", "2018", "2021", "120.6", "2024", "second hand"),
    r"OSHA": ("1910.",),
    r"1910\.333\(b\)\(2\)\(iv\)\(B\)": ("OSHA", "only above 600 V"),
    r"1910\.333(?!\([ab]\))": ("which part of it",),
    r"1910\.147(?!\([acd]\))": ("which part of it",),
    r"1910\.147\([ad]\)": ("29 CFR", "second hand"),
    r"1910\.333\([ab]\)": ("1910.333", "how it is known"),
}
"""Words that must stand beside a source where it is named (checked against the sources as read at second hand)."""


HOW_KNOWN = ("from memory", "second hand")
READ_ELSEWHERE = "not in the original"
"""Said to apprentices instead of ``second hand``, which they take for used goods."""


def wrong_claims(words: str) -> list[str]:
    """Return what is missing beside the sources that ``words`` name; of retraining and its periods: how it is known."""
    if READ_ELSEWHERE in words:
        words += " second hand"
    if "retrain" in words or "1910.147(c)" in words:
        named = any(re.search(name, words) for name in CLAIMS)
        return [] if not named or any(how in words for how in HOW_KNOWN) else ["how it is known"]
    if any(how in words for how in HOW_KNOWN) or "only above 600 V" in words:
        words += " how it is known"
    return [
        f"{name}: {need}"
        for name, needs in CLAIMS.items()
        if re.search(name, words)
        for need in needs
        if need not in words
    ]


def test_each_source_is_cited_for_what_it_says() -> None:
    for place, words in texts():
        assert not wrong_claims(words), f"{place}: {words[:200]}"
    cited = [name for _, words in texts() for name in CLAIMS if re.search(name, words)]
    assert min(cited.count(name) for name, needs in CLAIMS.items() if "which part of it" not in needs) >= 1
    assert cited.count("NFPA 70E") >= 7


@pytest.mark.parametrize(
    "claim",
    [
        "OSHA requires that the meter is proved before and after each test.",
        "Proving the meter: NFPA 70E.",
        "OSHA's 1910.333(b)(2)(iv)(B) demands it at any voltage.",
        "Lock, tag and verify: 29 CFR 1910.147.",
        "No lock is needed with the plug in hand: 29 CFR 1910.147(a)(2)(iii)(A).",
        "Live work needs a reason: OSHA, 29 CFR 1910.333(a)(1).",
        "Dead electrical work: OSHA, 29 CFR 1910.333, second hand.",
        "NFPA 70E asks for retraining every three years.",
    ],
)
def test_a_wrong_claim_would_be_found(claim: str) -> None:
    assert wrong_claims(claim)


UNREAD = ("IEC 61010", "IEC 60335-1", "UL 943", "NEC", "IRC M1502", "ASTM D120")


def test_what_was_not_read_at_first_hand_says_so() -> None:
    for place, words in ((path, words) for path, words in texts() if path.endswith(".md") and path[0].isdigit()):
        if any(name in words for name in UNREAD) and "4 inch metal duct:" not in words:
            assert any(how in words for how in (*HOW_KNOWN, READ_ELSEWHERE)), f"{place}: {words[:200]}"


def test_common_practice_is_called_so() -> None:
    for number, words in ((number, plain(text)) for number, text in SOURCES.items()):
        for found in re.finditer(r"CAT III for a dryer circuit", words):
            assert "common practice" in words[found.start() : found.end() + 60], number


# --- rules 14 and 15: what the bench does for people, and what holds a lesson ---------------------------------------


@pytest.mark.parametrize("lesson", LESSONS)
def test_what_a_cell_does_on_the_bench_is_safe(lesson: str) -> None:
    """Run the acts that a lesson's own cells do on its bench: nothing is found, not even a note."""
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
