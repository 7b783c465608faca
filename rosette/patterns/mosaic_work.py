"""What a mosaic is made of: stacks of plies, planks sawn from them, logs, slices (mm)."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rosette.errors import CannotMakeError, finding
from rosette.patterns.base import CutBlank, Place, RingSite, Stock, spares_for
from rosette.patterns.mosaic_keys import Grid, MosaicKeys
from rosette.patterns.mosaic_tile import Tile
from rosette.words import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """Columns that one stack serves: `upright` as they are, `turned` end for end.

    `woods` are its plies from the outer edge in, without the edge veneers.
    """

    name: str
    woods: tuple[str, ...]
    upright: tuple[int, ...]
    turned: tuple[int, ...]

    @property
    def uses(self) -> int:
        """Planks of it in a log."""
        return len(self.upright) + len(self.turned)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Plies glued face to face, for one kind of column: `count` stacks give `planks` each."""

    kind: Kind
    count: int
    planks: int
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """The whole making.

    `sawn` is a plank's thickness off the saw, `slice` a slice's. Each of `logs` logs is
    `length` long and gives `slices`; stacks are as long and `height` high.
    """

    stacks: tuple[Stack, ...]
    sawn: float
    slice: float
    logs: int
    slices: int
    length: float
    height: float
    kerf: float
    grip: float
    trim: float


def kinds_of(cells: Grid) -> tuple[Kind, ...]:
    """The different columns of a motif; one and its mirror image, end for end, are one kind.

    >>> one, other = kinds_of((("a", "c", "b"), ("b", "b", "b"), ("c", "a", "b")))
    >>> one.woods, one.upright, one.turned, other.uses
    (('a', 'b', 'c'), (1,), (2,), 1)
    >>> [(kind.upright, kind.turned) for kind in kinds_of((("a", "b", "a"), ("b", "a", "b")))]
    [((1, 3), (2,))]
    """
    found: dict[tuple[str, ...], tuple[list[int], list[int]]] = {}
    for number, woods in enumerate(zip(*cells, strict=True), start=1):
        if woods not in found and woods[::-1] in found:
            found[woods[::-1]][1].append(number)
        else:
            found.setdefault(woods, ([], []))[0].append(number)
    return tuple(
        Kind(name=_letters(place), woods=woods, upright=tuple(upright), turned=tuple(turned))
        for place, (woods, (upright, turned)) in enumerate(found.items())
    )


def _letters(place: int) -> str:
    """A to Z, then AA, AB and so on."""
    return (_letters(place // 26 - 1) if place >= 26 else "") + chr(ord("A") + place % 26)


def work_of(tile: Tile, keys: MosaicKeys, site: RingSite) -> Work:
    """The stacks and logs that give every tile and the spares.

    Raises:
        CannotMakeError: where a stack gives no plank or a log no slice, with what would.
    """
    kerf, sawn = site.kerf, tile.plank[0] + 2.0 * keys.trim
    thick = keys.tile_thickness + 2.0 * keys.trim
    each = _pieces(keys.log_length, thick, keys.grip, kerf)
    across = _pieces(keys.stack_width, sawn, keys.grip, kerf)
    reasons = []
    for fits, name, what, piece, given in (
        (each, "log_length", "a log", thick, keys.log_length),
        (across, "stack_width", "a stack of plies", sawn, keys.stack_width),
    ):
        if fits < 1:
            reasons.append(
                finding(
                    "too-short" if name == "log_length" else "too-narrow",
                    f"{site.where}.{name}",
                    "{what} of {given} gives nothing: a piece takes {piece}, each cut {kerf}, and"
                    " {grip} stay in the clamp; at least {least} would do",
                    what=what,
                    given=Length(given),
                    piece=Length(piece),
                    kerf=Length(kerf),
                    grip=Length(keys.grip),
                    least=Length(_length(1, piece, keys.grip, kerf)),
                )
            )
    if reasons:
        raise CannotMakeError(reasons)
    wanted = tile.count + spares_for(tile.count)
    logs = math.ceil(wanted / each)
    slices = math.ceil(wanted / logs)
    stacks = []
    for kind in kinds_of(keys.cells):
        # one plank to spare: the thinnest break in planing
        planks = kind.uses * logs + 1
        count = math.ceil(planks / across)
        share = math.ceil(planks / count)
        stacks.append(
            Stack(kind=kind, count=count, planks=share, width=_length(share, sawn, keys.grip, kerf))
        )
    return Work(
        stacks=tuple(stacks),
        sawn=sawn,
        slice=thick,
        logs=logs,
        slices=slices,
        length=_length(slices, thick, keys.grip, kerf),
        height=tile.height,
        kerf=kerf,
        grip=keys.grip,
        trim=keys.trim,
    )


def _length(pieces: int, piece: float, grip: float, kerf: float) -> float:
    """What pieces take: a first cut that trues the end, a cut after each piece, the grip."""
    return pieces * (piece + kerf) + kerf + grip


def _pieces(length: float, piece: float, grip: float, kerf: float) -> int:
    return math.floor((length - grip - kerf) / (piece + kerf) + 1e-9)


def stock_of(work: Work, tile: Tile, keys: MosaicKeys) -> tuple[Stock, ...]:
    """The plies and edge veneers to prepare; those of one size together, for all their stacks."""
    alike: dict[tuple[str, str, float, float], list[tuple[str, int]]] = {}
    for stack in work.stacks:
        for name, wood, count, thickness in _plies(stack, tile, keys):
            size = (name, wood, stack.width, thickness)
            alike.setdefault(size, []).append((stack.kind.name, count * stack.count))
    return tuple(
        Stock(
            name=_for_stacks(name, [stack for stack, _ in found], len(work.stacks)),
            wood=wood,
            count=sum(count for _, count in found),
            length=work.length,
            width=width,
            thickness=thickness,
        )
        for (name, wood, width, thickness), found in sorted(alike.items())
    )


def _for_stacks(name: str, stacks: Sequence[str], of: int) -> str:
    """What plies are called, and which stacks they are for where not for all.

    >>> _for_stacks("ply", ["A", "B", "D"], 4), _for_stacks("ply", ["A"], 4)
    ('ply (stacks A, B, D)', 'ply (stack A)')
    """
    if len(stacks) == of:
        return name
    return f"{name} (stack{'s' if len(stacks) > 1 else ''} {', '.join(stacks)})"


def _plies(stack: Stack, tile: Tile, keys: MosaicKeys) -> Iterator[tuple[str, str, int, float]]:
    for wood, count in Counter(stack.kind.woods).items():
        yield "ply", wood, count, tile.cell_height
    yield "edge veneer", keys.edge_wood, 2, tile.veneer


def blanks_of(stock: Sequence[Stock], site: RingSite) -> tuple[CutBlank, ...]:
    """The same as rectangles that offcuts may give, the grain along them."""
    return tuple(
        CutBlank(
            name=one.name,
            wood=one.wood,
            inner_width=one.width,
            outer_width=one.width,
            height=one.length,
            thickness=one.thickness,
            places=tuple(
                Place(label=f"{site.index}-{kind}-{number:02d}", position=number)
                for number in range(1, one.count + 1)
            ),
        )
        for kind, one in enumerate(stock, start=1)
    )
