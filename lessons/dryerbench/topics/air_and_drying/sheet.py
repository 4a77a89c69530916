"""Lesson 08, air and drying: the job card of the machine with its run, and the graded questions."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

from dryerbench.core.random_stream import Stream
from dryerbench.core.sealed import Sealed, unsealed
from dryerbench.core.temperatures import celsius, fahrenheit
from dryerbench.course.dealing import dealt, offered
from dryerbench.course.job_card import JobCard, Line
from dryerbench.course.questions import Choice, Choices, Option, Options, Order, Question, QuestionOf, by_key
from dryerbench.topics.air_and_drying.models import CODE, DUCT_INCHES, EDITIONS

if TYPE_CHECKING:
    from dryerbench.air.cycle import Cycle
    from dryerbench.air.cycle_record import CycleRecord

LESSON = "08_air_and_drying"
TITLE = "Air and drying"

ELBOWS = ((1, 1), (2, 1), (2, 2), (3, 1), (3, 2))
"""Tight elbows of 90° and of 45° that are dealt; not those that take off just what two editions differ by."""
CLEAN_CFM = 200.0
"""The flow at which the card gives the clean duct's pressure [cfm]."""
SUPPLY, WYE = 240.0, 208.0
"""Leg to leg [V]."""

RUN_MINUTES = 120.0
"""How long a card's machine ran [min]; each load that is dealt is dry before that."""

CAUSES = ("vent", "filter", "open", "volts", "cool")
"""Why a card's machine dries slowly."""

CAUSE_ANSWERS: Options = (
    Option("cool", "The cycling thermostat opens at far too low a temperature."),
    Option("filter", "The lint screen is clogged; the duct after it is clean."),
    Option("open", "One of the three coils is open."),
    Option("vent", "The vent to the outside is blocked."),
    Option("volts", "The receptacle has 208 V leg to leg; the heater is good."),
    Option("welded", "The cycling thermostat is welded closed."),
)

ON_VENTS: dict[str, str] = {
    "attic": "A duct that ends in the attic.",
    "flap": "A hood with a flap that swings free, and no screen.",
    "foil_in_wall": "A thin foil hose run inside the wall.",
    "plastic": "A white plastic hose from the dryer to the wall.",
    "rigid": "Smooth rigid metal duct all the way.",
    "screen": "A fine insect screen over the hood outside.",
    "screws": "Sheet-metal screws through the joints of the duct.",
    "straps": "Hangers that hold the duct straight.",
    "sweep": "One wide smooth elbow in place of two tight ones.",
    "tape": "Joints closed with metal foil tape.",
}
"""What is found on vents, by key; some of it belongs there, some holds lint or feeds a fire."""

CLEANING: Options = (
    Option("brush", "Brush and vacuum the duct, the exhaust outlet and the hood, until the flap swings free."),
    Option("forward", "Pull the dryer forward, clear of the duct."),
    Option("off", "Take the duct off the dryer and off the wall."),
    Option("on", "Put the duct back, metal, joints lapped in the direction of airflow, closed with foil tape."),
    Option("plug", "Bring the power back: the plug in, or your lock off and the breaker on."),
    Option("push", "Push the dryer back without crushing the duct."),
    Option("run", "Run it with heat: the flap opens, the gauge is low, the limit stays quiet."),
    Option(
        "unplug",
        "Pull the plug and keep it in reach and in sight. If it is behind the dryer, open, lock and tag its breaker.",
    ),
)

FOUND: Options = (
    Option("filter_only", "Clean the lint screen now and let it run; the owner cleans the vent on Saturday."),
    Option("indoors", "Pull the duct off and let it blow into the room until the vent has been cleaned."),
    Option("low", "Let this one load finish on low heat while I stay next to it, then clean the vent right away."),
    Option("note", "Turn it off at the control and put a note on it, until somebody cleans the vent."),
    Option("run", "Let it finish: the air is as it should be, so I look for the fault somewhere else."),
    Option("stop", "Stop it and unplug it: it stays off until screen and vent are clean and it runs cool."),
)

