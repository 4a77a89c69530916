"""The hub's side of the door: routes go to a door that is somebody else's to start."""

from __future__ import annotations

from jupyterhub.proxy import ConfigurableHTTPProxy


class DoorProxy(ConfigurableHTTPProxy):  # type: ignore[misc]
    """Speaks to our door in the words of configurable-http-proxy's API."""
