"""Lesson 06, heat switches: the job card of the machine, and the graded questions."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.air.thermistor import BetaThermistor
from dryerbench.air.thermostats import usual_switch
from dryerbench.bench.machine import Machine
from dryerbench.core.random_stream import Stream
from dryerbench.core.sealed import Sealed, unsealed
from dryerbench.core.temperatures import celsius
from dryerbench.course.bench_card import BenchCard, Dealt
from dryerbench.course.dealing import dealt
from dryerbench.course.job_card import Line
from dryerbench.course.questions import (
    Choice,
    Choices,
    FaultQuestion,
    Option,
    Options,
    Order,
    Question,
    QuestionOf,
    Readings,
    Row,
)
from dryerbench.electricity.ohms_law import current, parallel

LESSON = "06_heat_switches"
TITLE = "Thermostats and the thermal cut-off"

SENSOR_ROWS = (104.0, 122.0, 140.0, 158.0, 176.0)
"""The rows of the lesson's sensor table [°F] that questions are dealt from."""

CAUSES = ("thermostat", "limit", "element", "air")
"""What is left of the cause that blew the cut-off of a card's machine."""

CUP_CASES = ("stuck", "blind_limit", "blind_thermostat", "opened", "broken")
"""What the cup of hot water shows: part, water and reading together."""

COLD_TEST: Options = (
    Option("again", "Check the meter again on the known live source."),
    Option("back", "Put the wire back where the picture shows it."),
    Option("cover", "Take the cover off, test dead at the block too, and check the meter once more."),
    Option("dead", "Test dead: each blade of the plug to each other blade and to the cabinet."),
    Option("prove", "Check the meter on a known live source."),
    Option("pull", "Take a picture, then pull the wire off one side of the switch."),
    Option("read", "Read the ohms of the switch, and write the number down."),
    Option("unplug", "Pull the plug and keep it in reach and in sight."),
)

SUSPECTS: dict[str, str] = {
    "crushed": "The duct crushed flat behind the dryer.",
    "door": "A door switch that does not close.",
    "grounded": "A coil that touches the cabinet and heats with the control off.",
    "limit_shut": "A high limit that no longer opens.",
    "lint": "Lint packed in the vent, so that little air moves.",
    "no_contact": "A centrifugal switch in the motor that does not close.",
    "one_open": "One coil of three that is open.",
    "opens_low": "A cycling thermostat that opens at too low a temperature.",
    "supply_208": "A building with 208 V from leg to leg instead of 240 V.",
    "welded": "A cycling thermostat whose contact has welded shut.",
}
"""What an owner or a neighbor may blame for a blown thermal cut-off, by key; some play a part in it, some cannot."""

CUP_ANSWERS: Options = (
    Option("blind", "This water cannot tell: it is not hot enough yet for the rating of this part."),
    Option("broken", "It should still be closed here and it is open. Replace it, and find what opened it."),
    Option("opened", "It has opened, as it should in water this hot. Let it cool: it must close again."),
    Option("stuck", "It should have opened and has not. It is stuck or off its rating: replace it."),
)

CAUSE_ANSWERS: Options = (
    Option("age", "Nothing else: it is an old part, and once in a while one just wears out."),
    Option("air", "The air: every part reads good, cold and hot, so the airflow comes next."),
    Option("element", "A coil: somewhere along its wire it touches the metal box around it."),
    Option("limit", "The high limit: its contact has stuck, and it no longer opens when hot."),
    Option("thermostat", "The cycling thermostat: its contact has welded, and it no longer opens when hot."),
)

NO_PART: Options = (
    Option("bridge", "Join its two wires for this one load. Stay next to it, and unplug it when the load is dry."),
    Option("fit", "Install the right cut-off, read heater and ground wire to cabinet, close up, and run it."),
    Option("fuse", "Put a 30 A fuse in its place for now: too much heat comes from too many amps."),
    Option("hotter", "Install one with the next higher rating for now, and change it when the right one comes."),
    Option("just_fit", "Get the new cut-off in today; the owner cleans the vent on Saturday, and I note that."),
    Option("leave", "Leave it unplugged and tagged until the right part is here and the cause is fixed."),
)

TRUCK = (
    "no cut-off with this rating; the cause is found and fixed",
    "the right cut-off; a new element is in and reads OL to the cabinet",
    "the right cut-off; a new limit is in and was seen to open hot",
    "the right cut-off; the cause is found and fixed",
    "the right cut-off; the vent is still packed with lint",
    "the right cut-off; the vent is swept, the air is strong again",
    "the right cut-off; what blew the old one is not found yet",
    "the wrong cut-off; a new thermostat is in and was seen to open hot",
)
"""What there is in the truck for question 10, and how far the cause is."""


