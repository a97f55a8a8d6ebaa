"""Lengths are read exactly or refused with their readings, and print back as they were read."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.errors import LengthNotUnderstood
from nesting.units import (
    NM_PER_INCH,
    NM_PER_MM,
    Length,
    Unit,
    inch_text,
    inches,
    length_text,
    mm,
    mm_text,
    near_mm_text,
    read_length,
    read_unit,
)

MARK = NM_PER_INCH // 64  # 396 875 nm, the finest inch mark

# The spellings of a run list with what they mean in millimetres (25.4 mm to the inch, NIST HB 44).
READ = [
    # inches: 10.375 x 25.4 = 263.525, 36.25 x 25.4 = 920.75, 0.4375 x 25.4 = 11.1125
    ('10-3/8"', None, "263.525", Unit.INCH),
    ("10 3/8", Unit.INCH, "263.525", Unit.INCH),
    ("10-3/8", Unit.INCH, "263.525", Unit.INCH),
    ("36 ¼", Unit.INCH, "920.75", Unit.INCH),
    ("36¼", Unit.INCH, "920.75", Unit.INCH),
    ("36 1⁄4", Unit.INCH, "920.75", Unit.INCH),
    ("36 ¹⁄₄", Unit.INCH, "920.75", Unit.INCH),
    ("36¹/₄", Unit.INCH, "920.75", Unit.INCH),
    ("36⅟4", Unit.INCH, "920.75", Unit.INCH),
    ("36-1/4", Unit.INCH, "920.75", Unit.INCH),
    ("36‑1/4", Unit.INCH, "920.75", Unit.INCH),
    ("36–1/4″", None, "920.75", Unit.INCH),
    ("36 1 / 4", Unit.INCH, "920.75", Unit.INCH),
    ("36 1/4″", None, "920.75", Unit.INCH),
    ("36 1/4”", None, "920.75", Unit.INCH),
    ("36 1/4''", None, "920.75", Unit.INCH),
    ("36 1/4′′", None, "920.75", Unit.INCH),
    ("36 1/4 in", None, "920.75", Unit.INCH),
    ("36 1/4in.", None, "920.75", Unit.INCH),
    ("36 1/4 Inch", None, "920.75", Unit.INCH),
    ("36 1/4 inches", None, "920.75", Unit.INCH),
    ("36.25 in", None, "920.75", Unit.INCH),
    ("36,25 in", None, "920.75", Unit.INCH),
    ("36.25", Unit.INCH, "920.75", Unit.INCH),
    ("  36\u00a01/4  ", Unit.INCH, "920.75", Unit.INCH),
    ("36\u200b1/4", Unit.INCH, "920.75", Unit.INCH),
    ('7/16"', None, "11.1125", Unit.INCH),
    ("0 3/8", Unit.INCH, "9.525", Unit.INCH),
    (".375 in", None, "9.525", Unit.INCH),
    ("⅜ in", None, "9.525", Unit.INCH),
    ("1/64 in", None, "0.396875", Unit.INCH),
    # feet: 40.5 x 25.4 = 1028.7, 126 x 25.4 = 3200.4
    ("3' 4-1/2\"", None, "1028.7", Unit.FOOT),
    ("3'-4 1/2\"", None, "1028.7", Unit.FOOT),
    ("3' - 4 1/2\"", None, "1028.7", Unit.FOOT),
    ("3′ 4½″", None, "1028.7", Unit.FOOT),
    ("3’ 4 ½”", None, "1028.7", Unit.FOOT),
    ("3 ft 4.5 in", None, "1028.7", Unit.FOOT),
    ("3ft 4.5in", None, "1028.7", Unit.FOOT),
    ("3 FT. 4 1/2 IN.", None, "1028.7", Unit.FOOT),
    ("3 feet 4 1/2 inches", None, "1028.7", Unit.FOOT),
    ("3'4.5", None, "1028.7", Unit.FOOT),
    ("3.375'", None, "1028.7", Unit.FOOT),
    ("3.375", Unit.FOOT, "1028.7", Unit.FOOT),
    ("3 3/8 ft", None, "1028.7", Unit.FOOT),
    ("10'-6\"", None, "3200.4", Unit.FOOT),
    ("10' 6", Unit.MM, "3200.4", Unit.FOOT),
    ("0' 6\"", None, "152.4", Unit.FOOT),
    # metric
    ("1250", Unit.MM, "1250", Unit.MM),
    ("1250 mm", Unit.INCH, "1250", Unit.MM),
    ("1250MM", None, "1250", Unit.MM),
    ("1250 mm.", None, "1250", Unit.MM),
    ("1250㎜", None, "1250", Unit.MM),
    ("1.25 m", None, "1250", Unit.M),
    ("1.250 m", None, "1250", Unit.M),
    ("0,250 m", None, "250", Unit.M),
    ("2.4m", None, "2400", Unit.M),
    ("2,4 m", None, "2400", Unit.M),
    ("2.4 Metres", None, "2400", Unit.M),
    ("125 cm", None, "1250", Unit.CM),
    ("125", Unit.CM, "1250", Unit.CM),
    ("1.250,5 mm", None, "1250.5", Unit.MM),
    ("1,250.5 mm", None, "1250.5", Unit.MM),
    ("1250,5", Unit.MM, "1250.5", Unit.MM),
    ("1,25", Unit.MM, "1.25", Unit.MM),
    ("1\u2009250 mm", None, "1250", Unit.MM),
    ("1\u00a0250 mm", None, "1250", Unit.MM),
    ("1\u202f250,5 mm", None, "1250.5", Unit.MM),
    ("1 250", Unit.MM, "1250", Unit.MM),
    ("1,250,000 mm", None, "1250000", Unit.MM),
    ("263.525", Unit.MM, "263.525", Unit.MM),
    ("915.500", Unit.MM, "915.5", Unit.MM),  # no run is 915 m long
    ("0.000001 mm", None, "0.000001", Unit.MM),
]


@pytest.mark.parametrize(("text", "unit", "millimetres", "given"), READ)
def test_every_spelling_is_read_exactly(text: str, unit: Unit | None, millimetres: str, given: Unit) -> None:
    """A spelling that a run list brings gives its exact length and the unit it was given in."""
    reading = read_length(text, unit)
    assert reading.length == mm(millimetres)
    assert reading.unit is given
    assert reading.text == text


REFUSED = [
    ("1,250", Unit.MM, "ambiguous-separator", ("1250 mm", "1.25 mm")),
    ("1,250 m", None, "ambiguous-separator", ("1250 m", "1.25 m")),
    ("1.250", Unit.MM, "ambiguous-separator", ("1250 mm", "1.25 mm")),
    ("36,250", Unit.INCH, "ambiguous-separator", ("36250 in", "36 1/4 in")),
    ("4-6", Unit.INCH, "ambiguous-hyphen", ("4 ft 6 in", "4 to 6")),
    ('4-6"', None, "ambiguous-hyphen", ("4 ft 6 in", "4 to 6")),
    ("2400 - 2500 mm", None, "ambiguous-hyphen", ("2400 to 2500",)),
    ("3-4-1/2", Unit.INCH, "ambiguous-hyphen", ("3 ft 4 1/2 in",)),
    ("3-4 1/2", None, "ambiguous-hyphen", ("3 ft 4 1/2 in",)),
    ("36 - 1/4", Unit.INCH, "ambiguous-hyphen", ("36 1/4 in", "35 3/4 in")),
    ("36-¼", Unit.INCH, "ambiguous-hyphen", ("36 1/4 in", "35 3/4 in")),
    # 36.3 x 25.4 = 922.02; a carpenter's 36.3 is 36 and three eighths
    ("36.3", Unit.INCH, "decimal-inch", ("922.02 mm", "36 3/8 in")),
    # 36.37 x 25.4 = 923.798; the nearest mark is 2328/64
    ("36.37 in", None, "finer-than-64th", ("923.798 mm", "36 3/8 in")),
    ("1/128 in", None, "finer-than-64th", ()),
    ("0.0000001 mm", None, "finer-than-nanometre", ()),
    ("1250", None, "no-unit", ("1250 mm", "1250 in")),
    ("10 3/8", None, "no-unit", ("10 3/8 in",)),
    ("1,250", None, "no-unit", ("1250 mm", "1.25 mm", "1250 in", "1 1/4 in")),
    ("10 3/8", Unit.MM, "fraction-not-inch", ("10 3/8 in",)),
    ("1/2 m", None, "fraction-not-inch", ("1/2 in",)),
    ("36 1/3", Unit.INCH, "denominator", ()),
    ("36 ⅓", Unit.INCH, "denominator", ()),
    ("36 1/1", Unit.INCH, "denominator", ()),
    ("36 1/0", Unit.INCH, "denominator", ()),
    ("36 4/4", Unit.INCH, "numerator", ()),
    ("9/8", Unit.INCH, "numerator", ()),
    ("361⁄4", Unit.INCH, "numerator", ()),
    ("3' 12\"", None, "inches-over-12", ()),
    ('"', Unit.INCH, "ditto", ()),
    ("''", Unit.INCH, "ditto", ()),
    ("”", Unit.INCH, "ditto", ()),
    ("〃", Unit.INCH, "ditto", ()),
    ('-"-', Unit.INCH, "ditto", ()),
    ("do.", Unit.INCH, "ditto", ()),
    ("-5", Unit.MM, "negative", ()),
    ("−5 mm", None, "negative", ()),
    ("-1/2", Unit.INCH, "negative", ()),
    ("-3' 4\"", None, "negative", ()),
    ("0", Unit.MM, "zero", ()),
    ("0.00 m", None, "zero", ()),
    ("0' 0\"", None, "zero", ()),
    ("1e3", Unit.MM, "scientific-notation", ()),
    ("1.25E+03 mm", None, "scientific-notation", ()),
    ("2026-03-08", Unit.INCH, "date", ()),
    ("2026-03-08 00:00:00", Unit.INCH, "date", ()),
    ("8-Mar", Unit.INCH, "date", ()),
    ("Mar-8", Unit.INCH, "date", ()),
    ("3/8/26", Unit.INCH, "date", ()),
    ("08.03.2026", Unit.MM, "date", ()),
    ("2 @ 36 1/4", Unit.INCH, "quantity-in-length", ()),
    ("2x36-1/4", Unit.INCH, "quantity-in-length", ()),
    ("", Unit.MM, "empty", ()),
    ("\u00a0 ", Unit.MM, "empty", ()),
    ("10001 m", None, "out-of-range", ()),
    ("VIF", Unit.MM, "not-a-length", ()),
    ("TBC", Unit.MM, "not-a-length", ()),
    ("see dwg", None, "not-a-length", ()),
    ("±2", Unit.MM, "not-a-length", ()),
    ("~36 1/4", Unit.INCH, "not-a-length", ()),
    ("1250 VIF", Unit.MM, "not-a-length", ()),
    ("1250 mm (49 in)", Unit.MM, "not-a-length", ()),
    ("#REF!", Unit.MM, "not-a-length", ()),
    ("36²", Unit.MM, "not-a-length", ()),
    ("٣٦", Unit.MM, "not-a-length", ()),
    ("5.", Unit.MM, "not-a-length", ()),
    ("3 4 1/2", Unit.INCH, "not-a-length", ()),
    ("36 125", Unit.INCH, "not-a-length", ()),
    ("12 34", Unit.MM, "not-a-length", ()),
    ("12,345,67", Unit.MM, "not-a-length", ()),
    ("1.250,5,5", Unit.MM, "not-a-length", ()),
    ("3' 4-6", Unit.INCH, "not-a-length", ()),
    ("3.5' 6\"", None, "not-a-length", ()),
    ("36\n1/4", Unit.INCH, "not-a-length", ()),
    ("9" * 70, Unit.MM, "not-a-length", ()),
]


@pytest.mark.parametrize(("text", "unit", "code", "readings"), REFUSED)
def test_what_is_no_single_length_is_refused(
    text: str, unit: Unit | None, code: str, readings: tuple[str, ...]
) -> None:
    """A text with no meaning, or with several, is refused with its reason and its readings."""
    with pytest.raises(LengthNotUnderstood) as refusal:
        read_length(text, unit)
    assert refusal.value.code == code
    assert refusal.value.readings == readings
    assert refusal.value.found == text
    assert refusal.value.expected


def test_zero_is_read_where_it_may_stand() -> None:
    """A clearance or a trim of nothing is a length; a negative one is not."""
    assert read_length("0", Unit.MM, may_be_zero=True).length == 0
    assert read_length('0"', may_be_zero=True).length == 0
    assert read_length("0", may_be_zero=True).length == read_length("0.0", may_be_zero=True).length == 0
    with pytest.raises(LengthNotUnderstood, match="names a unit"):
        read_length("3", may_be_zero=True)
    with pytest.raises(LengthNotUnderstood, match="more than zero"):
        read_length("-1", Unit.MM, may_be_zero=True)


@given(st.text(alphabet="0123456789 .,/-'\"½⅜⁄²₄mcinft@x~", max_size=12), st.sampled_from([None, *Unit]))
def test_a_reading_prints_back_or_the_text_is_refused(text: str, unit: Unit | None) -> None:
    """Whatever is typed, the answer is a positive length that prints back, or a refusal."""
    try:
        reading = read_length(text, unit)
    except LengthNotUnderstood:
        return
    assert reading.length > 0
    assert read_length(length_text(reading.length, Unit.MM)).length == reading.length
    if reading.unit in (Unit.INCH, Unit.FOOT):
        assert read_length(length_text(reading.length, reading.unit)).length == reading.length


@given(st.integers(1, 10**13), st.sampled_from([Unit.MM, Unit.CM, Unit.M]))
def test_metric_texts_read_back(nanometres: int, unit: Unit) -> None:
    """Every length down to the nanometre prints in mm, cm and m as a text that reads as itself."""
    reading = read_length(length_text(nanometres, unit))
    assert (reading.length, reading.unit) == (nanometres, unit)


@given(st.integers(1, 10**5 * 64), st.sampled_from([Unit.INCH, Unit.FOOT]))
def test_inch_texts_read_back(marks: int, unit: Unit) -> None:
    """Every length on a 1/64 in mark prints in inches, and in feet and inches, and reads as itself."""
    assert read_length(length_text(marks * MARK, unit)).length == marks * MARK
    assert read_length(inch_text(marks * MARK), Unit.INCH).length == marks * MARK


@given(st.integers(1, 10**12), st.integers(0, 6))
def test_inch_text_is_nearest(nanometres: int, power: int) -> None:
    """A length between two marks prints as one at most half a mark away, and says so."""
    denominator = 2**power
    text = inch_text(nanometres, denominator)
    printed = sum((Fraction(part) for part in text.lstrip("~").split()), Fraction(0)) * NM_PER_INCH
    assert abs(printed - nanometres) * 2 * denominator <= NM_PER_INCH
    assert text.startswith("~") == (printed != nanometres)


@pytest.mark.parametrize(
    ("length", "text"),
    [
        (mm("1250.5"), "1250.5"),
        (mm(1000), "1000"),
        (Length(0), "0"),
        (Length(1), "0.000001"),
        (Length(-NM_PER_MM), "-1"),
    ],
)
def test_mm_text_is_exact_and_short(length: Length, text: str) -> None:
    """Millimetres print without exponent or trailing zeros."""
    assert mm_text(length) == text


@pytest.mark.parametrize(
    ("length", "denominator", "text"),
    [
        (inches("36 1/4"), 64, "36 1/4"),
        (inches("7/16"), 64, "7/16"),
        (inches("36 1/4"), 2, "~36 1/2"),  # half way rounds up
        (mm(1000), 64, "~39 3/8"),  # 39.3701 in; 3/8 = 0.375
        (Length(1), 64, "~0"),
        (Length(0), 64, "0"),
        (inches("-1/2"), 64, "-1/2"),
    ],
)
def test_inch_text_gives_a_reduced_fraction(length: Length, denominator: int, text: str) -> None:
    """Inches print as whole number and reduced fraction, marked when only near."""
    assert inch_text(length, denominator) == text


@pytest.mark.parametrize(
    ("unit", "text"),
    [
        (Unit.MM, "1028.7 mm"),
        (Unit.CM, "102.87 cm"),
        (Unit.M, "1.0287 m"),
        (Unit.INCH, "40 1/2 in"),
        (Unit.FOOT, "3 ft 4 1/2 in"),
    ],
)
def test_length_text_names_its_unit(unit: Unit, text: str) -> None:
    """One length prints in each unit with the unit's name."""
    assert length_text(inches("40 1/2"), unit) == text


