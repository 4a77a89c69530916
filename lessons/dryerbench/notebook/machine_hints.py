"""Words of the search on a machine not seen before: hints, names and paths, by places, never by terminals."""

from __future__ import annotations

from dryerbench.bench.bench import Bench
from dryerbench.bench.shop_names import CABINET_WORD, CASE, mode_words, shop_name
from dryerbench.diagnosis.machine_calls import MachineCall
from dryerbench.diagnosis.machine_menu import LIVE_MODES, Reading
from dryerbench.diagnosis.machine_paths import Step
from dryerbench.diagnosis.machine_search import (
    advised_way,
    judge_name,
    next_reading,
    offered,
    searched,
    title_on,
    usual_minutes,
)
from dryerbench.diagnosis.service_calls import LIVE_WORK, before_repair
from dryerbench.family.arrangement import CABINET
from dryerbench.family.settings import ALL_WIRES, BOX_WIRES, ROOM, Setting
from dryerbench.notebook.machine_names import MachineNames

_DIALS = {"air": "air fluff"}
_OPEN = 7.0
"""The scale of ohms from which a meter shows OL."""
_FAHRENHEIT = 1.8
_LOOK_AT = {
    "vent": "with the plug out, move the dryer forward, and look into lint screen, duct and vent hood",
    "box": "with the plug out, look at the heater box",
    "outside": "with the plug out, look at the outside of the dryer",
}


def place_words(names: MachineNames, place: str) -> str:
    """Return a place of a reading as the page calls it."""
    if place in (CABINET, CASE):
        return CABINET_WORD
    return names.of_point(place) if place in names.spot_of else "a place"


def state_words(setting: Setting) -> str:
    """Return in words how a machine stands for a reading."""
    dial = _DIALS.get(setting.dial, setting.dial)
    said = ["plug out" if not setting.powered else "running" if setting.running else "plugged in, not running"]
    said += [f"control at {dial}"] if setting.dial != "off" else []
    if ALL_WIRES in setting.pulled:
        said.append("wires off at both")
    if BOX_WIRES in setting.pulled:
        said.append("every wire off the heater box")
    said += ["door open"] if not setting.door_closed else []
    said += ["start held"] if setting.start_pressed else []
    said += ["wires wiggled"] if setting.stirred else []
    if not setting.running and setting.box_celsius != ROOM:
        said.append(f"held at {setting.box_celsius * _FAHRENHEIT + 32.0:.0f} °F")
    return ", ".join(said)


def reading_words(names: MachineNames, one: Reading) -> str:
    """Return what is to be read, looked at or listened to."""
    stands = state_words(one.setting)
    if one.mode == "look":
        return _LOOK_AT.get(one.places[0], f"with the plug out, look at the {one.places[0]}")
    if one.mode == "listen":
        return f"let it run and listen to the motor ({stands})"
    if one.mode == "airflow":
        return f"measure the air at the vent hood ({stands})"
    if one.mode == "warmth":
        return f"let it run and feel what comes out ({stands})"
    if one.mode in ("clamp", "leakage"):
        return f"read {mode_words(one.mode)} at the {shop_name(one.places[0])} ({stands})"
    where = " and ".join(place_words(names, place) for place in one.places)
    return f"read {mode_words(one.mode)} at {where} ({stands})"


def value_words(one: Reading, shown: float) -> str:
    """Return what a reading of a path showed; nothing for what an eye or an ear finds."""
    if one.mode == "ohms":
        ohms = max(10.0**shown - 0.5, 0.0)
        return "OL" if shown >= _OPEN else f"{ohms:.1f} Ω" if ohms < 1e3 else f"{ohms / 1e3:.1f} kΩ"
    units = {"low-impedance": "V", "clamp": "A", "airflow": "cfm"}
    if one.mode in units:
        return f"{shown:.0f} {units[one.mode]}"
    return f"{shown * _FAHRENHEIT + 32.0:.0f} °F" if one.mode == "warmth" else ""


class Search:
    """What the buttons of a call say: hints are counted, names are kept."""

    def __init__(self, call: MachineCall, bench: Bench, names: MachineNames) -> None:
        self.call, self.bench, self.names = call, bench, names
        self.hints = 0
        self.named: list[str] = []

    @property
    def offers(self) -> dict[str, tuple[str, ...]]:
        """What can be named, by the words that the page shows."""
        return offered(self.call.made)

    def hint(self) -> str:
        """Return what to find out next, dead first; counted, and free."""
        self.hints += 1
        advice = next_reading(self.call, self.bench)
        if advice is None:
            odds = searched(self.call, self.bench).odds()
            likely = dict.fromkeys(title_on(names[0]) for names in list(odds)[:3])
            return f"Hint {self.hints}: no reading rules out much more. What is left: {'; '.join(likely)}."
        live = f" {LIVE_WORK}" if advice.reading.mode in LIVE_MODES else ""
        return f"Hint {self.hints}: {reading_words(self.names, advice.reading)}.{live}"

    def name(self, words: str) -> str:
        """Return what is to be said to the name ``words``, one of ``offers``."""
        said = judge_name(self.call, self.bench, self.offers[words], self.named)
        if not said.right:
            return f"Not: {words}. Your readings, or the ones not taken yet, say something else. Keep measuring."
        self.named += self.offers[words]
        if not said.shown:
            rest = f" They also fit: {'; '.join(said.left[:3])}." if said.left else ""
            return f"Right: {words}. But your readings do not leave only this one.{rest}"
        more = " But it is not the only fault. Look for what goes with it, or what caused it." if said.more else ""
        return f"Right: {words}. Your readings show it. Hints: {self.hints}.{more}"

    def paths(self) -> str:
        """Return one's own path and the advised one, reading by reading."""
        trail = before_repair(self.bench.trail)
        own = [self.names.of_act(act) for act in trail if act.get("reading")]
        spent = sum(act["minutes"] for act in trail)
        readings = "1 reading" if len(own) == 1 else f"{len(own)} readings"
        lines = [f"Your path: {readings}, {spent:.0f} minutes with everything around them."]
        for place, act in enumerate(own, start=1):
            reading = act["reading"]
            where = " to ".join(reading["places"])
            lines.append(f"  {place}. {mode_words(reading['mode'])}, {where}: {reading['shown']}")
        way = advised_way(self.call)
        lines.append(f"Our suggested way: {len(way.steps)} steps, {way.minutes:.0f} minutes.")
        lines += [f"  {place}. {self._step(step)}" for place, step in enumerate(way.steps, start=1)]
        if not way.right:
            lines.append(
                "More than one thing is wrong here, and together they read like another fault. Test part by part."
            )
        usual = usual_minutes(self.call.made.name)
        lines.append(f"On this kind of dryer our way usually takes {usual.advised:.0f} minutes.")
        lines.append(f"Reading in a fixed order usually takes {usual.textbook:.0f} minutes.")
        return "\n".join(lines)

    def _step(self, step: Step) -> str:
        shown = value_words(step.reading, step.shown)
        likely = f"{title_on(step.names[0])} {step.odds:.0%}"
        return f"{reading_words(self.names, step.reading)}{f': {shown}' if shown else ''} → {likely}"
