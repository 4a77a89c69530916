"""The supply of a dryer as parts of a circuit: service, panel, branch, receptacle and cord.

Copper comes from the table ``copper-conductors``. Capacitances and earth ohms are of the usual size, from memory, no
published source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dryerbench.circuits.circuit import Part
from dryerbench.core.tables import table


@dataclass(frozen=True, slots=True)
class Site:
    """Where a dryer stands: its supply, the house's other loads, the branch and the cord.

    Ohms in Ω, lengths in ft, capacitances in F. ``supply`` is ``split`` (two legs in opposition) or ``wye`` (two phases
    of 208Y/120). Defaults are common practice, no published source.
    """

    leg_volts: float = 120.0
    supply: str = "split"
    cord_feet: float = 6.0
    cord_awg: int = 10
    run_feet: float = 40.0
    run_awg: int = 10
    extension_feet: float = 0.0
    extension_awg: int = 14
    service_ohms: float = 0.02
    house_watts: tuple[float, float] = (300.0, 1500.0)
    breaker_amps: float = 30.0
    joint_ohms: float = 0.002
    cable_farads_per_foot: float = 25e-12
    rod_ohms: tuple[float, float] = (5.0, 25.0)

    @property
    def leg_to_leg(self) -> float:
        """The volts between the two legs, unloaded: 2·V for a split phase, √3·V for a wye."""
        return self.leg_volts * (2.0 if self.supply == "split" else 3.0**0.5)

    @property
    def second_leg_degrees(self) -> float:
        """The phase of leg 2 in degrees, with leg 1 at 0."""
        return 180.0 if self.supply == "split" else -120.0


def _copper(name: str, a: str, b: str, feet: float, awg: int) -> Part:
    ohms = feet / 1000.0 * float(table("copper-conductors").row(awg=awg).number("ohms_per_kft"))
    return Part(name, "wire", a, b, ohms)


def service(site: Site) -> Iterator[Part]:
    """Yield the transformer's two legs, the house's other loads, the breaker and the rods."""
    volts, ohms = site.leg_volts, site.service_ohms
    yield Part("leg 1", "source", "service-N", "service-1", volts, degrees=0.0)
    yield Part("leg 2", "source", "service-N", "service-2", volts, degrees=site.second_leg_degrees)
    for leg in "12":
        yield Part(f"service conductor {leg}", "wire", f"service-{leg}", f"panel-{leg}", ohms)
        watts = site.house_watts[int(leg) - 1]
        yield Part(f"house load {leg}", "resistance", f"panel-{leg}", "panel-N", 120.0**2 / watts)
        yield Part(f"breaker {leg}", "contact", f"panel-{leg}", f"breaker-{leg}", site.joint_ohms)
    yield Part("service neutral", "wire", "service-N", "panel-N", ohms)
    yield Part("transformer rod", "resistance", "service-N", "earth", site.rod_ohms[0])
    yield Part("house rod", "resistance", "panel-N", "earth", site.rod_ohms[1])


def _cable(site: Site, where: str, ends: tuple[str, ...], feet: float) -> Iterator[Part]:
    """Yield the capacitance between every two conductors of one cable ``feet`` ft long."""
    for place, a in enumerate(ends):
        for b in ends[place + 1 :]:
            yield Part(f"{where} capacitance {a} {b}", "capacitance", a, b, site.cable_farads_per_foot * feet)


def branch(site: Site, cord: str) -> Iterator[Part]:
    """Yield the branch circuit from the breaker to the receptacle; a four-wire one has a ground wire."""
    feet, awg = site.run_feet, site.run_awg
    yield _copper("run 1", "breaker-1", "outlet-1", feet, awg)
    yield _copper("run 2", "breaker-2", "outlet-2", feet, awg)
    yield _copper("run N", "panel-N", "outlet-N", feet, awg)
    ends = ["outlet-1", "outlet-2", "outlet-N"]
    if cord == "four-wire":
        yield _copper("run G", "panel-N", "outlet-G", feet, awg)
        ends.append("outlet-G")
    yield from _cable(site, "run", tuple(ends), feet)


def cord_parts(site: Site, cord: str, cabinet: str) -> Iterator[Part]:
    """Yield plug, cord and the strap between the block's neutral and the cabinet's metal."""
    four = cord == "four-wire"
    for slot, block in (("1", "L1"), ("2", "L2"), ("N", "N"), ("G", cabinet))[: 4 if four else 3]:
        yield Part(f"plug blade {slot}", "contact", f"outlet-{slot}", f"plug-{slot}", site.joint_ohms)
        base = _copper(f"cord {slot}", f"plug-{slot}", block, site.cord_feet, site.cord_awg)
        more = _copper("", "", "", site.extension_feet, site.extension_awg).value
        name = "ground wire" if slot == "G" else base.name
        yield Part(name, "wire", base.a, base.b, base.value + more)
    yield Part("frame strap", "contact", "N", cabinet, site.joint_ohms, closed=not four)
    ends = ("L1", "L2", "N", cabinet) if four else ("L1", "L2", "N")
    yield from _cable(site, "cord", ends, site.cord_feet + site.extension_feet)
