"""A class that runs: log-in, seats, hand-in, the board, kills, and what one seat can do to another."""

from __future__ import annotations

import ast
import asyncio
import hashlib
import html
import json
import os
import re
import signal
import subprocess
import time
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

import pytest

from legtoleg.cohort.cohort_setup import set_up

pytestmark = [
    pytest.mark.server,
    pytest.mark.slow,
    pytest.mark.jail,
    pytest.mark.skipif("LEGTOLEG_CLASS" not in os.environ, reason="set LEGTOLEG_CLASS=1, run it alone: a class fills "
                       "two cores, and its seats are processes that other tests would take for left behind"),
]  # fmt: skip
PAGE = "lessons/03_heater_power/03_heater_power.ipynb"
HAND_IN = """
import hashlib, json
from dryerbench.notebook.class_link import class_link
content = open('03_heater_power.ipynb', 'rb').read() + b' ' * {spaces}
receipt = class_link().hand_in('03_heater_power', content)
print(json.dumps([receipt.apprentice, receipt.number, receipt.sha256, hashlib.sha256(content).hexdigest()]))
"""


async def entered(running: Any, who: str) -> Any:
    """Return a visitor who is logged in: the first time by the code, then by the password."""
    visitor = running.visitor(who)
    proof = (running.password,) if who in running.chosen else (running.codes[who], running.password)
    status, words = await visitor.log_in(*proof)
    assert status == 302, words
    running.chosen.add(who)
    return visitor


async def ready(running: Any, who: str, *, kernel: bool = True) -> Any:
    """Return a visitor who is in the own seat, with a kernel."""
    visitor = await entered(running, who)
    await visitor.open_seat()
    if kernel:
        await visitor.open_kernel(PAGE)
    return visitor


def asked(running: Any, work: Callable[[], Awaitable[None]]) -> None:
    async def within() -> None:
        try:
            async with asyncio.timeout(170):
                await work()
        finally:
            await running.close_visitors()

    asyncio.run(within())


def test_the_slip_the_password_the_seat_and_the_board(class_of_three: Any) -> None:
    async def work() -> None:
        visitor = class_of_three.visitor("ada-01")
        status, words = await visitor.log_in("wrong-guess")
        assert (status, "not right" in words) == (403, True)
        status, words = await visitor.log_in(class_of_three.codes["ada-01"])
        assert (status, "choose a password" in words) == (403, True)
        assert (await visitor.get("/user/ada-01/api/status"))[0] in (200, 403)  # the log-in page, or no
        visitor = await ready(class_of_three, "ada-01")
        said = await visitor.run(
            "import os; from dryerbench import *; print(job_card('03_heater_power')); print(os.getuid())"
        )
        assert "The dryer of ada-01" in said
        assert int(said.split()[-1]) >= 70_000
        assert (await visitor.get("/services/class/"))[0] == 403
        assert (await visitor.get("/services/class/live"))[0] == 403
        async with visitor.session.post(visitor.url("/services/class/act"), data="{}") as got:
            assert got.status == 403
        teacher = await entered(class_of_three, "instructor")
        status, page = await teacher.get("/services/class/")
        assert (status, "Ada Demo" in page) == (200, True)
        async with teacher.session.post(teacher.url("/services/class/act"), data='{"what":"report"}') as got:
            assert got.status == 403  # without what the page's own buttons bring along
        told = json.loads(html.unescape(re.search(r'id="told">(.*?)</script>', page).group(1)))
        for left_out in ("", "X-Board", "X-XSRFToken"):
            words = {"X-Board": told["token"], "X-XSRFToken": told["xsrf"]}
            words.pop(left_out, None)
            ask = json.dumps({"what": "hand-down", "who": "ada-01"})
            async with teacher.session.post(teacher.url("/services/class/act"), data=ask, headers=words) as got:
                assert got.status == (403 if left_out else 200), left_out

    asked(class_of_three, work)


KILLED = ("service", "hub", "warm", "door", "bench", "service", "warm", "hub", "bench", "door")


