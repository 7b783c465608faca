"""Files of a fixture of several parts, read back by other readers than the writers."""

from __future__ import annotations

import hashlib
import io
import re
import subprocess
import sys
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from jigs.base import Part, Place
from jigs.colours import COLOURS
from jigs.export import files, names
from jigs.pieces import pieces_for
from jigs.placing import placed
from jigs.printing import beds_for
from jigs.prints import Print
from jigs.step_order import colours_in_order
from jigs.terrace import Block
from rosette.geometry.outline import circle
from tests.jigs.mates import distance, shared
from tests.jigs.several import STAND, Stand, box

ROOT = Path(__file__).resolve().parents[2]


@cache
def _files() -> dict[str, bytes]:
    return files(STAND)


def test_one_step_one_3mf_and_an_stl_for_every_part() -> None:
    expected = ("stand.step", "stand-plate.stl", "stand-post.stl", "stand-lid.stl", "stand.3mf")
    assert names(STAND) == expected
    assert tuple(_files()) == expected


def test_names_are_known_without_the_kernel() -> None:
    run = """
import sys
from jigs.export import names
from tests.jigs.several import STAND
print(len(names(STAND)), "cadquery" in sys.modules, "OCP" in sys.modules, "numpy" in sys.modules)
"""
    answer = subprocess.run(
        [sys.executable, "-c", run], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert answer.stdout.split() == ["5", "False", "False", "False"]


@pytest.mark.parametrize(
    "name", ["", "con", "a/b", "Ring", "ring 1", "ring.1", "-a", "ü", "a" * 61]
)
def test_names_that_some_system_refuses_are_refused(name: str) -> None:
    with pytest.raises(ValueError, match="name"):
        names(replace(STAND, name=name))


def test_two_parts_of_one_name_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    post = Part(name="post", title="Post", block=Block(outline=circle(4.0), top=20.0))
    monkeypatch.setattr(Stand, "parts", lambda _: (post, post))
    with pytest.raises(ValueError, match="same name"):
        names(STAND)


def test_step_holds_named_coloured_products_where_they_stand(tmp_path: Path) -> None:
    from cadquery import Assembly

    path = tmp_path / "stand.step"
    path.write_bytes(_files()["stand.step"])
    # cadquery's reader keeps names, places and colours
    back = Assembly.importStep(str(path))
    assert back.name == "Stand & lid"
    assert [one.name for one in back.children] == [
        "Stand: plate",
        *(f"Stand: post {i}" for i in (1, 2, 3, 4)),
        "Stand: lid",
    ]
    for child, (part, ours) in zip(back.children, placed(STAND), strict=True):
        (theirs,) = child.toCompound().Solids()
        assert theirs.isValid()
        assert theirs.Volume() == pytest.approx(part.block.volume(), rel=1e-9)
        assert theirs.Center().toTuple() == pytest.approx(ours.Center().toTuple(), abs=1e-6)
        assert shared(theirs, ours) == pytest.approx(part.block.volume(), rel=1e-6)


def test_step_names_and_paints_every_product_once() -> None:
    text = _files()["stand.step"].decode("ascii")
    assert "SI_UNIT(.MILLI.,.METRE.)" in text
    for title in ("Stand & lid", "Stand: plate", "Stand: post", "Stand: lid"):
        assert text.count(f"PRODUCT('{title}',") == 1
    assert text.count("MANIFOLD_SOLID_BREP") == 3
    shades = [line for line in text.split(";\n") if "COLOUR_RGB" in line]
    found = {
        tuple(round(float(x), 4) for x in one.split("(")[1][:-1].split(",")[1:]) for one in shades
    }
    assert found == set(COLOURS[:3])


def test_parts_stand_where_their_places_say() -> None:
    bodies = placed(STAND)
    assert [part.name for part, _ in bodies] == ["plate", *["post"] * 4, "lid"]
    plate, *posts, lid = [solid for _, solid in bodies]
    for post in posts:
        assert distance(post, plate) == pytest.approx(0.2, abs=1e-6)
        assert distance(post, lid) == pytest.approx(0.0, abs=1e-6)
        assert shared(post, lid) < 1e-6
    # the lid's rim at x 5, y 15 of its own: turned over to y -15, then round to x -5, y 15
    assert lid.BoundingBox().zmin == pytest.approx(18.0)
    low = [v for v in lid.Vertices() if v.Z < 18.001]
    assert sum(v.X for v in low) / 4 == pytest.approx(-5.0)
    assert sum(v.Y for v in low) / 4 == pytest.approx(15.0)


def test_a_place_of_points_is_that_of_solids() -> None:
    from jigs.placing import at

    place = Place(x=3, y=4, z=5, turn=30, over=True)
    (_, solid) = placed(STAND)[0]
    for before, after in zip(solid.Vertices(), at(place, solid).Vertices(), strict=True):
        assert place.point(*before.toTuple()) == pytest.approx(after.toTuple(), abs=1e-9)


def _stl(part: str) -> Any:
    import trimesh

    return trimesh.load_mesh(io.BytesIO(_files()[f"stand-{part}.stl"]), file_type="stl")


def test_stl_lies_as_it_is_printed() -> None:
    for part in STAND.parts():
        mesh = _stl(part.name)
        assert mesh.is_watertight
        assert mesh.volume == pytest.approx(part.block.volume(), rel=1e-3)
        low, high = mesh.bounds
        assert low[2] == pytest.approx(0.0, abs=1e-6)
        assert high[2] == pytest.approx(part.block.highest - part.block.lowest, abs=1e-6)
    lid = _stl("lid")
    # printed upside down, its rim is on the bed, at y -15
    assert lid.section([0, 0, 1], [0, 0, 1]).bounds[:, 1] == pytest.approx([-20.0, -10.0])


def _objects(data: bytes) -> list[tuple[str, Any]]:
    """The names and bounds of what a strict reader finds on the bed."""
    import lib3mf
    import trimesh

    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromBuffer(data)
    assert reader.GetWarningCount() == 0
    assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    found, items = [], model.GetBuildItems()
    while items.MoveNext():
        item = items.GetCurrent()
        thing = item.GetObjectResource()
        assert thing.IsManifoldAndOriented()
        turn = [list(row) for row in item.GetObjectTransform().Fields]
        assert turn[:3] == [[1, 0, 0], [0, 1, 0], [0, 0, 1]]
        corners = [[a + b for a, b in zip(one.Coordinates, turn[3], strict=True)]
                   for one in thing.GetVertices()]  # fmt: skip
        found.append((thing.GetName(), trimesh.PointCloud(corners).bounds))
    return found


def test_3mf_holds_every_part_as_often_as_it_is_needed_side_by_side() -> None:
    found = _objects(_files()["stand.3mf"])
    assert [name for name, _ in found] == ["Stand: plate", *["Stand: post"] * 4, "Stand: lid"]
    assert all(low[2] == pytest.approx(0.0, abs=1e-6) for _, (low, _) in found)
    for i, (_, (low, high)) in enumerate(found):
        for _, (other_low, other_high) in found[:i]:
            gaps = [*(low - other_high)[:2], *(other_low - high)[:2]]
            assert max(gaps) > 7.9


def _slab(name: str, width: float, depth: float, **more: Any) -> Part:
    return Part(name=name, title=name, block=Block(outline=box(width, depth), top=3.0), **more)


@pytest.mark.parametrize("bed", [(180.0, 180.0), (250.0, 210.0)])
def test_beds_hold_all_parts_apart_and_within(bed: tuple[float, float]) -> None:
    parts = [_slab("a", 100, 40), _slab("b", 100, 60), _slab("c", 30, 20, places=(Place(),) * 12)]
    parts += [_slab("d", 170, 170), Part(name="e", title="e", block=_off(), print_over=True)]
    beds = beds_for([_whole(part).lying for part in parts], bed)
    assert len(beds) == 2 + (bed[0] < 200)
    laid = [one.body for each in beds for one in each]
    assert sorted(laid) == [0, 1, *[2] * 12, 3, 4]
    for each in beds:
        boxes = [_lies(parts[one.body], one.spot) for one in each]
        for i, (left, low, right, high) in enumerate(boxes):
            assert min(left, low) > 4.99
            assert right < bed[0] - 4.99
            assert high < bed[1] - 4.99
            for other in boxes[:i]:
                gaps = (left - other[2], other[0] - right, low - other[3], other[1] - high)
                assert max(gaps) > 7.99


def _whole(part: Part) -> Print:
    (piece,) = pieces_for(part.block, None)
    return Print(part=part, piece=piece)


def _off() -> Block:
    return Block(outline=box(20, 30, 40, 50), top=3.0)


def _lies(part: Part, spot: tuple[float, float]) -> tuple[float, float, float, float]:
    left, low, right, high = part.block.outline.bounds()
    if part.print_over:
        low, high = -high, -low
    return left + spot[0], low + spot[1], right + spot[0], high + spot[1]


def test_what_one_bed_does_not_hold_is_in_several_3mf() -> None:
    small = (100.0, 80.0)
    made = files(STAND, small)
    prints = [name for name in made if name.endswith(".3mf")]
    assert tuple(made) == names(STAND, small)
    assert prints == ["stand-print-1.3mf", "stand-print-2.3mf", "stand-print-3.3mf"]
    seen = [_objects(made[name]) for name in prints]
    assert [[title for title, _ in one] for one in seen] == [
        ["Stand: plate"],
        ["Stand: lid"],
        ["Stand: post"] * 4,
    ]
    others = [name for name in names(STAND) if not name.endswith(".3mf")]
    assert [made[name] == _files()[name] for name in others] == [True] * 4


def test_same_bytes_again_in_this_run_and_in_another() -> None:
    ours = {name: hashlib.sha256(data).hexdigest() for name, data in _files().items()}
    assert {n: hashlib.sha256(d).hexdigest() for n, d in files(STAND).items()} == ours
    run = """
import hashlib
from jigs.export import files
from tests.jigs.several import STAND
for name, data in files(STAND).items():
    print(name, hashlib.sha256(data).hexdigest())
"""
    answer = subprocess.run(
        [sys.executable, "-c", run], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert dict(line.split() for line in answer.stdout.splitlines()) == ours


def test_colours_met_in_another_order_are_put_back() -> None:
    """Two groups of colours change places and numbers: the same bytes come out again."""
    ours = _files()["stand.step"]
    head = ours.index(b"#", ours.rindex(b";\n", 0, ours.index(b"MECHANICAL_DESIGN_GEOM")))
    tail = ours.index(b"ENDSEC;\nEND-ISO")
    groups = re.split(rb"(?=#\d+ = MECHANICAL_DESIGN_GEOM)", ours[head:tail])[1:]
    assert len(groups) == 3
    first = int(re.match(rb"#(\d+)", groups[0])[1])  # type: ignore[index]
    size = groups[0].count(b";\n")

    def moved(group: bytes, by: int) -> bytes:
        return re.sub(
            rb"#(\d+)",
            lambda n: b"#%d" % (int(n[1]) + (by if int(n[1]) >= first else 0)),
            group,
        )

    turned = moved(groups[2], -2 * size) + groups[1] + moved(groups[0], 2 * size)
    other = ours[:head] + turned + ours[tail:]
    assert other != ours
    assert colours_in_order(other) == ours
