"""Precautions: rated gloves, glasses, a cap on the plug, a meter of a category, a charge let out, a line splitter."""

from __future__ import annotations

from dryerbench.bench.meter_ranges import RATINGS
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError, Worksite


def gear_on(bench: Worksite, _: Act) -> None:
    """Put on rated gloves, and glasses with them."""
    bench.gear = bench.glasses = True


def gear_off(bench: Worksite, _: Act) -> None:
    """Take off gloves and glasses."""
    bench.gear = bench.glasses = False


def glasses_on(bench: Worksite, _: Act) -> None:
    """Put safety glasses on; they go on with the rated gloves by themselves."""
    bench.glasses = True


def glasses_off(bench: Worksite, _: Act) -> None:
    """Take the safety glasses off."""
    bench.glasses = False


def cap_plug(bench: Worksite, _: Act) -> None:
    """Put a cap with lock and tag on the plug, so that nobody else can put it in."""
    if bench.state.plugged:
        raise BenchError("The plug is in the receptacle. Pull it before you cap it.")
    bench.capped = True


def uncap_plug(bench: Worksite, _: Act) -> None:
    """Take cap, lock and tag off the plug."""
    if not bench.capped:
        raise BenchError("There is no cap on the plug.")
    bench.capped = False


def take_meter(bench: Worksite, record: Act, rating: str) -> None:
    """Take the meter that is marked ``rating``, with leads of the same."""
    if rating not in RATINGS:
        raise BenchError(f"The shop has meters rated {', '.join(RATINGS)}; not '{rating}'.")
    bench.rating = rating
    record["happened"].append(f"the meter and its test leads are rated {rating}")


def discharge(bench: Worksite, record: Act) -> None:
    """Let the charge of an insulation test out through the tester, and see it gone."""
    record["happened"].append("discharged" if bench.charged else "nothing to discharge")
    bench.charged = False


def fit_splitter(bench: Worksite, _: Act) -> None:
    """Put a line splitter between plug and receptacle: each conductor lies alone in it, and its slots are shrouded."""
    if bench.state.plugged:
        raise BenchError("The splitter goes between plug and receptacle. Pull the plug first.")
    bench.splitter = True


def remove_splitter(bench: Worksite, _: Act) -> None:
    """Take the line splitter away."""
    if not bench.splitter:
        raise BenchError("There is no line splitter.")
    if bench.state.plugged:
        raise BenchError("The plug is in the splitter. Pull it first.")
    bench.splitter = False
