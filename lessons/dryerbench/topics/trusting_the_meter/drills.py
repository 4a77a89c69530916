"""The practice drills of lesson 04."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.drills import Drill


def _element(stream: Stream) -> dict[str, float]:
    reading = stream.step("22.0", "34.0", "0.1")
    return {"reading": reading, "percent": 0.9, "counts": 2, "count": 0.1, "full_scale": 600.0}


def _volts(stream: Stream) -> dict[str, float]:
    return {"reading": stream.step("195.0", "249.0", "0.1"), "percent": 1.0, "counts": 3, "count": 0.1}


def _coarse(stream: Stream) -> dict[str, float]:
    return {"reading": stream.step("12", "40", "1"), "percent": 0.9, "counts": 2, "count": 1.0, "fine": 0.1}


def _leads(stream: Stream) -> dict[str, float]:
    leads = stream.step("0.3", "0.8", "0.1")
    return {"reading": round(stream.step("10.0", "30.0", "0.1") + leads, 1), "leads": leads}


def _path(stream: Stream) -> dict[str, float]:
    return {"volts": stream.step("115", "125", "1"), "path": stream.step("1", "8", "0.5"), "meter": 10.0}


DRILLS: dict[str, Drill] = {
    "accuracy_width": Drill(
        "accuracy_width",
        "Ω",
        2,
        _element,
        lambda n: (
            f"The meter shows {n['reading']:.1f} Ω on its 600 Ω range, ±(0.9 % + 2 counts). "
            "By how many ohms may it be off, plus or minus?"
        ),
    ),
    "low_end": Drill(
        "low_end",
        "V",
        4,
        _volts,
        lambda n: (
            f"The meter shows {n['reading']:.1f} V on its 600 V range, ±(1.0 % + 3 counts). "
            "What is the lowest it could really be?"
        ),
    ),
    "percent_on_range": Drill(
        "percent_on_range",
        "%",
        2,
        _coarse,
        lambda n: (
            f"On the 6 kΩ range, with counts of 1 Ω and ±(0.9 % + 2 counts), the meter shows {n['reading']:.0f} Ω. "
            "By what percent of the reading may it be off?"
        ),
    ),
    "without_leads": Drill(
        "without_leads",
        "Ω",
        3,
        _leads,
        lambda n: (
            f"A part reads {n['reading']:.1f} Ω. With the tips together the meter shows {n['leads']:.1f} Ω. "
            "What does the part itself read?"
        ),
    ),
    "volts_through_path": Drill(
        "volts_through_path",
        "V",
        3,
        _path,
        lambda n: (
            f"A hot leg of {n['volts']:g} V reaches a loose wire only through a damp path of {n['path']:g} MΩ. "
            "How many volts does a meter of 10 MΩ show on that wire?"
        ),
    ),
}