def test_hand_ins_are_not_lost_while_everything_is_killed(class_of_three: Any) -> None:
    async def work() -> None:
        visitor = await ready(class_of_three, "ada-01")
        mine = []
        for number, name in enumerate(KILLED):
            os.kill(class_of_three.pid_of(name), signal.SIGKILL)
            if name == "door":
                await asyncio.sleep(3)
                visitor = await ready(class_of_three, "ada-01")
            said = json.loads((await visitor.run(HAND_IN.format(spaces=number))).strip().splitlines()[-1])
            assert said[0] == "ada-01"
            assert said[2] == said[3]
            mine.append(said[2])
            await asyncio.sleep(1)
        kept = class_of_three.folder / "received" / "ada-01"
        for mark in mine:
            content = (kept / f"03_heater_power-{mark[:16]}.ipynb").read_bytes()
            assert hashlib.sha256(content).hexdigest() == mark

    asked(class_of_three, work)


def test_the_class_goes_on_after_the_supervisor_is_killed(class_of_three: Any) -> None:
    async def work() -> None:
        visitor = await ready(class_of_three, "cy-03")
        await visitor.run("kept = 42")
        kernel = visitor.kernel
        command = [*class_of_three.process.args[:5], "--port", "8399"]
        second = await asyncio.to_thread(subprocess.run, command, check=False, capture_output=True, timeout=60)
        assert (second.returncode, b"already running" in second.stderr) == (2, True)
        class_of_three.end(signal.SIGKILL)
        await asyncio.sleep(3)
        await asyncio.to_thread(class_of_three.start)
        await visitor.session.close()
        again = await ready(class_of_three, "cy-03", kernel=False)
        status, page = await again.get("/user/cy-03/api/kernels")
        assert status == 200
        assert kernel in page

    asked(class_of_three, work)


WARM = """
import os
about = dict(line.split(':', 1) for line in open('/proc/self/status').read().splitlines())
print([about['Name'].strip(), open(f'/proc/{os.getppid()}/comm').read().strip()])
"""


def test_killing_the_warm_parent_stops_no_seat_and_seats_that_start_then_start_warm(class_of_three: Any) -> None:
    async def work() -> None:
        visitor = await ready(class_of_three, "ada-01")
        assert (await visitor.run(WARM)).strip() == "['kernel', 'nursery']"
        await visitor.run("kept = 42")
        other = await entered(class_of_three, "bo-02")
        words = {"X-XSRFToken": other.xsrf()}
        async with other.session.delete(other.url("/hub/api/users/bo-02/server"), headers=words) as got:
            assert got.status in (202, 204, 400, 403)
        await asyncio.sleep(3)
        opening = asyncio.create_task(other.open_seat())
        for _ in range(3):  # once it starts, and twice while it is started again
            os.kill(class_of_three.pid_of("warm"), signal.SIGKILL)
            await asyncio.sleep(1)
        await opening
        await other.open_kernel(PAGE)
        assert (await other.run(WARM)).strip() == "['kernel', 'nursery']"
        assert (await visitor.run("print(kept)")).strip() == "42"

    asked(class_of_three, work)


RIGHTS = """
import os
nursery = os.getppid()
server = open(f'/proc/{nursery}/stat').read().rpartition(')')[2].split()[1]
assert open(f'/proc/{server}/comm').read().strip() == 'seat'
for who in ('self', nursery, server):
    about = dict(line.split(':', 1) for line in open(f'/proc/{who}/status').read().splitlines())
    print({name: about[name].split() for name in ('Uid', 'Gid', 'Groups', 'NoNewPrivs')})
    print({about[name].strip() for name in ('CapInh', 'CapPrm', 'CapEff', 'CapBnd', 'CapAmb')})
    handles = [f'/proc/{who}/fd/{one}' for one in os.listdir(f'/proc/{who}/fd')]
    paths = [os.readlink(one) for one in handles if os.path.islink(one)]
    print(sorted(path for path in paths if path[0] == '/' and not path.startswith(('/home/seat', '/dev'))))
    print(open(f'/proc/{who}/environ').read().count(chr(0)))
"""
TOKENS = """
import re
found = set()
for line in open('/proc/self/maps'):
    span, rights = line.split()[:2]
    if rights[:2] != 'rw' or '/' in line:
        continue
    low, high = (int(word, 16) for word in span.split('-'))
    with open('/proc/self/mem', 'rb', 0) as memory:
        try:
            memory.seek(low)
            content = memory.read(high - low)
        except (OSError, ValueError):
            continue
    found |= set(re.findall(rb'[0-9a-f]{32}', content))
print(len(found) > 3, [word for word in {asked!r} if word[::-1].encode() in found])
"""


