"""How a table of the design file is declared: its keys, what each may hold, which go together."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, field, fields, replace
from pathlib import Path as Folder
from typing import Any, ClassVar, NamedTuple, TypeVar, dataclass_transform

from rosette.errors import Finding, finding
from rosette.keys.show import key_path, toml_value
from rosette.units import Units

Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """What a key may hold.

    `read` takes the value as it stands in the file and gives it in millimetres, degrees, °C
    or percent; where it can't, it tells its place so and gives None. `called` says in a few
    words what it takes, `schema` as JSON Schema. `table` is the class of the table where the
    key holds one.
    """

    read: Callable[[object, At], Any]
    called: str
    schema: Mapping[str, Any]
    is_length: bool = False
    table: type[Keys] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key: what it may hold, what it is for, and an example as it would stand in a file."""

    name: str
    kind: Kind
    about: str
    example: Any
    default: Any = MISSING

    @property
    def required(self) -> bool:
        """Whether a table can't do without it."""
        return self.default is MISSING

    def line(self, units: Units = "mm") -> str:
        """The key with its example, as it would stand in a file of these units."""
        in_inches = units == "in" and self.kind.is_length
        return f"{self.name} = {toml_value(f'{self.example} mm' if in_inches else self.example)}"


def key(kind: Kind, about: str, *, example: Any, default: Any = MISSING) -> Any:
    """Declare a key of a table; without `default` it is required."""
    made = Key(name="", kind=kind, about=about, example=example, default=default)
    return field(default=default, metadata={"key": made})


Table = TypeVar("Table")


@dataclass_transform(kw_only_default=True, frozen_default=True, field_specifiers=(key,))
def table(cls: type[Table]) -> type[Table]:
    """Make a class of keys the frozen record that a table of the file is read into."""
    made = dataclass(frozen=True, slots=True, kw_only=True)(cls)
    keys = {one.name: replace(one.metadata["key"], name=one.name) for one in fields(made)}  # type: ignore[arg-type]
    made.known = keys  # type: ignore[attr-defined]
    return made


class Rule(NamedTuple):
    """How many of these keys may stand in one table."""

    names: tuple[str, ...]
    counts: tuple[int, ...]


@table
class Keys:
    """One table of the design file.

    `known` are its keys by the names they have in a file; `rules` are those that a class adds
    to its base's.
    """

    known: ClassVar[Mapping[str, Key]]
    rules: ClassVar[tuple[Rule, ...]] = ()

    def look_over(self, at: At) -> None:
        """Tell what does not agree among keys that are each sound; a table may have its own."""


def rules_of(model: type[Keys]) -> tuple[Rule, ...]:
    """A table's rules, its base's first."""
    return tuple(
        rule for base in reversed(model.__mro__) for rule in base.__dict__.get("rules", ())
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class At:
    """A place in a file while it is read: its path, the file's units, where findings gather.

    `remedy` says what to do about a key that a table does not know. `folder` is the file's own,
    None where what is read is in no file.
    """

    units: Units
    findings: list[Finding]
    remedy: Callable[[str, type[Keys]], str]
    path: Path = ()
    key: Key | None = None
    folder: Folder | None = None

    def below(self, part: str | int, key: Key | None = None) -> At:
        """The place of a key in this table, or of an item in this list (from 0)."""
        return At(
            units=self.units,
            findings=self.findings,
            remedy=self.remedy,
            path=(*self.path, part),
            key=key or self.key,
            folder=self.folder,
        )

    def tell(self, code: str, sentence: str) -> None:
        """Gather a finding about this place."""
        self.findings.append(finding(code, key_path(self.path), "{it}", it=sentence))

    def refuse(self, sentence: str) -> None:
        """Gather a finding about the value, with an example of a good one."""
        advice = f"; write for example {self.key.line(self.units)}" if self.key else ""
        self.tell("wrong-value", sentence + advice)
