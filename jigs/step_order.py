"""Puts the colours in a STEP file into one order, whatever order the kernel met them in.

The kernel goes through coloured parts in the order of their addresses in memory, which differs from
run to run. All else that it writes stands in the order of the parts.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_PAINT = b"MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION("
_FIRST = re.compile(rb"#(\d+) = " + re.escape(_PAINT))
_STATEMENT = re.compile(rb"#(\d+) = (.*?);\n", re.DOTALL)
_REFERENCE = re.compile(rb"#(\d+)")
_WRAP = re.compile(rb"\n\s*")
_END = b"ENDSEC;\nEND-ISO-10303-21;"


def colours_in_order(data: bytes) -> bytes:
    """The same file, its colours in the order of what they colour.

    Colours stand last in the file, each group headed by its presentation; nothing before them
    refers to them, so that they alone are numbered anew.
    """
    first, end = _FIRST.search(data), data.rfind(_END)
    if first is None or data.count(_PAINT) < 2:
        return data
    number = int(first[1])
    found = {
        int(n): _WRAP.sub(b"", body) for n, body in _STATEMENT.findall(data, first.start(), end)
    }
    heads = [n for n, body in found.items() if body.startswith(_PAINT)]
    order: dict[int, int] = {}
    for head in sorted(heads, key=lambda n: _painted(n, found)):
        for one in _all_of(head, found):
            order.setdefault(one, number + len(order))
    for one in found:
        order.setdefault(one, number + len(order))
    lines = (b"#%d = %b;\n" % (order[one], _renumbered(found[one], order)) for one in order)
    return data[: first.start()] + b"".join(lines) + data[end:]


def _all_of(head: int, found: dict[int, bytes]) -> Iterator[int]:
    """A statement and, depth first, all among the found that it refers to."""
    yield head
    for reference in _references(found[head]):
        if reference in found:
            yield from _all_of(reference, found)


def _painted(head: int, found: dict[int, bytes]) -> list[int]:
    """What a group refers to outside the colours: the bodies painted, and their frames."""
    outside = {one for each in _all_of(head, found) for one in _references(found[each])}
    return sorted(outside - found.keys())


def _references(body: bytes) -> list[int]:
    return [int(one) for one in _REFERENCE.findall(body)]


def _renumbered(body: bytes, order: dict[int, int]) -> bytes:
    def number(reference: re.Match[bytes]) -> bytes:
        n = int(reference[1])
        return b"#%d" % order.get(n, n)

    return _REFERENCE.sub(number, body)
