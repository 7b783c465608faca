"""The keys of an offcuts file."""

from __future__ import annotations

from typing import Any, ClassVar, Literal

from rosette.keys import At, Keys, Kind, Rule, inner, key, table
from rosette.keys.kinds import NAME, POSITIVE_LENGTH, format_number, names, one_of, whole
from rosette.keys.show import show
from rosette.offcuts.box_kinds import (
    ANGLE,
    DEFECTS,
    ENDS,
    ID,
    LENGTH_SCHEMA,
    OUTLINE,
    RECTANGLE,
    SIGNED_LENGTH,
)
from rosette.offcuts.model import Point, Ring
from rosette.units import LengthError, parse_length

MOST_COUNT = 999


def _sits(value: object, at: At) -> str | float | None:
    if isinstance(value, str) and value in ("bottom", "middle", "top"):
        return value
    try:
        return parse_length(value, at.units)
    except LengthError:
        at.refuse(f'{show(value)} is neither "bottom", "middle", "top" nor a length')
        return None


@table
class TaperKeys(Keys):
    """taper: a strip with straight edges that is wider at one end."""

    length: float = key(POSITIVE_LENGTH, "from end to end, along x", example=310)
    ends: Point = key(ENDS, "the widths at the left and the right end", example=[60, 44])
    sits: Any = key(
        Kind(read=_sits, called="word or length",
             schema={"anyOf": [{"enum": ["bottom", "middle", "top"]}, LENGTH_SCHEMA]}),
        'where the right end sits: "bottom" where both lower corners are level, "top" where both'
        ' upper ones are, "middle", or how far its lower corner is above the left one\'s',
        example="bottom",
        default="middle",
    )  # fmt: skip


@table
class CurvedKeys(Keys):
    """curved: a rectangle whose upper edge is bowed."""

    length: float = key(POSITIVE_LENGTH, "from end to end, along x", example=180)
    ends: Point = key(
        ENDS, "the width at the ends; two where the left differs from the right", example=40
    )
    rise: float = key(
        SIGNED_LENGTH,
        "how much wider it is in the middle than between the ends; below 0 where it is hollow",
        example=12,
    )


@table
class OffcutKeys(Keys):
    """[[offcut]]: one piece of wood, or several alike."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("outline", "rectangle", "taper", "curved", "file"), (1,)),
    )

    id: str = key(ID, "what you call it; write it on the wood", example="S2")
    wood: str = key(NAME, "its wood, by the name that designs use", example="walnut")
    thickness: float = key(POSITIVE_LENGTH, "how thick it is: measure it", example=2.4)
    outline: Ring | None = key(
        OUTLINE,
        "its corners in order round the edge, each as far along x and along y",
        example=[[0, 0], [310, 0], [300, 44], [5, 60]],
        default=None,
    )
    rectangle: Point | None = key(
        RECTANGLE, "how long it is along x and along y", example=[310, 44], default=None
    )
    taper: TaperKeys | None = key(
        inner(TaperKeys),
        "a strip that is wider at one end",
        example={"length": 310, "ends": [60, 44]},
        default=None,
    )
    curved: CurvedKeys | None = key(
        inner(CurvedKeys),
        "a rectangle with one bowed edge",
        example={"length": 180, "ends": 40, "rise": 12},
        default=None,
    )
    file: str | None = key(
        NAME, "an SVG or DXF file with its outline, beside this one", example="S2.svg", default=None
    )
    grain: float = key(
        ANGLE, "the grain's direction, counter-clockwise from x", example=0, default=0.0
    )
    defects: tuple[Ring, ...] = key(
        DEFECTS,
        "knots, cracks, stain: what no wedge may have in it",
        example=[{"at": [40, 16], "across": 12}],
        default=(),
    )
    holes: tuple[Ring, ...] = key(
        DEFECTS,
        "where wood is missing inside, drilled or sawn out",
        example=[[[90, 10], [120, 10], [120, 30]]],
        default=(),
    )
    count: int = key(
        whole(least=1, most=MOST_COUNT), "how many there are of it", example=2, default=1
    )
    note: str | None = key(
        NAME,
        "anything to remember it by",
        example="back of no. 2, lower bout",
        default=None,
    )


@table
class TakenKeys(Keys):
    """[[taken]]: one job whose cuts were made, as `rosette offcuts take` notes it."""

    cuts: str = key(NAME, "the fingerprint of its cuts", example="4f2a…")
    job: str = key(NAME, "what the job is called", example="Damson parlour no. 3")
    used: tuple[str, ...] = key(names(most=2000), "ids of the offcuts used", example=["S2"])
    back: tuple[str, ...] = key(
        names(most=2000), "ids of what came back", example=["S2a"], default=()
    )


@table
class BoxKeys(Keys):
    """The top of an offcuts file."""

    schema: int = key(format_number(1), "the number of this file format", example=1)
    units: Literal["mm", "in"] = key(
        one_of("mm", "in"),
        'what bare numbers mean: "mm" or "in"',
        example="mm",
        default="mm",
    )
