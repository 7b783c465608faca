"""Motifs out of PNG files: what Pillow reads, and files that were made to hurt.

The layout of chunks, filters and sample depths is that of the PNG specification (ISO/IEC 15948).
"""

from __future__ import annotations

import io
import os
import random
import struct
import tracemalloc
import zlib
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from rosette.design import read_design_text
from rosette.errors import InputError
from rosette.patterns.mosaic_png import SIGNATURE, PngError, read_png
from tests.patterns.mosaics import WOODS, made, mosaic
from tests.properties.designs import design_text


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png(
    *, wide: int = 2, high: int = 2, depth: int = 8, colour: int = 2, rows: bytes | None = None,
    head: bytes = b"\0\0\0", before: bytes = b"", packed: bytes | None = None,
) -> bytes:  # fmt: skip
    """A PNG put together by hand: rows with their filter bytes, chunks `before` the pixels."""
    if rows is None:
        stride = (wide * depth * {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}.get(colour, 1) + 7) // 8
        rows = (b"\0" + bytes(stride)) * high
    return b"".join(
        (
            SIGNATURE,
            chunk(b"IHDR", struct.pack(">IIBB", wide, high, depth, colour) + head),
            before,
            chunk(b"IDAT", zlib.compress(rows) if packed is None else packed),
            chunk(b"IEND", b""),
        )
    )


def by_pillow(data: bytes) -> tuple[tuple[str, ...], ...]:
    with Image.open(io.BytesIO(data)) as image:
        seen = image.convert("RGB")
    levels, stride = seen.tobytes().hex(), 6 * seen.width
    rows = [levels[i : i + stride] for i in range(0, len(levels), stride)]
    return tuple(tuple(f"#{row[i : i + 6]}" for i in range(0, stride, 6)) for row in rows)


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(["1", "L", "P", "RGB", "RGBA", "LA"]),
    st.integers(1, 20),
    st.integers(1, 20),
    st.integers(1, 200),
    st.randoms(use_true_random=False),
)
def test_what_pillow_writes_is_read_as_pillow_reads_it(
    mode: str, wide: int, high: int, colours: int, dice: random.Random
) -> None:
    drawn = Image.new("RGB", (wide, high))
    few = [tuple(dice.randrange(256) for _ in range(3)) for _ in range(colours)]
    drawn.putdata([dice.choice(few) for _ in range(wide * high)])
    image = drawn.quantize(min(colours, 255)) if mode == "P" else drawn.convert(mode)
    stream = io.BytesIO()
    image.save(stream, "PNG", optimize=dice.random() < 0.5)
    assert read_png(stream.getvalue(), most=64) == by_pillow(stream.getvalue())


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from([(0, 1), (0, 2), (0, 4), (0, 8), (2, 8)]),
    st.integers(1, 13),
    st.integers(1, 6),
    st.data(),
)
def test_every_filter_and_depth_as_pillow_reads_it(
    kind: tuple[int, int], wide: int, high: int, data: Any
) -> None:
    """Any bytes are pixels after any filter, so that nothing has to be filtered here."""
    colour, depth = kind
    stride = (wide * depth * (3 if colour == 2 else 1) + 7) // 8
    rows = b"".join(
        bytes([data.draw(st.integers(0, 4))])
        + data.draw(st.binary(min_size=stride, max_size=stride))
        for _ in range(high)
    )
    file = png(wide=wide, high=high, depth=depth, colour=colour, rows=rows)
    assert read_png(file, most=64) == by_pillow(file)


