"""What a design says of a mosaic: its motif, the palette of woods, the cells, the way of making."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, Literal

from rosette.keys import At, Kind, RingKeys, Rule, key, table
from rosette.keys.files import NamedFile, read_named
from rosette.keys.kinds import LENGTH, NAME, POSITIVE_LENGTH, one_of, whole
from rosette.keys.show import show, toml_value
from rosette.patterns.mosaic_png import MOST_BYTES, Colours, PngError, read_png

MOST_ACROSS = 64
"""Cells of a motif across and from edge to edge, at the most."""
MOST_COLOURS = 24
MOST_TOLD = 4
"""Cells without a wood that are told one by one."""
JOB_PICTURE = "picture.png"
_COLOUR = re.compile(r"#[0-9a-f]{6}")

Grid = tuple[tuple[str, ...], ...]
"""Rows of cells from the outer edge in, each clockwise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MotifFile(NamedFile):
    """A motif drawn as a small PNG, and its colours."""

    rows: Colours


def _motif(value: object, at: At) -> tuple[str, ...] | None:
    if isinstance(value, str):
        value = value.strip("\r\n").splitlines()
    if not isinstance(value, list) or not all(isinstance(line, str) for line in value):
        at.refuse(f"{show(value)} is not lines of letters in quotes")
        return None
    rows = ["".join(line.split()) for line in value]
    while rows and not rows[-1]:
        rows.pop()
    if not rows:
        at.refuse("the motif is empty")
    elif len(rows) > MOST_ACROSS or len(rows[0]) > MOST_ACROSS:
        at.tell(
            "wrong-value",
            f"the motif is {len(rows[0])} cells wide and {len(rows)} high; at most {MOST_ACROSS}"
            " each way do",
        )
    elif uneven := [n for n, row in enumerate(rows, 1) if len(row) != len(rows[0])]:
        at.tell(
            "wrong-value",
            f"line {uneven[0]} of the motif has {len(rows[uneven[0] - 1])} cells, line 1 has"
            f" {len(rows[0])}; every line needs as many",
        )
    else:
        return tuple(rows)
    return None


def _motif_file(value: object, at: At) -> MotifFile | None:
    named = read_named(value, at, ending=".png", most=MOST_BYTES)
    if named is None:
        return None
    if named.name.lower() == JOB_PICTURE:
        at.tell(
            "wrong-value",
            f"{show(named.name)} is what the picture of a whole job is called; give the motif"
            " another name",
        )
        return None
    try:
        rows = read_png(named.data, most=MOST_ACROSS)
    except PngError as error:
        at.tell("wrong-value", f"{show(named.name)} {error}")
        return None
    return MotifFile(name=named.name, data=named.data, rows=rows)


def _palette(value: object, at: At) -> Mapping[str, str] | None:
    if not isinstance(value, dict) or not value:
        at.refuse(f"{show(value)} is not a table of letters or colours and their woods")
        return None
    if len(value) > MOST_COLOURS:
        at.tell("wrong-value", f"the palette has {len(value)} woods; at most {MOST_COLOURS} do")
        return None
    read = {}
    for name, wood in value.items():
        lower = name.lower()
        if (len(name) == 1 and name.isprintable() and not name.isspace()) or _COLOUR.fullmatch(
            lower
        ):
            read[name if len(name) == 1 else lower] = NAME.read(wood, at.below(name))
        else:
            at.below(name).tell(
                "wrong-value",
                f"{show(name)} is neither one letter nor a colour such as {show('#4a2f1c')}",
            )
    return {name: wood for name, wood in read.items() if wood is not None}


