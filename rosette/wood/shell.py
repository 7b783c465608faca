"""Which materials are shell: no grain, no movement with the weather, and a dust of their own."""

from __future__ import annotations

_NAMES = ("abalone", "mother of pearl", "nacre", "paua", "pearl", "shell")


def is_shell(name: str) -> bool:
    """Whether a name is that of a shell.

    >>> is_shell("Green abalone"), is_shell("mother-of-pearl"), is_shell("pear"), is_shell("walnut")
    (True, True, False, False)
    """
    words = f" {' '.join(name.lower().replace('-', ' ').split())} "
    return any(f" {one} " in words for one in _NAMES)