HOSTILE = {
    "no PNG": (b"GIF89a" + bytes(40), "is not a PNG"),
    "nothing": (b"", "is not a PNG"),
    "signature alone": (SIGNATURE, "ends too early"),
    "cut off": (png()[:-20], "ends too early"),
    "a chunk longer than the file": (SIGNATURE + b"\xff\xff\xff\xffIHDR" + bytes(20), "too early"),
    "no end": (png()[:-12], "ends too early"),
    "a flipped bit": (png()[:20] + b"\x01" + png()[21:], "checksum"),
    "no head": (SIGNATURE + chunk(b"IDAT", b"") + chunk(b"IEND", b""), "does not begin"),
    "a short head": (SIGNATURE + chunk(b"IHDR", b"abc") + chunk(b"IEND", b""), "does not begin"),
    "a thousand million pixels": (png(wide=2**31 - 1, high=2**31 - 1, rows=b""), "at most 64"),
    "no width": (png(wide=0), "at most 64"),
    "too wide": (png(wide=65), "at most 64"),
    "interlaced": (png(head=b"\0\0\1"), "without interlacing"),
    "another packing": (png(head=b"\1\0\0"), "unusual kind"),
    "no such colour type": (png(colour=5), "unusual kind"),
    "16 bits": (png(depth=16), "8 bits a channel"),
    "3 bits": (png(depth=3, colour=0), "8 bits a channel"),
    "not packed": (png(packed=b"abcdefgh"), "can't be unpacked"),
    "too few pixels": (png(rows=bytes(7)), "more or fewer pixels"),
    "too many pixels": (png(rows=bytes(15)), "more or fewer pixels"),
    "a bomb": (png(rows=bytes(4_000_000)), "more or fewer pixels"),
    "no such filter": (png(rows=b"\5" + bytes(6) + b"\0" + bytes(6)), "no known filter"),
    "no palette": (png(colour=3), "palette is missing"),
    "a palette of bits": (png(colour=3, before=chunk(b"PLTE", b"abcd")), "palette is missing"),
    "past the palette": (
        png(colour=3, rows=b"\0\0\0\0\0\7", before=chunk(b"PLTE", b"abc")),
        "the colour of row 2, column 2",
    ),
    "an unknown chunk that matters": (png(before=chunk(b"ABCD", b"")), "unusual kind"),
    "five thousand chunks": (png(before=chunk(b"tEXt", b"a") * 5000), "ends too early"),
    "see-through": (png(colour=6), "see-through at row 1, column 1"),
    "one colour clear": (png(before=chunk(b"tRNS", bytes(6))), "see-through at row 1"),
    "a clear entry": (
        png(colour=3, before=chunk(b"PLTE", bytes(6)) + chunk(b"tRNS", b"\x80")),
        "see-through at row 1",
    ),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_file_that_is_no_motif_is_refused(name: str) -> None:
    data, said = HOSTILE[name]
    tracemalloc.start()
    with pytest.raises(PngError, match=said):
        read_png(data, most=64)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert most < 2_000_000


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_no_damage_ends_in_anything_else(data: Any) -> None:
    good = png(wide=5, high=3, colour=3, depth=2, before=chunk(b"PLTE", bytes(12)))
    at = data.draw(st.integers(0, len(good) - 1))
    bad = good[:at] + data.draw(st.binary(max_size=6)) + good[at + data.draw(st.integers(0, 6)) :]
    with suppress(PngError):
        assert len(read_png(bad, most=64)) <= 64


MOTIF = ["wmr", "mmw"]
COLOURS = {"w": "#402010", "m": "#f0e0c0", "r": "#A03020"}


def drawn(path: Path) -> None:
    image = Image.new("RGB", (3, 2))
    image.putdata([tuple(bytes.fromhex(COLOURS[mark][1:])) for row in MOTIF for mark in row])
    image.save(path)


def test_a_picture_gives_the_ring_that_its_letters_give(tmp_path: Path) -> None:
    (tmp_path / "drawn").mkdir()
    drawn(tmp_path / "drawn" / "leaf.PNG")
    palette = {COLOURS[mark]: wood for mark, wood in WOODS.items()}
    ring = made(tmp_path, motif_file="drawn/leaf.PNG", palette=palette)
    assert ring == made(motif=MOTIF)


def told(folder: Path | None = None, **keys: Any) -> str:
    with pytest.raises(InputError) as caught:
        made(folder, **keys)
    return str(caught.value)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("leaf.png", 'ring[1].motif_file: "leaf.png" is not there'),
        ("../leaf.png", "in the design's folder or below it"),
        ("/etc/leaf.png", "in the design's folder or below it"),
        ("a\\\\leaf.png", "in the design's folder or below it"),
        ("C:leaf.png", "in the design's folder or below it"),
        ("leaf.gif", "does not end in .png"),
        ("folder.png", "is a folder"),
        ("pipe.png", "not an ordinary file"),
        ("large.png", "larger than 256 kB"),
        ("words.png", "is not a PNG file"),
        ("picture.png", "give the motif another name"),
        (7, "not words in quotes"),
    ],
)
def test_a_file_that_cannot_be_used_is_told(tmp_path: Path, name: object, said: str) -> None:
    (tmp_path / "folder.png").mkdir()
    os.mkfifo(tmp_path / "pipe.png")
    (tmp_path / "large.png").write_bytes(bytes(300_000))
    (tmp_path / "words.png").write_text("not a picture")
    (tmp_path / "picture.png").write_bytes(png())
    assert said in told(tmp_path, motif_file=name)


def test_a_design_in_no_file_has_no_files_beside_it() -> None:
    assert "in no file of its own" in told(motif_file="leaf.png")


def test_the_design_keeps_what_it_named(tmp_path: Path) -> None:
    drawn(tmp_path / "leaf.png")
    palette = {f'"{COLOURS[mark]}"': wood for mark, wood in WOODS.items()}
    text = design_text([mosaic(motif_file="leaf.png") | {"palette": palette}])
    design = read_design_text(text.encode(), "design.toml", tmp_path)
    (file,) = design.files()
    assert (file.name, file.data) == ("leaf.png", (tmp_path / "leaf.png").read_bytes())


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"motif": ["wmk"]}, '"k" at line 1, cell 3 has no wood; add k = "walnut" to the palette'),
        ({"motif": ["wm", "w"]}, "line 2 of the motif has 1 cells, line 1 has 2"),
        ({"motif": " "}, "the motif is empty"),
        ({"motif": [3]}, "is not lines of letters"),
        ({"motif": ["w" * 65]}, "at most 64 each way"),
        ({"motif": ["w"] * 65}, "at most 64 each way"),
        ({"motif": ["abcdefgh"]}, "4 more of its marks have no wood"),
        ({"motif": ["w"], "palette": {"w": ""}}, "ring[1].palette.w: it is blank"),
        ({"motif": ["w"], "palette": {"wal": "walnut"}}, "is neither one letter nor a colour"),
        ({"motif": ["w"], "palette": {}}, "not a table of letters"),
        ({"motif": ["w"], "palette": {chr(97 + i): "ash" for i in range(25)}}, "at most 24 do"),
        ({"motif": None}, "motif_file"),
        ({"cell_width": 1, "tiles": 20}, "does not go together"),
        ({"taper": "logs"}, 'did you mean "log"?'),
    ],
)
def test_bad_keys_are_told_with_their_place(keys: dict[str, Any], said: str) -> None:
    assert said in told(**keys)


def test_spaces_and_empty_lines_do_not_count() -> None:
    spaced = made(motif=["w m r", "  m m w", ""])
    assert spaced == made(motif=MOTIF)
