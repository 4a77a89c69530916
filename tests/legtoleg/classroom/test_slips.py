"""Slips: nobody's code is lost, whoever deals, whether the class runs or not."""

from __future__ import annotations

import socket
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest
from typer.testing import CliRunner

from legtoleg.classroom.accounts import Accounts
from legtoleg.classroom.class_folder import INSTRUCTOR, ClassFolder
from legtoleg.classroom.service_state import Service
from legtoleg.classroom.slips import (
    ADDRESS,
    EARLIER,
    FILE,
    Slip,
    deal_anew,
    deal_slips,
    keep_address,
    kept_address,
    unused,
)
from legtoleg.classroom.supervisor import only_one
from legtoleg.cli.command import app
from legtoleg.intake.roster import Person

HERE = "http://here:8400"


def whos(slips: list[Slip]) -> list[str]:
    return sorted(one.who for one in slips)


def fit(room: ClassFolder) -> bool:
    """Tell whether every code on the page opens the door."""
    return all(Accounts(room).fits(one.who, one.code) for one in unused(room))


def test_slips_are_dealt_once_and_a_page_keeps_what_was_not_used(room: ClassFolder) -> None:
    people, page = room.cohort.people(), room.root / FILE
    assert whos(deal_slips(room, people[:2], HERE)) == [people[0].id, people[1].id, INSTRUCTOR]
    assert "Ada Demo" in page.read_text()
    assert "Cy Demo" not in page.read_text()
    assert stat.S_IMODE(page.stat().st_mode) == 0o600
    assert deal_slips(room, people[:2], HERE) == []
    Accounts(room).choose(people[0].id, "meter-7-leads")
    assert whos(deal_slips(room, people, HERE)) == [people[2].id]
    assert whos(unused(room)) == [people[1].id, people[2].id, INSTRUCTOR]
    assert "Ada Demo" not in page.read_text()
    assert fit(room)


def test_a_new_code_takes_the_place_of_the_old_one_and_of_no_other(room: ClassFolder) -> None:
    people = room.cohort.people()
    first = {one.who: one.code for one in deal_slips(room, people, HERE)}
    new = deal_anew(room, people[1].id, people[1].name, HERE)
    assert {one.who: one.code for one in unused(room)} == first | {people[1].id: new.code}
    assert new.code != first[people[1].id]
    assert fit(room)


def test_slips_that_wait_say_where_the_class_is_now(room: ClassFolder) -> None:
    deal_slips(room, room.cohort.people(), HERE)
    assert deal_slips(room, room.cohort.people(), "https://there:9000") == []
    assert HERE not in (room.root / FILE).read_text()
    assert (room.root / FILE).read_text().count("https://there:9000") == 4
    assert fit(room)


def test_a_name_with_marks_of_a_page_comes_back_as_it_was(room: ClassFolder) -> None:
    person = Person("dee-09", 'Dee "<b>" & Demo')
    deal_slips(room, [person], HERE)
    deal_slips(room, room.cohort.people(), HERE)
    assert person.name in {one.name for one in unused(room)}


@pytest.mark.parametrize("text", ["<p>Your code: aaaa-bbbb-cccc</p>", '<div data-code="a" data-made="soon"></div>', ""])
def test_a_page_that_cannot_be_read_back_is_kept_aside(room: ClassFolder, text: str) -> None:
    (room.root / FILE).write_text(text)
    deal_slips(room, room.cohort.people(), HERE)
    assert (room.root / EARLIER).read_text() == text
    assert len(unused(room)) == 4


def test_a_kill_before_codes_count_loses_nobody(room: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as broken:
        broken.setattr(Accounts, "keep_codes", lambda *_: (_ for _ in ()).throw(KeyboardInterrupt))
        with pytest.raises(KeyboardInterrupt):
            deal_slips(room, room.cohort.people(), HERE)
    assert len(deal_slips(room, room.cohort.people(), HERE)) == 4
    assert len(unused(room)) == 4
    assert fit(room)


def test_who_joins_late_gets_a_slip_while_the_class_runs(room: ClassFolder) -> None:
    people = room.cohort.people()
    keep_address(room, HERE)
    deal_slips(room, people[:2], HERE)
    service = Service(room)
    service.people = {one.id: one for one in people}
    assert service.deal()
    assert whos(unused(room)) == [people[0].id, people[1].id, people[2].id, INSTRUCTOR]
    assert (room.root / FILE).read_text().count(HERE) == 4
    assert service.short == f"Print the new slips ({people[2].id}): class/slips.html."
    Accounts(room).choose(people[2].id, "meter-7-leads")
    service.look()
    assert service.short == ""


def test_a_full_disk_puts_dealing_off(room: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    service = Service(room)
    service.people = {one.id: one for one in room.cohort.people()}
    with monkeypatch.context() as full:
        full.setattr("legtoleg.classroom.slips.write_whole", lambda *_: (_ for _ in ()).throw(OSError(28, "full")))
        assert not service.deal()
    assert service.deal()
    assert len(unused(room)) == 4


def test_people_of_a_platform_get_no_slips(room: ClassFolder) -> None:
    service = Service(room)
    service.people = {one.id: one for one in room.cohort.people()}
    (room.root / "platform.json").write_text("{")
    assert not service.deal()
    names = ("issuer", "client_id", "authorize_url", "jwks_url", "id_claim")
    entries = ", ".join(f'"{name}": "https://platform.example"' for name in names)
    (room.root / "platform.json").write_text(f"{{{entries}}}")
    assert service.deal()
    assert not (room.root / FILE).exists()


# --- the command ------------------------------------------------------------------------------------------------------


@pytest.fixture
def taken() -> Iterator[int]:
    """Give a port at which somebody listens."""
    pytest.importorskip("jupyterhub")
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        door.listen()
        yield int(door.getsockname()[1])


def run(folder: Path, *words: str) -> tuple[int, str]:
    got = CliRunner().invoke(app, ["class", str(folder), *words])
    return got.exit_code, " ".join(got.output.split()) + str(got.exception or "")


def test_a_new_code_while_the_class_runs_says_the_address_of_its_start(room: ClassFolder, taken: int) -> None:
    address = f"https://127.0.0.1:{taken}"
    keep_address(room, address)
    deal_slips(room, room.cohort.people(), address)
    who = room.cohort.people()[0].id
    with only_one(room):
        code, said = run(room.cohort.folder, "--new-code", who)
    assert code == 0, said
    assert f"The new slip says {address}" in said
    assert (room.root / FILE).read_text().count(address) == 4
    assert len(unused(room)) == 4
    assert fit(room)


def test_a_new_code_before_the_first_start_takes_the_address_of_the_options(room: ClassFolder, taken: int) -> None:
    code, said = run(room.cohort.folder, "--new-code", INSTRUCTOR, "--port", str(taken))
    assert code == 0, said
    assert f"http://127.0.0.1:{taken}" in (room.root / FILE).read_text()
    assert not (room.root / ADDRESS).exists()
    code, said = run(room.cohort.folder, "--new-code", "nobody-99")
    assert code != 0
    assert "Nobody with the id 'nobody-99' is in roster.csv" in said


def test_a_start_at_a_port_that_is_taken_keeps_no_address(room: ClassFolder, taken: int) -> None:
    keep_address(room, HERE)
    code, said = run(room.cohort.folder, "--port", str(taken))
    assert code != 0
    assert "Name another: --port." in said
    with only_one(room):
        code, said = run(room.cohort.folder, "--port", str(taken))
    assert code != 0
    assert "already running" in said
    assert kept_address(room, "") == HERE
