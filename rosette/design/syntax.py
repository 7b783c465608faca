"""What a TOML reader's complaint means to somebody who has never heard of TOML."""

from __future__ import annotations

import re

_BY_LINE = (
    (r"[“”„‘’]", 'the quotes are curly ones; write straight quotes (")'),
    (r"=\s*$", "there is no value behind the ="),
    (
        r"[0-9]\s*,\s*[0-9]+\s*(?:mm|cm|in)?\s*(?:#|$)",
        "write decimals with a point, 2.5 and not 2,5",
    ),
    (r"=\s*\"[^\"]*[0-9]\"\s*\"", 'inches in quotes: write "3 3/4 in" instead of the inch mark'),
    (
        r"=\s*[-+]?[0-9./ -]*[0-9]\s*(?:mm|cm|in|inch|inches|\"|C|F|°)",
        'a value with its unit goes in quotes, like "62 mm"',
    ),
    (r"=\s*[0-9 -]*/", 'a fraction goes in quotes with its unit, like "3/4 in"'),
    (r"=\s*[-+]?\.[0-9]", "write a digit before the point, 0.5 and not .5"),
    (r"=\s*[-+]?[0-9]+\.\s*(?:#|$)", "write a digit behind the point, 5.0 or 5 and not 5."),
    (r"=\s*[-+]?0[0-9]", "a number may not start with 0, except 0 itself and 0.5"),
    (r"(?i)=\s*(?:yes|no|on|off|true|false)\b", "write true or false, in small letters"),
    (r"=\s*[^\W\d]", 'words go in quotes, like "maple"'),
)
"""What makers write, and the remedy; the first that fits the line is taken."""

_BY_MESSAGE = (
    ("Expected newline", "something stands behind the value that does not belong there"),
    ("Cannot overwrite", "this stands in the file twice; keep one"),
    ("Cannot declare", "this table stands in the file twice; keep one"),
    ("Cannot redefine", "this stands in the file twice; keep one"),
    ("Cannot mutate", "this stands in the file twice; keep one"),
    ("Duplicate", "a key stands in this table twice; keep one"),
    ("Expected '=' after a key", "an = is missing between a key and its value"),
    ("Illegal character '\\n'", "a quote that starts on this line does not end on it"),
    ("Illegal character", "a character stands here that may not"),
    ("Found invalid character", "a character stands here that may not"),
    ("Unescaped '\\'", "a backslash in quotes must be written twice"),
    ("Unterminated string", "the file ends inside quotes; the closing ones are missing"),
    ("Expected \"'", "the file ends inside quotes; the closing ones are missing"),
    ("Unclosed array", "a list is not closed; a ] is missing or a comma between two items"),
    ("Unclosed inline table", "a table is not closed; a } is missing or a comma between two keys"),
    ("Expected ']", "the ] that closes a table's name is missing"),
    ("Invalid date", "this is not a date of the calendar"),
    ("Invalid initial character", "a key starts with a character that keys can't have"),
    ("Invalid statement", "a line must be a key with its value, or a table's name in brackets"),
    ("Invalid value", "the value can't be read"),
    ("Invalid hex value", "the letters and digits behind a backslash make no character"),
    ("Escaped character", "the letters and digits behind a backslash make no character"),
)

_MISREAD_VALUE = (
    "Expected newline",
    "Invalid value",
    "Illegal character",
    "Unclosed",
    "Invalid init",
)


def plain_words(message: str, line: str) -> str:
    """What is wrong with a line, and what to write instead.

    Args:
        message: what the standard library's TOML reader says.
        line: the line it stopped at, without the blanks round it.

    >>> plain_words("Expected newline or end of document after a statement", "kerf = 0,9")
    'write decimals with a point, 2.5 and not 2,5'
    """
    for name in ("ring", "offcut"):
        if f"{name}]" in line and message.startswith("Cannot"):
            return f"every {name} starts with [[{name}]], in double brackets"
    if message.startswith(_MISREAD_VALUE):
        for pattern, words in _BY_LINE:
            if re.search(pattern, line[:1000]):
                return words
    for start, words in _BY_MESSAGE:
        if message.startswith(start):
            return words
    return "this can't be read as TOML"
