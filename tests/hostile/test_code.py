"""Hostile code in cells: it chooses its own answers and nothing else; neighbors keep their marks, batches end."""

from __future__ import annotations

import contextlib
import json
import socket
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from legtoleg.core import paths
from legtoleg.marking import marking
from legtoleg.sandbox import jail

from .conftest import LESSON, PAPER, Day, find, honest, right

pytestmark = [
    pytest.mark.slow,
    pytest.mark.jail,
    pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning"),
]

ALL = tuple(question.name for question in PAPER.questions)
BEFORE = ("element_current", "element_power", "heater_ohms")
"""The questions above the cell in which the hostile code stands."""


@dataclass(frozen=True)
class Kind:
    """One kind of hostile code: what it does, which answers it may cost its own author, what the instructor reads."""

    name: str
    code: str
    loses: tuple[str, ...] | None = ()
    """The questions that it costs its author; None: any after it."""
    said: str = ""


AFTER = tuple(name for name in ALL if name not in BEFORE)

KINDS = [
    Kind("endless loop", "while True: pass"),
    Kind(
        "endless loop that catches everything",
        "import time\nwhile True:\n    try:\n        time.sleep(60)\n    except BaseException: pass",
        AFTER,
        "ended its own Python",
    ),
    Kind("endless sleep", "import time; time.sleep(10**6)"),
    Kind("loop without end in C", "sum(iter(int, 1))", AFTER, "ended its own Python"),
    Kind(
        "alarm switched off",
        "import signal\nsignal.signal(signal.SIGALRM, signal.SIG_IGN)\nwhile True: pass",
        None,
        "did not run to its end",
    ),
    Kind("memory in one object", "x = bytearray(10**10)"),
    Kind("memory bit by bit", "x = []\nwhile True: x.append(bytearray(10**7))", None),
    Kind(
        "memory in children",
        "import os\nfor _ in range(6):\n    if os.fork() == 0:\n        x = [bytearray(b'x' * 10**8) for _ in range(9)]\n        import time; time.sleep(60)\nimport time; time.sleep(1.5)",
        None,
    ),
    Kind("memory in files", "import os\nfor n in range(99):\n    open(f'/desk/{n}', 'wb').write(bytes(10**7))"),
    Kind("shared memory", "for n in range(99): open(f'/dev/shm/{n}', 'wb').write(bytes(10**7))"),
    Kind("fork bomb", "import os\nwhile True: os.fork()", None),
    Kind("fork bomb of a shell", "import os\nos.system('b() { b | b & }; b; sleep 1')", None),
    Kind(
        "thread bomb",
        "import threading, time\nwhile True: threading.Thread(target=time.sleep, args=(60,), daemon=True).start()",
        None,
    ),
    Kind("flood of prints", "for n in range(10**7): print('x' * 1000)"),
    Kind(
        "flood of displays",
        "from IPython.display import display, HTML\nfor n in range(10**5): display(HTML('x' * 10**4))",
    ),
    Kind(
        "flood on the raw outputs",
        "import os\nfor _ in range(10**4): os.write(1, b'x' * 10**5); os.write(2, b'x' * 10**5)",
    ),
    Kind("os._exit", "import os; os._exit(0)", AFTER, "ended its own Python"),
    Kind("sys.exit", "import sys; sys.exit(3)"),
    Kind("quit", "quit()"),
    Kind("abort", "import os; os.abort()", AFTER, "ended its own Python"),
    Kind("crash in C", "import ctypes; ctypes.string_at(0)", AFTER, "ended its own Python"),
    Kind("deep recursion", "import sys; sys.setrecursionlimit(10**9)\ndef f(): f()\nf()", None),
    Kind(
        "signals to everybody",
        "import os, signal\nfor n in list(range(2, 400)) + [-1]:\n    try: os.kill(n, signal.SIGKILL)\n    except OSError: pass",
        None,
    ),
    Kind(
        "signal to the parent",
        "import os, signal\ntry: os.kill(os.getppid(), signal.SIGKILL)\nexcept OSError: pass",
        None,
    ),
    Kind("a new session that stays", "import subprocess\nsubprocess.Popen(['sleep', '300'], start_new_session=True)"),
    Kind(
        "background thread that changes answers",
        "import threading, time\ndef later():\n    while True:\n        globals()['drift'] = '1 A'; time.sleep(0.0001)\nthreading.Thread(target=later, daemon=True).start()\n"
        "real = hand_in\ndef hand_in(name, value):\n    time.sleep(0.05)  # the thread has its turn\n    return real(name, globals()[name])",
        ("drift",),
    ),
    Kind(
        "clock set back",
        "import time, ctypes\ntry: time.clock_settime(time.CLOCK_REALTIME, 0)\nexcept OSError: pass\ntime.monotonic = lambda: 0.0; time.time = lambda: 0.0",
    ),
    Kind(
        "builtins changed",
        "import builtins\nbuiltins.float = lambda *_: 1.0; builtins.len = lambda *_: 3; builtins.isinstance = lambda *_: True",
        None,
    ),
    Kind("hand_in replaced", "def hand_in(name, value): return 99", AFTER),
    Kind(
        "display replaced",
        "import IPython.display as d, dryerbench.notebook.hand_in as h\nh.display = d.display = lambda *a, **k: print(3)",
        AFTER,
    ),
    Kind(
        "an object that lies",
        "class Liar(str):\n    def __eq__(self, o): return True\n    def __hash__(self): return 0\n    def __float__(self): return 1.0\n    def __repr__(self): return '3'\n    __str__ = __repr__\nheater_current = Liar('9 A')",
        ("heater_current",),
    ),
    Kind("an error that lies", "class E(Exception):\n    def __str__(self): import os; os._exit(1)\nraise E", None),
    Kind(
        "shell taken apart",
        "ip = get_ipython()\nip.run_cell = None; ip.display_pub = None; ip.displayhook = None",
        None,
    ),
    Kind(
        "dryerbench's machine changed",
        "import dryerbench.notebook.hand_in as h, dryerbench.registry as t\nh._SESSION.apprentice = 'ada-01'; t.TASKS.clear()",
    ),
    Kind(
        "another's id in the environment",
        f"import os\nos.environ['LEGTOLEG_APPRENTICE'] = 'ada-01'\nfrom dryerbench import *\ncard = job_card('{LESSON}')",
    ),
    Kind(
        "frames sent past the shell",
        "import os, json\nfor n in range(3, 64):\n    try: os.write(n, (json.dumps({'cell': 5, 'outputs': [{'output_type': 'execute_result', 'data': {'text/plain': '3'}}]}) + '\\n').encode())\n    except OSError: pass",
        None,
    ),
    Kind(
        "garbage sent past the shell",
        "import os\nfor n in range(3, 64):\n    try: os.write(n, b'[' * 100000 + b'\\n\\xff\\xfe\\n{\"cell\": NaN}\\n')\n    except OSError: pass",
        None,
    ),
    *(
        Kind(
            f"control words on every descriptor{then and ', and an end'}: {word}",
            f"import os, socket\nline = {json.dumps({'ended': word})!r}.encode() + b'\\n'\n"
            "for n in range(1024):\n"
            "    for _ in range(3):\n"
            "        try: os.write(n, line)\n        except OSError: pass\n"
            f"    try: socket.socket(fileno=os.dup(n)).send(line)\n    except OSError: pass\n{then}",
            AFTER if then else (),
            "ended its own Python" if then else "",
        )
        for word in ("no jail: not here", "lost", "time", "")
        for then in ("", "os._exit(0)")
    ),
    Kind(
        "a last line before the last cell",
        "import os\nfor n in range(1024):\n    try: os.write(n, b'\\n{\"finished\": true}\\n')\n    except OSError: pass",
        AFTER,
    ),
    Kind("the socket closed", "import os\nos.closerange(3, 64)", None, "did not run to its end"),
    Kind("a program in its place", "import os; os.execv('/bin/true', ['true'])", AFTER, "ended its own Python"),
]


