"""`rosette new`: a design file to start from."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from rosette.cli.new_file import refuse_existing, write_new
from rosette.design import read_design_text
from rosette.design.kinds import KINDS
from rosette.design.questions import (
    QUESTIONS,
    Question,
    complete,
    usual_answer,
    wrong_with,
)
from rosette.design.starter import Answers, starter
from rosette.errors import CannotMakeError, RosetteError
from rosette.plan import make_plan
from rosette.units import Units

ABOUT = """\
Write a design to start from, every key explained in it.

Asks for what the design needs; an answer given as an option is not asked for. Where nobody can
be asked, --kind fills in what is usual, and the file marks each such value that has to be
measured. A length is a number in --units, or carries its own unit: "3 3/4 in".

Without FILE, or with -, the design is printed. A file that is there is never written over."""


def _options(command: Callable[..., None]) -> Callable[..., None]:
    for one in reversed(QUESTIONS):
        add = click.option(
            one.option, one.name, help=_sentence(one.about), multiple=one.name == "wood"
        )
        command = add(command)
    return command


def _sentence(about: str) -> str:
    return about[0].upper() + about[1:] + "."


@click.command("new", help=ABOUT, short_help="Start a design.")
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--kind", type=click.Choice(KINDS), help="What is usual on this kind of guitar.")
@click.option("--units", type=click.Choice(["mm", "in"]), help="Of numbers without a unit.")
@_options
def command(file: Path | None, kind: str | None, units: Units | None, **given: Any) -> None:
    """Ask, try it out, write."""
    target = None if file is None or str(file) == "-" else file
    if target is not None:
        refuse_existing(target)
    answers = _answers(given, units, kind)
    text = starter(answers)
    _tried(text)
    if file is None and sys.stdin.isatty() and sys.stdout.isatty():
        target = _file(answers.name)
    if target is None:
        click.echo(text, nl=False)
        return
    write_new(target, text.encode())
    click.echo(f"{target} is written. Next: rosette check {target}")


def _answers(given: dict[str, Any], units: Units | None, kind: str | None) -> Answers:
    given = {name: value for name, value in given.items() if value not in (None, ())}
    if not sys.stdin.isatty():
        return complete(given, units or "mm", kind)
    kind = kind or _choice("Kind of guitar", list(KINDS))
    units = units or _choice("Units", ["mm", "in"])
    complete(given, units, kind)
    for question in QUESTIONS:
        if question.asked and question.name not in given:
            offered = usual_answer(question, given, units, kind)
            if offered is not None:
                given[question.name] = _asked(question, offered, given, units, kind)
    return complete(given, units, kind)


def _file(name: str) -> Path:
    """The file to write, asked for until it is a new one."""

    def settle(text: str) -> Path:
        try:
            refuse_existing(Path(text))
        except RosetteError as error:
            raise click.UsageError(str(error)) from None
        return Path(text)

    offered = "-".join(re.findall(r"\w+", name.lower()))[:60] or "design"
    chosen: Path = click.prompt(
        "File to write", default=f"{offered}.toml", value_proc=settle, err=True
    )
    return chosen


def _choice(words: str, offered: list[str]) -> Any:
    return click.prompt(words, type=click.Choice(offered), default=offered[0], err=True)


def _asked(question: Question, offered: Any, given: dict[str, Any], units: Units, kind: str) -> Any:
    """One answer, asked for again until it will do."""

    def settle(text: str) -> Any:
        wood = question.name == "wood"
        answer = tuple(one.strip() for one in text.split(",")) if wood else text.strip()
        for one in answer if isinstance(answer, tuple) else (answer,):
            wrong = wrong_with(question, one, units)
            if wrong:
                raise click.UsageError(wrong)
        for trouble in _trouble(question, {**given, question.name: answer}, units, kind):
            raise click.UsageError(trouble)
        return answer

    default = ", ".join(offered) if isinstance(offered, tuple) else offered
    unit = f" ({units})" if question.kind.is_length else ""
    return click.prompt(f"{question.asked}{unit}", default=default, value_proc=settle, err=True)


def _trouble(question: Question, given: dict[str, Any], units: Units, kind: str) -> list[str]:
    """Why what was answered so far can't be made, where this answer can put it right."""
    try:
        _tried(starter(complete(given, units, kind)))
    except CannotMakeError as error:
        return [one.saying.text(units) for one in error.findings if one.code in question.refusals]
    except RosetteError as error:
        return [one.saying.text(units) for one in error.findings]
    return []


def _tried(text: str) -> None:
    make_plan(read_design_text(text.encode()))
