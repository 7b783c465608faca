"""Adding to the box and taking from it: what comes out, what stays, what is refused."""

from __future__ import annotations

import json
import os
import threading
from pathlib import Path

import pytest
import shapely
from shapely.geometry import LineString, Polygon

from rosette.errors import InputError
from rosette.offcuts import keep as keeping
from rosette.offcuts import read_box
from rosette.offcuts.box_file import change
from rosette.offcuts.cuts_file import read_cuts
from rosette.offcuts.keep import add, take
from rosette.offcuts.leftover import parts_left
from rosette.offcuts.model import Offcut
from tests.offcuts_box.jobs import KERF, TEXT, cuts, put_box, states

ONE = {"id": '"R"', "wood": '"maple"', "thickness": "2.2", "rectangle": "[100, 40]"}


def test_adding_leaves_every_letter_as_it_was(tmp_path: Path) -> None:
    path = put_box(tmp_path)
    added = add(path, ONE)
    assert path.read_text().startswith(TEXT.rstrip("\n"))
    assert added.offcut == read_box(path).offcuts[-1]
    assert [one.id for one in read_box(path).offcuts] == ["S2", "T", "R"]
    assert states(path) == [TEXT]


def test_a_box_is_begun_where_there_is_none(tmp_path: Path) -> None:
    path = tmp_path / "new.toml"
    add(path, ONE, units="in")
    add(path, {**ONE, "id": '"Q"'}, units="mm")
    box = read_box(path)
    assert (box.units, len(box.offcuts)) == ("in", 2)
    assert box.offcuts[0].outline[2] == (2540, 1016)
    assert len(states(path)) == 1


@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_ends_of_lines_stay_as_they_are(tmp_path: Path, mark: str) -> None:
    path = put_box(tmp_path, mark + TEXT.replace("\n", "\r\n"))
    add(path, ONE)
    data = path.read_bytes()
    assert data.count(b"\n") == data.count(b"\r\n")
    take(path, read_cuts(cuts(path, {"S2": 1})))
    data = path.read_bytes()
    assert data.count(b"\n") == data.count(b"\r\n")


@pytest.mark.parametrize(
    "values",
    [{"id": '"T"'}, {"thickness": "0"}, {"colour": "1"}, {"file": '"x"'}],
)
def test_what_is_not_sound_is_not_added(tmp_path: Path, values: dict[str, str]) -> None:
    path, values = put_box(tmp_path), {**ONE, **values}
    with pytest.raises(InputError, match=r"offcut\[3\]"):
        add(path, values)
    assert path.read_text() == TEXT
    assert os.listdir(tmp_path) == ["offcuts.toml"]


def test_a_box_that_is_not_sound_is_not_changed(tmp_path: Path) -> None:
    path = put_box(tmp_path, TEXT.replace("2.4", "-2"))
    with pytest.raises(InputError, match="negative"):
        add(path, ONE)
    assert os.listdir(tmp_path) == ["offcuts.toml"]


def test_taking_counts_down_and_gives_back(tmp_path: Path) -> None:
    path = put_box(tmp_path)
    job = read_cuts(cuts(path, {"S2": 1, "T": 2}))
    took = take(path, job)
    box = read_box(path)
    ids = [one.id for one in box.offcuts]
    assert took.used == (("S2", 1), ("T", 2))
    assert "S2" not in ids
    left = box.find("T")
    assert left is not None
    assert left.count == 1
    assert [one.id for one in took.back] == [one for one in ids if one != "T"]
    assert box.taken[0].job == "Otter no. 1"
    assert box.taken[0].used == ("S2", "T", "T")
    text = path.read_text()
    assert "count = 1   # three alike" in text
    assert text.startswith("# The box by the window.\nschema")
    assert states(path) == [TEXT]


def test_what_comes_back_is_what_the_saw_leaves(tmp_path: Path) -> None:
    path = put_box(tmp_path)
    before = {one.id: one for one in read_box(path).offcuts}
    job = read_cuts(cuts(path, {"S2": 1, "T": 1}))
    took = take(path, job, keep=8.0)
    assert took.back
    for piece in job.pieces:
        wood = before[piece.offcut]
        gone = [Polygon(wedge) for wedge in piece.wedges]
        gone += [LineString(line).buffer(KERF / 2 - 1e-6, cap_style="flat") for line in piece.cuts]
        whole, cut_up = Polygon(wood.outline), shapely.union_all(gone)
        mine = [one for one in took.back if one.id[0] == piece.offcut[0]]
        parts = [Polygon(one.outline, one.holes) for one in mine]
        for part in parts:
            assert part.difference(whole).area < 0.02 * part.length
            assert part.intersection(cut_up).area < 0.02 * part.length
        # nothing as large as 8 mm square is swept away
        rest = whole.difference(cut_up).difference(shapely.union_all(parts).buffer(0.3))
        assert all(_widest(one) < 8.0 for one in shapely.get_parts(rest))
        bad = [Polygon(ring) for ring in wood.defects]
        for one in mine:
            wanted = sum(defect.intersection(Polygon(one.outline)).area > 0.1 for defect in bad)
            assert len(one.defects) == wanted
            assert (one.wood, one.thickness) == (wood.wood, wood.thickness)
            assert one.grain == wood.grain


