"""A visitor of a class: logs in, opens a seat, runs cells by a kernel's websocket, as a browser does."""

from __future__ import annotations

import asyncio
import html
import json
import re
import ssl
import struct
import time
import uuid
from typing import Any

import aiohttp
from yarl import URL


def message_in(content: str | bytes) -> Any:
    """Return a kernel's message; one that brings bytes along (a picture) comes as lengths, then JSON, then those."""
    if isinstance(content, str):
        return json.loads(content)
    parts = struct.unpack_from("!i", content)[0]
    ends = [*struct.unpack_from(f"!{parts}I", content, 4), len(content)]
    return json.loads(content[ends[0] : ends[1]])


class Visitor:
    """One person at the door."""

    def __init__(self, address: str, who: str, trusted: str = "") -> None:
        self.address, self.who, self.name = address, who, who.lower()
        secure = ssl.create_default_context(cafile=trusted) if trusted else True
        self.session = aiohttp.ClientSession(
            connector=aiohttp.TCPConnector(ssl=secure), cookie_jar=aiohttp.CookieJar(unsafe=True)
        )
        self.link: aiohttp.ClientWebSocketResponse | None = None
        self.kernel = ""

    def url(self, path: str) -> str:
        return f"{self.address}{path}"

    async def get(self, path: str, **more: Any) -> tuple[int, str]:
        """Load a page; while the class starts again, load it once more, as a browser's person does."""
        for _ in range(60):
            try:
                async with self.session.get(self.url(path), **more) as got:
                    if got.status != 503:
                        return got.status, await got.text()
            except aiohttp.ClientConnectionError:
                pass
            await asyncio.sleep(0.5)
        return 503, ""

    async def log_in(self, secret: str, new: str = "", **more: Any) -> tuple[int, str]:
        """Fill in the form and return where it led."""
        _, page = await self.get("/hub/login")
        found = re.search(r'name="_xsrf" value="([^"]*)"', page)
        form = {"_xsrf": found.group(1) if found else "", "username": self.who, "password": secret}
        form |= {"new_password": new, "again": new} if new else {}
        async with self.session.post(self.url("/hub/login"), data=form, allow_redirects=False, **more) as got:
            return got.status, got.headers.get("Location", "") or await got.text()

    async def open_seat(self, seconds: float = 120) -> float:
        """Go to the seat, wait until it answers, and return how long that took."""
        begun = time.monotonic()
        _, page = await self.get("/hub/spawn")
        await self.watch(page, seconds)
        while time.monotonic() - begun < seconds:
            status, page = await self.get(f"/user/{self.name}/api/status")
            if status == 200 and page.startswith("{"):
                return time.monotonic() - begun
            if status == 403:
                await self.get(f"/user/{self.name}/lab")
            await asyncio.sleep(0.3)
        raise AssertionError(f"The seat of {self.who} did not open: {status} {page[:300]}")

    async def watch(self, page: str, seconds: float) -> None:
        """Listen on the page of a seat that starts, as a browser does, until it is up or the hub is killed."""
        events = re.search(r'new EventSource\("([^"]*)"\)', page)
        if events is None:
            return
        try:
            async with asyncio.timeout(seconds), self.session.get(self.url(html.unescape(events.group(1)))) as got:
                async for line in got.content:
                    if b'"ready": true' in line:
                        return
        except (aiohttp.ClientError, TimeoutError):
            pass

    def xsrf(self) -> str:
        cookies = self.session.cookie_jar.filter_cookies(URL(self.url(f"/user/{self.name}/api/sessions")))
        return cookies["_xsrf"].value if "_xsrf" in cookies else ""

    async def open_kernel(self, path: str = "lessons/03_heater_power/03_heater_power.ipynb") -> None:
        """Start a kernel for a page and open its websocket."""
        about = {"path": path, "type": "notebook", "name": path.rpartition("/")[2], "kernel": {"name": "python3"}}
        words = {"X-XSRFToken": self.xsrf()}
        async with self.session.post(self.url(f"/user/{self.name}/api/sessions"), json=about, headers=words) as got:
            assert got.status == 201, (got.status, await got.text())
            self.kernel = (await got.json())["kernel"]["id"]
        await self.connect()

    async def connect(self) -> None:
        """Open the kernel's websocket."""
        self.link = await self.session.ws_connect(
            self.url(f"/user/{self.name}/api/kernels/{self.kernel}/channels?session_id={uuid.uuid4().hex}"),
            max_msg_size=0,
        )

    async def run(self, code: str, seconds: float = 60) -> str:
        """Run ``code`` and return what it printed; an error is part of it."""
        assert self.link is not None
        mark = uuid.uuid4().hex
        header = {"msg_id": mark, "msg_type": "execute_request", "session": "x", "username": "", "version": "5.3"}
        content = {"code": code, "silent": False, "store_history": False, "allow_stdin": False}
        await self.link.send_str(
            json.dumps(
                {
                    "header": header,
                    "parent_header": {},
                    "metadata": {},
                    "content": content,
                    "channel": "shell",
                    "buffers": [],
                }
            )
        )
        said, done = "", set()
        async with asyncio.timeout(seconds):
            while done != {"reply", "idle"}:
                message = message_in((await self.link.receive()).data)
                if message["parent_header"].get("msg_id") != mark:
                    continue
                kind, content = message["msg_type"], message["content"]
                if kind == "stream":
                    said += content["text"]
                elif kind == "error":
                    said += f"{content['ename']}: {content['evalue']}"
                elif kind == "execute_reply":
                    done.add("reply")
                elif kind == "status" and content["execution_state"] == "idle":
                    done.add("idle")
        return said

    async def close(self) -> None:
        if self.link is not None:
            await self.link.close()
        await self.session.close()
