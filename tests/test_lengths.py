"""Lengths: every trade spelling, the refusals word by word, and writing that reads back."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from translator.lengths.parse import (
    LENGTH_PATTERN,
    LengthError,
    either_way,
    parse_length,
    read_length,
)
from translator.lengths.spell import feet_inch_text, inch_text, length_text, mm_text
from translator.model import on_grid

INCH = Fraction(254, 10)  # international yard and pound agreement of 1959: 25.4 mm exactly

READ = {
    # spelling: (unit of a bare number, exact millimetres, unit of the spelling, bare number)
    "11-1/2": ("inch", "292.1", "inch", "23/2"),
    "11 1/2": ("inch", "292.1", "inch", "23/2"),
    "11  1/2": ("inch", "292.1", "inch", "23/2"),
    "11.5": ("inch", "292.1", "inch", "23/2"),
    "11½": ("inch", "292.1", "inch", "23/2"),
    "11 ½": ("inch", "292.1", "inch", "23/2"),
    "11-½": ("inch", "292.1", "inch", "23/2"),
    "11\u20131/2": ("inch", "292.1", "inch", "23/2"),
    "11\u00a01\u20442": ("inch", "292.1", "inch", "23/2"),
    '11 1/2"': ("mm", "292.1", "inch", None),
    "11½\u201d": ("mm", "292.1", "inch", None),
    "11.5''": ("mm", "292.1", "inch", None),
    "½": ("inch", "12.7", "inch", "1/2"),
    "3/8": ("inch", "9.525", "inch", "3/8"),
    ".375": ("inch", "9.525", "inch", "3/8"),
    "1/64": ("inch", "0.396875", "inch", "1/64"),
    "11": ("inch", "279.4", "inch", "11"),
    "0": ("inch", "0", "inch", "0"),
    "292.1": ("mm", "292.1", "mm", "2921/10"),
    "292.1mm": ("inch", "292.1", "mm", None),
    "292.1 mm": ("inch", "292.1", "mm", None),
    "292.1 MM": ("inch", "292.1", "mm", None),
    "3.5in": ("mm", "88.9", "inch", None),
    "3.5 in.": ("mm", "88.9", "inch", None),
    "3 1/2 inches": ("mm", "88.9", "inch", None),
    "12'": ("mm", "3657.6", "inch", None),
    "12\u2019": ("mm", "3657.6", "inch", None),
    "12 ft": ("mm", "3657.6", "inch", None),
    "1.5'": ("mm", "457.2", "inch", None),
    "1'-0": ("mm", "304.8", "inch", None),
    "1'-0 1/2\"": ("mm", "317.5", "inch", None),
    "1' - 0 1/2\"": ("mm", "317.5", "inch", None),
    "1'-1/2\"": ("mm", "317.5", "inch", None),
    "1'-½\"": ("mm", "317.5", "inch", None),
    "1' 0 1/2\"": ("mm", "317.5", "inch", None),
    "1'0-1/2": ("mm", "317.5", "inch", None),
    "9'-4 1/2\"": ("mm", "2857.5", "inch", None),
    "9\u2019-4 ½\u201d": ("mm", "2857.5", "inch", None),
    "9 ft 4.5 in": ("mm", "2857.5", "inch", None),
    "0'-6\"": ("mm", "152.4", "inch", None),
}

REFUSED = {
    "": "A length is missing here.",
    "   ": "A length is missing here.",
    "11 - 1/2": "11 - 1/2 could mean two things: write 11-1/2 for the one length,"
    " or 11 - 0.5 to subtract.",
    "11- 1/2": "11 - 1/2 could mean two things: write 11-1/2 for the one length,"
    " or 11 - 0.5 to subtract.",
    "1'-0 - 1/2\"": "1'-0 - 1/2\" has blanks around its last dash: leave them out.",
    "-1/2": "-1/2 is less than nothing: a minus has no place here.",
    "1/0": "1/0 divides by 0.",
    "3/6": "3/6 has parts of 1/6: an inch has halves, quarters, 8ths, 16ths, 32nds and 64ths;"
    " write anything else as a decimal.",
    "3/128": "3/128 has parts of 1/128: an inch has halves, quarters, 8ths, 16ths, 32nds and"
    " 64ths; write anything else as a decimal.",
    "3/1": "3/1 has the fraction 3/1, which is more than 1: write the whole inches apart.",
    "11-5/4": "11-5/4 has the fraction 5/4, which is more than 1: write the whole inches apart.",
    "4/4": "4/4 has the fraction 4/4, which is 1: write the whole inches apart.",
    "9'-14\"": "9'-14\" has 14 in. behind the feet: 12 in. or more make another foot.",
    "9.5'-4\"": "9.5'-4\" has a part of a foot and inches as well: write one.",
    "1' 25mm": "1' 25mm mixes feet with millimetres.",
    "1/2mm": "1/2mm: parts of a millimetre are written as a decimal.",
    "3-1": "3-1 is no length: a minus that subtracts has blanks on both sides, and a dash joins"
    " inches to a fraction only.",
    "292,1": "292,1 is no length: a decimal is written with a point.",
    "6m": "6m has a unit not used here: write mm, in. or ft.",
    "29.2 cm": "29.2 cm has a unit not used here: write mm, in. or ft.",
    "rows": "rows is no length: write it like 11-1/2, 11.5, 1'-0 1/2\", 292.1mm or 3.5in.",
    "9'-": "9'- is no length: write it like 11-1/2, 11.5, 1'-0 1/2\", 292.1mm or 3.5in.",
    "12'\"": "12'\" is no length: write it like 11-1/2, 11.5, 1'-0 1/2\", 292.1mm or 3.5in.",
    "½5": "½5 is no length: write it like 11-1/2, 11.5, 1'-0 1/2\", 292.1mm or 3.5in.",
    "1e5": "1e5 is no length: write it like 11-1/2, 11.5, 1'-0 1/2\", 292.1mm or 3.5in.",
    "\u0663": "\u0663 is no length: write it like 11-1/2, 11.5, 1'-0 1/2\", 292.1mm or 3.5in.",
    "3\x1b[2J": "3?[2J is no length: write it like 11-1/2, 11.5, 1'-0 1/2\", 292.1mm or 3.5in.",
    "9" * 13: f"{'9' * 13} has a number of more than 12 digits.",
    "9" * 100: f"{'9' * 40}... is no length: it has more than 60 signs.",
    "99999999": "99999999 is longer than a kilometre, the most a length may be.",
}


@pytest.mark.parametrize("text", READ, ids=repr)
def test_spelling_is_read_exactly(text):
    bare_unit, mm, unit, bare = READ[text]
    length = read_length(text, bare_unit)
    assert (length.mm, length.unit) == (Fraction(mm), unit)
    assert length.bare == (None if bare is None else Fraction(bare))
    assert parse_length(text, bare_unit) == Fraction(mm)


@pytest.mark.parametrize("text", REFUSED, ids=lambda text: repr(text[:20]))
def test_refusal_is_a_sentence(text):
    with pytest.raises(LengthError) as refused:
        parse_length(text, "inch")
    assert str(refused.value) == REFUSED[text]


def test_bare_fraction_is_no_millimetres():
    with pytest.raises(LengthError) as refused:
        parse_length("11-1/2", "mm")
    assert str(refused.value) == (
        "11-1/2 is a fraction, but a bare number here is millimetres:"
        ' write 11-1/2" for inches, or a decimal for millimetres.'
    )


def test_leading_minus_counts_for_the_whole_length():
    length = read_length("-11-1/2", "inch", signed=True)
    assert (length.mm, length.bare) == (Fraction("-292.1"), Fraction(-23, 2))
    assert parse_length("-1'-6", "mm", signed=True) == -18 * INCH
    assert read_length("-5mm", "inch", signed=True).bare is None


@pytest.mark.parametrize(
    ("chain", "total", "agrees"),
    # Printed on public pages on structural drafting; the third is a slip of such a page.
    [
        ((7, '4"'), "2'-4\"", True),
        ((2, '3"'), "0'-6\"", True),
        ((5, '6"'), "3'-0\"", False),
        ((5, '6"'), "2'-6\"", True),
    ],
)
def test_printed_chains(chain, total, agrees):
    count, space = chain
    assert (count * parse_length(space, "inch") == parse_length(total, "inch")) is agrees


# ---- the question either_way asks, for whoever meets the three parts one by one


@pytest.mark.parametrize("fraction", ["1/0", "x", "9" * 400 + "/2", ""])
def test_question_never_fails(fraction):
    assert "two things" in str(either_way("11", fraction))


# ---- the tokeniser's pattern

TOKEN = re.compile(LENGTH_PATTERN)


# Two spellings are the reader's alone: unit words are small in the pattern (a tokeniser sets its
# own case flag), and a full stop behind a unit is left to the sentence it may end.
TOKENS = [text for text in READ if text not in {"292.1 MM", "3.5 in."}]


@pytest.mark.parametrize("more", ["", ", 3", " to end", "\n3/8", " x 1", " {"], ids=repr)
def test_pattern_takes_the_whole_spelling(more):
    assert [TOKEN.match(text + more)[0] for text in TOKENS] == TOKENS


@pytest.mark.parametrize(
    ("text", "token"),
    [
        ("11 - 1/2", "11"),
        ("3@3", "3"),
        ("3 @ 3 = 9", "3"),
        ("3inlet", "3"),
        ("15deg", "15"),
        ("13/16 x 1", "13/16"),
        ("1'-0 - 1/2", "1'-0"),
        ("12' quantity", "12'"),
        ("3-1", "3-1"),
        ("2\n1/2", "2"),
    ],
)
def test_pattern_stops_where_the_length_ends(text, token):
    found = TOKEN.match(text)
    assert found is not None
    assert found[0] == token


def read_or_refused(text, unit, *, signed=False):
    try:
        return parse_length(text, unit, signed=signed)
    except LengthError as refused:
        return str(refused)


@given(st.from_regex(TOKEN, fullmatch=True), st.sampled_from(["mm", "inch"]))
def test_pattern_yields_a_length_or_a_sentence(text, unit):
    result = read_or_refused(text, unit)
    assert result.endswith(".") if isinstance(result, str) else result >= 0


ANY_TEXT = st.one_of(
    st.text(max_size=80),
    st.text(alphabet="0123456789./-' \"½⅜minft\u2019\u2044", max_size=16),
)


@given(ANY_TEXT, st.sampled_from(["mm", "inch"]), st.booleans())
def test_any_text_is_a_length_or_a_sentence(text, unit, signed):
    result = read_or_refused(text, unit, signed=signed)
    if isinstance(result, str):
        assert result.isprintable()
        assert len(result) < 250
    else:
        assert isinstance(result, Fraction)
        assert abs(result) <= 1_000_000


# ---- writing

SPELLED = [
    # mm, inches, feet and inches (under a foot inches only: drafting practice), in an inch file
    (292.1, "11-1/2", '11 1/2"', "11-1/2"),
    (304.8, "12", "1'-0\"", "12"),
    (317.5, "12-1/2", "1'-0 1/2\"", "12-1/2"),
    (2857.5, "112-1/2", "9'-4 1/2\"", "112-1/2"),
    (914.4, "36", "3'-0\"", "36"),
    (9.525, "3/8", '3/8"', "3/8"),
    (0.396875, "1/64", '1/64"', "1/64"),
    (0.0, "0", '0"', "0"),
    (-317.5, "-12-1/2", "-1'-0 1/2\"", "-12-1/2"),
    (18.034, None, None, "0.71"),
    (10.0, None, None, "10mm"),
    (20.64, None, None, "20.64mm"),
]


@pytest.mark.parametrize(("mm", "inches", "feet", "length"), SPELLED, ids=[s[3] for s in SPELLED])
def test_spelling(mm, inches, feet, length):
    assert (inch_text(mm), feet_inch_text(mm), length_text(mm, "inch")) == (inches, feet, length)


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (292.1, "292.1"),
        (90.0, "90"),
        (-0.0, "0"),
        (-0.5, "-0.5"),
        (0.000001, "0.000001"),
        (1_000_000.0, "1000000"),
        (Fraction(1, 3), "0.333333"),
    ],
)
def test_millimetres(mm, text):
    assert mm_text(mm) == text
    assert length_text(mm, "mm") == text


GRID = st.integers(-(10**12), 10**12).map(lambda n: on_grid(Fraction(n, 10**6)))
SIXTY_FOURTHS = st.integers(-(10**6), 10**6).map(lambda n: on_grid(Fraction(n, 64) * INCH))


@given(st.one_of(GRID, SIXTY_FOURTHS), st.sampled_from(["mm", "inch"]))
def test_written_length_reads_back(mm, units):
    assert on_grid(parse_length(length_text(mm, units), units, signed=True)) == mm


@given(SIXTY_FOURTHS)
def test_fractions_read_back(mm):
    inches, feet = inch_text(mm), feet_inch_text(mm)
    assert inches is not None
    assert feet is not None
    assert on_grid(parse_length(inches, "inch", signed=True)) == mm
    assert on_grid(parse_length(feet, "mm", signed=True)) == mm
    assert TOKEN.fullmatch(feet.lstrip("-"))


@given(GRID)
def test_fraction_only_where_it_is_exact(mm):
    sixty_fourths = Fraction(str(mm)) / INCH * 64
    assert (inch_text(mm) is not None) == (sixty_fourths.denominator == 1)
    assert (feet_inch_text(mm) is not None) == (sixty_fourths.denominator == 1)
