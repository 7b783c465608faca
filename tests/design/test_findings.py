"""Every way in which a design file can be wrong: the place, what was found, what would do.

What is expected here is written down from what a maker would need to read, not from output.
"""

from __future__ import annotations

from typing import Any

import pytest

from rosette.design import read_design_text
from rosette.errors import InputError
from tests.properties.designs import design_text, line, radial

PLAIN = design_text([line(inner_radius=50.0), radial(inner_radius=None)])


def findings(text: str) -> dict[str, str]:
    """Each finding's place and sentence."""
    with pytest.raises(InputError) as caught:
        read_design_text(text.encode(), "guitar.toml")
    assert caught.value.exit_code == 2
    assert all(one.startswith("guitar.toml: ") for one in caught.value.lines())
    return {one.where: one.saying.text() for one in caught.value.findings}


def only(text: str, where: str) -> str:
    """The one finding of a file, which must stand at this place."""
    found = findings(text)
    assert list(found) == [where], found
    return found[where]


def with_ring(position: int = 1, /, **keys: Any) -> str:
    rings = [line(inner_radius=50.0), radial(inner_radius=None)]
    rings[position - 1] |= keys
    return design_text(rings)


def replaced(line: str, other: str) -> str:
    assert f"\n{line}\n" in f"\n{PLAIN}"
    return f"\n{PLAIN}".replace(f"\n{line}\n", f"\n{other}\n", 1)


def test_the_plain_design_reads() -> None:
    design = read_design_text(PLAIN.encode(), "some/folder/guitar.toml")
    assert design.source == "guitar.toml"
    assert [ring.index for ring in design.rings] == [1, 2]


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ("nan", "nan is not a finite number"),
        ("inf", "inf is not a finite number"),
        ("-inf", "-inf is not a finite number"),
        ("1e308", "1e+308 is longer than 10 m"),
        ("1e400", "inf is not a finite number"),
        ("0x" + "f" * 300, "a number of more than 19 digits is longer than 10 m"),
        ("-3", "-3 is negative"),
        ("0", "0 is too small"),
        ("-0.0", "-0.0 is too small"),
        ("true", "true is not a length"),
        ("[3]", "a list is not a length"),
        ("[]", "an empty list is not a length"),
        ("{ mm = 3 }", "a table is not a length"),
        ("2024-05-01", "2024-05-01 is not a length"),
        ("2024-05-01T10:00:00Z", "2024-05-01T10:00:00+00:00 is not a length"),
        ("10:00:00", "10:00:00 is not a length"),
        ('"3 3/4"', '"3 3/4" lacks its unit, mm or in'),
        ('"62"', '"62" lacks its unit, mm or in'),
        ('"2,5 mm"', "write decimals with a point, 2.5 and not 2,5"),
        ('"1.5-3/4 in"', "mixes a decimal with a fraction"),
        ('"3 3/0 in"', "has a fraction with 0 below the line"),
        ('"3 5/4 in"', "has a fraction of one or more behind a whole number"),
        ('"٣ mm"', "write it with the digits 0 to 9"),
        ('"three mm"', '"three mm" can\'t be read as a length'),
        ('"-3 mm"', '"-3 mm" is negative'),
        ('"-3 mm"'.replace("-", "−"), "is negative"),
        ('"11 m"', "can't be read as a length"),
        ('"999999999999999999999 mm"', "is longer than 10 m"),
        ('""', '"" can\'t be read as a length'),
        ('"' + "9" * 500 + ' mm"', "can't be read as a length"),
        ('"\\u001b[31m3 mm"', '"\\u001b[31m3 mm" can\'t be read as a length'),
    ],
)
def test_a_length_that_is_none(written: str, found: str) -> None:
    sentence = only(
        replaced("top_thickness = 3.5", f"top_thickness = {written}"), "instrument.top_thickness"
    )
    assert found in sentence
    assert "expected a length" in sentence


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ("36.0", "36.0 has a decimal point, 36 has none; write for example segments = 36"),
        ("36.5", "36.5 is not a whole number"),
        ('"36"', '"36" stands in quotes, a count does not'),
        ('"٣٦"', "is not a whole number"),
        ("true", "true is not a whole number"),
        ("nan", "nan is not a whole number"),
        ("1e308", "1e+308 is not a whole number"),
        ("2", "2 is not between 3 and"),
        ("-36", "-36 is not between 3 and"),
        ("100000", "100000 is not between 3 and"),
        ("0x" + "f" * 5000, "a number of more than 19 digits is not between 3 and"),
        ("2024-05-01", "2024-05-01 is not a whole number"),
    ],
)
def test_a_count_that_is_none(written: str, found: str) -> None:
    text = with_ring(2).replace("segments = 36", f"segments = {written}")
    assert found in only(text, "ring[2].segments")


