"""A class beyond one computer: its files are whole, the hub takes the settings, seats see and ask what they may."""

from __future__ import annotations

import ast
import asyncio
import json
import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import Any

import pytest
import yaml
from typer.testing import CliRunner

from dryerbench.notebook.class_link import ask
from dryerbench.notebook.sealed_bench import SealedBench, SealedLink
from legtoleg.classroom import container_settings, sealed_service
from legtoleg.classroom.class_folder import ClassError, ClassFolder
from legtoleg.classroom.container_files import (
    CLASS_EXTRAS,
    SEAT_EXTRAS,
    ContainerFilesError,
    Wish,
    computers_for,
    rendered,
    seats_on,
    write_files,
)
from legtoleg.classroom.container_seats import before_docker, before_kube, container_seat
from legtoleg.cli.command import app

ROOT = Path(__file__).parents[3]
ON_COMPOSE = Wish("compose", 100, "/srv/cohort")
ON_KUBERNETES = Wish("kubernetes", 300)


def objects(text: str) -> list[dict[str, Any]]:
    return [one for one in yaml.safe_load_all(text) if one]


# --- the files ----------------------------------------------------------------------------------------------------


def test_every_name_in_the_compose_file_is_one_that_it_makes() -> None:
    (made,) = objects(rendered(ON_COMPOSE)["compose.yaml"][0])
    assert set(made) <= {"name", "services", "networks", "volumes"}
    services = made["services"]
    for name, service in services.items():
        assert set(service) <= {
            "image", "command", "environment", "volumes", "networks", "network_mode", "depends_on", "restart", "ports",
            "cap_add", "security_opt",
        }  # fmt: skip
        assert ("networks" in service) != ("network_mode" in service), name
        assert set(service.get("networks", ())) <= set(made["networks"]), name
        assert set(service.get("depends_on", ())) <= set(services), name
        for volume in service.get("volumes", ()):
            source = volume.split(":")[0]
            assert source[0] in "./$" or source in made["volumes"], volume
        assert all(isinstance(word, str) for word in service.get("command", ())), name
    wanted = set(re.findall(r"\$\{([A-Z_]+)\}", rendered(ON_COMPOSE)["compose.yaml"][0]))
    given = {line.split("=")[0] for line in rendered(ON_COMPOSE)[".env"][0].splitlines()}
    assert wanted == given


@pytest.mark.parametrize("wish", [ON_COMPOSE, ON_KUBERNETES], ids=lambda one: one.on)
def test_an_image_comes_from_where_the_operator_says(wish: Wish) -> None:
    def images(one: Wish) -> list[str]:
        return re.findall(r"^ *image: (\S+)$", "\n".join(text for text, _ in rendered(one).values()), re.MULTILINE)

    assert len(images(wish)) > 5
    hosts = [name for name in images(wish) if "/" in name and ("." in name.split("/")[0] or ":" in name.split("/")[0])]
    assert hosts == []
    assert "registry.example/proxy:5" in images(replace(wish, proxy_image="registry.example/proxy:5"))


def test_seats_on_compose_reach_hub_and_class_alone() -> None:
    (made,) = objects(rendered(ON_COMPOSE)["compose.yaml"][0])
    assert made["networks"]["seats"]["internal"] is True
    there = {name for name, service in made["services"].items() if "seats" in service.get("networks", ())}
    assert there == {"proxy", "hub", "gate"}
    assert [name for name, one in made["services"].items() if "docker.sock" in str(one.get("volumes"))] == ["hub"]


def _checked(models: ModuleType, kind: str, value: Any, where: str) -> None:
    """Hold ``value`` against the cluster's own description of ``kind``: no name that it does not have, none missing."""
    if kind.startswith(("list[", "dict(")):
        inner = kind[5:-1].rsplit(", ", maxsplit=1)[-1] if kind.startswith("dict(") else kind[5:-1]
        for place, one in enumerate(value) if isinstance(value, list) else value.items():
            _checked(models, inner, one, f"{where}[{place}]")
        return
    model = getattr(models, kind, None)
    if model is None or not hasattr(model, "openapi_types"):
        return
    names = {given: own for own, given in model.attribute_map.items()}
    assert isinstance(value, dict), where
    assert set(value) <= set(names), (where, set(value) - set(names))
    for name, one in value.items():
        _checked(models, model.openapi_types[names[name]], one, f"{where}.{name}")
    if kind != "V1Secret":
        model(**{names[name]: value.get(name) for name in value})  # raises where something required is missing


