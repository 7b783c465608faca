"""Gauges: what they let through, what they stop, and gauges that are wrong."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from jigs.gauges import ChannelGauge, RingGauge, WedgeGauge, fixtures
from jigs.gauges_channel import plates
from jigs.placing import placed
from rosette.errors import Finding
from rosette.plan import Plan
from tests.jigs.fit_gauges import misfits
from tests.jigs.plans import Case, sample
from tests.jigs.prove import proof_of
from tests.jigs.trays import plan

Gauge = WedgeGauge | RingGauge | ChannelGauge


@cache
def _usual(kind: type[Gauge]) -> Any:
    (made,) = (one for one in fixtures(plan(segments=24)) if isinstance(one, kind))
    return made


def _said(wrong: Gauge) -> str:
    return "; ".join(misfits(plan(segments=24), wrong, placed(wrong)))


def test_gauges_of_every_sort_tell_right_from_wrong() -> None:
    tried: dict[tuple[str, str], tuple[str, ...]] = {}
    for of in sample(9):
        for one in fixtures(of):
            if isinstance(one, Finding) or (type(one).__name__, of.fixtures.process) in tried:
                continue
            found = proof_of(Case(number=0, design="", plan=of), one).found
            tried[type(one).__name__, of.fixtures.process] = found
    assert len(tried) == 9
    assert set(tried.values()) == {()}


@pytest.mark.parametrize(
    ("name", "off", "said"),
    [
        ("mitre_rad", 0.002, "does not bear"),
        ("far", 0.05, "a right wedge ends at"),
        ("step", 0.1, "a wedge too wide by"),
        ("step", -0.1, "a wedge too narrow by"),
    ],
)
def test_a_wrong_wedge_gauge_is_caught(name: str, off: float, said: str) -> None:
    made = _usual(WedgeGauge)
    assert _said(made) == ""
    assert said in _said(replace(made, **{name: getattr(made, name) + off}))


@pytest.mark.parametrize(
    ("name", "off", "said"),
    [
        ("outer_go", -0.02, "the go slot"),
        ("inner_go", 0.02, "the go half of the arm"),
        ("inner_no", 0.02, "the no-go slot"),
        ("outer_no", 0.02, "the no-go half of the arm"),
    ],
)
def test_a_wrong_ring_gauge_is_caught(name: str, off: float, said: str) -> None:
    made = _usual(RingGauge)
    assert _said(made) == ""
    limits = replace(made.limits, **{name: getattr(made.limits, name) + off})
    assert said in _said(replace(made, limits=limits))


@pytest.mark.parametrize(
    ("name", "off", "said"),
    [
        ("outer_go", 0.02, "plate 1, go"),
        ("inner_no", 0.02, "plate 1, no-go"),
        ("shallow", 0.02, "plate 1, go"),
        ("deep", 0.02, "plate 1, too deep"),
    ],
)
def test_a_wrong_channel_gauge_is_caught(name: str, off: float, said: str) -> None:
    made = _usual(ChannelGauge)
    if name in ("shallow", "deep"):
        assert said in _said(replace(made, **{name: getattr(made, name) + off}))
        return
    limits = replace(made.limits[0], **{name: getattr(made.limits[0], name) + off})
    assert said in _said(replace(made, limits=(limits,)))


def test_every_ring_that_goes_fits_every_channel_that_goes() -> None:
    """And no good pair is looser by more than three gaps at an edge, or 0.15 mm."""
    for of in sample(20):
        made = [one for one in fixtures(of) if not isinstance(one, Finding)]
        rings = {one.name: one.limits for one in made if isinstance(one, RingGauge)}
        for gauge in made:
            if not isinstance(gauge, ChannelGauge):
                continue
            first, last = gauge.channel.rings[0], gauge.channel.rings[-1]
            widest = gauge.limits[0]
            if f"ring-{first}-gauge" in rings and len(gauge.limits) == 1:
                ring = rings[f"ring-{first}-gauge"]
                assert ring.inner_go >= widest.inner_go - 1e-9
                most = max(3.0 * gauge.channel.gap, 0.1 + gauge.channel.gap)
                assert ring.inner_no - widest.inner_no <= most + 1e-9
            if f"ring-{last}-gauge" in rings and len(gauge.limits) == 1:
                ring = rings[f"ring-{last}-gauge"]
                assert ring.outer_go <= widest.outer_go + 1e-9


def test_a_channel_of_two_depths_gets_a_plate_for_each() -> None:
    several = [
        (of, one)
        for of in sample(30)
        for one in fixtures(of)
        if isinstance(one, ChannelGauge) and len(one.channel.steps) > 1
    ]
    of, made = several[0]
    assert len(plates(made)) == len(made.parts()) == len(made.channel.steps)
    assert proof_of(Case(number=0, design="", plan=of), made).found == ()


def test_letters_or_spots() -> None:
    for one in fixtures(plan(segments=24, text="true")):
        assert not isinstance(one, Finding)
        assert len(placed(one)) == len(one.parts())
    plain = _usual(ChannelGauge).parts()[0].block
    assert len(plain.steps) == 1 + 2 + 2


def test_what_can_not_be_gauged_is_told() -> None:
    wide: Plan = plan(segments=3)
    told = [one.text() for one in fixtures(wide) if isinstance(one, Finding)]
    assert [one[:24] for one in told] == ["ring[1]: no wedge gauge:"]
    thin = plan(segments=48, inner=50, width=1.5)
    told = [one.text() for one in fixtures(thin) if isinstance(one, Finding)]
    assert any("no ring gauge: 1.50 mm is too narrow" in one for one in told)
    assert any("no channel gauge" in one for one in told)


def test_a_bit_too_thick_for_a_slot_is_told() -> None:
    usual = plan(segments=24, width=5)
    wishes = replace(usual.fixtures, process="cnc", bit_diameter=6.35)
    told = [one for one in fixtures(replace(usual, fixtures=wishes)) if isinstance(one, Finding)]
    assert [one.where for one in told] == ["fixtures.bit_diameter"]
    assert "a bit of 6.35 mm does not go into a slot for 5.00 mm" in told[0].text()