@pytest.mark.parametrize(
    ("written", "where", "found"),
    [
        ("3", "ring[2].wood", "3 is neither words in quotes nor a list of them"),
        ("[]", "ring[2].wood", "the list is empty"),
        ('["walnut", 3]', "ring[2].wood[2]", "3 is not words in quotes"),
        ('["walnut", ""]', "ring[2].wood[2]", "it is blank"),
        ('"  "', "ring[2].wood[1]", "it is blank"),
        ('"wal\\nnut"', "ring[2].wood[1]", '"wal\\nnut" holds a character that can\'t be printed'),
        ('"w\\u202enut"', "ring[2].wood[1]", "\\u202e"),
        ('"' + "w" * 81 + '"', "ring[2].wood[1]", "is 81 characters long; at most 80 do"),
        ("[" + '"w",' * 800 + "]", "ring[2].wood", "the list has 800 items"),
        ('[["walnut"]]', "ring[2].wood[1]", "a list stands where words belong"),
        ("{}", "ring[2].wood", "a table is neither words in quotes nor a list of them"),
    ],
)
def test_woods_that_are_none(written: str, where: str, found: str) -> None:
    assert found in only(with_ring(2).replace('wood = ["walnut"]', f"wood = {written}"), where)


@pytest.mark.parametrize(
    ("added", "where", "found"),
    [
        ('[job]\nowner = ""', "job.owner", 'it is blank; write for example owner = "'),
        ("[job]\nnumber = 31", "job.number", "31 is not words in quotes; write for example number"),
        ("[job]\ndate = 31", "job.date", "31 is not a date; write for example date"),
        ('[job]\ndate = "31 May"', "job.date", '"31 May" is not a date'),
        ("[job]\ndate = 10:00:00", "job.date", "10:00:00 is not a date"),
        ("[fixtures]\ntext = 1", "fixtures.text", "1 is neither true nor false"),
        ('[fixtures]\ntext = "yes"', "fixtures.text", '"yes" is neither true nor false'),
        (
            "[climate]\nbuild = { temperature = 21, humidity = 100 }",
            "climate.build.humidity",
            "100 is not between 0 and 100 percent",
        ),
        (
            "[climate]\nbuild = { temperature = 21, humidity = nan }",
            "climate.build.humidity",
            "nan is not a number",
        ),
        (
            '[climate]\nbuild = { temperature = 21, humidity = "45 %" }',
            "climate.build.humidity",
            '"45 %" is not a number',
        ),
        (
            '[climate]\nbuild = { temperature = "70 K", humidity = 45 }',
            "climate.build.temperature",
            '"70 K" can\'t be read as a temperature; expected a temperature such as 21 or "70 F"',
        ),
        (
            "[climate]\nbuild = { temperature = 70, humidity = 45 }",
            "climate.build.temperature",
            "70 is not between -20 °C and 60 °C",
        ),
        (
            f"[climate]\nbuild = {{ temperature = 21, humidity = 0x{'f' * 400} }}",
            "climate.build.humidity",
            "is not between 0 and 100 percent",
        ),
        (
            f"[climate]\nbuild = {{ temperature = 0x{'f' * 400}, humidity = 45 }}",
            "climate.build.temperature",
            "is not between -20 °C and 60 °C",
        ),
        (
            "[climate]\nbuild = { temperature = inf, humidity = 45 }",
            "climate.build.temperature",
            "inf is not a finite number",
        ),
        (
            "[climate]\nbuild = 21",
            "climate.build",
            "21 is not a table; write for example build = {",
        ),
        ("[climate]", "climate.build", "is missing: the shop's air when the ring is glued"),
        (
            "[climate]\nbuild = { temperature = 21 }",
            "climate.build.humidity",
            "is missing: relative humidity in percent; for example humidity = 45",
        ),
    ],
)
def test_other_tables(added: str, where: str, found: str) -> None:
    head, ring = PLAIN.split("[[ring]]", 1)
    assert found in only(f"{head}{added}\n[[ring]]{ring}", where)


