"""Plain cells: one that is nothing but Python is compiled and run here, without IPython's way around it.

That way (text transformed twice, an event loop, a result nobody asks for) is most of what a short cell costs. Whatever
is not plain goes the whole way: magics, shell lines, ``await``, text that is no Python, and a notebook that hooks
itself into the shell.
"""

from __future__ import annotations

import ast
from contextlib import ExitStack
from types import CodeType

from IPython.core.interactiveshell import InteractiveShell

_HOOKS = ("pre_run_cell", "post_run_cell", "pre_execute", "post_execute")

_COMPILED: dict[tuple[str, int, int], list[CodeType] | None] = {}
"""Code by source, number of the cell, and what the cells before it wished of the compiler; a fork takes it along."""
_MOST_COMPILED = 2000


class PlainCells:
    """Runs cells in ``shell``; made when nothing has hooked itself into it yet."""

    def __init__(self, shell: InteractiveShell) -> None:
        self._shell = shell
        self._hooks = self._now()

    def _now(self) -> tuple[object, ...]:
        """Return what decides how a cell is run: hooks, transformers, and whether the shell is still itself."""
        shell = self._shell
        callbacks = shell.events.callbacks
        return (
            *(tuple(callbacks[name]) for name in _HOOKS),
            tuple(shell.ast_transformers),
            tuple(shell.input_transformers_post),
            tuple(shell.input_transformers_cleanup),
            shell.custom_exceptions,
            shell.ast_node_interactivity,
            vars(shell).get("run_cell"),
        )

    def traps(self) -> ExitStack:
        """Return what the shell keeps in place while cells run: its names among the builtins, its display hook."""
        stack = ExitStack()
        stack.enter_context(self._shell.builtin_trap)
        stack.enter_context(self._shell.display_trap)
        return stack

    def run(self, source: str) -> None:
        """Run one cell, and record what it shows; one without text has no number, as in IPython."""
        if not source.strip():
            return
        codes = self._compiled(source) if self._now() == self._hooks else None
        if codes is None:
            self._shell.run_cell(source, store_history=True)
            return
        shell = self._shell
        shell.history_manager.input_hist_parsed.append(source)  # what a notebook finds in ``In``
        shell.execution_count += 1  # before it runs, as ``Out`` is numbered
        shell.user_global_ns.pop("__warningregistry__", None)  # as the shell itself does before each cell
        try:
            for code in codes:
                exec(code, shell.user_global_ns, shell.user_ns)
        except BaseException:  # noqa: BLE001 - an exit is no end either; the shell records it
            shell.showtraceback()

    def _compiled(self, source: str) -> list[CodeType] | None:
        """Return the code of a cell and of its last expression, which is shown; None if it is not plain Python."""
        key = (source, self._shell.execution_count, self._shell.compile.flags)
        if key not in _COMPILED and len(_COMPILED) < _MOST_COMPILED:
            _COMPILED[key] = self._compile(source)
        return _COMPILED[key] if key in _COMPILED else self._compile(source)

    def _compile(self, source: str) -> list[CodeType] | None:
        shell = self._shell
        name = shell.compile.cache(source, shell.execution_count, source)
        try:
            body = ast.parse(source, name).body
            last = [body.pop()] if body and isinstance(body[-1], ast.Expr) else []
            codes = [shell.compile(ast.Module(body, []), name, "exec")] if body else []
            return codes + [shell.compile(ast.Interactive([one]), name, "single") for one in last]
        except (SyntaxError, ValueError, OverflowError, MemoryError, RecursionError, TypeError):
            return None
