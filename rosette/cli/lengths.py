"""Lengths given as options of a command."""

from __future__ import annotations

import click

from rosette.design.typed import typed_length
from rosette.units import LENGTH_EXPECTED, LengthError, Units


def length_option(option: str, text: str, units: Units) -> float:
    """A length above 0 in mm, a plain number being in `units`."""
    try:
        length = typed_length(text, units)
    except LengthError as error:
        raise click.UsageError(f'{option}: "{text}" {error}; expected {LENGTH_EXPECTED}.') from None
    if length <= 0:
        raise click.UsageError(f"{option}: it has to be more than zero.")
    return length
