"""Work done in a process of its own while this one goes on: loading the CAD kernel takes seconds.

The other process ends with its work, when that is no longer wanted, and when this
process ends in whatever way, for its input ends then.
"""

from __future__ import annotations

import os
import pickle  # both ends are this program
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import IO, Any, TypeVar

from rosette.errors import CannotMakeError, RosetteError

Given = TypeVar("Given")
Result = TypeVar("Result")

_DOOR = "import sys; sys.path[:] = {path!r}; from rosette.packet.apart import serve; serve()"


@contextmanager
def apart(
    work: Callable[[Given], Iterator[Result]], given: Given, *, refusal: str
) -> Iterator[Iterator[Result]]:
    """Start `work(given)` elsewhere; gives what it yields, waiting for each.

    It raises what `work` raises of this program's own errors, and a CannotMakeError with the
    sentence `refusal` where the other process dies. Where no process can be started the work
    is done here.
    """
    with tempfile.TemporaryFile() as complaints:
        process = _started(complaints)
        if process is None:
            yield work(given)
            return
        try:
            _send(process, (work, given))
            yield _results(process, complaints, refusal)
        finally:
            _end(process)


def _started(complaints: IO[bytes]) -> subprocess.Popen[bytes] | None:
    new_group = getattr(subprocess, "CREATE_NEW_PROCESS_GROUP", 0)
    try:
        return subprocess.Popen(  # noqa: S603 - this interpreter and this program
            [sys.executable, "-c", _DOOR.format(path=sys.path)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=complaints,
            start_new_session=True,  # Ctrl-C is for this process, which ends the other
            creationflags=new_group,
        )
    except (OSError, ValueError):
        return None


def _send(process: subprocess.Popen[bytes], what: object) -> None:
    """Hand over the work, and leave the pipe open: its end is the sign to end."""
    assert process.stdin is not None
    with suppress(OSError):  # it has died; fetching its result says so
        pickle.dump(what, process.stdin)
        process.stdin.flush()


def _results(
    process: subprocess.Popen[bytes], complaints: IO[bytes], refusal: str
) -> Iterator[Any]:
    assert process.stdout is not None
    while True:
        try:
            kind, told = pickle.load(process.stdout)  # noqa: S301 - from our own process
        except EOFError:
            raise _failure(process.wait(), complaints, refusal) from None
        if kind == "end":
            return
        if kind != "one":
            findings, source, units = told
            raise kind(findings, source=source, units=units)
        yield told


def _failure(code: int, complaints: IO[bytes], refusal: str) -> Exception:
    complaints.seek(0)
    complaint = complaints.read().decode("utf-8", "replace")
    if "Traceback" in complaint:
        return RuntimeError(f"the process that was to help ended with {code}:\n{complaint}")
    return CannotMakeError(f"{refusal} (it ended with {code})")


def _end(process: subprocess.Popen[bytes]) -> None:
    process.kill()
    for pipe in (process.stdin, process.stdout):
        with suppress(OSError):
            if pipe is not None:
                pipe.close()
    process.wait()


def serve() -> None:
    """The other process: read the work, do it, answer, end."""
    answer = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what libraries print must not run into the answer
    work, given = pickle.load(sys.stdin.buffer)  # noqa: S301 - from this program's own process
    threading.Thread(target=_end_with_the_other, daemon=True).start()
    try:
        for one in work(given):
            _answer(answer, "one", one)
        _answer(answer, "end", None)
    except RosetteError as error:
        _answer(answer, type(error), (error.findings, error.source, error.units))
    os._exit(0)  # unloading the CAD kernel takes long and serves nobody


def _answer(answer: IO[bytes], kind: object, told: object) -> None:
    pickle.dump((kind, told), answer)
    answer.flush()


def _end_with_the_other() -> None:
    sys.stdin.buffer.read()
    os._exit(1)
