"""The zip reader: limits over all levels, names that lead nowhere else, and one line for every kind of damage."""

from __future__ import annotations

import io
import random
import stat
import zipfile
from pathlib import Path

import pytest

from dryerbench.core.errors import LegToLegError
from legtoleg.intake.inbox import open_received
from legtoleg.intake.zip_reader import Limits, ZipReader, ZipReadError, ZipTooLargeError, open_zip
from legtoleg.refresher.proof.backup import read_backup

ROOM = Limits(entries=100, size=1_000_000, depth=3)
METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA)


def packed(entries: dict[str, bytes], method: int = zipfile.ZIP_DEFLATED, kind: int = stat.S_IFREG) -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", method) as archive:
        for name, content in entries.items():
            about = zipfile.ZipInfo(name, (2026, 5, 4, 3, 2, 2))
            about.compress_type, about.external_attr = method, (kind | 0o644) << 16
            archive.writestr(about, content)
    return buffer.getvalue()


def reader(content: bytes, limits: Limits = ROOM) -> ZipReader:
    return ZipReader(io.BytesIO(content), limits)


@pytest.mark.parametrize("method", METHODS)
def test_what_was_packed_is_read(method: int) -> None:
    with reader(packed({"a/b.txt": b"x" * 5000}, method)) as archive:
        (entry,) = archive.entries
        assert (entry.path.as_posix(), entry.is_folder, entry.refused) == ("a/b.txt", False, "")
        assert archive.read(entry) == b"x" * 5000
        assert entry.changed is not None


@pytest.mark.parametrize("name", ["/a", "../a", "a/../../b", "..\\a", "C:\\a", "C:/a", "\\a"])
def test_a_path_that_leads_out_is_never_read(name: str) -> None:
    with reader(packed({name: b"x"})) as archive, pytest.raises(ZipReadError, match="leads out of the zip"):
        archive.read(archive.entries[0])


@pytest.mark.parametrize("kind", [stat.S_IFLNK, stat.S_IFCHR, stat.S_IFIFO, stat.S_IFSOCK])
def test_links_and_devices_are_never_read(kind: int) -> None:
    with reader(packed({"a": b"/etc/passwd"}, kind=kind)) as archive, pytest.raises(ZipReadError, match="a link or"):
        archive.read(archive.entries[0])


def test_a_locked_entry_is_named() -> None:
    content = bytearray(packed({"a": b"x"}))
    content[content.index(b"PK\x01\x02") + 8] |= 1
    with reader(bytes(content)) as archive, pytest.raises(ZipReadError, match="locked with a password"):
        archive.read(archive.entries[0])


def test_a_name_is_one_line_for_a_person() -> None:
    with reader(packed({"a\nb\x1b[31m" + "c" * 500: b"x"})) as archive:
        assert archive.entries[0].name.isprintable()
        assert len(archive.entries[0].name) == 200


def nested(levels: int, inner: dict[str, bytes]) -> bytes:
    content = packed(inner)
    for level in range(levels - 1):
        content = packed({f"{level}.zip": content, f"{level}.bin": b"0" * 300_000})
    return content


def everything(archive: ZipReader) -> int:
    """Read all there is, zips in zips too, and return its bytes; the innermost first."""
    total = 0
    for entry in archive.entries:
        if entry.path.suffix == ".zip":
            with archive.inside(entry) as inner:
                total += everything(inner)
        else:
            total += len(archive.read(entry))
    return total


def test_bytes_are_counted_over_all_levels() -> None:
    bomb = nested(3, {"a.bin": b"0" * 300_000})
    assert everything(reader(bomb)) == 900_000
    with pytest.raises(ZipTooLargeError):
        everything(reader(bomb, Limits(100, 890_000, 3)))


def test_a_zip_that_doubles_at_each_level_stops_at_the_limit() -> None:
    content = packed({"a.bin": b"0" * 200_000})
    for _ in range(8):
        content = packed({"a.zip": content, "b.zip": content})
    archive = reader(content, Limits(10_000, 1_000_000, 20))
    with pytest.raises(ZipTooLargeError):
        everything(archive)
    with pytest.raises(ZipTooLargeError):
        archive.read(archive.entries[0])


