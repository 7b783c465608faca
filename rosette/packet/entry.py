"""What goes into a job folder: files in memory, and files that could not be made."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One file of the job folder: its path inside (with `/`), what it is for, its bytes."""

    file: str
    what: str
    data: bytes

    @property
    def sha256(self) -> str:
        """Hash of its bytes, as the manifest lists it."""
        return hashlib.sha256(self.data).hexdigest()


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A file that could not be made here: why, and what would let it be made."""

    file: str
    what: str
    why: str
