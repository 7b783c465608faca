"""A whole job, made once for all tests that only look at it."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from tests.packet.jobs import DAMSON, SMALL, make


@pytest.fixture(scope="session")
def whole(
    tmp_path_factory: pytest.TempPathFactory,
) -> tuple[Path, subprocess.CompletedProcess[str]]:
    """A job folder with everything in it, and how the run ended."""
    out = tmp_path_factory.mktemp("whole") / "job"
    return out, make(str(DAMSON), "--out", str(out))


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A design that is soon made."""
    path = tmp_path_factory.mktemp("small") / "design.toml"
    path.write_text(SMALL, "utf-8")
    return path
