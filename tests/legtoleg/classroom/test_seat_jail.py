from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from legtoleg.classroom import seat_jail
from legtoleg.classroom.class_folder import ClassError, ClassFolder
from legtoleg.classroom.processes import Process
from legtoleg.classroom.seat_files import FIRST_UID, home_of, pack_seat
from legtoleg.classroom.seat_jail import Guard, SeatPlaces, guard_here, seat_command, seat_variables
from legtoleg.classroom.seat_limits import Limits, entering


def places(top: Path) -> SeatPlaces:
    names = ("home", "kit", "feedback", "settings", "server", "service", "gate")
    return SeatPlaces(*(top / name for name in names))


def test_what_keeps_seats_apart_is_said_as_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(seat_jail, "available", lambda: True)
    monkeypatch.setattr(os, "getuid", lambda: 0)
    assert guard_here() is Guard.OWN_USER
    monkeypatch.setattr(os, "getuid", lambda: 1000)
    assert guard_here() is Guard.SAME_USER
    monkeypatch.setattr(seat_jail, "available", lambda: False)
    assert guard_here() is Guard.NOTHING
    assert "trusted room" in Guard.NOTHING.value


def test_a_jailed_seat_gets_no_place_but_its_own(tmp_path: Path) -> None:
    words = seat_command(places(tmp_path), Guard.OWN_USER, 70_003, [])
    writable = {words[at + 1] for at, word in enumerate(words) if word == "--bind"}
    assert writable == {str(tmp_path / "home"), str(tmp_path / "server")}
    assert words[words.index("--reuid") + 1] == "70003"
    assert "--unshare-net" in words
    assert not any(str(tmp_path) in value for value in seat_variables(places(tmp_path), Guard.OWN_USER, "a").values())


def test_a_plain_seat_has_its_places_where_they_are(tmp_path: Path) -> None:
    words = seat_command(places(tmp_path), Guard.NOTHING, 0, [])
    assert "bwrap" not in words
    assert f"--ServerApp.sock={tmp_path / 'server'}/s" in words


def test_a_home_takes_what_it_lacks_and_keeps_what_it_has(room: ClassFolder) -> None:
    kit = pack_seat(room, "ada-01")
    page = kit / "lessons" / "03_heater_power" / "03_heater_power.ipynb"
    assert '"apprentice": "ada-01"' in page.read_text(encoding="utf-8")
    assert not (kit / "lessons" / "dryerbench").exists()
    home, _ = home_of(room, "ada-01")
    begin = ["sh", "-c", seat_jail.BEGIN, "seat", "true"]
    variables = {**os.environ, "LEGTOLEG_KIT": str(kit), "LEGTOLEG_FEEDBACK": str(room.cohort.folder / "feedback")}
    subprocess.run(begin, check=True, cwd=home, env=variables)
    own = home / "lessons" / "03_heater_power" / "03_heater_power.ipynb"
    own.write_text("my work")
    (home / "lessons" / "02_two_legs" / "02_two_legs.ipynb").unlink()
    subprocess.run(begin, check=True, cwd=home, env=variables)
    assert own.read_text() == "my work"
    assert (home / "lessons" / "02_two_legs" / "02_two_legs.ipynb").is_file()
    assert (home / "signed_off.json").readlink() == Path("feedback/signed_off.json")
    assert (home / "feedback").is_symlink()


def test_a_home_that_is_a_link_is_refused(room: ClassFolder, tmp_path: Path) -> None:
    (room.homes / "bo-02").symlink_to(tmp_path)
    with pytest.raises(ClassError, match="is no seat's home"):
        home_of(room, "bo-02")


@pytest.mark.skipif(os.getuid() != 0, reason="needs root")
def test_each_home_has_a_user_of_its_own(room: ClassFolder) -> None:
    users = [home_of(room, who)[1] for who in ("ada-01", "bo-02", "ada-01")]
    assert users == [FIRST_UID, FIRST_UID + 1, FIRST_UID]


@pytest.mark.parametrize("version", [1, 2])
def test_limits_are_set_in_control_groups(tmp_path: Path, version: int) -> None:
    if version == 2:
        (tmp_path / "cgroup.controllers").write_text("memory pids cpu")
        place = tmp_path / "leg-to-leg" / "ada"
        place.mkdir(parents=True)
        files = {"memory.max": str(1 << 30), "pids.max": "256", "cpu.max": "150000 100000"}
    else:
        for kind in ("memory", "pids", "cpu"):
            (tmp_path / kind / "leg-to-leg" / "ada").mkdir(parents=True)
            (tmp_path / kind / "cgroup.procs").write_text("")
        place = tmp_path / "memory" / "leg-to-leg" / "ada"
        files = {"memory.limit_in_bytes": str(1 << 30)}
    for name in files:
        (place / name).write_text("")
    groups = Limits().groups("ada", tmp_path)
    assert len(groups) == (1 if version == 2 else 3)
    assert {name: (place / name).read_text() for name in files} == files
    done = subprocess.run([*entering(groups), "sh", "-c", "echo $$"], check=True, capture_output=True, text=True)
    assert groups[0].read_text() == done.stdout


def test_without_control_groups_there_are_none(tmp_path: Path) -> None:
    assert Limits().groups("ada", tmp_path) == []
    assert entering([]) == []


def test_what_the_kernel_does_not_limit_is_named(tmp_path: Path) -> None:
    """Nothing, all, or one of three; and no group is left behind by asking."""
    everything = ["memory (1024 MiB)", "processes (256)", "processor (1.5 cores)"]
    assert Limits().not_held(tmp_path) == everything
    for kind in ("memory", "pids"):
        (tmp_path / kind).mkdir()
        (tmp_path / kind / "cgroup.procs").write_text("")
    assert Limits().not_held(tmp_path) == everything[2:]
    assert not list(tmp_path.glob("*/leg-to-leg/*"))
    newer = tmp_path / "v2"
    newer.mkdir()
    (newer / "cgroup.controllers").write_text("memory pids cpu")
    place = newer / "leg-to-leg" / "is-it-held"
    place.mkdir(parents=True)
    for file in ("memory.max", "cpu.max"):
        (place / file).write_text("")
    assert Limits().not_held(newer) == everything[1:2]


def test_a_process_is_known_by_its_start_too() -> None:
    child = subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE)
    one = Process.of(child.pid)
    assert one.alive()
    assert not Process(one.pid, one.started + 1).alive()
    child.communicate(b"\n")
    assert not one.alive()
    assert not Process(0).alive()
