"""What was worked out last, a bounded number of it, for whoever asks for the same again."""

from __future__ import annotations

import threading
from collections.abc import Hashable
from typing import Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)
Found = TypeVar("Found")


class Recent(Generic[Key, Found]):
    """The last ``most`` things asked for, by key; safe for several threads."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: dict[Key, Found] = {}
        self._lock = threading.Lock()

    def __len__(self) -> int:
        return len(self._kept)

    def get(self, key: Key) -> Found | None:
        """Return what is kept under ``key``, which counts as asked for last; None if nothing is."""
        with self._lock:
            found = self._kept.pop(key, None)
            if found is not None:
                self._kept[key] = found
            return found

    def put(self, key: Key, found: Found) -> None:
        """Keep ``found`` under ``key``, and let go of what was not asked for the longest."""
        with self._lock:
            self._kept.pop(key, None)
            self._kept[key] = found
            if len(self._kept) > self._most:
                del self._kept[next(iter(self._kept))]
