"""Backups: the shop's folder in one file, checked when it is written and again, all of it, before it is restored."""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath

from dryerbench.core.errors import LegToLegError
from legtoleg.core.files import write_whole
from legtoleg.intake.zip_reader import Limits, ZipReadError, ZipTooLargeError, open_zip
from legtoleg.ledger.entry import Entry
from legtoleg.ledger.hash_chain import Row, followed
from legtoleg.ledger.ledger import Ledger
from legtoleg.ledger.noted_ledger import NOTE
from legtoleg.refresher.proof.export import ledger_lines
from legtoleg.refresher.record.ledger_entry import FORM
from legtoleg.refresher.record.safety_topics import FILE as TOPICS
from legtoleg.refresher.record.shop import PEOPLE, SETTINGS, Shop
from legtoleg.refresher.testing.recording import RECEIVED, RESULTS
from legtoleg.witness.witness_record import FORM as WITNESS
from legtoleg.witness.witness_record import WitnessRecord

LINES, SUMS = "ledger.jsonl", "sums.json"
WITNESSES = "witness.jsonl"
"""Who was watched at a real machine: a ledger of its own, in a backup only where anything was entered."""
_SINGLE = (SETTINGS, PEOPLE, TOPICS, NOTE)
LIMITS = Limits(entries=500_000, size=2_000_000_000)
"""Of a backup: decades of a large shop; one file for each test that came back, and one for its result."""


class BackupError(LegToLegError, ValueError):
    """A backup that cannot be written or restored; the text says why."""


def _files(shop: Shop) -> Iterator[tuple[str, bytes]]:
    for name in _SINGLE:
        if (shop.folder / name).is_file():
            yield name, (shop.folder / name).read_bytes()
    for folder in (RECEIVED, RESULTS):
        for path in sorted((shop.folder / folder).glob("*")):
            if path.is_file() and not path.is_symlink() and not path.name.startswith("."):
                yield f"{folder}/{path.name}", path.read_bytes()


def back_up(shop: Shop, path: Path) -> Entry:
    """Write the backup of ``shop`` to ``path`` and return the last entry in it.

    The signing key is left out: a lost key is replaced by a new one, and a backup that is passed on gives none away.

    Raises
    ------
    BackupError
        If there is a file already.
    DamagedLedgerError
        If the ledger or the witness record is not whole: a damaged one is not backed up over good ones.
    """
    if path.exists():
        raise BackupError(f"{path} is there already, and a backup is never overwritten: give another name.")
    entries = shop.entries()
    content = {LINES: ledger_lines(entries).encode("utf-8"), **dict(_files(shop))}
    if seen := WitnessRecord(shop.folder).entries():
        content[WITNESSES] = ledger_lines(seen, WITNESS).encode("utf-8")
    sums = {name: hashlib.sha256(one).hexdigest() for name, one in content.items()}
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(SUMS, json.dumps(sums, indent=1, sort_keys=True))
        for name, one in content.items():
            archive.writestr(name, one)
    write_whole(path, packed.getvalue(), 0o600)
    return entries[-1]


def _wanted(name: str) -> bool:
    parts = PurePosixPath(name).parts
    return name in (*_SINGLE, LINES, WITNESSES) or (
        len(parts) == 2 and parts[0] in (RECEIVED, RESULTS) and ".." not in parts
    )


def _unpacked(path: Path) -> dict[str, bytes]:
    """Return every file in a backup, by its name; a name that stands twice is damage."""
    with open_zip(path, LIMITS) as archive:
        names = [entry.path.as_posix() for entry in archive.entries]
        if len(set(names)) < len(names):
            raise ZipReadError("a name is in it twice")
        return {name: archive.read(entry) for name, entry in zip(names, archive.entries, strict=True)}


def _rows(content: bytes) -> list[Row]:
    """Return the lines of a ledger."""
    return [Row(**json.loads(line)) for line in content.decode("utf-8").splitlines()]


def _read(content: dict[str, bytes]) -> tuple[dict[str, str], list[Row], list[Row]]:
    """Return what a backup says of its files (name and hash), and the lines of its ledger and its witness record."""
    sums = json.loads(content[SUMS])
    return dict(sums.items()), _rows(content[LINES]), _rows(content.get(WITNESSES, b""))


@dataclass(frozen=True)
class Backup:
    """What is in a backup: its files by name, the entries of its ledger, and those of its witness record, if any."""

    files: dict[str, bytes]
    entries: list[Entry]
    seen: list[Entry]


def read_backup(path: Path) -> Backup:
    """Return what is in the backup ``path``, after checking every byte of it.

    Raises
    ------
    BackupError
        If it is no backup, or not whole.
    DamagedLedgerError
        If a ledger in it is not whole.
    """
    try:
        content = _unpacked(path)
        sums, rows, seen = _read(content)
    except OSError as error:
        raise BackupError(f"{path} cannot be opened: {error.strerror or error}.") from None
    except ZipTooLargeError:
        raise BackupError(f"{path} is larger than any backup.") from None
    except (ZipReadError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise BackupError(f"{path} is not a backup, or is damaged. Take another.") from None
    del content[SUMS]
    strange = sorted(sums.keys() ^ content.keys()) or [n for n in content if not _wanted(n)]
    wrong = strange or [name for name, one in content.items() if hashlib.sha256(one).hexdigest() != sums[name]]
    if wrong:
        raise BackupError(f"{path} is damaged: {wrong[0]:.80} is not as it was.")
    return Backup(content, followed(FORM, rows), followed(WITNESS, seen) if WITNESSES in content else [])


def restore(path: Path, folder: Path, ledger: str = "") -> Shop:
    """Restore the backup ``path`` into the new ``folder``; ``ledger`` is another database for its entries.

    Raises
    ------
    BackupError
        If it is not whole, or the folder is not new.
    LedgerError
        If there is a ledger at that address already.
    """
    kept = read_backup(path)
    content, entries = kept.files, kept.entries
    if folder.exists() and any(folder.iterdir()):
        raise BackupError(f"{folder} is not empty. A backup goes into a new folder, and nothing is overwritten.")
    folder.mkdir(parents=True, exist_ok=True)
    write_whole(folder / SETTINGS, content[SETTINGS])
    shop = Shop.at(folder)
    if ledger:
        shop = replace(shop, settings=replace(shop.settings, ledger=ledger))
        write_whole(folder / SETTINGS, shop.settings.text().encode("utf-8"))
    Ledger(shop.address, FORM).copy(entries)
    for name, one in content.items():
        if name not in (LINES, SETTINGS, WITNESSES):
            write_whole(folder / name, one)
    if kept.seen:
        WitnessRecord(folder).copy(kept.seen)
    shop.entries()
    shop.note(entries[-1])
    return shop
