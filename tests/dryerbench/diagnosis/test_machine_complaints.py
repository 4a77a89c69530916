"""What is heard of the faults of each machine: the physics where it is clear, nothing where customers differ."""

from __future__ import annotations

import pytest

from dryerbench.diagnosis.machine_complaints import (
    house_faults,
    suspects,
    to_cabinet,
    told_alike,
    told_near,
    told_on,
)
from dryerbench.diagnosis.machine_hand_over import hands_of, heard_on
from dryerbench.family.shelf import arrangement, machine_names


@pytest.mark.parametrize("name", machine_names())
def test_what_is_clear_agrees_with_what_the_machine_does_when_it_is_asked_to_run(name: str) -> None:
    made = arrangement(name)
    told, heard = told_on(made), heard_on(made)
    assert all(told[fault] == heard[fault] for fault in told if told[fault] in ("no-heat", "dead", "hums"))
    assert {"no-heat", "dead", "hums", "trips", "slow"} == set(told.values())
    assert {told[f"coil-touches@{coil.a}-{coil.b}"] for coil in made.coils} == {"trips"}
    several = {told[fault] for fault in told if fault.startswith(("coil-open", "limit-open"))}
    assert several == ({"no-heat"} if len(made.coils) == 1 else {"no-heat", "slow"} if name != "workshop" else {"slow"})
    assert told["vent-restricted"] == "slow"
    assert not {"service-neutral-lost", "overload-tripped@Mot"} & set(told)
    assert not any(fault.startswith(("spade-", "coil-broken", "coil-aged")) for fault in told)


@pytest.mark.parametrize("name", machine_names())
def test_what_is_near_is_neither_right_nor_wrong_and_what_is_suspected_can_be_read_dead(name: str) -> None:
    made = arrangement(name)
    for key in set(told_on(made).values()):
        alike = set(told_alike(made, key))
        assert alike
        assert not alike & told_near(made, key)
        assert set(to_cabinet(made)) <= set(suspects(made, key))
        assert not set(suspects(made, key)) & set(hands_of(made))
        assert alike - set(hands_of(made)) <= set(suspects(made, key))
    assert house_faults(made) <= told_near(made, "hums")
    assert {"leg-1-lost", "leg-2-lost"} <= house_faults(made)