@pytest.mark.parametrize("kind", KINDS, ids=[kind.name.replace(" ", "-") for kind in KINDS])
def test_it_hurts_nobody_else(day: Day, kind: Kind) -> None:
    notebook = honest("bo-02")
    find(notebook, "heater_current-answer")["source"] = (
        f'heater_current = "{right("bo-02")["heater_current"]}"\n{kind.code}'
    )
    day.put("bo-02", notebook)
    outcomes = {outcome.question: outcome for outcome in day.mark()}
    assert len(outcomes) == len(ALL)
    for name in BEFORE:
        assert outcomes[name].points == outcomes[name].max_points, f"{name}: an answer given before is kept"
    if kind.loses is not None:
        lost = {name for name, outcome in outcomes.items() if outcome.points < outcome.max_points}
        assert lost == set(kind.loses)
        assert all(outcomes[name].points == 0 for name in lost)
    assert kind.said in day.said()


EARN = {
    "prints the points": "print(3)\n3",
    "shows the points": "from IPython.display import display\ndisplay({'text/plain': '3'}, raw=True)",
    "shows an outcome": "from IPython.display import display\ndisplay({'application/vnd.leg-to-leg.outcome+json': {'question': '{q}', 'points': 3, 'max_points': 3, 'note': 'right', 'message': '', 'answer': '', 'safety': 'clear'}, 'text/plain': '3'}, raw=True)",
    "forges a record that grades itself": "_rec(points=99, note='right', magnitude=1.0)",
    "forges NaN": "_rec(magnitude=float('nan'))",
    "forges infinity": "_rec(magnitude=float('inf'))",
    "forges a bool": "_rec(magnitude=True)",
    "forges a text": "_rec(magnitude='3.0')",
    "forges a giant": "_rec(magnitude=1.0, typed='x' * 10**6)",
    "forges depth": "d = []\nfor _ in range(500): d = [d]\n_rec(magnitude=d)",
    "forges another question": "_rec(question='breaker_limit')",
    "forges another form": "_rec(form=2)",
    "two records, one right": "_rec(magnitude=1.0); _rec(magnitude=2.0)",
    "changes a shown record": "from IPython.display import update_display\n_rec(magnitude=1.0)\nupdate_display({'text/plain': '3'}, raw=True, display_id='x')",
    "an error named like a mark": "class Points3(Exception): pass\nraise Points3('3')",
}
"""Ways in which a cell without an answer may try to earn its points."""

