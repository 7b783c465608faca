"""Work in another process: its result, its errors, its end with ours."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from rosette.errors import CannotMakeError, MissingLibraryError, finding
from rosette.packet.apart import apart
from rosette.words import Length
from tests.packet.jobs import ROOT, environment


def doubled(number: int) -> tuple[int, int]:
    """Twice the number, and who worked it out; prints on the way, as libraries do."""
    print("a library says hello")
    os.system("echo so does another")
    return 2 * number, os.getpid()


def refused(number: int) -> None:
    raise CannotMakeError(
        [finding("x", "ring[1]", "only {length}", length=Length(25.4 * number))],
        source="a.toml",
        units="in",
    )


def lacking(_: int) -> None:
    raise MissingLibraryError("install it")


def mistaken(_: int) -> None:
    raise ZeroDivisionError("a mistake of ours")


def crashing(_: int) -> None:
    os.kill(os.getpid(), signal.SIGSEGV)


def sleeping(file: str) -> None:
    Path(file).write_text(str(os.getpid()), "utf-8")
    time.sleep(60)


def test_the_result_comes_from_another_process() -> None:
    with apart(doubled, 21, refusal="") as result:
        number, process = result()
    assert number == 42
    assert process != os.getpid()


def test_errors_of_this_program_come_over_whole() -> None:
    with apart(refused, 2, refusal="") as result, pytest.raises(CannotMakeError) as raised:
        result()
    assert str(raised.value) == "a.toml: ring[1]: only 2.000 in (2)"
    with apart(lacking, 0, refusal="") as result, pytest.raises(MissingLibraryError):
        result()


def test_a_crash_gets_the_sentence_and_a_mistake_keeps_its_traceback() -> None:
    with apart(crashing, 0, refusal="it crashed") as result:
        with pytest.raises(CannotMakeError, match=r"it crashed \(it ended with -11\)") as raised:
            result()
        assert raised.value.exit_code == 1
    with (
        apart(mistaken, 0, refusal="") as result,
        pytest.raises(RuntimeError, match="of ours"),
    ):
        result()


def test_where_no_process_can_be_started_it_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    def cannot(*_: object, **__: object) -> None:
        raise BlockingIOError(11, "Resource temporarily unavailable")

    monkeypatch.setattr(subprocess, "Popen", cannot)
    with apart(doubled, 21, refusal="") as result:
        assert result() == (42, os.getpid())


def _wait_for(file: Path) -> int:
    for _ in range(600):
        if file.exists() and file.read_text("utf-8"):
            return int(file.read_text("utf-8"))
        time.sleep(0.05)
    raise AssertionError("it never started")


def _is_gone(process: int) -> bool:
    for _ in range(200):
        try:
            state = Path(f"/proc/{process}/stat").read_text("utf-8").rpartition(")")[2].split()[0]
        except FileNotFoundError:
            return True
        if state in "ZX":
            return True
        time.sleep(0.05)
    return False


def test_it_ends_when_it_is_no_longer_wanted(tmp_path: Path) -> None:
    with apart(sleeping, str(tmp_path / "id"), refusal=""):
        process = _wait_for(tmp_path / "id")
    assert _is_gone(process)


def test_it_ends_with_us_however_we_end(tmp_path: Path) -> None:
    code = (
        "from rosette.packet.apart import apart\n"
        "from tests.packet.test_apart import sleeping\n"
        f"with apart(sleeping, {str(tmp_path / 'id')!r}, refusal='') as result: result()\n"
    )
    with subprocess.Popen([sys.executable, "-c", code], cwd=ROOT, env=environment()) as ours:
        process = _wait_for(tmp_path / "id")
        ours.kill()
    assert _is_gone(process)
