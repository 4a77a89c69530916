"""Exports: the ledger for an auditor, as CSV, as xAPI statements, and as the canonical lines that its hashes are of."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from dryerbench.core.version import FIELD, readable_version
from legtoleg.core.files import write_whole
from legtoleg.ledger.corrections import corrections
from legtoleg.ledger.entry import Entry, Form
from legtoleg.ledger.hash_chain import LIMITS, row_of
from legtoleg.refresher.proof.shop_pages import words_of
from legtoleg.refresher.proof.xapi import statements
from legtoleg.refresher.record.history import topics_of
from legtoleg.refresher.record.ledger_entry import FORM
from legtoleg.refresher.record.shop import Shop
from legtoleg.report.report_tables import Row, table_of, write_csv
from legtoleg.witness.job_steps import job_steps
from legtoleg.witness.witness_record import FORM as WITNESS
from legtoleg.witness.witness_record import SEEN, WitnessRecord
from legtoleg.witness.witness_record import words_of as in_words

HEAD = [
    "entry", "day at the shop", "entered (UTC)", "what", "id", "name", "in words", "topics", "passed", "points", "of",
    "counts", "corrected by", "course version", "hash", "hash before",
]  # fmt: skip
WITNESS_HEAD = [
    "entry", "day", "entered (UTC)", "what", "id", "name", "watched by", "dryer", "passed", "steps not passed",
    "in words", "counts", "corrected by", "course version", "hash", "hash before",
]  # fmt: skip

_READ_ME = f"""What is in this folder
ledger.csv        every entry in words, for a spreadsheet
ledger.jsonl      every entry as it is chained; one line each: number, body, before, hash, once
statements.json   every outcome as an xAPI statement (IEEE 9274.1.1); nothing was sent anywhere
witness.csv       who watched whom do the whole job on a real dryer, in words (if anything was entered)
witness.jsonl     the same as it is chained, a ledger of its own; one line each, like ledger.jsonl

How to check a hash: it is the SHA-256 of the canonical JSON (RFC 8785) of
{{"form": "{FORM.name}", "number": …, "before": …, "body": …}}, body being the text as it is in the line.
In witness.jsonl the form is "{WITNESS.name}".

{LIMITS}

These are training records, not licenses.
"""


def _who_and_when(entry: Entry, names: dict[str, str]) -> Row:
    """Return what a row of any ledger begins with."""
    on, entered = entry.on.isoformat(), entry.entered.isoformat(timespec="seconds")
    return [entry.number, on, entered, entry.kind, entry.who, names.get(entry.who, "")]


def _standing(entry: Entry, struck: dict[int, Entry]) -> Row:
    """Return what a row of any ledger ends with: does it count, what corrected it, its version and hashes."""
    by = struck[entry.number].number if entry.number in struck else ""
    return ["no" if by else "yes", by, readable_version(entry.data.get(FIELD)), entry.hash, entry.before]


def csv_row(entry: Entry, shop: Shop, names: dict[str, str], struck: dict[int, Entry]) -> Row:
    """Return one entry as a row of the CSV file."""
    data = entry.data
    outcome = [("yes" if data["passed"] else "no"), data["points"], data["of"]] if "passed" in data else ["", "", ""]
    said = [words_of(entry, shop.topics), ", ".join(topics_of(entry)), *outcome]
    return [*_who_and_when(entry, names), *said, *_standing(entry, struck)]


def witness_row(entry: Entry, names: dict[str, str], struck: dict[int, Entry]) -> Row:
    """Return one entry of the witness record as a row of the CSV file."""
    data, seen = entry.data, entry.kind == SEEN
    missed = [one.number for one in job_steps() if not data["steps"].get(one.name, False)] if seen else []
    passed = ("no" if missed else "yes") if seen else ""
    job = [str(data.get("by", "")), str(data.get("machine", "")), passed, ", ".join(map(str, missed)), in_words(entry)]
    return [*_who_and_when(entry, names), *job, *_standing(entry, struck)]


def ledger_lines(entries: Sequence[Entry], form: Form = FORM) -> str:
    """Return a ledger as lines of JSON, with everything that its hashes are of."""
    return "".join(
        json.dumps(vars(row_of(form, entry)), ensure_ascii=False, sort_keys=True) + "\n" for entry in entries
    )


def export(shop: Shop, out: Path) -> list[Path]:
    """Write the audit export into the folder ``out`` and return its files.

    Raises
    ------
    DamagedLedgerError
        If the ledger, or the shop's witness record, is not whole.
    """
    entries = shop.entries()
    names = {who: person.name for who, person in shop.people().items()}
    struck = corrections(entries)
    out.mkdir(parents=True, exist_ok=True)
    files = [out / name for name in ("ledger.csv", "ledger.jsonl", "statements.json", "READ ME.txt")]
    write_csv(files[0], table_of(HEAD, (csv_row(entry, shop, names, struck) for entry in entries)))
    write_whole(files[1], ledger_lines(entries).encode("utf-8"))
    text = json.dumps(statements(entries), ensure_ascii=False, indent=1) + "\n"
    write_whole(files[2], text.encode("utf-8"))
    write_whole(files[3], _READ_ME.encode("utf-8"))
    return [*files, *_witnesses(shop, out, names)]


def _witnesses(shop: Shop, out: Path, names: dict[str, str]) -> list[Path]:
    """Write who was watched at a real machine, where anything was ever entered, and return the files."""
    seen = WitnessRecord(shop.folder).entries()
    if not seen:
        return []
    struck, files = corrections(seen), [out / "witness.csv", out / "witness.jsonl"]
    write_csv(files[0], table_of(WITNESS_HEAD, (witness_row(entry, names, struck) for entry in seen)))
    write_whole(files[1], ledger_lines(seen, WITNESS).encode("utf-8"))
    return files
