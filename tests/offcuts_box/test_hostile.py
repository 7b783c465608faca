"""Drawings made to do harm end in a finding, and soon."""

from __future__ import annotations

import io
import time
from collections.abc import Callable
from typing import Any

import ezdxf
import pytest

from rosette.geometry.tracing import TracingError
from rosette.offcuts.box import read_box_text
from rosette.offcuts.tracing_dxf import read_dxf
from rosette.offcuts.tracing_svg import read_svg

SOON = 8.0
"""Seconds of the processor: on a machine with nothing else to do it is one at the most."""

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 300">'
LAUGHS = "".join(f'<!ENTITY l{i} "{f"&l{i - 1};" * 10}">' for i in range(1, 10))
SQUARE = "M0 0h1v1h-1z"
HERE, THERE = "file:///etc/passwd", "http://127.0.0.1:9/a"
CLONES = '<use href="#a{}"/>'

SVG = {
    "a billion laughs": f'<!DOCTYPE svg [<!ENTITY l0 "ha">{LAUGHS}]>{HEAD}<text>&l9;</text></svg>',
    "one long entity": f'<!DOCTYPE svg [<!ENTITY a "{"x" * 10**6}">]>{HEAD}{"&a;" * 9999}</svg>',
    "a file of this computer": f'<!DOCTYPE svg [<!ENTITY a SYSTEM "{HERE}">]>{HEAD}&a;</svg>',
    "a file from elsewhere": f'<!DOCTYPE svg [<!ENTITY a SYSTEM "{THERE}">]>{HEAD}&a;</svg>',
    "parameters": f'<!DOCTYPE svg [<!ENTITY % a SYSTEM "{THERE}">%a;]>{HEAD}</svg>',
    "an entity of nowhere": f"{HEAD}&nowhere;</svg>",
    "deep groups": HEAD + "<g>" * 500_000,
    "wide": HEAD + "<g/>" * 900_000 + "</svg>",
    "many paths": HEAD + f'<path d="{SQUARE}"/>' * 19_000 + "</svg>",
    "a path of many parts": f'{HEAD}<path d="{SQUARE * 300_000}"/></svg>',
    "a path of many points": f'{HEAD}<path d="M0 0{"l1 1" * 900_000}"/></svg>',
    "many arcs": f'{HEAD}<path d="M0 0{"a9 9 0 0 0 .1 .1" * 200_000}"/></svg>',
    "many numbers": f'{HEAD}<polygon points="{"1 " * 1_900_000}"/></svg>',
    "half a million turns": f'{HEAD}<rect transform="{"rotate(1)" * 400_000}"/></svg>',
    "a number of 4000 digits": f'{HEAD}<rect width="{"9" * 4000}" height="1"/></svg>',
    "a large number": f'{HEAD}<path d="M0 0H1e308V9z"/></svg>',
    "no number": f'{HEAD}<path d="M0 0HnanVinfz"/></svg>',
    "a large scale": f'{HEAD}<g transform="scale(1e9)"><g transform="scale(1e9)"><rect width="9"'
    ' height="9"/></g></g></svg>',
    "a large circle": f'{HEAD}<circle r="1e9"/></svg>',
    "a large arc": f'{HEAD}<path d="M0 0A1e9 1e9 0 0 0 9 9z"/></svg>',
    "a curve that whips": f'{HEAD}<path d="M0 0C1e9 1e9 -1e9 1e9 9 9z"/></svg>',
    "a tiny viewBox": '<svg viewBox="0 0 1e-300 1e-300" width="9mm"><rect width="9" height="9"/>'
    "</svg>",
    "clones of clones": HEAD
    + "".join(f'<g id="a{i}">{CLONES.format(i + 1) * 9}</g>' for i in range(9))
    + "</svg>",
    "holes over holes": f'{HEAD}<path d="M0 0h300v300h-300z'
    + "".join(f"M{i % 250 + 1} {i % 200 + 1}h40v40h-40z" for i in range(299))
    + '"/></svg>',
    "a scribble": f'{HEAD}<path d="M0 0'
    + "".join(f"L{i * 7919 % 300} {i * 104729 % 300}" for i in range(19_000))
    + 'z"/></svg>',
    "zeros": "\0" * 100_000,
    "nothing": "",
}  # fmt: skip


def _soon(read: Callable[[bytes], object], data: bytes) -> str:
    started = time.process_time()
    with pytest.raises(TracingError) as told:
        read(data)
    assert time.process_time() - started < SOON
    return str(told.value)


@pytest.mark.parametrize("name", SVG)
def test_svg(name: str) -> None:
    assert len(_soon(read_svg, SVG[name].encode())) < 300


def test_nothing_of_a_refused_file_is_shown() -> None:
    for name in ("a billion laughs", "a file of this computer", "parameters"):
        assert "declarations of its own" in _soon(read_svg, SVG[name].encode())


@pytest.mark.parametrize("encoding", ["utf-16", "utf-7", "ebcdic-cp-be", "cp037", "made-up"])
def test_entities_in_other_encodings(encoding: str) -> None:
    said = f'<?xml version="1.0" encoding="{encoding}"?>' + SVG["a billion laughs"]
    real = encoding if encoding in ("utf-16", "utf-7", "cp037") else "utf-8"
    _soon(read_svg, said.encode(real))