def test_entries_are_counted_over_all_levels_before_they_are_listed() -> None:
    many = nested(3, {f"{n}": b"" for n in range(50)})
    assert everything(reader(many, Limits(54, 1_000_000, 3))) == 600_000
    with pytest.raises(ZipTooLargeError, match="50 entries"):
        everything(reader(many, Limits(53, 1_000_000, 3)))


def test_depth_has_its_limit() -> None:
    deep = nested(3, {"a": b"1"})
    assert everything(reader(deep)) == 600_001
    with pytest.raises(ZipReadError, match="unpack it first"):
        everything(reader(deep, Limits(100, 1_000_000, 2)))


def test_a_file_larger_than_its_limit_is_not_opened(tmp_path: Path) -> None:
    (tmp_path / "a.zip").write_bytes(b"0" * 2_000_000)
    with pytest.raises(ZipTooLargeError, match="more than 1 MB"), open_zip(tmp_path / "a.zip", ROOM):
        pass
    with pytest.raises(ZipReadError, match="not a plain file"), open_zip(tmp_path, ROOM):
        pass


def whole(luck: random.Random) -> bytes:
    """Return a zip with every way of packing in it, and zips in it that have the same."""
    content = packed({"kit.json": b'{"apprentice": "ada-01"}', "x.ipynb": b"{}"}, luck.choice(METHODS))
    for level in range(2):
        buffer = io.BytesIO(content)
        with zipfile.ZipFile(buffer, "a") as archive:
            for place, method in enumerate(METHODS):
                text = luck.randbytes(luck.randrange(40)) * luck.randrange(1, 90)
                archive.writestr(f"{level}/{place}.ipynb", text, compress_type=method)
        content = packed({"in.zip": buffer.getvalue(), "kit.json": b"{}", "b.ipynb": b"{}" * 900}, luck.choice(METHODS))
    return content


def damaged(content: bytes, luck: random.Random) -> bytes:
    """Return ``content`` hurt at a few places: bytes changed, runs cut out, written twice or wiped, the end lost."""
    hurt = bytearray(content)
    headers = [at for at in range(len(hurt) - 4) if hurt[at : at + 2] == b"PK"]
    for _ in range(luck.randrange(1, 6)):
        at = luck.choice(headers) + luck.randrange(46) if luck.random() < 0.6 else luck.randrange(len(hurt))
        at, long = min(at, len(hurt) - 1), luck.randrange(1, 30)
        match luck.randrange(6):
            case 0 | 1:
                hurt[at] = luck.randrange(256)
            case 2:
                hurt[at] = luck.choice((0, 1, 8, 12, 14, 255))
            case 3:
                hurt[at : at + long] = bytes(long)
            case 4:
                hurt[at:at] = hurt[at : at + long]
            case _:
                del hurt[at : at + long]
    return bytes(hurt[: luck.randrange(len(hurt))] if luck.random() < 0.1 else hurt)


def all_read(content: bytes) -> list[str]:
    """Read all that can be read and return what was said of the rest."""
    said: list[str] = []

    def read(archive: ZipReader) -> None:
        for entry in archive.entries:
            try:
                if entry.path.suffix == ".zip":
                    with archive.inside(entry) as inner:
                        read(inner)
                else:
                    archive.read(entry)
            except LegToLegError as error:
                said.append(str(error))

    try:
        with reader(content) as archive:
            read(archive)
    except LegToLegError as error:
        said.append(str(error))
    return said


@pytest.mark.parametrize("seed", range(60))
def test_damage_of_any_kind_is_told_in_one_line(seed: int, tmp_path: Path) -> None:
    luck = random.Random(seed)
    content = whole(luck)
    assert all_read(content) == []
    heard: list[str] = []
    for turn in range(25):
        hurt = damaged(content, luck)
        heard += all_read(hurt)
        path = tmp_path / f"{turn}.zip"
        path.write_bytes(hurt)
        heard += [piece.refused for piece in open_received(path) if piece.refused]
        with pytest.raises(LegToLegError) as raised:
            read_backup(path)
        heard.append(str(raised.value))
    assert len(heard) > 40
    assert all(said and "\n" not in said and len(said) < 400 for said in heard)