def test_length_text_of_whole_and_near_feet() -> None:
    """Whole feet drop the inches; a length off the marks says so."""
    assert length_text(inches(36), Unit.FOOT) == "3 ft"
    assert length_text(Length(inches(36) + 1), Unit.FOOT) == "~3 ft"
    assert length_text(Length(inches(36) + 1), Unit.INCH) == "~36 in"


@pytest.mark.parametrize(
    ("heading", "unit"),
    [
        ("Length (mm)", Unit.MM),
        ("Size [in]", Unit.INCH),
        ("W, inches", Unit.INCH),
        ("length mm", Unit.MM),
        ("LENGTH_MM", Unit.MM),
        ('L "', Unit.INCH),
        ("L″", Unit.INCH),
        ("L '", Unit.FOOT),
        ("Run (ft)", Unit.FOOT),
        ("Width in mm", Unit.MM),
        ("Length (in mm)", Unit.MM),
        ("Length in inches", Unit.INCH),
        ("Opening (in.) left", Unit.INCH),
        ("Cut (finished) mm", Unit.MM),
        ("Bar m", Unit.M),
        ("cm", Unit.CM),
        ("Length", None),
        ("", None),
        ("Check in date", None),
        ("mm/in", None),
        ("L (mm) W (in)", None),
        ('"Length"', None),
        ("Room m2", None),
    ],
)
def test_a_heading_names_its_unit_or_none(heading: str, unit: Unit | None) -> None:
    """The unit of a column comes out of its heading only when it is the only one there."""
    assert read_unit(heading) is unit


def test_mm_and_inches_refuse_what_is_finer_than_a_nanometre() -> None:
    """A length that whole nanometres cannot hold is an error, never rounded."""
    assert inches(1) == mm("25.4")
    with pytest.raises(ValueError, match="finer"):
        mm("0.0000001")
    with pytest.raises(ValueError, match="finer"):
        inches("1/128")  # 198 437.5 nm


def test_people_read_millimetres_they_can_set() -> None:
    """216.757359 mm stands on no tape: more than three decimals become a hundredth, and say so."""
    assert near_mm_text(mm("1803.5")) == "1803.5"
    assert near_mm_text(inches("3/8")) == "9.525"  # 3/8 x 25.4, exact
    assert near_mm_text(216_757_359) == "~216.76"
    assert near_mm_text(5_000) == "0.005"
    assert near_mm_text(15_000_001) == "~15"
    assert near_mm_text(-216_755_000_1) == "~-2167.55"
