"""The drawing of a cabinet: both sides, every outer cover with its name, nothing to press, and all covers in words."""

from __future__ import annotations

from itertools import combinations

import pytest

from dryerbench.drawing.interactive_figure import MODE
from dryerbench.family.own_machine import sheet_machine
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.machine_view.covers import covers_on_side, region
from dryerbench.machine_view.scene import SIDES
from dryerbench.registry import sheet
from dryerbench.topics.open_and_close import cabinet_figures
from dryerbench.topics.open_and_close.cabinet_figures import NoCabinetError, show_cabinet, side_figure
from dryerbench.topics.open_and_close.cabinets import EXAMPLE, cover_rows, fasteners

CARD = sheet("09_open_and_close").card("anyone-1")


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[dict]:
    found: list[dict] = []
    monkeypatch.setenv(MODE, "words")
    monkeypatch.setattr(cabinet_figures, "show_bundle", found.append)
    monkeypatch.setattr(cabinet_figures, "show_still", lambda drawn: found.append({"told": drawn.told}))
    return found


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("name", machine_names())
def test_each_cover_has_its_name_on_the_drawing_and_words_lie_apart(name: str, side: str) -> None:
    own = sheet_machine(arrangement(name))
    drawn = side_figure(own, side).drawn
    written = {word.words: word.box for word in drawn.words}
    outer = [cover.name for cover in covers_on_side(own, side) if region(own, cover)]
    assert set(outer) <= set(written)
    for one, other in combinations([written[cover] for cover in outer], 2):
        apart = one.right <= other.x or other.right <= one.x or one.bottom <= other.y or other.bottom <= one.y
        assert apart, (name, side)
    assert all(written[cover].x >= 0 for cover in outer)


def test_nothing_on_the_drawing_can_be_pressed() -> None:
    svg = side_figure(sheet_machine(arrangement(EXAMPLE)), "front").svg()
    assert 'role="button"' not in svg
    assert "tabindex" not in svg


def test_the_example_and_the_card_show_their_own_dryer(shown: list[dict]) -> None:
    show_cabinet()
    assert len(shown) == 3
    assert shown[0]["told"].startswith("Covers on this side: toe panel, 2 quarter-turn; ")
    assert "rear plate | 1 square-drive | by itself | terminal block" in shown[2]["text/plain"]
    show_cabinet(CARD)
    assert shown[5]["text/plain"] != shown[2]["text/plain"]
    with pytest.raises(NoCabinetError, match="card of lesson 09"):
        show_cabinet(sheet("01_made_dead").card("anyone-1"))


@pytest.mark.parametrize("name", machine_names())
def test_every_cover_is_told_with_what_is_behind_it(name: str) -> None:
    own = sheet_machine(arrangement(name))
    rows = {row[0]: row for row in cover_rows(own.placement)}
    assert list(rows) == sorted(cover.name for cover in own.covers)
    for cover in own.covers:
        _, held, how, behind = rows[cover.name]
        assert held == fasteners(cover)
        assert (f"after the {cover.after}" in how) == bool(cover.after)
        assert ("terminal block" in behind) == ("block" in cover.bares)
        assert ("terminals of" in behind) == any(thing.startswith("Box") for thing in cover.bares)