HOODS = (
    "box smells hot, limit clicks, flap hardly lifts, lint behind it",
    "flap wide open, air strong and cool, gauge low, limit quiet",
    "flap wide open, air strong and warm, gauge low, limit quiet",
    "limit clicks, weak air at the hood, lint screen under a mat of lint",
)
"""What is seen and heard at the house of question 10."""


def trap_options(card: AirCard) -> Options:
    """Return what the card's customer has on the vent, some of it bad and some good."""
    return tuple(Option(key, ON_VENTS[key]) for key in card.trap_keys)


ON_THE_WAY = {
    "cracked": "A crack along the blower housing.",
    "eight": "A listed transition duct of 8 ft, pulled tight, with no kink.",
    "housing": "A clean blower housing.",
    "hub": "A blower wheel that turns with its shaft.",
    "in_wall": "A listed transition duct that runs inside the wall.",
    "long": "A listed transition duct of 12 ft, in a loop.",
    "packed": "A blower wheel full of lint.",
    "seals": "Drum seals that touch all the way around.",
    "short": "A listed transition duct of 4 ft, with no kink.",
    "slips": "A blower wheel that turns on its shaft.",
    "stub": "A rigid metal duct that runs inside the wall.",
    "unlisted": "A transition duct that is not listed for dryers.",
}
"""What is found on the way of the air, from the drum to the wall, by key; some of it is fixed first."""


def way_options(card: AirCard) -> Options:
    """Return the findings that question 11 offers on ``card``, some to fix and some to leave."""
    return by_key(Option(key, ON_THE_WAY[key]) for key in offered(card, "drum_to_wall", tuple(ON_THE_WAY), 7))


QUESTIONS: tuple[QuestionOf[AirCard], ...] = (
    Question("duct_left", "Straight duct left after the elbows", 2, unit="ft", figures=2),
    Question("vent_flow", "Airflow from the air speed at the hood", 3, unit="cfm", figures=3),
    Question("air_after_heater", "Air after the heater", 3, unit="°F", figures=3),
    Question("clean_gauge", "What a clean duct would take at that airflow", 3, unit="inH2O", figures=2),
    Question("on_share", "Share of the time that the heater was on", 2, unit="%", figures=3),
    Question("longer", "How much longer it took", 3, unit="%", figures=3),
    Choice("slow_because", "Why it dries slowly", 5, options=CAUSE_ANSWERS),
    Choices("lint_traps", "What does not belong on a vent", 3, safety=True, options=trap_options),
    Order("cleaning", "Cleaning the vent, step by step", 3, safety=True, options=CLEANING),
    Choice("lint_found", "What you see while it runs", 3, safety=True, options=FOUND),
    Choices("drum_to_wall", "What to fix from drum to wall", 2, safety=True, options=way_options),
)


@dataclass(frozen=True)
class Trouble:
    """What decides a card's run; shares from 0 to 1, the thermostat's shift in K, the room in °F."""

    cause: str
    strength: float
    element_ohms: tuple[float, float, float]
    straight_ft: float
    elbows: tuple[str, ...]
    room_fahrenheit: float


def cycle_of(trouble: Trouble, *, sound: bool = False) -> Cycle:
    """Return the run of the machine with its ``trouble``, or as it would be with the trouble fixed."""
    from dryerbench.air.airflow import DryerPassage
    from dryerbench.air.cycle import Cycle as Run
    from dryerbench.air.dryer_body import Room
    from dryerbench.air.ducts import Duct
    from dryerbench.air.heater_power import HeaterPower
    from dryerbench.air.thermostats import usual_switch

    cause, strength = ("", 0.0) if sound else (trouble.cause, trouble.strength)
    thermostat = usual_switch("cycling_thermostat")
    return Run(
        HeaterPower.parallel(
            trouble.element_ohms,
            WYE if cause == "volts" else SUPPLY,
            open_elements=(round(strength),) if cause == "open" else (),
        ),
        Duct(trouble.straight_ft, trouble.elbows, blocked=strength if cause == "vent" else 0.0),
        DryerPassage(filter_blocked=strength if cause == "filter" else 0.0),
        thermostat=thermostat.off_its_mark(strength) if cause == "cool" else thermostat,
        room=Room(celsius(trouble.room_fahrenheit)),
        minutes=RUN_MINUTES,
    )


