"""The roster: as people save it, with every wrong line named."""

from __future__ import annotations

from pathlib import Path

import pytest

from legtoleg.intake.roster import Person, RosterError, read_roster, roster_text


def written(tmp_path: Path, content: bytes) -> Path:
    path = tmp_path / "roster.csv"
    path.write_bytes(content)
    return path


def test_plain(tmp_path: Path) -> None:
    path = written(tmp_path, b"id,name\nada-01,Ada Demo\nbo-02,Bo Demo\n")
    assert read_roster(path) == [Person("ada-01", "Ada Demo"), Person("bo-02", "Bo Demo")]


@pytest.mark.parametrize(
    "content",
    [
        "\ufeffID;Name;Mail\r\nada-01;Ada Démo;ada@example.org\r\n\r\n".encode(),
        "id\tname\tmail\nada-01\tAda Démo\tada@example.org\n".encode("cp1252"),
        'name,id,mail,shoe size\n"Ada Démo",ada-01,ada@example.org,41\n'.encode(),
    ],
)
def test_as_programs_save_it(tmp_path: Path, content: bytes) -> None:
    assert read_roster(written(tmp_path, content)) == [Person("ada-01", "Ada Démo", "ada@example.org")]


def test_every_wrong_line_is_named(tmp_path: Path) -> None:
    lines = [
        "id,name,mail",
        "ada-01,Ada Demo,",
        "../x,Evil Demo,",
        "ADA-01,Ada Again,",
        "cy-03,,",
        "di-04,Di Demo,nomail",
    ]
    with pytest.raises(RosterError) as error:
        read_roster(written(tmp_path, "\n".join(lines).encode()))
    said = str(error.value).splitlines()
    assert len(said) == 4
    assert "line 3" in said[0]
    assert "'../x'" in said[0]
    assert "line 4" in said[1]
    assert "is in line 2" in said[1]
    assert "cy-03 has no name" in said[2]
    assert "no mail address" in said[3]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "columns must be id and name"),
        (b"name\nAda\n", "columns must be id and name"),
        (b"id,name\n", "no one"),
        (b"id,name\npractice,Ada\n", "practice machine"),
        (b"\xff\xfe\x00\x01", "columns must be"),
    ],
)
def test_what_is_no_roster(tmp_path: Path, content: bytes, said: str) -> None:
    with pytest.raises(RosterError, match=said):
        read_roster(written(tmp_path, content))


def test_many_errors_are_cut(tmp_path: Path) -> None:
    with pytest.raises(RosterError, match="and 88 more"):
        read_roster(written(tmp_path, ("id,name\n" + "!,x\n" * 100).encode()))


def test_a_missing_file_is_one_line(tmp_path: Path) -> None:
    with pytest.raises(RosterError, match="cannot be opened"):
        read_roster(tmp_path / "none.csv")


def test_what_is_written_reads_back(tmp_path: Path) -> None:
    people = [Person("a", "Ada, the Demo", "a@b", "one"), Person("b", 'Bo "B" Demo')]
    assert read_roster(written(tmp_path, roster_text(people).encode())) == people