RESETS = {
    "duct_in": "popped; the crushed duct is replaced; pressed in dead, it reads 0.2 Ω",
    "never": "not popped, 0.2 Ω with a wire off; the dryer makes no heat on any setting",
    "no_cause": "popped; pressed in dead, it reads 0.2 Ω; nothing else is wrong so far",
    "packed": "popped; pressed in dead, it reads 0.2 Ω; the duct is packed with lint",
    "still_open": "popped; the hood's jammed flap is freed; pressed in dead, it reads OL",
    "welded": "popped; pressed in dead, it reads 0.2 Ω; the thermostat reads 0.2 Ω at 190 °F",
}
"""What there may be at the high limit with a reset button of question 11, by key."""

RESET_ANSWERS: Options = (
    Option("back", "Give it back today: the limit reads as it should, and the dryer makes heat again."),
    Option("elsewhere", "Leave this limit in: it is not the open part. Read the rest of the heater circuit."),
    Option("find", "Keep it unplugged and tagged until whatever got the box too hot is found and has been fixed."),
    Option("prove", "Close up and run it. If the exhaust swings as it should, it can go back to the owner."),
    Option("replace", "Install a limit with the same rating and read it. Then close up, run it, and read the exhaust."),
    Option("tape", "Tape the button down, so that the owner is not without heat on the next hot day."),
)


def blown_options(card: SwitchCard) -> Options:
    """Return what the card's machine offers as causes of a blown cut-off, some right and some not."""
    return tuple(Option(key, SUSPECTS[key]) for key in card.blown_keys)


QUESTIONS: tuple[QuestionOf[SwitchCard], ...] = (
    Order("cold_test", "The cold test of a switch, step by step", 3, safety=True, options=COLD_TEST),
    Readings(
        "cold_readings",
        "The switches and the sensor, cold",
        4,
        rows=(
            Row("thermostat", "Cycling thermostat", "Ω"),
            Row("cutoff", "Thermal cut-off", "Ω"),
            Row("limit", "High limit", "Ω"),
            Row("sensor", "Thermistor", "kΩ"),
        ),
    ),
    Choice("in_the_cup", "A switch in hot water", 2, options=CUP_ANSWERS),
    Question("sensor_ohms", "Ohms of the thermistor when warm", 2, unit="kΩ", figures=3),
    Question("sensor_degrees", "Degrees from the thermistor's ohms", 2, unit="°F", figures=3),
    Question("contact_ohms", "Ohms of a contact from its drop", 3, unit="Ω", figures=3),
    Question("contact_heat", "Heat made in a contact", 3, unit="W", figures=3),
    Choices("can_blow", "What can play a part when a cut-off blows", 3, options=blown_options),
    FaultQuestion("blown_by", "What is left of what blew this cut-off", 5, safety=True, options=CAUSE_ANSWERS),
    Choice("no_cutoff_here", "What the owner asks for", 3, safety=True, options=NO_PART),
    Choice("reset_limit", "A limit with a reset button", 3, safety=True, options=RESET_ANSWERS),
)


@dataclass(frozen=True)
class SwitchesDealt(Dealt):
    """What stands on the bench of lesson 06, what blew its cut-off, and what the cup of hot water shows."""

    cause: str = "thermostat"
    cup_case: str = "stuck"


def _cup_part(cup_case: str) -> str:
    return "high_limit" if cup_case in ("blind_limit", "broken") else "cycling_thermostat"


def _cup_shows(cup_case: str) -> str:
    return "OL" if cup_case in ("opened", "broken") else "0.2 Ω"