@lru_cache(maxsize=512)
def record_of(trouble: Trouble, *, sound: bool = False) -> CycleRecord:
    """Return the computed run of ``cycle_of``."""
    return cycle_of(trouble, sound=sound).run()


@dataclass(frozen=True)
class Noted:
    """What was written down of a run: minutes, counts, A, °F, cfm and inches of water."""

    dry_minutes: float
    on_minutes: float
    amps: float
    watts: float
    thermostat_opened: int
    limit_opened: int
    exhaust_fahrenheit: float
    hood_fpm: float
    gauge_inches: float


@lru_cache(maxsize=512)
def noted(trouble: Trouble, *, sound: bool = False) -> Noted:
    """Return what a person with a clamp, a thermometer, a vane and a gauge writes down until the load is dry."""
    record, air = record_of(trouble, sound=sound), cycle_of(trouble, sound=sound).air
    end = math.inf if record.dry_time is None else record.dry_time
    opened = {
        name: sum(move.switch == name and not move.closed and move.time < end for move in record.moves)
        for name in ("thermostat", "high_limit")
    }
    on = sum(max(0.0, min(stretch.end, end) - stretch.start) for stretch in record.stretches if stretch.heating)
    first = record.stretches[0]
    minutes = [n / 10.0 for n in range(int(10.0 * end / 60.0))]
    hottest = fahrenheit(float(max(record.celsius("exhaust", minutes))))
    area = math.pi / 4.0 * (DUCT_INCHES / 12.0) ** 2
    return Noted(
        dry_minutes=round(end / 60.0, 1),
        on_minutes=round(on / 60.0, 1),
        amps=round(first.amps, 1),
        watts=round(first.watts, -1),
        thermostat_opened=opened["thermostat"],
        limit_opened=opened["high_limit"],
        exhaust_fahrenheit=round(hottest),
        hood_fpm=round(air.cfm / area, -1),
        gauge_inches=round(air.back_pressure_inches, 2),
    )


