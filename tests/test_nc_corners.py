"""Rare turns of the NC reader and writer, each with the words it must find."""

import pytest
from nc_files import FLAT, flat, lines, nc, part_of, read, said

from translator.conventions import Conventions
from translator.emitters import EmitOptions
from translator.emitters.nc import emit
from translator.errors import CannotRepresentError
from translator.model import AngleEnd, AngleEnds, Hole, Scribe, Vertex

TOE = {"u_view_bottom": "toe"}
ROW = "  v 100.00u 50.00 18.00 0.00"


def errors(reading):
    return [(f.rule, f.message) for f in reading.findings if f.severity == "error"]


REFUSALS = {
    "figures without end": (nc("BO", "  v" + " 1.00" * 60), "nc-row-unreadable", "more than 40"),
    "two figures in a header line": (
        nc(height="100.00,1.00"),
        "nc-number-unreadable",
        "the profile height is '100.00,1.00', which is no single number",
    ),
    "overflow in the header": (nc(height="********"), "nc-number-overflow", "did not fit"),
    "overflow in the length": (nc(length="*******"), "nc-number-overflow", "did not fit"),
    "cut beyond square": (flat(web_start="95.000"), "nc-cut-angle", "not between -90 and 90"),
    "sink no wider than its hole": (
        flat("BO", "  v 9.00u 40.00 18.00 0.00", "  v 9.00u 40.00 18.00s 0.00"),
        "nc-countersink",
        "the countersink of 18 mm at x 9.00 is not wider than its hole of 18 mm",
    ),
    "inner contour that is open": (
        flat("IK", "  v 9.00u 40.00 0", "  19.00u 40.00 0", "  19.00u 60.00 0", "  9.00u 60.00 0"),
        "nc-contour-open",
        "is not closed: its last point lies 20.00 mm from its first",
    ),
    "contours on a narrow edge": (
        flat("AK", "  o 0.00u 0.00 0", "IK", "  u 0.00u 0.00 0"),
        "nc-view-edge",
        "narrow edge",
    ),
    "stamp of endless text": (flat("SI", "  v"), "nc-row-unreadable", "needs x, y, angle"),
    "radius of nothing": (
        nc(name="-", height="97.00", radius="90.00"),
        "nc-section",
        "root radius 90 mm does not fit a leg of 97 mm",
    ),
}


@pytest.mark.parametrize("case", REFUSALS, ids=lambda name: name.replace(" ", "-"))
def test_refusals(case):
    data, rule, words = REFUSALS[case]
    reading = read(data, arc_sign="plus-left")
    assert reading.parts == ()
    assert any(rule == found and words in message for found, message in errors(reading))


WARNINGS = {
    "signs behind a header number": (flat(height="100.00 mm;"), "nc-number-odd"),
    "thousands": (flat("BO", "  v 1,100.00u 50.00 18.00 0.00", length="2000.00"), "nc-thousands"),
    "continental thousands": (
        flat("BO", "  v 1.100,00u 50.00 18.00 0.00", length="2000.00"),
        "nc-thousands",
    ),
    "endless header text": (flat(texts=("x" * 5000, "-", "-", "-")), "nc-text-too-long"),
    "blank number": (flat(paint=""), "nc-number-missing"),
    "endless stamp": (flat("SI", "  v 9.00u 9.00 0.00 10r" + "x" * 1200), "nc-stamp"),
    "comment behind EN": (flat() + b"** late\r\n", None),
    "points repeated behind the last": (
        flat(
            *("AK", "  v 0.00u 0.00 0", "  1000.00u 0.00 0", "  1000.00u 100.00 0"),
            *("  0.00u 100.00 0", "  0.00u 0.00 0", "  0.00u 0.00 0"),
        ),
        "nc-point-repeated",
    ),
}


@pytest.mark.parametrize("case", WARNINGS, ids=lambda name: name.replace(" ", "-"))
def test_what_is_told_and_changes_nothing(case):
    data, rule = WARNINGS[case]
    reading = read(data)
    assert len(reading.parts) == 1
    assert errors(reading) == []
    if rule is not None:
        assert said(reading, rule)


def test_thousands_mean_what_they_say():
    for text in ("1,100.00", "1.100,00"):
        data = flat("BO", f"  v {text}u 50.00 18.00 0.00", length="2000.00")
        assert part_of(data).legs.face.features[0].x_mm == 1100.0


def test_a_mark_too_long_is_cut_with_an_error():
    reading = read(nc(mark="M" * 300))
    assert reading.parts[0].part.mark == "M" * 200
    assert [rule for rule, _ in errors(reading)] == ["nc-mark-too-long"]


def test_late_comments_and_long_lines_are_carried_whole():
    reading = read(flat("XX", "  " + "y" * 4500) + b"** late\r\n")
    assert reading.parts[0].part.carried == ("XX", "  " + "y" * 3998, "y" * 502, "** late")