def test_every_object_of_the_cluster_is_as_the_cluster_describes_it() -> None:
    models = pytest.importorskip("kubernetes_asyncio.client.models")
    files = rendered(ON_KUBERNETES)
    kinds = {"NetworkPolicy": "V1NetworkPolicy", "Role": "V1Role", "RoleBinding": "V1RoleBinding"}
    there = [one for name in ("class.yaml", "secret.yaml") for one in objects(files[name][0])]
    assert len(there) > 15
    for one in there:
        _checked(models, kinds.get(one["kind"], f"V1{one['kind']}"), one, one["kind"])
    with pytest.raises(AssertionError):
        _checked(models, "V1Deployment", {"spec": {"replicaz": 1}}, "Deployment")


def test_every_name_in_the_cluster_is_one_that_it_makes() -> None:
    files = rendered(ON_KUBERNETES)
    there = [one for name in ("class.yaml", "secret.yaml") for one in objects(files[name][0])]
    made = {(one["kind"], one["metadata"]["name"]) for one in there}
    pods = [one["spec"]["template"] for one in there if one["kind"] == "Deployment"]
    labels = {pod["metadata"]["labels"]["leg-to-leg"] for pod in pods}
    for pod in pods:
        volumes = {one["name"]: one for one in pod["spec"].get("volumes", ())}
        for volume in volumes.values():
            if "persistentVolumeClaim" in volume:
                assert ("PersistentVolumeClaim", volume["persistentVolumeClaim"]["claimName"]) in made
            if "configMap" in volume:
                assert ("ConfigMap", volume["configMap"]["name"]) in made
        for box in pod["spec"]["containers"]:
            assert {one["name"] for one in box.get("volumeMounts", ())} <= set(volumes)
            for word in box.get("env", ()):
                if "valueFrom" in word:
                    assert ("Secret", word["valueFrom"]["secretKeyRef"]["name"]) in made
    for one in there:
        if one["kind"] == "Service":
            assert one["spec"]["selector"]["leg-to-leg"] in labels
    hub = next(one for one in there if one["kind"] == "ConfigMap")["data"]["hub_config.py"]
    assert '"kubernetes"' in hub
    ast.parse(hub)


def test_secrets_are_drawn_anew_kept_and_readable_by_their_owner_alone(tmp_path: Path) -> None:
    first = {path.name for path in write_files(ON_COMPOSE, tmp_path)}
    assert first == {"Containerfile", "compose.yaml", "hub_config.py", "books.sql", ".env"}
    kept = (tmp_path / ".env").read_text()
    assert (tmp_path / ".env").stat().st_mode & 0o077 == 0
    assert ".env" not in {path.name for path in write_files(ON_COMPOSE, tmp_path)}
    assert (tmp_path / ".env").read_text() == kept
    assert rendered(ON_COMPOSE)[".env"] != rendered(ON_COMPOSE)[".env"]


def test_the_image_recipe_asks_for_extras_that_there_are_and_leaves_no_marker_in_a_seat() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    text = rendered(ON_COMPOSE)["Containerfile"][0]
    asked = [extras.split(",") for extras in re.findall(r'"/source\[([a-z,]+)\]"', text)]
    assert asked == [CLASS_EXTRAS.split(","), SEAT_EXTRAS.split(",")]
    assert {one for extras in asked for one in extras} <= set(project["optional-dependencies"])
    seat = text[text.index("AS seat") :]
    assert "COPY" not in text  # a file that is copied and removed stays in a layer
    assert seat.count("RUN") == 1
    assert "/legtoleg" in seat


@pytest.mark.parametrize(
    ("wish", "line"),
    [
        (Wish("clouds", 10), "compose or kubernetes"),
        (Wish("compose", 10), "from the root on"),
        (Wish("compose", 10, "cohort"), "from the root on"),
        (Wish("kubernetes", 10, seat_image="a b\nc: d"), "no name of an image"),
        (Wish("kubernetes", 10, storage="${X}"), "no name of an image"),
    ],
)
def test_what_cannot_be_is_said_in_one_line(wish: Wish, line: str) -> None:
    with pytest.raises(ContainerFilesError, match=line):
        rendered(wish)


def test_the_arithmetic() -> None:
    assert seats_on(8, 4, 110) == 60  # (8 - 1.5) GiB / 110 MiB
    assert seats_on(16, 8, 110) == 134
    assert seats_on(16, 2, 110) == 40  # two cores
    assert seats_on(16, 8, 512) == 29
    assert computers_for(300, 16, 8) == 11
    with pytest.raises(ContainerFilesError):
        computers_for(1, 1.5, 2)


