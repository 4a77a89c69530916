"""Every fault in every setting: solved live where it is plugged in, dead where it is not."""

from __future__ import annotations

import numpy as np
import pytest

from dryerbench.circuits.solver import solve
from dryerbench.family.all_cases import all_cases, solve_settled
from dryerbench.family.faults import faults_of
from dryerbench.family.machine import standard
from dryerbench.family.settings import read_setting, setting_names
from dryerbench.family.shelf import arrangement, machine_names


def test_every_fault_meets_every_setting() -> None:
    made = arrangement("pantry")
    cases = all_cases(made)
    assert len(cases) == (1 + len(faults_of(made))) * len(setting_names(made.heats))
    assert len(set(cases)) == len(cases)


def test_no_setting_is_named_twice_and_each_is_read() -> None:
    for name in machine_names():
        names = setting_names(arrangement(name).heats)
        assert len({read_setting(words) for words in names}) == len(names)


@pytest.mark.parametrize("name", ["garage", "alcove"])
def test_solved_together_is_solved_alone_and_sources_give_what_parts_take(name: str) -> None:
    machine = standard(arrangement(name))
    for one in solve_settled(machine, all_cases(arrangement(name))[::29]):
        powered = one.settled.setting.powered
        assert (one.live is not None, one.dead is not None) == (powered, not powered)
        if one.live is not None:
            alone = solve(one.circuit)
            np.testing.assert_allclose(one.live.volts, alone.volts, rtol=1e-7, atol=1e-7)
            delivered, taken = one.live.balance()
            assert delivered == pytest.approx(taken, rel=1e-6, abs=1e-4)
        if one.dead is not None:
            np.testing.assert_allclose(one.dead.impedance, solve(one.circuit, 0.0).impedance, rtol=1e-6, atol=1e-5)
