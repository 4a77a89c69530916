"""Evidence and advice on machines of the family: what can be read, what it says, what may be done, how long."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import on_the_bench
from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import Row, table
from dryerbench.diagnosis import machine_evidence
from dryerbench.diagnosis.candidates import SOUND
from dryerbench.diagnosis.machine_cases import Case, book, cases, named, read_all
from dryerbench.diagnosis.machine_evidence import RULES, MachineEvidence, never_powered, quickest
from dryerbench.diagnosis.machine_menu import Reading, Stands, after, menu, minutes
from dryerbench.diagnosis.machine_paths import FAULTS, WAYS, table_text, tally, unseen, walk
from dryerbench.diagnosis.machine_trail import evidence_on
from dryerbench.family.arrangement import CABINET
from dryerbench.family.faults import faults_of, read_fault
from dryerbench.family.machine import drawn_machine, standard
from dryerbench.family.shelf import arrangement, machine_names

QUICK = ("porch", "closet")
"""A board with a relay and a dial machine: both are small, so their books are made in seconds."""


def machine_of(name: str):
    return drawn_machine(arrangement(name), Stream(f"test/{name}"), "test")


def shown(name: str, faults: tuple[str, ...], one: Reading) -> float:
    made = arrangement(name)
    known = tuple(read_fault(fault, made) for fault in faults)
    return float(read_all(made, [Case(known, machine_of(name), 1.0)], [one])[0, 0])


@pytest.mark.parametrize("name", machine_names())
def test_the_menu_holds_nothing_that_nobody_may_do(name: str) -> None:
    made = arrangement(name)
    there = menu(made)
    assert len(there) > 50
    assert len(set(there)) == len(there)
    assert not [one for one in there if one.powered and one.setting.stirred]
    assert not [one for one in there if one.mode == "insulation"]
    assert {one.mode for one in there} >= {"ohms", "low-impedance", "look", "listen", "airflow", "warmth", "clamp"}
    assert all(one.live or not one.powered or one.mode in ("listen", "airflow", "warmth") for one in there)


@pytest.mark.parametrize("name", machine_names())
def test_every_fault_and_every_pair_is_a_candidate(name: str) -> None:
    made = arrangement(name)
    there = cases(made)
    assert sum(case.prior for case in there) == pytest.approx(1.0)
    assert {named((fault,)) for fault in faults_of(made)} <= {case.name for case in there}
    assert any(len(case.faults) > 1 for case in there)
    assert SOUND in {case.name for case in there}


def test_minutes_count_covers_wires_and_power_once() -> None:
    made = arrangement("cellar")
    far = next(one for one in menu(made) if one.places == ("Lim.1", "Lim.2"))
    first = minutes(made, far, Stands())
    again = minutes(made, far, after(made, far, Stands()))
    assert first > again + 5.0, "top, front and box lid come off once, and dead is proved once"
    assert again == pytest.approx(0.7)
    run = next(one for one in menu(made) if one.mode == "warmth")
    assert minutes(made, run, after(made, far, Stands())) > minutes(made, run, Stands("run high"))


@pytest.mark.parametrize("name", QUICK)
def test_a_reading_counts_once(name: str) -> None:
    known = book(arrangement(name))
    evidence = MachineEvidence(known)
    one = (
        next(reading for reading in known.readings if reading.mode == "ohms" and "Cut" in reading.places[0])
        if (name == "porch")
        else next(reading for reading in known.readings if reading.mode == "ohms")
    )
    value = shown(name, (), one)
    evidence.observe(one, value)
    before = evidence.odds()
    evidence.observe(one, value)
    assert evidence.odds() == before


def test_two_faults_that_go_together_are_found_together() -> None:
    """A cut-off that blew behind a crushed vent and a stuck limit is not named as a cut-off alone."""
    made = arrangement("porch")
    known = book(made)
    pair = next(
        names for names in known.names for one in names
        if "cut-off-blown" in one and "vent-restricted" in one and "limit-stuck" in one
    )  # fmt: skip
    faults = ("limit-stuck", "vent-restricted=0.7", "cut-off-blown")
    evidence = MachineEvidence(known)
    evidence.hear("no heat, drum turns")
    for one in known.readings:
        if not one.powered and not one.live:
            evidence.observe(one, shown("porch", faults, one))
    assert evidence.leading[0] == pair
    assert evidence.leading[1] > 0.9


@pytest.mark.parametrize("name", QUICK)
def test_cold_air_and_what_is_seen_are_evidence(name: str) -> None:
    made = arrangement(name)
    known = book(made)
    fault = next(str(one) for one in faults_of(made) if one.name == "coil-open")
    for mode in ("warmth", "look"):
        one = next(one for one in known.readings if one.mode == mode and one.places[0] in ("exhaust", "box"))
        evidence = MachineEvidence(known)
        odds = [share for names, share in evidence.odds().items() if any("coil-open" in name for name in names)]
        evidence.observe(one, shown(name, (fault,), one))
        then = [share for names, share in evidence.odds().items() if any("coil-open" in name for name in names)]
        assert sum(then) > 1.5 * sum(odds)


@pytest.mark.parametrize("way", ["advised", *WAYS])
@pytest.mark.parametrize("name", QUICK)
def test_no_way_powers_what_was_not_read_safe(name: str, way: str) -> None:
    """On each kind of fault that must not be powered, and on some that may: power comes after the two readings."""
    made = arrangement(name)
    known = book(made)
    bad = [fault for fault in faults_of(made) if never_powered(fault)]
    assert bad
    for fault in (*bad[:4], *faults_of(made)[::12]):
        path = walk(known, machine_of(name), (fault,), way)
        powered = [place for place, one in enumerate(path.readings) if one.powered]
        before = path.readings[: min(powered, default=0)]
        if powered:
            assert any(CABINET in one.places and set(one.places) & set(made.box_terminals) for one in before)
            bond = "plug-G" if made.cord == "four-wire" else "N"
            assert any(set(one.places) == {CABINET, bond} for one in before)
        if fault.name == "coil-touches":
            assert not powered


def test_who_is_not_qualified_is_not_sent_to_live_parts() -> None:
    made = arrangement("porch")
    path = walk(book(made), machine_of("porch"), (read_fault("heat-relay-open", made),), "advised", qualified=False)
    assert path.readings
    assert not [one for one in path.readings if one.live]


def test_a_number_far_from_every_book_leaves_no_nonsense() -> None:
    known = book(arrangement("porch"))
    evidence = MachineEvidence(known)
    for one in known.readings[:20]:
        evidence.observe(one, 1e3)
    assert sum(evidence.odds().values()) == pytest.approx(1.0)


@pytest.mark.parametrize("name", QUICK)
def test_the_advice_is_quicker_than_a_textbook_and_than_chance(name: str) -> None:
    found = {one.way: one for one in tally(name, 12, ("advised", "textbook", "random"))}
    assert found["advised"].right >= 11
    assert found["advised"].minutes < found["textbook"].minutes < found["random"].minutes


@pytest.mark.parametrize("name", machine_names())
def test_on_every_machine_the_rule_followed_is_the_quickest(name: str) -> None:
    rows = {row.text("way"): row for row in table("machine-paths").rows if row["machine"] == name}
    assert set(rows) == set(WAYS)
    assert {row.whole("of") for row in rows.values()} == {FAULTS}
    assert arrangement(name).name.lower() == name
    chosen = rows[quickest(arrangement(name).name)]
    most = max(rows[way].whole("right") for way in RULES)
    assert chosen.whole("right") >= most - 1
    assert chosen.whole("right") >= 0.9 * FAULTS
    for way in (*RULES, "random"):
        if rows[way].whole("right") >= most - 1:
            assert chosen.number("median_minutes") <= rows[way].number("median_minutes")
    assert chosen.number("median_minutes") <= 0.75 * rows["textbook"].number("median_minutes")
    assert chosen.number("median_minutes") <= 0.25 * rows["random"].number("median_minutes")


def test_the_rule_is_looked_up_by_the_machines_own_name(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were it not found, every machine would silently follow the first rule."""
    minutes_of = dict(zip(RULES, (9.0, 8.0, 7.0), strict=True))
    rows = [Row(machine="porch", way=way, right=39, of=40, median_minutes=took) for way, took in minutes_of.items()]
    monkeypatch.setattr(machine_evidence, "table", lambda _: SimpleNamespace(rows=rows))
    quickest.cache_clear()
    try:
        assert quickest("Porch") == RULES[-1]
    finally:
        quickest.cache_clear()


def test_the_table_is_what_the_ways_do_today() -> None:
    """One way of one machine is walked again: a change of machines, faults or minutes needs the table made anew."""
    (one,) = tally("porch", FAULTS, ("textbook",))
    row = table("machine-paths").row(machine="porch", way="textbook")
    assert (one.right, one.minutes) == (row.whole("right"), row.number("median_minutes"))
    assert len(unseen(arrangement("porch"), FAULTS)) == FAULTS
    assert table_text(()).startswith("machine,way,right")


def test_a_reading_off_a_bench_counts_once_whatever_else_is_off_and_however_the_probes_are() -> None:
    machine = on_the_bench(standard(arrangement("closet")))
    bench = Bench(machine, ["limit-open@Lim"])
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    bench.ohms("Man.1", "Heat.1")
    once = evidence_on(machine, bench.trail).odds()
    assert once != evidence_on(machine, []).odds()
    bench.ohms("Heat.1", "Man.1")
    bench.do("pull_wire", wire="wire Mot.s")
    bench.ohms("Man.1", "Heat.1")
    assert evidence_on(machine, bench.trail).odds() == once