def test_the_command_writes_and_says_the_arithmetic(tmp_path: Path) -> None:
    words = ["class-files", str(tmp_path / "out"), "--on", "kubernetes", "--seats", "300"]
    got = CliRunner().invoke(app, words)
    assert got.exit_code == 0, got.output
    said = " ".join(got.output.split())
    assert "One computer of 16 GiB and 8 cores carries 134 working seats" in said
    assert "11 such computers" in said
    assert (tmp_path / "out" / "secret.yaml").stat().st_mode & 0o077 == 0
    got = CliRunner().invoke(app, ["class-files", str(tmp_path), "--on", "clouds", "--seats", "3"])
    assert got.exit_code != 0


# --- the hub's settings -------------------------------------------------------------------------------------------


@pytest.fixture
def load_config(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Any]:
    pytest.importorskip("jupyterhub")
    from traitlets.config import Config, PyFileConfigLoader

    (tmp_path / "cohort").mkdir()
    (tmp_path / "cohort" / "roster.csv").write_text("id,name\nada-01,Ada Demo\n")
    for name, word in (
        ("LEGTOLEG_HUB_BOOK", "postgresql+psycopg://class:x@book:5432/hub"),
        ("COHORT_ON_HOST", "/srv/cohort"),
        ("SEAT_IMAGE", "seat:1"),
        ("SEAT_NETWORK", "seats"),
        ("SEAT_NAMESPACE", "leg-to-leg"),
        ("CONFIGPROXY_AUTH_TOKEN", "t"),
    ):
        monkeypatch.setenv(name, word)

    def loaded(on: str) -> Config:
        wish = ON_COMPOSE if on == container_settings.COMPOSE else ON_KUBERNETES
        text = rendered(wish).get("hub_config.py") or (
            objects(rendered(wish)["class.yaml"][0])[3]["data"]["hub_config.py"],
        )
        file = tmp_path / "hub_config.py"
        file.write_text(text[0].replace('"/cohort"', repr(str(tmp_path / "cohort"))))
        return PyFileConfigLoader(file.name, str(tmp_path)).load_config()

    return loaded


@pytest.mark.parametrize(
    ("on", "spawner"), [("compose", "dockerspawner.DockerSpawner"), ("kubernetes", "kubespawner.KubeSpawner")]
)
def test_the_hub_takes_every_setting(load_config: Callable[[str], Any], on: str, spawner: str) -> None:
    from jupyterhub.app import JupyterHub
    from jupyterhub.auth import Authenticator
    from jupyterhub.proxy import ConfigurableHTTPProxy
    from traitlets.utils.importstring import import_item

    pytest.importorskip(spawner.split(".", maxsplit=1)[0])
    config = load_config(on)
    assert config.JupyterHub.spawner_class == spawner
    seat = import_item(spawner)
    owners = {
        "JupyterHub": JupyterHub, "Authenticator": Authenticator, "ConfigurableHTTPProxy": ConfigurableHTTPProxy,
        "Spawner": seat, spawner.split(".")[1]: seat,
    }  # fmt: skip
    assert set(config) <= set(owners)
    for section, settings in config.items():
        for name in settings:
            assert name in owners[section].class_traits(config=True), f"{section}.{name}"
    made = seat.__new__(seat)
    for section in ("Spawner", spawner.split(".")[1]):
        for name, value in config[section].items():
            seat.class_traits()[name]._validate(made, value)
    assert config.Spawner.cmd[:2] == ["sh", "-c"]
    assert config.Spawner.environment["LEGTOLEG_CLASS"] == "http://class:8410/seat/class"
    assert "PATH" not in config.Spawner.environment