def test_one_kind_of_finding_does_not_flood_the_report():
    rows = [f"  v {n}.00u {n % 9}0.00 0.00q 0.00" for n in range(1, 91)]
    reading = read(nc("BO", *rows))
    messages = said(reading, "nc-row-unreadable")
    assert messages == [
        "'q' behind y or diameter is no kind of hole (g, l, m or s)" + (" (90 lines: 27-116)")
    ]
    rows = [f"  v {n}.00u 50.00 18.00 0.00 {chr(97 + n % 26)}{n}" for n in range(1, 91)]
    reading = read(nc("BO", *rows, "  v 1.00x 1 1 1"))
    messages = said(reading, "nc-row-unreadable")
    assert len(messages) == 26
    marks = [f"  v {n}.00u 50.00 {n}.00 -{n}.00" for n in range(1, 91)]
    messages = said(read(nc("BO", *marks)), "nc-hole")
    assert len(messages) == 51
    assert messages[-1] == "40 more findings of this kind (lines 77-116)"


def test_other_profiles_in_several_sheets_are_not_for_this_tool():
    reading = read(nc(code="U", name="U100") + nc(code="I", name="IPE100"))
    assert (reading.parts, reading.findings) == ((), ())
    assert reading.not_ours == "profile code U (channels)"


def test_everything_that_reads_differently_is_listed():
    rows = (
        *("BO", *(f"  u {n}00.00u 30.00 18.00 0.00" for n in range(1, 7))),
        "  u 800.00u 30.00 18.00 0.00l 20.00 0.00 30.00",
        *("SI", "  u 500.00u 20.00 90.00 10rX"),
        *(
            "IK",
            "  u 40.00u 20.00 0",
            "  60.00u 20.00 0",
            "  50.00u 30.00 8.00",
            "  40.00u 20.00 0",
        ),
        *("PU", "  u 40.00u 20.00 0", "  60.00u 25.00 0"),
    )
    reading = read(nc(*rows))
    (finding,) = [f for f in reading.findings if f.severity == "error"]
    assert "; and 4 more. Compare" in finding.message
    told = [r.message for r in finding.related]
    assert len(told) == 10
    assert any("turned -30 deg" in text and "turned 30 deg" in text for text in told)
    assert any(text.startswith("line 35, stamp on leg b") for text in told)
    assert any("opening on leg b at x 40.00: 70.00 to 80.00 from heel" in text for text in told)
    assert any("scribe on leg b at x 40.00: 75.00 to 80.00 from heel" in text for text in told)


def test_a_reading_that_drops_a_twin_is_told_apart():
    rows = ("BO", "  v 100.00u 30.00 18.00 0.00", "  v 100.00o 70.00 18.00 0.00")
    reading = read(nc(*rows))
    (finding,) = [f for f in reading.findings if f.severity == "error"]
    assert "given twice or impossible" in finding.related[0].message


def test_a_contour_that_is_broken_under_one_reading_only():
    rows = ("AK", "  v 0.00u 0.00 0", "  1000.00u 0.00 0", "  1000.00o 0.00 0", "  0.00o 0.00 0")
    # From the lower edge all points lie on one line, so that this reading encloses nothing.
    assert read(flat(*rows, "  0.00u 0.00 0")).parts == ()
    assert part_of(flat(*rows, "  0.00u 0.00 0"), y_datum="named-edge").legs.face.trims == ()
    refused = read(flat(*rows, "  0.00u 0.00 0"), y_datum="view-bottom")
    assert any("encloses nothing" in message for _, message in errors(refused))


def test_a_far_cut_told_by_one_contour_and_the_header():
    rows = ("AK", "  v 0.00u 0.00 0", "  942.26u 0.00 0", "  1000.00u 100.00 0", "  0.00u 100.00 0")
    part = part_of(nc(*rows, "  0.00u 0.00 0", web_end="30.000"))
    assert (part.ends.far.leg_a_deg, part.ends.far.leg_b_deg) == (30.0, 0.0)
    assert part.legs.b.trims == ()


def test_a_cut_too_steep_for_a_part():
    reading = read(flat(web_start="89.500"), mitre_sign="plus-left")
    assert reading.parts == ()
    assert any("is 89.5 degrees, not under 89" in message for _, message in errors(reading))


def test_contours_given_from_the_axis_prove_their_datum():
    rows = ("AK", "  v 0.00s -50.00 0", "  1000.00s -50.00 0", "  1000.00s 50.00 0")
    part = part_of(flat(*rows, "  0.00s 50.00 0", "  0.00s -50.00 0"))
    assert part.legs.face.trims == ()


def test_a_contour_of_very_many_corners_is_kept_as_an_outline():
    top = [f"  {1000 - n * 4:.2f}u {90 + n % 2 * 10:.2f} 0" for n in range(240)]
    rows = ("AK", "  v 0.00u 0.00 0", "  1000.00u 0.00 0", *top, "  0.00u 90.00 0")
    part = part_of(flat(*rows, "  0.00u 0.00 0"))
    assert [trim.kind for trim in part.legs.face.trims] == ["outline"]