def _widest(shape: shapely.Geometry) -> float:
    """The side of the largest upright square in a shape, from above."""
    line = shapely.maximum_inscribed_circle(shape, tolerance=0.05)
    return float(2 * line.length) if shape.area > 1 else 0.0


def test_a_strip_cut_off_a_rectangle_leaves_the_rest() -> None:
    # 100 × 40 across the grain, cut at 30: kerf 2 leaves 40 × 29 and 40 × 69
    wood = Offcut(id="a", outline=((0, 0), (100, 0), (100, 40), (0, 40)), grain=0.0)
    parts = parts_left(wood, [], [((30, 0), (30, 40))], kerf=2.0, free=False)
    assert [Polygon(one.outline).bounds for one in parts] == [(31, 0, 100, 40), (0, 0, 29, 40)]
    one = parts_left(wood, [], [((30, 0), (30, 40))], kerf=2.0, free=False, keep=30.0)
    assert [Polygon(part.outline).bounds for part in one] == [(31, 0, 100, 40)]
    wedge = ((50, 10), (50, 20), (70, 22), (70, 8))
    (around,) = parts_left(wood, [wedge], [], kerf=0.5, free=True)
    lost = Polygon(wedge).buffer(0.5, join_style="mitre").area
    assert Polygon(around.outline, around.holes).area == pytest.approx(4000 - lost, abs=0.5)
    assert len(around.holes) == 1


@pytest.mark.parametrize(("grain", "holds"), [(0.0, True), (45.0, False)])
def test_worth_keeping_is_a_square_along_the_grain(grain: float, holds: bool) -> None:
    # a square of 16 holds one of 15 along its sides, and turned by 45° only 16/√2 = 11.3
    wood = Offcut(id="a", outline=((0, 0), (16, 0), (16, 16), (0, 16)), grain=grain)
    assert bool(parts_left(wood, [], [], kerf=1.0, free=False)) == holds
    bad = Offcut(id="a", outline=wood.outline, defects=(((7, 7), (9, 7), (9, 9)),))
    assert not parts_left(bad, [], [], kerf=1.0, free=False)


def test_the_same_cuts_are_taken_once(tmp_path: Path) -> None:
    path = put_box(tmp_path)
    made = cuts(path, {"T": 1})
    take(path, read_cuts(made))
    text = path.read_text()
    made.write_text(json.dumps(json.loads(made.read_text()), indent=4))
    with pytest.raises(InputError, match="have been taken out of it already"):
        take(path, read_cuts(made))
    assert path.read_text() == text


def test_a_name_is_not_given_twice(tmp_path: Path) -> None:
    path = put_box(tmp_path)
    back = []
    for job in ("one", "two", "three"):
        back += [one.id for one in take(path, read_cuts(cuts(path, {"T": 1}, name=job))).back]
    assert len(set(back)) == len(back)
    assert read_box(path).find("T") is None


def test_what_else_is_in_the_box_may_change(tmp_path: Path) -> None:
    path = put_box(tmp_path)
    job = read_cuts(cuts(path, {"S2": 1}))
    add(path, ONE)
    path.write_text(path.read_text().replace("ends = [40, 30]", "ends = [41, 30]"))
    assert take(path, job).used == (("S2", 1),)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("[310, 0]", "[309, 0]", "S2: is not as it was"),
        ("[200, 20]", "[201, 20]", "S2: is not as it was"),
        ('id = "S2"', 'id = "S9"', "S2: is not in the box"),
        ("count = 3", "count = 1", "T: is there 1 times, and 2 of them are used"),
    ],
)
def test_wood_that_has_changed_is_refused(tmp_path: Path, old: str, new: str, told: str) -> None:
    path = put_box(tmp_path)
    job = read_cuts(cuts(path, {"S2": 1, "T": 2}))
    path.write_text(TEXT.replace(old, new))
    with pytest.raises(InputError, match=told):
        take(path, job)
    assert path.read_text() == TEXT.replace(old, new)
    assert not states(path)


def test_without_fingerprints_the_whole_file_has_to_be_the_same(tmp_path: Path) -> None:
    path = put_box(tmp_path)
    job = read_cuts(cuts(path, {"S2": 1}, fresh=False))
    path.write_text(TEXT + "# a remark\n")
    with pytest.raises(InputError, match="S2: may have changed"):
        take(path, job)
    path.write_text(TEXT)
    take(path, job)


def test_a_tracing_that_has_changed_is_noticed(tmp_path: Path) -> None:
    svg = '<svg viewBox="0 0 300 60"><path d="M0 0H{}V60H0z"/></svg>'
    (tmp_path / "a.svg").write_text(svg.format(300))
    path = put_box(
        tmp_path, 'schema = 1\n[[offcut]]\nid="a"\nwood="w"\nthickness=2\nfile="a.svg"\n'
    )
    job = read_cuts(cuts(path, {"a": 1}))
    (tmp_path / "a.svg").write_text(svg.format(290))
    with pytest.raises(InputError, match="is not as it was"):
        take(path, job)