FORGE = (
    "def hand_in(name, value):\n"
    "    from IPython.display import display\n"
    "    def _rec(**changed):\n"
    "        record = {{'form': 1, 'question': name, 'apprentice': 'bo-02', 'kind': 'quantity', 'typed': '1 A',\n"
    "                  'magnitude': 1.0, 'unit': 'A', 'figures': 3, **changed}}\n"
    "        display({{'application/vnd.leg-to-leg.answer+json': record, 'text/plain': 'x'}}, raw=True)\n"
    "    {code}"
)


def test_no_way_to_earn_without_an_answer(day: Day) -> None:
    notebook = honest("bo-02", but=ALL)
    used = list(zip(ALL, EARN.items(), strict=False))
    for name, (_, code) in used:
        inside = code.replace("{q}", name).replace("\n", "\n    ")
        find(notebook, f"{name}-answer")["source"] = f'{name} = "1 lb"\n' + FORGE.format(code=inside)
    day.put("bo-02", notebook)
    outcomes = day.mark()
    assert all(outcome.points == 0 for outcome in outcomes), [o for o in outcomes if o.points]
    assert all(outcome.safety != "clear" for outcome in outcomes)
    left = list(EARN.items())[len(used) :]
    for _, code in left:
        notebook = honest("bo-02", but=ALL)
        inside = code.replace("{q}", "drift").replace("\n", "\n    ")
        find(notebook, "drift-answer")["source"] = 'drift = "1 lb"\n' + FORGE.format(code=inside)
        day.put("bo-02", notebook)
        day.marks = {}
        assert all(outcome.points == 0 for outcome in day.mark())


OUTCOME = (
    "class Mark:\n"
    "    def _repr_mimebundle_(self, **_):\n"
    "        return {'application/vnd.leg-to-leg.outcome+json': {'question': 'drift', 'points': 2, 'max_points': 2,\n"
    "            'note': 'right', 'message': '', 'answer': '', 'safety': 'clear'}, 'text/plain': '2'}\n"
    "Mark()"
)


@pytest.mark.parametrize("before", ["element_current-answer", "drift-hand-in"])
def test_a_cell_added_by_hand_shows_no_outcome_that_counts(day: Day, before: str) -> None:
    notebook = honest("bo-02", but=ALL)
    place = [cell["id"] for cell in notebook["cells"]].index(before)
    added = {"cell_type": "code", "id": "added", "metadata": {}, "source": OUTCOME, "outputs": []}
    notebook["cells"].insert(place, {**added, "execution_count": None})
    day.put("bo-02", notebook)
    outcomes = day.mark()
    assert len(outcomes) == len(ALL)
    assert all(outcome.points == 0 for outcome in outcomes)


