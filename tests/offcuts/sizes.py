"""Wedges that the tests cut, and strategies that draw sizes, kerfs and scraps."""

from __future__ import annotations

from hypothesis import strategies as st

from rosette.offcuts.model import WedgeSize

TWENTY_FOUR = WedgeSize(inner_width=13.57472, outer_width=18.95796, height=20.44487)
THIRTY_SIX = WedgeSize(inner_width=8.6, outer_width=12.7, height=21.0)
SHORT = WedgeSize(inner_width=6.0, outer_width=9.5, height=13.0)
SIZES = (TWENTY_FOUR, THIRTY_SIX, SHORT)
KERFS = (0.0, 0.2, 0.9, 2.4)

seeds = st.integers(min_value=0, max_value=10_000)
sizes = st.sampled_from(SIZES)
kerfs = st.sampled_from(KERFS)
