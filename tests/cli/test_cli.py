"""The command line itself: help, version, mistakes in it, and how a command ends."""

from __future__ import annotations

import fcntl
import os
import signal
import struct
import subprocess
import sys
import termios
import time
from importlib import import_module
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from rosette import __version__
from rosette.cli import COMMANDS, ending, main
from rosette.errors import CannotMakeError, InputError, MissingLibraryError
from tests.cli.run import rosette

ROOT = Path(__file__).resolve().parents[2]
DEMO = "patterns_demo/damson-parlour/design.toml"


@pytest.mark.parametrize("words", [[], ["--help"], ["-h"]], ids=" ".join)
def test_the_help_shows_every_command_in_the_order_of_work(words: list[str]) -> None:
    ran = rosette(*words)
    assert ran.code == 0
    assert not ran.err
    places = [ran.out.index(f"\n  {name} ") for name in COMMANDS]
    assert places == sorted(places)
    assert all(one_line in " ".join(ran.out.split()) for one_line in COMMANDS.values())
    assert "rosette make my-guitar.toml --out job" in ran.out
    assert max(map(len, ran.out.split("\n"))) <= 80


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_its_help(name: str) -> None:
    ran = rosette(name, "--help")
    assert ran.code == 0
    assert ran.out.startswith(f"Usage: rosette {name} ")
    assert isinstance(import_module(f"rosette.cli.{name}").command, click.Command)


def test_the_version() -> None:
    ran = rosette("--version")
    assert (ran.code, ran.out) == (0, f"rosette {__version__}\n")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["chek"], "rosette: there is no command chek; did you mean check?"),
        (["plans"], "rosette: there is no command plans; did you mean plan?"),
        (["xyzzy"], "rosette: there is no command xyzzy; there are new, check, plan, "),
        (["--versoin"], "rosette: there is no option --versoin; did you mean --version?"),
        (["check"], "rosette check: DESIGN is missing."),
        (["check", "a", "b"], "rosette check: nothing is known to do with b; leave it out."),
        (["check", "a", "--jsn"], "rosette check: there is no option --jsn; did you mean --json?"),
        (["check", "a", "--units", "ft"], "rosette check: --units: ft is not one of mm, in."),
        (["check", "a", "--units"], "rosette check: Option --units requires an argument."),
        (["check", "a", "--json=3"], "rosette check: Option --json does not take a value."),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else None,
)
def test_a_mistake_on_the_command_line(words: list[str], told: str) -> None:
    ran = rosette(*words)
    assert ran.code == 2
    assert not ran.out
    first, last = ran.err.rstrip("\n").split("\n")
    assert first.startswith(told)
    command = "rosette check" if words[0] == "check" else "rosette"
    assert last == f'"{command} --help" shows how it is used.'


def _ending_with(error: BaseException) -> click.testing.Result:
    @click.command("fails")
    def fails() -> None:
        click.echo("before")
        raise error

    @click.group(cls=type(main))
    def group() -> None:
        """Nothing."""

    group.get_command = lambda ctx, name: fails  # type: ignore[method-assign]
    group.resolve_command = lambda ctx, args: ("fails", fails, args[1:])  # type: ignore[method-assign]
    return CliRunner().invoke(group, ["fails"])


@pytest.mark.parametrize(
    ("error", "code", "told"),
    [
        (InputError("it is wrong", source="a.toml"), 2, "a.toml: it is wrong\n"),
        (CannotMakeError("it can't be"), 1, "it can't be\n"),
        (MissingLibraryError("install this"), 2, "install this\n"),
        (KeyboardInterrupt(), 130, "\nStopped; nothing was changed.\n"),
        (click.Abort(), 130, "Stopped; nothing was changed.\n"),
        (
            click.ClickException("plain"),
            2,
            'rosette: plain\n"rosette --help" shows how it is used.\n',
        ),
    ],
    ids=lambda value: type(value).__name__,
)
def test_how_a_command_ends(error: BaseException, code: int, told: str) -> None:
    result = _ending_with(error)
    assert (result.exit_code, result.stdout, result.stderr) == (code, "before\n", told)


@pytest.mark.parametrize("bug", [ValueError("a bug"), OSError(28, "disk full"), KeyError("x")])
def test_a_bug_keeps_its_traceback(bug: Exception) -> None:
    assert _ending_with(bug).exception is bug


def _process(*words: str, **more: object) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-m", "rosette", *words],
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        **more,  # type: ignore[call-overload]
    )


def test_a_reader_that_goes_away_is_no_trouble() -> None:
    process = _process("new", "--kind", "steel")
    assert process.stdout is not None
    process.stdout.close()
    assert process.stderr is not None
    told = process.stderr.read()
    assert (process.wait(), told) == (ending.PIPE_CLOSED, b"")


@pytest.mark.parametrize("closing", [">&-", ">&- 2>&-", "<&- >&-"])
def test_a_closed_output_is_no_trouble(closing: str) -> None:
    told = subprocess.run(
        ["/bin/sh", "-c", f'"$0" -m rosette plan {DEMO} {closing}', sys.executable],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (told.returncode, told.stdout, told.stderr) == (0, "", "")


def test_a_full_disk_under_the_output_is_told() -> None:
    with Path("/dev/full").open("w") as full:
        told = subprocess.run(
            [sys.executable, "-m", "rosette", "plan", DEMO],
            cwd=ROOT,
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert told.returncode == 2
    assert told.stderr == (
        "rosette plan: can't write what was worked out: no space left on device\n"
    )


def test_an_interrupt_while_the_tool_is_loading_shows_no_traceback() -> None:
    script = (
        "import os, runpy, signal, sys\n"
        "class Watcher:\n"
        "    def find_spec(self, name, *_):\n"
        "        if name == 'click':\n"
        "            os.kill(os.getpid(), signal.SIGINT)\n"
        "sys.meta_path.insert(0, Watcher())\n"
        "runpy.run_module('rosette', run_name='__main__')\n"
    )
    told = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (told.returncode, told.stdout, told.stderr) == (-signal.SIGINT, "", "")


def test_a_terminal_without_the_signs_gets_stand_ins() -> None:
    process = _process("check", DEMO, env={**os.environ, "PYTHONIOENCODING": "ascii"})
    out, err = process.communicate()
    assert process.returncode == 0, err
    assert out.isascii()


def test_an_interrupt_is_told() -> None:
    reader, writer = os.pipe()
    process = _process("check", f"/dev/fd/{reader}", pass_fds=(reader,))
    os.write(writer, b"schema = 1\n")
    deadline = time.monotonic() + 60
    while _waiting(reader) and time.monotonic() < deadline:
        time.sleep(0.02)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=60)
    os.close(reader)
    os.close(writer)
    assert process.returncode == ending.INTERRUPTED
    assert err.decode().strip() == ending.STOPPED


def _waiting(pipe: int) -> int:
    """Bytes in a pipe that nobody has read yet."""
    return struct.unpack("i", fcntl.ioctl(pipe, termios.FIONREAD, struct.pack("i", 0)))[0]


def test_help_loads_no_command_and_little_else() -> None:
    code = (
        "import sys; from rosette.cli import main\n"
        "try: main(['--help'])\nfinally: print(*sys.modules)"
    )
    process = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    )
    loaded = set(process.stdout.split("\n")[-2].split())
    assert "rosette.cli" in loaded
    assert not loaded & {f"rosette.cli.{name}" for name in COMMANDS}
    assert not loaded & {"rosette.design", "rosette.keys", "rosette.plan", "tomllib", "numpy"}
