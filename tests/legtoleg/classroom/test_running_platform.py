"""A class whose people come in through a learning platform (made up, by LTI 1.3): the right seat, and who is refused.

The flow is that of the 1EdTech Security Framework 1.0, section 5.1: the platform starts, the tool asks for a signed
token, and checks signature, issuer, audience, age and nonce (OpenID Connect Core 1.0, section 3.2.2.11).
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

pytestmark = [
    pytest.mark.server,
    pytest.mark.slow,
    pytest.mark.jail,
    pytest.mark.skipif("LEGTOLEG_CLASS" not in os.environ, reason="set LEGTOLEG_CLASS=1 and run it alone"),
]


async def started(running: Any, platform: Any, visitor: Any) -> str:
    """Start a log-in as the platform's link does, and return the state that the tool wants back."""
    start = {
        "iss": platform.issuer,
        "login_hint": "x",
        "target_link_uri": f"{running.address}/",
        "client_id": "class-7",
    }
    async with visitor.session.post(visitor.url("/hub/lti13/oauth_login"), data=start) as got:
        assert (got.status, await got.text()) == (200, "A form.")
    assert platform.asked["redirect_uri"] == f"{running.address}/hub/lti13/oauth_callback"
    return str(platform.asked["state"])


async def ended(visitor: Any, state: str, token: str) -> tuple[int, str]:
    """Send what the platform's form sends, and return where it led, or what the page says."""
    form = {"state": state, "id_token": token}
    async with visitor.session.post(visitor.url("/hub/lti13/oauth_callback"), data=form, allow_redirects=False) as got:
        return got.status, got.headers.get("Location", "") or await got.text()


def test_people_come_in_through_their_platform(
    own_class: Callable[..., Any], tmp_path: Path, load: Callable[[str], ModuleType], free_port: int
) -> None:
    made_up, running = load("made_up_platform"), load("test_running_class")
    platform = made_up.MadeUpPlatform(free_port)
    files = load("certificates").make_certificate(tmp_path)
    joined = own_class(files=files, platform=platform.settings)
    assert not (joined.room.root / "slips.html").exists()

    async def came(who: str, role: str = "Learner", **other: Any) -> tuple[Any, int, str]:
        visitor = joined.visitor(who)
        state = await started(joined, platform, visitor)
        return visitor, *(await ended(visitor, state, platform.token(who, role, **other)))

    async def work() -> None:
        side = await platform.open()
        try:
            await let_in()
            await refused()
        finally:
            await side.cleanup()

    async def let_in() -> None:
        ada, status, where = await came("ADA-01")
        assert (status, where) == (302, "/")
        await ada.open_seat()
        await ada.open_kernel(running.PAGE)
        said = await ada.run("from dryerbench import *; print(job_card('03_heater_power'))")
        assert "The dryer of ada-01" in said
        assert (await ada.get("/services/class/"))[0] == 403
        teacher, status, _ = await came("somebody", "Instructor")
        assert status == 302
        assert (await teacher.get("/services/class/"))[0] == 200

    async def refused() -> None:
        now, other = int(time.time()), made_up.new_key()
        stranger = joined.visitor("stranger")
        status, page = await stranger.get("/hub/login")
        assert (status, "open this class from there" in page, 'name="password"' in page) == (200, True, False)
        for words, who, role, changed in (
            ("not on the roster", "nobody-99", "Learner", {}),
            ("not on the roster", "instructor", "Learner", {}),
            ("did not say your id", "", "Learner", {}),
            ("did not say your id", "bo-02", "Learner", {f"{made_up.CLAIM}custom": {}, "sub": "bo-02"}),
            ("Signature verification failed", "bo-02", "Learner", {"key": other}),
            ("alg", "bo-02", "Learner", {"how": "none"}),
            ("Invalid issuer", "bo-02", "Learner", {"iss": "https://elsewhere.example"}),
            ("Audience", "bo-02", "Learner", {"aud": "another-tool"}),
            ("expired", "bo-02", "Learner", {"exp": now - 5}),
            ("too long ago", "bo-02", "Learner", {"iat": now - 3600}),
            ("nonce mismatch", "bo-02", "Learner", {"nonce": "of another log-in"}),
        ):
            visitor, status, page = await came(who, role, **changed)
            assert (status, words in page) == (403, True), (words, page[-800:])
            assert "Traceback" not in page
            assert "open this class from there" in (await visitor.get("/hub/home"))[1]
        bo, thief = joined.visitor("bo-02"), joined.visitor("thief")
        state = await started(joined, platform, bo)
        token = platform.token("bo-02")
        status, page = await ended(thief, state, token)  # without what the own browser remembers
        assert (status, "state missing" in page) == (403, True)
        assert (await ended(bo, state, token))[0] == 302

    running.asked(joined, work)
