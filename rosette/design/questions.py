"""What has to be asked before a design can be started, and which answers will do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from rosette.design.kinds import KINDS, usual
from rosette.design.names import remedy
from rosette.design.starter import Answers
from rosette.design.typed import as_toml, habit, typed_length
from rosette.errors import Finding, InputError, finding
from rosette.keys import At, Kind
from rosette.keys.kinds import LENGTH, NAME, POSITIVE_LENGTH, whole
from rosette.keys.show import show
from rosette.units import LENGTH_EXPECTED, LengthError, Units

COUNT = whole(least=3, most=720)


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One answer: the option that gives it, how it is asked for, what it may be.

    `asked` is empty where only an option gives it, `instead_of` the answer that makes it
    needless, `refusals` the codes of those reasons against making a ring that this answer,
    being the last of those concerned, can put right.
    """

    name: str
    option: str
    about: str
    kind: Kind = POSITIVE_LENGTH
    asked: str = ""
    optional: bool = False
    instead_of: str = ""
    refusals: frozenset[str] = frozenset()


QUESTIONS = (
    Question(name="name", option="--name", about="what the job is called", kind=NAME,
             asked="Name of the job"),
    Question(name="soundhole", option="--soundhole", about="across the finished soundhole",
             asked="Soundhole, across"),
    Question(name="board", option="--fingerboard-width", optional=True,
             about="width of the fingerboard where it covers the rosette, or none",
             asked="Fingerboard's width where it covers the rosette (or none)"),
    Question(name="reach", option="--fingerboard-reach", kind=LENGTH, optional=True,
             about="from the soundhole's centre to the fingerboard's end, or none",
             asked="From the soundhole's centre to the fingerboard's end (or none)"),
    Question(name="top", option="--top", about="thickness of the top, measured",
             asked="Thickness of the top, measured"),
    Question(name="tile", option="--tile", about="thickness of the ring's wood, measured",
             asked="Thickness of the ring's wood, measured",
             refusals=frozenset({"floor-too-thin", "not-let-in"})),
    Question(name="inner_radius", option="--inner-radius", instead_of="space",
             about="from the soundhole's centre to the ring's inner edge"),
    Question(name="space", option="--space", kind=LENGTH, instead_of="inner_radius",
             about="soundboard left between the soundhole and the ring"),
    Question(name="width", option="--width", about="width of the finished ring",
             asked="Width of the ring"),
    Question(name="bit", option="--bit", about="diameter of the router bit, measured",
             asked="Diameter of the router bit, measured",
             refusals=frozenset({"bit-too-wide", "too-many-passes"})),
    Question(name="kerf", option="--kerf", kind=LENGTH, about="width of the saw's cut, measured",
             asked="Width of the saw's cut, measured"),
    Question(name="segments", option="--segments", about="how many wedges", kind=COUNT,
             instead_of="segment_width", asked="How many wedges",
             refusals=frozenset({"no-inner-edge"})),
    Question(name="segment_width", option="--segment-width", instead_of="segments",
             about="about how wide a wedge may be at the rim, instead of --segments"),
    Question(name="wood", option="--wood", about="the wedges' wood; again for each that follows",
             kind=NAME, asked="Wood of the wedges (several, with commas between, take turns)"),
)  # fmt: skip
"""In the order in which they are asked."""

MEASURED = ("soundhole", "top", "tile", "bit", "kerf")
"""The answers that no habit can stand for."""
NONE = "none"
Given = Mapping[str, Any]


def wrong_with(question: Question, text: str, units: Units) -> str | None:
    """What is wrong with an answer by itself, as a sentence; None where nothing is."""
    if question.optional and text.strip().lower() == NONE:
        return None
    at = At(units=units, findings=[], remedy=remedy)
    try:
        question.kind.read(_value(question, text, units), at)
    except LengthError as error:
        return f"{show(text)} {error}; expected {LENGTH_EXPECTED}"
    return at.findings[0].saying.text() if at.findings else None


def _value(question: Question, text: str, units: Units) -> object:
    if question.kind.is_length:
        written = as_toml(text, units)
        if written.isdigit():
            return int(written)
        return written.strip('"') if written.startswith('"') else float(written)
    if question.kind is COUNT:
        return int(text) if text.strip().isascii() and text.strip().isdigit() else text
    return text


def usual_answer(question: Question, given: Given, units: Units, kind: str) -> Any:
    """What to take for an answer that nobody gave; None where the design does without."""
    if question.instead_of and given.get(question.instead_of) is not None:
        return None
    if question.name in ("board", "reach") and NONE in (given.get("board"), given.get("reach")):
        return None
    if question.name == "reach" and given.get("soundhole") is not None:
        return habit(typed_length(given["soundhole"], units) / 2, units)
    return usual(kind, units).get(question.name)


def complete(given: Given, units: Units, kind: str | None) -> Answers:
    """The answers given, and the usual ones for a kind of guitar where none was.

    Raises:
        InputError: with every answer that is wrong or missing, or goes with no other.
    """
    given = {name: value for name, value in given.items() if value not in (None, ())}
    findings = [*_wrong(given, units), *_clashing(given)]
    if not findings and kind is None:
        findings = list(_missing(given))
    if findings:
        raise InputError(findings, units=units)
    settled, assumed = dict(given), set()
    for question in QUESTIONS:
        if question.name not in given:
            # the width and count of a ring are a choice, not a measurement: any kind's will do
            settled[question.name] = usual_answer(question, given, units, kind or KINDS[0])
            assumed.add(question.name)
    for name in ("board", "reach"):
        if settled[name] == NONE or (kind is None and name not in given):
            settled[name] = None
    return Answers(units=units, assumed=frozenset(assumed), **settled)


def _wrong(given: Given, units: Units) -> Iterator[Finding]:
    for question in QUESTIONS:
        value = given.get(question.name, ())
        for text in value if isinstance(value, tuple) else (value,):
            wrong = wrong_with(question, text, units)
            if wrong:
                yield finding("wrong-value", question.option, "{it}", it=wrong)


def _clashing(given: Given) -> Iterator[Finding]:
    both = "does not go together with {other}; give one of the two"
    if "space" in given and "inner_radius" in given:
        yield finding("clash", "--space", both, other="--inner-radius")
    if "segment_width" in given and "segments" in given:
        yield finding("clash", "--segment-width", both, other="--segments")
    boards = {name for name in ("board", "reach") if given.get(name, NONE) != NONE}
    if len(boards) == 1 and NONE in (given.get("board"), given.get("reach")):
        option = "--fingerboard-width" if "board" in boards else "--fingerboard-reach"
        other = "--fingerboard-reach" if "board" in boards else "--fingerboard-width"
        template = "does not go together with {other} none; measure both, or give none for both"
        yield finding("clash", option, template, other=other)


def _missing(given: Given) -> Iterator[Finding]:
    for question in QUESTIONS:
        if question.name in MEASURED and question.name not in given:
            template = "is missing: {about}; or give --kind to start from what is usual"
            yield finding("missing-key", question.option, template, about=question.about)
    if ("board" in given) != ("reach" in given) and NONE not in given.values():
        option = "--fingerboard-reach" if "board" in given else "--fingerboard-width"
        yield finding("missing-key", option, "is missing; it goes together with the other measure")
