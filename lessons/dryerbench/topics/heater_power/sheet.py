"""Lesson 03, heater power: the job card of the machine, and the graded questions."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.core.random_stream import Stream
from dryerbench.core.temperatures import fahrenheit
from dryerbench.course.job_card import JobCard, Line
from dryerbench.course.questions import Question, QuestionOf

LESSON = "03_heater_power"
TITLE = "Heater power"

BREAKER_AMPS = 30.0
"""The usual circuit of a 240 V dryer, in A (common practice, no published source)."""

WYE_VOLTS = 208.0
"""Phase to phase of a 208Y/120 V building, in V."""

QUESTIONS: tuple[QuestionOf[HeaterCard], ...] = (
    Question("element_current", "Current of coil 1", 2, unit="A", figures=3),
    Question("element_power", "Power of coil 1", 2, unit="W", figures=3),
    Question("heater_ohms", "Ohms of the whole heater", 2, unit="Ω", figures=3),
    Question("heater_current", "Line current of the whole heater", 2, unit="A", figures=3),
    Question("heater_power", "Power of the whole heater", 2, unit="W", figures=3),
    Question("power_at_208", "Power in a 208 V building", 2, unit="W", figures=3),
    Question("sag_share", "Share of power left on a sagging line", 2, unit="%", figures=3),
    Question("open_element_current", "Line current with one coil open", 2, unit="A", figures=3),
    Question("drift", "How far the drifted coil is off", 2, unit="%", figures=3),
    Question("hot_ohms", "Ohms of coil 1 when hot", 2, unit="Ω", figures=3),
    Question("run_drop", "Volts lost in the wire", 2, unit="V", figures=2),
    Question("circuit_share", "Heater current in percent of the breaker", 2, unit="%", figures=3),
    Question("control_off_volts", "Volts to the cabinet with the control off", 6, unit="V", figures=3, safety=True),
    Question("breaker_limit", "Largest breaker for the wire found", 7, unit="A", figures=2, safety=True, exact=True),
)


@dataclass(frozen=True, repr=False)
class HeaterCard(JobCard):
    """The machine of lesson 03. Volts in V, ohms cold in Ω, lengths in ft, gauges in AWG."""

    supply_volts: float
    element_ohms: tuple[float, float, float]
    sheet_ohms: float
    drifted: int
    open_element: int
    sag_volts: float
    wire_fahrenheit: float
    run_feet: int
    run_awg: int
    found_awg: int

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line, as a person reads it."""
        elements = zip((1, 2, 3), self.element_ohms, strict=True)
        return (
            Line("Supply, leg to leg", f"{self.supply_volts:g} V", "card.supply_volts"),
            *(Line(f"Coil {n}, cold", f"{ohms:.1f} Ω", f"card.element_ohms[{n - 1}]") for n, ohms in elements),
            Line("Coil by the tech sheet", f"{self.sheet_ohms:.1f} Ω", "card.sheet_ohms"),
            Line("The drifted coil", f"coil {self.drifted}", "card.drifted"),
            Line("The coil that opens in question 8", f"coil {self.open_element}", "card.open_element"),
            Line("Leg to leg on a bad evening", f"{self.sag_volts:g} V", "card.sag_volts"),
            Line("Wire of coil 1 at work", f"{self.wire_fahrenheit:g} °F", "card.wire_fahrenheit"),
            Line("Wire from panel to receptacle", f"{self.run_feet} ft of {self.run_awg} AWG", "card.run_feet"),
            Line("Wire found in question 14", f"{self.found_awg} AWG copper", "card.found_awg"),
        )


def draw_card(apprentice: str, stream: Stream) -> HeaterCard:
    """Return the job card that ``stream`` deals to ``apprentice``."""
    supply = stream.step("234.0", "246.0", "0.5")
    nominal = stream.step("26.0", "28.0", "0.5")
    drifted = stream.integer(1, 3)
    ohms = [round(nominal + stream.step("-0.7", "0.7", "0.1"), 1) for _ in range(3)]
    ohms[drifted - 1] = round(nominal + stream.step("2.2", "4.0", "0.1"), 1)
    return HeaterCard(
        apprentice=apprentice,
        lesson=LESSON,
        supply_volts=supply,
        element_ohms=(ohms[0], ohms[1], ohms[2]),
        sheet_ohms=nominal,
        drifted=drifted,
        open_element=stream.integer(1, 3),
        sag_volts=round(supply - stream.step("12.0", "26.0", "0.5"), 1),
        wire_fahrenheit=round(fahrenheit(stream.choose((400.0, 450.0, 500.0, 550.0))), 1),
        run_feet=stream.integer(25, 95),
        run_awg=10,
        found_awg=stream.choose((14, 12, 10)),
    )
