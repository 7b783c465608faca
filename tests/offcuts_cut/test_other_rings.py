"""What a box lacks for rings that are not of wedges is told, and only what fits them is tried."""

from __future__ import annotations

from rosette.offcuts.alternatives import alternatives
from rosette.offcuts.box import read_box_text
from rosette.offcuts.cutting import cut, stock_of
from rosette.offcuts.options import CutOptions
from rosette.plan import make_plan
from tests.patterns.bands import keys
from tests.properties.designs import design, radial

BOX = """
schema = 1
[[offcut]]
id = "A"
wood = "walnut"
thickness = 3.0
rectangle = [400, 120]
"""


def test_a_ring_of_plies_that_lacks_wood_is_not_varied_like_one_of_wedges() -> None:
    rings = [radial(width=8.0, segments=24), keys("rope", inner_radius=60.0, width=1.8)]
    asked = design(rings)
    stock, options = stock_of(read_box_text(BOX.encode(), "box.toml")), CutOptions()
    cutting = cut(make_plan(asked), stock, options)
    assert {one.ring for one in cutting.tallies if one.missing} == {2}
    offered = alternatives(asked, stock, options, cutting).offered
    # without the rope the walnut is enough, and nothing else makes maple of it
    assert [change.left_out for one in offered for change in one.changes] == [True]
