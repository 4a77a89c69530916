"""A class with a certificate: log-in, seat, kernel and board by https; cookies that no plain page is sent."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import aiohttp
import pytest

pytestmark = [
    pytest.mark.server,
    pytest.mark.slow,
    pytest.mark.jail,
    pytest.mark.skipif("LEGTOLEG_CLASS" not in os.environ, reason="set LEGTOLEG_CLASS=1 and run it alone"),
]


def test_a_class_by_https(own_class: Callable[..., Any], tmp_path: Path, load: Callable[[str], ModuleType]) -> None:
    files = load("certificates").make_certificate(tmp_path)
    secured, running = own_class(files=files), load("test_running_class")
    assert secured.address in (secured.room.root / "slips.html").read_text(encoding="utf-8")
    assert "No certificate" not in (secured.folder.parent / "class.log").read_text(encoding="utf-8")

    async def work() -> None:
        visitor = await running.ready(secured, "ada-01")
        assert (await visitor.run("print(6 * 7)")).strip() == "42"
        teacher = await running.entered(secured, "instructor")
        assert (await teacher.get("/services/class/"))[0] == 200
        cookies = [*visitor.session.cookie_jar, *teacher.session.cookie_jar]
        names = {one.key for one in cookies}
        assert {"jupyterhub-hub-login", "jupyterhub-session-id", "jupyterhub-user-ada-01", "service-class"} <= names
        assert [one.key for one in cookies if not one["secure"]] == []
        readable = {one.key for one in cookies if not one["httponly"]}
        assert readable <= {"_xsrf"}  # the page itself has to read that one
        plain = secured.address.replace("https:", "http:")
        async with aiohttp.ClientSession() as lost:
            async with lost.get(f"{plain}/hub/login", allow_redirects=False) as got:
                assert (got.status, got.headers["Location"]) == (308, f"{secured.address}/hub/login")
                assert "Set-Cookie" not in got.headers
            form = {"username": "ada-01", "password": secured.password}
            async with lost.post(f"{plain}/hub/login", data=form, allow_redirects=False) as got:
                assert got.status == 403
            with pytest.raises(aiohttp.ClientConnectorCertificateError):
                await lost.get(f"{secured.address}/hub/login")

    running.asked(secured, work)
