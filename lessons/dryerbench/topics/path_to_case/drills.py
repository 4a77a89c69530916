"""The practice drills of lesson 05."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.drills import Drill


def _two_readings(stream: Stream) -> dict[str, float]:
    whole, share = stream.step("25", "30", "0.1"), stream.choose((0.22, 0.26, 0.3, 0.34, 0.64, 0.7, 0.76))
    own = round(whole * share, 1)
    return {"own": own, "shared": round(whole - own, 1)}


def _on_a_supply(stream: Stream) -> dict[str, float]:
    return {"volts": stream.step("230", "250", "2"), **_two_readings(stream)}


def _nameplate(stream: Stream) -> dict[str, float]:
    return {"kilowatts": stream.step("1.5", "7.5", "0.1")}


def _damp(stream: Stream) -> dict[str, float]:
    return {"volts": stream.step("230", "250", "2"), "kohm": stream.step("16", "90", "2")}


DRILLS: dict[str, Drill] = {
    "coil_share": Drill(
        "coil_share",
        "%",
        2,
        _two_readings,
        lambda n: (
            f"You read a grounded coil to the cabinet: {n['own']:.1f} Ω from its own terminal, {n['shared']:.1f} Ω "
            "from the shared one. How far along from its own terminal does it touch, in percent?"
        ),
    ),
    "far_piece_watts": Drill(
        "far_piece_watts",
        "W",
        3,
        _on_a_supply,
        lambda n: (
            f"{n['volts']:g} V leg to leg. You read a grounded coil to the cabinet: {n['own']:.1f} Ω from its own "
            f"terminal, {n['shared']:.1f} Ω from the shared one. The shared one is the fed end. The control is off, "
            "the drum turns, the ground wire is on. How many watts does the piece at the shared terminal make?"
        ),
    ),
    "leak_limit": Drill(
        "leak_limit",
        "mA",
        3,
        _nameplate,
        lambda n: f"By the international rule, how many mA may an element of {n['kilowatts']:.1f} kW leak?",
    ),
    "leak_milliamps": Drill(
        "leak_milliamps",
        "mA",
        3,
        _damp,
        lambda n: (
            f"{n['kohm']:g} kΩ from the shared terminal to the cabinet, {n['volts']:g} V leg to leg. "
            "One leg reaches that terminal, and the cabinet is grounded. How many mA leak?"
        ),
    ),
}
