"""From the choice to the pieces as they are cut: labels, ways up, faces, cuts, what is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely

from rosette.geometry.hidden import Visibility
from rosette.offcuts.choosing import Given
from rosette.offcuts.cutplan import Arrangement, CutPiece, CutWedge, Holds, SawCut, Swing
from rosette.offcuts.demand import SAME_THICKNESS, Want
from rosette.offcuts.model import Placement, Point
from rosette.offcuts.options import CutOptions
from rosette.offcuts.order import Lying, Place, arrange
from rosette.offcuts.remainders import remainders
from rosette.offcuts.sawing import Sawed, Sawn, cut_free, sawed
from rosette.offcuts.selection import TOGETHER

SQUARE = 1e-6
"""degrees: a cut this near to square is square."""


def pieces_cut(
    given: Sequence[Given],
    asked: Sequence[Want],
    kerf: float,
    options: CutOptions,
    arrangement: Arrangement,
) -> tuple[CutPiece, ...]:
    """The pieces in the order of cutting, those that stay whole behind them."""
    cut_first = sorted((one for one in given if one.take is not None), key=_order_of_cutting)
    sizes = [want.size for want in asked]
    done = [
        sawed(one.source.wood, one.take.portions, sizes, kerf=kerf)
        if options.method == "strip"
        else cut_free(one.source.wood, one.take.portions, kerf=kerf)
        for one in cut_first
        if one.take is not None
    ]
    wedges = _wedges(cut_first, done, asked, arrangement=arrangement, options=options, kerf=kerf)
    touched = [
        _piece(one, asked, sawn, mine)
        for one, sawn, mine in zip(cut_first, done, wedges, strict=True)
    ]
    return (*touched, *(_piece(one, asked) for one in given if one.take is None))


def _order_of_cutting(one: Given) -> tuple[int, bool, int]:
    """Ring by ring; whole offcuts first, so that what is left stays in the last one."""
    assert one.take is not None
    last = one.take.portions[-1]
    return (
        min(portion.want for portion in one.take.portions),
        last.part.count < last.layout.placed,
        -last.part.count,
    )


def _piece(
    one: Given,
    asked: Sequence[Want],
    sawn: Sawed | None = None,
    wedges: Sequence[CutWedge] = (),
) -> CutPiece:
    source = one.source
    labels = {(wedge.band, wedge.order): wedge.label for wedge in wedges}
    kinds = dict.fromkeys(portion.want for portion in one.take.portions) if one.take else {}
    bound, proved = _bound(one, asked)
    return CutPiece(
        wood=source.wood,
        piece=source.piece,
        count=source.count,
        note=source.note,
        wedges=tuple(wedges),
        cuts=tuple(_cut(cut, asked, labels) for cut in sawn.cuts) if sawn else (),
        remainders=remainders(source.wood, sawn.left) if sawn else (),
        holds=tuple(
            Holds(
                ring=asked[kind].ring,
                capacity=layout.placed if layout else 0,
                bound=source.bound(kind, asked[kind].size),
            )
            for kind, layout in source.layouts.items()
        ),
        bound=bound,
        proved=proved,
        area=source.area,
        tilt=one.take.portions[0].layout.tilt if one.take else 0.0,
        planed=tuple(
            (asked[kind].ring, asked[kind].thickness)
            for kind in kinds
            if source.wood.thickness > asked[kind].thickness + SAME_THICKNESS
        ),
    )


def _bound(one: Given, asked: Sequence[Want]) -> tuple[int, bool]:
    """The most wedges of the kinds in question that the piece can hold, and whether it does.

    Of several kinds together only the area speaks.
    """
    source = one.source
    kinds = {portion.want for portion in one.take.portions} if one.take else set(source.layouts)
    if one.take is not None and len(kinds) > 1:
        bound = int(source.area / min(asked[kind].size.area for kind in kinds))
        return bound, sum(one.take.counts) >= bound
    bounds = {kind: source.bound(kind, asked[kind].size) for kind in kinds}
    layouts = [source.layouts[kind] for kind in kinds]
    return max(bounds.values()), all(one is not None and one.proved for one in layouts)


def _cut(sawn: Sawn, asked: Sequence[Want], labels: dict[tuple[int, int], str]) -> SawCut:
    cut = sawn.cut
    return SawCut(
        step=cut.step,
        kind=cut.kind,
        band=cut.band,
        ring=asked[sawn.want].ring,
        start=cut.start,
        end=cut.end,
        mitre=round(abs(sawn.lean), 9),
        swing=_swing(sawn.lean),
        in_hand=sawn.in_hand,
        turn_over=cut.kind == "slant" and sawn.first_lean * sawn.lean < 0.0,
        fence_line=sawn.fence,
        frees=tuple(labels[cut.band, order] for order in cut.frees),
    )


def _swing(lean: float) -> Swing:
    """A cut that leans to the left wants the gauge's right end nearer, and the other way round."""
    if abs(lean) <= SQUARE:
        return "square"
    return "right" if lean > 0.0 else "left"


