"""Pictures of fixtures, held against plane geometry, the volume formula, and another reader."""

from __future__ import annotations

import io
import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from PIL import Image

import jigs
from jigs import render_faces
from jigs.base import Part, Place
from jigs.render import RISE, TURN, image, png_bytes
from jigs.render_faces import scene
from jigs.terrace import Block, Step
from rosette.geometry.outline import circle
from tests.jigs.plans import case_of
from tests.sheets.press import PRESS, alone, box, lid, plate

WIDE = 320


@cache
def _fixtures() -> tuple[jigs.base.Fixture, ...]:
    plan = case_of(0).plan
    return tuple(
        one for kind in jigs.KINDS for one in jigs.fixtures(plan, [kind])[:1]
    )  # fmt: skip


def _volume(part: Part) -> float:
    """What the faces of a part hold, by the divergence theorem."""
    total = 0.0
    for face in scene([part]).faces:
        area = sum(
            _area(ring, face.normal) * (1 if i == 0 else -1) for i, ring in enumerate(face.rings)
        )
        total += area * float(face.rings[0][0] @ face.normal)
    return total / 3.0


def _area(ring: np.ndarray, normal: np.ndarray) -> float:
    around = np.cross(ring, np.roll(ring, -1, axis=0)).sum(axis=0)
    return abs(float(around @ normal)) / 2.0


@pytest.mark.parametrize("over", [False, True])
@pytest.mark.parametrize("block", [plate(), lid()], ids=["plate", "lid"])
def test_the_faces_hold_the_blocks_volume(block: Block, over: bool) -> None:
    """Arcs are flattened, so that circles hold a little less."""
    part = Part(name="", title="", block=block, places=(Place(x=3, y=9, z=5, turn=33, over=over),))
    assert _volume(part) == pytest.approx(block.volume(), rel=2e-4)


def test_so_do_those_of_every_fixture(monkeypatch: pytest.MonkeyPatch) -> None:
    """With arcs flattened more finely than in a picture, since small holes count here too."""
    monkeypatch.setattr(render_faces, "FLAT_ERROR", 0.002)
    assert len(_fixtures()) > 3
    for fixture in _fixtures():
        for part in fixture.parts():
            assert _volume(part) == pytest.approx(
                part.block.volume() * len(part.places), rel=5e-4
            ), (fixture.name, part.name)  # fmt: skip


def test_a_box_covers_what_its_projection_covers() -> None:
    """Its three faces, each by the cosine of its slant to the eye."""
    wide, deep, high = 60.0, 40.0, 25.0
    made = image(alone(Block(outline=box(0, 0, wide, deep), top=high)), pixels=WIDE)
    across = wide * math.cos(TURN) + deep * abs(math.sin(TURN))
    per_mm = WIDE * 0.94 / across
    seen = (
        wide * deep * math.sin(RISE)
        + wide * high * math.cos(RISE) * math.cos(TURN)
        + deep * high * math.cos(RISE) * abs(math.sin(TURN))
    )
    covered = int((made.sum(axis=2) < 3 * 250).sum())
    outline = 2.0 * (across + 60.0) * per_mm  # the lines round it are drawn half outside
    assert covered == pytest.approx(seen * per_mm**2, abs=outline)


def test_what_lies_below_is_hidden_and_a_hole_lets_one_see_through() -> None:
    square = box(-20, -20, 20, 20)
    plain = Block(outline=square, top=10.0)
    pocket = replace(plain, under=(Step(outline=circle(8), top=6.0),))
    blind = replace(plain, steps=(Step(outline=circle(8), top=9.0),))
    through = replace(plain, top=1.0, steps=(Step(outline=circle(8), top=0.0),))
    pictures = [image(alone(one), pixels=WIDE) for one in (plain, pocket, blind, through)]
    middles = [_middle(picture) for picture in pictures]
    assert (pictures[0] == pictures[1]).all()
    assert middles[0] != middles[2]
    assert middles[3] == (255, 255, 255)
    assert (255, 255, 255) not in middles[:3]


def _middle(picture: np.ndarray) -> tuple[int, ...]:
    rows, columns = np.nonzero((picture < 250).any(axis=2))
    row, column = (rows.min() + rows.max()) // 2, (columns.min() + columns.max()) // 2
    return tuple(int(one) for one in picture[row, column])


def test_turned_over_it_shows_its_underside() -> None:
    under = Block(outline=box(-20, -20, 20, 20), top=1.0, under=(Step(outline=circle(8), top=0.5),))
    over = image(alone(under, place=Place(over=True)), pixels=WIDE)
    plain = image(alone(replace(under, under=())), pixels=WIDE)
    assert over.shape == plain.shape
    assert (over != plain).any()


def test_parts_have_their_own_colours_and_names() -> None:
    made = image(PRESS, pixels=WIDE)
    tints = {tuple(one) for one in made.reshape(-1, 3).tolist()}
    greenish = [one for one in tints if one[1] > one[0] + 40 and one[1] > one[2]]
    orange = [one for one in tints if one[0] > one[2] + 80]
    blue = [one for one in tints if one[2] > one[0] + 60]
    assert greenish
    assert orange
    assert blue
    words = made[:, int(0.9 * WIDE) :].min(axis=2) < 60
    assert words.any(axis=1).sum() > 10  # three names


def test_taken_apart_it_is_taller() -> None:
    whole, apart = (image(PRESS, pixels=WIDE, explode=one) for one in (False, True))
    assert apart.shape[0] > whole.shape[0] * 1.2


def test_a_picture_is_a_png_and_the_same_every_time() -> None:
    first, again = (png_bytes(PRESS, pixels=WIDE, words={"Drawn from": "a press"}) for _ in "ab")
    assert first == again
    read = Image.open(io.BytesIO(first))
    read.load()
    assert read.size[0] == WIDE
    assert read.mode == "RGB"
    assert read.text == {"Drawn from": "a press"}
    assert (np.asarray(read) == image(PRESS, pixels=WIDE)).all()
