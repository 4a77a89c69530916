"""What a class knows of the learning platform that logs its people in: a small file beside the class's own."""

from __future__ import annotations

import json
from dataclasses import dataclass, fields
from typing import Self
from urllib.parse import urlsplit

from legtoleg.classroom.class_folder import ClassError, ClassPlaces

FILE = "platform.json"
_HERE = ("127.0.0.1", "localhost", "::1")


@dataclass(frozen=True)
class Platform:
    """A platform as it was registered: the names of LTI 1.3, and the claim that holds an apprentice's id."""

    issuer: str
    client_id: str
    authorize_url: str
    jwks_url: str
    id_claim: str

    @classmethod
    def of(cls, folder: ClassPlaces) -> Self | None:
        """Return the platform of the class; None if people log in by code and password.

        Raises
        ------
        ClassError
            If its file cannot be used; the text says what is wrong.
        """
        path = folder.root / FILE
        if not path.is_file():
            return None
        names = [one.name for one in fields(cls)]
        try:
            told = json.loads(path.read_text(encoding="utf-8"))
        except (OSError, ValueError) as error:
            raise ClassError(f"{path} cannot be read: {error}.") from None
        if not isinstance(told, dict) or set(told) != set(names):
            raise ClassError(f"{path} needs these five entries and no other: {', '.join(names)}.")
        for name in names:
            if not isinstance(told[name], str):
                raise ClassError(f"{path}: {name} is no text: write it in quotation marks.")
            if not told[name].strip():
                raise ClassError(f"{path}: {name} is empty.")
        for name in ("authorize_url", "jwks_url"):
            try:
                place = urlsplit(told[name])
            except ValueError:
                raise ClassError(f"{path}: {name} is no address.") from None
            if not (place.scheme == "https" or (place.scheme == "http" and place.hostname in _HERE)):
                raise ClassError(f"{path}: {name} does not begin with https://. Others could read or change it.")
        return cls(**told)
