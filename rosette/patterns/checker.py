"""The checker: rows of squares of two woods in turn."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rosette.errors import CannotMakeError, Finding, finding
from rosette.geometry import wedge
from rosette.geometry.clip import kept_beside
from rosette.patterns.base import Pattern, RingPlan, RingSite, Stage
from rosette.patterns.checker_keys import CheckerKeys
from rosette.patterns.checker_making import (
    CheckerMaking,
    Squares,
    checker_making,
    stick_stock,
)
from rosette.patterns.checker_stages import bar_shapes, checker_stages
from rosette.patterns.laminate_form import (
    facets_of,
    form_warnings,
    is_bent,
    refuse_no_inner,
    refuse_too_many,
)
from rosette.patterns.laminate_last import (
    bent_stage,
    facet_stage,
    finishing,
    first_piece,
    mitred_shapes,
    mitred_stage,
)
from rosette.patterns.laminate_making import stock_blanks
from rosette.patterns.laminate_ring import (
    Facets,
    Shape,
    Sweep,
    numbered_pieces,
    slanted,
    stations,
)
from rosette.words import Length, Saying, say

SMALLEST = 1.5
"""Squares shorter than this (mm) are hard to glue up (common practice)."""
FEWEST_COLUMNS = 8
"""Squares round the ring, at the least."""
STEEPEST = 12.0
"""The largest mitre in degrees: squares at a joint are cut to wedges, and more would show."""


def plan_checker(keys: CheckerKeys, site: RingSite) -> RingPlan:
    """Work out a checker.

    Raises:
        CannotMakeError: where it can't be bent, closed or cut as asked, with what would work.
    """
    band = site.outer_radius - site.inner_radius
    row = (band - (keys.rows - 1) * keys.glue_line) / keys.rows
    if row <= 0:
        raise CannotMakeError(
            [
                finding(
                    "no-band",
                    f"{site.where}.glue_line",
                    "{rows} rows with joints of {glue} leave no wood in {band}; use fewer rows or a"
                    " thinner glue line",
                    rows=keys.rows,
                    glue=Length(keys.glue_line),
                    band=Length(band),
                )
            ]
        )
    if is_bent(keys, [(site.inner_radius, site.outer_radius)], site):
        return _bent(keys, site, row)
    return _straight(keys, site, row)


def _columns(keys: CheckerKeys, site: RingSite, length: float, row: float, step: int) -> int:
    """How many squares a length takes: the multiple of `step` that comes nearest their size."""
    wanted = (keys.square_length or row) + keys.glue_line
    columns = max(1, round(length / wanted / step)) * step
    if length / columns <= keys.glue_line:
        raise CannotMakeError(
            [
                finding(
                    "no-repeat",
                    f"{site.where}.square_length",
                    "joints of {glue} leave no wood in squares so short; use longer ones",
                    glue=Length(keys.glue_line),
                )
            ]
        )
    return columns


def _bent(keys: CheckerKeys, site: RingSite, row: float) -> RingPlan:
    inner, outer = site.inner_radius, site.outer_radius
    length = math.pi * (inner + outer)
    columns = _columns(keys, site, length, row, 2)
    _refuse_few(columns, site)
    refuse_too_many(columns * keys.rows, site, "square_length")
    glue = keys.glue_line
    squares = Squares(
        columns=columns,
        along=length / columns - glue,
        glue=glue,
        rows=_with_ends([row] * keys.rows, keys.trim),
    )
    made = checker_making(squares, keys, site)
    shapes = list(_bent_shapes(keys, site, squares, row))
    shown = bar_shapes(made, keys, rows=tuple([row] * keys.rows))
    last = (
        bent_stage(
            (inner, outer),
            strips=made.strips - 1,
            width=outer - inner,
            repeats=columns,
            shapes=shown,
            unit="squares",
            along="joint",
        ),
    )
    return _ring(keys, site, made, shapes, last, bent=True, row=row)


def _with_ends(rows: list[float], more: float) -> tuple[float, ...]:
    """Rows with something more on the first and the last, for trimming."""
    return (rows[0] + more, *rows[1:-1], rows[-1] + more)


def _bent_shapes(
    keys: CheckerKeys, site: RingSite, squares: Squares, row: float
) -> Iterator[Shape]:
    turn = math.tau / squares.columns
    off = turn * squares.glue / squares.pitch / 2.0
    for number, (low, high) in enumerate(_levels(keys, row)):
        sweep = Sweep(inner_radius=site.inner_radius + low, outer_radius=site.inner_radius + high)
        for column in range(squares.columns):
            start, end = turn * column + off, turn * (column + 1) - off
            yield Shape(
                outline=sweep.piece(start, end),
                wood=keys.wood[(number + column) % 2],
                kind="square",
                axis=None,
                along=math.degrees((start + end) / 2.0),
                order=number,
            )


def _levels(keys: CheckerKeys, row: float) -> list[tuple[float, float]]:
    """Where each row begins and ends, from the band's inner edge."""
    step = row + keys.glue_line
    return [(step * i, step * i + row) for i in range(keys.rows)]


