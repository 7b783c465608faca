"""The rows of the choice: what they claim, checked by cutting and by trying every width."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise, product

import pytest

from rosette.design import read_design_text
from rosette.offcuts.box import Box
from rosette.offcuts.explore import explore
from rosette.offcuts.explore_design import row_text, tried
from rosette.offcuts.explored import Exploration, Row
from rosette.offcuts.model import WedgeSize
from rosette.offcuts.strip import strip_layout
from tests.offcuts.checker import faults
from tests.offcuts_explore.asks import asked, box_of, rectangle, scraps, stock

KERF, TRIM = 0.9, 1.5
TIGHT = box_of(*scraps(0, 3, 4, 7, 11))
TWO_WOODS = box_of(*scraps(1, 5, 11), *scraps(2, 4, 14, wood="maple"))


def found(box: Box, **given: object) -> Exploration:
    return explore(stock(box), asked(box, **given))


@pytest.fixture(scope="module")
def tight() -> Exploration:
    return found(TIGHT, segments="12,24,36", width="8-25")


@pytest.fixture(scope="module")
def two_woods() -> Exploration:
    return found(TWO_WOODS, wood=("walnut,maple",), segments="24,30", width="8-20")


def size_of(count: int, inner: float, width: float) -> WedgeSize:
    """The blank by the textbook: corners on the trimmed inner circle, flats on the outer one."""
    half = math.pi / count
    near, far = (inner - TRIM) * math.cos(half), inner + width + TRIM
    return WedgeSize(
        inner_width=2 * near * math.tan(half),
        outer_width=2 * far * math.tan(half),
        height=far - near,
    )


def better(one: Row, other: Row) -> bool:
    """Whether one is no worse than the other in anything, and better in something."""
    mine = (one.width, -one.offcuts, one.spares)
    theirs = (other.width, -other.offcuts, other.spares)
    return all(a >= b for a, b in zip(mine, theirs, strict=True)) and mine != theirs


@pytest.mark.parametrize("name", ["tight", "two_woods"])
def test_no_row_is_better_than_another_of_its_kind(
    name: str, request: pytest.FixtureRequest
) -> None:
    rows = request.getfixturevalue(name).choice
    assert len(rows) > 4
    pairs = [(a, b) for a, b in product(rows, rows) if a.kind == b.kind and a is not b]
    assert pairs
    assert not [(a.number, b.number) for a, b in pairs if better(a, b)]


@pytest.mark.parametrize("name", ["tight", "two_woods"])
def test_every_row_comes_out_of_the_offcuts_it_names(
    name: str, request: pytest.FixtureRequest
) -> None:
    exploration = request.getfixturevalue(name)
    box = TIGHT if name == "tight" else TWO_WOODS
    for row in exploration.choice:
        size = size_of(row.kind.segments, row.kind.inner_radius, row.width)
        held = dict.fromkeys(row.kind.woods, 0)
        for used, pieces in row.uses:
            one = next(one for one in box.offcuts if one.id == used)
            layout = strip_layout(one.pieces(), size, kerf=KERF)
            assert faults(one.pieces(), size, layout, kerf=KERF) == []
            held[one.wood] += pieces * layout.placed
        each = row.kind.segments // len(row.kind.woods) + row.spares
        assert all(count >= each for count in held.values()), row
        assert sum(pieces for _, pieces in row.uses) == row.offcuts


def test_no_ring_a_fifth_of_a_millimetre_wider_fits(tight: Exploration) -> None:
    proved = [row for row in tight.choice if row.proved and not row.at_limit]
    assert proved
    for row in proved:
        size = size_of(row.kind.segments, row.kind.inner_radius, row.width + 0.2)
        bounds = sorted(
            (strip_layout(one.pieces(), size, kerf=KERF).bound for one in TIGHT.offcuts),
            reverse=True,
        )
        # with so many offcuts there is too little even for the wedges and spares of the level
        usual = max(2, math.ceil(row.kind.segments / 10))
        level = usual if row.spares >= usual else 0
        assert sum(bounds[: row.offcuts]) < row.kind.segments + level, row


@pytest.mark.parametrize("name", ["tight", "two_woods"])
def test_the_design_of_a_row_is_cut_from_the_box(name: str, request: pytest.FixtureRequest) -> None:
    exploration = request.getfixturevalue(name)
    box = TIGHT if name == "tight" else TWO_WOODS
    for row in exploration.choice[::4]:
        cutting = tried(row_text(exploration, row), stock(box), exploration, row)
        assert cutting.complete
        assert len(cutting.touched) <= row.offcuts
        assert cutting.needed == row.kind.segments


def test_the_design_of_a_row_says_what_the_row_says(two_woods: Exploration) -> None:
    row = two_woods.choice[0]
    design = read_design_text(row_text(two_woods, row).encode())
    (ring,) = design.rings
    assert (ring.inner_radius, ring.outer_radius) == pytest.approx(
        (row.kind.inner_radius, row.outer_radius)
    )
    assert ring.keys.segments == row.kind.segments  # type: ignore[attr-defined]
    assert ring.keys.wood == ("walnut", "maple")  # type: ignore[attr-defined]
    assert design.cutting.kerf == KERF


# Rectangles, whose count is exact by hand: shared with nothing that the search uses.

PLANKS = (("a", 150.0, 22.0), ("b", 110.0, 48.0), ("c", 80.0, 80.0), ("d", 61.0, 30.0))


def in_rectangle(size: WedgeSize, wide: float, long: float) -> int:
    """Bands across a rectangle, times the wedges head to tail in each."""
    slope = math.atan((size.outer_width - size.inner_width) / 2 / size.height)
    bands = math.floor((long + KERF) / (size.height + KERF) + 1e-12)
    mean, slant = (size.inner_width + size.outer_width) / 2, KERF / math.cos(slope)
    ends = (size.outer_width - size.inner_width) / 2
    return bands * max(0, math.floor((wide - ends + slant) / (mean + slant) + 1e-12))


def every_ring(count: int, inner: float, most_spares: int) -> Iterator[tuple[float, int, int]]:
    """All that the planks can make: width, offcuts, spares up to some."""
    for step in range(60, 201):
        width = round(step * 0.1, 9)
        size = size_of(count, inner, width)
        held = [in_rectangle(size, wide, long) for _, wide, long in PLANKS]
        for number in range(1, len(PLANKS) + 1):
            most = max(sum(some) for some in combinations(held, number))
            if most >= count:
                yield width, number, min(most - count, most_spares)


@pytest.mark.parametrize("count", [12, 18, 24])
def test_trying_every_width_gives_the_same_choice(count: int) -> None:
    box = box_of(*(rectangle(*plank) for plank in PLANKS))
    exploration = found(
        box, segments=str(count), width="6-20", inner_radius="50", spares="0-4", worth="0.1"
    )
    rings = set(every_ring(count, 50.0, 4))
    front = {
        one
        for one in rings
        if not any(
            other != one and other[0] >= one[0] and other[1] <= one[1] and other[2] >= one[2]
            for other in rings
        )
    }
    assert len(front) >= 3
    assert {(row.width, row.offcuts, row.spares) for row in exploration.choice} == front


def test_what_is_not_worth_it_is_left_out_and_listed_on_demand() -> None:
    box = box_of(*(rectangle(*plank) for plank in PLANKS))
    given = {"segments": "12", "width": "6-20", "inner_radius": "50", "spares": "0-4"}
    fine = found(box, **given, worth="0.1")
    coarse = found(box, **given, worth="2")
    everything = found(box, **given, worth="2", everything=True)
    assert len(coarse.choice) < len(fine.choice)
    assert everything.choice == coarse.rows
    beaten = [row for row in everything.rows if row.beaten_by is not None]
    assert beaten
    for row in beaten:
        winner = everything.row(row.beaten_by or 0)
        assert winner is not None
        assert winner.beaten_by is None
        assert winner.kind == row.kind
        assert winner.offcuts <= row.offcuts
        assert winner.spares >= row.spares
        assert winner.width > row.width - 2.0
    assert sorted(row.number for row in everything.rows) == list(range(1, len(everything.rows) + 1))


def test_copies_of_an_offcut_count_as_so_many() -> None:
    one = box_of(rectangle("a", 100.0, 40.0, count=3))
    three = box_of(*(rectangle(name, 100.0, 40.0) for name in "abc"))
    given = {"segments": "18", "width": "6-20"}
    told = [
        [(row.width, row.offcuts, row.spares) for row in found(box, **given).choice]
        for box in (one, three)
    ]
    assert told[0] == told[1] != []


@pytest.mark.parametrize("width", ["13.37", "13.33 to 13.39", "0.53 in"])
def test_one_width_asks_only_what_it_takes(width: str) -> None:
    exploration = found(TIGHT, segments="24", width=width)
    wide = {"0.53 in": 0.53 * 25.4, "13.37": 13.37}.get(width, 13.33)
    assert {round(row.width, 6) for row in exploration.choice} == {round(wide, 6)}
    assert all(row.at_limit for row in exploration.choice)


def test_a_wood_whose_name_has_a_comma_can_be_asked_for() -> None:
    box = box_of(rectangle("a", 150.0, 80.0, wood="walnut, black"))
    rows = found(box, wood=("walnut, black",), segments="12", width="6-20").rows
    assert {row.kind.woods for row in rows} == {("walnut, black",)}


def test_more_wood_never_makes_a_narrower_ring() -> None:
    given = {"segments": "24", "width": "6-25", "spares": "0"}
    less = found(box_of(*scraps(0, 3, 4)), **given)
    more = found(TIGHT, **given)
    assert max(row.width for row in more.rows) >= max(row.width for row in less.rows)


def test_a_larger_inner_radius_never_makes_a_wider_ring() -> None:
    rows = found(TIGHT, segments="24", spares="0", inner_radius="46, 51, 56", width="6-25").choice
    widest: dict[int, list[float]] = {}
    for number in {row.offcuts for row in rows}:
        for radius in sorted({row.kind.inner_radius for row in rows}):
            reach = [
                row.width
                for row in rows
                if row.kind.inner_radius == radius and row.offcuts <= number
            ]
            if reach:
                widest.setdefault(number, []).append(max(reach))
    assert all(len(some) > 2 for some in widest.values())
    # rows less than `worth` (1 mm) wider than one with fewer offcuts are left out
    for some in widest.values():
        assert all(a >= b - 1.0 for a, b in pairwise(some))


def test_each_block_names_what_its_rows_are_best_at(
    two_woods: Exploration, tight: Exploration
) -> None:
    for exploration in (two_woods, tight):
        told = [best for row in exploration.choice for best in row.best]
        assert sorted(told) == ["fewest offcuts", "least waste", "most spares", "widest ring"]
        rows = exploration.choice
        by = {best: row for row in rows for best in row.best}
        assert by["widest ring"].width == max(row.width for row in rows)
        assert by["fewest offcuts"].offcuts == min(row.offcuts for row in rows)
        assert by["most spares"].spares == max(row.spares for row in rows)
        assert by["least waste"].yielded == max(row.yielded for row in rows)


def test_yield_is_the_blanks_share_of_the_wood(tight: Exploration) -> None:
    import shapely

    row = tight.choice[0]
    wood = 0.0
    for used, _ in row.uses:
        one = next(one for one in TIGHT.offcuts if one.id == used)
        shape = shapely.Polygon(one.outline, one.holes)
        wood += shape.difference(shapely.union_all([shapely.Polygon(d) for d in one.defects])).area
    size = size_of(row.kind.segments, row.kind.inner_radius, row.width)
    usual = max(2, math.ceil(row.kind.segments / 10))
    blanks = row.kind.segments + min(row.spares, usual)
    assert row.yielded == pytest.approx(blanks * size.area / wood, rel=1e-6)


def test_stopping_keeps_what_was_found() -> None:
    def impatient(done: int, of: int, doing: str) -> None:
        if done == 2:
            raise KeyboardInterrupt

    whole = found(TIGHT, segments="12,18,24,30")
    stopped = explore(stock(TIGHT), asked(TIGHT, segments="12,18,24,30"), progress=impatient)
    assert stopped.stopped
    assert not whole.stopped
    assert (stopped.looked_at, stopped.kinds) == (2, 4)
    first = [replace(row, best=()) for row in whole.rows if row.kind.segments in (12, 18)]
    assert [replace(row, best=()) for row in stopped.rows] == first


def test_stopping_before_anything_was_found_gives_an_empty_choice() -> None:
    def impatient(done: int, of: int, doing: str) -> None:
        raise KeyboardInterrupt

    stopped = explore(stock(TIGHT), asked(TIGHT), progress=impatient)
    assert stopped.stopped
    assert (stopped.rows, stopped.looked_at, stopped.nothing) == ((), 0, ())


def test_free_and_tilted_layouts_are_no_worse_than_sawn_ones() -> None:
    from rosette.offcuts.options import CutOptions

    box = box_of(*scraps(11))
    given = {"segments": "24", "width": "6-7", "spares": "0"}
    sawn = found(box, **given)
    tilted = found(box, **given, options=CutOptions(grain_tolerance=3.0))
    free = found(box, **given, options=CutOptions(method="free"))
    for other in (tilted, free):
        assert max(row.width for row in other.rows) >= max(row.width for row in sawn.rows)
