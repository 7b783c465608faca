"""Sets this checkout up for a run: a `.venv` in it, with the releases named in constraints.txt.

Standard library alone, so that it runs on a bare Python 3.11. Both commands of the README
use it: `patterns_demo/first_job.py` and `tests/check.py`.
"""

from __future__ import annotations

import ctypes
import hashlib
import os
import shutil
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
OLDEST = (3, 11)
KERNEL_LIBRARIES = ("libGL.so.1", "libX11.so.6")
KERNEL_PACKAGES = ("libgl1", "libx11-6")
INSTALL_LINE = "apt-get install -y " + " ".join(KERNEL_PACKAGES)


class SetUpError(Exception):
    """Setting up stopped; the message says what to do about it."""


def python_in(environment: Path) -> Path:
    """The interpreter of a virtual environment, on this kind of system."""
    windows = os.name == "nt"
    return environment / ("Scripts" if windows else "bin") / ("python.exe" if windows else "python")


def prepare(extras: Iterable[str], *, root: Path = ROOT) -> Path:
    """Make `.venv` in the checkout, or bring the one that is there up to date.

    Args:
        extras: names of optional parts in pyproject.toml, such as "fixtures".
        root: the checkout.

    Returns:
        The environment's interpreter.

    Raises:
        SetUpError: where Python is too old, or a step fails.
    """
    if sys.version_info < OLDEST:
        found = ".".join(map(str, sys.version_info[:3]))
        raise SetUpError(
            f"Python {found} is too old: this needs 3.11 or newer. "
            "Install one and start this again with it."
        )
    environment = root / ".venv"
    python = python_in(environment)
    stamp = environment / "set-up.txt"
    wanted = set(extras)
    recipe = _recipe(root)
    done = _read_stamp(stamp)
    if python.exists() and done is not None and done[0] == recipe and wanted <= done[1]:
        return python
    if not python.exists():
        _make(environment)
    together = sorted(wanted | (done[1] if done is not None else set()))
    stamp.unlink(missing_ok=True)
    _install(python, together, root)
    stamp.write_text("\n".join([recipe, *together]) + "\n", encoding="utf-8")
    return python


def kernel_ready() -> bool:
    """Whether the system libraries of the CAD kernel are there, installing them where it may.

    Only Linux keeps them outside the package. On a Debian-like system, as root, they are
    installed; anywhere else the line that does it is printed.
    """
    if not sys.platform.startswith("linux") or _kernel_loads():
        return True
    installer = shutil.which("apt-get")
    if installer and os.geteuid() == 0:
        print("Installing what the CAD kernel needs from the system:", *KERNEL_PACKAGES, flush=True)
        settings = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        for words in (["update"], ["install", "-y", "--no-install-recommends", *KERNEL_PACKAGES]):
            subprocess.run(
                [installer, "-qq", *words], env=settings, check=False, stdin=subprocess.DEVNULL
            )
        if _kernel_loads():
            return True
    print(
        f"The CAD kernel needs {' and '.join(KERNEL_LIBRARIES)} from the system. On Debian or "
        f"Ubuntu this installs them:\n    sudo {INSTALL_LINE}\n"
        "Without them everything but the fixtures is made.",
        flush=True,
    )
    return False


def _kernel_loads() -> bool:
    try:
        for name in KERNEL_LIBRARIES:
            ctypes.CDLL(name)
    except OSError:
        return False
    return True


def _recipe(root: Path) -> str:
    """What an environment depends on, as one word."""
    digest = hashlib.sha256(str(root).encode())
    for name in ("pyproject.toml", "constraints.txt"):
        digest.update((root / name).read_bytes())
    return digest.hexdigest()


def _read_stamp(stamp: Path) -> tuple[str, set[str]] | None:
    """The recipe and extras of a finished set-up, or None where there is none."""
    try:
        recipe, *extras = stamp.read_text(encoding="utf-8").split()
    except (OSError, ValueError):
        return None
    return recipe, set(extras)


def _make(environment: Path) -> None:
    print("Making an environment in .venv", flush=True)
    words = [sys.executable, "-m", "venv", "--clear", str(environment)]
    if subprocess.run(words, check=False, stdin=subprocess.DEVNULL).returncode != 0:
        raise SetUpError(
            "Python could not make a virtual environment. On Debian or Ubuntu "
            "`sudo apt-get install python3-venv` brings what is missing."
        )


def _install(python: Path, extras: list[str], root: Path) -> None:
    print("Installing (about 450 MB to fetch the first time; a minute or two)", flush=True)
    words = [str(python), "-m", "pip", "install", "--disable-pip-version-check"]
    if not sys.stdout.isatty():
        words.append("--quiet")
    words += ["-c", "constraints.txt", "-e", f".[{','.join(extras)}]"]
    if subprocess.run(words, check=False, cwd=root, stdin=subprocess.DEVNULL).returncode != 0:
        raise SetUpError(
            "pip could not install everything; its words above say why. "
            "With no network, connect and start this again."
        )
