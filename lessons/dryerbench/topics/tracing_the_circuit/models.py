"""What there is to work out in lesson 07, tracing the circuit."""

from __future__ import annotations

import math

from dryerbench.course.models import Task, Way
from dryerbench.electricity.contacts import millivolts
from dryerbench.topics.tracing_the_circuit.heater_line import splits


def _too_few(places: int, minutes: float) -> float:
    return math.floor(math.log2(places)) * minutes if math.log2(places) % 1.0 else math.nan


TASKS: dict[str, Task] = {
    "open_volts": Task(
        lambda volts, contacts: volts,
        {
            "open_reads_nothing": lambda volts, contacts: 0.0,
            "one_leg_across_open": lambda volts, contacts: volts / 2,
            "shared_by_contacts": lambda volts, contacts: volts / contacts if contacts != 2 else math.nan,
        },
    ),
    "closed_drop": Task(
        lambda milliohms, amps, volts: millivolts(milliohms / 1000.0, amps),
        {
            "supply_across_closed": lambda milliohms, amps, volts: 1000.0 * volts,
            "squared_the_amps": lambda milliohms, amps, volts: milliohms * amps**2,
            "divided_the_drop": lambda milliohms, amps, volts: milliohms / amps,
        },
        (Way(lambda drop, /, milliohms, amps: 1000.0 * drop.factor(milliohms / 1000.0 * amps)),),
    ),
    "split_minutes": Task(
        lambda places, minutes: splits(places) * minutes,
        {
            "one_by_one": lambda places, minutes: (places - 1) * minutes,
            "each_place_once": lambda places, minutes: places * minutes,
            "halved_once": lambda places, minutes: places / 2 * minutes,
            "readings_not_minutes": lambda places, minutes: float(splits(places)),
            "one_split_short": _too_few,
        },
    ),
}
