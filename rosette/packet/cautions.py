"""Cautions for the bench, each where it applies; the machine's manual comes before them."""

from __future__ import annotations

from rosette.output.document import Caution
from rosette.patterns.base import Wedges
from rosette.plan.model import Plan
from rosette.units import Units
from rosette.wood.shell import is_shell
from rosette.words import Length, say

DUST = (
    "Wood dust harms the lungs, and hardwood dust causes cancer (IARC group 1). Extract it where"
    " it is made, wear a mask that fits, and keep to your local limits. The machine's own manual"
    " and your own judgement come before anything written here."
)
ROUTER = (
    "Router or fly cutter: clamp the top and everything under it, keep both hands on the machine"
    " and off its path, and set the depth with the plug pulled. Take shallow passes, feed against"
    " the turning of the bit, and let it stop before you lift it. Eye and ear protection."
)
KNIFE = (
    "Bending over a hot iron or steam burns. Bend thin strips with a metal strap behind them, and"
    " cut away from the hand that holds the wood."
)
SMALL = (
    "Small pieces at a saw: never hold one in your fingers to cut it. Cut it while it is still part"
    " of a longer piece, clamped to the mitre gauge or stuck to a longer carrier, with a"
    " zero-clearance insert in the table and a stop that stands off so that the piece falls free;"
    " leave it until the blade has stopped."
)
_ROSEWOODS = ("rosewood", "cocobolo", "blackwood", "kingwood", "tulipwood", "dalbergia")
_SENSITISING = (*_ROSEWOODS, "padauk", "bubinga", "wenge", "iroko", "ebony", "pau ferro", "teak")


def saw_caution(wedges: Wedges, tile_thickness: float, units: Units) -> Caution:
    """What the saw leaves in the hand, and how to keep fingers away from it."""
    blank = wedges.blank
    saying = say(
        "Small pieces at a saw. The least piece that this leaves is one wedge, {wide} wide at one"
        " end, {narrow} at the other, {high} long and {thick} thick: never hold one in your fingers"
        " to cut it. Cut it while it is still part of the strip, with the strip clamped to the"
        " mitre gauge, a zero-clearance insert in the table and a stop that stands off so that the"
        " wedge falls free; leave it until the blade has stopped. Stop when a hand's width of strip"
        " is left, or glue the strip to a longer carrier.",
        wide=Length(blank.outer_width),
        narrow=Length(blank.inner_width),
        high=Length(blank.height),
        thick=Length(tile_thickness),
    )
    return Caution(text=saying.text(units))


def wood_cautions(plan: Plan) -> tuple[Caution, ...]:
    """What the woods themselves call for."""
    woods = {wood.lower() for ring in plan.rings for wood in ring.woods}
    woods |= {wood.lower() for ring in plan.rings for wood in ring.spacer_woods}
    found = [Caution(text=DUST)]
    sensitising = _among(woods, _SENSITISING)
    if sensitising:
        found.append(
            Caution(
                text=f"Skin and lungs can become allergic to {sensitising}, once and for good:"
                " cover your arms, wear a mask, wash after work."
            )
        )
    listed = _among(woods, _ROSEWOODS)
    if listed:
        found.append(
            Caution(
                text=f"CITES: true rosewoods (Dalbergia) are listed, Brazilian rosewood in"
                f" Appendix I. If your {listed} is one, the guitar or its offcuts may need papers"
                " to cross a border: ask the authority before it travels."
            )
        )
    if any(map(is_shell, woods)):
        found.append(
            Caution(
                text="Shell dust irritates the lungs: saw and sand it wet, with extraction and a"
                " mask."
            )
        )
    return tuple(found)


def _among(woods: set[str], kinds: tuple[str, ...]) -> str:
    return " and ".join(sorted(wood for wood in woods if any(kind in wood for kind in kinds)))
