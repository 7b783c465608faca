"""Ranges as they are typed."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from rosette.offcuts import ranges


@pytest.mark.parametrize(
    ("text", "units", "ends"),
    [
        ("16", "mm", (16.0, 16.0)),
        ("14-18", "mm", (14.0, 18.0)),
        ("14 - 18 mm", "in", (14.0, 18.0)),
        ("14 mm to 18 mm", "in", (14.0, 18.0)),
        ("1.4 cm..1.8 cm", "mm", (14.0, 18.0)),
        ("1/2 to 3/4", "in", (12.7, 19.05)),
        ("1/2 to 3/4 in", "mm", (12.7, 19.05)),
        ("14 to 18mm", "in", (14.0, 18.0)),
        ("14 mm to 3/4 in", "mm", (14.0, 19.05)),
        ("3-3/4", "in", (95.25, 95.25)),
        ("14–18", "mm", (14.0, 18.0)),
    ],
)
def test_lengths(text: str, units: str, ends: tuple[float, float]) -> None:
    assert ranges.lengths(text, units) == pytest.approx(ends)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("read", "text", "sentence"),
    [
        (ranges.counts, "48-12", "runs backwards"),
        (ranges.counts, "2", "not between 3 and 720"),
        (ranges.counts, "many", "is not a count"),
        (ranges.counts, "15-15", "no even count"),
        (ranges.counts, "", "is not a count"),
        (ranges.counts, "٣٤", "is not a count"),
        (ranges.spares, "all", "is not a number of spares"),
        (ranges.spares, "4-0", "runs backwards"),
        (ranges.spares, "5000", "more than anybody cuts"),
        (lambda text: ranges.lengths(text, "mm"), "18-14", "runs backwards"),
        (lambda text: ranges.lengths(text, "mm"), "wide", "can't be read as a length"),
        (lambda text: ranges.lengths(text, "mm"), "0", "is not more than zero"),
        (lambda text: ranges.lengths(text, "in"), "1/2-3/4", '"to" between'),
        (lambda text: ranges.length_list(text, "mm", 0.001), "1-9000", "too wide"),
    ],
)
def test_a_silly_range_is_refused_in_a_sentence(
    read: Callable[[str], object], text: str, sentence: str
) -> None:
    with pytest.raises(ranges.RangeError, match=sentence):
        read(text)
