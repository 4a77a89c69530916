"""Sheets: the machines that are dealt, and the questions."""

from __future__ import annotations

import pytest

from dryerbench.answers.units import quantity_of
from dryerbench.core.errors import UnknownQuestionError
from dryerbench.course.questions import Question
from dryerbench.electricity.ohms_law import current, parallel
from dryerbench.registry import SHEETS, sheet
from dryerbench.topics.heater_power.sheet import BREAKER_AMPS

LESSON = "03_heater_power"


def test_golden_machine() -> None:
    card = sheet(LESSON).card("demo-01")
    assert card.supply_volts == 242.0
    assert card.element_ohms == (30.7, 27.5, 26.3)
    assert (card.sheet_ohms, card.drifted, card.open_element) == (27.0, 1, 1)
    assert (card.sag_volts, card.wire_fahrenheit) == (224.5, 842.0)
    assert (card.run_feet, card.run_awg, card.found_awg) == (39, 10, 10)


def test_machines_are_plausible_and_differ() -> None:
    cards = [sheet(LESSON).card(f"someone-{n}") for n in range(300)]
    assert len({(*card.element_ohms, card.supply_volts) for card in cards}) == 300
    for card in cards:
        assert current(card.supply_volts, parallel(card.element_ohms)) < BREAKER_AMPS
        drifted = card.element_ohms[card.drifted - 1]
        assert drifted == max(card.element_ohms)
        assert 1.07 < drifted / card.sheet_ohms < 1.16
        assert card.sag_volts < card.supply_volts


def test_the_card_shows_every_number() -> None:
    card = sheet(LESSON).card("demo-01")
    for text in ("242 V", "30.7 Ω", "27.0 Ω", "224.5 V", "842 °F", "39 ft of 10 AWG", "10 AWG copper"):
        assert text in repr(card)
        assert text in card._repr_html_()


@pytest.mark.parametrize("paper", SHEETS.values(), ids=list(SHEETS))
def test_questions_are_well_formed(paper) -> None:
    names = [question.name for question in paper.questions]
    assert len(set(names)) == len(names) >= 7
    assert any(question.safety for question in paper.questions)
    for question in paper.questions:
        assert question.name.isidentifier()
        assert question.points > 0
        assert question.asked
        assert not isinstance(question, Question) or quantity_of(question.unit)


def test_what_is_not_there_is_said() -> None:
    with pytest.raises(UnknownQuestionError, match="no lesson"):
        sheet("99_nothing")
    with pytest.raises(UnknownQuestionError, match="no question"):
        sheet(LESSON).question("nothing")
