"""Changing an offcuts file and leaving the rest of it as its maker wrote it, to the letter.

The file is cut into its tables at the lines that head them; only whole tables and single lines
are put in, taken out or replaced. Whoever changes it reads the result before it is written.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from rosette.errors import InputError

_HEAD = re.compile(r"\s*(\[\[?)\s*([A-Za-z0-9_-]+|\"[^\"]*\"|'[^']*')")
_COUNT = re.compile(r"(\s*count\s*=\s*)([^\s#]+)(.*)", re.DOTALL)
_TOKEN = re.compile(
    r'"""(?:[^"\\]|\\.|"{1,2}(?!"))*"{3,5}'
    r"|'''(?:[^']|'{1,2}(?!'))*'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'"
    r"|\#[^\n]*|[\[\]{}\n]",
    re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class Block:
    """One table's lines with the remarks right above it; `name` is "" for the top of the file."""

    name: str
    text: str


def blocks(text: str) -> list[Block]:
    """The file in blocks that make it up again when they are joined.

    Sub-tables belong to the entry of a list of tables that they follow.
    """
    lines = _lines(text)
    heads = [(i, *_head(lines[i])) for i in _outer_lines(text, lines)]
    heads = [head for head in heads if head[1]]
    starts: list[tuple[int, str]] = [(0, "")]
    for line, name, many in heads:
        if not many and name == starts[-1][1]:
            continue
        # a lone sub-table, apart from the entry that it belongs to, is no entry itself
        starts.append((_with_remarks(lines, line, starts[-1][0]), name if many else f"{name}."))
    ends = [start for start, _ in starts[1:]] + [len(lines)]
    made = [
        Block(name, "".join(lines[start:end]))
        for (start, name), end in zip(starts, ends, strict=True)
    ]
    return made if made[0].text else made[1:]


def _lines(text: str) -> list[str]:
    return re.findall(r"[^\n]*\n|[^\n]+", text)


def _head(line: str) -> tuple[str, bool]:
    """The first part of the name that a line heads a table with, and whether in double brackets."""
    match = _HEAD.match(line)
    if match is None:
        return "", False
    whole = line.split("]", maxsplit=1)[0].strip(" \t[")
    return match[2].strip("\"'"), match[1] == "[[" and "." not in whole


def _outer_lines(text: str, lines: list[str]) -> Iterator[int]:
    """The lines that begin outside of every list, inline table and string."""
    begins = {0: 0}
    at = 0
    for number, line in enumerate(lines):
        begins[at] = number
        at += len(line)
    depth = 0
    if lines:
        yield 0
    for match in _TOKEN.finditer(text):
        met = match[0]
        if met in "[{":
            depth += 1
        elif met in "]}":
            depth -= 1
        elif met == "\n" and depth == 0 and match.end() in begins:
            yield begins[match.end()]


def _with_remarks(lines: list[str], line: int, least: int) -> int:
    """The first of the remarks that stand right above a line."""
    while line - 1 > least and lines[line - 1].lstrip().startswith("#"):
        line -= 1
    return line


def with_count(block: Block, count: int) -> Block:
    """An offcut's table with another count.

    Raises:
        InputError: its count does not stand on a line of its own.
    """
    lines = _lines(block.text)
    for i in _outer_lines(block.text, lines):
        match = _COUNT.fullmatch(lines[i])
        if match is not None:
            lines[i] = f"{match[1]}{count}{match[3]}"
            return Block(block.name, "".join(lines))
    raise InputError("the line with its count can't be found; write it as count = 2")


def after_last(parts: list[Block], name: str, text: str) -> list[Block]:
    """The parts with a new table behind the last of that name, a blank line before it."""
    last = max((i for i, part in enumerate(parts) if part.name == name), default=len(parts) - 1)
    return [*parts[: last + 1], Block(name, text), *parts[last + 1 :]]


def joined(parts: list[Block], *, new: set[str] | None = None) -> str:
    """The file again; blocks whose text is among `new` stand between blank lines."""
    text, new = "", new or set()
    for i, part in enumerate(parts):
        if text and not text.endswith("\n"):
            text += "\n"
        if part.text in new and text and not text.endswith("\n\n"):
            text += "\n"
        text += part.text
        following = parts[i + 1].text if i + 1 < len(parts) else ""
        if part.text in new and following and following not in new:
            text += "" if following.startswith("\n") else "\n"
    return text
