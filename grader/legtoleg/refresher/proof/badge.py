"""Badges: a passed test as an Open Badges 3.0 credential, signed with the shop's own key; no service is behind it.

The credential is a VC-JWT: its payload is the credential, its header carries the public key. Whoever holds it can
check that nothing was changed since that key signed it. Whose key it is they have to learn from the shop: the key's
thumbprint (RFC 7638) is printed by the command that writes the badge.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Sequence
from datetime import UTC, datetime, time
from pathlib import Path
from secrets import token_hex
from typing import NotRequired, TypedDict
from uuid import NAMESPACE_OID, uuid5
from zoneinfo import ZoneInfo

import jwt
import rfc8785
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat, load_pem_private_key

from dryerbench.core.errors import LegToLegError
from legtoleg.core.files import write_whole
from legtoleg.ledger.entry import Entry
from legtoleg.refresher.proof.certificate import last_pass
from legtoleg.refresher.record.due_list import BETWEEN, dues
from legtoleg.refresher.record.shop import Shop, owner_only
from legtoleg.refresher.record.standing import Standing

KEY = "signing-key.pem"
FOLDER = "badges"
CONTEXTS = ["https://www.w3.org/ns/credentials/v2", "https://purl.imsglobal.org/spec/ob/v3p0/context-3.0.3.json"]


class KeyFileError(LegToLegError, ValueError):
    """A shop's signing key that cannot be read."""


def shop_key(shop: Shop) -> Ed25519PrivateKey:
    """Return the shop's own key, made the first time and kept for its owner alone.

    Raises
    ------
    KeyFileError
        If the file is no such key.
    """
    path = shop.folder / KEY
    if not path.exists():
        made = Ed25519PrivateKey.generate()
        write_whole(path, made.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()), 0o600)
        owner_only(path)
    try:
        key = load_pem_private_key(path.read_bytes(), None)
    except (OSError, ValueError, TypeError):
        raise KeyFileError(
            f"{KEY} cannot be read. Move it away, and a new key is made; old badges stay valid."
        ) from None
    if not isinstance(key, Ed25519PrivateKey):
        raise KeyFileError(f"{KEY} holds another kind of key. Move it away, and a new key is made.")
    return key


def _url64(content: bytes) -> str:
    return base64.urlsafe_b64encode(content).rstrip(b"=").decode("ascii")


def public_jwk(key: Ed25519PrivateKey) -> dict[str, str]:
    """Return the public part of ``key`` as a JSON Web Key (RFC 8037)."""
    return {"crv": "Ed25519", "kty": "OKP", "x": _url64(key.public_key().public_bytes_raw())}


def thumbprint(jwk: dict[str, str]) -> str:
    """Return the thumbprint of a key (RFC 7638): SHA-256 of its required members in order."""
    return _url64(hashlib.sha256(rfc8785.dumps(dict(jwk))).digest())


Credential = TypedDict(
    "Credential",
    {
        "@context": Sequence[str],
        "id": str,
        "type": list[str],
        "name": str,
        "issuer": dict[str, object],
        "validFrom": str,
        "credentialSubject": dict[str, object],
        "evidence": list[dict[str, object]],
        "validUntil": NotRequired[str],
    },
)
"""An Open Badges 3.0 credential, before it is signed."""


def _subject(ledger: str, who: str) -> dict[str, object]:
    """Return who it is about, as a salted hash: a reader who knows the id can confirm it, nobody reads it off."""
    salt = token_hex(16)
    digest = hashlib.sha256(f"{ledger}/{who}{salt}".encode()).hexdigest()
    return {
        "type": "IdentityObject",
        "hashed": True,
        "identityHash": f"sha256${digest}",
        "identityType": "systemId",
        "salt": salt,
    }


def _achievement(found: list[Standing]) -> dict[str, object]:
    titles = BETWEEN.join(one.topic.title for one in found)
    return {
        "id": f"urn:uuid:{uuid5(NAMESPACE_OID, f'urn:leg-to-leg:achievement:{titles}')}",
        "type": ["Achievement"],
        "name": "Refresher passed: testing a 240 V dryer's heater",
        "description": f"A training record, not a license: it makes no one a qualified person. Topics: {titles}.",
        "criteria": {
            "narrative": "12 to 15 questions and work on a simulated bench: every safety question answered safely, and "
            "at least 80 % of the points."
        },
    }


def _until(shop: Shop, found: list[Standing]) -> datetime | None:
    """Return the end of the first day on which a topic ends, at the shop; None if none has an end."""
    days = [one.until for one in found if one.until is not None]
    if not days:
        return None
    return datetime.combine(min(days), time(23, 59, 59), ZoneInfo(shop.settings.zone)).astimezone(UTC)


def _stamp(when: datetime) -> str:
    return when.astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")


def credential(shop: Shop, entry: Entry, found: list[Standing], ledger: str, jwk: dict[str, str]) -> Credential:
    """Return the credential about the passed test ``entry``, unsigned."""
    did = "did:jwk:" + _url64(rfc8785.dumps(dict(jwk)))
    subject: dict[str, object] = {
        "type": ["AchievementSubject"],
        "identifier": [_subject(ledger, entry.who)],
        "achievement": _achievement(found),
    }
    narrative = f"Entry {entry.number} of the shop's ledger, SHA-256 {entry.hash}."
    made: Credential = {
        "@context": CONTEXTS,
        "id": f"urn:uuid:{uuid5(NAMESPACE_OID, f'urn:leg-to-leg:badge:{entry.hash}')}",
        "type": ["VerifiableCredential", "OpenBadgeCredential"],
        "name": "Refresher passed: testing a 240 V dryer's heater",
        "issuer": {"id": did, "type": ["Profile"], "name": shop.settings.name},
        "validFrom": _stamp(entry.entered),
        "credentialSubject": subject,
        "evidence": [{"type": ["Evidence"], "name": "Ledger entry", "narrative": narrative}],
    }
    until = _until(shop, found)
    if until:
        made["validUntil"] = _stamp(until)
    return made


def signed(made: Credential, key: Ed25519PrivateKey) -> str:
    """Return the credential as a VC-JWT signed with ``key`` (EdDSA, RFC 8037)."""
    claims: dict[str, object] = {"iss": made["issuer"]["id"], "jti": made["id"]}
    claims["nbf"] = int(datetime.fromisoformat(made["validFrom"]).timestamp())
    if "validUntil" in made:
        claims["exp"] = int(datetime.fromisoformat(made["validUntil"]).timestamp())
    return jwt.encode({**made, **claims}, key, algorithm="EdDSA", headers={"typ": "JWT", "jwk": public_jwk(key)})


def write_badge(shop: Shop, who: str) -> tuple[Path, str]:
    """Write the badge of ``who`` for their last passed test; return its path and the thumbprint of the shop's key.

    Raises
    ------
    NoCertificateError
        If no test was passed.
    KeyFileError
        If the shop's key cannot be read.
    """
    who = shop.person(who).id
    entries = shop.entries()
    one = next(one for one in dues(shop, shop.today(), entries).people if one.person.id == who)
    entry, key = last_pass(one), shop_key(shop)
    found = [standing for standing in one.found if standing.topic.topic in entry.data["topics"]]
    made = credential(shop, entry, found, str(entries[0].data["ledger"]), public_jwk(key))
    path = shop.folder / FOLDER / f"badge-{who}.jwt"
    write_whole(path, (signed(made, key) + "\n").encode("ascii"))
    write_whole(path.with_suffix(".json"), (json.dumps(made, ensure_ascii=False, indent=2) + "\n").encode("utf-8"))
    return path, thumbprint(public_jwk(key))
