"""What cells showed: good outputs pass, everything else is cut to what a notebook may hold."""

from __future__ import annotations

import json
from typing import Any

import nbformat
from hypothesis import given, settings
from hypothesis import strategies as st
from nbformat.v4 import new_code_cell, new_notebook

from legtoleg.sandbox.output_sanitizer import MOST_CHARACTERS, MOST_OUTPUTS, as_nodes, checked_outputs, plain_data

GOOD = [
    {"output_type": "stream", "name": "stdout", "text": "hi"},
    {
        "output_type": "display_data",
        "data": {"text/plain": "x", "application/b+json": {"n": [1, 2.5, None]}},
        "metadata": {},
    },
    {"output_type": "execute_result", "data": {"text/plain": "x"}, "metadata": {}},
    {"output_type": "error", "ename": "E", "evalue": "v", "traceback": ["a"]},
]


def valid(outputs: Any) -> bool:
    cell = new_code_cell("", outputs=as_nodes(checked_outputs(outputs)))
    nbformat.validate(new_notebook(cells=[cell]))
    json.dumps(cell, allow_nan=False)
    return True


def test_good_outputs_pass_unchanged() -> None:
    assert checked_outputs(GOOD) == GOOD
    assert valid(GOOD)


def test_bad_ones_go() -> None:
    bad = [
        3,
        {},
        {"output_type": "stream", "name": "stdin", "text": "x"},
        {"output_type": "stream", "name": "stdout", "text": ["x"]},
        {"output_type": "display_data", "data": []},
        {"output_type": "display_data", "data": {"text/plain": 3}},
        {"output_type": ["stream"]},
    ]
    assert [output for output in checked_outputs(bad) if output] == []
    assert checked_outputs("no list") == []


def test_size_depth_and_numbers() -> None:
    assert len(checked_outputs(GOOD * 1000)) == MOST_OUTPUTS
    long = checked_outputs([{"output_type": "stream", "name": "stdout", "text": "x" * 10**6}])
    assert len(long[0]["text"]) == MOST_CHARACTERS
    deep: Any = []
    for _ in range(500):
        deep = [deep]
    assert "[[[[[[[[None]]]]]]]]" in str(plain_data(deep))
    assert plain_data([float("nan"), float("inf"), 1e300, True, "a\ud800"]) == [None, None, 1e300, True, "a?"]


values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inside: st.lists(inside, max_size=3) | st.dictionaries(st.text(max_size=5), inside, max_size=3),
    max_leaves=12,
)
kinds = st.sampled_from(["stream", "display_data", "execute_result", "error"])
fields = {"name": values | st.just("stdout"), "text": values, "data": values, "traceback": values, "ename": values}


@settings(max_examples=300, deadline=None)
@given(st.lists(st.fixed_dictionaries({"output_type": kinds | values}, optional=fields), max_size=4))
def test_whatever_comes_is_a_valid_cell(outputs: Any) -> None:
    assert valid(outputs)
