"""Wedges of one wood, one after the other round the ring, that come from one piece of wood."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rosette.offcuts.cutplan import CutWedge


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Neighbours of one wood out of one piece, all laid one way or in two ways turn by turn."""

    wedges: tuple[CutWedge, ...]

    @property
    def places(self) -> str:
        """From which place to which, counting those of this wood alone."""
        first, last = self.wedges[0].position, self.wedges[-1].position
        return str(first) if first == last else f"{first}-{last}"

    @property
    def laid(self) -> str:
        """How they are laid, in words."""
        ways = list(dict.fromkeys(one.laid for one in self.wedges))
        return ways[0] if len(ways) == 1 else f"{' and '.join(ways)} in turn"


def stretches(placed: Sequence[CutWedge]) -> Iterator[Stretch]:
    """The wedges of one ring and wood in the order of their places, as few stretches as follow."""
    group: list[CutWedge] = []
    for at, one in enumerate(placed):
        if group and not _goes_on(group, one, placed[at + 1 :]):
            yield Stretch(wedges=tuple(group))
            group = []
        group.append(one)
    if group:
        yield Stretch(wedges=tuple(group))


def _goes_on(group: Sequence[CutWedge], one: CutWedge, then: Sequence[CutWedge]) -> bool:
    if _source(one) != _source(group[-1]):
        return False
    if len(group) > 1:
        return one.laid == group[-2].laid
    # Two that differ are in turn only if a third bears it out.
    return one.laid == group[0].laid or (
        bool(then) and (*_source(then[0]), then[0].laid) == (*_source(one), group[0].laid)
    )


def _source(one: CutWedge) -> tuple[str, int]:
    return one.offcut, one.piece