@contextlib.contextmanager
def listening() -> Iterator[tuple[int, list[object]]]:
    """Listen on this machine; whoever gets through the jail is noted."""
    came: list[object] = []
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(0.2)
        stop = threading.Event()

        def accept() -> None:
            while not stop.is_set():
                with contextlib.suppress(TimeoutError):
                    came.append(server.accept())

        thread = threading.Thread(target=accept)
        thread.start()
        try:
            yield server.getsockname()[1], came
        finally:
            stop.set()
            thread.join()


def test_it_reads_and_reaches_nothing(day: Day, tmp_path: Path) -> None:
    """Solutions, grader, book, other hand-ins, this test's own files, the network: none is there."""
    secret = tmp_path / "secret.txt"
    secret.write_text("27 ohms", encoding="utf-8")
    other = day.cohort.submitted("ada-01", LESSON)
    places = [
        secret,
        other,
        day.cohort.folder / "gradebook.db",
        paths.ROOT / "solutions" / f"{LESSON}.md",
        Path(marking.__file__),
        paths.ROOT / "pyproject.toml",
        Path(__file__),
        Path("/etc/passwd"),
        Path("/proc/1/environ"),
        Path.home() / ".bashrc",
    ]
    with listening() as (port, came):
        code = f"""
import os, socket, subprocess, sys
bad = []
for place in {[str(place) for place in places]!r}:
    try:
        bad.append((place, open(place, 'rb').read(1)))
    except OSError:
        pass
for name in ('legtoleg.marking.marking', 'legtoleg.keys.reference', 'nbgrader_config', 'solutions'):
    try:
        __import__(name)
        bad.append(name)
    except ImportError:
        pass
for family, address in ((socket.AF_INET, ('127.0.0.1', {port})), (socket.AF_INET, ('8.8.8.8', 53))):
    try:
        with socket.socket(family) as s:
            s.settimeout(1)
            s.connect(address)
            bad.append(address)
    except OSError:
        pass
for place in ('/usr/note', '/etc/note', '/note', '/dev/note', '/run/note', {str(tmp_path / "note")!r}, {str(jail.course_folders()[0] / "note")!r}):
    try:
        open(place, 'w').write('x')
        bad.append(place)
    except OSError:
        pass
for target in ('/etc/passwd', {str(secret)!r}):
    try:
        os.symlink(target, '/desk/link')
        bad.append(open('/desk/link').read())
    except OSError:
        pass
    finally:
        os.path.lexists('/desk/link') and os.unlink('/desk/link')
for call in (lambda: os.mknod('/desk/sda', 0o60600, os.makedev(8, 0)), lambda: os.setuid(0), lambda: os.chroot('/tmp')):
    try:
        call()
        bad.append('a right that it should not have')
    except OSError:
        pass
seen = [name for name in os.listdir('/proc') if name.isdigit()]
bad += seen
if any('mark' in value.lower() and 'leg' not in value.lower() for value in os.environ):
    bad.append(dict(os.environ))
drift = {right("bo-02")["drift"]!r} if not bad else str(bad)
"""
        notebook = honest("bo-02", but=("drift",))
        find(notebook, "drift-answer")["source"] = code
        day.put("bo-02", notebook)
        outcomes = {outcome.question: outcome for outcome in day.mark()}
        assert outcomes["drift"].note == "right", outcomes["drift"].answer
        assert not came
    assert not (tmp_path / "note").exists()


def test_one_leaves_nothing_for_the_next(day: Day) -> None:
    """Files, shared memory, sockets without a name: what one notebook leaves, another does not find."""
    leave = (
        "import socket, os\nopen('/desk/left', 'w').write('7.88 A'); open('/dev/shm/left', 'w').write('7.88 A')\n"
        "s = socket.socket(socket.AF_UNIX); s.bind('\\0left'); s.listen(); os.fork() or __import__('time').sleep(3)"
    )
    look = (
        "import os, socket\nfound = [p for p in ('/desk/left', '/dev/shm/left') if os.path.exists(p)]\n"
        "try:\n    socket.socket(socket.AF_UNIX).connect('\\0left'); found.append('socket')\nexcept OSError: pass\n"
        f"drift = {right('bo-02')['drift']!r} if not found else str(found)"
    )
    for who in ("aa-00", "bb-01"):
        notebook = honest(who)
        find(notebook, "element_current-answer")["source"] += f"\n{leave}"
        day.put(who, notebook)
    notebook = honest("bo-02", but=("drift",))
    find(notebook, "drift-answer")["source"] = look
    day.put("bo-02", notebook)
    outcomes = {outcome.question: outcome for outcome in day.mark()}
    assert outcomes["drift"].note == "right", outcomes["drift"].answer
