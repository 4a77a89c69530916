"""The roster: as people save it, with every wrong line named."""

from __future__ import annotations

from pathlib import Path

import pytest

from dryerbench.core.errors import KitError
from legtoleg.intake.roster import Person, RosterError, id_called, read_roster, roster_text


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
        (b"id,name\npractice,Ada\n", "practice dryer"),
        (b"\xff\xfe\x00\x01", "columns must be"),
        (b"PK\x03\x04\x14\x00", "save it as CSV"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1", "save it as CSV"),
        (b"id,name\nada-01,Demo, Ada\n", "line 2: it has more cells than there are columns"),
        (b"id,name\ncon,Ada\n", "cannot be the name of a folder on Windows"),
        (b"id,name\nLPT1.x,Ada\n", "cannot be the name of a folder on Windows"),
        (b"id,name\nada.,Ada\n", "cannot be the name of a folder on Windows"),
    ],
)
def test_what_is_no_roster(tmp_path: Path, content: bytes, said: str) -> None:
    with pytest.raises(RosterError, match=said):
        read_roster(written(tmp_path, content))


def test_cells_without_a_name_at_the_end_of_a_line_are_no_error(tmp_path: Path) -> None:
    content = b"id,name\nada-01,Ada Demo,,\ncon-02,Con Demo\n"
    assert [one.id for one in read_roster(written(tmp_path, content))] == ["ada-01", "con-02"]


def test_whose_id_is_meant() -> None:
    ids = ["ada-01", "Bo-02", *(f"p-{number:03}" for number in range(200))]
    assert id_called(" BO-02 ", ids, "roster.csv") == "Bo-02"
    with pytest.raises(RosterError, match=r"^Nobody with the id 'ada-1' is in roster.csv. Did you mean ada-01\?$"):
        id_called("ada-1", ids, "roster.csv")
    with pytest.raises(KitError, match=r"there are: ada-01, Bo-02, .{250,}…$"):
        id_called("zzz", ids, "roster.csv", KitError)
    with pytest.raises(RosterError, match=r"there are: none\.$"):
        id_called("zzz", [], "roster.csv")


def test_many_errors_are_cut(tmp_path: Path) -> None:
    with pytest.raises(RosterError, match="and 88 more"):
        read_roster(written(tmp_path, ("id,name\n" + "!,x\n" * 100).encode()))


def test_a_missing_file_is_one_line(tmp_path: Path) -> None:
    with pytest.raises(RosterError, match="cannot be opened"):
        read_roster(tmp_path / "none.csv")


def test_what_is_written_reads_back(tmp_path: Path) -> None:
    people = [Person("a", "Ada, the Demo", "a@b", "one"), Person("b", 'Bo "B" Demo')]
    assert read_roster(written(tmp_path, roster_text(people).encode())) == people
