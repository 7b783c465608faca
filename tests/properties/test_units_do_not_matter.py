"""One design in millimetres, in inches and in strings is one plan."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings

from rosette.plan import make_plan
from rosette.plan.as_json import plan_json
from tests.properties.designs import BASE, design, radial_rings

LENGTHS = {
    "soundhole_diameter", "top_thickness", "fingerboard_width", "fingerboard_reach", "kerf",
    "inner_allowance", "outer_allowance", "proud", "gap", "minimum_floor", "bit_diameter",
    "depth_per_pass", "inner_radius", "width", "tile_thickness", "thickness", "glue_line",
}  # fmt: skip


def turned(value: Any, how: Any) -> Any:
    """The same tables with every length told by `how`."""
    if isinstance(value, dict):
        return {k: how(v) if k in LENGTHS else turned(v, how) for k, v in value.items()}
    return value


def close(a: Any, b: Any) -> bool:
    """Equal but for the last digits of numbers."""
    if isinstance(a, dict):
        return a.keys() == b.keys() and all(close(a[k], b[k]) for k in a)
    if isinstance(a, list):
        return len(a) == len(b) and all(close(x, y) for x, y in zip(a, b, strict=True))
    if isinstance(a, float) and isinstance(b, float):
        return abs(a - b) <= 1e-6 * max(1.0, abs(a))
    return bool(a == b)


@settings(max_examples=20, deadline=None)
@given(radial_rings())
def test_units_do_not_matter(keys: dict[str, Any]) -> None:
    tables = {k: v for k, v in BASE.items() if isinstance(v, dict)}
    told = plan_json(make_plan(design([keys], **tables)), "mm")
    inches = {k: turned(v, lambda mm: mm / 25.4) for k, v in tables.items()}
    text = {k: turned(v, lambda mm: f"{mm / 10:.15f} cm") for k, v in tables.items()}
    as_inches = design([turned(keys, lambda mm: mm / 25.4)], units="in", **inches)
    as_text = design([turned(keys, lambda mm: f"{mm / 25.4:.15f} in")], units="in", **text)
    for other in (as_inches, as_text):
        again = plan_json(make_plan(other), "mm")
        assert close(told, again)