@dataclass(frozen=True, repr=False)
class AirCard(JobCard):
    """The machine of lesson 08. Lengths in ft, the clean duct's pressure in inches of water."""

    sealed: Sealed[Trouble] = field(compare=False)
    straight_ft: float
    room_fahrenheit: float
    elbows_90: int
    elbows_45: int
    edition: str
    clean_inches: float
    trap_keys: tuple[str, ...]

    @cached_property
    def notes(self) -> Noted:
        """What was written down of the machine's run."""
        return noted(trouble_of(self))

    @cached_property
    def sound_minutes(self) -> float:
        """Minutes to dry the same load with the trouble fixed."""
        return noted(trouble_of(self), sound=True).dry_minutes

    @property
    def new_amps(self) -> float:
        """The heater's current when all is sound, at 240 V [A]."""
        return round(sum(SUPPLY / ohms for ohms in trouble_of(self).element_ohms), 1)

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line, as a person reads it."""
        seen, elbows = self.notes, f"{self.elbows_90} of 90° and {self.elbows_45} of 45°, tight (mitered)"
        return (
            Line("Duct, 4 in metal", f"{self.straight_ft:g} ft straight", "card.straight_ft"),
            Line("Elbows", elbows, "card.elbows_90"),
            Line("Code used here", f"{CODE}, {self.edition}", "card.edition"),
            Line(
                "Clean, this duct takes", f"{self.clean_inches:.2f} inH2O at {CLEAN_CFM:.0f} cfm", "card.clean_inches"
            ),
            Line("Room", f"{self.room_fahrenheit:g} °F", "card.room_fahrenheit"),
            Line("Air speed at the hood", f"{seen.hood_fpm:.0f} ft/min", "card.notes.hood_fpm"),
            Line("Gauge at the exhaust outlet", f"{seen.gauge_inches:.2f} inH2O", "card.notes.gauge_inches"),
            Line("Heater while on", f"{seen.amps:.1f} A, {seen.watts:.0f} W", "card.notes.watts"),
            Line("Heater when it works right, 240 V", f"{self.new_amps:.1f} A", "card.new_amps"),
            Line("Load dry after", f"{seen.dry_minutes:.1f} min", "card.notes.dry_minutes"),
            Line("Heater on for", f"{seen.on_minutes:.1f} min", "card.notes.on_minutes"),
            Line("Same load when it worked right", f"{self.sound_minutes:.1f} min", "card.sound_minutes"),
            Line("Thermostat opened until dry", f"{seen.thermostat_opened} times", "card.notes.thermostat_opened"),
            Line("High limit opened until dry", f"{seen.limit_opened} times", "card.notes.limit_opened"),
            Line("Another house, question 10", hood_of(self), ""),
            Line("Hottest exhaust until dry", f"{seen.exhaust_fahrenheit:.0f} °F", "card.notes.exhaust_fahrenheit"),
        )


def trouble_of(card: AirCard) -> Trouble:
    """Return what decides the run dealt with ``card``."""
    return unsealed(card.sealed)


def hood_of(card: AirCard) -> str:
    """Return what is seen at the house of question 10 on ``card``, one of ``HOODS``."""
    return dealt(card, "lint_found", HOODS)


_HALVES = (tuple(sorted(ON_VENTS))[:5], tuple(sorted(ON_VENTS))[5:])
"""Three are dealt of each half, in which both sorts are mixed."""
_STRENGTHS = {"vent": ("0.70", "0.86", "0.01"), "filter": ("0.75", "0.88", "0.01"), "cool": ("-20", "-15", "0.5")}


def _strength(cause: str, stream: Stream) -> float:
    if cause in _STRENGTHS:
        return stream.step(*_STRENGTHS[cause])
    return float(stream.integer(1, 3)) if cause == "open" else 0.0


def draw_card(apprentice: str, stream: Stream) -> AirCard:
    """Return the job card that ``stream`` deals to ``apprentice``."""
    from dryerbench.air.ducts import CFM, INCH_OF_WATER, Duct

    cause = stream.choose(CAUSES)
    strength = _strength(cause, stream)
    ohms = [stream.step("26.0", "28.0", "0.1") for _ in range(3)]
    elbows_90, elbows_45 = stream.choose(ELBOWS)
    elbows = ("mitred_90",) * elbows_90 + ("mitred_45",) * elbows_45
    trouble = Trouble(
        cause,
        strength,
        (ohms[0], ohms[1], ohms[2]),
        float(stream.integer(6, 24)),
        elbows,
        float(stream.integer(64, 80)),
    )
    one, other = stream.shuffle(_HALVES[0]), stream.shuffle(_HALVES[1])
    return AirCard(
        apprentice=apprentice,
        lesson=LESSON,
        sealed=Sealed(trouble),
        straight_ft=trouble.straight_ft,
        room_fahrenheit=trouble.room_fahrenheit,
        elbows_90=elbows_90,
        elbows_45=elbows_45,
        edition=stream.choose(EDITIONS),
        clean_inches=round(Duct(trouble.straight_ft, elbows).pressure(CLEAN_CFM * CFM) / INCH_OF_WATER, 2),
        trap_keys=tuple(sorted((*one[:3], *other[:3]))),
    )
