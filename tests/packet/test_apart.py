"""Work in another process: its result, its errors, its end with ours."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from rosette.errors import CannotMakeError, MissingLibraryError, finding
from rosette.packet.apart import apart
from rosette.words import Length
from tests.packet.jobs import ROOT, environment, is_gone


def doubled(number: int) -> Iterator[tuple[int, int]]:
    """Twice the number, then thrice, and who worked it out; prints as libraries do."""
    for factor in (2, 3):
        print("a library says hello")
        os.system("echo so does another")
        yield factor * number, os.getpid()


def refused(number: int) -> Iterator[int]:
    yield number
    raise CannotMakeError(
        [finding("x", "ring[1]", "only {length}", length=Length(25.4 * number))],
        source="a.toml",
        units="in",
    )


def lacking(number: int) -> Iterator[int]:
    yield number
    raise MissingLibraryError("install it")


def mistaken(number: int) -> Iterator[int]:
    yield number
    raise ZeroDivisionError("a mistake of ours")


def crashing(number: int) -> Iterator[int]:
    yield number
    os.kill(os.getpid(), signal.SIGSEGV)


def sleeping(file: str) -> Iterator[str]:
    yield file
    Path(file).write_text(str(os.getpid()), "utf-8")
    time.sleep(60)


def test_the_results_come_from_another_process() -> None:
    with apart(doubled, 21, refusal="") as found:
        (twice, process), (thrice, _) = found
    assert (twice, thrice) == (42, 63)
    assert process != os.getpid()


def test_errors_of_this_program_come_over_whole() -> None:
    with apart(refused, 2, refusal="") as found:
        assert next(found) == 2
        with pytest.raises(CannotMakeError) as raised:
            next(found)
    assert str(raised.value) == "a.toml: ring[1]: only 2.000 in (2)"
    with apart(lacking, 0, refusal="") as found, pytest.raises(MissingLibraryError):
        list(found)


def test_a_crash_gets_the_sentence() -> None:
    with apart(crashing, 0, refusal="it crashed") as found:
        assert next(found) == 0
        with pytest.raises(CannotMakeError, match=r"it crashed \(it ended with -11\)") as raised:
            next(found)
    assert raised.value.exit_code == 1


def test_a_mistake_of_the_program_keeps_its_traceback() -> None:
    with apart(mistaken, 0, refusal="") as found, pytest.raises(RuntimeError, match="of ours"):
        list(found)


def test_where_no_process_can_be_started_it_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    def cannot(*_: object, **__: object) -> None:
        raise BlockingIOError(11, "Resource temporarily unavailable")

    monkeypatch.setattr(subprocess, "Popen", cannot)
    with apart(doubled, 21, refusal="") as found:
        assert next(found) == (42, os.getpid())


def _wait_for(file: Path) -> int:
    for _ in range(600):
        if file.exists() and file.read_text("utf-8"):
            return int(file.read_text("utf-8"))
        time.sleep(0.05)
    raise AssertionError("it never started")


def test_it_ends_when_it_is_no_longer_wanted(tmp_path: Path) -> None:
    with apart(sleeping, str(tmp_path / "id"), refusal=""):
        process = _wait_for(tmp_path / "id")
    assert is_gone(process)


def test_it_ends_with_us_however_we_end(tmp_path: Path) -> None:
    code = (
        "from rosette.packet.apart import apart\n"
        "from tests.packet.test_apart import sleeping\n"
        f"with apart(sleeping, {str(tmp_path / 'id')!r}, refusal='') as found: list(found)\n"
    )
    with subprocess.Popen([sys.executable, "-c", code], cwd=ROOT, env=environment()) as ours:
        process = _wait_for(tmp_path / "id")
        ours.kill()
    assert is_gone(process)
