"""Runs a command the way a shell does, in this process."""

from __future__ import annotations

from dataclasses import dataclass

from click.testing import CliRunner

from rosette.cli import main


@dataclass(frozen=True, slots=True, kw_only=True)
class Ran:
    code: int
    out: str
    err: str


def rosette(*words: str, typed: str = "") -> Ran:
    """Exit code, stdout and stderr of `rosette WORDS`; a bug escapes with its traceback."""
    result = CliRunner().invoke(main, list(words), input=typed)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return Ran(code=result.exit_code, out=result.stdout, err=result.stderr)
