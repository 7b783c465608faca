"""How a band of plies is made: block, slabs, bar, strips, and the wood they take (mm).

Plies are glued flat to a block H high. The block is cut across at the angle θ into slabs B wide;
each is a parallelogram H/sin θ long whose ends are plies' faces, so that slabs glued end to end
continue the plies. The bar that they make is sliced into strips as thick as the ring. Derivations:
docs/patterns/rope.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.errors import CannotMakeError, Finding, finding
from rosette.patterns.base import CutBlank, Place, RingSite, Stock, spares_for
from rosette.patterns.laminate import Lay
from rosette.patterns.laminate_keys import LaminateKeys
from rosette.patterns.laminate_ring import Facets
from rosette.units import rounded
from rosette.words import Length

DEEPEST = 40.0
"""A bar deeper than this (mm) is not sliced cleanly by a small bandsaw (common practice)."""
FACE_TRIM = 1.0
"""What is planed off each long side of a glued block to true it (mm; common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slicing:
    """`bars` bars sliced into `sliced` strips each; `wood` shows on a bar's end."""

    bars: int
    sliced: int
    bar_length: float
    strip_width: float
    strip_thickness: float
    kerf: float
    grip: float
    wood: str

    @property
    def depth(self) -> float:
        """A trued bar's depth: strips, a cut beside each, and what is held."""
        return self.sliced * (self.strip_thickness + self.kerf) + self.grip


def bars_for(strips: int, thickness: float, *, kerf: float, grip: float) -> tuple[int, int]:
    """How many bars give so many strips, and how many strips each, none deeper than `DEEPEST`."""
    most = max(1, int((DEEPEST - grip) / (thickness + kerf)))
    bars = math.ceil(strips / most)
    return bars, math.ceil(strips / bars)


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """The sizes of every stage.

    `rows` repeats stand in a block; `slabs` make a bar, `bars` of which are sliced into `sliced`
    strips each. `block_slabs` come out of each of `blocks` blocks. `strips` are needed in all,
    spares with them. `pieces` straight pieces come out of a strip (0: it is bent), each taking
    `taken` repeats of it.
    """

    lay: Lay
    rows: int
    slabs: int
    bars: int
    sliced: int
    strips: int
    blocks: int
    block_slabs: int
    strip_width: float
    strip_thickness: float
    kerf: float
    grip: float
    pieces: int = 0
    taken: int = 0

    @property
    def height(self) -> float:
        """The block's height: its plies and the glue between them."""
        return self.rows * self.lay.thickness - self.lay.glue

    @property
    def repeats(self) -> int:
        """Repeats in a bar, and so in a strip."""
        return self.rows * self.slabs

    @property
    def slab_length(self) -> float:
        """A slab along the band, on either edge."""
        return self.height / self.lay.sine

    @property
    def bar_length(self) -> float:
        """A bar along either edge; its slanted end stands out beyond that."""
        return self.repeats * self.lay.pitch - self.lay.gap

    @property
    def overhang(self) -> float:
        """How far the slanted end of a slab, bar or strip stands out."""
        return self.strip_width * self.lay.cotangent

    @property
    def depth(self) -> float:
        """The block's depth when it is trued."""
        return self.slicing.depth

    @property
    def slicing(self) -> Slicing:
        """How the bars are sliced."""
        return Slicing(
            bars=self.bars,
            sliced=self.sliced,
            bar_length=self.bar_length,
            strip_width=self.strip_width,
            strip_thickness=self.strip_thickness,
            kerf=self.kerf,
            grip=self.grip,
            wood=self.lay.plies[0].wood,
        )

    @property
    def block_length(self) -> float:
        """The block along the grain: slabs, cuts, the slanted ends, and what is held."""
        cuts = self.block_slabs * self.strip_width + (self.block_slabs + 1) * self.kerf
        return cuts / self.lay.sine + self.height * self.lay.cotangent + self.grip

    @property
    def plies(self) -> int:
        """Plies in a block."""
        return self.rows * len(self.lay.plies)


def making(
    lay: Lay,
    keys: LaminateKeys,
    site: RingSite,
    *,
    block_height: float,
    repeats: int,
    width: float,
    facets: Facets | None = None,
    lanes: int = 1,
) -> Making:
    """Work the stages out.

    Args:
        lay: the plies, closed.
        keys: sizes of bar, block, trim and grip.
        site: the ring's kerf and radii.
        block_height: about how high the stack of plies is.
        repeats: in the whole ring.
        width: of the strip, trimming included.
        facets: the straight pieces, where the band is not bent.
        lanes: strips that lie side by side in the ring.

    Raises:
        CannotMakeError: where a bar or a block would have to be longer than it may be.
    """
    taken = 0 if facets is None else _taken(lay, facets, site)
    least = repeats + 1 if facets is None else taken
    rows = max(1, min(int(block_height / lay.thickness), int(keys.bar_length / lay.pitch), least))
    fits = int((keys.bar_length + lay.gap) / (rows * lay.pitch) + 1e-9)
    if fits < 1:
        raise CannotMakeError([_short_bar(site, rows * lay.pitch)])
    wanted = repeats + 1 if facets is None else taken * (facets.count + spares_for(facets.count))
    spare_end = 0 if facets is None else math.ceil(width * lay.cotangent / lay.pitch) + 1
    slabs = max(1, min(fits, math.ceil((wanted + spare_end) / rows)))
    length = rows * slabs * lay.pitch - lay.gap
    if facets is None:
        pieces = 0
        strips = lanes * (math.ceil(wanted / (rows * slabs)) + 1)
    else:
        long = piece_width(facets, site)
        # a piece begins where the pattern does: up to a repeat is lost before the first
        usable = length - width * lay.cotangent - long - lay.pitch
        pieces = int(usable / (taken * lay.pitch) + 1e-9) + 1 if usable >= -1e-9 else 0
        if pieces < 1:
            raise CannotMakeError(
                [_short_bar(site, long + width * lay.cotangent + lay.pitch * (rows + 1))]
            )
        strips = lanes * math.ceil((facets.count + spares_for(facets.count)) / pieces)
    thick = keys.tile_thickness + 2.0 * keys.trim
    bars, sliced = bars_for(strips, thick, kerf=site.kerf, grip=keys.grip)
    blocks, block_slabs = _blocks(lay, keys, site, rows=rows, slabs=bars * slabs, width=width)
    return Making(
        lay=lay,
        rows=rows,
        slabs=slabs,
        bars=bars,
        sliced=sliced,
        strips=strips,
        blocks=blocks,
        block_slabs=block_slabs,
        strip_width=width,
        strip_thickness=thick,
        kerf=site.kerf,
        grip=keys.grip,
        pieces=pieces,
        taken=taken,
    )


def piece_width(facets: Facets, site: RingSite) -> float:
    """The long edge of a straight piece with its trimming on (mm)."""
    outer = site.outer_radius + site.outer_allowance
    return 2.0 * outer * math.tan(math.radians(facets.mitre))


def _taken(lay: Lay, facets: Facets, site: RingSite) -> int:
    """Repeats of the strip that one straight piece takes: it and a cut, up to a whole repeat."""
    cut = site.kerf / math.cos(math.radians(facets.mitre))
    return math.ceil((piece_width(facets, site) + cut) / lay.pitch - 1e-9)


def _blocks(
    lay: Lay, keys: LaminateKeys, site: RingSite, *, rows: int, slabs: int, width: float
) -> tuple[int, int]:
    """How many blocks, and how many slabs come out of each."""
    height = rows * lay.thickness - lay.glue
    ends = height * lay.cotangent + site.kerf / lay.sine + keys.grip
    each = (width + site.kerf) / lay.sine
    most = int((keys.block_length - ends) / each + 1e-9)
    if most < 1:
        raise CannotMakeError(
            [
                finding(
                    "short-block",
                    f"{site.where}.block_length",
                    "a block of {length} gives no slab {width} wide at {angle}°; use {least} or"
                    " more, or a lower stack",
                    length=Length(keys.block_length),
                    width=Length(width),
                    angle=rounded(lay.angle, 1),
                    least=Length(math.ceil(ends + each)),
                )
            ]
        )
    blocks = math.ceil(slabs / most)
    return blocks, math.ceil(slabs / blocks)


def _short_bar(site: RingSite, least: float) -> Finding:
    return finding(
        "short-bar",
        f"{site.where}.bar_length",
        "so short a bar holds too little of the band to be of use; use {least} or more, or thinner"
        " plies",
        least=Length(math.ceil(least)),
    )


def ply_stock(made: Making, name: str = "ply") -> tuple[Stock, ...]:
    """The plies to prepare, those alike together; of one wood each thickness has its own name."""
    counts: dict[tuple[str, float], int] = {}
    for ply in made.lay.plies:
        at = (ply.wood, ply.thickness)
        counts[at] = counts.get(at, 0) + made.rows * made.blocks
    names: dict[tuple[str, float], str] = {}
    for wood, thickness in counts:
        before = sum(wood == one for one, _ in names)
        names[wood, thickness] = f"{name}, thickness {before + 1}" if before else name
    return tuple(
        Stock(
            name=names[wood, thickness],
            wood=wood,
            count=count,
            length=made.block_length,
            width=made.depth + 2.0 * FACE_TRIM,
            thickness=thickness,
        )
        for (wood, thickness), count in counts.items()
    )


def stock_blanks(stock: tuple[Stock, ...], site: RingSite) -> tuple[CutBlank, ...]:
    """The same as blanks that offcuts can give: rectangles, their grain along them."""
    blanks = []
    number = 0
    for one in stock:
        places = tuple(
            Place(label=f"{site.index}-P{number + i + 1:02d}", position=number + i + 1)
            for i in range(one.count)
        )
        number += one.count
        blanks.append(
            CutBlank(
                name=one.name,
                wood=one.wood,
                inner_width=one.width,
                outer_width=one.width,
                height=one.length,
                thickness=one.thickness,
                places=places,
            )
        )
    return tuple(blanks)
