"""Faults hang on parts: wherever a machine has the part, the fault is there and its own readings show it."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest

from dryerbench.circuits.solver import solve
from dryerbench.core.random_stream import stream_for
from dryerbench.family.fault_file import FILE, catalogue, pairs, read_faults
from dryerbench.family.fault_readings import read_at, shown_by
from dryerbench.family.fault_targets import swapped_leads
from dryerbench.family.faults import Fault, UnknownFaultError, faults_of, faulty_circuit, pairs_of, read_fault
from dryerbench.family.lines import FamilyFileError
from dryerbench.family.machine import Machine, drawn_machine, standard
from dryerbench.family.settings import read_setting, setting_names
from dryerbench.family.shelf import arrangement, machine_names

NAMES = machine_names()
TEXT = FILE.read_text(encoding="utf-8")


def machines(name: str) -> list[Machine]:
    made = arrangement(name)
    return [standard(made), drawn_machine(made, stream_for("anna-example", "bench"), "anna-example")]


@pytest.mark.parametrize("name", NAMES)
def test_every_fault_shows_in_its_own_readings_and_a_sound_machine_in_none(name: str) -> None:
    for machine in machines(name):
        for fault in faults_of(machine.arrangement):
            told = list(shown_by(machine, fault))
            assert bool(told) == fault.kind.electrical
            assert not told or any(one.telling for one in told), f"{name} {fault}: no reading tells it"
            for one in told:
                bad = read_at(machine, (fault,), one.a, one.b, one.state)
                good = read_at(machine, (), one.a, one.b, one.state)
                assert one.bad.holds(bad), f"{name} {fault}: {one.a} to {one.b}, {one.state}: {bad:g}, {one.bad}"
                assert one.good.holds(good), f"{name} sound: {one.a} to {one.b}, {one.state}: {good:g}, {one.good}"


@pytest.mark.parametrize("name", NAMES)
def test_the_ends_of_every_range_of_strengths_show_too(name: str) -> None:
    machine = standard(arrangement(name))
    for fault in faults_of(machine.arrangement):
        strength = fault.kind.strength
        for value in (strength.low, strength.high) if strength else ():
            strong = replace(fault, strength=value)
            for one in shown_by(machine, strong):
                found = read_at(machine, (strong,), one.a, one.b, one.state)
                assert one.bad.holds(found), f"{name} {strong}: {one.a} to {one.b}, {one.state}: {found:g}, {one.bad}"


@pytest.mark.parametrize("name", NAMES)
def test_what_is_not_electrical_changes_no_volt_and_what_is_changes_some(name: str) -> None:
    machine = standard(arrangement(name))
    usual = setting_names(machine.arrangement.heats)
    for fault in faults_of(machine.arrangement):
        words = dict.fromkeys((*usual, *(one.state for one in shown_by(machine, fault))))
        settings = [read_setting(state) for state in words]
        sound = [str(faulty_circuit(machine, setting)) for setting in settings]
        changed = [str(faulty_circuit(machine, setting, [fault])) for setting in settings]
        if fault.kind.electrical:
            assert changed != sound, fault
        else:
            assert changed == sound, fault
            assert fault.air_lost > 0.0 or fault.kind.does == "nothing electrical"


def test_there_are_more_than_fifty_and_each_is_on_some_machine() -> None:
    assert len(catalogue()) >= 50
    there = {fault.name for name in NAMES for fault in faults_of(arrangement(name))}
    assert there == set(catalogue())


def test_a_fault_is_on_every_machine_that_has_its_part_and_on_no_other() -> None:
    for name in NAMES:
        made = arrangement(name)
        there = {fault.name for fault in faults_of(made)}
        assert ("belt-switch-open" in there) == bool(made.of_kind("belt switch"))
        assert ("belt-broken" in there) != bool(made.of_kind("belt switch"))
        assert ("manual-tripped" in there) == bool(made.of_kind("manual cut-off"))
        assert ("sensors-swapped" in there) == (len(made.of_kind("exhaust sensor", "inlet sensor")) == 2)
        assert ("leads-swapped" in there) == (swapped_leads(made) is not None) == bool(made.shared)
        assert ("strap-off" in there) == (made.cord == "three-wire")
        assert ("coil-open" in there) == (len(made.coils) == 1)
        touching = [fault.on for fault in faults_of(made) if fault.name == "coil-touches"]
        assert touching == [f"{coil.a}-{coil.b}" for coil in made.coils]


def test_the_order_of_two_faults_does_not_matter() -> None:
    machine = standard(arrangement("alcove"))
    pair = [read_fault("coil-touches@r-q=0.4", machine.arrangement), read_fault("cut-off-blown", machine.arrangement)]
    setting = read_setting("run high")
    volts = [solve(faulty_circuit(machine, setting, faults)).volts for faults in (pair, pair[::-1])]
    assert np.array_equal(*volts)


def test_touching_coil_by_hand() -> None:
    """The two readings to the cabinet add up to the coil, and live with the control off it heats: V²/R of its piece."""
    machine = standard(arrangement("schoolroom"))
    fault = Fault("coil-touches", "p-q", 0.25)
    ends = [read_at(machine, (fault,), end, "G", "box free") for end in ("Box.p", "Box.q")]
    assert ends == pytest.approx([6.75, 20.25], abs=0.02)
    assert sum(ends) == pytest.approx(27.0, abs=0.03)


def test_pairs_are_those_of_cause_and_effect() -> None:
    found = set(pairs())
    for causes, effect in (
        (("limit-stuck", "vent-restricted"), "cut-off-blown"),
        (("limit-stuck", "motor-contact-welded"), "cut-off-blown"),
        (("cycling-welded", "seals-leak"), "fuse-blown"),
        (("coil-bridged",), "coil-touches"),
        (("spade-burnt",), "coil-open"),
        (("limit-stuck", "blower-slips"), "manual-tripped"),
        (("vent-restricted",), "limit-open"),
        (("bearings-tight",), "overload-tripped"),
    ):
        assert (causes, effect) in found
    assert all(name in catalogue() for causes, effect in found for name in (*causes, effect))
    assert (("limit-stuck",), "cut-off-blown") not in found, "half a cause is none"


def test_pairs_on_a_machine_stand_where_one_can_cause_the_other() -> None:
    made = arrangement("mudroom")
    found = {tuple(str(fault) for fault in pair) for pair in pairs_of(made)}
    assert ("spade-burnt@Hi.2-Box.r=2", "coil-open-of-several@r-s") in found
    assert ("spade-burnt@Hi.2-Box.r=2", "coil-open-of-several@p-q") not in found
    assert ("coil-bridged@p-q=0.3", "coil-touches@p-q=0.33") in found
    assert ("coil-bridged@p-q=0.3", "coil-touches@r-s=0.33") not in found
    assert ("limit-stuck@Lim", "vent-restricted=0.7", "cut-off-blown@Cut") in found
    for name in NAMES:
        there = pairs_of(arrangement(name))
        assert len(there) >= 8
        for pair in there:
            for fault in pair:
                assert read_fault(str(fault), arrangement(name)) == fault


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("cut-off-bown", "There is no fault 'cut-off-bown'. The faults are: coil-open,"),
        ("belt-switch-open", "The dryer Cellar cannot have the fault belt-switch-open."),
        ("lead-chafed", "has lead-chafed on several parts: write lead-chafed@Lim.2-Box.p or"),
        ("lead-chafed@Lim.1", "hangs on Lim.2-Box.p, Box.q-Cut.1, not on 'Lim.1'"),
        ("cut-off-blown=2", "has no strength: write it without '=2'"),
        ("coil-touches=low", "'low' is not a number"),
        ("coil-touches=2", "runs from 0.05 to 0.95; 2 is outside"),
    ],
)
def test_a_fault_that_cannot_be_is_said(text: str, words: str) -> None:
    with pytest.raises(UnknownFaultError, match=re.escape(words)):
        read_fault(text, arrangement("cellar"))


def test_a_fault_is_written_as_it_is_read() -> None:
    made = arrangement("alcove")
    for fault in faults_of(made):
        assert read_fault(str(fault), made) == fault
    assert str(read_fault("cut-off-blown", made)) == "cut-off-blown@Cut"


def broken(old: str, new: str) -> str:
    assert old in TEXT
    return TEXT.replace(old, new, 1)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (broken("fault: coil-open\n", ""), "the first line must be 'fault: NAME'"),
        (broken("fault: coil-open-of-several", "fault: coil-open"), "coil-open is in the file twice"),
        (broken("on: coil\n", "on: heart\n"), "'heart' is nothing that a fault hangs on"),
        (broken("where: one coil", "where: at sea"), "'at sea' is none of one coil"),
        (broken("does: breaks\n", "does: sings\n"), "'sings' is nothing that a fault does"),
        (broken("by: technician", "by: somebody"), "'somebody' names none of owner"),
        (broken("title: the only coil is open\n", ""), "coil-open has no line 'title'"),
        (broken("live: no\n", "live: no\nlive: yes\n"), "a second line 'live' for coil-open"),
        (broken("does: value times 1-S\nstrength", "does: opens\nstrength"), "a strength is told where the fault has"),
        (broken("usually 0.3, share", "often 0.3, share"), "write it as in: strength:"),
        (broken("job: weight 8, 35 minutes", "job: weight 8, an hour"), "write it as in: job:"),
        (broken("usually 0.3, share", "usually 0.9, share"), "the usual strength, 0.9, must lie between 0.15 and 0.7"),
        (broken("; good sheet", ", good sheet"), "write it as in: reads:"),
        (
            broken("after: spade-burnt; coil-touches", "after: bad luck"),
            "coil-open names 'bad luck', which is no fault",
        ),
    ],
)
def test_a_line_of_the_catalogue_that_cannot_be_right_is_named(text: str, words: str) -> None:
    with pytest.raises(FamilyFileError, match=re.escape(words)) as caught:
        read_faults("faults.txt", text)
    assert re.match(r"faults\.txt, line \d+: [^\n]+$", str(caught.value))


def test_a_loose_spade_reads_right_until_it_is_moved_or_hot() -> None:
    machine = standard(arrangement("cellar"))
    fault = read_fault("spade-loose@Lim.2-Box.p=50", machine.arrangement)
    assert read_at(machine, (fault,), "Lim.2", "Box.p", "off") < 0.05
    assert read_at(machine, (fault,), "Lim.2", "Box.p", "off, wiggled") == pytest.approx(50.0, abs=0.1)
    assert read_at(machine, (fault,), "Lim.2", "Box.p", "run high") < 1.0
    assert read_at(machine, (fault,), "Lim.2", "Box.p", "run hot high") > 150.0


def test_a_machine_of_ones_own_is_the_same_again_and_within_its_sheet() -> None:
    made = arrangement("workshop")
    one, same, other = (drawn_machine(made, stream_for(who, "bench"), who) for who in ("ada-01", "ada-01", "ben-02"))
    assert one == same
    assert one.own != other.own
    for coil in made.coils:
        assert math.isclose(one.number(coil.name, "ohms"), coil.ohms, rel_tol=0.051)
    for part in made.of_kind("high limit"):
        gap = part.numbers["opens"] - part.numbers["closes"]
        assert one.number(part.name, "opens") - one.number(part.name, "closes") == gap
