"""Would the tests notice? Changes one thing of a room at a time, runs its fast tests, counts what was killed.

    python tests/mutation.py ROOM [--run N] [--seed S] [--minutes M]

ROOM is one of those in ``ROOMS``. Of all changes that can be made, ``N`` are drawn by the seed and run (0: all); after
``M`` minutes no other is begun. They run in the order drawn, so that those that were run are a fair sample.
Printed are the survivors, one a line, and at the end how many were run, killed and left, and the share killed.

To be cheap, every test is run once without any change and its time taken. With a change the tests of the changed module
come first, then the others, quickest first, up to the first that fails. Left out, and named at the start, are tests of
over ``LONG`` seconds. Lists of apprentices (``IDS``) are cut to the first ``PEOPLE``: what a few kill, all kill; a
survivor may still be killed by a walk that was left out, or by another apprentice. A change that runs for over twenty
seconds and ten times as long as its tests run without it counts as killed.

A change is one of: a comparison, ``and``/``or``, ``not``, plus and minus, times and divided by, ``min``/``max``,
``any``/``all``, a number, True and False, the condition of an ``if`` turned round, a value returned as None.
Sentences and annotations are left as they are.

Own code, for two reasons found by trying. mutmut 3 names what it changes by path (``grader.legtoleg...``), where these
two source roots are imported as ``legtoleg`` and ``dryerbench``: no test is found to cover anything. And it changes
functions alone, never a module's constants, decorated functions or properties: what counts as live, the breaker's trip
factor and ``safe_to_power`` are just those.

Nothing is written into the checkout: each change is made in the memory of a forked child (so this runs where fork is).
"""

from __future__ import annotations

import argparse
import ast
import copy
import gc
import importlib
import importlib.abc
import importlib.util
import json
import math
import os
import random
import signal
import sys
import tempfile
import time
from collections.abc import Generator, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parent.parent
SOURCES = (ROOT / "lessons", ROOT / "grader")


@dataclass(frozen=True)
class Room:
    """Where its code is and where its tests are, as patterns from the top; whether its modules stand alone."""

    code: tuple[str, ...]
    tests: tuple[str, ...]
    alone: bool = False
    """Its modules stand alone but for what they import: a change needs no test that names a module it is not in."""
    below: tuple[str, ...] = ()
    """What the room builds on and what cannot import it: imported once, for all children."""


ROOMS = {
    "marking": Room(
        ("grader/legtoleg/marking/[a-z]*.py",),
        ("tests/legtoleg/marking/test_*.py",),
        below=("dryerbench.registry", "dryerbench.notebook.forms", "legtoleg.core", "legtoleg.keys.answer_key"),
    ),
    "keys": Room(
        ("grader/legtoleg/keys/[a-z]*.py",),
        ("tests/legtoleg/keys/test_*.py",),
        alone=True,
        below=("dryerbench.registry", "dryerbench.notebook.forms", "legtoleg.core"),
    ),
    "safety": Room(
        tuple(f"lessons/dryerbench/bench/{name}.py" for name in ("trail", "situation", "worksite")),
        ("tests/dryerbench/bench/test_*.py",),
    ),
    "standings": Room(
        tuple(f"grader/legtoleg/refresher/record/{name}.py" for name in ("standing", "due_list")),
        ("tests/legtoleg/refresher/record/test_*.py",),
    ),
}
HEAVY = (
    *("numpy", "scipy.optimize", "pandas", "pint", "matplotlib.pyplot", "hypothesis", "sqlalchemy", "nbformat"),
    *("nbgrader.api", "nbgrader.preprocessors", "nbgrader.apps", "jupytext", "IPython", "dateutil", "pytest"),
)
"""What the children of every room share, imported once; nothing of the course's own is among it."""
LONG = 0.5
"""Seconds of processor time; a test that takes longer is left out."""
PEOPLE = 12
"""To how many apprentices a list of many is cut."""

_COMPARE: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
_SUMS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult, ast.Pow: ast.Mult,
}  # fmt: skip
_CALLS = {"min": "max", "max": "min", "any": "all", "all": "any"}


@dataclass(frozen=True)
class Change:
    """One change: the file, the line, before and after in words, and the whole changed module."""

    path: Path
    line: int
    words: str
    tree: ast.Module