def test_a_warm_seat_holds_no_right_no_file_and_no_token_that_is_not_its_own(class_of_three: Any) -> None:
    async def work() -> None:
        tokens = {}
        visitors = {who: await ready(class_of_three, who) for who in ("cy-03", "bo-02", "ada-01")}
        for who, visitor in visitors.items():
            said = await visitor.run("import os; print(os.environ['JUPYTERHUB_API_TOKEN'])")
            tokens[who] = said.strip().splitlines()[-1][::-1]  # backwards: asking for it is no finding
        users = set()
        for who, visitor in visitors.items():
            await visitor.connect()  # a visitor who waited long did not answer the door's heartbeat
            lines = (await visitor.run(RIGHTS)).splitlines()
            assert len(lines) == 12, lines
            for about, rights, files, environment in zip(*[iter(lines)] * 4, strict=True):
                told = ast.literal_eval(about)
                users.add(told["Uid"][0])
                assert told["Uid"] == told["Gid"] == [told["Uid"][0]] * 4
                assert (told["Groups"], told["NoNewPrivs"]) == ([], ["1"])
                assert ast.literal_eval(rights) == {"0" * 16}
                assert all(path.endswith(f"logs/seat-{who}.log") for path in ast.literal_eval(files)), files
                assert int(environment) < 12
            others = [token for name, token in tokens.items() if name != who]
            assert (await visitor.run(TOKENS.replace("{asked!r}", repr(others)))).strip() == "True []"
            own = await visitor.run(TOKENS.replace("{asked!r}", repr([tokens[who]])))
            assert tokens[who] in own  # the search finds what is there
        assert len(users) == 3

    asked(class_of_three, work)


ATTACKS = {
    "another's home": "print(__import__('os').listdir('/home'))",
    "the class's folder": "print(open({accounts!r}).read())",
    "the cohort": "print(__import__('os').listdir({cohort!r}))",
    "the sockets outside": "print(__import__('os').listdir({sockets!r}))",
    "the marker": "import legtoleg.keys; print('marker')",
    "the kit is read-only": "open('/run/seat/kit/kit.json', 'w').write('x'); print('written')",
    "feedback is read-only": "open('/run/seat/feedback/signed_off.json', 'w').write('x'); print('written')",
    "replace the own server's socket": "import os; os.unlink('/run/seat/server/s'); print('gone')",
    "replace the service's socket": "import os; os.unlink('/run/seat/service/class'); print('gone')",
    "the network": "import socket; socket.create_connection(('127.0.0.1', {port}), 3); print('connected')",
    "become root": "import os; os.setuid(0); print('root')",
    "another's processes": "import os; print('seen') if sum(map(str.isdigit, os.listdir('/proc'))) > 30 else 1 / 0",
}


@pytest.mark.parametrize("what", ATTACKS)
def test_a_seat_does_not_reach(class_of_three: Any, what: str) -> None:
    async def work() -> None:
        visitor = await ready(class_of_three, "bo-02")
        room = class_of_three.room
        code = ATTACKS[what].format(
            accounts=str(room.root / "secrets" / "accounts.json"),
            cohort=str(room.cohort.folder),
            sockets=str(room.sockets),
            port=class_of_three.port,
        )
        said = await visitor.run(code)
        if what == "another's home":
            assert said.strip() == "['seat']"
        else:
            assert "Error" in said, said

    asked(class_of_three, work)


HUB = """
import http.client, os, socket, json
def ask(way, path, body=None, **words):
    line = http.client.HTTPConnection('hub')
    line.sock = socket.socket(socket.AF_UNIX)
    line.sock.connect('/run/seat/gate/hub')
    line.request(way, path, body, {'Authorization': 'token ' + os.environ['JUPYTERHUB_API_TOKEN'], **words})
    got = line.getresponse()
    got.read()
    return got.status
"""


