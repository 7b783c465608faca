"""A moment in which Ctrl-C and requests to end wait for nothing: it is too short to stop."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager

_REQUESTS = ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")


@contextmanager
def undisturbed() -> Iterator[None]:
    """Ignore requests to end meanwhile, so that what is all but done is done.

    Signals are a matter of the main thread; elsewhere nothing needs to be done.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    numbers = [getattr(signal, name) for name in _REQUESTS if hasattr(signal, name)]
    before = {number: signal.signal(number, signal.SIG_IGN) for number in numbers}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler if handler is not None else signal.SIG_DFL)
