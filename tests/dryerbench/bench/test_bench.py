"""The bench logs plain data, and a trail done again gives the same readings and findings."""

from __future__ import annotations

import contextlib
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.bench.acts import ACTS, BenchError
from dryerbench.bench.bench import Bench, replay
from dryerbench.bench.faults import fault_names
from dryerbench.bench.machine import Machine
from dryerbench.bench.wiring import points, pullable
from dryerbench.bench.worksite import faults_on, machine_on

JOB: list[tuple[str, dict[str, object]]] = [
    ("unplug", {}),
    ("prove_meter", {}),
    ("test_dead", {"where": "plug"}),
    ("prove_meter", {}),
    ("cover_off", {}),
    ("test_dead", {"where": "block"}),
    ("prove_meter", {}),
    ("pull_wire", {"wire": "wire T1"}),
    ("set_dial", {"mode": "ohms", "full_scale": None}),
    ("probe", {"a": "T1", "b": "case"}),
    ("name_fault", {"fault": "element-1-grounded"}),
]


def test_a_careful_job_has_no_findings() -> None:
    bench = Bench(faults=["element-1-grounded"])
    for act, details in JOB:
        bench.do(act, **details)
    assert bench.findings == []
    assert bench.minutes == pytest.approx(sum(act["minutes"] for act in bench.trail))
    assert bench.isolated


def test_a_trail_survives_json_and_runs_again() -> None:
    bench = Bench(faults=["element-1-grounded"])
    for act, details in JOB:
        bench.do(act, **details)
    stored = json.loads(json.dumps(bench.trail, allow_nan=False))
    again = replay(machine_on(bench), stored, faults_on(bench))
    assert again.trail == bench.trail == stored


def test_what_a_trail_says_it_read_is_not_believed() -> None:
    bench = Bench(faults=["cut-off-blown"])
    bench.do("unplug")
    bench.do("cover_off")
    bench.ohms("H5", "H6")
    forged = json.loads(json.dumps(bench.trail))
    forged[1]["facts"] = {"isolated": True, "gear": True, "breaker_on": True}
    forged[-1]["reading"]["shown"] = "0.2 Ω"
    again = replay(machine_on(bench), forged, faults_on(bench))
    assert again.trail[-1]["reading"]["shown"] == "OL"
    assert [finding.name for finding in again.findings] == ["cover-before-dead"]


@pytest.mark.parametrize("damaged", [[7], [{"act": 3}], [{"act": "unplug", "with": 5}], ["unplug"], [{}]])
def test_a_damaged_trail_is_refused_in_one_line(damaged: list[object]) -> None:
    with pytest.raises(BenchError, match="Act 1 of this trail is damaged"):
        replay(Machine(), damaged)  # type: ignore[arg-type]


def test_methods_and_acts_write_the_same_trail() -> None:
    one, two = Bench(), Bench()
    for bench in (one, two):
        bench.do("unplug")
    one.volts("outlet-1", "outlet-2")
    one.insulation("plug-1", "case")
    two.do("probe", a="outlet-1", b="outlet-2")
    two.do("set_dial", mode="insulation", full_scale=None)
    two.do("probe", a="plug-1", b="case")
    assert one.trail == two.trail
    assert one.low_impedance("outlet-1", "outlet-2").mode == "low-impedance"
    assert one.continuity("plug-1", "plug-2").beeps is not None


_DETAILS = st.fixed_dictionaries(
    {},
    optional={
        "wire": st.sampled_from(pullable()),
        "a": st.sampled_from(points()),
        "b": st.sampled_from(points()),
        "mode": st.sampled_from(("ohms", "volts", "continuity", "insulation", "low-impedance")),
        "where": st.sampled_from(("plug", "block", "outlet")),
        "heat": st.sampled_from(("high", "low", "none")),
        "conductor": st.sampled_from(("cord", "cord 1", "wire L2")),
        "spot": st.sampled_from(("room", "exhaust", "limit")),
        "celsius": st.integers(min_value=0, max_value=200),
        "part": st.sampled_from(("elements", "element 1", "high limit")),
        "fault": st.sampled_from(fault_names()),
    },
)


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from([(), ("element-2-grounded",), ("lost-leg-1",), ("missing-bond", "leakage-to-case")]),
    st.lists(st.tuples(st.sampled_from(list(ACTS)), _DETAILS), max_size=25),
)
def test_any_order_of_acts_either_happens_or_is_refused(
    faults: tuple[str, ...], acts: list[tuple[str, dict[str, object]]]
) -> None:
    bench = Bench(faults=faults)
    for act, details in acts:
        known = ACTS[act].__code__.co_varnames[2 : ACTS[act].__code__.co_argcount]  # type: ignore[attr-defined]
        with contextlib.suppress(ValueError):
            bench.do(act, **{key: value for key, value in details.items() if key in known})
    stored = json.loads(json.dumps(bench.trail, allow_nan=False))
    again = replay(machine_on(bench), stored, faults)
    assert again.trail == stored
    assert again.findings == bench.findings
