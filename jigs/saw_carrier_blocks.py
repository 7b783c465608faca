"""The sawing carrier's parts as blocks of flat steps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from jigs.corners import nut_pocket, rectangle, slot
from jigs.hardware import NUTS, SOCKET_HEADS
from jigs.letters import engraving, extent_of
from jigs.saw_carrier import SawCarrier
from jigs.saw_carrier_layout import (
    BODY,
    FACING,
    FAR,
    GUARD,
    HEEL,
    NEAR,
    NUT_END,
    OFF,
    RAIL,
    STOP,
    STOP_PLAY,
    TIE,
    TO_CUT,
)
from jigs.saw_carrier_screws import NUT_DEPTH, SHANK, THREAD
from jigs.terrace import Block, Step
from rosette.geometry.outline import Outline, Point, circle, polygon

PLAY = 0.3
"""The holder's heel is so much lower than the strip, so that the strip is pressed."""
RAIL_HEIGHT, GRIP_HEIGHT = 22.0, 32.0
SET_BLOCK_HEIGHT = 25.0


def base_block(carrier: SawCarrier) -> Block:
    """The base left of the cut, with the bar's tracks."""
    frame = carrier.frame
    outline = rectangle(frame.x_left, frame.y_front, 0.0, frame.y_back)
    return _plate(carrier, outline, tuple(_tracks(carrier)), ())


def wing_block(carrier: SawCarrier) -> Block:
    """The base right of the cut, with the stop's track."""
    frame = carrier.frame
    outline = rectangle(0.0, frame.y_front, frame.x_right, frame.y_back)
    (near, v), (far, _) = frame.stop_screws()
    play = STOP_PLAY + NUT_END
    ends = frame.at(near - play, v), frame.at(far + play, v)
    across = NUTS[THREAD][0] + 2.0 * carrier.process.slide
    above = Step(outline=slot(2.0 * SHANK, *ends), top=NUT_DEPTH)
    below = Step(outline=slot(across, *ends), top=NUT_DEPTH)
    return _plate(carrier, outline, (above,), (below,))


def _plate(
    carrier: SawCarrier, outline: Outline, above: tuple[Step, ...], below: tuple[Step, ...]
) -> Block:
    """A plate of the base with the holes and nut pockets that fall on it."""
    left, _, right, _ = outline.bounds()
    places = [at for at in carrier.nuts() if left < at[0] < right]
    return Block(
        outline=outline,
        top=carrier.base,
        steps=(*above, *_holes(places, NUT_DEPTH)),
        under=(*below, *_pockets(carrier, places)),
        chamfer=carrier.process.chamfer,
    )


def _tracks(carrier: SawCarrier) -> Iterator[Step]:
    """Where the bar's nuts slide, from the top, and its screws below them."""
    fit = carrier.bar
    for y in carrier.frame.bar_tracks:
        ends = (-FAR - NUT_END, y), (NUT_END - NEAR, y)
        through = Step(outline=slot(2.0 * fit.shank, *ends), top=0.0)
        yield Step(outline=slot(fit.track, *ends), top=fit.ledge, steps=(through,))


def _holes(places: Iterable[Point], foot: float = 0.0) -> Iterator[Step]:
    return (Step(outline=circle(SHANK, at), top=foot) for at in places)


def _pockets(carrier: SawCarrier, places: Iterable[Point]) -> Iterator[Step]:
    for at in places:
        pocket = nut_pocket(
            NUTS[THREAD][0],
            clearance=carrier.process.slide,
            radius=carrier.process.inside_radius,
            at=at,
        )
        yield Step(outline=pocket, top=NUT_DEPTH)


def bar_block(carrier: SawCarrier) -> Block:
    """The bar, its screws' heads sunk in its underside."""
    fit, frame = carrier.bar, carrier.frame
    places = [(0.0, y) for y in frame.bar_tracks]
    half = fit.width / 2.0
    return Block(
        outline=rectangle(-half, frame.y_front, half, frame.y_back),
        top=fit.height,
        steps=tuple(Step(outline=circle(fit.shank, at), top=fit.sink) for at in places),
        under=tuple(
            Step(outline=circle(fit.sink_diameter / 2.0, at), top=fit.sink) for at in places
        ),
    )


def facing_block(carrier: SawCarrier) -> Block:
    """The fence's face, which the blade cuts through."""
    frame = carrier.frame
    outline = rectangle(-frame.left, -FACING, frame.right, 0.0)
    return _sunk(carrier, outline, carrier.facing_height, frame.facing_screws())


def fence_block(carrier: SawCarrier) -> Block:
    """The fence, which ties the two plates together."""
    frame = carrier.frame
    outline = rectangle(-frame.left, -FACING - BODY, frame.right, -FACING)
    sunk = _sinks(carrier, carrier.tall, frame.fence_screws())
    return Block(outline=outline, top=carrier.tall, steps=(*sunk, *_holes(frame.rail_screws())))


