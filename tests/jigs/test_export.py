"""STEP, STL and 3MF, read back by other libraries than the one that wrote them."""

from __future__ import annotations

import io
import zipfile
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from jigs.base import FixtureError
from jigs.export import files
from jigs.mesh import Mesh, joined, mesh_of
from tests.jigs.trays import CASES, solid, tray

WRITTEN: dict[str, dict[str, Any]] = {
    "hexagon with words": {"segments": 6, "text": "true"},
    "180": CASES["180"],
    "tiny": CASES["tiny"],
}
written = pytest.mark.parametrize("name", WRITTEN)


@cache
def _files(name: str) -> dict[str, bytes]:
    return files(tray(**WRITTEN[name]))


@written
def test_step_is_read_back_as_the_same_solid_in_millimetres(name: str, tmp_path: Path) -> None:
    from cadquery import importers

    made, data = tray(**WRITTEN[name]), _files(name)["ring-1-tray.step"]
    path = tmp_path / "tray.step"
    path.write_bytes(data)
    back = importers.importStep(str(path)).vals()
    assert [one.ShapeType() for one in back] == ["Solid"]
    assert back[0].isValid()
    assert back[0].Volume() == pytest.approx(made.volume(), rel=1e-9)
    ours, theirs = solid(made).BoundingBox(), back[0].BoundingBox()
    for side in ("xmin", "xmax", "ymin", "ymax", "zmin", "zmax"):
        assert getattr(theirs, side) == pytest.approx(getattr(ours, side), abs=1e-4)
    text = data.decode("ascii")
    assert "SI_UNIT(.MILLI.,.METRE.)" in text
    assert "PRODUCT('Glue-up tray, ring 1'," in text
    assert "AUTOMOTIVE_DESIGN { 1 0 10303 214" in text
    assert "COLOUR_RGB" in text


def _stl(name: str) -> Any:
    import trimesh

    return trimesh.load_mesh(io.BytesIO(_files(name)["ring-1-tray.stl"]), file_type="stl")


def _strict(data: bytes) -> Any:
    """The model in a 3MF, as lib3mf's strict reader takes it, without a warning."""
    import lib3mf

    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromBuffer(data)
    assert reader.GetWarningCount() == 0
    return model


def _3mf(name: str) -> Any:
    import trimesh

    objects = _strict(_files(name)["ring-1-tray.3mf"]).GetMeshObjects()
    assert objects.MoveNext()
    mesh = objects.GetCurrentMeshObject()
    return trimesh.Trimesh(
        [list(one.Coordinates) for one in mesh.GetVertices()],
        [list(one.Indices) for one in mesh.GetTriangleIndices()],
        process=False,
    )


@written
@pytest.mark.parametrize("read", [_stl, _3mf], ids=["stl", "3mf"])
def test_meshes_are_watertight_and_hold_the_solid(name: str, read: Any) -> None:
    import trimesh

    mesh, made = read(name), tray(**WRITTEN[name])
    pairs = trimesh.grouping.group_rows(mesh.edges_sorted, require_count=2)
    assert len(pairs) * 2 == len(mesh.edges)
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(made.volume(), rel=1e-3)
    box = solid(made).BoundingBox()
    low, high = mesh.bounds
    assert [*low, *high] == pytest.approx(
        [box.xmin, box.ymin, box.zmin, box.xmax, box.ymax, box.zmax], abs=0.02
    )


@written
def test_3mf_passes_a_strict_reader(name: str) -> None:
    import lib3mf

    model = _strict(_files(name)["ring-1-tray.3mf"])
    assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    objects = model.GetMeshObjects()
    assert objects.MoveNext()
    mesh = objects.GetCurrentMeshObject()
    assert mesh.GetName() == "Glue-up tray, ring 1"
    assert mesh.IsManifoldAndOriented()
    assert not objects.MoveNext()
    assert model.GetBuildItems().MoveNext()


def test_a_strict_reader_does_refuse() -> None:
    import lib3mf

    packed = io.BytesIO()
    source = zipfile.ZipFile(io.BytesIO(_files("tiny")["ring-1-tray.3mf"]))
    with zipfile.ZipFile(packed, "w") as target:
        for entry in source.infolist():
            data = source.read(entry).replace(b'objectid="1"', b'objectid="7"')
            target.writestr(entry, data)
    with pytest.raises(lib3mf.ELib3MFException):
        _strict(packed.getvalue())


def test_a_tray_has_a_file_of_every_kind() -> None:
    """That another run makes the same bytes is held for a whole job, and for several parts."""
    names = ["ring-1-tray.step", "ring-1-tray.stl", "ring-1-tray.3mf"]
    assert list(_files("hexagon with words")) == names


@written
def test_files_are_no_larger_than_a_mail_takes(name: str) -> None:
    assert max(len(data) for data in _files(name).values()) < 3_000_000


def test_a_gap_between_triangles_is_seen() -> None:
    corners = [(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)]
    sides = [(0, 2, 1), (0, 1, 3), (1, 2, 3), (0, 3, 2)]
    whole = joined(corners, sides)
    assert whole.open_edges() == 0
    assert whole.volume() == pytest.approx(1 / 6)
    assert Mesh(whole.corners, whole.triangles[1:]).open_edges() == 3
    turned = (whole.triangles[0][::-1], *whole.triangles[1:])
    assert Mesh(whole.corners, turned).open_edges() > 0  # type: ignore[arg-type]


def test_a_mesh_that_leaks_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    made = tray(segments=6)
    whole = solid(made)
    sides = whole.Faces()
    monkeypatch.setattr(type(whole), "Faces", lambda _: sides[1:])
    with pytest.raises(FixtureError, match=r"ring-1-tray, plate: .*open edges, the first at \("):
        mesh_of(whole, made.name, made.parts()[0])