def test_a_file_that_can_only_be_read_is_refused(tmp_path: Path) -> None:
    listed = (
        'schema = 1\noffcut = [{ id = "a", wood = "w", thickness = 2, rectangle = [90, 60] }]\n'
    )
    path = put_box(tmp_path, listed)
    with pytest.raises(InputError, match="under a line"):
        take(path, read_cuts(cuts(path, {"a": 1})))
    with pytest.raises(InputError):
        add(path, ONE)
    assert path.read_text() == listed


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("{", "can't be read as JSON"),
        ("[" * 100_000, "can't be read as JSON"),
        ("[]", "holds no cuts"),
        ('{"schema": "rosette.plan/1"}', "holds no cuts"),
        ('{"schema": "rosette.cut/1"}', "missing or damaged"),
        ('{"schema": "rosette.cut/1", "placements": [], "cuts": []}', "which box"),
        ('{"schema": "rosette.cut/1", "placements": [{"offcut": "a", "vertices": [[1e999, 0]]}],'
         ' "cuts": []}', "missing or damaged"),
    ],
)  # fmt: skip
def test_cuts_that_are_none(tmp_path: Path, text: str, told: str) -> None:
    (tmp_path / "cuts.json").write_text(text)
    with pytest.raises(InputError, match=told):
        read_cuts(tmp_path)


def test_a_link_to_the_box_is_followed(tmp_path: Path) -> None:
    (tmp_path / "shelf").mkdir()
    path = put_box(tmp_path / "shelf")
    link = tmp_path / "box.toml"
    link.symlink_to(path)
    add(link, ONE)
    assert link.is_symlink()
    assert len(read_box(path).offcuts) == 3


def test_the_files_mode_is_kept(tmp_path: Path) -> None:
    path = put_box(tmp_path)
    path.chmod(0o640)
    add(path, ONE)
    assert path.stat().st_mode & 0o777 == 0o640


def test_two_at_once_take_turns(tmp_path: Path) -> None:
    path = put_box(tmp_path)
    runs = [threading.Thread(target=add, args=(path, {**ONE, "id": f'"R{i}"'})) for i in range(8)]
    for run in runs:
        run.start()
    for run in runs:
        run.join()
    assert {one.id for one in read_box(path).offcuts} == {"S2", "T", *(f"R{i}" for i in range(8))}
    assert len(states(path)) == 8


def test_a_run_that_does_not_end_is_told_of(tmp_path: Path) -> None:
    path = put_box(tmp_path)

    def meanwhile(old: bytes | None) -> bytes:
        with pytest.raises(InputError, match="another run is changing it"):
            change(path, lambda _: b"other", patience=0.1)
        assert old is not None
        return old + b"# mine\n"

    change(path, meanwhile)
    assert path.read_text() == TEXT + "# mine\n"


def test_a_change_by_hand_meanwhile_stays(tmp_path: Path) -> None:
    path = put_box(tmp_path)

    def meanwhile(old: bytes | None) -> bytes:
        path.write_text("by hand")
        return b"by command"

    with pytest.raises(InputError, match="changed by hand just now"):
        change(path, meanwhile)
    assert path.read_text() == "by hand"


def test_a_change_by_hand_in_the_last_instant_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from rosette.offcuts import box_file

    path = put_box(tmp_path)
    real, done = box_file.exchange, []

    def late(new: Path, old: Path, aside: Path) -> None:
        if not done:
            done.append(1)
            (tmp_path / "editor").write_text("saved by an editor")
            (tmp_path / "editor").rename(path)
        real(new, old, aside)

    monkeypatch.setattr(box_file, "exchange", late)
    with pytest.raises(InputError, match="changed by hand just now"):
        add(path, ONE)
    assert path.read_text() == "saved by an editor"
    assert states(path) == [TEXT]


def test_what_comes_to_stand_in_a_new_boxs_place_stays(tmp_path: Path) -> None:
    path = tmp_path / "new.toml"

    def meanwhile(old: bytes | None) -> bytes:
        path.write_text("by hand")
        return b"by command"

    with pytest.raises(InputError, match="changed by hand just now"):
        change(path, meanwhile)
    assert path.read_text() == "by hand"


def test_a_mistake_in_changing_the_text_would_be_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = put_box(tmp_path)
    real = keeping.joined

    def clumsy(*words: object, **more: object) -> str:
        return str(real(*words, **more)).replace("[310, 0]", "[311, 0]")  # type: ignore[arg-type]

    monkeypatch.setattr(keeping, "joined", clumsy)
    with pytest.raises(InputError, match="without harm"):
        add(path, ONE)
    assert path.read_text() == TEXT


def test_what_the_disk_refuses_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="can't be changed"):
        add(tmp_path / "nowhere" / "box.toml", ONE)
    (tmp_path / "box.toml.before").write_text("in the way")
    with pytest.raises(InputError, match="can't be changed"):
        add(tmp_path / "box.toml", ONE)