def test_a_document_type_alone_is_let_through_and_not_fetched() -> None:
    kind = '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://127.0.0.1:9/svg11.dtd">'
    assert read_svg(f'{kind}{HEAD}<path d="M0 0H80V40z"/></svg>'.encode()).outline


def _splined(**what: Any) -> Callable[[Any], None]:
    def draw(space: Any) -> None:
        spline = space.add_spline()
        spline.control_points = what.pop("points", [(0, 0), (9, 9), (20, 0), (0, 3)])
        for name, value in what.items():
            if name in ("knots", "weights"):
                setattr(spline, name, value)
            else:
                setattr(spline.dxf, name, value)
        spline.closed = True

    return draw


def _written(draw: Callable[[Any], object]) -> bytes:
    document = ezdxf.new("R2010")
    draw(document.modelspace())
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def _many(space: Any) -> None:
    for i in range(6000):
        space.add_line((i, 0), (i + 1, 0))


SPLINES: dict[str, Callable[[Any], object]] = {
    "knots too far apart to step over": _splined(knots=[0, 0, 0, 0, 1e300, 1e300, 1e300, 1e300]),
    "knots that rounding swallows": _splined(knots=[1e17, 1e17, 1e17, 1e17, *[1e17 + 64] * 4]),
    "knots out of order": _splined(knots=[5, 4, 3, 2, 1, 0, -1, 7]),
    "knots of no number": _splined(knots=[float("nan")] * 8),
    "too few knots": _splined(knots=[0, 1]),
    "weights of nothing": _splined(weights=[0, 0, 0, 0]),
    "weights out of proportion": _splined(weights=[1, 1e12, 1, 1e-12]),
    "a high degree": _splined(degree=300, points=[(i, i % 9) for i in range(400)]),
    "thousands of points that whip": _splined(points=[(0, 0), (9e3, 9e3), (-9e3, 0)] * 1200),
    "more points than that": _splined(points=[(0, 0), (9, 9), (-9, 0)] * 3000),
    "points nowhere": _splined(points=[(float("nan"), 0), (9, 9), (20, 0), (0, 3)]),
    "points far away": _splined(points=[(1e308, 0), (9, 9), (20, 0), (0, 3)]),
    "many lines": _many,
    "a flat ellipse": lambda m: m.add_ellipse((0, 0), (50, 0), 1e-6),
    "an endless arc": lambda m: m.add_arc((0, 0), 5, 0, 1e308),
}


@pytest.mark.parametrize("name", SPLINES)
@pytest.mark.filterwarnings("error")
def test_dxf(name: str) -> None:
    assert len(_soon(read_dxf, _written(SPLINES[name]))) < 300


POINT = b"0\nPOINT\n8\n0\n10\n1\n20\n2\n30\n3\n"
ENTITIES = b"0\nSECTION\n2\nENTITIES\n"
RAW = {
    "nothing": b"",
    "no DXF": b"garbage\nfoo\n" * 1000,
    "a section without an end": b"0\nSECTION\n",
    "no sections": b"999\nfoo\n0\nEOF\n",
    "binary": b"AutoCAD Binary DXF\r\n\x1a\x00" + bytes(1000),
    "zeros": bytes(100_000),
    "large": b" " * (2 * 2**20 + 1),
    "units of 1e400": b"0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n1e400\n0\nENDSEC\n0\nEOF\n",
    "many points": ENTITIES + POINT * 60_000 + b"0\nENDSEC\n0\nEOF\n",
    "a polyline without an end": ENTITIES + b"0\nPOLYLINE\n8\n0\n" + b"0\nVERTEX\n" * 90_000,
    "a block of itself": b"0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nA\n0\nINSERT\n2\nA\n0\nENDBLK\n0\n"
    b"ENDSEC\n" + ENTITIES + b"0\nINSERT\n2\nA\n70\n9999\n71\n9999\n0\nENDSEC\n0\nEOF\n",
}  # fmt: skip


@pytest.mark.parametrize("name", RAW)
def test_files_called_dxf(name: str, capfd: pytest.CaptureFixture[str]) -> None:
    _soon(read_dxf, RAW[name])
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize(
    "text",
    [
        "outline = " + "[" * 100_000,
        "outline = " + "[" * 5000 + "]" * 5000,
        "a." * 100_000 + "a = 1",
        "outline = [" + "[1.5, 2.5], " * 200_000 + "]",
        "x = " + "9" * 100_000,
        "[[offcut]]\n" * 200_000,
        "[[offcut]]\noutline = [[0,0],[9,9],[9,0],[0,9]]\n" * 2000,
    ],
    ids=["lists", "closed lists", "dots", "points", "digits", "offcuts", "crossings"],
)  # fmt: skip
def test_offcuts_files(text: str) -> None:
    started = time.process_time()
    with pytest.raises(ValueError, match=r"box\.toml") as told:
        read_box_text(b"schema = 1\n" + text.encode(), "box.toml")
    assert time.process_time() - started < SOON
    assert len(str(told.value)) < 60_000
