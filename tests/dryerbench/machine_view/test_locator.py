"""The locator: every close-up of every machine has one, and no two of a machine are alike."""

import pytest

from dryerbench.machine_view.locator import locator, locator_svg
from dryerbench.machine_view.spots import views

from .looks import NAMES, check_drawing, sheet


@pytest.mark.parametrize("name", NAMES)
def test_every_close_up_is_found_on_its_own_locator(name: str) -> None:
    machine = sheet(name)
    drawn = {view: locator_svg(machine, view) for view in views(machine)}
    assert len(set(drawn.values())) == len(drawn)
    for view in views(machine):
        drawing = locator(machine, view)
        check_drawing(drawing)
        assert min(drawing.parts[view].w, drawing.parts[view].h) >= 11  # a place that an eye finds
