"""A small picture out of a PNG file: its colours, pixel by pixel.

The file comes from a drawing program or from a stranger. It is read strictly, by the PNG
specification (ISO/IEC 15948), with limits on its size before anything is unpacked; whatever is
wrong with it ends in a `PngError` (docs/decisions/0020-a-png-of-a-motif.md).
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from typing import NamedTuple

MOST_BYTES = 256 * 1024
"""A picture of a few thousand pixels takes a few kilobytes, with what programs add to it."""
MOST_CHUNKS = 1000
SIGNATURE = b"\x89PNG\r\n\x1a\n"
CHANNELS = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}
"""Samples of a pixel by colour type: grey, colour, palette, grey and colour with transparency."""
_GREY, _COLOUR, _PALETTE = 0, 2, 3
_UNDERSTOOD = {b"IHDR", b"PLTE", b"IDAT", b"IEND"}

Colours = tuple[tuple[str, ...], ...]
"""Rows from the top, each colour as "#rrggbb"."""


class PngError(ValueError):
    """A file that no picture can be read from; its words are the end of a sentence about it."""


class Head(NamedTuple):
    """What a PNG says of itself at its beginning."""

    width: int
    height: int
    depth: int
    colour: int

    @property
    def bits(self) -> int:
        """Bits of a pixel."""
        return CHANNELS[self.colour] * self.depth

    @property
    def stride(self) -> int:
        """Bytes of a row without its filter's byte."""
        return (self.width * self.bits + 7) // 8


def read_png(data: bytes, *, most: int) -> Colours:
    """The colours of a PNG of at most `most` by `most` pixels, rows from the top.

    Raises:
        PngError: it is no PNG, is damaged, too large, or of a kind that is not read.
    """
    chunks = list(_chunks(data))
    head = _head(chunks, most)
    packed = b"".join(body for name, body in chunks if name == b"IDAT")
    rows = _unfiltered(_unpacked(packed, head), head)
    told = {name: body for name, body in chunks if name in (b"PLTE", b"tRNS")}
    table = _table(head, told.get(b"PLTE"))
    return _coloured(rows, head, table, told.get(b"tRNS"))


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Every chunk's name and body, each checked against its checksum."""
    if not data.startswith(SIGNATURE):
        raise PngError("is not a PNG file; save the picture as PNG")
    at = len(SIGNATURE)
    for _ in range(MOST_CHUNKS):
        if at + 12 > len(data):
            break
        (length,) = struct.unpack_from(">I", data, at)
        name, end = data[at + 4 : at + 8], at + 8 + length
        if end + 4 > len(data):
            break
        if zlib.crc32(data[at + 4 : end]) != struct.unpack_from(">I", data, end)[0]:
            raise PngError("is damaged: a checksum in it is wrong; save it again")
        if name[0:1].isupper() and name not in _UNDERSTOOD:
            raise PngError("is a PNG of an unusual kind; save it as a plain PNG")
        yield name, data[at + 8 : end]
        at = end + 4
        if name == b"IEND":
            return
    raise PngError("is damaged: it ends too early; save it again")


def _head(chunks: list[tuple[bytes, bytes]], most: int) -> Head:
    name, body = chunks[0]
    if name != b"IHDR" or len(body) != 13:
        raise PngError("is damaged: it does not begin as a PNG does; save it again")
    *sizes, packing, filtering, interlaced = struct.unpack(">IIBBBBB", body)
    head = Head(*sizes)
    if not (1 <= head.width <= most and 1 <= head.height <= most):
        raise PngError(
            f"is {head.width} × {head.height} pixels; a motif has one pixel a cell, and at most"
            f" {most} × {most} of them"
        )
    if interlaced:
        raise PngError("is interlaced; save it without interlacing")
    if packing or filtering or head.colour not in CHANNELS:
        raise PngError("is a PNG of an unusual kind; save it as a plain PNG")
    few = head.colour in (_GREY, _PALETTE)
    if head.depth != 8 and not (few and head.depth in (1, 2, 4)):
        raise PngError(f"has {head.depth} bits a channel; save it with 8 bits a channel")
    return head


