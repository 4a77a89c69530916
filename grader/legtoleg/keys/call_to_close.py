"""The reference answers of lesson 10, from the call to the close."""

from __future__ import annotations

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue, read_fault
from dryerbench.bench.meter import Reading, ReadingData
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import faults_on, situation_on
from dryerbench.course.bench_card import faults_of, open_bench
from dryerbench.diagnosis.service_calls import NOT_FOUND_DEAD, complaint_of, evidence_of
from dryerbench.electricity.ohms_law import parallel
from dryerbench.topics.call_to_close.sheet import LESSON, OFFERED, RULE_PERCENT, CallCard
from legtoleg.keys.reference import (
    Before,
    ChoiceReference,
    Expected,
    FaultReference,
    Goal,
    OrderReference,
    ReadingsReference,
    Reference,
    ReferenceOf,
    WorkReference,
)
from legtoleg.keys.singled_out import ENOUGH

__all__ = ["LESSON", "REFERENCES"]

_ELEMENT_WIRES = ("wire T1", "wire T2", "wire T3", "wire T0")
_CLOSED_OHMS = 1.0
"""Ω up to which a bond reads as joined, leads included."""
_ENDS_A_RUN = ("stop", "unplug", "open_breaker", "open_door", "cool_down")
_WARM = 40.0
"""°C at the exhaust from which the machine makes heat."""


def fault_of(card: CallCard) -> str:
    """Return the name of what is wrong with the machine of ``card``."""
    return read_fault(faults_of(card)[0]).name


def part_of(card: CallCard) -> str:
    """Return the part at fault."""
    return str(catalogue(fault_of(card))["part"])


def part_price_of(card: CallCard) -> float:
    """Return what that part costs, in dollars (invented)."""
    return float(catalogue(fault_of(card)).number("parts_cost"))


def fix_minutes_of(card: CallCard) -> float:
    """Return how long that part takes to fit, in min (invented)."""
    return float(catalogue(fault_of(card)).number("minutes"))


def quote_percent_of(card: CallCard) -> float:
    """Return the repair's price as a share of a new machine, in percent."""
    hours = (2 * card.drive_minutes + card.find_minutes + fix_minutes_of(card)) / 60
    return 100 * (card.callout + part_price_of(card) + card.rate * hours) / card.new_price


def _suspects(card: CallCard) -> frozenset[str]:
    return frozenset(name for name in OFFERED if complaint_of(name) == card.complaint)


def _blame() -> dict[str, str]:
    codes = {
        "-open": "element_blamed",
        "-grounded": "path_blamed",
    }
    found = {name: code for name in OFFERED for end, code in codes.items() if name.startswith("element-")
             and name.endswith(end)}  # fmt: skip
    switches = ("high-limit-open", "cut-off-blown", "cycling-open", "control-open", "thermistor-open")
    found |= dict.fromkeys(switches, "switch_blamed")
    found |= dict.fromkeys(("door-switch-open", "run-winding-open", "motor-heat-contact-open"), "motor_side_blamed")
    return {**dict.fromkeys(NOT_FOUND_DEAD, "outside_blamed"), **found}


def _left(bench: Bench, key: str) -> list[str]:
    """Return what the readings before any repair leave possible, with what the customer says of the fault ``key``."""
    return evidence_of(bench, complaint_of(key)).singled_out(ENOUGH)


def expected_rows(card: CallCard) -> dict[str, Expected]:
    """Return what each row of the heater's table reads with its four wires off, and with them on as the slip."""
    bench = open_bench(card)
    for act in ("unplug", "cover_off"):
        bench.do(act)
    on = {row: _true(bench, row) for row in ("T1", "T2", "T3")}
    for wire in _ELEMENT_WIRES:
        bench.do("pull_wire", wire=wire)
    return {row: _expected(bench, row, on.get(row)) for row in ("T1", "T2", "T3", "case")}


def _ends(row: str) -> tuple[str, str]:
    return ("T0", "case") if row == "case" else (row, "T0")


def _true(bench: Bench, row: str) -> float:
    return bench.meter.ideal(situation_on(bench), "ohms", *_ends(row))


def _expected(bench: Bench, row: str, on: float | None) -> Expected:
    reading: Reading = bench.ohms(*_ends(row))
    if reading.value is None:
        return Expected(over_limit=True)
    true = _true(bench, row)
    half = reading.resolution * 2 + 0.009 * true
    slips = None if on is None else {"number_in_circuit": on + bench.meter.lead_ohms}
    return Expected(true - half, true + bench.meter.lead_ohms_most + half, slips=slips)


# --- the proof of a repair ------------------------------------------------------------------------------------------


def _after_repair(bench: Bench) -> list[Act]:
    places = [place for place, act in enumerate(bench.trail) if act["act"] == "replace_part"]
    return bench.trail[places[-1] + 1 :] if places else []


