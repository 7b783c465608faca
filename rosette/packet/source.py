"""The design's file, read once as words and once as bytes, and both the same."""

from __future__ import annotations

import hashlib
from pathlib import Path

from rosette.design import read_design
from rosette.design.model import Design
from rosette.packet.trouble import disk_trouble, refused


def read_source(path: Path) -> tuple[Design, bytes]:
    """A design and the bytes of its file, which the job folder keeps.

    Raises:
        InputError: the file is wrong, or was being changed.
    """
    design = read_design(path)
    with disk_trouble(path):
        record = path.read_bytes()
    if hashlib.sha256(record).hexdigest() != design.sha256:
        raise refused("design", path, "was changed while it was read; run it again")
    return design, record