def _unpacked(packed: bytes, head: Head) -> bytes:
    """The rows with their filter bytes; no more is ever unpacked than they take."""
    wanted = (head.stride + 1) * head.height
    unpacker = zlib.decompressobj()
    try:
        data = unpacker.decompress(packed, wanted + 1)
    except zlib.error:
        raise PngError("is damaged: its pixels can't be unpacked; save it again") from None
    if len(data) != wanted or not unpacker.eof:
        raise PngError("is damaged: it holds more or fewer pixels than it says; save it again")
    return data


def _unfiltered(data: bytes, head: Head) -> list[bytes]:
    """Each row's bytes, its filter undone (PNG specification, clause 9)."""
    back = max(1, head.bits // 8)
    above = bytes(head.stride)
    rows = []
    for start in range(0, len(data), head.stride + 1):
        kind = data[start]
        if kind > 4:
            raise PngError("is damaged: a row of it has no known filter; save it again")
        row = bytearray(data[start + 1 : start + 1 + head.stride])
        for i in range(head.stride):
            left = row[i - back] if i >= back else 0
            corner = above[i - back] if i >= back else 0
            row[i] = (row[i] + _guess(kind, left, above[i], corner)) & 255
        above = bytes(row)
        rows.append(above)
    return rows


def _guess(kind: int, left: int, up: int, corner: int) -> int:
    """What a filter foretells of a byte from its neighbours."""
    if kind < 4:
        return (0, left, up, (left + up) // 2)[kind]
    guess = left + up - corner
    off_left, off_up, off_corner = abs(guess - left), abs(guess - up), abs(guess - corner)
    if off_left <= off_up and off_left <= off_corner:
        return left
    return up if off_up <= off_corner else corner


def _table(head: Head, body: bytes | None) -> list[str]:
    """The colours that a picture with a palette counts."""
    if head.colour != _PALETTE:
        return []
    if not body or len(body) % 3 or len(body) > 3 * 256:
        raise PngError("is damaged: its palette is missing or broken; save it again")
    return [f"#{body[i : i + 3].hex()}" for i in range(0, len(body), 3)]


def _coloured(rows: list[bytes], head: Head, table: list[str], clear: bytes | None) -> Colours:
    return tuple(
        tuple(
            _colour(pixel, head, table, clear, f"row {y}, column {x}")
            for x, pixel in enumerate(_pixels(row, head), start=1)
        )
        for y, row in enumerate(rows, start=1)
    )


def _pixels(row: bytes, head: Head) -> Iterator[tuple[int, ...]]:
    """The samples of each pixel of a row."""
    if head.depth == 8:
        wide = CHANNELS[head.colour]
        for i in range(head.width):
            yield tuple(row[i * wide : (i + 1) * wide])
        return
    for i in range(head.width):
        at = i * head.depth
        yield (row[at // 8] >> (8 - head.depth - at % 8) & ((1 << head.depth) - 1),)


def _colour(
    pixel: tuple[int, ...], head: Head, table: list[str], clear: bytes | None, place: str
) -> str:
    """A pixel's colour; it must be there in the palette and not be seen through."""
    *seen, last = pixel
    if head.colour == _PALETTE:
        if last >= len(table):
            raise PngError(f"is damaged: the palette lacks the colour of {place}; save it again")
        opaque = clear is None or last >= len(clear) or clear[last] == 255
        found = table[last]
    else:
        if head.colour in (_GREY, _COLOUR):
            opaque = clear is None or clear != b"".join(struct.pack(">H", one) for one in pixel)
            seen = list(pixel)
        else:
            opaque = last == 255
        scale = 255 // ((1 << head.depth) - 1)
        levels = [one * scale for one in seen]
        found = "#" + bytes(levels if len(levels) == 3 else levels * 3).hex()
    if not opaque:
        raise PngError(f"is see-through at {place}; give every pixel a colour")
    return found
