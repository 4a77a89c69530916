"""What the commands write, held to the standards: the badge to Open Badges 3.0, the exported statements to xAPI.

Both schemas are our own, from memory of the standards (Open Badges 3.0, W3C credentials 2.0, RFC 7519; IEEE 9274.1.1).
"""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import jwt
import pytest
from jsonschema import Draft202012Validator
from tests.published.changes import put, without

from legtoleg.refresher.proof.badge import shop_key, write_badge
from legtoleg.refresher.proof.export import export
from legtoleg.refresher.record.correction import correct
from legtoleg.refresher.record.shop import Settings, Shop

HERE = Path(__file__).parent


def validator(name: str) -> Draft202012Validator:
    schema = json.loads((HERE / f"{name}.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


BADGE, STATEMENT = validator("open_badge"), validator("xapi_statement")
CLAIMS = ("iss", "jti", "nbf", "exp")
"""What RFC 7519 calls issuer, id, not before and expiry: beside the credential in the signed text."""


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    """Return a shop in which two passed, one did not, and one outcome was corrected and then counted again."""
    people = tmp_path / "people.csv"
    people.write_text("id,name\nada-01,Ada Demo\nbo-02,Bo Demo\ncy-03,Cy Demo\n", encoding="utf-8")
    made = Shop.make(tmp_path / "shop", Settings("Demo shop", "America/Denver"), people)
    for who, points in (("ada-01", 30.0), ("bo-02", 0.0), ("cy-03", 36.0)):
        made.enter(made.draft("issued", who, made.today(), issue=f"{who}.t1", attempt=1, items=[]))
        data = {"points": points, "of": 36.0, "topics": list(made.topics), "held": [], "questions": []}
        made.enter(
            made.draft("recorded", who, made.today(), issue=f"{who}.t1", file="0" * 64, passed=points > 29, **data)
        )
    correct(made, 7, "the wrong file", "Ida Demo")
    correct(made, 8, "it was the right one", "Ida Demo")
    return made


@pytest.fixture
def badge(shop: Shop) -> dict[str, Any]:
    """Return the credential of Ada's badge as it is beside the signed text."""
    path, _ = write_badge(shop, "ada-01")
    made: dict[str, Any] = json.loads(path.with_suffix(".json").read_text(encoding="utf-8"))
    return made


def test_the_badge_is_of_the_published_structure(badge: dict[str, Any]) -> None:
    BADGE.validate(badge)
    assert datetime.fromisoformat(badge["validFrom"]) < datetime.fromisoformat(badge["validUntil"])


def test_what_is_signed_says_the_same_and_its_claims_fit(shop: Shop, badge: dict[str, Any]) -> None:
    """W3C's mapping to a JWT, from memory: issuer, id and times stand in the claims too, as numbers of seconds."""
    token = (shop.folder / "badges" / "badge-ada-01.jwt").read_text(encoding="ascii").strip()
    signed = jwt.decode(token, shop_key(shop).public_key(), algorithms=["EdDSA"])
    claims = {name: signed.pop(name) for name in CLAIMS}
    assert signed == badge
    assert (claims["iss"], claims["jti"]) == (badge["issuer"]["id"], badge["id"])
    for claim, field in (("nbf", "validFrom"), ("exp", "validUntil")):
        assert datetime.fromtimestamp(claims[claim], UTC) == datetime.fromisoformat(badge[field])


@pytest.mark.parametrize(
    "change",
    [
        without("@context"),
        without("issuer"),
        without("validFrom"),
        without("credentialSubject", "achievement"),
        without("credentialSubject", "identifier"),
        without("credentialSubject", "achievement", "criteria", "narrative"),
        without("credentialSubject", "achievement", "description"),
        without("issuer", "id"),
        put(["https://purl.imsglobal.org/spec/ob/v3p0/context-3.0.3.json"], "@context"),
        put(["VerifiableCredential"], "type"),
        put(["OpenBadgeCredential"], "type"),
        put("Demo shop", "issuer"),
        put("2027-01-04", "validFrom"),
        put("4 January 2028", "validUntil"),
        put("ada-01", "credentialSubject", "identifier", 0, "identityHash"),
        put("badge number", "credentialSubject", "identifier", 0, "identityType"),
        put([], "credentialSubject", "identifier"),
        put("no uri", "id"),
        put(1, "extra"),
    ],
)
def test_the_schema_refuses_what_the_standard_does(badge: dict[str, Any], change: Callable[[Any], None]) -> None:
    one = copy.deepcopy(badge)
    change(one)
    assert not BADGE.is_valid(one)


def test_every_exported_statement_is_of_the_published_structure(shop: Shop, tmp_path: Path) -> None:
    """In the file as it is written, with what a schema cannot say: points between least and most, ids each once."""
    export(shop, tmp_path / "out")
    made = json.loads((tmp_path / "out" / "statements.json").read_text(encoding="utf-8"))
    assert [one["verb"]["display"]["en"] for one in made] == ["passed", "failed", "passed", "voided", "passed"]
    for one in made:
        STATEMENT.validate(one)
    assert len({one["id"] for one in made}) == len(made)
    assert made[3]["object"]["id"] == made[2]["id"]
    for one in made[:3]:
        score = one["result"]["score"]
        assert score["min"] <= score["raw"] <= score["max"]
        assert score["scaled"] == pytest.approx(score["raw"] / score["max"], abs=1e-4)
        assert one["result"]["success"] == (one["verb"]["display"]["en"] == "passed")