MOTIF = Kind(
    read=_motif,
    called="lines of letters",
    schema={"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}]},
)
"""A motif drawn with letters, one a cell, the line at the outer edge first."""
MOTIF_FILE = Kind(read=_motif_file, called="name of a PNG file", schema={"type": "string"})
"""A motif drawn as a picture, one pixel a cell, in a file beside the design."""
PALETTE = Kind(
    read=_palette,
    called="table: a letter or colour, and its wood",
    schema={
        "type": "object",
        "additionalProperties": NAME.schema,
        "minProperties": 1,
        "maxProperties": MOST_COLOURS,
    },
)
"""Which wood each letter or colour of a motif stands for."""


@table
class MosaicKeys(RingKeys):
    """The keys of a mosaic beside those of every ring. Lengths in mm."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("motif", "motif_file"), (1,)),
        Rule(("tiles", "cell_width"), (1,)),
    )

    motif: tuple[str, ...] | None = key(
        MOTIF,
        "the picture, a letter a cell: the first line at the outer edge, each from left to right"
        " as seen at 12 o'clock; spaces don't count",
        example="mmwmm\nmwrwm\nmmwmm",
        default=None,
    )
    motif_file: MotifFile | None = key(
        MOTIF_FILE,
        f"the picture as a small PNG beside the design, a pixel a cell, at most {MOST_ACROSS} each"
        " way, instead of motif",
        example="heart.png",
        default=None,
    )
    palette: Mapping[str, str] = key(
        PALETTE,
        'the wood of each letter, or of each colour of a PNG as "#rrggbb"',
        example={"w": "walnut", "m": "maple", "r": "padauk"},
    )
    tiles: int | None = key(
        whole(least=6, most=180),
        "how many times the motif goes round the ring",
        example=30,
        default=None,
    )
    cell_width: float | None = key(
        POSITIVE_LENGTH,
        "about how wide a cell may be at the middle of the ring, instead of tiles: the tool"
        " chooses the count",
        example=0.9,
        default=None,
    )
    cell_height: float | None = key(
        POSITIVE_LENGTH,
        "thickness of a ply, the height of a cell; left out, the rows fill the ring between the"
        " edge veneers",
        example=0.6,
        default=None,
    )
    taper: Literal["columns", "log"] = key(
        one_of("columns", "log"),
        'what makes the tiles fan: every plank planed to a wedge, "columns", or the glued-up'
        ' "log" as a whole',
        example="log",
        default="columns",
    )
    repeat: Literal["slip", "mirrored"] = key(
        one_of("slip", "mirrored"),
        'whether every tile is like the one before, "slip", or its mirror image, "mirrored"',
        example="mirrored",
        default="slip",
    )
    edge_wood: str = key(
        NAME,
        "the wood of the veneers at the inner and outer edge, through which the arcs are trimmed",
        example="maple",
    )
    edge_left: float = key(
        POSITIVE_LENGTH,
        "what is left of the edge veneers after trimming, at the least",
        example=0.3,
        default=0.3,
    )
    glue_line: float = key(
        LENGTH, "thickness of the glue in every joint", example=0.02, default=0.0
    )
    trim: float = key(
        LENGTH,
        "stock left on each sawn face of a plank or slice, to plane or sand off",
        example=0.2,
        default=0.2,
    )
    stack_width: float = key(
        POSITIVE_LENGTH, "the widest stack of plies that is glued up", example=80, default=80.0
    )
    log_length: float = key(
        POSITIVE_LENGTH,
        "the longest log that is glued up and sliced",
        example=160,
        default=160.0,
    )
    grip: float = key(
        LENGTH,
        "what of a stack or log stays in the clamp and is lost",
        example=15,
        default=15.0,
    )
    at_centreline: Literal["joint", "tile"] = key(
        one_of("joint", "tile"),
        'what stands at 12 o\'clock, towards the neck: "joint" or "tile"',
        example="tile",
        default="joint",
    )
    sawn: Literal["quartersawn", "flatsawn"] = key(
        one_of("quartersawn", "flatsawn"),
        'how the veneers are cut, "quartersawn" or "flatsawn"; it tells how far the ring will move',
        example="flatsawn",
        default="flatsawn",
    )

    @property
    def drawn(self) -> Grid:
        """The motif's letters or colours, cell by cell."""
        if self.motif_file is not None:
            return self.motif_file.rows
        return tuple(tuple(row) for row in self.motif or ())

    @property
    def cells(self) -> Grid:
        """The motif's woods, cell by cell."""
        return tuple(tuple(self.palette[mark] for mark in row) for row in self.drawn)

    def look_over(self, at: At) -> None:
        """Tell of cells whose letter or colour has no wood."""
        place = at.below("motif" if self.motif_file is None else "motif_file")
        missing = self._without_wood()
        offered = " or ".join(map(show, list(self.palette)[:6]))
        for mark, cell in list(missing.items())[:MOST_TOLD]:
            place.tell(
                "no-wood",
                f"{show(mark)} at {cell} has no wood; add {toml_value({mark: 'walnut'})[2:-2]} to"
                f" the palette, or draw the cell as {offered}",
            )
        if len(missing) > MOST_TOLD:
            place.tell(
                "no-wood",
                f"{len(missing) - MOST_TOLD} more of its marks have no wood in the palette"
                + ("" if self.motif_file is None else "; draw it without soft edges"),
            )

    def _without_wood(self) -> dict[str, str]:
        """Each mark that the palette lacks, and where it first stands."""
        missing: dict[str, str] = {}
        for y, row in enumerate(self.drawn, start=1):
            for x, mark in enumerate(row, start=1):
                if mark not in self.palette:
                    missing.setdefault(mark, f"line {y}, cell {x}")
        return missing
