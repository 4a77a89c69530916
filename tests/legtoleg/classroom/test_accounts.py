from __future__ import annotations

import stat
from dataclasses import replace
from datetime import date

import pytest

from legtoleg.classroom.accounts import Accounts, Guessing, fault_of, plain_code
from legtoleg.classroom.class_folder import INSTRUCTOR, ClassFolder
from legtoleg.classroom.log_in import RosterAuthenticator
from legtoleg.intake.roster import roster_text


def test_a_code_works_until_a_password_is_chosen_and_then_never_again(room: ClassFolder) -> None:
    accounts = Accounts(room)
    code = accounts.deal_code("Ada-01")
    assert not accounts.fits("ada-01", "wrong")
    assert accounts.fits("ada-01", code)
    assert accounts.fits("ada-01", f" {code.upper().replace('-', ' ')} ")
    accounts.choose("ada-01", "meter-7-leads")
    assert not accounts.fits("ada-01", code)
    assert accounts.fits("ADA-01", "meter-7-leads")
    assert not accounts.fits("ada-01", "meter-7-lead")
    new = accounts.deal_code("ada-01")
    assert not accounts.fits("ada-01", "meter-7-leads")
    assert accounts.fits("ada-01", new)


def test_nobody_comes_in_without_an_account(room: ClassFolder) -> None:
    assert not any(Accounts(room).fits("nobody", said) for said in ("", "no code", "0"))


def test_the_file_holds_no_code_and_no_password(room: ClassFolder) -> None:
    accounts = Accounts(room)
    code = accounts.deal_code("ada-01")
    accounts.choose("bo-02", "meter-7-leads")
    path = room.root / "secrets" / "accounts.json"
    text = path.read_text()
    assert code not in text
    assert plain_code(code) not in text
    assert "meter-7-leads" not in text
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


@pytest.mark.parametrize(
    ("new", "again", "words"),
    [
        ("meter-7-leads", "meter-7-lead", "same"),
        ("short", "short", "8 characters"),
        ("aaaaaaaaaa", "aaaaaaaaaa", "easy"),
    ],
)
def test_a_password_that_will_not_do(new: str, again: str, words: str) -> None:
    assert words in fault_of(new, again, "ada-01")


def test_a_password_that_will_do() -> None:
    assert fault_of("meter-7-leads", "meter-7-leads", "ada-01") == ""


def test_guesses_wait_longer_and_longer_and_a_right_one_clears_them() -> None:
    now = [0.0]
    guessing = Guessing(free=3, wait=10, clock=lambda: now[0])
    waits = []
    for _ in range(6):
        waits.append(guessing.seconds_left("a"))
        guessing.note("a", right=False)
    assert waits == [0, 0, 0, 10, 20, 40]
    assert guessing.seconds_left("b") == 0
    now[0] = 79
    assert guessing.seconds_left("a") == 1
    guessing.note("a", right=True)
    assert guessing.seconds_left("a") == 0


def test_who_has_left_does_not_come_in(room: ClassFolder) -> None:
    people = room.cohort.people()
    authenticator = RosterAuthenticator()
    authenticator.folder = room
    assert authenticator.check_allowed(people[0].id)
    gone = [replace(people[0], left=date(2026, 1, 2)), replace(people[1], left=date(2999, 1, 2)), *people[2:]]
    (room.cohort.folder / "roster.csv").write_text(roster_text(gone), encoding="utf-8")
    assert [person.id for person in room.cohort.here()] == [person.id for person in people[1:]]
    assert not authenticator.check_allowed(people[0].id)
    assert authenticator.check_allowed(people[1].id)
    assert authenticator.check_allowed(INSTRUCTOR)
