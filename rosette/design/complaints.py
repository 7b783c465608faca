"""What the validator and the tables' own rules found, as findings for a maker."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from rosette.design.names import example, field_at, remedy, required, table_at, table_in
from rosette.design.sentences import Wrong, sentence
from rosette.design.show import key_path
from rosette.errors import Finding, finding
from rosette.keys import Keys, Rule
from rosette.units import Units

Path = tuple[str | int, ...]


def complaint(error: ErrorDetails, model: type[Keys], prefix: Path, units: Units) -> Finding:
    """One error of the validator as a finding; `prefix` is the path of the table it read."""
    loc = error["loc"]
    where = key_path((*prefix, *loc))
    name = next((part for part in reversed(loc) if isinstance(part, str)), "")
    if error["type"] == "extra_forbidden":
        top = not (*prefix, *loc[:-1])
        what = "table" if top and isinstance(error["input"], (dict, list)) else "key"
        advice = remedy(name, table_at(model, loc[:-1]))
        return finding("unknown-key", where, f"is not a known {what}; {{it}}", it=advice)
    field = field_at(model, loc)
    if error["type"] == "missing":
        missing = _missing(name, field, units, top=len((*prefix, *loc)) == 1)
        return finding("missing-key", where, "{it}", it=missing)
    wrong = Wrong(
        kind=error["type"],
        value=error["input"],
        context=error.get("ctx", {}),
        name=name,
        field=field,
        units=units,
    )
    return finding("wrong-value", where, "{it}", it=sentence(wrong))


def _missing(name: str, field: FieldInfo | None, units: Units, *, top: bool) -> str:
    if field is None:
        return "is missing"
    table = table_in(field)
    if table is not None and top:
        return f"the table [{name}] is missing; it needs {_listed(required(table))}"
    return f"is missing: {_about(name, field, units)}"


def _about(name: str, field: FieldInfo, units: Units) -> str:
    return f"{field.description}; for example {example(name, field, units)}"


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


def broken_rules(
    table: Mapping[str, object], model: type[Keys], prefix: Path, units: Units
) -> Iterator[Finding]:
    """What a table's own rules say about which of its keys stand together."""
    for base in reversed(model.__mro__):
        for rule in base.__dict__.get("rules", ()):
            given = [name for name in rule.names if name in table]
            if len(given) not in rule.counts:
                yield _broken(rule, given, model, prefix, units)


def _broken(rule: Rule, given: list[str], model: type[Keys], prefix: Path, units: Units) -> Finding:
    if len(given) > max(rule.counts):
        where = key_path((*prefix, given[-1]))
        template = "does not go together with {other}; keep one of the two"
        return finding("clash", where, template, other=given[0])
    absent = [name for name in rule.names if name not in given]
    field = field_at(model, (absent[0],))
    about = _about(absent[0], field, units) if field else ""
    if given:
        template, other = "is missing; it goes together with {other}: {about}", given[0]
    else:
        template = "is missing, and so is {other}; give one of them: {about}"
        other = " or ".join(absent[1:])
    where = key_path((*prefix, absent[0]))
    return finding("missing-key", where, template, other=other, about=about)