@dataclass(frozen=True, repr=False)
class SwitchCard(BenchCard):
    """The machine of lesson 06. Temperatures in °F, the sensor's ohms in Ω, the drop in mV, the current in A."""

    sensor_sheet_ohms: float = 10_000.0
    sensor_fahrenheit: float = 122.0
    sensor_reads: float = 3588.0
    drop_millivolts: float = 500.0
    heater_amps: float = 26.7
    cup_part: str = "cycling_thermostat"
    """The switch in the cup, by its name in ``datasets/heat_switches.csv``."""
    cup_shows: str = "0.2 Ω"
    """What the meter shows on it after five minutes."""
    water_fahrenheit: float = 190.0
    blown_keys: tuple[str, ...] = ()
    plea: str = ""

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line, as a person reads it."""
        part = usual_switch(self.cup_part)
        name = {"high_limit": "high limit", "cycling_thermostat": "cycling thermostat"}[self.cup_part]
        mark, slack = part.opens * 1.8 + 32.0, part.tolerance * 1.8
        cup = f"{name}, stamped {mark:.0f} °F ± {slack:.0f}, in water of {self.water_fahrenheit:g} °F"
        return (
            Line("What the owner says", "The drum turns and it blows air, but it’s cold.", ""),
            Line("Switch in the cup, question 3", f"{cup}: {self.cup_shows}", "card.cup_shows"),
            Line(
                "Thermistor by its tech sheet",
                f"{self.sensor_sheet_ohms / 1000:.1f} kΩ at 77 °F",
                "card.sensor_sheet_ohms",
            ),
            Line("Thermistor warmed to, question 4", f"{self.sensor_fahrenheit:g} °F", "card.sensor_fahrenheit"),
            Line("Thermistor reads, question 5", f"{self.sensor_reads / 1000:.3g} kΩ", "card.sensor_reads"),
            Line("Drop across the thermostat, heater on", f"{self.drop_millivolts:g} mV", "card.drop_millivolts"),
            Line("Current of the heater at that time", f"{self.heater_amps:.1f} A", "card.heater_amps"),
            Line("In the truck, question 10", truck_of(self), ""),
            Line("The owner asks, question 10", self.plea, "card.plea"),
            Line("The limit with a button, question 11", RESETS[reset_of(self)], ""),
        )


_WATER = {
    "stuck": ("180", "195", "1"),
    "opened": ("180", "195", "1"),
    "blind_thermostat": ("128", "142", "1"),
    "blind_limit": ("185", "205", "1"),
    "broken": ("165", "195", "1"),
}
_HALVES = (tuple(sorted(SUSPECTS))[:5], tuple(sorted(SUSPECTS))[5:])
"""Three are dealt of each half, in which both sorts are mixed."""
_PLEAS = (
    "“Just get it going for tonight.”",
    "“I have guests until Sunday.”",
    "“It’s for my tenant. Just make it heat.”",
    "“The last one had it running in five minutes.”",
)


def _cause_fault(cause: str, stream: Stream) -> str:
    if cause == "element":
        return f"element-{stream.integer(1, 3)}-grounded={stream.step('0.10', '0.90', '0.05'):g}"
    if cause == "air":
        return f"blocked-vent={stream.step('0.40', '0.75', '0.05'):g}"
    return {"thermostat": "cycling-welded", "limit": "high-limit-stuck"}[cause]


def _machine(apprentice: str, sheet_ohms: float, stream: Stream) -> Machine:
    elements = [stream.step("26.0", "28.0", "0.1") for _ in range(3)]
    return Machine(
        name=apprentice,
        element_ohms=(elements[0], elements[1], elements[2]),
        leg_volts=stream.step("117.0", "123.0", "0.5"),
        thermistor_ohms=sheet_ohms,
        thermistor_factor=stream.step("0.985", "1.015", "0.005"),
        cycling_opens=celsius(stream.step("152", "158", "1")),
        limit_opens=celsius(stream.step("245", "255", "1")),
    )


def truck_of(card: SwitchCard) -> str:
    """Return what there is in the truck for question 10 on ``card``, one of ``TRUCK``."""
    return dealt(card, "no_cutoff_here", TRUCK)


def reset_of(card: SwitchCard) -> str:
    """Return what there is at the limit of question 11 on ``card``, a key of ``RESETS``."""
    return dealt(card, "reset_limit", tuple(RESETS))


def _dealt(card: SwitchCard) -> SwitchesDealt:
    there = unsealed(card.sealed)
    assert isinstance(there, SwitchesDealt)
    return there


def cause_of(card: SwitchCard) -> str:
    """Return what blew the cut-off of the machine dealt with ``card``, one of ``CAUSES``."""
    return _dealt(card).cause


def cup_case_of(card: SwitchCard) -> str:
    """Return what the cup shows on ``card``, one of ``CUP_CASES``."""
    return _dealt(card).cup_case


def draw_card(apprentice: str, stream: Stream) -> SwitchCard:
    """Return the job card that ``stream`` deals to ``apprentice``."""
    cause = stream.choose(CAUSES)
    fault = _cause_fault(cause, stream)
    sheet_ohms = 1000.0 * stream.step("10.6", "13.0", "0.2")
    machine = _machine(apprentice, sheet_ohms, stream)
    rows = stream.shuffle(SENSOR_ROWS)
    reads = BetaThermistor(sheet_ohms, machine.thermistor_beta).ohms(celsius(rows[1]))
    cup_case = stream.choose(CUP_CASES)
    one, other = stream.shuffle(_HALVES[0]), stream.shuffle(_HALVES[1])
    return SwitchCard(
        apprentice=apprentice,
        lesson=LESSON,
        sealed=Sealed(SwitchesDealt(machine, ("cut-off-blown", fault), cause, cup_case)),
        sensor_sheet_ohms=sheet_ohms,
        sensor_fahrenheit=rows[0],
        sensor_reads=float(f"{reads:.3g}"),
        drop_millivolts=10.0 * stream.integer(45, 190),
        heater_amps=round(current(machine.leg_to_leg, parallel(machine.element_ohms)), 1),
        cup_part=_cup_part(cup_case),
        cup_shows=_cup_shows(cup_case),
        water_fahrenheit=stream.step(*_WATER[cup_case]),
        blown_keys=tuple(sorted((*one[:3], *other[:3]))),
        plea=stream.choose(_PLEAS),
    )
