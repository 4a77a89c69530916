"""A scene is the machine that the command names, settled."""

import pytest

from dryerbench.bench.faults import FaultError
from dryerbench.bench.states import StateError
from legtoleg.cli.settled_scene import scene


def test_a_variant_is_the_apprentices_own_machine():
    own = scene([], "heating", "anna-example").situation.machine
    assert own == scene([], "unplugged", "anna-example").situation.machine
    assert own != scene([], "heating", "ben-example").situation.machine
    assert scene([], "heating").situation.machine.name == "practice"


def test_the_title_says_what_settled():
    assert scene(["lost-leg-1"], "heating").title.endswith("lost-leg-1, state heating (the motor stops)")


def test_what_does_not_exist_is_said():
    with pytest.raises(FaultError, match="no fault 'gremlin'"):
        scene(["gremlin"], "heating")
    with pytest.raises(StateError, match="no state 'asleep'"):
        scene([], "asleep")
    with pytest.raises(FaultError, match="three-wire"):
        scene(["strap-missing"], "heating")
    assert scene(["strap-missing"], "heating", cord="three-wire").situation.faults
