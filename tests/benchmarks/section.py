"""docs/benchmarks.md in sections, each written by the script that measures it."""

from __future__ import annotations

import re
from pathlib import Path

PAGE = Path(__file__).resolve().parents[2] / "docs" / "benchmarks.md"


def with_section(page: str, title: str, text: str) -> str:
    """The page with the words under "## title" put in place of those that were there, or added.

    >>> with_section("# How long\\n\\nWords.\\n", "Trays", "Two.")
    '# How long\\n\\nWords.\\n\\n## Trays\\n\\nTwo.\\n'
    >>> with_section("# Long\\n\\n## Trays\\n\\nOne.\\n\\n## Else\\n\\nNone.\\n", "Trays", "Two.")
    '# Long\\n\\n## Trays\\n\\nTwo.\\n\\n## Else\\n\\nNone.\\n'
    """
    head, *sections = re.split(r"^(?=## )", page, flags=re.MULTILINE)
    wanted = f"## {title}\n\n{text.strip()}\n"
    places = [i for i, one in enumerate(sections) if one.startswith(f"## {title}\n")]
    if places:
        sections[places[0]] = wanted
    else:
        sections.append(wanted)
    return "\n\n".join(one.strip() for one in (head, *sections)) + "\n"


def put_section(title: str, text: str) -> None:
    """Write a section of the page."""
    page = PAGE.read_text(encoding="utf-8")
    PAGE.write_text(with_section(page, title, text), encoding="utf-8")


def sections_of(page: str) -> str:
    """The sections of a page, without what stands before the first."""
    return "".join(re.split(r"^(?=## )", page, flags=re.MULTILINE)[1:])
