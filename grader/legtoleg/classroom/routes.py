"""The door's routes: which path goes to which socket, kept in a file so that a door that was killed knows them."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import unquote, urlsplit

from legtoleg.core.files import write_whole


def socket_in(target: str) -> str:
    """Return the path of the socket in an address of the hub's; empty if it is none. The hub adds a port to some."""
    parts = urlsplit(target)
    return unquote(parts.netloc.removesuffix(":80")) if parts.scheme == "http+unix" else ""


@dataclass
class Route:
    """One route: the socket, what the hub wants kept with it, and when it was used last."""

    socket: str
    data: dict[str, object]
    last: str

    def used(self) -> None:
        """Note that it is used now."""
        self.last = datetime.now(UTC).isoformat().replace("+00:00", "Z")


class Routes:
    """All routes of one door; ``fixed`` ones are the class's own, and not the hub's to change."""

    def __init__(self, path: Path, fixed: dict[str, Path]) -> None:
        self._path = path
        self._fixed = {spec: Route(str(socket), {}, "") for spec, socket in fixed.items()}
        self._routes: dict[str, Route] = {}
        if path.is_file():
            for spec, data in json.loads(path.read_text(encoding="utf-8")).items():
                self._put(spec, data)

    def _put(self, spec: str, data: dict[str, object]) -> None:
        route = Route(socket_in(str(data.get("target", ""))), data, "")
        route.used()
        self._routes[spec] = route

    def _keep(self) -> None:
        kept = {spec: route.data for spec, route in self._routes.items()}
        write_whole(self._path, (json.dumps(kept, indent=1) + "\n").encode("utf-8"), 0o600)

    def find(self, path: str) -> Route | None:
        """Return the route of the longest prefix of ``path``, whole parts only."""
        while True:
            for routes in (self._fixed, self._routes):
                if path in routes:
                    return routes[path]
            if path in ("", "/"):
                return None
            path = path.rpartition("/")[0] or "/"

    def add(self, spec: str, data: dict[str, object]) -> bool:
        """Add a route to a socket, and tell whether it is one."""
        if not socket_in(str(data.get("target", ""))):
            return False
        self._put(spec, data)
        self._keep()
        return True

    def remove(self, spec: str) -> Route | None:
        """Remove a route and return it."""
        gone = self._routes.pop(spec, None)
        self._keep()
        return gone

    def listed(self) -> dict[str, dict[str, object]]:
        """Return the routes as the hub asks for them."""
        return {spec: {**route.data, "last_activity": route.last} for spec, route in self._routes.items()}
