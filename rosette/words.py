"""Sentences that hold lengths, so that one plan can be told in any unit.

A plan is free of units; the sentences in it (steps, warnings, refusals) keep
their lengths as millimetres until somebody reads them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rosette.units import Units, format_length

LONGEST = 40
"""Characters shown of a text or a key."""
ESCAPES = {"\n": "\\n", "\t": "\\t", "\r": "\\r", '"': '\\"', "\\": "\\\\"}
"""How a text's characters that would break a line or a quote are written."""


@dataclass(frozen=True, slots=True)
class Length:
    """A length inside a sentence, in millimetres."""

    mm: float
    decimals: int = 2


Word = Length | float | int | str


@dataclass(frozen=True, slots=True)
class Saying:
    """A sentence with named gaps; lengths are put in when its reader's units are known."""

    template: str
    words: tuple[tuple[str, Word], ...] = ()

    def text(self, units: Units = "mm") -> str:
        """The sentence for people, lengths in `units`."""
        filled = {
            name: format_length(word.mm, units, decimals=word.decimals)
            if isinstance(word, Length)
            else word
            for name, word in self.words
        }
        return self.template.format(**filled) if filled else self.template

    def __str__(self) -> str:
        return self.text()


def listed(names: Sequence[object], last: str = "and") -> str:
    """Several things one after the other.

    >>> listed(["ash"]), listed(["ash", "oak"]), listed([12, 18, 24], "or")
    ('ash', 'ash and oak', '12, 18 or 24')
    """
    *some, end = map(str, names)
    return f"{', '.join(some)} {last} {end}" if some else end


def numbered(rings: Sequence[int]) -> str:
    """Rings by their numbers.

    >>> numbered([1]), numbered([1, 2]), numbered([1, 2, 4])
    ('ring 1', 'rings 1 and 2', 'rings 1, 2 and 4')
    """
    return f"ring{'s' if len(rings) > 1 else ''} {listed(rings)}"


def runs(numbers: Sequence[int]) -> str:
    """Numbers in order, neighbours drawn together.

    >>> runs([1, 2, 3, 7, 35, 36])
    '1-3, 7, 35, 36'
    """
    told: list[str] = []
    start = 0
    for i in range(1, len(numbers) + 1):
        if i == len(numbers) or numbers[i] != numbers[i - 1] + 1:
            run = numbers[start:i]
            told += [f"{run[0]}-{run[-1]}"] if len(run) > 2 else [str(n) for n in run]
            start = i
    return ", ".join(told)


def say(template: str, **words: Word) -> Saying:
    """A sentence from a format string; wrap each length in `Length`.

    >>> saying = say("Rip the strip {width} wide, {count} times.", width=Length(20.44), count=2)
    >>> saying.text(), saying.text("in")
    ('Rip the strip 20.44 mm wide, 2 times.', 'Rip the strip 0.805 in (13/16) wide, 2 times.')
    """
    return Saying(template, tuple(words.items()))


def plain(text: str, longest: int = LONGEST) -> str:
    r"""Text with everything that can't be seen written as an escape, cut to a length.

    >>> plain("tab\t and \x1b[31m"), plain("x" * 50, 5)
    ('tab\\t and \\u001b[31m', 'xxxxx…')
    """
    kept = text[:longest]
    out = "".join(ESCAPES.get(c) or (c if c.isprintable() else _escape(c)) for c in kept)
    return out + "…" if len(text) > longest else out


def _escape(character: str) -> str:
    number = ord(character)
    return f"\\u{number:04x}" if number < 0x10000 else f"\\U{number:08x}"
