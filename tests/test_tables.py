"""Section names read, refused and written back; the listed angles looked up."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from translator.model import Angle, Flat, on_grid
from translator.tables.angles import all_angles, by_sizes, find, listed, nearest
from translator.tables.designations import designation_of, parse_section

IN_MM = "{} is read in millimetres: it does not exist in inches, which bare numbers are here."
IN_INCH = "{} is read in inches: it does not exist in millimetres, which bare numbers are here."
ROUNDED = "{} is read as {}, whose sizes round to it."
EQUAL = "{} is read as two equal legs and a thickness."
THIN = "{}: the smaller size is read as the thickness."
UNLISTED = (
    "{} is not a listed size (EN 10056-1 or US angles):"
    " its radii are taken as 0 and its mass is computed from its sizes."
)

EVERYWHERE = {
    # the name tells its unit: the same under both units, without a note
    "L4X3-1/2X3/8": "L4x3-1/2x3/8",
    "L4x3-1/2x3/8": "L4x3-1/2x3/8",
    "l 4 x 3 1/2 x 3/8": "L4x3-1/2x3/8",
    "L4\u00d73½\u00d7⅜": "L4x3-1/2x3/8",
    'L4"x3-1/2"x3/8"': "L4x3-1/2x3/8",
    "L-4x3-1/2x3/8": "L4x3-1/2x3/8",
    "angle 4 x 3-1/2 x 3/8": "L4x3-1/2x3/8",
    "ANGLE 4x3-1/2x3/8": "L4x3-1/2x3/8",
    "\u2220 4x3-1/2x3/8": "L4x3-1/2x3/8",
    "L3-1/2x4x3/8": "L3-1/2x4x3/8",
    "RSA 90x90x10": "L90x90x10",
    "RSA90*90*10": "L90x90x10",
    "EA 90x90x10": "L90x90x10",
    "UA 100x75x8": "L100x75x8",
    "L100/75/8": "L100x75x8",
    "L75/100/8": "L75x100x8",
    "L80mmx80mmx8mm": "L80x80x8",
    "flat 4 x 3/8": "FB4x3/8",
    "FLAT BAR 4x3/8": "FB4x3/8",
    "bar 4 x 3/8": "FB4x3/8",
    "FLT 4x3/8": "FB4x3/8",
    "PL4x3/8": "FB4x3/8",
    "FL100/10": "FB100x10",
    'FB12"x1"': 'FB12"x1"',
    "FB12mmx3mm": "FB12mmx3mm",
}

BARE = [
    # name, units, designation, notes
    ("L90x90x10", "mm", "L90x90x10", []),
    ("L90x90x10", "inch", "L90x90x10", [IN_MM]),
    ("L 100 x 100 x 10", "mm", "L100x100x10", []),
    ("L20x20x3", "inch", "L20x20x3", [IN_MM]),
    ("L80*80*8", "mm", "L80x80x8", []),
    ("L80x8", "mm", "L80x80x8", [EQUAL]),
    ("L80x8", "inch", "L80x80x8", [EQUAL, IN_MM]),
    ("L12x12x1", "inch", "L12x12x1", []),
    ("L12x12x1", "mm", "L12x12x1", [IN_INCH]),
    ("L8x4x1", "mm", "L8x4x1", [IN_INCH]),
    ("L4x3.5x.375", "inch", "L4x3-1/2x3/8", []),
    ("FL120*10", "mm", "FB120x10", []),
    ("FL120*10", "inch", "FB120x10", [IN_MM]),
    ("FL10*120", "mm", "FB120x10", [THIN]),
    ("FB 100x10", "mm", "FB100x10", []),
    ("FB20x3", "inch", "FB20x3", [IN_MM]),
    ("FB6x1", "inch", "FB6x1", []),
    ("FB6x3", "inch", "FB6x3", []),
    ("FB4x1", "mm", "FB4x1", [IN_INCH]),
    ("FB12x1", "inch", 'FB12"x1"', []),
    ("PL3/8x4", "inch", "FB4x3/8", [THIN]),
    ("PL3/8X4", "mm", "FB4x3/8", [THIN]),
]

ROUNDED_NAMES = [
    # metric and decimal names of US sizes; the metric ones are those of the Canadian tables
    ("L102x89x9.5", "mm", "L4x3-1/2x3/8"),
    ("L89x102x9.5", "mm", "L3-1/2x4x3/8"),
    ("L102X88.9X9.53", "mm", "L4x3-1/2x3/8"),
    ("L102X88.9X9.52", "mm", "L4x3-1/2x3/8"),
    ("L102x102x13", "mm", "L4x4x1/2"),
    ("L64x64x4.8", "mm", "L2-1/2x2-1/2x3/16"),
    ("L203x203x29", "mm", "L8x8x1-1/8"),
    ("L152x102x7.9", "mm", "L6x4x5/16"),
    ("L3x3x.188", "inch", "L3x3x3/16"),
    ("L3x3x.187", "inch", "L3x3x3/16"),
    ("L3x3x0.19", "inch", "L3x3x3/16"),
]

NOT_ROUNDED = ["L63x63x6", "L102x89x9.4", "L101x89x9.5", "L46x46x4.5", "L45x45x4", "L45x45x5"]

REFUSED = {
    "": "A section is missing here.",
    "L": "L has no sizes.",
    "L4": "L4 has one size only: an angle has two legs and a thickness (the length is given"
    " by itself).",
    "L4x4x3/8x12": "L4x4x3/8x12 has 4 sizes: an angle has two legs and a thickness (the"
    " length is given by itself).",
    "L4x3": "L4x3 has two legs but no thickness.",
    "L4x3/8x4": "L4x3/8x4 has a last size, the thickness, that is not less than its legs.",
    "L4x4x": "L4x4x is no section: A length is missing here.",
    "L4x4x0": "L4x4x0 is no section: 0 is not a size.",
    "L4x4x1/2/8": "L4x4x1/2/8 is no section: 1/2/8 is no length: write it like 11-1/2, 11.5,"
    " 1'-0 1/2\", 292.1mm or 3.5in.",
    "L4x3 - 1/2x3/8": "L4x3 - 1/2x3/8 is no section: 3 - 1/2 could mean two things: write"
    " 3-1/2 for the one length, or 3 - 0.5 to subtract.",
    "L4mmx4mmx3.9999999mm": "L4mmx4mmx3.9999999mm has a last size, the thickness, that is not less"
    " than its legs.",
    "FB4mmx0.0000001mm": "FB4mmx0.0000001mm has a size of nothing.",
    'L4"x4"x10mm': 'L4"x4"x10mm mixes inches and millimetres.',
    "RSA 4x4x3/8": "RSA 4x4x3/8 is a metric name with a size in inches.",
    "UA 90x90x10": "UA 90x90x10 says unequal legs, but its legs are equal.",
    "EA 100x75x8": "EA 100x75x8 says equal legs, but its legs are unequal.",
    "L90x90x3/8": "L90x90x3/8 does not exist in inches: check its sizes (a mark on each, like"
    ' 4" or 100mm, makes any size count as typed).',
    "L15x15x1.5": 'L15x15x1.5 could be inches or millimetres: mark the sizes, 15"x15"x1.5" or'
    " 15mmx15mmx1.5mm.",
    "PL3/8": "PL3/8 has one size only: a flat has a width and a thickness (the length is"
    " given by itself).",
    "PL3/8x4x11-1/2": "PL3/8x4x11-1/2 has 3 sizes: a flat has a width and a thickness (the"
    " length is given by itself).",
    "2L4x4x3/8": "2L4x4x3/8 is several angles: each angle is a piece of its own here, so give"
    " the section of one.",
    "2-L 4x4x3/8": "2-L 4x4x3/8 is several angles: each angle is a piece of its own here, so"
    " give the section of one.",
    "LL4x4x3/8": "LL4x4x3/8 is a pair of angles: only angles and flats are made here.",
    "W12x26": "W12x26 is a wide-flange shape: only angles and flats are made here.",
    "HSS4x4x1/4": "HSS4x4x1/4 is a hollow section: only angles and flats are made here.",
    "C8x11.5": "C8x11.5 is a channel: only angles and flats are made here.",
    "IPE200": "IPE200 is an I shape: only angles and flats are made here.",
    "WT5x15": "WT5x15 is a tee: only angles and flats are made here.",
    "4x3x3/8": "4x3x3/8 does not say what it is: write angles (L4x3-1/2x3/8, L90x90x10) and"
    " flats (FB100x10, PL3/8x4).",
    "Q4x4": "Q4x4 is no section known here: write angles (L4x3-1/2x3/8, L90x90x10) and flats"
    " (FB100x10, PL3/8x4).",
    "L" + "4" * 200: f"L{'4' * 39}... is no section: it has more than 120 signs.",
}


@pytest.mark.parametrize("units", ["inch", "mm"])
@pytest.mark.parametrize("name", EVERYWHERE, ids=ascii)
def test_name_that_tells_its_unit(name, units):
    reading = parse_section(name, units)
    assert (reading.fault, reading.notes) == (None, ())
    assert reading.section.designation == EVERYWHERE[name]


@pytest.mark.parametrize(
    ("name", "units", "designation", "notes"), BARE, ids=[f"{row[0]} {row[1]}" for row in BARE]
)
def test_bare_name(name, units, designation, notes):
    reading = parse_section(name, units)
    assert (reading.fault, reading.notes) == (None, tuple(note.format(name) for note in notes))
    assert reading.section.designation == designation


@pytest.mark.parametrize(
    ("name", "units", "designation"), ROUNDED_NAMES, ids=[row[0] for row in ROUNDED_NAMES]
)
def test_rounded_name_of_a_us_size(name, units, designation):
    reading = parse_section(name, units)
    assert reading.notes == (ROUNDED.format(name, designation),)
    assert reading.section.designation == designation
    assert listed(reading.section) is find(designation)


@pytest.mark.parametrize("name", NOT_ROUNDED)
def test_near_miss_stays_as_typed(name):
    reading = parse_section(name, "mm")
    assert reading.notes == (UNLISTED.format(name),)
    section = reading.section
    assert [section.leg_a_mm, section.leg_b_mm, section.thickness_mm] == [
        float(size) for size in name[1:].split("x")
    ]
    assert (section.root_radius_mm, section.toe_radius_mm) == (0, 0)


@pytest.mark.parametrize("name", REFUSED, ids=lambda name: repr(name[:20]))
def test_refusal_is_a_sentence(name):
    reading = parse_section(name, "inch")
    assert (reading.section, reading.notes, reading.fault) == (None, (), REFUSED[name])


@pytest.mark.parametrize("size", ["12x3", "12x4", "11x3"])
def test_flat_that_may_be_either_is_asked_about(size):
    assert "could be inches or millimetres" in parse_section(f"FB{size}", "inch").fault
    assert parse_section(f"FB{size}", "mm").section.width_mm == float(size[:2])


def test_sizes_radii_and_order_of_a_us_angle():
    # The section of the part document's example: 4 x 3-1/2 x 3/8 in., k = 3/4 in.
    section = parse_section("L4x3-1/2x3/8", "inch").section
    assert section == Angle(
        designation="L4x3-1/2x3/8",
        leg_a_mm=101.6,
        leg_b_mm=88.9,
        thickness_mm=9.525,
        root_radius_mm=9.525,
        toe_radius_mm=4.7625,
    )
    turned = parse_section("L3-1/2x4x3/8", "inch").section
    assert (turned.leg_a_mm, turned.leg_b_mm) == (88.9, 101.6)
    assert listed(turned) is listed(section) is find("L4X3-1/2X3/8")


ROWS = [(row, first) for row in all_angles() for first in (False, True)]


def test_both_tables_are_whole():
    standards = [row.standard for row in all_angles()]
    assert (standards.count("EN 10056-1"), standards.count("AISC")) == (91, 137)
    assert len({row.designation for row in all_angles()}) == 91 + 137
    assert all(row.leg_a_mm >= row.leg_b_mm > row.thickness_mm for row in all_angles())
    assert {row.confidence for row in all_angles()} == {"high", "medium"}


@pytest.mark.parametrize("units", ["inch", "mm"])
def test_listed_name_reads_back_as_its_row(units):
    for row, short_first in ROWS:
        section = row.section(short_leg_first=short_first)
        reading = parse_section(section.designation, units)
        assert reading.section == section
        assert reading.fault is None
        assert designation_of(section) == section.designation
        assert listed(section) is row
        assert find(section.designation) is row


def test_us_metric_names_are_each_one_size():
    # The rule of the Canadian tables: legs and thicknesses from 1/2 in. (but 7/16 in.) to 1 mm,
    # thinner ones to 0.1 mm; half up.
    us = [row for row in all_angles() if row.standard == "AISC"]
    for row in us:
        legs = [int(leg + 0.5) for leg in (row.leg_a_mm, row.leg_b_mm)]
        thick = row.thickness_mm
        written = int(thick + 0.5) if thick > 10 else int(thick * 10 + 0.5) / 10
        name = f"L{legs[0]}x{legs[1]}x{written:g}"
        assert parse_section(name, "mm").section == row.section(), name


def test_lookups_that_find_nothing():
    assert find("L95x95x10") is None
    assert listed(Flat(width_mm=90, thickness_mm=10)) is None
    assert by_sizes(90, 90, 10.1) is None
    assert nearest(95, 95, 10, within_mm=0.5) is None


def test_nearest_takes_rounded_header_sizes():
    row = find("L4x3-1/2x3/8")
    assert nearest(88.9, 101.6, 9.53, within_mm=0.5) is row
    assert nearest(89, 102, 9.5, within_mm=0.4) is row
    assert nearest(89, 102, 9.5, within_mm=0.39) is None
    # Between two thicknesses the closer one: 3/8 in. is 9.525 mm, 7/16 in. 11.1125 mm.
    assert nearest(101.6, 101.6, 10.2, within_mm=1.0) is find("L4x4x3/8")
    assert nearest(101.6, 101.6, 10.5, within_mm=1.0) is find("L4x4x7/16")


SIZE = st.one_of(
    st.integers(1, 400).map(float),
    st.integers(1, 4000).map(lambda n: n / 10),
    st.integers(1, 2000).map(lambda n: on_grid(Fraction(n * 254, 640))),
    st.integers(1, 10**9).map(lambda n: on_grid(Fraction(n, 10**6))),
)


@given(st.tuples(SIZE, SIZE))
def test_name_of_any_flat_reads_back(sizes):
    section = Flat(width_mm=max(sizes), thickness_mm=min(sizes))
    name = designation_of(section)
    for units in ("inch", "mm"):
        assert parse_section(name, units).section == section.model_copy(
            update={"designation": name}
        )


@given(st.tuples(SIZE, SIZE, SIZE).filter(lambda s: min(s) < sorted(s)[1]), st.booleans())
def test_name_of_any_angle_reads_back(sizes, is_turned):
    thick, leg, other = sorted(sizes)
    legs = (other, leg) if is_turned else (leg, other)
    section = Angle(leg_a_mm=legs[0], leg_b_mm=legs[1], thickness_mm=thick)
    name = designation_of(section)
    for units in ("inch", "mm"):
        read = parse_section(name, units).section
        assert (read.leg_a_mm, read.leg_b_mm, read.thickness_mm) == (*legs, thick)
        assert read.designation == name


ANY_NAME = st.one_of(
    st.text(max_size=130),
    st.text(alphabet="LlFBPRSA0123456789./-xX* '\"½⅜mn", max_size=20),
    st.from_regex(re.compile(r"(L|FB|PL|RSA) ?[0-9]{1,3}(x[0-9]{1,3}([./-][0-9]{1,2})?){1,3}")),
)


@given(ANY_NAME, st.sampled_from(["mm", "inch"]))
def test_any_text_is_a_section_or_a_sentence(text, units):
    reading = parse_section(text, units)
    assert (reading.section is None) == (reading.fault is not None)
    sentences = [*reading.notes, *([reading.fault] if reading.fault else [])]
    assert all(s.endswith(".") and s.isprintable() for s in sentences)
