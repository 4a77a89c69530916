"""The hub's settings for a class; the file that the hub reads holds two lines."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

from legtoleg.classroom.class_folder import INSTRUCTOR, ClassFolder, socket_url
from legtoleg.classroom.platform_settings import Platform
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.core.files import write_whole
from legtoleg.core.paths import TEMPLATES

if TYPE_CHECKING:
    from tornado.web import RequestHandler
    from traitlets.config import Config

SERVICE = "class"
FIRST_PAGE = "/lab/tree/lessons/00_start/00_start.ipynb?file-browser-path=/lessons"
_TEXT = '''"""The hub of one class; made by “legtoleg class”. Lines of your own: class/hub.py in the cohort."""

from pathlib import Path

from legtoleg.classroom.hub_settings import configure

c = get_config()
configure(c, Path({folder!r}), {host!r}, {port!r})
own = Path({folder!r}, "class", "hub.py")
if own.is_file():
    exec(compile(own.read_bytes(), str(own), "exec"))
'''


def write_config(folder: ClassFolder, host: str, port: int) -> Path:
    """Write the file that the hub reads and return where it is."""
    path = folder.root / "jupyterhub_config.py"
    write_whole(path, _TEXT.format(folder=str(folder.cohort.folder), host=host, port=port).encode("utf-8"), 0o600)
    return path


def landing(handler: RequestHandler) -> str:
    """Return where somebody goes after log-in: the instructor to the board, an apprentice to the own seat."""
    user = handler.current_user
    return f"/services/{SERVICE}/" if user is not None and user.name == INSTRUCTOR else "/hub/spawn"


def configure(c: Config, place: Path, host: str, port: int) -> None:
    """Set the hub up for the class of the cohort in ``place``, whose door is at ``host`` and ``port``."""
    from legtoleg.classroom.hub_proxy import DoorProxy
    from legtoleg.classroom.log_in import RosterAuthenticator
    from legtoleg.classroom.seats import SeatSpawner

    folder = ClassFolder(Cohort(place))
    RosterAuthenticator.folder = SeatSpawner.folder = folder
    platform = Platform.of(folder)
    SeatSpawner.ids = {person.id.lower(): person.id for person in folder.cohort.people()}
    c.JupyterHub.authenticator_class = RosterAuthenticator
    if platform is not None:
        from legtoleg.classroom.platform_log_in import log_in_by_platform

        log_in_by_platform(c, platform, folder)
    c.Authenticator.admin_users = {INSTRUCTOR}
    c.Authenticator.allow_all = True  # who is let in is asked of the roster
    c.JupyterHub.spawner_class = SeatSpawner
    c.Spawner.default_url = FIRST_PAGE
    c.Spawner.start_timeout = c.Spawner.http_timeout = 900  # with the wait for a turn
    c.Spawner.poll_interval = 10
    c.JupyterHub.concurrent_spawn_limit = 0  # seats take turns: nobody is sent away
    c.JupyterHub.bind_url = f"http://{host or '127.0.0.1'}:{port}"
    c.JupyterHub.hub_bind_url = c.JupyterHub.hub_connect_url = socket_url(folder.hub_socket)
    c.JupyterHub.hub_socket_mode = 0o600
    c.JupyterHub.db_url = f"sqlite:///{folder.root / 'secrets' / 'hub.sqlite'}"
    c.JupyterHub.cookie_secret_file = str(folder.root / "secrets" / "cookie")
    folder.secret("cookie")
    c.JupyterHub.cleanup_servers = False
    c.JupyterHub.template_paths = [str(TEMPLATES / "classroom")]
    c.JupyterHub.template_vars = {"cohort_name": folder.cohort.folder.name}
    c.JupyterHub.default_url = landing
    c.JupyterHub.services = [
        {
            "name": SERVICE,
            "api_token": folder.secret("service"),
            "oauth_client_id": f"service-{SERVICE}",
            "oauth_redirect_uri": f"/services/{SERVICE}/oauth_callback",
            "oauth_no_confirm": True,
        }
    ]
    c.JupyterHub.load_roles = [
        {"name": "user", "scopes": ["self"]},
        {"name": "board", "users": [INSTRUCTOR], "scopes": [f"access:services!service={SERVICE}"]},
        {"name": "class-service", "services": [SERVICE], "scopes": ["list:users", "read:servers"]},
    ]
    c.JupyterHub.proxy_class = DoorProxy
    c.DoorProxy.should_start = False
    c.DoorProxy.api_url = socket_url(folder.door_socket)
    c.DoorProxy.auth_token = folder.secret("door")


def told(folder: ClassFolder, host: str, port: int, certificate: str = "", key: str = "") -> str:
    """Return what a sibling is told at its start, as JSON."""
    return json.dumps(
        {"folder": str(folder.cohort.folder), "host": host, "port": port, "certificate": certificate, "key": key}
    )
