"""Plain cells: what they show is what IPython's own way shows; and what is not plain goes that way."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from typing import Any

import pytest
from IPython.core.interactiveshell import InteractiveShell

from legtoleg.sandbox.worker import plain_cells
from legtoleg.sandbox.worker.plain_cells import PlainCells
from legtoleg.sandbox.worker.shell import RecordingShell, make_shell, run_cells

CELLS = {
    "an expression last": "x = 1\nx + 1",
    "an expression that is not last": "1 + 1\ny = 2",
    "nothing": "",
    "a comment": "# only a word",
    "None": "None",
    "a statement": "for n in range(3): n",
    "prints": "import sys\nprint('a'); print('b', file=sys.stderr); 3",
    "a semicolon": "7;",
    "a display": "from IPython.display import display, HTML\ndisplay(HTML('<b>x</b>'))\n_",
    "an error": "def f():\n    return 1 / 0\nf()",
    "an error in the middle": "z = 1\nundefined\nz = 2",
    "what was set before it": "z",
    "no Python": "x =",
    "no number": "8.9 A",
    "a return outside": "print('before')\nreturn 3",
    "awaited": "import asyncio\nawait asyncio.sleep(0, 'awaited')",
    "a magic": "%precision 3",
    "a cell magic": "%%capture\nprint('hidden')",
    "a question": "?len",
    "indented": "  q = 1\n  q",
    "a prompt": ">>> 5 + 5",
    "an exit": "import sys; sys.exit(3)",
    "an error of one's own": "class E(Exception): pass\nraise E('own')",
    "the last results": "_, Out[1], len(In)",
    "a future": "from __future__ import annotations\ndef g(a: nothing): pass\ng.__annotations__",
    "after a future": "def h(a: nothing): pass\nh.__annotations__",
    "Windows' lines": "a = 1\r\na",
    "a tab": "if True:\n\tb = 4\nb",
    "a zero byte": "a = '\0'",
    "deep": "(" * 300 + ")" * 300,
}


@pytest.fixture
def shell() -> Iterator[RecordingShell]:
    before = sys.stdout, sys.stderr
    InteractiveShell.clear_instance()
    RecordingShell.clear_instance()
    yield make_shell(50_000)
    RecordingShell.clear_instance()
    sys.stdout, sys.stderr = before


def shown(shell: RecordingShell) -> list[list[dict[str, Any]]]:
    shell.reset(new_session=True)
    told: list[list[dict[str, Any]]] = []
    run_cells(shell, list(CELLS.values()), 20, lambda _, outputs: told.append(outputs))
    return told


def without_numbers(outputs: list[dict[str, Any]]) -> Any:
    """Return outputs with the errors' last lines only: the frames above hold the numbers of files."""
    return [
        {**one, "traceback": one["traceback"][-1:]} if one["output_type"] == "error" else one
        for one in outputs
        if "To exit: use" not in str(one.get("text", ""))  # IPython's advice to whoever types
    ]


@pytest.mark.filterwarnings("ignore")
def test_it_shows_what_ipython_shows(shell: RecordingShell, monkeypatch: pytest.MonkeyPatch) -> None:
    plain = shown(shell)
    again = shown(shell)  # from code that was compiled before
    monkeypatch.setattr(PlainCells, "_compiled", lambda *_: None)
    slow = shown(shell)
    for name, one, two, three in zip(CELLS, plain, again, slow, strict=True):
        assert without_numbers(one) == without_numbers(three), name
        assert without_numbers(two) == without_numbers(three), name


def test_most_cells_do_not_need_the_shell(shell: RecordingShell, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    monkeypatch.setattr(RecordingShell, "run_cell", lambda _, source, **__: asked.append(source))
    run_cells(shell, ["1 + 1", "%precision 3", "x = 1", "!ls"], 20, lambda *_: None)
    assert asked == ["%precision 3", "!ls"]


@pytest.mark.parametrize(
    "hook",
    [
        "get_ipython().events.register('post_run_cell', lambda *_: None)",
        "import ast\nget_ipython().ast_transformers.append(ast.NodeTransformer())",
        "get_ipython().set_custom_exc((ValueError,), lambda *_: None)",
        "get_ipython().ast_node_interactivity = 'all'",
        "get_ipython().run_cell = lambda *_, **__: None",
    ],
)
def test_a_notebook_that_hooks_itself_in_goes_the_whole_way(shell: RecordingShell, hook: str) -> None:
    asked: list[str] = []
    plain = PlainCells(shell)
    compiled = plain._compiled
    plain._compiled = lambda source: asked.append(source) or compiled(source)
    with plain.traps():
        plain.run(hook)
        plain.run("1 + 1")
    assert asked == [hook]


def test_code_that_was_compiled_is_kept_and_bounded(shell: RecordingShell, monkeypatch: pytest.MonkeyPatch) -> None:
    kept: dict[Any, Any] = {}
    monkeypatch.setattr(plain_cells, "_COMPILED", kept)
    monkeypatch.setattr(plain_cells, "_MOST_COMPILED", 3)
    run_cells(shell, [f"{n} + 1" for n in range(9)], 20, lambda *_: None)
    assert len(kept) == 3
