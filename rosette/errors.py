"""What can go wrong, said so that a maker knows where and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rosette.units import Units
from rosette.words import Saying, say


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing found: a mistake in a file, a reason why a ring can't be made, or a warning.

    `code` is a short fixed word for scripts, `where` the path of the key or part
    (`ring[2].width`, `channel[1]`), `saying` the sentence for people.
    """

    code: str
    where: str
    saying: Saying

    def text(self, units: Units = "mm") -> str:
        """`where: sentence`, or the sentence alone where there is no place to name."""
        sentence = self.saying.text(units)
        return f"{self.where}: {sentence}" if self.where else sentence


def finding(code: str, where: str, template: str | Saying, **words: object) -> Finding:
    """A finding from a format string, as `rosette.words.say` takes it."""
    saying = template if isinstance(template, Saying) else say(template, **words)  # type: ignore[arg-type]
    return Finding(code=code, where=where, saying=saying)


class RosetteError(Exception):
    """Base of every error a user can cause. `exit_code` is what the command ends with."""

    exit_code = 2

    def __init__(
        self, findings: Iterable[Finding] | str, *, source: str = "", units: Units = "mm"
    ) -> None:
        if isinstance(findings, str):
            findings = [Finding(code="error", where="", saying=say("{it}", it=findings))]
        self.findings = tuple(findings)
        self.source = source
        self.units = units
        super().__init__("\n".join(self.lines()))

    def lines(self) -> list[str]:
        """One line a finding, each led by the file it was found in."""
        lead = f"{self.source}: " if self.source else ""
        return [lead + one.text(self.units) for one in self.findings]


class InputError(RosetteError, ValueError):
    """The input is wrong: exit code 2."""


class CannotMakeError(RosetteError, ValueError):
    """The design is sound but can't be made as asked: exit code 1."""

    exit_code = 1


class MissingLibraryError(RosetteError, ImportError):
    """A library that this one part of the job needs is not there; it says what to install."""
