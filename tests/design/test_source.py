"""Files that are no design at all: missing, unreadable, not text, not TOML."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

import pytest

from rosette.design import read_design, read_design_text
from rosette.errors import InputError
from tests.properties.designs import design_text, line

PLAIN = design_text([line(inner_radius=50.0)])


def refusal(path: Path) -> str:
    with pytest.raises(InputError) as caught:
        read_design(path)
    assert caught.value.exit_code == 2
    (told,) = caught.value.lines()
    assert told.startswith(f"{path}: ")
    return told.removeprefix(f"{path}: ")


def syntax(text: str | bytes) -> str:
    data = text.encode() if isinstance(text, str) else text
    with pytest.raises(InputError) as caught:
        read_design_text(data, "guitar.toml")
    (told,) = caught.value.lines()
    assert told.startswith("guitar.toml: ")
    return told.removeprefix("guitar.toml: ")


def test_no_such_file(tmp_path: Path) -> None:
    assert refusal(tmp_path / "guitar.toml") == "there is no such file"


def test_a_misspelt_file_is_guessed(tmp_path: Path) -> None:
    (tmp_path / "guitar.toml").write_text(PLAIN)
    assert refusal(tmp_path / "gitar.toml").endswith(f"did you mean {tmp_path / 'guitar.toml'}?")


def test_no_such_folder(tmp_path: Path) -> None:
    assert refusal(tmp_path / "none" / "guitar.toml") == "there is no such file"


def test_a_folder(tmp_path: Path) -> None:
    assert refusal(tmp_path) == "this is a folder; name the design file in it"


def test_a_file_for_a_folder(tmp_path: Path) -> None:
    (tmp_path / "file").write_text(PLAIN)
    assert "it can't be read" in refusal(tmp_path / "file" / "guitar.toml")


def test_a_name_that_is_too_long(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="it can't be read"):
        read_design(tmp_path / ("n" * 5000))


def test_a_name_that_no_file_can_have() -> None:
    with pytest.raises(InputError, match="its name can't be used"):
        read_design("a\x00b")


def test_a_link_to_itself(tmp_path: Path) -> None:
    loop = tmp_path / "loop.toml"
    loop.symlink_to(loop)
    assert "it can't be read" in refusal(loop)


def test_a_pipe_is_as_good_as_a_file() -> None:
    read, write = os.pipe()
    os.write(write, PLAIN.encode())
    os.close(write)
    try:
        assert len(read_design(f"/dev/fd/{read}").rings) == 1
    finally:
        os.close(read)


def test_an_endless_file_ends() -> None:
    assert "larger than 256 kB" in refusal(Path("/dev/zero"))


@pytest.mark.parametrize("size", [256 * 1024, 256 * 1024 + 1])
def test_the_size_limit(tmp_path: Path, size: int) -> None:
    file = tmp_path / "guitar.toml"
    file.write_bytes(PLAIN.encode() + b"#" * (size - len(PLAIN)))
    if size > 256 * 1024:
        assert "larger than 256 kB" in refusal(file)
    else:
        assert read_design(file).instrument.name == "Test"


@pytest.mark.parametrize("text", ["", "\n\n", "# only a remark\n", "\ufeff"])
def test_an_empty_file(text: str) -> None:
    assert syntax(text) == 'it holds no keys; "rosette new" writes a design to start from'


def test_a_byte_order_mark_and_other_line_ends_do_no_harm() -> None:
    marked = b"\xef\xbb\xbf" + PLAIN.replace("\n", "\r\n").encode()
    assert read_design_text(marked).rings == read_design_text(PLAIN.encode()).rings


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (PLAIN.encode("utf-16"), "saved as UTF-16"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "it is not a text file"),
        (PLAIN.replace("Test", "Tést").encode("latin-1"), "line 4 is not UTF-8 text"),
        (b"\xff\xfe", "saved as UTF-16"),
        (b"schema = 1\nunits = \xf0\x28\n", "line 2 is not UTF-8 text"),
    ],
)
def test_what_is_not_text(data: bytes, found: str) -> None:
    assert found in syntax(data)


@pytest.mark.parametrize(
    ("line", "place", "words"),
    [
        ("kerf = 0,9", "line 2, column 9", "write decimals with a point"),
        ("kerf = 62 mm", "line 2, column 11", 'goes in quotes, like "62 mm"'),
        ("kerf = 3 3/4 in", "line 2, column 10", 'goes in quotes, like "62 mm"'),
        (
            "kerf = 3/4",
            "line 2, column 9",
            'a fraction goes in quotes with its unit, like "3/4 in"',
        ),
        ('kerf = 3"', "line 2, column 9", 'goes in quotes, like "62 mm"'),
        ("temperature = 70 F", "line 2", 'goes in quotes, like "62 mm"'),
        ("kerf = .5", "line 2, column 8", "write 0.5 and not .5".removeprefix("write ")),
        ("kerf = 5.", "line 2, column 9", "5.0 or 5 and not 5."),
        ("kerf = 05", "line 2, column 9", "a number may not start with 0"),
        ("wood = maple", "line 2, column 8", 'words go in quotes, like "maple"'),
        ("wood = “maple”", "line 2, column 8", "the quotes are curly ones"),
        ("text = True", "line 2, column 8", "write true or false, in small letters"),
        ('wood = "maple\nb = 1', "line 2", "a quote that starts on this line does not end on it"),
        ('wood = "maple', "line 2", "the file ends inside quotes"),
        ('wood = "map\\le"', "line 2", "a backslash in quotes must be written twice"),
        ("kerf =", "line 2", "there is no value behind the ="),
        ("kerf", "line 2", "an = is missing between a key and its value"),
        ("= 3", "line 2, column 1", "a line must be a key with its value"),
        ("[instrument", "line 2", "the ] that closes a table's name is missing"),
        ('wood = ["a", "b"', "line 2", "a ] is missing"),
        ("spacer = { a = 1, b = 2", "line 2", "a } is missing"),
        ("schema = 1", "line 2", "this stands in the file twice"),
        ("[a]\n[a]", "line 3", "this table stands in the file twice"),
        ("[[ring]]\n[ring]", "line 3", "every ring starts with [[ring]], in double brackets"),
        ("date = 2025-02-30", "line 2, column 8", "this is not a date of the calendar"),
        ('a = "\x01"', "line 2", "a character stands here that may not"),
        ("a = 1\rb = 2", "line 2", "something stands behind the value"),
        ("é = 1", "line 2, column 1", "a line must be a key with its value"),
        ('a = """', "line 2", "the file ends inside quotes"),
        ("a = '''", "line 2", "the file ends inside quotes"),
        ('a = "\\uD800"', "line 2", "make no character"),
        ("a = " + "9" * 5000, "", "a number in it has too many digits"),
        ("a = " + "[" * 5000, "", "stand inside each other too deep"),
        ("a = " + "{a=" * 5000, "", "stand inside each other too deep"),
        ("a." * 5000 + "a = 1", "", "more dots in its lines than any design"),
    ],
)
def test_what_is_not_toml(line: str, place: str, words: str) -> None:
    told = syntax(f"schema = 1\n{line}")
    assert told.startswith(place)
    assert words in told
    if place and line.isprintable() and "\\" not in line and len(line) < 40:
        assert told.endswith((f"the line is '{line}'", f'the line is "{line}"'))


def test_the_line_shown_is_cut_and_escaped() -> None:
    told = syntax("a = \x1b[31m" + "x" * 500)
    assert "\x1b" not in told
    assert "…" in told
    assert len(told) < 250


def test_dots_in_remarks_do_no_harm() -> None:
    assert read_design_text(f"# {'.' * 500}\n{PLAIN}".encode()).rings


def test_the_hash_is_that_of_the_bytes() -> None:
    marked = b"\xef\xbb\xbf" + PLAIN.encode()
    assert read_design_text(marked).sha256 == hashlib.sha256(marked).hexdigest()
