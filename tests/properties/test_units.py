"""Lengths: every way of writing one gives the same, checked with exact fractions."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosette.units import (
    LengthError,
    Units,
    format_length,
    nearest_fraction,
    number_in,
    parse_length,
    parse_temperature,
    rounded,
)

# the international inch, exact since 1959
INCH = Fraction("25.4")
LENGTHS = st.floats(0, 9999, allow_nan=False)
WHOLE = st.integers(0, 300)
BLANKS = st.sampled_from([" ", "  ", "\t", "\u00a0"])
INCH_UNITS = st.sampled_from(["in", "inch", "inches", '"', "″", "”", "''", " in", " IN", " in."])


@st.composite
def proper(draw: st.DrawFn) -> Fraction:
    bottom = draw(st.integers(2, 128))
    return Fraction(draw(st.integers(1, bottom - 1)), bottom)


def exact(inches: Fraction) -> float:
    return float(inches * INCH)


@given(WHOLE, proper(), INCH_UNITS, st.one_of(BLANKS, st.just("-")))
def test_a_whole_and_a_fraction(whole: int, part: Fraction, unit: str, between: str) -> None:
    text = f"{whole}{between}{part.numerator}/{part.denominator}{unit}"
    assert parse_length(text) == pytest.approx(exact(whole + part), rel=1e-12)


@given(st.integers(1, 5000), st.integers(1, 128), INCH_UNITS)
def test_a_fraction_alone(top: int, bottom: int, unit: str) -> None:
    if Fraction(top, bottom) * INCH <= 10_000:
        found = parse_length(f"{top}/{bottom}{unit}")
        assert found == pytest.approx(exact(Fraction(top, bottom)), rel=1e-12)


@given(st.integers(0, 9999), st.integers(0, 9999), st.sampled_from(["mm", "cm", "in"]))
def test_decimals(whole: int, decimals: int, unit: str) -> None:
    text = f"{whole}.{decimals:04d}"
    wanted = Fraction(text) * {"mm": 1, "cm": 10, "in": INCH}[unit]
    if wanted <= 10_000:
        assert parse_length(f"{text} {unit}") == pytest.approx(float(wanted), rel=1e-12)
    else:
        with pytest.raises(LengthError, match="longer than 10 m"):
            parse_length(f"{text} {unit}")


@given(LENGTHS)
def test_a_number_and_its_text_are_the_same(length: float) -> None:
    written = f"{length:.9f}"
    assert parse_length(f"{written} mm") == pytest.approx(parse_length(float(written)))
    assert parse_length(float(written) / 25.4, "in") == pytest.approx(float(written), abs=1e-9)


@given(st.one_of(WHOLE.map(str), proper().map(lambda f: f"{f.numerator}/{f.denominator}")))
def test_a_minus_of_either_kind_turns_it_round(text: str) -> None:
    length = parse_length(f"{text} in")
    assert parse_length(f"-{text} in") == -length
    assert parse_length(f"−{text} in") == -length
    assert math.copysign(1, parse_length("-0 mm")) == 1


@given(LENGTHS)
def test_the_nearest_64th_is_within_half_of_one(length: float) -> None:
    text = nearest_fraction(length)
    assert abs(parse_length(f"{text} in") - length) <= 25.4 / 128 + 1e-9
    fraction = Fraction(sum(Fraction(part) for part in text.split(" ")))
    assert 64 % fraction.denominator == 0


@given(st.floats(-9999, 9999, allow_nan=False))
def test_what_is_told_reads_back_to_what_it_was(length: float) -> None:
    assert float(number_in(length, "mm")) == pytest.approx(length, abs=0.005001)
    assert float(number_in(length, "in")) * 25.4 == pytest.approx(length, abs=25.4 * 0.000501)
    assert format_length(length).endswith(" mm")
    assert "-0.00 " not in format_length(length)


def outcome(value: object, units: Units = "mm") -> float | str:
    """The length, or why it is none."""
    try:
        return parse_length(value, units)
    except LengthError as error:
        return str(error)


@given(st.text(max_size=80))
def test_any_text_is_a_length_or_refused(text: str) -> None:
    found = outcome(text)
    if isinstance(found, str):
        assert found.startswith(("is ", "has ", "can't ", "lacks ", "mixes "))
    else:
        assert abs(found) <= 10_000
        assert any(digit in text for digit in "0123456789½¼¾⅛⅜⅝⅞")


@given(
    st.one_of(
        st.integers(),
        st.floats(),
        st.booleans(),
        st.none(),
        st.lists(st.integers(), max_size=2),
        st.dates(),
        st.integers(-(10**500), 10**500),
    ),
    st.sampled_from(["mm", "in"]),
)
def test_any_value_is_a_length_or_refused(value: object, units: Units) -> None:
    found = outcome(value, units)
    if isinstance(found, str):
        assert found.startswith("is ")
    else:
        assert isinstance(value, (int, float))
        assert not isinstance(value, bool)
        assert abs(found) <= 10_000


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        (" 3  3/4 in", "15/4"),
        ("3 3/4in", "15/4"),
        ("3¾ in", "15/4"),
        ("½ in", "1/2"),
        ("3 3⁄4 in", "15/4"),
        ('0.060"', "60/1000"),
        (".5 in", "1/2"),
        ("5. in", "5"),
        ("0 3/4 in", "3/4"),
        ("0005 in", "5"),
        ("5/4 in", "5/4"),
    ],
)
def test_as_shops_write_it(text: str, inches: str) -> None:
    assert parse_length(text) == pytest.approx(exact(Fraction(inches)), rel=1e-12)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("3 3/4", "lacks its unit"),
        ("62", "lacks its unit"),
        ("62.", "lacks its unit"),
        ("1.5-3/4 in", "mixes a decimal with a fraction"),
        ("1.5 3/4 in", "mixes a decimal with a fraction"),
        ("3 4/4 in", "a fraction of one or more"),
        ("3/0 in", "0 below the line"),
        ("2,5 mm", "2.5 and not 2,5"),
        ("1e3 mm", "can't be read"),
        ("3 - 3/4 in", "can't be read"),
        ("3 3 /4 in", "can't be read"),
        ("3 3/4 3/4 in", "can't be read"),
        ("--3 mm", "can't be read"),
        ("+3 mm", "can't be read"),
        ("3 m", "can't be read"),
        ("3 ft", "can't be read"),
        ("1' 3 in", "can't be read"),
        ("0x10 mm", "can't be read"),
        ("1_000 mm", "can't be read"),
        ("٣ mm", "the digits 0 to 9"),
        ("３ mm", "the digits 0 to 9"),
        ("³ mm", "the digits 0 to 9"),
        ("nan mm", "can't be read"),
        ("inf mm", "can't be read"),
        ("9" * 70 + " mm", "can't be read"),
        ("9" * 50 + " mm", "longer than 10 m"),
        ("9" * 50 + "/1 in", "longer than 10 m"),
        ("", "can't be read"),
        ("mm", "can't be read"),
        ("/4 in", "can't be read"),
    ],
)
def test_what_is_refused_rather_than_guessed(text: str, why: str) -> None:
    with pytest.raises(LengthError, match=why):
        parse_length(text)


@pytest.mark.parametrize(
    ("value", "celsius"),
    [
        # fixed points of the two scales
        ("32 F", 0),
        ("212 °F", 100),
        ("-40F", -40),
        ("−40 F", -40),
        ("21 C", 21),
        ("21.5 °c", 21.5),
        (21, 21),
        (-3.5, -3.5),
    ],
)
def test_temperatures(value: object, celsius: float) -> None:
    assert parse_temperature(value) == pytest.approx(celsius)


@pytest.mark.parametrize(
    "value", ["21", "70 K", "", "F", "٢١ C", True, None, [], math.nan, math.inf]
)
def test_what_is_no_temperature(value: object) -> None:
    with pytest.raises(ValueError, match=r"^(is|can't) "):
        parse_temperature(value)


@given(st.decimals(-9999, 9999, places=6, allow_nan=False), st.integers(0, 4))
def test_numbers_are_rounded_half_up(number: Decimal, places: int) -> None:
    """As everybody rounds by hand; the standard library's decimals say how."""
    wanted = number.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
    assert rounded(float(number), places) == (f"{wanted}" if wanted else f"{abs(wanted)}")


def test_half_way_goes_up_wherever_it_is_told() -> None:
    assert format_length(1.5875, "in") == "0.063 in (1/16)"
    assert number_in(0.125, "mm") == "0.13"
    assert nearest_fraction(25.4 / 128) == "1/64"
