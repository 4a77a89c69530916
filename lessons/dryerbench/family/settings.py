"""What has been set and done to a machine: plug, breaker, door, dial, start, wires off, and how warm it is."""

from __future__ import annotations

from dataclasses import dataclass, replace

from dryerbench.core.errors import LegToLegError
from dryerbench.family.kinds import HEATS, POSITIONS

ROOM = 25.0
ALL_WIRES = "every wire"
BOX_WIRES = "wires of the box"
SET_POINT = "set point"
"""The name under which a board's set point stands among the switches that heat holds open."""
WARM = (50.0, 85.0, 140.0)


class SettingError(LegToLegError, LookupError):
    """A state that no machine can be in; the text says which word is strange."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What a person has set and done, and how warm the machine is (°C).

    ``dial`` is one of ``POSITIONS``. ``opened`` names thermostats, limits and cut-offs that stand open from before;
    ``pulled`` names wires that are off (or ``every wire``, ``wires of the box``); ``stirred``: somebody wiggles the
    joints. ``board_dark`` and ``followers_in`` are what settling found: None means as a sound machine would be.
    """

    plugged: bool = True
    breaker_on: bool = True
    door_closed: bool = True
    start_pressed: bool = False
    running: bool = False
    dial: str = "off"
    exhaust_celsius: float = ROOM
    box_celsius: float = ROOM
    coil_celsius: float = ROOM
    opened: frozenset[str] = frozenset()
    pulled: frozenset[str] = frozenset()
    stirred: bool = False
    board_dark: bool = False
    followers_in: bool | None = None

    @property
    def tag(self) -> str:
        """What tells this setting from another, as text that is the same on every computer."""
        flags = {
            "plugged": self.plugged,
            "breaker": self.breaker_on,
            "door": self.door_closed,
            "start": self.start_pressed,
            "running": self.running,
            "stirred": self.stirred,
            "dark": self.board_dark,
            "follower": bool(self.followers_in),
        }
        warm = f"{self.exhaust_celsius:g} {self.box_celsius:g} {self.coil_celsius:g}"
        on = " ".join(name for name, is_on in flags.items() if is_on)
        return "/".join((on, self.dial, warm, " ".join(sorted(self.opened)), " ".join(sorted(self.pulled))))

    @property
    def powered(self) -> bool:
        """Whether the supply reaches the block."""
        return self.plugged and self.breaker_on

    @property
    def heat_called(self) -> bool:
        """Whether the dial stands on a heat."""
        return self.dial in HEATS


_DEAD = Setting(plugged=False)
_STARTS = {
    "plugged": Setting(),
    "start": Setting(start_pressed=True),
    "stop": Setting(),
    "run": Setting(running=True),
    "alone": replace(_DEAD, pulled=frozenset({ALL_WIRES})),
    "box free": replace(_DEAD, pulled=frozenset({BOX_WIRES})),
}
_HOT_COIL = 500.0
_EXHAUST, _BOX = 45.0, 85.0  # °C of a machine at work, as the settings' words have it


def read_setting(words: str) -> Setting:
    """Return the setting that ``words`` name.

    Dead, plug out: ``off``, ``air``, ``high``, ``mid``, ``low`` (where the dial stands), with the wires on;
    ``alone high`` with every wire off; ``box free`` with the heater box's wires off. Live: ``plugged``,
    ``stop high`` (drum at rest), ``start high``, ``run high``, ``run hot high`` (coils glowing). ``door open``,
    ``start pressed``, ``wiggled``, ``held at 176 F`` and ``locked out`` follow after a comma.

    Raises
    ------
    SettingError
        For words that name no setting.
    """
    head, *rest = (item.strip() for item in words.split(","))
    setting = _head(head)
    for item in rest:
        setting = _altered(setting, item)
    return setting


def _head(head: str) -> Setting:
    if head == "door":
        return replace(_DEAD, door_closed=False)
    if head in POSITIONS:
        return replace(_DEAD, dial=head)
    for start in sorted(_STARTS, key=len, reverse=True):
        if head == start or head.startswith(f"{start} "):
            rest = head[len(start) :].split()
            hot = rest[:1] == ["hot"]
            dial = rest[hot:] or ["off"]
            if len(dial) == 1 and dial[0] in POSITIONS:
                setting = replace(_STARTS[start], dial=dial[0])
                if not hot:
                    return setting
                return replace(setting, coil_celsius=_HOT_COIL, exhaust_celsius=_EXHAUST, box_celsius=_BOX)
    raise SettingError(f"There is no state '{head}'. The states are: {'; '.join(setting_names(HEATS))}.")


def _altered(setting: Setting, item: str) -> Setting:
    if item.lower() == "door open":
        return replace(setting, door_closed=False)
    if item == "wiggled":
        return replace(setting, stirred=True)
    if item == "start pressed":
        return replace(setting, start_pressed=True)
    if item == "locked out":
        return replace(setting, breaker_on=False)
    if item.startswith("held at ") and item.endswith(" F") and item[8:-2].isdigit():
        warm = (float(item[8:-2]) - 32.0) / 1.8
        return replace(setting, exhaust_celsius=warm, box_celsius=warm)
    raise SettingError(f"'{item}' says nothing about the state of a dryer.")


def setting_names(heats: tuple[str, ...]) -> tuple[str, ...]:
    """Return the settings in which a machine with ``heats`` is gone through, as ``read_setting`` takes them."""
    dead = ["off", "door", "air", *heats, "alone", "alone air", *(f"alone {heat}" for heat in heats), "box free"]
    warm = ["alone, held at 122 F", "alone, held at 185 F", "alone, held at 284 F", "off, wiggled", "off, locked out"]
    live = ["plugged", "run air", *(f"{start} {heat}" for start in ("stop", "run") for heat in heats)]
    more = ["start high", "stop high, door open", "run hot high", "run high, wiggled"]
    return (*dead, *warm, *live, *more)
