"""Names for what is left of an offcut."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import count

from rosette.offcuts.box_kinds import LONGEST_ID


def free_name(parent: str, taken: Collection[str]) -> str:
    """The first name for a part of `parent` that nothing has or had.

    Letters follow a number and numbers follow a letter, so that each name says its descent.

    >>> free_name("S2", {"S2", "S2a"}), free_name("S2a", {"S2a"}), free_name("Walnut", {"walnut1"})
    ('S2b', 'S2a1', 'Walnut2')
    """
    known = {name.casefold() for name in taken}
    return next(name for name in _names(parent) if name.casefold() not in known)


def _names(parent: str) -> Iterator[str]:
    for number in count(1):
        ending = str(number) if parent[-1].isalpha() else _letters(number)
        yield parent[: LONGEST_ID - len(ending)] + ending


def _letters(number: int) -> str:
    """The letters a, b and so on to z, then aa, ab and so on.

    >>> [_letters(n) for n in (1, 26, 27)]
    ['a', 'z', 'aa']
    """
    text = ""
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("a") + rest) + text
    return text