def _wedges(
    given: Sequence[Given],
    done: Sequence[Sawed],
    asked: Sequence[Want],
    *,
    arrangement: Arrangement,
    options: CutOptions,
    kerf: float,
) -> list[list[CutWedge]]:
    """Every piece's wedges with their places in the ring."""
    laid = [(at, want, one) for at, sawn in enumerate(done) for want, one in sawn.placements]
    places: dict[int, tuple[str, Place]] = {}
    spares: dict[int, int] = {}
    for kind, want in enumerate(asked):
        mine = [i for i, (_, number, _) in enumerate(laid) if number == kind]
        lying = [_lying(laid[i][0], laid[i][2]) for i in mine]
        arranged = arrange(lying, want, arrangement=arrangement, faces=options.faces)
        for i, place in zip(mine, arranged, strict=True):
            places[i] = (_label(place, want, spares), place)
    runs = list(_runs(laid, kerf if options.method == "strip" else kerf + TOGETHER))
    wedges: list[list[CutWedge]] = [[] for _ in done]
    for i, (at, kind, one) in enumerate(laid):
        source, want, (label, place) = given[at].source, asked[kind], places[i]
        wedges[at].append(
            CutWedge(
                ring=want.ring,
                label=label,
                position=place.slot.position if place.slot else None,
                wood=want.wood,
                offcut=source.wood.id,
                piece=source.piece,
                band=one.band,
                order=one.order,
                flipped=one.flipped,
                centre=one.centre,
                vertices=one.vertices,
                turn=one.turn,
                run=runs[i],
                face=place.face,
                laid=place.laid,
                visibility=place.slot.visibility if place.slot else Visibility.SEEN,
                name=want.name,
            )
        )
    return wedges


def _label(place: Place, want: Want, spares: dict[int, int]) -> str:
    if place.slot is not None:
        return place.slot.label
    spares[want.ring] = spares.get(want.ring, 0) + 1
    return f"{want.ring}-s{spares[want.ring]}"


def _lying(piece: int, one: Placement) -> Lying:
    a, b, c, d = one.vertices
    first, second = _middle(a, d), _middle(b, c)
    left, right = (second, first) if one.flipped else (first, second)
    return Lying(piece=piece, flipped=one.flipped, left=left, right=right)


def _middle(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)


def _runs(laid: Sequence[tuple[int, int, Placement]], near: float) -> Iterator[int]:
    """Numbers for the runs of wedges that lie side by side, no more than `near` mm apart."""
    run = 0
    before: tuple[tuple[int, int, int], shapely.Polygon] | None = None
    for at, kind, one in laid:
        where, shape = (at, kind, one.band), shapely.Polygon(one.vertices)
        beside = before is not None and before[0] == where
        if not beside or before is None or shapely.distance(before[1], shape) > near + 1e-6:
            run += 1
        before = (where, shape)
        yield run
