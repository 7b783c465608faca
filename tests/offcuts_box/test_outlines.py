"""What holds for any outline, whatever it looks like."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon

from rosette.errors import InputError
from rosette.geometry.tracing import TracingError
from rosette.offcuts.box_entries import points
from rosette.offcuts.sound import cleaned, fault
from rosette.offcuts.tracing_svg import read_svg
from tests.offcuts_box.boxes import one

COORDINATES = st.floats(-500, 500).map(lambda value: round(value, 3))
ANY_RING = st.lists(st.tuples(COORDINATES, COORDINATES), max_size=9)


@st.composite
def stars(draw: st.DrawFn) -> list[tuple[float, float]]:
    """Outlines round a point, each corner farther round than the one before: never crossing."""
    count = draw(st.integers(3, 12))
    reach = [draw(st.floats(5, 200)) for _ in range(count)]
    turn = draw(st.floats(0, 6))
    return [
        (round(r * math.cos(turn + 6.28 * i / count), 2),
         round(r * math.sin(turn + 6.28 * i / count), 2))
        for i, r in enumerate(reach)
    ]  # fmt: skip


@given(ANY_RING)
@settings(max_examples=150, deadline=None)
def test_an_outline_is_taken_just_where_shapely_takes_it(ring: list[tuple[float, float]]) -> None:
    clean = cleaned(ring)
    shape = Polygon(clean) if len(clean) > 2 else None
    assume(shape is None or not 0.5 < shape.convex_hull.area < 2)
    assume(shape is None or not shape.is_valid or not 0.5 < shape.area < 2)
    good = shape is not None and shape.is_valid and shape.area >= 1
    assert (fault(clean) is None) == good


@given(stars())
@settings(max_examples=60, deadline=None)
def test_an_outline_reads_as_it_was_written(ring: list[tuple[float, float]]) -> None:
    assume(Polygon(ring).is_valid and Polygon(ring).area > 2)
    found = one(f"outline = {points(tuple(ring), 'mm')}")
    assert found.outline == cleaned(ring)
    inches = one(f"outline = {points(tuple(ring), 'in')}", units="in")
    # 0.0001 in is 0.00254 mm, and rounding takes half of that
    for a, b in zip(found.outline, inches.outline, strict=True):
        assert math.dist(a, b) <= 0.00254


@given(stars(), st.floats(0, 360), st.floats(0.3, 3))
@settings(max_examples=60, deadline=None)
def test_a_turned_tracing_is_the_turned_outline(
    ring: list[tuple[float, float]], turn: float, scale: float
) -> None:
    assume(Polygon(ring).is_valid and Polygon(ring).area > 20)
    d = "M" + "L".join(f"{x} {y}" for x, y in ring) + "z"
    said = f'<svg><path transform="rotate({turn}) scale({scale})" d="{d}"/></svg>'
    read = Polygon(read_svg(said.encode()).outline)
    assert read.area == pytest.approx(Polygon(ring).area * scale**2)
    page = affinity.rotate(Polygon(ring), turn, origin=(0, 0))
    page = affinity.scale(page, scale, -scale, origin=(0, 0))
    left, low, right, high = page.bounds
    assert read.bounds == pytest.approx((0, 0, right - left, high - low), abs=1e-6)


@given(st.text("MmLlHhVvCcSsQqTtAaZz0123456789.,-+e \n", max_size=60))
@settings(max_examples=200, deadline=None)
def test_no_path_whatever_is_a_fault_of_ours(d: str) -> None:
    try:
        read = read_svg(f'<svg viewBox="0 0 9 9"><path d="M0 0{d}"/></svg>'.encode())
    except TracingError:
        return
    assert Polygon(read.outline).is_valid


@given(st.text(max_size=200))
@settings(max_examples=100, deadline=None)
def test_no_svg_whatever_is_a_fault_of_ours(text: str) -> None:
    with pytest.raises(TracingError):
        read_svg(text.encode("utf-8", "surrogatepass"))


VALUES = st.recursive(
    st.one_of(
        st.integers(), st.floats(), st.booleans(), st.sampled_from(["'3 in'", "'x'", "'bottom'"])
    ),
    lambda inner: st.lists(inner, max_size=4),
    max_leaves=12,
)
KEYS = ["outline", "rectangle", "taper", "curved", "defects", "holes", "grain", "count", "file"]


def _toml(value: object) -> str:
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    return str(value).lower() if isinstance(value, (bool, float)) else str(value)


@given(st.dictionaries(st.sampled_from(KEYS), VALUES, max_size=3))
@settings(max_examples=200, deadline=None)
def test_no_value_whatever_is_a_fault_of_ours(values: dict[str, object]) -> None:
    lines = "\n".join(f"{name} = {_toml(value)}" for name, value in values.items())
    try:
        found = one(lines)
    except InputError:
        return
    assert Polygon(found.outline).is_valid
    assert Polygon(found.outline).area >= 1
