"""A lock on an open file that ends with the process that holds it, however that ends."""

from __future__ import annotations

import sys

if sys.platform == "win32":
    import msvcrt

    def try_lock(file: int) -> bool:
        """Lock an open file at once, or say that another process holds it."""
        try:
            msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def try_lock(file: int) -> bool:
        """Lock an open file at once, or say that another process holds it."""
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
