"""Entries: what stands in a ledger, in one canonical form (RFC 8785), each chained by SHA-256 to the one before."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any, TypeAlias

import rfc8785

from dryerbench.core.errors import LegToLegError

START = "0" * 64
"""What the first entry names as the hash before it."""

OPENED, CORRECTED = "opened", "corrected"
"""The kinds of entry that every ledger has: its first one, and the one that says that another does not count."""
EntryData: TypeAlias = Mapping[str, Any]
"""What an entry says beside its fields: each kind has its own, as the code that enters it writes them."""
_FIELDS = {"kind", "who", "on", "entered", "data"}


class EntryError(LegToLegError, ValueError):
    """Something that is no entry of a ledger."""


@dataclass(frozen=True)
class Form:
    """What is a record's own: its name, which goes into every hash; its kinds; what may stand once; how to mend it."""

    name: str
    kinds: tuple[str, ...]
    once: Callable[[str, EntryData], str | None]
    """What an entry of a kind, with its data, may stand in a ledger as once only; None for the rest."""
    cure: str
    """What to do when the ledger is damaged, as the end of a sentence."""


@dataclass(frozen=True)
class Draft:
    """What is to be entered: its kind, whom it is about (empty: the shop), its day at the shop, when, and the rest."""

    kind: str
    who: str
    on: date
    entered: datetime
    data: EntryData

    def body(self) -> str:
        """Return the canonical text of what is entered.

        Raises
        ------
        EntryError
            If it holds something that JSON in canonical form cannot, like letters that are no letters.
        """
        when = self.entered.astimezone(UTC).isoformat(timespec="microseconds")
        whole = {"kind": self.kind, "who": self.who, "on": self.on.isoformat(), "entered": when, "data": self.data}
        try:
            return rfc8785.dumps(_plain(whole)).decode("utf-8")
        except (ValueError, rfc8785.CanonicalizationError):
            raise EntryError(
                "Nothing was entered: what you typed holds a letter that is none, or a number too large to keep."
            ) from None


@dataclass(frozen=True)
class Entry(Draft):
    """A draft with its place in the chain: number from 1, the hash of the entry before, and its own."""

    number: int = 0
    before: str = START
    hash: str = ""


def _plain(value: object) -> Any:
    """Return ``value`` as what JSON has: lists, dicts with text keys, text, numbers, truth and nothing."""
    if isinstance(value, Mapping):
        return {str(key): _plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    return value


def chained(form: Form, number: int, before: str, body: str) -> str:
    """Return the hash of an entry: SHA-256 of the canonical form of its form, number, the hash before, and its body."""
    whole = {"form": form.name, "number": number, "before": before, "body": body}
    return hashlib.sha256(rfc8785.dumps(_plain(whole))).hexdigest()


def read_entry(form: Form, number: int, before: str, body: str, own: str) -> Entry:
    """Return the entry that a row holds.

    Raises
    ------
    EntryError
        If the row is not what this module writes.
    """
    try:
        whole = json.loads(body)
        if set(whole) != _FIELDS or whole["kind"] not in form.kinds:
            raise EntryError("it is no entry of this form")
        if type(whole["who"]) is not str or type(whole["data"]) is not dict:
            raise EntryError("its fields are of the wrong kind")
        entered = datetime.fromisoformat(whole["entered"])
        made = Entry(
            whole["kind"], whole["who"], date.fromisoformat(whole["on"]), entered, whole["data"], number, before, own
        )
        form.once(made.kind, made.data)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        raise EntryError(str(error) if isinstance(error, EntryError) else "it cannot be read") from None
    return made
