"""What safety keeps in mind along a trail: one act between two scenes, and what was proved and read before it."""

from __future__ import annotations

from dataclasses import dataclass, field

from dryerbench.bench.case_readings import CaseReadings
from dryerbench.bench.scene import Scene
from dryerbench.bench.trail import Act

PROOF_LASTS = 20.0
"""Minutes for which a proof of the meter counts before a test for dead (our own rule for "just before")."""
POWER = ("plug_in", "close_breaker")
"""Acts that put power on."""


@dataclass
class Watch:
    """What must be remembered from act to act: is the meter proved, is the circuit proved dead, what was read."""

    minutes: float = 0.0
    proved_at: float | None = None
    """When the meter was proved last, in minutes of the job; None if it was used since for a test, or not at all."""
    tested: bool = False
    proved_dead: bool = False
    block_tested: bool = False
    had_dead: bool = False
    hands_noted: bool = False
    block_noted: bool = False
    fed_noted: bool = False
    charge_noted: bool = False
    unlocked: bool = False
    """Whether hands or probes were inside while an open breaker without a lock was all that kept power off."""
    slots_read: bool = False
    repaired: bool = False
    """Whether a part inside was replaced since the machine was powered last."""
    resets: int = 0
    """How often a trip was reset since a part was replaced."""
    trips: int = 0
    """How often the breaker has tripped since anything was put right."""
    case: CaseReadings = field(default_factory=CaseReadings)
    modes: set[str] = field(default_factory=set)

    def alive_again(self) -> None:
        """Forget what was proved dead: power was on."""
        self.tested = self.proved_dead = self.block_tested = self.hands_noted = self.block_noted = False

    @property
    def meter_proved(self) -> bool:
        """Whether the meter was proved, and recently enough for a test for dead."""
        return self.proved_at is not None and self.minutes - self.proved_at <= PROOF_LASTS


@dataclass(frozen=True)
class Step:
    """One act between the scene before it and the scene after it."""

    act: Act
    before: Scene
    after: Scene

    @property
    def name(self) -> str:
        """The act by name."""
        return self.act["act"]

    def fact(self, name: str) -> bool:
        """Return what the act noted under ``name``."""
        return self.act["facts"].get(name, False)

    @property
    def live(self) -> bool:
        """Whether the machine is energized after the act, or was for a moment before a breaker tripped."""
        return self.after["energized"] or (self.name in POWER and self.fact("powered"))
