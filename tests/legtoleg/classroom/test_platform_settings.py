"""The file that names a learning platform: what is taken, and what is refused in one line."""

from __future__ import annotations

import json
from typing import Any

import pytest

from legtoleg.classroom.class_folder import ClassError, ClassFolder
from legtoleg.classroom.platform_settings import FILE, Platform

GOOD = {
    "issuer": "https://platform.example",
    "client_id": "42",
    "authorize_url": "https://platform.example/authorize",
    "jwks_url": "https://platform.example/jwks",
    "id_claim": "custom_apprentice",
}


def test_a_class_without_the_file_has_no_platform(room: ClassFolder) -> None:
    assert Platform.of(room) is None
    (room.root / FILE).write_text(json.dumps(GOOD))
    assert Platform.of(room) == Platform(**GOOD)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("{", "cannot be read"),
        ("[]", "these five entries"),
        (json.dumps(GOOD | {"key": "x"}), "these five entries"),
        (json.dumps({name: GOOD[name] for name in ("issuer", "client_id")}), "these five entries"),
        (json.dumps(GOOD | {"client_id": " "}), "client_id is empty"),
        (json.dumps(GOOD | {"client_id": 42}), "client_id is no text"),
        (json.dumps(GOOD | {"jwks_url": "http://platform.example/jwks"}), "jwks_url does not begin with https"),
        (json.dumps(GOOD | {"authorize_url": "http://localhost.example/a"}), "authorize_url does not begin with https"),
        (json.dumps(GOOD | {"jwks_url": "https://[platform"}), "jwks_url is no address"),
    ],
)
def test_what_is_wrong_is_said_in_one_line(room: ClassFolder, content: Any, words: str) -> None:
    (room.root / FILE).write_text(content)
    with pytest.raises(ClassError, match=words) as found:
        Platform.of(room)
    assert "\n" not in str(found.value)
