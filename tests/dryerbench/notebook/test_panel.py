"""The panel does by click what code does, writes the same trail, and says in one line what cannot be done."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from IPython.core.interactiveshell import InteractiveShell

from dryerbench.bench.acts import ACTS, DETAILS
from dryerbench.bench.bench import Bench
from dryerbench.bench.worksite import BenchError
from dryerbench.notebook import panel as panel_module
from dryerbench.notebook.bench_view import MORE
from dryerbench.notebook.panel import BenchPanel

JOB: tuple[tuple[str, dict[str, Any]], ...] = (
    ("unplug", {}),
    ("prove_meter", {}),
    ("test_dead", {"where": "plug"}),
    ("prove_meter", {}),
    ("cover_off", {}),
    ("pull_wire", {"wire": "wire T1"}),
    ("set_dial", {"mode": "ohms", "full_scale": None}),
)


def worked() -> BenchPanel:
    panel = BenchPanel(Bench(faults=["element-1-open"]))
    for act, given_ in JOB:
        panel.receive({"act": act, "with": given_})
    return panel


def place(panel: BenchPanel, probe: str, point: str, *, alone: bool = False) -> None:
    panel.receive({"act": "place", "with": {"probe": probe, "point": point, "alone": alone}})


def test_panel_and_code_write_the_same_trail() -> None:
    panel, bench = worked(), Bench(faults=["element-1-open"])
    for act, given_ in JOB:
        bench.do(act, **given_)
    place(panel, "A", "T1")
    place(panel, "B", "T0")
    bench.ohms("T1", "T0")
    assert panel.bench.trail == bench.trail
    assert panel.view["reading"]["shown"] == "OL"
    assert panel.view["minutes"] == bench.minutes


def test_the_first_probe_of_a_pair_lifts_the_other_and_one_alone_does_not() -> None:
    panel = worked()
    place(panel, "A", "T1")
    assert "Now the other one" in panel.view["said"]
    place(panel, "B", "T0")
    place(panel, "A", "case")
    assert panel.view["probes"] == {"A": "case", "B": None}
    place(panel, "B", "T0")
    place(panel, "A", "T2", alone=True)
    assert panel.view["probes"] == {"A": "T2", "B": "T0"}
    assert [act["with"] for act in panel.bench.trail if act["act"] == "probe"] == [
        {"a": "T1", "b": "T0"},
        {"a": "case", "b": "T0"},
        {"a": "T2", "b": "T0"},
    ]
    panel.receive({"act": "again"})
    assert len(panel.bench.trail) == len(JOB) + 4
    panel.receive({"act": "lift"})
    panel.receive({"act": "again"})
    assert panel.view["refused"]
    assert "both probes" in panel.view["said"]


def test_a_refused_act_is_one_line_and_leaves_no_trail() -> None:
    panel = BenchPanel(Bench())
    panel.receive({"act": "plug_in", "with": {}, "turn": 3})
    assert panel.view["refused"]
    assert panel.view["said"] == "The plug is in already."
    assert panel.view["turn"] == 3
    place(panel, "A", "T1")
    assert "behind the cover" in panel.view["said"]
    assert panel.bench.trail == []
    panel.receive({"act": "unplug", "with": {}})
    assert not panel.view["refused"]


def test_probes_come_off_what_is_closed_again() -> None:
    panel = worked()
    place(panel, "A", "T1")
    place(panel, "B", "case")
    panel.receive({"act": "cover_on", "with": {}})
    assert panel.view["probes"] == {"A": None, "B": "case"}


def test_an_end_to_the_acts() -> None:
    panel = BenchPanel(Bench())
    for turn in range(401):
        panel.receive({"act": "unplug" if turn % 2 == 0 else "plug_in", "with": {}})
    assert len(panel.bench.trail) == 400
    assert "400 acts" in panel.view["said"]


_JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=5,
)
_KEYS = sorted({key for keys in DETAILS.values() for key in keys} | {"probe", "point", "alone"})


@settings(max_examples=150, deadline=None)
@given(
    _JUNK
    | st.fixed_dictionaries(
        {
            "act": st.sampled_from([*ACTS, "place", "lift", "again"]) | _JUNK,
            "with": st.dictionaries(st.sampled_from(_KEYS), _JUNK, max_size=3) | _JUNK,
            "turn": _JUNK,
        }
    )
)
def test_nothing_that_the_page_sends_breaks_the_panel(content: object) -> None:
    panel = BenchPanel(Bench())
    panel.receive(content)
    assert isinstance(panel.view["said"], str)
    assert "\n" not in panel.view["said"]


@pytest.fixture
def shell() -> Iterator[InteractiveShell]:
    made = InteractiveShell.instance()
    yield made
    InteractiveShell.clear_instance()


def test_acts_by_code_are_shown_after_the_cell(shell: InteractiveShell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(panel_module, "get_ipython", lambda: shell)
    bench = Bench()
    panel = BenchPanel(bench)
    bench.do("unplug")
    assert panel.view["plugged"]
    shell.events.trigger("post_run_cell", None)
    assert not panel.view["plugged"]


def test_the_page_asks_for_acts_that_exist() -> None:
    text = Path(panel_module.__file__).with_name("panel.js").read_text(encoding="utf-8")
    sent = set(re.findall(r'send\("(\w+)"', text)) | {"pull_wire", "put_back_wire"}
    sent |= {act for pair in re.findall(r'toggle\(.*", "(\w+)"\], \[.*", "(\w+)"\]', text) for act in pair}
    known = set(ACTS) | {"place", "lift", "again", "start_again"}
    assert sent <= known
    assert known - sent == {"name_fault", "probe", *MORE}


def test_a_probe_that_is_no_name_is_said_in_one_line() -> None:
    panel = BenchPanel(Bench())
    panel.receive({"act": "place", "with": {"probe": [], "point": "case"}, "turn": 1})
    assert panel.view["refused"]


def test_an_act_that_nothing_follows_from_is_said_too() -> None:
    panel = BenchPanel(Bench())
    panel.receive({"act": "unplug", "with": {}, "turn": 1})
    assert panel.view["said"] == "Done: pull the plug and keep it in sight."


def test_further_acts_are_on_the_panel_only_where_they_are_asked_for() -> None:
    assert BenchPanel(Bench()).menu["more"] == []
    panel = BenchPanel(Bench(), MORE)
    listed = panel.menu["more"]
    assert [one["act"] for one in listed] == list(MORE)
    for one in listed:
        given = {field["name"]: (field["choices"] or ["a tag"])[0] for field in one["fields"]}
        panel.receive({"act": one["act"], "with": given, "turn": 1})
        assert "needs:" not in panel.view["said"]
        assert "does not know" not in panel.view["said"]
        assert panel.view["said"]
    with pytest.raises(BenchError, match="none of the further acts"):
        BenchPanel(Bench(), ["fly"])
