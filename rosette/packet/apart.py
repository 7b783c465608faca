"""Work done in a process of its own while this one goes on: loading the CAD kernel takes seconds.

The other process ends when its work is fetched, when it is no longer wanted, and when this
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
    work: Callable[[Given], Result], given: Given, *, refusal: str
) -> Iterator[Callable[[], Result]]:
    """Start `work(given)` elsewhere; gives a function that waits for its result.

    The function raises what `work` raises of this program's own errors, and a
    CannotMakeError with the sentence `refusal` where the other process dies of it. Where no
    process can be started the work is done here, when its result is asked for.
    """
    with tempfile.TemporaryFile() as complaints:
        process = _started(complaints)
        if process is None:
            yield lambda: work(given)
            return
        try:
            _send(process, (work, given))
            yield lambda: _fetched(process, complaints, refusal)
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


def _fetched(process: subprocess.Popen[bytes], complaints: IO[bytes], refusal: str) -> Any:
    assert process.stdout is not None
    told = process.stdout.read()
    if not told:
        code = process.wait()
        complaints.seek(0)
        complaint = complaints.read().decode("utf-8", "replace")
        if "Traceback" in complaint:
            raise RuntimeError(f"the process that was to help ended with {code}:\n{complaint}")
        raise CannotMakeError(f"{refusal} (it ended with {code})")
    kind, result = pickle.loads(told)  # noqa: S301 - from this program's own process
    if kind is None:
        return result
    findings, source, units = result
    raise kind(findings, source=source, units=units)


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
    reply: tuple[object, object]
    try:
        reply = (None, work(given))
    except RosetteError as error:
        reply = (type(error), (error.findings, error.source, error.units))
    pickle.dump(reply, answer)
    answer.close()
    os._exit(0)  # unloading the CAD kernel takes long and serves nobody


def _end_with_the_other() -> None:
    sys.stdin.buffer.read()
    os._exit(1)
