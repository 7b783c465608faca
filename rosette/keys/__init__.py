"""The keys of a design file: how they are declared, what each may hold, how a table is read.

Values are read in the file's own units and are millimetres, degrees, °C and percent from
here on. A table is a class of keys, as in `rosette.keys.ring`.
"""

from __future__ import annotations

from rosette.keys.declare import At, Key, Keys, Kind, Rule, key, table
from rosette.keys.ring import RingKeys
from rosette.keys.tables import inner, read_table

__all__ = [
    "At",
    "Key",
    "Keys",
    "Kind",
    "RingKeys",
    "Rule",
    "inner",
    "key",
    "read_table",
    "table",
]
