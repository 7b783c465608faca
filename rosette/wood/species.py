"""How far each wood moves with its moisture, and where each figure comes from."""

from __future__ import annotations

import difflib
from dataclasses import dataclass

from rosette.wood.moisture import coefficient_from_shrinkage

TABLE_13_5 = "Wood Handbook FPL-GTR-282, Table 13-5"
TABLE_4_3 = "Wood Handbook FPL-GTR-282, Table 4-3, by Eq. 13-3"
TABLE_4_4 = "Wood Handbook FPL-GTR-282, Table 4-4, by Eq. 13-3"
UNSOURCED = "shrinkage from memory, by Eq. 13-3: check it"


@dataclass(frozen=True, slots=True, kw_only=True)
class Species:
    """A wood's dimensional change coefficients per percent of moisture, and their source."""

    name: str
    radial: float
    tangential: float
    source: str

    def across(self, sawn: str) -> float:
        """The coefficient across the grain in the show face.

        The face of a quartersawn board is radial, that of a flatsawn one tangential.
        """
        return self.radial if sawn == "quartersawn" else self.tangential


# Table 13-5: coefficients per percent, radial and tangential.
_COEFFICIENTS = {
    "sugar maple": (0.00165, 0.00353),
    "red maple": (0.00137, 0.00289),
    "bigleaf maple": (0.00126, 0.00248),
    "black walnut": (0.00190, 0.00274),
    "black cherry": (0.00126, 0.00248),
    "white ash": (0.00169, 0.00274),
    "yellow birch": (0.00256, 0.00338),
    "red oak": (0.00158, 0.00369),
    "white oak": (0.00180, 0.00365),
    "sycamore": (0.00172, 0.00296),
    "apple": (0.00205, 0.00376),
    "true mahogany": (0.00172, 0.00238),
}
# Total shrinkage in percent, radial and tangential, green to oven-dry.
_SHRINKAGE = {
    "western redcedar": (2.4, 5.0, TABLE_4_3),
    "engelmann spruce": (3.8, 7.1, TABLE_4_3),
    "yellow-cedar": (2.8, 6.0, TABLE_4_3),
    "khaya": (2.5, 4.5, TABLE_4_4),
    "sitka spruce": (4.3, 7.5, UNSOURCED),
    "indian rosewood": (2.7, 5.8, UNSOURCED),
    "sapele": (4.6, 7.4, UNSOURCED),
    "cocobolo": (2.7, 4.3, UNSOURCED),
    "koa": (5.5, 6.2, UNSOURCED),
    "african padauk": (3.3, 5.2, UNSOURCED),
}
_ALSO_CALLED = {
    "walnut": "black walnut",
    "maple": "sugar maple",
    "hard maple": "sugar maple",
    "cherry": "black cherry",
    "ash": "white ash",
    "birch": "yellow birch",
    "oak": "white oak",
    "mahogany": "true mahogany",
    "african mahogany": "khaya",
    "rosewood": "indian rosewood",
    "east indian rosewood": "indian rosewood",
    "padauk": "african padauk",
    "red cedar": "western redcedar",
    "redcedar": "western redcedar",
    "western red cedar": "western redcedar",
    "yellow cedar": "yellow-cedar",
    "spruce": "sitka spruce",
}


def species(name: str) -> Species | None:
    """The wood of that name or common name, or None where no figures are known for it.

    >>> wood = species("Walnut")
    >>> wood.name, wood.radial, wood.source
    ('black walnut', 0.0019, 'Wood Handbook FPL-GTR-282, Table 13-5')
    """
    key = " ".join(name.lower().split())
    key = _ALSO_CALLED.get(key, key)
    if key in _COEFFICIENTS:
        radial, tangential = _COEFFICIENTS[key]
        return Species(name=key, radial=radial, tangential=tangential, source=TABLE_13_5)
    if key in _SHRINKAGE:
        radial, tangential, source = _SHRINKAGE[key]
        return Species(
            name=key,
            radial=coefficient_from_shrinkage(radial),
            tangential=coefficient_from_shrinkage(tangential),
            source=source,
        )
    return None


def known_woods() -> tuple[str, ...]:
    """Every name that `species` knows, common names included, in order."""
    return tuple(sorted({*_COEFFICIENTS, *_SHRINKAGE, *_ALSO_CALLED}))


def also_called(name: str) -> tuple[str, ...]:
    """The common names of a wood that go by its figures.

    >>> also_called("khaya")
    ('african mahogany',)
    """
    return tuple(sorted(common for common, own in _ALSO_CALLED.items() if own == name))


def nearest_wood(name: str) -> str | None:
    """The known wood whose name is most like this one."""
    close = difflib.get_close_matches(name.lower(), known_woods(), n=1, cutoff=0.7)
    return close[0] if close else None