def rail_block(carrier: SawCarrier) -> Block:
    """What the left hand holds, on the fence's far end."""
    frame = carrier.frame
    low, high = -FACING - BODY + 1.0, -FACING - 1.0
    outline = rectangle(-frame.left, low, RAIL - frame.left, high)
    return _sunk(carrier, outline, RAIL_HEIGHT, frame.rail_screws(), below=carrier.tall, least=5.3)


def grip_block(carrier: SawCarrier) -> Block:
    """What the right hand holds."""
    box = carrier.frame.grip_box()
    return _sunk(carrier, rectangle(*box), GRIP_HEIGHT, carrier.frame.grip_screws(), least=5.3)


def tie_block(carrier: SawCarrier) -> Block:
    """The tie across the far end."""
    frame = carrier.frame
    outline = rectangle(-62.0, frame.y_tie, frame.x_right - 8.0, frame.y_tie + TIE)
    words = _words(carrier, carrier.label, frame.y_tie + TIE / 2.0 - 2.5, 24.0)
    return _sunk(carrier, outline, carrier.tall, frame.tie_screws(), words=words)


def guard_block(carrier: SawCarrier) -> Block:
    """What covers the blade where it comes out behind the fence."""
    frame = carrier.frame
    back = [(x, frame.behind(x) - OFF / 2.0) for x in (GUARD, -GUARD)]
    outline = polygon([(-GUARD, frame.y_guard), (GUARD, frame.y_guard), *back])
    words = _words(carrier, "NO HANDS", frame.y_guard + 21.0, 22.0)
    return _sunk(carrier, outline, carrier.tall, frame.guard_screws(), words=words)


def holder_block(carrier: SawCarrier) -> Block:
    """What presses the strip down, its heel beyond the strip; z = 0 is the strip's top."""
    frame, heel = carrier.frame, carrier.thickness - PLAY
    x = -frame.kerf / 2.0 - TO_CUT
    far = frame.height + HEEL
    end = frame.holder_end()

    def outline(low: float, high: float, inset: float) -> Outline:
        right = [(frame.u_at(x, v) - 2.0 * inset, v) for v in (low, high)]
        return polygon([(end + inset, low), *right, (end + inset, high)])

    foot = outline(frame.height + 14.0, far - 1.0, 1.0)
    return Block(
        outline=outline(OFF, far, 0.0),
        top=carrier.holder,
        steps=tuple(_holes(frame.holder_screws())),
        under=(Step(outline=foot, top=-heel),),
    )


def stop_block(carrier: SawCarrier) -> Block:
    """The stop, its face parallel to the strip's end."""
    frame = carrier.frame
    face = frame.stand_off
    right = frame.end + face + STOP
    low, high = OFF, OFF + frame.stop_width
    outline = polygon(
        [
            (frame.end_at(low) + face, low),
            (right, low),
            (right, high),
            (frame.end_at(high) + face, high),
        ]
    )
    return _sunk(carrier, outline, carrier.stop_height, frame.stop_screws())


def set_block(carrier: SawCarrier) -> Block:
    """What stands between the stop and the strip's end while the length is set."""
    frame = carrier.frame
    low, high = OFF, max(frame.height, OFF + 4.0)
    corners = [(frame.end_at(low), low), (frame.end_at(low) + frame.stand_off, low)]
    corners += [(frame.end_at(high) + frame.stand_off, high), (frame.end_at(high), high)]
    return Block(outline=polygon(corners), top=SET_BLOCK_HEIGHT)


def _sunk(
    carrier: SawCarrier,
    outline: Outline,
    height: float,
    places: Iterable[Point],
    *,
    below: float = 0.0,
    least: float = 0.0,
    words: Iterable[Step] = (),
) -> Block:
    sunk = _sinks(carrier, height, places, below=below, least=least)
    return Block(outline=outline, top=height, steps=(*sunk, *words))


def _sinks(
    carrier: SawCarrier,
    height: float,
    places: Iterable[Point],
    *,
    below: float = 0.0,
    least: float = 0.0,
) -> Iterator[Step]:
    """Holes whose heads are sunk as deep as a screw of usual length asks."""
    deep = carrier.screw(below + height, least=least)[1]
    across = SOCKET_HEADS[THREAD][0] + 2.0 * carrier.process.loose
    for at in places:
        shank = Step(outline=circle(SHANK, at), top=0.0)
        if deep < 1e-6:
            yield shank
        else:
            yield Step(outline=circle(across / 2.0, at), top=height - deep, steps=(shank,))


def _words(carrier: SawCarrier, text: str, baseline: float, half: float) -> tuple[Step, ...]:
    """A line of words on a part's top, between -half and half; none where they are off."""
    if not carrier.lettered:
        return ()
    height = carrier.process.text_height + 2.0
    height = min(height, height * 2.0 * half / extent_of(text, height).width)
    return engraving(
        text,
        middle=0.0,
        baseline=baseline,
        height=height,
        top=carrier.tall,
        depth=carrier.process.text_depth,
    )
