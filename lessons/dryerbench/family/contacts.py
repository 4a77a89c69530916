"""Which contacts of a machine are closed in a setting, by the rules of their kinds."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from dryerbench.core.temperatures import celsius
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.kinds import DIAL_CONTACTS, SELECTOR_CONTACTS, Component
from dryerbench.family.machine import Machine
from dryerbench.family.settings import SET_POINT, Setting

_Rule = Callable[[Arrangement, Component, Setting], bool]


def selected(made: Arrangement, setting: Setting) -> str:
    """Return the heat on which the console's selector stands: the dial's, else the strongest."""
    return setting.dial if setting.dial in made.heats else made.heats[0]


def board_works(setting: Setting) -> bool:
    """Return whether the board has its supply and works its relays."""
    return setting.powered and not setting.board_dark


def _cool(machine: Machine, part: Component, setting: Setting) -> bool:
    here = setting.box_celsius if part.kind.feels == "box" else setting.exhaust_celsius
    return part.name not in setting.opened and here < celsius(machine.number(part.name, "opens"))


def _heats(part: Component, setting: Setting) -> bool:
    calls = setting.dial in part.on and SET_POINT not in setting.opened
    return board_works(setting) and setting.running and calls


def _follows(setting: Setting) -> bool:
    if setting.followers_in is not None:
        return setting.powered and setting.followers_in
    return board_works(setting) and setting.running and setting.heat_called and SET_POINT not in setting.opened


_RULES: dict[str, _Rule] = {
    **dict.fromkeys(DIAL_CONTACTS, lambda made, part, setting: setting.dial in part.on),
    **dict.fromkeys(SELECTOR_CONTACTS, lambda made, part, setting: selected(made, setting) in part.on),
    "heat relay": lambda made, part, setting: _heats(part, setting),
    "changeover relay": lambda made, part, setting: _heats(part, setting),
    "follower relay": lambda made, part, setting: _follows(setting),
    "motor relay": lambda made, part, setting: board_works(setting) and (setting.running or setting.start_pressed),
    "door switch": lambda made, part, setting: setting.door_closed,
    "door switch with light": lambda made, part, setting: setting.door_closed,
    "start switch": lambda made, part, setting: setting.start_pressed,
    "hold contact": lambda made, part, setting: setting.running,
    "motor contact": lambda made, part, setting: setting.running,
    "belt switch": lambda made, part, setting: True,
}


def _contacts(machine: Machine, setting: Setting) -> Iterator[tuple[str, bool]]:
    made = machine.arrangement
    for part in made.parts:
        if not part.kind.throws:
            continue
        rule = _RULES.get(part.kind.name)
        first = rule(made, part, setting) if rule else _cool(machine, part, setting)
        for place, (name, _, _) in enumerate(part.contacts):
            yield name, first if place == 0 else not first


def contacts(machine: Machine, setting: Setting) -> dict[str, bool]:
    """Return which contacts are closed, by the name of the circuit's part; house, plug and motor included."""
    plugged = {f"plug blade {slot}": setting.plugged for slot in "12NG"}
    breaker = {f"breaker {leg}": setting.breaker_on for leg in "12"}
    return {
        **breaker,
        **plugged,
        **dict(_contacts(machine, setting)),
        "start contact": not setting.running,
        "overload": True,
    }
