"""What every fixture is: frozen sizes worked out from the plan, and a solid made on request."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rosette.errors import CannotMakeError, Finding

if TYPE_CHECKING:
    import cadquery

    from jigs.terrace import Block


class FixtureError(CannotMakeError):
    """The kernel could not make a fixture's solid, or made one that is not what was asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixture(ABC):
    """The sizes of one fixture (mm); it costs nothing until its solid is asked for.

    `name` is the stem of its files ("ring-1-tray"), `title` what the part is called in
    programs that open them, `purpose` one sentence for the manifest and the packet.
    """

    name: str
    title: str
    purpose: str
    warnings: tuple[Finding, ...] = ()

    @abstractmethod
    def block(self) -> Block:
        """Its shape: flat steps, in ring coordinates, standing on z = 0."""

    def volume(self) -> float:
        """Its volume in mm³ by formula, against which the solid is checked."""
        return self.block().volume()

    def solid(self) -> cadquery.Solid:
        """Its solid, checked: valid, one, and of the volume that the formula gives.

        Raises:
            MissingLibraryError: the CAD kernel can't be loaded.
            FixtureError: the kernel failed, or the solid is not what was asked for.
        """
        from jigs.block_solid import checked_solid

        return checked_solid(self)
