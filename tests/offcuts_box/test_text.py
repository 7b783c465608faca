"""A file is cut into its tables and put together again without a letter changed."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosette.errors import InputError
from rosette.offcuts.box_text import Block, after_last, blocks, joined, with_count
from tests.offcuts_box.jobs import TEXT

PIECES = [
    "schema = 1\n",
    'units = "mm"\n',
    "\n",
    "# a remark\n",
    "  # [[offcut]]\n",
    '[[offcut]]\nid = "a"\n',
    "[[ offcut ]] # x\r\ncount = 2\r\n",
    "[offcut.taper]\nlength = 3\n",
    "[[offcut.defects]]\nat = [1, 2]\n",
    "[[taken]]\njob = 'x'\n",
    "note = '''\n[[offcut]]\n'''\n",
    'note = """\n[[offcut]]\n\\""" ]]"""\n',
    "outline = [\n[0, 0],\n[[1]],\n]\n",
    "x = { a = '[', b = [1] }\n",
    "y = \"]] # [\"\n",
]  # fmt: skip


@given(st.lists(st.sampled_from(PIECES), max_size=12).map("".join))
@settings(max_examples=200, deadline=None)
def test_the_blocks_of_a_file_make_it_up_again(text: str) -> None:
    assert joined(blocks(text)) == text


@given(st.text(max_size=80))
@settings(max_examples=100, deadline=None)
def test_whatever_a_text_holds(text: str) -> None:
    assert "".join(block.text for block in blocks(text)) == text


@given(st.lists(st.sampled_from(PIECES[2:]), max_size=10).map("".join))
@settings(max_examples=200, deadline=None)
def test_there_are_as_many_offcuts_as_toml_has(text: str) -> None:
    try:
        tables = tomllib.loads(text.replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError:
        return
    offcuts = tables.get("offcut", [])
    if isinstance(offcuts, list):
        assert sum(block.name == "offcut" for block in blocks(text)) == len(offcuts)


def test_remarks_right_above_a_table_belong_to_it() -> None:
    names = [(block.name, block.text.split("\n")[0]) for block in blocks(TEXT)]
    assert names == [
        ("", "# The box by the window."),
        ("offcut", "# the long walnut"),
        ("offcut", "[[offcut]]"),
    ]


def test_only_the_number_of_a_count_is_changed() -> None:
    block = Block("offcut", "[[offcut]]\nnote = '''\ncount = 9\n'''\n  count=3 # three\r\n")
    changed = with_count(block, 2).text
    assert changed == "[[offcut]]\nnote = '''\ncount = 9\n'''\n  count=2 # three\r\n"
    with pytest.raises(InputError):
        with_count(Block("offcut", "[[offcut]]\nx = { count = 3 }\n"), 2)


def test_a_new_table_goes_behind_the_last_of_its_name() -> None:
    parts = blocks("a = 1\n[[offcut]]\nid = 'x'\n[[taken]]\njob = 'y'")
    new = "[[offcut]]\nid = 'z'\n"
    text = joined(after_last(parts, "offcut", new), new={new})
    assert text == "a = 1\n[[offcut]]\nid = 'x'\n\n" + new + "\n[[taken]]\njob = 'y'"
