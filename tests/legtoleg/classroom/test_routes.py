from __future__ import annotations

from pathlib import Path

from legtoleg.classroom.class_folder import socket_url
from legtoleg.classroom.routes import Routes, socket_in


def test_an_address_of_the_hubs_names_its_socket() -> None:
    assert socket_in(socket_url("/run/x/hub") + ":80") == "/run/x/hub"
    assert socket_in("http://127.0.0.1:80") == ""


def test_the_longest_whole_prefix_is_taken_and_the_class_keeps_its_own(tmp_path: Path) -> None:
    routes = Routes(tmp_path / "routes", {"/services/class": Path("/run/board")})
    assert routes.find("/user/ada") is None
    assert routes.add("/", {"target": socket_url("/run/hub")})
    assert routes.add("/user/ada", {"target": socket_url("/run/ada")})
    assert routes.add("/services/class", {"target": socket_url("/run/evil")})
    found = {
        path: getattr(routes.find(path), "socket", "")
        for path in ("/user/ada/lab", "/user/adam", "/", "/services/class/live")
    }
    assert found == {
        "/user/ada/lab": "/run/ada",
        "/user/adam": "/run/hub",
        "/": "/run/hub",
        "/services/class/live": "/run/board",
    }
    assert not routes.add("/user/bo", {"target": "http://10.0.0.1"})


def test_routes_outlive_the_door(tmp_path: Path) -> None:
    first = Routes(tmp_path / "routes", {})
    first.add("/user/ada", {"target": socket_url("/run/ada"), "user": "ada"})
    first.add("/user/bo", {"target": socket_url("/run/bo")})
    first.remove("/user/bo")
    again = Routes(tmp_path / "routes", {})
    assert list(again.listed()) == ["/user/ada"]
    assert again.listed()["/user/ada"]["user"] == "ada"
