"""The drawings of lesson 08: the straight duct that elbows leave, and the run of the card's machine."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dryerbench.air.cycle_record import CycleRecord
from dryerbench.air.ducts import CodeCheck, Duct, code_check
from dryerbench.core.identity import PRACTICE
from dryerbench.core.random_stream import stream_for
from dryerbench.core.tables import table
from dryerbench.drawing.figure_style import BLUE, GRAY, RED, tidy
from dryerbench.drawing.heat_plots import paint_cycle, summary
from dryerbench.drawing.interactive_figure import Explorer
from dryerbench.drawing.knobs import Knob, Values
from dryerbench.drawing.still_figure import show_still
from dryerbench.machine_view.plates.drive_plates import blower_wheel
from dryerbench.machine_view.plates.vent_plates import vent_parts, vent_run
from dryerbench.topics.air_and_drying.sheet import LESSON, AirCard, draw_card, record_of, trouble_of

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def _checks(at: Values) -> list[CodeCheck]:
    elbows = ("mitred_90",) * round(at["ninety"]) + ("mitred_45",) * round(at["fortyfive"])
    duct = Duct(at["feet"], elbows)
    return [code_check(duct, row.text("code"), row.text("edition")) for row in table("duct-codes").rows]


def _paint_rule(figure: Figure, at: Values) -> None:
    axes = figure.subplots()
    checks, longest = _checks(at), table("duct-codes").numbers("longest_ft")
    for place, (check, whole) in enumerate(zip(checks, longest, strict=True)):
        left = max(check.allowed_ft, 0.0)
        axes.bar(
            place,
            left,
            width=0.5,
            color=BLUE if check.passes else "white",
            edgecolor=BLUE,
            hatch="" if check.passes else "//",
        )
        axes.bar(place, whole - left, bottom=left, width=0.5, color="white", edgecolor=GRAY, linestyle=":")
        says = f"{check.allowed_ft:g} ft left\n" + ("long enough" if check.passes else "too short for yours")
        axes.annotate(says, (place, 45.5), ha="center", va="center")
    axes.axhline(at["feet"], color=RED, linestyle="--", linewidth=2.0)
    axes.annotate(
        "your\nstraight\nduct", (len(checks) - 0.55, at["feet"]), xytext=(0, 4), textcoords="offset points", color=RED
    )
    axes.set_xticks(range(len(checks)), [f"{check.code}\n{check.edition}" for check in checks])
    axes.set(xlim=(-0.5, len(checks) - 0.2), ylim=(0, 50))
    axes.set_title("What the elbows leave, by code and edition (local code comes first)", loc="left")
    tidy(axes, y="straight duct (ft)", grid=None)


def _say_rule(at: Values) -> str:
    return " ".join(str(check) for check in _checks(at)[:2])


def show_duct_rule() -> None:
    """Show the straight duct (ft) that elbows leave, by code and edition."""
    Explorer(
        "How long a duct may be",
        (
            Knob("ninety", "Tight elbows of 90°", 0, 4, 1, 2, ""),
            Knob("fortyfive", "Tight elbows of 45°", 0, 3, 1, 0, ""),
            Knob("feet", "Straight duct", 0, 40, 1, 18, "ft"),
        ),
        _paint_rule,
        _say_rule,
    ).show()


def _words(record: CycleRecord) -> str:
    return f"{summary(record)}. Counts and minutes on the card go to the moment when the load was dry."


def show_load(card: AirCard | None = None) -> None:
    """Show how the machine of ``card`` ran: temperatures (°F), heater current (A), water in the load (%)."""
    shown = card or draw_card(PRACTICE, stream_for(PRACTICE, LESSON))
    record = record_of(trouble_of(shown))
    Explorer(
        "The run of your dryer",
        (),
        lambda figure, _: paint_cycle(figure, record, "The run of your dryer"),
        lambda _: _words(record),
        height=7.4,
    ).show()


def show_vent_run() -> None:
    """Show the vent from the dryer to the hood."""
    show_still(vent_run())


def show_vent_parts() -> None:
    """Show parts of the vent as they should be, and what chokes them."""
    show_still(vent_parts())


def show_blower_wheel() -> None:
    """Show the blower wheel in its housing, and its hub good and worn."""
    show_still(blower_wheel())
