"""Reading one table of a design file: what is missing, unknown, wrong, or does not go together."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar

from rosette.keys.declare import At, Key, Keys, Kind, Rule, rules_of
from rosette.keys.show import show

ENOUGH = 100
"""Findings after which looking for the nearest name helps nobody."""

AnyKeys = TypeVar("AnyKeys", bound=Keys)


def inner(model: type[Keys]) -> Kind:
    """A key that holds a table of its own."""
    return Kind(
        read=lambda value, at: read_table(model, value, at), called="table", schema={}, table=model
    )


def read_table(model: type[AnyKeys], value: object, at: At) -> AnyKeys | None:
    """A table read into its record; None, and every finding told, where something is wrong."""
    if not isinstance(value, dict):
        _not_a_table(value, at)
        return None
    before = len(at.findings)
    read = _values(model, value, at)
    known = model.known
    for name in value:
        if name not in known:
            what = "table" if not at.path and isinstance(value[name], (dict, list)) else "key"
            advice = at.remedy(name, model) if len(at.findings) < ENOUGH else "nor are others"
            at.below(name).tell("unknown-key", f"is not a known {what}; {advice}")
    for rule in rules_of(model):
        _hold(rule, value, known, at)
    if len(at.findings) > before:
        return None
    made = model(**read)
    made.look_over(at)
    return made if len(at.findings) == before else None


def _values(model: type[Keys], value: Mapping[str, object], at: At) -> dict[str, Any]:
    read = {}
    for name, key in model.known.items():
        if name in value:
            read[name] = key.kind.read(value[name], at.below(name, key))
        elif key.required:
            at.below(name).tell("missing-key", _missing(key, at))
    return read


def _not_a_table(value: object, at: At) -> None:
    if len(at.path) == 1:
        advice = f"write [{at.path[0]}] on a line, its keys below"
        at.tell("wrong-value", f"{show(value)} is not a table; {advice}")
    else:
        at.refuse(f"{show(value)} is not a table")


def _missing(key: Key, at: At) -> str:
    if key.kind.table is not None and not at.path:
        needed = [name for name, one in key.kind.table.known.items() if one.required]
        return f"the table [{key.name}] is missing; it needs {listed(needed)}"
    return f"is missing: {_about(key, at)}"


def _about(key: Key, at: At) -> str:
    return f"{key.about}; for example {key.line(at.units)}"


def listed(names: list[str]) -> str:
    """Names in a sentence.

    >>> listed(["a"]), listed(["a", "b", "c"])
    ('a', 'a, b and c')
    """
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


def _hold(rule: Rule, value: Mapping[str, object], known: Mapping[str, Key], at: At) -> None:
    given = [name for name in rule.names if name in value]
    if len(given) in rule.counts:
        return
    if len(given) > max(rule.counts):
        sentence = f"does not go together with {given[0]}; keep one of the two"
        at.below(given[-1]).tell("clash", sentence)
        return
    first, *others = (name for name in rule.names if name not in given)
    if given:
        sentence = f"is missing; it goes together with {given[0]}: "
    else:
        sentence = f"is missing, and so is {' or '.join(others)}; give one of them: "
    at.below(first).tell("missing-key", sentence + _about(known[first], at))