def _straight(keys: CheckerKeys, site: RingSite, row: float) -> RingPlan:
    refuse_no_inner(site)
    facets = facets_of(
        keys,
        site,
        largest_sagitta=row / 2.0,
        largest_mitre=STEEPEST,
        repeat=(keys.square_length or row) + keys.glue_line,
    )
    # an odd number of pieces closes only with an even number of squares in each
    each = _columns(keys, site, facets.length, row, 1 + facets.count % 2)
    columns = each * facets.count
    _refuse_few(columns, site)
    refuse_too_many(columns * keys.rows, site, "square_length")
    glue = keys.glue_line
    outer = site.outer_radius + site.outer_allowance
    inside = wedge.inner_distance(
        site.inner_radius - site.inner_allowance, segments=facets.count, joint=facets.joint
    )
    half = (site.outer_radius - site.inner_radius) / 2.0
    more = max(outer - facets.middle, facets.middle - inside) - half
    squares = Squares(
        columns=columns,
        along=facets.length / each - glue,
        glue=glue,
        rows=_with_ends([row] * keys.rows, more),
        each=each,
    )
    made = checker_making(squares, keys, site, facets)
    shapes = list(_straight_shapes(keys, facets, squares, row))
    pieces = numbered_pieces(shapes, site)
    last = (
        mitred_stage(
            facets,
            site,
            pieces=made.pieces,
            taken=f"{made.taken} squares",
            shapes=mitred_shapes(
                bar_shapes(made, keys, rows=squares.rows),
                facets,
                middle=squares.width / 2.0,
                start=-squares.glue / 2.0,
                step=squares.pitch,
                taken=made.taken,
            ),
        ),
        facet_stage(facets, first_piece(pieces, facets)),
    )
    return _ring(keys, site, made, shapes, last, bent=False, row=row)


def _straight_shapes(
    keys: CheckerKeys, facets: Facets, squares: Squares, row: float
) -> Iterator[Shape]:
    whole = facets.outline()
    half = (facets.outer_radius - facets.inner_radius) / 2.0
    bottom = facets.middle - half
    # a column more at each end, where the mitres reach past the middle line's ends
    more = math.ceil(half * math.tan(math.radians(facets.mitre)) / squares.pitch) + 1
    start = -facets.length / 2.0 - more * squares.pitch
    columns = stations([squares.along] * (squares.each + 2 * more), squares.glue, start)
    for number, (low, high) in enumerate(_levels(keys, row)):
        part = kept_beside(
            whole,
            direction=0.0,
            least=0.0 if number == 0 else bottom + low,
            most=2.0 * facets.outer_radius if number == keys.rows - 1 else bottom + high,
        )
        if part is None:
            raise ValueError("a row is trimmed away")
        for column, outline in slanted(part, columns, lean=0.0, at=0.0):
            for piece in range(facets.count):
                turn = number + column - more + piece * squares.each
                yield Shape(
                    outline=facets.turned(outline, piece),
                    wood=keys.wood[turn % 2],
                    kind="square",
                    axis=None,
                    along=facets.along(outline, piece),
                    order=number,
                )


def _refuse_few(columns: int, site: RingSite) -> None:
    if columns < FEWEST_COLUMNS:
        raise CannotMakeError(
            [
                finding(
                    "no-repeat",
                    f"{site.where}.square_length",
                    "only {columns} squares go round the ring; use shorter ones, {least} at the"
                    " least",
                    columns=columns,
                    least=FEWEST_COLUMNS,
                )
            ]
        )


def _small(made: CheckerMaking, site: RingSite) -> Iterator[Finding]:
    along = made.squares.along
    if along < SMALLEST:
        yield finding(
            "small-squares",
            f"{site.where}.square_length",
            "slices {along} long lose as much to the saw as they keep and hardly stand upright in"
            " the glue; from {least} on they are easier",
            along=Length(along),
            least=Length(SMALLEST),
        )


def _closing(made: CheckerMaking, row: float) -> Saying:
    squares = made.squares
    return say(
        "{columns} squares of {along} along the middle close the ring, an even number so that the"
        " woods take turns across the seam; each row is {row} wide.",
        columns=squares.columns,
        along=Length(squares.along, 3),
        row=Length(row, 3),
    )


def _ring(
    keys: CheckerKeys,
    site: RingSite,
    made: CheckerMaking,
    shapes: list[Shape],
    last: tuple[Stage, ...],
    *,
    bent: bool,
    row: float,
) -> RingPlan:
    stages = (*checker_stages(made, keys), *last)
    stock = stick_stock(made, keys)
    return RingPlan(
        index=site.index,
        pattern="checker",
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=tuple(dict.fromkeys(keys.wood)),
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=numbered_pieces(shapes, site),
        steps=(
            _closing(made, row),
            *(stage.saying for stage in stages),
            *finishing(site, backing=keys.backing, bent=bent),
        ),
        warnings=(
            *_small(made, site),
            *form_warnings(keys, [(site.inner_radius, site.outer_radius)], site, bent=bent),
        ),
        stock=stock,
        stages=stages,
        blanks=stock_blanks(stock, site),
    )


PATTERN = Pattern(
    name="checker",
    summary="rows of squares of two woods in turn",
    keys=CheckerKeys,
    plan=plan_checker,  # type: ignore[arg-type]
    example={"wood": ["maple", "walnut"], "rows": 4, "width": 10},
)
