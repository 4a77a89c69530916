"""The badge: signed with the shop's own key, readable by another library, and about a hash instead of a person."""

from __future__ import annotations

import base64
import hashlib
import json
import stat
from collections.abc import Callable
from datetime import date
from typing import Any

import jwt
import pytest
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from legtoleg.refresher.proof.badge import KeyFileError, public_jwk, shop_key, thumbprint, write_badge
from legtoleg.refresher.record.shop import Shop


def unpacked(text: str) -> bytes:
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))


def test_anybody_can_check_it(shop: Shop, outcome: Callable[..., Any]) -> None:
    """By RFC 7515 and the cryptography library alone, without the library that signed it."""
    entry = outcome(shop, "ada-01", date(2027, 1, 4))
    path, printed = write_badge(shop, "ada-01")
    head, body, signature = path.read_text(encoding="ascii").strip().split(".")
    header, payload = json.loads(unpacked(head)), json.loads(unpacked(body))
    assert header["alg"] == "EdDSA"
    assert set(header["jwk"]) == {"kty", "crv", "x"}
    key = Ed25519PublicKey.from_public_bytes(unpacked(header["jwk"]["x"]))
    key.verify(unpacked(signature), f"{head}.{body}".encode())
    with pytest.raises(InvalidSignature):
        key.verify(unpacked(signature), f"{head}.{body[:-1]}A".encode())
    did = "did:jwk:" + base64.urlsafe_b64encode(
        json.dumps(header["jwk"], sort_keys=True, separators=(",", ":")).encode()
    ).decode().rstrip("=")
    assert payload["iss"] == payload["issuer"]["id"] == did
    assert payload["jti"] == payload["id"]
    assert payload["type"] == ["VerifiableCredential", "OpenBadgeCredential"]
    assert payload["@context"][0] == "https://www.w3.org/ns/credentials/v2"
    assert payload["validUntil"] == "2028-01-05T06:59:59Z", "the end of the last good day in Denver"
    assert entry.hash in payload["evidence"][0]["narrative"]
    assert "not a license" in payload["credentialSubject"]["achievement"]["description"]
    assert printed == thumbprint(header["jwk"])


def test_the_person_is_a_salted_hash(shop: Shop, outcome: Callable[..., Any]) -> None:
    outcome(shop, "ada-01", date(2027, 1, 4))
    path, _ = write_badge(shop, "ada-01")
    text = path.with_suffix(".json").read_text(encoding="utf-8")
    assert not [word for word in ("ada-01", "ada demo", "ada-") if word in text.lower()]
    about = json.loads(text)["credentialSubject"]["identifier"][0]
    ledger = shop.entries()[0].data["ledger"]
    wanted = hashlib.sha256(f"{ledger}/ada-01{about['salt']}".encode()).hexdigest()
    assert about["identityHash"] == f"sha256${wanted}"


def test_the_thumbprint_is_that_of_rfc_8037() -> None:
    """RFC 8037, appendices A.1 to A.3 (from memory): the key of its example and its thumbprint."""
    jwk = {"crv": "Ed25519", "kty": "OKP", "x": "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo"}
    assert thumbprint(jwk) == "kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k"


def test_the_key_is_made_once_for_its_owner(shop: Shop, outcome: Callable[..., Any]) -> None:
    key = shop_key(shop)
    assert public_jwk(shop_key(shop)) == public_jwk(key)
    assert stat.S_IMODE((shop.folder / "signing-key.pem").stat().st_mode) == 0o600
    token = jwt.encode({"a": 1}, key, algorithm="EdDSA")
    assert jwt.decode(token, key.public_key(), algorithms=["EdDSA"]) == {"a": 1}
    (shop.folder / "signing-key.pem").write_text("no key", encoding="ascii")
    with pytest.raises(KeyFileError, match="cannot be read"):
        shop_key(shop)
