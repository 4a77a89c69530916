"""The hub's settings where seats are containers: by the hub's own spawners, with its book in PostgreSQL."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.container_seats import COMMAND, before_docker, before_kube, container_variables
from legtoleg.classroom.hub_settings import configure
from legtoleg.classroom.seat_gate import PORT
from legtoleg.classroom.seat_jail import HOME
from legtoleg.cohort.cohort_folder import Cohort

if TYPE_CHECKING:
    from traitlets.config import Config

COMPOSE, KUBERNETES = "compose", "kubernetes"
SEAT_GUARANTEE, SEAT_LIMIT = "512M", "1G"
"""Memory that a seat's container is sure of, and what it may take at most."""


def configure_containers(c: Config, place: Path, on: str) -> None:
    """Set the hub up for the class of the cohort in ``place``, with seats ``on`` compose or kubernetes.

    Raises
    ------
    KeyError
        If a variable of the environment is missing: ``LEGTOLEG_HUB_BOOK``, ``SEAT_IMAGE``, ``CONFIGPROXY_AUTH_TOKEN``.
    """
    configure(c, place, "", 8000)
    folder = ClassFolder(Cohort(place))
    del c["DoorProxy"]
    c.JupyterHub.bind_url = "http://:8000"
    c.JupyterHub.hub_bind_url = "http://:8081"
    c.JupyterHub.hub_connect_url = "http://hub:8081"
    del c.JupyterHub["hub_socket_mode"]
    c.JupyterHub.db_url = os.environ["LEGTOLEG_HUB_BOOK"]
    c.JupyterHub.proxy_class = "jupyterhub.proxy.ConfigurableHTTPProxy"
    c.ConfigurableHTTPProxy.should_start = False
    c.ConfigurableHTTPProxy.api_url = "http://proxy:8001"
    c.ConfigurableHTTPProxy.auth_token = os.environ["CONFIGPROXY_AUTH_TOKEN"]
    c.JupyterHub.services[0]["url"] = f"http://class:{PORT}"
    c.JupyterHub.concurrent_spawn_limit = 20
    c.Spawner.cmd = COMMAND
    c.Spawner.environment = container_variables("class")
    c.Spawner.notebook_dir = HOME
    c.Spawner.mem_guarantee, c.Spawner.mem_limit = SEAT_GUARANTEE, SEAT_LIMIT
    c.Spawner.cpu_limit = 1.5
    c.Spawner.http_timeout = 120
    (_docker if on == COMPOSE else _kube)(c, folder)


def _docker(c: Config, folder: ClassFolder) -> None:
    c.JupyterHub.spawner_class = "dockerspawner.DockerSpawner"
    c.Spawner.pre_spawn_hook = before_docker(folder)
    c.DockerSpawner.image = os.environ["SEAT_IMAGE"]
    c.DockerSpawner.network_name = os.environ["SEAT_NETWORK"]
    c.DockerSpawner.use_internal_ip = True
    c.DockerSpawner.remove = True
    c.DockerSpawner.extra_host_config = {
        "cap_drop": ["ALL"],
        "security_opt": ["no-new-privileges"],
        "pids_limit": 256,
        "tmpfs": {"/tmp": "size=256m,mode=1777"},
    }


def _kube(c: Config, folder: ClassFolder) -> None:
    c.JupyterHub.spawner_class = "kubespawner.KubeSpawner"
    c.Spawner.pre_spawn_hook = before_kube(folder)
    c.KubeSpawner.image = os.environ["SEAT_IMAGE"]
    c.KubeSpawner.namespace = os.environ["SEAT_NAMESPACE"]
    c.KubeSpawner.allow_privilege_escalation = False
    c.KubeSpawner.automount_service_account_token = False
    c.KubeSpawner.container_security_context = {"capabilities": {"drop": ["ALL"]}}
    c.KubeSpawner.extra_labels = {"leg-to-leg": "seat"}
    c.KubeSpawner.delete_pvc = False
