"""Sections from the header, held against their names; inch sources.

Table sizes: EN 10056-1 L100x100x10 has r1 = 12; US L4x3-1/2x3/8 has k = 3/4 in. (from the open
transcriptions named in the tables).
"""

import pytest
from nc_files import flat, nc, part_of, read, said

from translator.model import Angle, Flat

US = {
    "name": "L4X3-1/2X3/8",
    "height": "101.60",
    "flange": "88.90",
    "flange_thickness": "9.53",
    "web_thickness": "9.53",
    "radius": "9.53",
    "length": "292.10",
}


def test_a_listed_size_takes_its_exact_sizes_and_radii():
    part = part_of(nc(**US))
    assert part.section == Angle(
        designation="L4x3-1/2x3/8",
        leg_a_mm=101.6,
        leg_b_mm=88.9,
        thickness_mm=9.525,
        root_radius_mm=9.525,
        toe_radius_mm=4.7625,
    )
    assert part.units == "inch"


SPELLINGS = {
    "stars": ("L100*100*10", "L100x100x10"),
    "blanks": ("L 100 x 100 x 10", "L100x100x10"),
    "equal legs once": ("L100x10", "L100x100x10"),
    "slashes": ("L100/100/10", "L100x100x10"),
    "word": ("RSA 100x100x10", "L100x100x10"),
}


@pytest.mark.parametrize("case", SPELLINGS, ids=lambda name: name.replace(" ", "-"))
def test_spellings_of_names(case):
    text, name = SPELLINGS[case]
    reading = read(nc(name=text))
    assert reading.parts[0].part.section.designation == name
    assert reading.findings == ()


@pytest.mark.parametrize("text", ["FL100*10", "FB 100x10", "PL10*100", "FLAT 100x10"])
def test_spellings_of_flats(text):
    section = part_of(flat(name=text)).section
    assert section == Flat(designation="FB100x10", width_mm=100.0, thickness_mm=10.0)


THICKNESS = {
    "web only": ({"flange_thickness": "0.00"}, 10.0, []),
    "flange only": ({"web_thickness": "0.00"}, 10.0, ["nc-thickness"]),
    "both differ": ({"flange_thickness": "12.00"}, 10.0, ["nc-thickness"]),
    "differ within rounding": ({"flange_thickness": "10.04"}, 10.0, []),
}


@pytest.mark.parametrize("case", THICKNESS, ids=lambda name: name.replace(" ", "-"))
def test_thickness_of_an_angle(case):
    fields, thickness, warned = THICKNESS[case]
    reading = read(nc(**fields))
    assert reading.parts[0].part.section.thickness_mm == thickness
    assert [f.rule for f in reading.findings] == warned


FLATS = {
    "line 13": {"web_thickness": "10.00"},
    "line 12": {"web_thickness": "0.00", "flange_thickness": "10.00"},
    "line 11": {"web_thickness": "0.00", "flange_thickness": "0.00", "flange": "10.00"},
    "width again in 11": {"web_thickness": "10.00", "flange": "100.00"},
}


@pytest.mark.parametrize("case", FLATS, ids=lambda name: name.replace(" ", "-"))
def test_thickness_of_a_flat(case):
    reading = read(flat(**FLATS[case]))
    assert reading.parts[0].part.section.thickness_mm == 10.0
    assert {f.rule for f in reading.findings} <= {"nc-thickness"}


REFUSED = {
    "no thickness": (nc(web_thickness="0.00", flange_thickness="0.00"), "nc-section"),
    "no flange": (nc(flange="0.00"), "nc-section"),
    "no height": (nc(height="0.00", name="-"), "nc-section"),
    "flat without thickness": (
        flat(web_thickness="0.00", flange_thickness="0.00", flange="100.00"),
        "nc-section",
    ),
    "flat without width": (flat(height="0.00"), "nc-section"),
    "thicker than wide": (flat(web_thickness="120.00", name="-"), "nc-section"),
    "radius too large": (nc(radius="95.00", name="-"), "nc-section"),
    "negative": (nc(height="-100.00"), "nc-number-unreadable"),
    "no number": (nc(height="1.2.3"), "nc-number-unreadable"),
    "flat named, code L": (nc(name="FB100x10"), "nc-designation"),
    "angle named, code B": (flat(name="L100x100x10"), "nc-designation"),
    "inches, US name": (
        nc(name="L4x4x1/2", height="4.00", flange="4.00", web_thickness="0.50"),
        "nc-inches",
    ),
    "inches, flat": (flat(name="FB4x3/8", height="4.00", web_thickness="0.38"), "nc-inches"),
    "inches, no name": (
        nc(name="-", height="3.00", flange="3.00", web_thickness="0.25"),
        "nc-inches",
    ),
}


