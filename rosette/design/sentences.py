"""A sentence for every way in which a value can be wrong."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic.fields import FieldInfo

from rosette.design.names import example, nearest
from rosette.design.show import show
from rosette.keys import REFUSED
from rosette.units import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """A value that a key can't have: what the validator calls it, and the key it stands at."""

    kind: str
    value: Any
    context: Mapping[str, Any]
    name: str
    field: FieldInfo | None
    units: Units

    @property
    def shown(self) -> str:
        """The value as it is shown."""
        return show(self.value)

    @property
    def advice(self) -> str:
        """How the key would be written well."""
        if self.field is None or not self.field.examples:
            return ""
        return f"; write for example {example(self.name, self.field, self.units)}"


def sentence(wrong: Wrong) -> str:
    """What is wrong with a value, and what would do."""
    return _SENTENCES.get(wrong.kind, _unusable)(wrong)


def _refused(wrong: Wrong) -> str:
    return f"{wrong.shown} {wrong.context['problem']}; expected {wrong.context['expected']}"


def _not_whole(wrong: Wrong) -> str:
    value = wrong.value
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e6:
        return f"{wrong.shown} has a decimal point; write {wrong.name} = {int(value)}"
    if isinstance(value, str) and value.isascii() and value.isdigit() and len(value) < 7:
        return f"{wrong.shown} stands in quotes; write {wrong.name} = {int(value)}"
    return f"{wrong.shown} is not a whole number{wrong.advice}"


def _not_number(wrong: Wrong) -> str:
    return f"{wrong.shown} is not a number{wrong.advice}"


def _not_words(wrong: Wrong) -> str:
    if isinstance(wrong.value, (dict, list)):
        return f"{wrong.shown} stands where words belong{wrong.advice}"
    return f"{wrong.shown} is not words in quotes{wrong.advice}"


def _not_table(wrong: Wrong) -> str:
    return (
        f"{wrong.shown} is not a table{wrong.advice or f'; write [{wrong.name}], its keys below'}"
    )


def _not_list(wrong: Wrong) -> str:
    return f"{wrong.shown} is neither words in quotes nor a list of them{wrong.advice}"


def _not_true_or_false(wrong: Wrong) -> str:
    name = wrong.name
    return f"{wrong.shown} is neither true nor false; write {name} = true or {name} = false"


def _outside(wrong: Wrong) -> str:
    if isinstance(wrong.value, float) and not math.isfinite(wrong.value):
        return f"{wrong.shown} is not a finite number{wrong.advice}"
    words = {"ge": "at least", "gt": "more than", "le": "at most", "lt": "less than"}
    bound, limit = next(iter(wrong.context.items()))
    return f"{wrong.shown} is out of range; it must be {words[bound]} {limit:g}"


def _bad_words(wrong: Wrong) -> str:
    text = str(wrong.value)
    if not text.strip():
        return f"it is blank{wrong.advice}"
    if wrong.kind == "string_too_long":
        most = wrong.context["max_length"]
        return f"{wrong.shown} is too long: {len(text)} characters, at most {most}"
    return f"{wrong.shown} holds a line break or a character that can't be printed"


def _bad_list_length(wrong: Wrong) -> str:
    if wrong.kind == "too_short":
        return f"the list is empty{wrong.advice}"
    context = wrong.context
    return f"the list has {context['actual_length']} items; at most {context['max_length']} do"


def _not_one_of(wrong: Wrong) -> str:
    expected = wrong.context["expected"].replace("'", '"')
    if wrong.name == "schema":
        return f"{wrong.shown} is not a format that this version reads; write schema = {expected}"
    known = [word.strip('"') for word in expected.split() if '"' in word]
    near = nearest(wrong.value, known) if isinstance(wrong.value, str) else None
    meant = f'; did you mean "{near}"?' if near else ""
    return f"{wrong.shown} is not {expected}{meant}"


def _own_rule(wrong: Wrong) -> str:
    return str(wrong.context["error"])


def _unusable(wrong: Wrong) -> str:
    return f"{wrong.shown} can't be used here{wrong.advice}"


_SENTENCES: Mapping[str, Callable[[Wrong], str]] = {
    REFUSED: _refused,
    "int_type": _not_whole,
    "float_type": _not_number,
    "string_type": _not_words,
    "model_type": _not_table,
    "list_type": _not_list,
    "bool_type": _not_true_or_false,
    "greater_than": _outside,
    "greater_than_equal": _outside,
    "less_than": _outside,
    "less_than_equal": _outside,
    "finite_number": _outside,
    "string_too_short": _bad_words,
    "string_too_long": _bad_words,
    "string_pattern_mismatch": _bad_words,
    "too_short": _bad_list_length,
    "too_long": _bad_list_length,
    "literal_error": _not_one_of,
    "value_error": _own_rule,
}