@pytest.mark.parametrize("text", ["TO", "XX"])
def test_left_aligned_texts_may_spell_any_code(text):
    rows = [row.strip() for row in lines(texts=(text, "-", "-", "-"))]
    data = "".join(f"{row}\r\n" for row in rows).encode()
    assert part_of(data).title == text


def test_a_row_that_hides_among_the_texts_refuses_the_part():
    reading = read(nc("bo ", ROW, texts=()).replace(b"bo \r\n", b"b0\r\n"))
    assert reading.parts == ()
    assert [rule for rule, _ in errors(reading)] == ["nc-text-data"]


def test_lines_of_both_kinds_are_written():
    scribes = tuple(
        Scribe(
            id=f"f{n}",
            method=method,
            closed=n == 2,
            line=(
                Vertex(x_mm=10.0 * n, y_mm=10.0),
                Vertex(x_mm=10.0 * n + 5, y_mm=10.0, bulge=0.3),
                Vertex(x_mm=10.0 * n, y_mm=40.0),
            ),
        )
        for n, method in enumerate(("powder", "punch"), start=1)
    )
    part = part_of(flat())
    part = part.model_copy(update={"legs": type(part.legs)(face={"features": scribes})})
    part = type(part)(**dict(part))
    settings = EmitOptions(conventions=Conventions(arc_sign="plus-left"))
    data = emit(part, settings)
    assert data.count(b"PU\r\n") == data.count(b"KO\r\n") == 1
    back = part_of(data).legs.face.features
    assert [(f.method, f.closed, len(f.line)) for f in back] == [
        ("powder", False, 3),
        ("punch", True, 3),
    ]


FLANGE_CUTS = {
    "seen in u, toe": ({"flange_cut_view": "u", **TOE}, ["20.000", "-10.000", "-30.000", "0.000"]),
    "seen in o, toe": ({"flange_cut_view": "o", **TOE}, ["20.000", "-10.000", "30.000", "0.000"]),
    "heel": ({"u_view_bottom": "heel"}, ["20.000", "-10.000", "30.000", "0.000"]),
    "view open": (TOE, ["20.000", "-10.000", "0.000", "0.000"]),
}


@pytest.mark.parametrize("case", FLANGE_CUTS, ids=lambda name: name.replace(" ", "-"))
def test_header_cuts_of_an_angle(case):
    conventions, expected = FLANGE_CUTS[case]
    ends = AngleEnds(start=AngleEnd(leg_a_deg=20.0, leg_b_deg=30.0), far=AngleEnd(leg_a_deg=10.0))
    part = part_of(nc())
    part = type(part)(**{**dict(part), "ends": ends})
    settings = EmitOptions(conventions=Conventions(mitre_sign="plus-left", **conventions))
    data = emit(part, settings)
    header = [line for line in data.decode().split("\r\n") if not line.startswith("**")]
    assert [line.strip() for line in header[17:21]] == expected
    back = part_of(data)
    assert (back.ends.start, back.ends.far) == (ends.start, ends.far)


def test_a_thickness_that_rounding_takes_away_is_refused():
    part = part_of(flat())
    section = type(part.section)(width_mm=100.0, thickness_mm=0.004)
    with pytest.raises(CannotRepresentError, match="the thickness is 0 when rounded"):
        emit(type(part)(**{**dict(part), "section": section}), EmitOptions())


def test_two_corners_that_rounding_joins_are_written_once():
    part = part_of(flat("IK", "  v 40.00u 20.00 0", "  60.00u 20.00 0", "  50.00u 30.00 0",
                        "  40.00u 20.00 0"))  # fmt: skip
    contour = part.legs.face.features[0].contour
    doubled = (contour[0], Vertex(x_mm=40.001, y_mm=20.0), *contour[1:])
    opening = part.legs.face.features[0].model_copy(update={"contour": doubled})
    fresh = type(part)(**{**dict(part), "legs": {"face": {"features": (opening,)}}})
    assert part_of(emit(fresh, EmitOptions())).legs.face.features[0].contour == contour


def test_a_hole_given_as_a_feature_keeps_its_place_among_other_kinds():
    rows = ("SI", "  v 9.00u 9.00 0.00 10rA", "BO", ROW, "SI", "  v 99.00u 9.00 0.00 10rB")
    part = part_of(flat(*rows))
    assert [f.kind for f in part.legs.face.features] == ["stamp", "hole", "stamp"]
    assert part_of(emit(part, EmitOptions())) == part
    assert isinstance(part.legs.face.features[1], Hole)


def test_the_flat_header_is_that_of_a_flat():
    assert FLAT["code"] == "B"
    assert part_of(flat()).section.kind == "flat"
