"""What a design says of shapes inlaid round a ring."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Literal

from rosette.geometry.outline import Outline
from rosette.geometry.tracing import TracingError
from rosette.keys import At, Kind, RingKeys, Rule, key, table
from rosette.keys.files import NamedFile, read_named
from rosette.keys.kinds import LENGTH, ONE_NAME, POSITIVE_LENGTH, names, one_of, whole
from rosette.keys.numbers import degrees
from rosette.keys.show import show
from rosette.patterns.shapes_drawing import MOST_BYTES, own_outline

MOST_SHAPES = 180
MOST_WOODS = 24
JOB_PICTURE = "picture.svg"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeFile(NamedFile):
    """A shape drawn as an SVG, and its outline about the middle of its box (mm)."""

    outline: Outline


def _shape_file(value: object, at: At) -> ShapeFile | None:
    named = read_named(value, at, ending=".svg", most=MOST_BYTES)
    if named is None:
        return None
    if named.name.lower() == JOB_PICTURE:
        at.tell(
            "wrong-value",
            f"{show(named.name)} is what the picture of a whole job is called; give the shape"
            " another name",
        )
        return None
    try:
        outline = own_outline(named.data)
    except TracingError as error:
        at.tell("wrong-drawing", f"{show(named.name)} {error.saying.text(at.units)}")
        return None
    return ShapeFile(name=named.name, data=named.data, outline=outline)


SHAPE_FILE = Kind(
    read=_shape_file, called="name of an SVG file", schema={"type": "string", "pattern": "\\.svg$"}
)


@table
class ShapesKeys(RingKeys):
    """The keys of a ring with inlaid shapes beside those of every ring. Lengths in mm."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("shape", "file"), (1,)),
        Rule(("count", "spacing"), (1,)),
    )

    ground: str = key(ONE_NAME, "the wood that the shapes are let into", example="walnut")
    wood: tuple[str, ...] = key(
        names(most=MOST_WOODS),
        "what the shapes are cut from, wood or shell, or several that repeat round the ring",
        example="abalone",
    )
    shape: Literal["dot", "diamond", "leaf"] | None = key(
        one_of("dot", "diamond", "leaf"),
        'what is let in: a "dot", a "diamond" or a "leaf"',
        example="leaf",
        default=None,
    )
    file: ShapeFile | None = key(
        SHAPE_FILE,
        "or an outline of your own, drawn at its true size with its outer end up, in an SVG file"
        " beside the design",
        example="leaf.svg",
        default=None,
    )
    length: float | None = key(
        POSITIVE_LENGTH,
        "a dot's diameter, or a shape's length from end to end before its corners are rounded; a"
        " drawing is made as long as this, or left as it is",
        example=8,
        default=None,
    )
    breadth: float | None = key(
        POSITIVE_LENGTH,
        "how wide a diamond or leaf is; left out, half its length",
        example=4,
        default=None,
    )
    turn: float = key(
        degrees(least=-180.0, most=180.0),
        "degrees that each shape is turned clockwise; 0 points outward",
        example=90,
        default=0.0,
    )
    count: int | None = key(
        whole(least=3, most=MOST_SHAPES), "how many places go round", example=24, default=None
    )
    spacing: float | None = key(
        POSITIVE_LENGTH,
        "about how far it is from the middle of one shape to that of the next, instead of count:"
        " the tool chooses the count",
        example=14,
        default=None,
    )
    cutter: float = key(
        POSITIVE_LENGTH,
        "diameter of the bit that pockets and shapes are cut with: measure it; no inside corner is"
        " sharper",
        example=0.8,
    )
    centre_radius: float | None = key(
        POSITIVE_LENGTH,
        "from the soundhole's centre to the shapes' middles; left out, the middle of the ring",
        example=58,
        default=None,
    )
    shape_thickness: float | None = key(
        POSITIVE_LENGTH,
        "thickness of what the shapes are cut from, and so the pockets' depth; left out, that of"
        " the ring, and the pockets go through",
        example=1.2,
        default=None,
    )
    at_centreline: Literal["shape", "between"] = key(
        one_of("shape", "between"),
        'what stands at 12 o\'clock: a "shape", or the middle "between" two',
        example="shape",
        default="shape",
    )
    hidden_shapes: Literal["skip", "keep"] = key(
        one_of("skip", "keep"),
        '"skip" leaves out those that the fingerboard hides, wholly or in part; "keep" lets all in',
        example="keep",
        default="skip",
    )
    segments: int | None = key(
        whole(least=3, most=MOST_SHAPES),
        "how many pieces the ground is glued up from; left out, about 8, so that"
        " each has as many places",
        example=8,
        default=None,
    )
    glue_line: float = key(
        LENGTH,
        "room for glue round every shape, and in the ground's joints",
        example=0.05,
        default=0.0,
    )

    def look_over(self, at: At) -> None:
        """Tell a missing length, and a breadth that a shape does not have."""
        if self.shape is not None and self.length is None:
            at.below("length").tell(
                "missing-key",
                f"is missing: a {self.shape} needs its length, for example length = 8",
            )
        if self.breadth is not None and self.shape not in ("diamond", "leaf"):
            what = "a dot" if self.shape == "dot" else "a drawing"
            at.below("breadth").tell(
                "clash", f"{what} has its breadth from its length; leave it out"
            )
