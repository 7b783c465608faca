"""Folders whose names are safe on the disk."""

from __future__ import annotations

import os
from pathlib import Path


def sync_names(folder: Path) -> None:
    """Have the disk keep a folder's names, where folders can be opened."""
    if os.name != "posix":
        return
    opened = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)
