"""Plain errors: what a mechanic reads when Python stumbles, in a real shell."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output

from dryerbench.bench.bench import Bench
from dryerbench.drawing import interactive_figure
from dryerbench.notebook import plain_errors
from dryerbench.notebook.plain_errors import in_words


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        ("element_current = 8.9 A", 'element_current = "8.9 A"'),
        ("drift = 12.5 percent # so much", 'drift = "12.5 percent"'),
        ("volts = 120V", 'volts = "120 V"'),
        ('element_current = "8.9 A', "a quote at its end"),
        ("element_current = ", "after the = sign"),
        ("element_current = “8.9 A”", "curly quotes"),
    ],
)
def test_a_slip_of_the_keyboard_is_said_plainly(cell: str, said: str) -> None:
    with pytest.raises(SyntaxError) as caught:
        compile(cell, "cell", "exec")
    words = in_words("SyntaxError", str(caught.value), cell)
    assert words is not None
    assert said in words
    assert "\n" not in words


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        ('hand_in("element_current", element_current)', "answer cell right above"),
        ("element_current = OL", 'between quotes: "OL"'),
        ('x = job_card("a")', "first gray cell"),
    ],
)
def test_an_unknown_word_is_said_plainly(cell: str, said: str) -> None:
    with pytest.raises(NameError) as caught:
        exec(compile(cell, "cell", "exec"), {"hand_in": print} if "hand_in" in cell else {})
    words = in_words("NameError", str(caught.value), cell)
    assert words is not None
    assert said in words


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        ('bench.ohm("T1", "T0")', "Readings are bench.ohms"),
        ("bench.unplug()", 'bench.do("unplug")'),
        ('bench.ohms("T1")', "needs two points"),
    ],
)
def test_a_slip_at_the_bench_is_said_plainly(cell: str, said: str) -> None:
    with pytest.raises((AttributeError, TypeError)) as caught:
        exec(compile(cell, "cell", "exec"), {"bench": Bench()})
    words = in_words(type(caught.value).__name__, str(caught.value), cell)
    assert words is not None
    assert said in words
    assert "\n" not in words


def test_what_is_not_ours_is_left_to_python() -> None:
    assert in_words("ValueError", "x", "y = 1") is None
    assert in_words("SyntaxError", "invalid syntax", "for for for") is None
    assert in_words("NameError", "name 'x' is not defined", "print(x)") is None
    assert in_words("AttributeError", "'str' object has no attribute 'ohms'", "'x'.ohms") is None
    assert in_words("TypeError", "unsupported operand", "1 + 'x'") is None


@pytest.fixture
def shell(monkeypatch: pytest.MonkeyPatch) -> Iterator[InteractiveShell]:
    monkeypatch.setenv(interactive_figure.MODE, "still")
    made = InteractiveShell.instance()
    made.history_manager.enabled = False
    made.history_manager.end_session()
    yield made
    made.set_custom_exc((), None)
    InteractiveShell.clear_instance()


def test_in_a_shell(shell: InteractiveShell) -> None:
    plain_errors.switch_on()
    plain_errors.switch_on()
    with capture_output() as seen:
        result = shell.run_cell("element_current = 8.9 A")
    assert not result.success
    assert any('element_current = "8.9 A"' in output.data["text/plain"] for output in seen.outputs)
    assert "SyntaxError" in seen.stdout
    with capture_output() as seen:
        shell.run_cell("print(nothing_here)")
    assert "NameError" in seen.stdout + seen.stderr
    assert seen.outputs == []


def test_what_the_bench_refuses_is_one_line(shell: InteractiveShell) -> None:
    plain_errors.switch_on()
    with capture_output() as seen:
        result = shell.run_cell('from dryerbench.bench.bench import Bench\nBench().ohms("T9", "T0")')
    assert not result.success
    said = [output.data["text/plain"] for output in seen.outputs]
    assert said == ["! This dryer has no test point 'T9'."]
    assert "Traceback" not in seen.stdout + seen.stderr
    assert "bench.py" not in seen.stdout + seen.stderr


def test_never_where_it_is_marked(shell: InteractiveShell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "words")
    plain_errors.switch_on()
    assert not hasattr(shell, "_dryerbench_cell")
