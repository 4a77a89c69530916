"""The second dryer of lesson 07: what its circuit says, beside what a hand reads off its file."""

from __future__ import annotations

import pytest

from dryerbench.family.arrangement import CABINET
from dryerbench.family.shelf import arrangement
from dryerbench.registry import sheet
from dryerbench.topics.tracing_the_circuit import sheet_figures
from dryerbench.topics.tracing_the_circuit.heater_line import LINE, in_doubt, middle
from dryerbench.topics.tracing_the_circuit.second_sheet import (
    EXAMPLE,
    GRADED,
    PRACTICED,
    SECOND_DEAD,
    at_rest,
    heater_line,
    legs_at_heater,
    resting_line,
    single_contacts,
    stops_all_heat,
    stretches,
    suspects,
    volts_read,
)
from dryerbench.topics.tracing_the_circuit.sheet import LESSON, second_of, second_pairs_of, second_set_of
from dryerbench.topics.tracing_the_circuit.sheet_figures import NoSecondSheetError, sheet_figure, show_second_sheet

PAPER = sheet(LESSON)
CARDS = [PAPER.card(f"someone-{n}") for n in range(120)]
DRYERS = (*GRADED, *PRACTICED)
BOTH, LEG = 240.0, 120.0


def points(name: str) -> list[str]:
    return [point for item in heater_line(arrangement(name)) for point in (item.left, item.right)]


def test_every_second_dryer_is_dealt_and_none_of_the_practice() -> None:
    assert {second_of(card).name.lower() for card in CARDS} == set(GRADED)
    assert not set(GRADED) & {*PRACTICED, EXAMPLE, "schoolroom"}
    assert {second_set_of(card) for card in CARDS} == {"run air", "stop high"}


@pytest.mark.parametrize("name", DRYERS)
def test_volts_with_one_contact_open_are_those_of_the_lesson(name: str) -> None:
    """Up to the open place the near leg, past it the far one; no current flows, so a coil has nothing across it."""
    made = arrangement(name)
    line = points(name)
    near, far = (next(leg for leg in ("L1", "L2") if made.net[leg] == made.net[end]) for end in (line[0], line[-1]))
    for opened in single_contacts(made):
        part = opened.names[0]
        for place, point in enumerate(line):
            reached = place <= line.index(opened.left)
            assert volts_read(made, far, point, part) == pytest.approx(BOTH if reached else 0.0, abs=0.5), (part, point)
            assert volts_read(made, near, point, part) == pytest.approx(0.0 if reached else BOTH, abs=0.5)
            assert volts_read(made, point, CABINET, part) == pytest.approx(LEG, abs=0.5)
        for item in heater_line(made):
            assert volts_read(made, item.left, item.right, part) == pytest.approx(
                BOTH if item == opened else 0.0, abs=0.5
            )


@pytest.mark.parametrize("name", DRYERS)
def test_a_part_that_stops_all_heat_is_in_the_line_of_the_file(name: str) -> None:
    made = arrangement(name)
    (way,) = (way for way in made.ways if way.title == "heater")
    named = {step for steps in way.steps for step in steps}
    stopping = {part.name for part in suspects(made) if stops_all_heat(made, part.name)}
    assert stopping
    assert stopping <= named
    assert at_rest(made).names[0] in stopping


@pytest.mark.parametrize("name", DRYERS)
def test_the_stretch_that_is_closed_at_rest_is_halved_as_the_lesson_halves(name: str) -> None:
    made = arrangement(name)
    line, ends = resting_line(made), stretches(made)
    assert len(line) >= 5
    assert not set(line) & set(made.box_terminals)
    assert (line[0], line[-1]) == ends["whole"]
    for dead in SECOND_DEAD:
        doubt = in_doubt(((*ends[which], is_open) for which, is_open in dead), line)
        if not doubt:
            assert dead == (("whole", False),)
            continue
        wanted = {1: "half", 2: "first" if dead[-1][1] else "third"}[len(dead)]
        assert ends[wanted] == (doubt[0], middle(doubt[0], doubt[-1], line))
        left = sorted(
            len(in_doubt((*((*ends[w], o) for w, o in dead), (*ends[wanted], out)), line)) for out in (True, False)
        )
        assert left[1] - left[0] <= 1


def test_the_first_line_is_still_halved_as_before() -> None:
    assert middle("L1", "H8") == middle("L1", "H8", LINE) == "H4"


def test_the_leg_at_the_heater_is_that_of_the_files_own_line() -> None:
    """``still hot`` in each file was worked out by hand when the family was made."""
    for name in DRYERS:
        made = arrangement(name)
        told = {(one.where, one.state): one.legs for one in made.still_hot}
        for state in ("run air", "stop high"):
            legs = legs_at_heater(made, state)
            assert (" + ".join(sorted(legs)) or "nothing") == told[("heater", state)], name


def test_the_three_pairs_are_of_three_kinds_and_both_answers_come_up() -> None:
    seen: dict[int, set[float]] = {0: set(), 1: set(), 2: set()}
    for card in CARDS:
        made, (opened, pairs) = second_of(card), second_pairs_of(card)
        for place, (a, b) in enumerate(pairs):
            seen[place].add(round(volts_read(made, a, b, opened.names[0])))
    assert seen == {0: {0, 240}, 1: {0, 240}, 2: {0, 120}}


def test_the_sheet_is_shown_drawn_and_as_a_list(monkeypatch: pytest.MonkeyPatch) -> None:
    found: list[str] = []
    monkeypatch.setattr(sheet_figures, "show_still", lambda drawn: found.append(drawn.title))
    monkeypatch.setattr(sheet_figures, "show_bundle", lambda bundle: found.append(str(bundle["text/plain"])))
    show_second_sheet()
    show_second_sheet(CARDS[0])
    assert found[0] == "Cellar: off"
    assert "Lim.2 to Box.p, brass ring" in found[1]
    assert found[2].startswith(second_of(CARDS[0]).name)
    with pytest.raises(NoSecondSheetError):
        show_second_sheet(sheet("01_made_dead").card("anyone-1"))


def test_the_drawing_has_no_marks_of_what_can_be_pressed() -> None:
    assert "data-" not in sheet_figure(arrangement(EXAMPLE)).svg()
