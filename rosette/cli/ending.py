"""How a command ends: what stderr says and which exit code, for every error in one place."""

from __future__ import annotations

import io
import os
import re
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import click

STOPPED = "Stopped; nothing was changed."
INTERRUPTED, PIPE_CLOSED = 130, 141
"""128 and the number of the signal, as shells have it."""


@dataclass(slots=True)
class End:
    """The exit code that the process will end with."""

    code: int = 0


class PipeClosedError(Exception):
    """Whoever read the output has gone; nothing is wrong, and nothing more can be said."""


def prepare_streams() -> None:
    """Let a terminal that lacks a character (°, −) show a stand-in instead of failing.

    A stream that the caller has closed is pointed at nothing: else the next file that is opened
    would take its number, and what is meant for people would go into it.
    """
    for number, name, mode in ((0, "stdin", "r"), (1, "stdout", "w"), (2, "stderr", "w")):
        if getattr(sys, name) is None:
            nothing = os.open(os.devnull, os.O_RDWR)
            if nothing != number:
                os.dup2(nothing, number)
                os.close(nothing)
            setattr(sys, name, open(number, mode, encoding="utf-8", closefd=False))  # noqa: SIM115
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


@contextmanager
def told(command: str) -> Iterator[End]:
    """Turn every error a user can cause into lines on stderr and an exit code.

    Anything else is a fault of the program and keeps its traceback.
    """
    end = End()
    try:
        yield end
    except (click.exceptions.Abort, KeyboardInterrupt):
        end.code = _tell([STOPPED], INTERRUPTED)
    except click.ClickException as error:
        end.code = _tell(usage_lines(error, command), 2)
    except (PipeClosedError, BrokenPipeError):
        _silence(sys.stdout)
        end.code = PIPE_CLOSED
    except OSError as error:
        if not _is_from_printing(error):
            raise
        _silence(sys.stdout)
        why = (error.strerror or str(error)).lower()
        end.code = _tell([f"{command}: can't write what was worked out: {why}"], 2)
    except Exception as error:
        end.code = _told_if_ours(error)


@contextmanager
def told_if_stopped(ctx: click.Context, nothing_yet: str) -> Iterator[None]:
    """What a search says that is stopped before it has anything to show."""
    try:
        yield
    except KeyboardInterrupt:
        click.echo(f"\nStopped: {nothing_yet}", err=True)
        ctx.exit(INTERRUPTED)


def flush() -> None:
    """Send off what is printed, while an error can still be told."""
    sys.stdout.flush()


def _is_from_printing(error: OSError) -> bool:
    """Whether it was the printing that failed (a full disk, a device that has gone)."""
    frame = error.__traceback__
    while frame is not None and frame.tb_next is not None:
        frame = frame.tb_next
    return frame is not None and frame.tb_frame.f_code in (click.echo.__code__, flush.__code__)


def _told_if_ours(error: Exception) -> int:
    from rosette.errors import RosetteError

    if not isinstance(error, RosetteError):
        raise error
    return _tell(error.lines(), error.exit_code)


def _tell(lines: Iterable[str], code: int) -> int:
    try:
        sys.stdout.flush()
        for line in lines:
            click.echo(line, err=True)
    except OSError:
        _silence(sys.stdout)
        _silence(sys.stderr)
    return code


def _silence(stream: object) -> None:
    """Point a closed pipe at nothing, so that the interpreter's own last flush stays quiet."""
    try:
        number = stream.fileno()  # type: ignore[attr-defined]
    except (AttributeError, OSError, ValueError):
        return
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, number)
    os.close(nothing)


def usage_lines(error: click.ClickException, command: str) -> list[str]:
    """What was wrong with the command line, and where to read how it is used."""
    context = error.ctx if isinstance(error, click.UsageError) else None
    name = context.command_path if context else command
    return [f"{name}: {_usage_sentence(error)}", f'"{name} --help" shows how it is used.']


def _usage_sentence(error: click.ClickException) -> str:
    if isinstance(error, click.NoSuchOption):
        near = " or ".join(error.possibilities or ())
        sentence = f"there is no option {error.option_name}"
        return f"{sentence}; did you mean {near}?" if near else f"{sentence}."
    sentence = error.message
    extra = re.fullmatch(r"Got unexpected extra arguments? \((.*)\)", sentence)
    if extra:
        return f"nothing is known to do with {extra[1]}; leave it out."
    if isinstance(error, click.BadParameter) and error.param is not None:
        hint = error.param.get_error_hint(error.ctx) if error.ctx else error.param.name or ""
        missing = isinstance(error, click.MissingParameter)
        sentence = f"{hint} is missing." if missing else f"{hint}: {sentence}"
    return sentence.replace("'", "")


def unknown_command(name: str, known: Iterable[str]) -> str:
    """The sentence for a command that does not exist, with the nearest that does."""
    from difflib import get_close_matches

    known = list(known)
    near = get_close_matches(name, known, n=1, cutoff=0.5)
    remedy = f"did you mean {near[0]}?" if near else f"there are {', '.join(known)}."
    return f"there is no command {name}; {remedy}"
