"""Badge and statements read by published libraries: Open Badges 3.0 by openbadgeslib, xAPI by edx-tincan-py35.

The latter knows xAPI up to 1.0.1; no library found checks 2.0.0, which the statements claim: its form is the same for
what is used here, so the version alone is changed. No package was found with
the published JSON schema of Open Badges 3.0.
"""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from legtoleg.refresher.proof.badge import shop_key, write_badge
from legtoleg.refresher.proof.xapi import statements
from legtoleg.refresher.record.shop import Settings, Shop


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    people = tmp_path / "people.csv"
    people.write_text("id,name\nada-01,Ada Demo\n", encoding="utf-8")
    made = Shop.make(tmp_path / "shop", Settings("Demo shop", "America/Denver"), people)
    made.enter(made.draft("issued", "ada-01", made.today(), issue="ada-01.t1", attempt=1, items=[]))
    data = {"passed": True, "points": 30.0, "of": 36.0, "topics": list(made.topics), "held": [], "questions": []}
    made.enter(made.draft("recorded", "ada-01", made.today(), issue="ada-01.t1", file="0" * 64, **data))
    return made


def test_a_badge_is_verified_by_another_library(shop: Shop) -> None:
    verifier = pytest.importorskip("openbadgeslib.ob3.verifier")
    token = write_badge(shop, "ada-01")[0].read_text(encoding="ascii").strip()
    key = shop_key(shop).public_key().public_bytes(Encoding.PEM, PublicFormat.SubjectPublicKeyInfo)
    read = verifier.OB3Verifier(key).verify(token)
    assert read.issuer.name == "Demo shop"
    assert read.achievement.name.startswith("Refresher passed")
    assert read.expiration_date > datetime.now(UTC)
    head, body, end = token.split(".")
    with pytest.raises(verifier.OB3VerificationError):
        verifier.OB3Verifier(key).verify(f"{head}.{body[:-6]}AAAAAA.{end}")


def test_statements_are_read_whole_by_another_library(shop: Shop) -> None:
    tincan = pytest.importorskip("tincan")
    made = statements(shop.entries())
    assert made
    for one in made:
        wanted = json.loads(json.dumps({**one, "version": "1.0.1"}))
        read = json.loads(tincan.Statement.from_json(json.dumps(wanted)).to_json())
        for when in (wanted, read):
            when["timestamp"] = datetime.fromisoformat(when["timestamp"])
        assert read == wanted
    with pytest.raises(Exception, match="color"):
        tincan.Statement.from_json(json.dumps({**made[0], "color": "red"}))