@pytest.mark.parametrize("case", REFUSED, ids=lambda name: name.replace(" ", "-"))
def test_sections_that_are_refused(case):
    data, rule = REFUSED[case]
    reading = read(data)
    assert reading.parts == ()
    assert [f.rule for f in reading.findings if f.severity == "error"] == [rule]


def test_values_left_in_inches_are_offered_the_scale_and_never_scaled():
    reading = read(nc(name="L4x4x1/2", height="4.00", flange="4.00", web_thickness="0.50"))
    (message,) = said(reading, "nc-inches")
    assert "nothing was scaled" in message
    assert "x 25.4: 101.60 and 12.70 mm" in message


def test_radius_0_is_taken_from_the_table_and_other_radii_are_kept():
    plain = read(nc(radius="0.00"))
    assert plain.parts[0].part.section.root_radius_mm == 12.0
    assert said(plain) == [("nc-radius", "note", 15)]
    other = read(nc(radius="13.00"))
    assert other.parts[0].part.section.root_radius_mm == 13.0
    unlisted = read(nc(name="-", height="97.00", radius="8.00"))
    section = unlisted.parts[0].part.section
    assert (section.root_radius_mm, section.toe_radius_mm) == (8.0, 4.0)
    assert ("nc-radius", "note", 15) in said(unlisted)


def test_a_name_that_is_not_understood_is_kept_and_told():
    reading = read(nc(name="Winkel nach Skizze", height="97.00"))
    assert reading.parts[0].part.section.designation == "Winkel nach Skizze"
    assert ("nc-designation", "warning", 8) in said(reading)


def test_a_missing_name_is_a_note():
    reading = read(nc(name=""))
    assert reading.parts[0].part.section.designation == "L100x100x10"
    assert said(reading) == [("nc-designation", "note", 8)]


INCH_ROWS = (
    "BO",
    "  v  31.75u  63.50  20.64  0.00",
    "  v 107.96u  63.50  20.64  0.00",
    "  v 184.15u  63.50  20.64  0.00l  6.35  0.00  90.00",
    "  v 200.10u  63.50  20.64  0.00",
)


def test_nominal_inches_are_brought_back_on_request_only():
    plain = part_of(nc(*INCH_ROWS, **US), u_view_bottom="toe").legs.a.features
    assert (plain[1].x_mm, plain[1].diameter_mm) == (107.96, 20.64)
    reading = read(nc(*INCH_ROWS, **US), nominal_inch="yes")
    exact = reading.parts[0].part.legs.a.features
    # 4-1/4 in. that added-up rounding has moved by 0.01 mm; 13/16 in. is 20.6375 mm.
    assert (exact[1].x_mm, exact[1].diameter_mm) == (107.95, 20.6375)
    assert (exact[2].width_mm, exact[2].length_mm) == (20.6375, 26.9875)
    # 200.10 mm is no fraction within 0.02 mm and stays.
    assert exact[3].x_mm == 200.1
    (message,) = said(reading, "nc-nominal-inch")
    assert message == (
        "lengths brought back to nominal inches: 5 to 1/16 in.; 1 fit no fraction and stay as"
        " written"
    )


def test_a_metric_file_is_never_brought_back_to_inches():
    row = "  v  31.75u  63.50  20.64  0.00"
    reading = read(nc("BO", row), nominal_inch="yes")
    assert reading.parts[0].part.legs.a.features[0].diameter_mm == 20.64
    assert said(reading, "nc-nominal-inch") == []


NOMINAL = {
    "1/16": (1.59, 1.5875),
    "1/32": (0.79, 0.79375),
    "1/64": (0.4, 0.396875),
    "coarsest first": (12.7, 12.7),
    "off by more than 0.006": (1.6, 1.6),
}


@pytest.mark.parametrize("case", NOMINAL, ids=lambda name: name.replace(" ", "-"))
def test_how_near_a_size_must_be(case):
    written, expected = NOMINAL[case]
    row = f"  v  50.80u  50.80  {written + 12.7:.2f}  0.00"
    part = part_of(nc("BO", row, **US), nominal_inch="yes")
    assert part.legs.a.features[0].diameter_mm == pytest.approx(expected + 12.7, abs=1e-9)
