"""How large an SVG file's page is, and how its transforms move what is on it."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from rosette.geometry.curves import Matrix
from rosette.geometry.svg_paths import NUMBER, number
from rosette.geometry.tracing import TracingError
from rosette.words import plain

MM_PER = {"": 25.4 / 96.0, "px": 25.4 / 96.0, "mm": 1.0, "cm": 10.0, "in": 25.4,
          "pt": 25.4 / 72.0, "pc": 25.4 / 6.0, "q": 0.25}  # fmt: skip
"""CSS: 96 px to the inch."""
MOST_TRANSFORMS = 32

_CALL = re.compile(r"[\s,]*([A-Za-z]+)\s*\(([^()]*)\)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """From user units to mm, y up; `sized` where the page's lower left corner is 0,0."""

    matrix: Matrix
    sized: bool


def page_of(attributes: Mapping[str, str]) -> Page:
    """The page by its width, height and viewBox.

    Raises:
        TracingError: one of them can't be read, or is nothing.
    """
    width, height = (_length(attributes, name) for name in ("width", "height"))
    box = _view_box(attributes.get("viewBox"))
    if box is None:
        scale = MM_PER["px"] if (width or height) else 1.0
        flipped = Matrix(scale, 0.0, 0.0, -scale, 0.0, height or 0.0)
        return Page(matrix=flipped, sized=height is not None)
    left, top, wide, high = box
    if width is None and height is None:
        width, height = wide, high
    width = width if width is not None else (height or 0.0) * wide / high
    height = height if height is not None else width * high / wide
    sx, sy = width / wide, height / high
    fit = attributes.get("preserveAspectRatio", "").split()
    if fit[:1] != ["none"]:
        sx = sy = max(sx, sy) if "slice" in fit else min(sx, sy)
    # where the drawing does not fill its page, its own lower left corner counts
    return Page(matrix=Matrix(sx, 0.0, 0.0, -sy, -left * sx, (top + high) * sy), sized=True)


def _length(attributes: Mapping[str, str], name: str) -> float | None:
    text = attributes.get(name, "").strip()
    if not text or text == "auto" or text.endswith("%"):
        return None
    match = NUMBER.match(text)
    per = MM_PER.get(text[match.end() :].strip().lower()) if match else None
    if match is None or per is None:
        raise TracingError("has a {name} that can't be read; give it in mm", name=name)
    length = number(match[0]) * per
    if length <= 0.0:
        raise TracingError("has a {name} of nothing; give it in mm", name=name)
    return length


def _view_box(text: str | None) -> Sequence[float] | None:
    if text is None:
        return None
    numbers = [number(one) for one in NUMBER.findall(text[:1000])]
    if len(numbers) != 4 or numbers[2] <= 0.0 or numbers[3] <= 0.0:
        raise TracingError("has a viewBox that is not four numbers with a width and a height")
    return numbers


def transform_of(text: str) -> Matrix:
    """A transform attribute as one map (SVG 1.1, chapter 7.6).

    >>> transform_of("translate(10) rotate(90)").moved((1.0, 0.0))[0]
    10.0

    Raises:
        TracingError: it can't be read.
    """
    whole, at = Matrix(), 0
    for count in range(MOST_TRANSFORMS + 1):
        match = _CALL.match(text, at)
        if match is None:
            break
        if count == MOST_TRANSFORMS:
            raise TracingError("has a transform of too many steps; ungroup it")
        numbers = [number(one) for one in NUMBER.findall(match[2])]
        make, counts = _TRANSFORMS.get(match[1], (_scaled, ()))
        if len(numbers) not in counts:
            raise _unreadable(match[0])
        whole, at = whole.after(make(numbers)), match.end()
    if text[at:].strip(" ,\t\r\n"):
        raise _unreadable(text[at:])
    return whole


def _unreadable(text: str) -> TracingError:
    return TracingError('has a transform that can\'t be read: "{it}"', it=plain(text.strip()))


def _rotated(n: Sequence[float]) -> Matrix:
    c, s = math.cos(math.radians(n[0])), math.sin(math.radians(n[0]))
    if len(n) == 1:
        return Matrix(c, s, -s, c)
    return Matrix(e=n[1], f=n[2]).after(Matrix(c, s, -s, c)).after(Matrix(e=-n[1], f=-n[2]))


def _scaled(n: Sequence[float]) -> Matrix:
    return Matrix(a=n[0], d=n[-1])


_TRANSFORMS: Mapping[str, tuple[Callable[[Sequence[float]], Matrix], tuple[int, ...]]] = {
    "matrix": (lambda n: Matrix(*n), (6,)),
    "translate": (lambda n: Matrix(e=n[0], f=n[1] if len(n) > 1 else 0.0), (1, 2)),
    "scale": (_scaled, (1, 2)),
    "rotate": (_rotated, (1, 3)),
    "skewX": (lambda n: Matrix(c=math.tan(math.radians(n[0]))), (1,)),
    "skewY": (lambda n: Matrix(b=math.tan(math.radians(n[0]))), (1,)),
}