def _before_power(bench: Bench) -> list[Act]:
    acts = _after_repair(bench)
    names = [act["act"] for act in acts]
    ends = [names.index(name) for name in ("plug_in", "close_breaker") if name in names]
    return acts[: min(ends, default=len(acts))]


def _read(acts: list[Act], *places: str) -> list[ReadingData]:
    readings = [act["reading"] for act in acts if "reading" in act]
    dead = [one for one in readings if one["mode"] in ("ohms", "insulation")]
    return [one for one in dead if set(one["places"]) == set(places)]


def _heater_off_case(bench: Bench) -> bool:
    heater = [one for point in ("T0", "T1", "T2", "T3") for one in _read(_before_power(bench), point, "case")]
    return bool(heater) and all(one["value"] is None or one["value"] > 1e6 for one in heater)


def _bonded(bench: Bench) -> bool:
    bond = _read(_before_power(bench), "plug-G", "case")
    return any(one["value"] is not None and one["value"] <= _CLOSED_OHMS for one in bond)


def _ran(bench: Bench) -> bool:
    """Return whether the exhaust was read warm while the repaired machine ran; it may be stopped and unplugged then."""
    running = False
    for act in _after_repair(bench):
        if act["act"] == "let_run":
            running = "warm air comes out" in act["happened"]
        running = running and act["act"] not in _ENDS_A_RUN
        if running and act["act"] == "temperature" and _warm_exhaust(act["reading"]):
            return True
    return False


def _warm_exhaust(reading: ReadingData) -> bool:
    return reading["places"] == ["exhaust"] and (reading["value"] or 0.0) >= _WARM


GOALS = (
    Goal(lambda bench: not faults_on(bench), "faulty_part_still_in"),
    Goal(lambda bench: not bench.state.pulled and not bench.cover_off, "wires_left_off"),
    Goal(_heater_off_case, "case_not_read_again"),
    Goal(_bonded, "bond_not_read"),
    Goal(_ran, "not_run_with_heat"),
)

ORDER = (
    Before("unplug", "dead", "open_before_dead", unsafe=True),
    Before("prove", "dead", "open_before_dead", unsafe=True),
    Before("dead", "again", "open_before_dead", unsafe=True),
    Before("again", "open", "open_before_dead", unsafe=True),
    *(Before("again", step, "open_before_dead", unsafe=True) for step in ("measure", "fit", "close")),
    Before("open", "measure", "open_before_dead", unsafe=True),
    Before("open", "fit", "open_before_dead", unsafe=True),
    Before("close", "power", "power_before_case_test", unsafe=True),
    Before("fit", "close", "power_before_case_test", unsafe=True),
    Before("ask", "measure", "measured_unasked"),
    Before("measure", "quote", "named_before_reading"),
    Before("quote", "fit", "fitted_unquoted"),
    Before("power", "record", "record_before_proof"),
)

REFERENCES: tuple[ReferenceOf[CallCard], ...] = (
    OrderReference("call_order", ORDER),
    ChoiceReference("suspects", _suspects, dict.fromkeys(OFFERED, "complaint_does_not_fit")),
    ReadingsReference("call_readings", expected_rows, "ol_for_number", "number_for_ol"),
    FaultReference(
        "call_fault",
        open_bench,
        lambda card: frozenset({fault_of(card)}),
        _left,
        "thin_evidence",
        _blame(),
    ),
    Reference(
        "call_minutes",
        "call_minutes",
        lambda card, _: {"drive": card.drive_minutes, "find": card.find_minutes, "fix": fix_minutes_of(card)},
    ),
    Reference(
        "quote_share",
        "quote_share",
        lambda card, own: {
            "minutes": own["call_minutes"],
            "rate": card.rate,
            "callout": card.callout,
            "parts": part_price_of(card),
            "new_price": card.new_price,
        },
    ),
    ChoiceReference(
        "advice",
        lambda card: frozenset({"repair" if quote_percent_of(card) <= RULE_PERCENT else "replace"}),
        {
            "repair": "rule_turned_round",
            "replace": "rule_turned_round",
            "cut_proof": "proof_left_out",
            "no_price": "price_unsaid",
        },
    ),
    ChoiceReference(
        "weekend",
        lambda _: frozenset({"stay_out"}),
        {"bridge": "bridged", "stay_near": "watched_is_not_safe", "cover_off": "watched_is_not_safe"},
    ),
    Reference(
        "amps_after",
        "line_amps",
        lambda card, _: {
            "volts": card.supply_volts,
            "heater_ohms": parallel((card.sheet_ohms,) * 3),
            "ohms": (card.sheet_ohms,) * 3,
        },
    ),
    WorkReference("call_repair", open_bench, GOALS),
    ChoiceReference(
        "job_record",
        lambda _: frozenset({"words", "readings", "cause", "proof"}),
        {
            "beeped": "record_guesses",
            "guess": "record_guesses",
            "private": "record_private",
            **dict.fromkeys(("words", "readings", "cause", "proof"), "record_thin"),
        },
    ),
)
"""In the order in which they build on one another."""
