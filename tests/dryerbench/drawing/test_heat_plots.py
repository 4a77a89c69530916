"""The pictures: what they say, that it fits, and that lines differ without color."""

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg

from dryerbench.air.cycle import Cycle
from dryerbench.air.ducts import Duct
from dryerbench.air.heater_power import HeaterPower
from dryerbench.air.thermostats import usual_switch
from dryerbench.air.warm_test import Cup, WarmTest
from dryerbench.core.temperatures import fahrenheit
from dryerbench.drawing import heat_plots

SOUND = Cycle().run()
BLOCKED = Cycle(duct=Duct(blocked=0.8)).run()
DEAD = Cycle(HeaterPower.parallel(open_elements=(1, 2, 3))).run()
CYCLING = usual_switch("cycling_thermostat")

FIGURES = {
    "sound": lambda: heat_plots.cycle_figure(SOUND, "A sound dryer"),
    "blocked": lambda: heat_plots.cycle_figure(BLOCKED, "Vent blocked"),
    "dead": lambda: heat_plots.cycle_figure(DEAD, "No heat"),
    "drying": lambda: heat_plots.drying_figure({"sound": SOUND, "blocked": BLOCKED, "dead": DEAD}, "Compared"),
    "air": lambda: heat_plots.airflow_figure({"short": Duct(), "shut": Duct(blocked=1.0)}, "Air"),
    "switch": lambda: heat_plots.switch_figure(CYCLING, "A thermostat"),
    "cutoff": lambda: heat_plots.switch_figure(usual_switch("thermal_cutoff"), "A cut-off"),
    "cup": lambda: heat_plots.cup_figure(WarmTest(CYCLING, Cup()), "A cup"),
}


@pytest.fixture(params=FIGURES)
def figure(request):
    return FIGURES[request.param]()


def test_draws_and_every_axis_names_its_quantity(figure):
    FigureCanvasAgg(figure).draw()
    for axes in figure.axes:
        assert axes.get_ylabel() or axes.get_yticklabels()
    assert any(axes.get_xlabel() for axes in figure.axes)


def test_nothing_is_written_outside_the_figure(figure):
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    width, height = canvas.get_width_height()
    for text in [*figure.texts, *(text for axes in figure.axes for text in axes.texts)]:
        if text.get_visible() and text.get_text().strip():
            box = text.get_window_extent()
            assert box.x0 >= -1
            assert box.y0 >= -1
            assert box.x1 <= width + 1
            assert box.y1 <= height + 1


def test_lines_of_one_panel_differ_by_more_than_color(figure):
    for axes in figure.axes:
        named = [line for line in axes.lines if not line.get_label().startswith("_")]
        dashes = [str(line._unscaled_dash_pattern) for line in named]
        assert len(set(dashes)) == len(dashes)


def test_the_curves_are_the_records():
    heat, current, water = FIGURES["blocked"]().axes[:3]
    minutes, limit = heat.lines[0].get_data()
    assert limit == pytest.approx(fahrenheit(BLOCKED.celsius("limit", minutes)))
    assert water.lines[0].get_ydata()[0] == pytest.approx(60.0)
    assert max(np.nanmax(patch.get_data().values) for patch in current.patches) == pytest.approx(80 / 3)


def test_the_summary_says_what_happened():
    assert "dry after 37 min" in heat_plots.summary(SOUND)
    assert "high limit opened" in heat_plots.summary(BLOCKED)
    assert heat_plots.summary(DEAD) == "60 min: not dry yet; no switch opened"


def test_the_flow_is_written_at_its_dot():
    texts = [text.get_text() for text in FIGURES["air"]().axes[0].texts]
    assert texts[1] == "0 cfm"
    assert texts[0].endswith("cfm")
