"""Rows of pixels as a PNG (ISO/IEC 15948), on the standard library."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Mapping

import numpy as np
import numpy.typing as npt

SIGNATURE = b"\x89PNG\r\n\x1a\n"
_UP = 2


def png(image: npt.NDArray[np.uint8], words: Mapping[str, str] | None = None) -> bytes:
    """An image (rows, columns, red green blue) as a file; the same bytes for the same image.

    `words` are kept in it as text by keyword, in Latin letters.
    """
    height, width, _ = image.shape
    lines = np.zeros((height, 1 + 3 * width), dtype=np.uint8)
    flat = image.reshape(height, 3 * width)
    lines[:, 0] = _UP
    lines[0, 1:] = flat[0]
    lines[1:, 1:] = flat[1:] - flat[:-1]
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    texts = [
        _chunk(b"tEXt", f"{key}\0{text}".encode("latin-1")) for key, text in (words or {}).items()
    ]
    body = _chunk(b"IDAT", zlib.compress(lines.tobytes(), 6))
    return b"".join((SIGNATURE, _chunk(b"IHDR", head), *texts, body, _chunk(b"IEND", b"")))


def words_of(data: bytes) -> dict[str, str]:
    """The texts that a PNG keeps, by keyword.

    >>> words_of(png(np.zeros((1, 1, 3), dtype=np.uint8), {"Title": "a dot"}))
    {'Title': 'a dot'}
    """
    found: dict[str, str] = {}
    at = len(SIGNATURE)
    while at + 8 <= len(data):
        (size,) = struct.unpack_from(">I", data, at)
        if data[at + 4 : at + 8] == b"tEXt":
            key, _, text = data[at + 8 : at + 8 + size].partition(b"\0")
            found[key.decode("latin-1")] = text.decode("latin-1")
        at += 12 + size
    return found


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
