"""The door to the CAD kernel: loads cadquery, or says what to install."""

from __future__ import annotations

from importlib import import_module
from types import ModuleType

from rosette.errors import MissingLibraryError

PIP_LINE = "pip install 'rosette[fixtures]'"
APT_LINE = "sudo apt-get install libgl1 libx11-6"
SYSTEM_LIBRARIES = ("libGL", "libX11")


def load(name: str = "cadquery") -> ModuleType:
    """The CAD library, loaded; takes a second or three the first time.

    Raises:
        MissingLibraryError: with the line that installs what is missing.
    """
    try:
        return import_module(name)
    except ImportError as error:
        raise MissingLibraryError(explain(error)) from error


def explain(error: ImportError) -> str:
    """Why the CAD library can't be loaded, and the line that puts it right.

    >>> print(explain(ModuleNotFoundError("No module named 'OCP'", name="OCP")))
    fixtures need OCP, which is not installed; install it with: pip install 'rosette[fixtures]'
    """
    library = next((one for one in SYSTEM_LIBRARIES if one in str(error)), None)
    if library is not None:
        return (
            f"fixtures need the system library {library}, which is not installed;"
            f" on Debian, Ubuntu and their like install it with: {APT_LINE}"
        )
    if isinstance(error, ModuleNotFoundError):
        missing = (error.name or "cadquery").partition(".")[0]
        return f"fixtures need {missing}, which is not installed; install it with: {PIP_LINE}"
    return (
        f"fixtures need cadquery, which can't be loaded ({error}); install it again with:"
        f" {PIP_LINE} - and, if a system library is named, on Debian, Ubuntu and their like"
        f" with: {APT_LINE}"
    )