@pytest.mark.parametrize(
    ("text", "where", "found"),
    [
        (replaced("kerf = 0.9", "kerff = 0.9\nkerf = 1"), "cutting.kerff", "did you mean kerf?"),
        (replaced("kerf = 0.9", "Kerf = 0.9\nkerf = 1"), "cutting.Kerf", "did you mean kerf?"),
        (
            replaced("top_thickness = 3.5", "top_thickness = 3.5\nkerf = 1"),
            "instrument.kerf",
            "it belongs in [cutting]",
        ),
        (replaced("schema = 1", "schema = 1\nproud = 1"), "proud", "it belongs in [channel]"),
        (replaced("schema = 1", "schema = 1\nproduct = 1"), "product", "known here: schema, units"),
        (f"{PLAIN}[chanel]\n", "chanel", "is not a known table; did you mean channel?"),
        (f"{PLAIN}[[rings]]\n", "rings", "is not a known table; did you mean ring?"),
        (with_ring(1, segments=36), "ring[1].segments", 'in a [[ring]] of pattern "radial"'),
        (with_ring(2, widht=3), "ring[2].widht", "did you mean width?"),
        (with_ring(2, bogus=3), "ring[2].bogus", "known here: pattern, inner_radius"),
        (
            with_ring(2, spacer={"wood": "maple", "thick": 0.5, "thickness": 0.5}),
            "ring[2].spacer.thick",
            "did you mean thickness?",
        ),
        (replaced("kerf = 0.9", 'kerf = 0.9\n"a b.c" = 1'), 'cutting."a b.c"', "known here: kerf"),
        (
            replaced("kerf = 0.9", 'kerf = 0.9\n"\\u001b[2J" = 1'),
            'cutting."\\u001b[2J"',
            "is not a known key",
        ),
        (replaced("kerf = 0.9", f"kerf = 0.9\n{'k' * 5000} = 1"), f"cutting.{'k' * 40}…", "known"),
    ],
)
def test_a_name_that_is_not_known(text: str, where: str, found: str) -> None:
    assert found in only(text, where)


@pytest.mark.parametrize(
    ("text", "where", "found"),
    [
        (replaced("schema = 1", ""), "schema", "is missing: the number of this file format"),
        (
            replaced("kerf = 0.9", ""),
            "cutting.kerf",
            "is missing: width of the saw's cut: measure it in scrap; for example kerf = 0.9",
        ),
        (
            replaced("fingerboard_width = 57.0", ""),
            "instrument.fingerboard_width",
            "is missing; it goes together with fingerboard_reach",
        ),
        (
            replaced("fingerboard_reach = 40.0", ""),
            "instrument.fingerboard_reach",
            "is missing; it goes together with fingerboard_width",
        ),
        (with_ring(2, segments=None), "ring[2].segments", "is missing, and so is segment_width"),
        (with_ring(2, width=None), "ring[2].width", "is missing, and so is outer_radius"),
        (with_ring(2, tile_thickness=None), "ring[2].tile_thickness", "measure it"),
        (with_ring(2, wood=None), "ring[2].wood", 'for example wood = ["walnut", "maple"]'),
        (with_ring(2, pattern=None), "ring[2].pattern", 'is missing: "radial" or "line"'),
        (
            with_ring(1, inner_radius=None),
            "ring[1].inner_radius",
            "is missing, and so is space: say where the first ring starts",
        ),
    ],
)
def test_a_key_that_is_missing(text: str, where: str, found: str) -> None:
    assert found in only(text, where)


def test_tables_that_are_missing() -> None:
    found = findings("schema = 1\n")
    assert list(found) == ["instrument", "cutting", "channel", "ring"]
    assert found["instrument"] == (
        "the table [instrument] is missing; it needs name, soundhole_diameter and top_thickness"
    )
    assert "write [[ring]]" in found["ring"]


