"""A file's bytes, and the tables that stand in them: a design's, or those of a box of offcuts."""

from __future__ import annotations

import codecs
import os
import re
import tomllib
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from rosette.design.syntax import plain_words
from rosette.errors import Finding, InputError, finding
from rosette.keys.show import show
from rosette.words import plain

MOST_BYTES = 256 * 1024
"""A design is a few kilobytes; anything larger is some other file."""

MOST_DOTS = 600
"""Reading a dotted key takes time by the square of its dots. This many in one line, or any number
of lines that take as long together, is more than any design has."""

_PLACE = re.compile(
    r"^(?P<problem>.*) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of .*)\)$", re.DOTALL
)
_DECIMAL = re.compile(r"(?<![\w.])[0-9]+\.[0-9]+(?![\w.])")
_OTHER_ENCODINGS = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def read_bytes(
    path: str | os.PathLike[str], *, most: int = MOST_BYTES, called: str = "design"
) -> bytes:
    """The bytes of a file; `called` is what messages call such a file.

    Raises:
        InputError: where there is no such file, it can't be read or is too large.
    """
    try:
        with open(path, "rb") as file:
            data = file.read(most + 1)
    except FileNotFoundError:
        raise _refused(path, "missing-file", "there is no such file" + _nearest(path)) from None
    except IsADirectoryError:
        raise _refused(path, "folder", f"this is a folder; name the {called} file in it") from None
    except PermissionError:
        raise _refused(path, "unreadable", "you have no permission to read it") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "its name can't be used"
        raise _refused(path, "unreadable", f"it can't be read: {reason}") from None
    if len(data) > most:
        sentence = f"it is larger than {most // 1024} kB; no {called} file is so large"
        raise _refused(path, "too-large", sentence)
    return data


def read_tables(
    data: bytes, source: str, *, start: str = '"rosette new" writes a design to start from'
) -> dict[str, Any]:
    """The tables of a TOML file; `start` says how to come by one where it is empty.

    Raises:
        InputError: where it is not UTF-8 or not TOML, with the line and what to write instead.
    """
    text = _decoded(data, source).replace("\r\n", "\n")
    if _too_dotted(text):
        raise InputError(
            "it has more dots in its lines than any design or box of offcuts", source=source
        )
    try:
        tables = tomllib.loads(text)
    except RecursionError:
        problem = finding("toml", "", "lists or tables stand inside each other too deep to be read")
        raise InputError([problem], source=source) from None
    except ValueError as error:
        raise InputError([_syntax_finding(str(error), text)], source=source) from None
    if not tables:
        problem = finding("empty", "", "{it}", it=f"it holds no keys; {start}")
        raise InputError([problem], source=source)
    return tables


def shown_path(path: str | os.PathLike[str]) -> str:
    """A path as messages show it."""
    return plain(os.fspath(path), 200)


def _refused(path: str | os.PathLike[str], code: str, sentence: str) -> InputError:
    return InputError([finding(code, "", "{it}", it=sentence)], source=shown_path(path))


def _nearest(path: str | os.PathLike[str]) -> str:
    """The design beside it whose name is most like this one's."""
    wanted = Path(path)
    try:
        names = [p.name for p in wanted.parent.glob("*.toml")]
    except (OSError, ValueError):
        return ""
    near = get_close_matches(wanted.name[:255], names, n=1)
    return f"; did you mean {shown_path(wanted.parent / near[0])}?" if near else ""


def _decoded(data: bytes, source: str) -> str:
    if data.startswith(_OTHER_ENCODINGS):
        problem = "it is saved as UTF-16; save it as UTF-8 text"
    elif b"\x00" in data:
        problem = "it is not a text file"
    else:
        try:
            return data.removeprefix(codecs.BOM_UTF8).decode("utf-8")
        except UnicodeDecodeError as error:
            line = data.count(b"\n", 0, error.start) + 1
            problem = f"line {line} is not UTF-8 text; save the file as UTF-8"
    raise InputError([finding("encoding", "", "{it}", it=problem)], source=source)


def _too_dotted(text: str) -> bool:
    # the points of decimals are no key's dots, and an outline has many in a line
    lines = (
        _DECIMAL.sub("", line) for line in text.split("\n") if not line.lstrip().startswith("#")
    )
    return sum(line.count(".") ** 2 for line in lines) > MOST_DOTS**2


def _syntax_finding(message: str, text: str) -> Finding:
    match = _PLACE.match(message)
    lines = text.split("\n")
    if match is None:
        return finding("toml", "", "a number in it has too many digits to be read")
    if match["line"] is None:
        last = max((i for i, line in enumerate(lines, start=1) if line.strip()), default=1)
        where, line = f"line {last}", lines[last - 1]
    else:
        line = lines[int(match["line"]) - 1]
        where = f"line {match['line']}, column {match['column']}"
    return finding(
        "toml",
        where,
        "{words}; the line is {line}",
        words=plain_words(match["problem"], line.strip()),
        line=show(line.strip()) if '"' not in line else plain_line(line.strip()),
    )


def plain_line(line: str) -> str:
    """A line of the file between quotes of the other kind, where it has quotes of its own."""
    return "'" + plain(line).replace('\\"', '"') + "'"
