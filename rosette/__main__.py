"""`python -m rosette`: the same as the command `rosette`."""

from __future__ import annotations

import signal


def main() -> None:
    """Load the command line and run it.

    Ctrl-C while it loads ends the process at once, without a word: nothing has begun yet.
    """
    before = signal.signal(signal.SIGINT, signal.SIG_DFL)
    from rosette.cli import main as command_line

    signal.signal(signal.SIGINT, before)
    command_line(prog_name="rosette")


if __name__ == "__main__":
    main()