def _text(node: ast.AST) -> bool:
    return isinstance(node, ast.JoinedStr | ast.List | ast.Tuple) or (
        isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


def others(node: ast.AST) -> Iterator[ast.AST]:
    """Yield what could stand in the place of ``node``."""
    yield from _operators(copy.deepcopy(node))
    yield from _values(copy.deepcopy(node))


def _operators(new: ast.AST) -> Iterator[ast.AST]:
    match new:
        case ast.Compare(ops=[op, *_]) if type(op) in _COMPARE:
            new.ops[0] = _COMPARE[type(op)]()
            yield new
        case ast.BoolOp():
            new.op = ast.Or() if isinstance(new.op, ast.And) else ast.And()
            yield new
        case ast.UnaryOp(op=ast.Not()):
            yield new.operand
        case ast.BinOp(left=left, right=right) if type(new.op) in _SUMS and not (_text(left) or _text(right)):
            new.op = _SUMS[type(new.op)]()
            yield new
        case ast.AugAssign(value=value) if type(new.op) in _SUMS and not _text(value):
            new.op = _SUMS[type(new.op)]()
            yield new
        case ast.Call(func=ast.Name(id=name)) if name in _CALLS:
            new.func = ast.Name(_CALLS[name], ast.Load())
            yield new


def _values(new: ast.AST) -> Iterator[ast.AST]:
    match new:
        case ast.Constant(value=bool()):
            new.value = not new.value
            yield new
        case ast.Constant(value=int()):
            new.value += 1
            yield new
        case ast.Constant(value=float()):
            new.value = new.value * 1.5 or 1.0
            yield new
        case ast.If() | ast.IfExp():
            new.test = ast.UnaryOp(ast.Not(), new.test)
            yield new
        case ast.Return(value=ast.expr() as value) if not (isinstance(value, ast.Constant) and value.value is None):
            new.value = ast.Constant(None)
            yield new


def _children(node: ast.AST) -> Iterator[tuple[ast.AST, str, int | None, ast.AST]]:
    """Yield where each node hangs below ``node``, outermost first; annotations and decorators are passed over."""
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list"):
            continue
        for place, child in enumerate(value if isinstance(value, list) else [value]):
            if isinstance(child, ast.AST):
                yield node, name, place if isinstance(value, list) else None, child
                yield from _children(child)


def changes(path: Path) -> Iterator[Change]:
    """Yield every change that can be made to the module at ``path``."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for parent, name, place, child in list(_children(tree)):
        for other in others(child):
            ast.copy_location(other, child)
            before = getattr(parent, name)
            setattr(parent, name, other if place is None else [*before[:place], other, *before[place + 1 :]])
            changed = ast.fix_missing_locations(copy.deepcopy(tree))
            setattr(parent, name, before)
            said = [" ".join(ast.unparse(one).split())[:70] for one in (child, other)]
            yield Change(path, getattr(child, "lineno", 0), f"{said[0]}  →  {said[1]}", changed)


class _Changed(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Gives the changed module to whoever imports it."""

    def __init__(self, change: Change) -> None:
        home = next(source for source in SOURCES if change.path.is_relative_to(source))
        self.change, self.name = change, ".".join(change.path.relative_to(home).with_suffix("").parts)

    def find_spec(self, name: str, *_: object) -> ModuleSpec | None:
        """Return this module's own spec, and nobody else's."""
        return (
            importlib.util.spec_from_file_location(name, self.change.path, loader=self) if name == self.name else None
        )

    def exec_module(self, module: ModuleType) -> None:
        """Run the changed code."""
        exec(compile(self.change.tree, self.change.path, "exec"), module.__dict__)


@dataclass
class Order:
    """A plugin of pytest's: puts the tests in order, leaves the long ones out, and notes what each takes."""

    module: Path | None = None
    near: frozenset[str] = frozenset()
    """Names of the changed module and of those that import it."""
    others: frozenset[str] = frozenset()
    """Names of modules whose tests do not concern the changed one."""
    measured: dict[str, float] = field(default_factory=dict)
    """By test, its seconds; empty while they are measured."""
    taken: dict[str, float] = field(default_factory=dict)

    def concerns(self, test: str) -> bool:
        """Tell whether ``test``, by its address, says something about the changed module and is quick."""
        own = any(name in test for name in self.near)
        return test in self.measured and (own or not any(name in test for name in self.others))

    def of_interest(self, path: Path) -> bool:
        """Tell whether any test of the file at ``path`` is run; one that cannot be read without a change has none."""
        start = f"{path.relative_to(ROOT)}::"
        return any(test.startswith(start) and self.concerns(test) for test in self.measured)

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Choose and sort; cut the lists of apprentices."""
        for module in {item.getparent(pytest.Module) for item in items} - {None}:
            people = getattr(module.obj, "IDS", None) if module else None
            if isinstance(people, list):
                del people[PEOPLE:]
        if self.module:
            mirror = f"/test_{self.module.stem}.py::"
            items[:] = sorted(
                (item for item in items if self.concerns(item.nodeid)),
                key=lambda item: (mirror not in item.nodeid, self.measured[item.nodeid]),
            )

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        """Take the processor's time for ``item``."""
        begun = time.process_time()
        ran = yield
        self.taken[item.nodeid] = time.process_time() - begun
        return ran

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note a test that fails, as one that takes for ever."""
        if report.failed:
            self.measured[report.nodeid] = math.inf


def pytest_run(room: Room, order: Order, change: Change | None, seconds: int, kept: Path | None = None) -> bool:
    """Run the room's tests in a child that is ended after ``seconds``; write what each took to ``kept``, if there."""
    found = sorted(path for pattern in room.tests for path in ROOT.glob(pattern))
    child = os.fork()
    if child == 0:
        signal.alarm(seconds)
        quiet = os.open(os.devnull, os.O_RDWR)
        for handle in (0, 1, 2):
            os.dup2(quiet, handle)
        code = 1
        with suppress(BaseException):
            if change:
                sys.meta_path.insert(0, _Changed(change))
            words = ["-q", "-p", "no:randomly", "-p", "no:cacheprovider", "-p", "no:nbval", "-p", "no:xdist"]
            words += ["-W", "ignore::pytest.PytestAssertRewriteWarning"]  # what is shared was imported before
            words += ["-m", "not slow and not browser and not server", f"--rootdir={ROOT}", f"-c={ROOT}/pyproject.toml"]
            words += ["-x"] if order.module else ["--continue-on-collection-errors"]
            tests = [path for path in found if not order.module or order.of_interest(path)]
            code = int(pytest.main([*words, *map(str, tests)], plugins=[order]))
            if kept:
                kept.write_text(json.dumps(order.taken | order.measured), encoding="utf-8")
        os._exit(code)
    return os.waitpid(child, 0)[1] == 0


def measure(room: Room, kept: Path) -> dict[str, float]:
    """Return the seconds of each test that is quick and passes without any change; print which are left out."""
    kept.unlink(missing_ok=True)
    pytest_run(room, Order(), None, 1200, kept)
    taken = json.loads(kept.read_text(encoding="utf-8")) if kept.exists() else {}
    for test, seconds in taken.items():
        if seconds > LONG:
            why = f"takes {seconds:.1f} s" if seconds < math.inf else "fails without any change"
            print(f"left out, {why}: {test}", flush=True)
    return {test: seconds for test, seconds in taken.items() if seconds <= LONG}


def main() -> int:
    """Run what is asked for on the command line; return 1 if the tests fail without any change."""
    asked = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    asked.add_argument("room", choices=ROOMS)
    asked.add_argument("--run", type=int, default=100, help="how many changes to run (0: all)")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--minutes", type=float, default=600.0)
    wishes = asked.parse_args()
    room = ROOMS[wishes.room]
    sys.dont_write_bytecode = True
    sys.path[:0] = map(str, SOURCES)
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    with tempfile.TemporaryDirectory(prefix="mutation-") as folder:
        os.environ["HYPOTHESIS_STORAGE_DIRECTORY"] = folder
        os.chdir(folder)
        for name in HEAVY + room.below:
            importlib.import_module(name)
        # What pytest has rewritten of the tests is kept for the next child; the checkout stays as it is.
        sys.pycache_prefix, sys.dont_write_bytecode = folder, False
        gc.freeze()  # pytest collects garbage at its end: not what all children share
        modules = sorted(path for pattern in room.code for path in ROOT.glob(pattern))
        texts = {path.stem: path.read_text(encoding="utf-8") for path in modules}
        every = [change for path in modules for change in changes(path)]
        drawn = random.Random(wishes.seed).sample(every, min(wishes.run or len(every), len(every)))
        measured = measure(room, Path(folder) / "measured.json")
        if not measured:
            print("No test passes without any change.")
            return 1
        left = run = 0
        sound: set[Path] = set()
        """Modules whose tests were seen to pass in their order; where no module stands alone, one speaks for all."""
        ends = time.monotonic() + 60 * wishes.minutes
        for change in drawn:
            if time.monotonic() > ends:
                break
            stem = change.path.stem
            near = {stem} | {other for other, text in texts.items() if f".{stem} import" in text}
            order = Order(
                change.path, frozenset(near), frozenset(texts) - near if room.alone else frozenset(), measured
            )
            seconds = int(20 + 10 * sum(took for test, took in measured.items() if order.concerns(test)))
            if change.path not in sound and not pytest_run(room, order, None, 1200):
                print(f"The tests of {change.path.stem} fail in their order without any change.")
                return 1
            sound |= {change.path} if room.alone else set(modules)
            run += 1
            if pytest_run(room, order, change, seconds):
                left += 1
                print(f"{change.path.relative_to(ROOT)}:{change.line}: {change.words}", flush=True)
            print(f"{run} run, {left} left", file=sys.stderr, flush=True)
        share = (run - left) / max(run, 1)
        print(f"{wishes.room}: {run} of {len(every)} run, {run - left} killed, {left} left: {share:.0%} killed")
    return 0


if __name__ == "__main__":
    sys.exit(main())
