"""Accounts: a one-time code for each apprentice, then a password of their own; guessing is slow."""

from __future__ import annotations

import hashlib
import hmac
import json
import secrets
import time
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.cohort.one_at_a_time import at_work
from legtoleg.core.files import write_whole

SHORTEST = 8
LONGEST = 200
"""Characters of a password."""
_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
"""Of a code: none that is taken for another on paper. Twelve of them are 59 bits."""
_COST = {"n": 2**14, "r": 8, "p": 1}
"""Scrypt's (RFC 7914): 16 MiB and about 50 ms a guess."""


def _spread(secret: str, salt: bytes) -> str:
    return hashlib.scrypt(secret.encode("utf-8"), salt=salt, **_COST).hex()


def _kept(secret: str) -> dict[str, str]:
    salt = secrets.token_bytes(16)
    return {"salt": salt.hex(), "hash": _spread(secret, salt)}


def _fits(secret: str, kept: dict[str, str]) -> bool:
    return hmac.compare_digest(_spread(secret, bytes.fromhex(kept["salt"])), kept["hash"])


def plain_code(text: str) -> str:
    """Return a code as it was made: people type it with spaces, dashes or capitals."""
    return "".join(letter for letter in text.lower() if letter in _LETTERS)


def drawn_code() -> str:
    """Return a new one-time code, which opens nothing before it is kept."""
    letters = "".join(secrets.choice(_LETTERS) for _ in range(12))
    return "-".join((letters[:4], letters[4:8], letters[8:]))


class Accounts:
    """The accounts of a class, in one file: codes and passwords are kept as scrypt's hashes only."""

    def __init__(self, folder: ClassFolder) -> None:
        self._path: Path = folder.root / "secrets" / "accounts.json"

    def _read(self) -> dict[str, dict[str, dict[str, str]]]:
        if not self._path.is_file():
            return {}
        content: dict[str, dict[str, dict[str, str]]] = json.loads(self._path.read_text(encoding="utf-8"))
        return content

    def _write(self, content: dict[str, dict[str, dict[str, str]]]) -> None:
        write_whole(self._path, (json.dumps(content, indent=1, sort_keys=True) + "\n").encode(), 0o600)

    def without(self, people: Iterable[str]) -> list[str]:
        """Return those of ``people`` who have neither code nor password yet."""
        known = self._read()
        return [who for who in people if who.lower() not in known]

    def with_password(self) -> set[str]:
        """Return the ids, in small letters, of all who chose a password."""
        return {who for who, account in self._read().items() if "password" in account}

    def _set(self, accounts: dict[str, dict[str, dict[str, str]]]) -> None:
        """Keep ``accounts``; hub, class and command write by one lock, so that nobody's is lost."""
        self._path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        with at_work(self._path.parent):
            self._write(self._read() | {who.lower(): account for who, account in accounts.items()})

    def keep_codes(self, codes: Mapping[str, str]) -> None:
        """Let each of ``codes`` open the door once, by id; passwords that were there are gone."""
        self._set({who: {"code": _kept(plain_code(code))} for who, code in codes.items()})

    def deal_code(self, who: str) -> str:
        """Return a new one-time code for ``who``; a password that was there is gone."""
        code = drawn_code()
        self.keep_codes({who: code})
        return code

    def has_password(self, who: str) -> bool:
        """Tell whether ``who`` chose a password."""
        return "password" in self._read().get(who.lower(), {})

    def fits(self, who: str, said: str) -> bool:
        """Tell whether ``said`` is the password of ``who``, or while there is none, the code. It takes its time."""
        account = self._read().get(who.lower(), {})
        if "password" in account:
            return _fits(said[:LONGEST], account["password"])
        return _fits(plain_code(said[:LONGEST]), account.get("code") or {"salt": "00" * 16, "hash": "no code"})

    def choose(self, who: str, password: str) -> None:
        """Set the password of ``who``; the code is used up."""
        self._set({who: {"password": _kept(password)}})


def fault_of(password: str, again: str, who: str) -> str:
    """Return what is wrong with a new password, in words; empty if nothing."""
    if password != again:
        return "The two new passwords are not the same."
    if not SHORTEST <= len(password) <= LONGEST:
        return f"A password has {SHORTEST} characters or more."
    if password.lower() == who.lower() or len(set(password)) < 4:
        return "That password is too easy to guess."
    return ""


@dataclass
class Guessing:
    """How many wrong guesses there were for a key (an id, or an id from one address); after some, a wait."""

    free: int = 5
    wait: float = 15.0
    """Seconds after the first guess too many; twice as long after each further one, an hour at most."""
    clock: Callable[[], float] = time.monotonic
    _wrong: dict[str, tuple[int, float]] = field(default_factory=dict)

    def seconds_left(self, key: str) -> float:
        """Return how long to wait before the next guess."""
        count, last = self._wrong.get(key, (0, 0.0))
        if count < self.free:
            return 0.0
        return float(max(0.0, last + min(3600.0, self.wait * 2 ** min(count - self.free, 12)) - self.clock()))

    def note(self, key: str, *, right: bool) -> None:
        """Note a guess."""
        if right:
            self._wrong.pop(key, None)
            return
        if len(self._wrong) > 10_000:
            self._wrong.clear()
        self._wrong[key] = (self._wrong.get(key, (0, 0.0))[0] + 1, self.clock())