@pytest.mark.parametrize(
    ("text", "where", "found"),
    [
        (
            with_ring(2, segment_width=9.0),
            "ring[2].segment_width",
            "does not go together with segments; keep one of the two",
        ),
        (
            with_ring(1, space=3.0),
            "ring[1].space",
            "does not go together with inner_radius; keep one of the two",
        ),
        (
            with_ring(2, outer_radius=71.0),
            "ring[2].outer_radius",
            "71.0000 mm and a width of 18.0000 mm do not agree: from 51.2000 mm that width ends at"
            " 69.2000 mm",
        ),
        (
            with_ring(2, width=None, outer_radius=51.2),
            "ring[2].outer_radius",
            "51.20 mm is not outside the ring's inner radius, 51.20 mm",
        ),
        (with_ring(2, pattern="radail"), "ring[2].pattern", 'did you mean "radial"?'),
        (with_ring(2, pattern="paisley"), "ring[2].pattern", 'there are "radial" or "line"'),
        (with_ring(2, pattern=3), "ring[2].pattern", "3 is not a known pattern"),
        (
            with_ring(2, at_centreline="wedges"),
            "ring[2].at_centreline",
            '"wedges" is not "joint" or "wedge"; did you mean "wedge"?',
        ),
        (with_ring(2, sawn=1), "ring[2].sawn", '1 is not "quartersawn" or "flatsawn"'),
        (with_ring(2, spacer="maple"), "ring[2].spacer", '"maple" is not a table; write for'),
        (with_ring(1, wood=["a", "b"]), "ring[1].wood", "a list stands where words belong"),
        (replaced("schema = 1", "schema = 2"), "schema", "2 is not a format that this version"),
        (replaced("schema = 1", "schema = true"), "schema", "true is not a format"),
        (replaced("schema = 1", "schema = 1.0"), "schema", "1.0 is not a format"),
        (replaced('units = "mm"', 'units = "cm"'), "units", '"cm" is not "mm" or "in"'),
        (replaced('units = "mm"', "units = 25.4"), "units", '25.4 is not "mm" or "in"'),
    ],
)
def test_keys_that_contradict(text: str, where: str, found: str) -> None:
    assert found in only(text, where)


@pytest.mark.parametrize(
    ("rings", "found"),
    [
        ("ring = []", "the list of rings is empty"),
        ("ring = 3", "3 is not a ring; write [[ring]]"),
        ("ring = [3]", "a list is not a ring; write [[ring]]"),
        ("ring = [{}, 3]", "a list is not a ring; write [[ring]]"),
    ],
)
def test_rings_that_are_none(rings: str, found: str) -> None:
    head = PLAIN.split("[instrument]")
    tables = head[1].split("[[ring]]")[0]
    assert found in only(f"{head[0]}{rings}\n[instrument]{tables}", "ring")


def test_a_ring_in_single_brackets_is_read_all_the_same() -> None:
    head = PLAIN.split("[[ring]]")[0]
    found = findings(f"{head}[ring]\npattern = 'line'\ninner_radius = 50\nwidth = -1\n")
    assert "double brackets" in found["ring"]
    assert "is negative" in found["ring[1].width"]


def test_more_rings_than_a_top_holds() -> None:
    rings = [line(inner_radius=50.0), *(line() for _ in range(24))]
    assert "25 rings are more than a top can hold; at most 24" in only(design_text(rings), "ring")


def test_the_wrong_units_do_not_hide_the_rest() -> None:
    text = PLAIN.replace('units = "mm"', 'units = "inch"').replace("kerf = 0.9", "kerf = -1")
    assert list(findings(text)) == ["units", "cutting.kerf"]


def test_everything_is_told_at_once() -> None:
    text = """
schema = 1
units = "mm"
[instrument]
name = "x"
soundhole_diameter = -94
fingerboard_width = 57
[cuting]
kerf = 0.9
[channel]
bit_diameter = 3.175
proud = "2,5 mm"
[[ring]]
pattern = "radial"
inner_radius = 52
space = 3
segments = 36.0
wood = []
[[ring]]
pattern = "line"
width = true
wood = "maple"
tile_thickness = 2
"""
    assert set(findings(text)) == {
        "instrument.soundhole_diameter",
        "instrument.top_thickness",
        "instrument.fingerboard_reach",
        "cutting",
        "cuting",
        "channel.proud",
        "ring[1].space",
        "ring[1].width",
        "ring[1].segments",
        "ring[1].wood",
        "ring[1].tile_thickness",
        "ring[2].width",
    }


def test_a_design_in_inches_gets_examples_that_are_right_in_it() -> None:
    text = replaced('units = "mm"', 'units = "in"').replace("kerf = 0.9", "")
    assert 'for example kerf = "0.9 mm"' in findings(text)["cutting.kerf"]


def test_more_findings_than_anybody_reads_are_counted() -> None:
    text = replaced("kerf = 0.9", "kerf = 1\n" + "\n".join(f"k{i} = 1" for i in range(500)))
    with pytest.raises(InputError) as caught:
        read_design_text(text.encode())
    assert caught.value.lines()[-1] == "and 440 more like these"
    assert len(caught.value.findings) == 61