def test_a_seat_in_a_container_sees_its_own_parts_alone(load_config: Callable[[str], Any], tmp_path: Path) -> None:
    from legtoleg.cohort.cohort_folder import Cohort

    load_config("compose")
    folder = ClassFolder(Cohort(tmp_path / "cohort"))
    seat = container_seat(folder, "ada-01")
    parts = {one.inside: (one.part, one.writable) for one in seat.mounts}
    assert parts == {
        "/home/seat": ("class/homes/ada-01", True),
        "/run/seat/kit": ("class/kits/ada-01", False),
        "/run/seat/feedback": ("feedback/ada-01", False),
        "/run/seat/settings": ("class/settings", False),
    }
    assert seat.user == (folder.homes / "ada-01").stat().st_uid
    with pytest.raises(ClassError, match="not on this cohort"):
        container_seat(folder, "eve-66")
    docker = SimpleNamespace(user=SimpleNamespace(name="ada-01"))
    before_docker(folder)(docker)  # type: ignore[arg-type]
    assert docker.volumes["/srv/cohort/class/homes/ada-01"] == {"bind": "/home/seat", "mode": "rw"}
    assert {one["mode"] for path, one in docker.volumes.items() if "homes" not in path} == {"ro"}
    kube = SimpleNamespace(user=SimpleNamespace(name="ada-01"))
    before_kube(folder)(kube)  # type: ignore[arg-type]
    assert [one["readOnly"] for one in kube.volume_mounts] == [False, True, True, True]
    assert kube.uid == seat.user
    models = pytest.importorskip("kubernetes_asyncio.client.models")
    for one in kube.volume_mounts:
        _checked(models, "V1VolumeMount", one, "mount")
    for one in kube.volumes:
        _checked(models, "V1Volume", one, "volume")


# --- the gate -----------------------------------------------------------------------------------------------------


@pytest.fixture
def gated(tmp_path: Path, load: Callable[[str], ModuleType], monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    """Give a class behind a gate, with a hub that knows two tokens."""
    pytest.importorskip("aiohttp")
    import threading

    from aiohttp import web

    from legtoleg.classroom.seat_gate import SeatGate

    module = load("sealed_class")
    monkeypatch.setenv(sealed_service.GATED, "1")
    one = module.SealedClass(module.make_folder(tmp_path / "cohort", tmp_path / "s")).start()
    ready, ports, stop = threading.Event(), [], asyncio.Event()
    names = {"token a": "ada-01", "token b": "bo-02"}

    async def user(request: web.Request) -> web.Response:
        name = names.get(request.headers.get("Authorization", ""))
        return web.json_response({"kind": "user", "name": name}) if name else web.Response(status=403)

    async def serve() -> None:
        hub = web.Application()
        hub.router.add_get("/hub/api/user", user)
        runners = []
        for side in (hub, None):
            runner = web.AppRunner(side or SeatGate(one.folder, f"http://127.0.0.1:{ports[0]}").side(), access_log=None)
            runners.append(runner)
            await runner.setup()
            site = web.TCPSite(runner, "127.0.0.1", 0)
            await site.start()
            ports.append(site._server.sockets[0].getsockname()[1])  # type: ignore[union-attr]
        loops.append(asyncio.get_running_loop())
        ready.set()
        await stop.wait()
        for runner in runners:
            await runner.cleanup()

    loops: list[asyncio.AbstractEventLoop] = []
    thread = threading.Thread(target=lambda: asyncio.run(serve()), daemon=True)
    thread.start()
    assert ready.wait(20)
    one.at = f"http://127.0.0.1:{ports[1]}/seat/class"
    yield one
    loops[0].call_soon_threadsafe(stop.set)
    thread.join(10)
    one.stop()


def test_a_seat_on_another_computer_works_through_the_gate(gated: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    test = gated.open()
    monkeypatch.setenv("LEGTOLEG_CLASS", gated.at)
    monkeypatch.setenv("JUPYTERHUB_API_TOKEN", "a")
    bench = SealedBench.at(SealedLink.here(), test, "call-1")
    bench.do("unplug")
    assert bench.volts("plug-1", "plug-2").shown.startswith("0.0")
    monkeypatch.setenv("JUPYTERHUB_API_TOKEN", "b")
    assert SealedBench.at(SealedLink.here(), test, "call-1").trail == []
    assert len(gated.book().acts(test, "ada-01", "call-1")) == 2
    assert gated.book().acts(test, "bo-02", "call-1") == []


def test_the_gate_asks_the_hub_whose_token_it_is(gated: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = gated.at.replace("/class", "/bench")
    for token in ("", "c", "a b"):
        monkeypatch.setenv("JUPYTERHUB_API_TOKEN", token)
        assert ask(bench, "GET", "/tests") == (403, {"said": "This bench is another seat's."})
    monkeypatch.setenv("JUPYTERHUB_API_TOKEN", "a")
    assert ask(bench, "GET", "/tests")[0] == 200
    assert ask(gated.at.replace("/class", "/server"), "GET", "/s")[0] == 403
    assert ask(bench, "GET", "/../../bo-02/service/bench/tests")[0] in (403, 404)
    assert json.dumps(ask(bench, "GET", "/tests")[1]) == '{"tests": []}'
