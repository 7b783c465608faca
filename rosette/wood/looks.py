"""How woods look under finish, for pictures and keys: a colour and a figure, never colour alone.

The tones are matched by eye (common practice); nothing is worked out from them.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import count
from typing import Literal

Figure = Literal["plain", "straight", "pores", "streaks", "fleck", "curl", "ribbon"]
"""What is drawn in a wood, and so its hatch where there is no colour.

plain: nothing; straight: even lines along the grain; pores: short dashes along it; streaks: few
and bold lines; fleck: short marks across the grain; curl: waves across it; ribbon: broad bands
along it.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A wood's colour, the colour of its figure (both #rrggbb) and the figure itself."""

    colour: str
    mark: str
    figure: Figure


_TABLE: dict[str, tuple[str, str, Figure]] = {
    "abalone": ("#8fb3ad", "#5d8f96", "curl"),
    "apple": ("#c79a70", "#a0714a", "fleck"),
    "ash": ("#dcc7a0", "#a98b5c", "straight"),
    "beech": ("#d8b48c", "#a97f54", "fleck"),
    "birch": ("#e3cda6", "#bb9c6d", "fleck"),
    "black": ("#2a2725", "#2a2725", "plain"),
    "blackwood": ("#4a3328", "#2c1c15", "streaks"),
    "bloodwood": ("#8f2f25", "#66201a", "pores"),
    "bone": ("#f0e8d6", "#f0e8d6", "plain"),
    "boxwood": ("#e2c57e", "#e2c57e", "plain"),
    "bubinga": ("#8a4534", "#5f2a20", "ribbon"),
    "cedar": ("#b57e55", "#8d5a38", "straight"),
    "cherry": ("#b0714a", "#8b5233", "fleck"),
    "cocobolo": ("#8e4a28", "#4a2212", "streaks"),
    "cypress": ("#dcc08e", "#b6935c", "straight"),
    "douglas fir": ("#d0a06c", "#a36f3e", "straight"),
    "ebony": ("#2b2523", "#2b2523", "plain"),
    "elm": ("#b58f66", "#856340", "ribbon"),
    "fir": ("#dfc79c", "#bd9d6b", "straight"),
    "holly": ("#f3efe3", "#f3efe3", "plain"),
    "khaya": ("#a8694a", "#7d4730", "ribbon"),
    "koa": ("#a9683a", "#71401f", "curl"),
    "lacewood": ("#b98664", "#8c5a3f", "fleck"),
    "larch": ("#cf9f6c", "#a06c3e", "straight"),
    "mahogany": ("#9c5a3c", "#6f3b25", "pores"),
    "maple": ("#ead7b0", "#c9ab78", "fleck"),
    "curly maple": ("#e8d2a6", "#c09a63", "curl"),
    "flamed maple": ("#e8d2a6", "#c09a63", "curl"),
    "mesquite": ("#8c5535", "#5d341d", "pores"),
    "myrtle": ("#c6a571", "#8f7244", "streaks"),
    "oak": ("#c9a874", "#977646", "pores"),
    "bog oak": ("#3c332c", "#251f1a", "pores"),
    "olive": ("#c9a667", "#7d5f31", "streaks"),
    "osage": ("#d19a37", "#a06f1e", "straight"),
    "ovangkol": ("#8d6440", "#5c3c23", "ribbon"),
    "padauk": ("#a8482a", "#76301c", "pores"),
    "pear": ("#c9977a", "#a87458", "plain"),
    "plum": ("#a0604f", "#703a30", "streaks"),
    "purpleheart": ("#6f3f5a", "#4f2a41", "straight"),
    "red oak": ("#c99f74", "#97693f", "pores"),
    "redwood": ("#9c5b41", "#743c29", "straight"),
    "rosewood": ("#5a3528", "#341c15", "streaks"),
    "sapele": ("#96563a", "#6b3824", "ribbon"),
    "spruce": ("#ead2a2", "#d0ae75", "straight"),
    "sycamore": ("#e6d2b2", "#b9986f", "fleck"),
    "teak": ("#a67b4a", "#74512c", "straight"),
    "walnut": ("#6e4d37", "#452d1e", "pores"),
    "claro walnut": ("#775237", "#3f281a", "streaks"),
    "wenge": ("#3f2c22", "#21150f", "straight"),
    "white": ("#f2ede0", "#f2ede0", "plain"),
    "white oak": ("#cdb183", "#9a7d4d", "pores"),
    "willow": ("#dcc4a0", "#b3946b", "straight"),
    "yellow-cedar": ("#e3c885", "#bb9a55", "straight"),
    "yew": ("#c98a52", "#94572b", "streaks"),
    "zebrano": ("#c9a36c", "#5f4326", "straight"),
    "ziricote": ("#4a382c", "#211813", "streaks"),
}

_UNKNOWN_COLOURS = ("#a58d74", "#8d7b68", "#b9a58b", "#7b6a5b", "#c6b59c", "#968069")
_UNKNOWN_FIGURES: tuple[Figure, ...] = ("straight", "pores", "streaks", "fleck", "curl", "ribbon")


def look(wood: str) -> Look:
    """The look of a wood by its longest known name; an unknown wood gets a neutral one of its own.

    >>> look("Indian rosewood") == look("rosewood"), look("curly maple").figure
    (True, 'curl')
    >>> look("quince") == look("quince")
    True
    """
    name = " ".join(wood.lower().split())
    known = max((key for key in _TABLE if _has_words(name, key)), key=len, default=None)
    if known is not None:
        colour, mark, figure = _TABLE[known]
        return Look(colour=colour, mark=mark, figure=figure)
    pick = hashlib.sha256(name.encode()).digest()
    colour = _UNKNOWN_COLOURS[pick[0] % len(_UNKNOWN_COLOURS)]
    return Look(
        colour=colour,
        mark=mixed(colour, "#000000", 0.4),
        figure=_UNKNOWN_FIGURES[pick[1] % len(_UNKNOWN_FIGURES)],
    )


def _has_words(name: str, key: str) -> bool:
    return f" {key} " in f" {name} "


def mixed(one: str, other: str, share: float) -> str:
    """The colour that lies `share` (0 to 1) of the way from one #rrggbb to another.

    >>> mixed("#000000", "#ffffff", 0.5)
    '#808080'
    """
    pairs = zip(_channels(one), _channels(other), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def wood_letters(woods: Iterable[str]) -> dict[str, str]:
    """A short mark for each wood, no two alike: a letter of its name where one is free.

    >>> wood_letters(["walnut", "maple", "wenge", "walnut"])
    {'walnut': 'W', 'maple': 'M', 'wenge': 'E'}
    """
    marks: dict[str, str] = {}
    for wood in woods:
        if wood not in marks:
            marks[wood] = _free_mark(wood, set(marks.values()))
    return marks


_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""I and O are left out: they read as figures beside a wedge's number."""


def _free_mark(wood: str, taken: set[str]) -> str:
    starts = [word[0] for word in wood.split()]
    tries: list[str] = [*starts, *wood, *_LETTERS]
    for letter in tries:
        mark = letter.upper()
        if len(mark) == 1 and mark in _LETTERS and mark not in taken:
            return mark
    numbered = (f"{letter}{number}" for number in count(1) for letter in _LETTERS)
    return next(mark for mark in numbered if mark not in taken)