def test_the_hub_by_a_seats_own_token(class_of_three: Any) -> None:
    async def work() -> None:
        visitor = await ready(class_of_three, "bo-02")
        other = await ready(class_of_three, "ada-01", kernel=False)
        await visitor.run(HUB)
        asks = {
            ("GET", "/hub/api/users/ada-01"): (403, 404),
            ("GET", "/hub/api/users"): (200, 403),
            ("POST", "/hub/api/users/ada-01/tokens"): (403, 404),
            ("DELETE", "/hub/api/users/ada-01/server"): (403, 404),
            ("POST", "/hub/api/users"): (403,),
            ("GET", "/hub/login"): (403,),
            ("POST", "/hub/login"): (403,),
            ("GET", "/hub/api/../login"): (403, 404),
            ("GET", "/user/ada-01/api/status"): (403,),
            ("GET", "/services/class/"): (403,),
            ("GET", "/api/routes"): (403,),
        }
        for (way, path), expected in asks.items():
            said = await visitor.run(f"print(ask({way!r}, {path!r}))")
            assert int(said.strip()) in expected, (way, path, said)
        token = (await visitor.run("print(os.environ['JUPYTERHUB_API_TOKEN'])")).strip()
        words = {"Authorization": f"token {token}"}
        for path in ("/user/ada-01/api/contents", "/services/class/", "/services/class/live"):
            stranger = class_of_three.visitor("bo-02")
            status, page = await stranger.get(path, headers=words)
            assert status == 403 or "Your id" in page, (path, status)
        status, _ = await visitor.get("/user/ada-01/api/contents")
        assert status == 403
        assert (await other.get("/user/ada-01/api/status"))[0] == 200

    asked(class_of_three, work)


FORKS = """
import os, time
n = 0
try:
    while n < 2000:
        if os.fork() == 0:
            time.sleep(20)
            os._exit(0)
        n += 1
except OSError:
    print('stopped', n < 400)
"""


def test_a_seat_that_eats_its_limits_harms_itself_alone(class_of_three: Any) -> None:
    groups = Path("/sys/fs/cgroup")
    if not ((groups / "memory/leg-to-leg").is_dir() or (groups / "leg-to-leg").is_dir()):
        pytest.skip("no control groups to set here")

    async def work() -> None:
        visitor = await ready(class_of_three, "bo-02")
        other = await ready(class_of_three, "ada-01")
        forks = FORKS
        assert "stopped True" in await visitor.run(forks)
        begun = time.monotonic()
        assert (await other.run("print(6 * 7)")).strip() == "42"
        assert time.monotonic() - begun < 20
        eating = asyncio.create_task(visitor.run("x = b'x' * (3 << 30); print(len(x))"))
        await asyncio.sleep(5)
        assert (await other.run("print(6 * 7)")).strip() == "42"
        assert not eating.done() or "3221225472" not in eating.result()
        eating.cancel()

    asked(class_of_three, work)


def test_guesses_are_slowed_down(class_of_three: Any) -> None:
    async def work() -> None:
        visitor = class_of_three.visitor("instructor")
        said = [(await visitor.log_in(f"guess-{number}"))[0] for number in range(7)]
        assert said[:5] == [403] * 5
        assert said[5:] == [429, 429]

    asked(class_of_three, work)


def test_a_late_joiner_and_a_forgotten_password_while_the_class_runs(own_class: Any, tmp_path: Path) -> None:
    one = own_class()
    page = one.room.root / "slips.html"
    roster = tmp_path / "roster.csv"
    roster.write_text("id,name,group\nada-01,Ada Demo,one\nbo-02,Bo Demo,one\ncy-03,Cy Demo,two\nzed-09,Zed Demo,two\n")
    set_up(one.folder, roster)
    until = time.monotonic() + 40
    while "zed-09" not in page.read_text(encoding="utf-8") and time.monotonic() < until:
        time.sleep(0.2)

    async def work() -> None:
        one.codes |= one.slips()
        assert set(one.codes) == {"instructor", "ada-01", "bo-02", "cy-03", "zed-09"}
        await entered(one, "zed-09")
        await entered(one, "ada-01")
        command = one.command("--new-code", "ada-01")
        said = await asyncio.to_thread(subprocess.run, command, capture_output=True, text=True, check=False)
        assert said.returncode == 0, said.stderr
        left = one.slips()
        assert set(left) == {"instructor", "ada-01", "bo-02", "cy-03"}  # Zed's code is used, nobody else's is lost
        assert page.read_text(encoding="utf-8").count(one.address) == 4
        one.codes, one.chosen = left, one.chosen - {"ada-01"}
        await entered(one, "ada-01")
        teacher = await entered(one, "instructor")
        _, board = await teacher.get("/services/class/")
        told = json.loads(html.unescape(re.search(r'id="told">(.*?)</script>', board).group(1)))
        async with teacher.session.get(teacher.url(f"/services/class/live?_xsrf={told['xsrf']}")) as live:
            assert live.status == 200
            lines = [(await live.content.readline()).decode() for _ in range(4)]
        assert lines[2] == "event: rows\n"
        assert [row["id"] for row in json.loads(lines[3].removeprefix("data: "))][-1] == "zed-09"

    asked(one, work)
