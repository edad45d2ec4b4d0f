"""Rows of holes, slots, stamps, contours and lines: where they lie on a leg, and what is refused.

The gauges follow the format's fact sheet, section 4.2; slots its section 5.
"""

import math

import pytest
from nc_files import flat, nc, part_of, places, read, said

from translator.geometry.contours import area
from translator.geometry.frames import outside_point
from translator.model import (
    CentreMark,
    Clip,
    Hole,
    Opening,
    Rounding,
    Scribe,
    Slot,
    Stamp,
)

TOE = {"u_view_bottom": "toe"}
HEEL = {"u_view_bottom": "heel"}

VIEWS = {
    # view, reference letter, y, settings -> leg, gauge; legs of 120 (v) and 80 (u), hole of 10
    "v u": ("v", "u", 30, {}, "a", 30),
    "v o named": ("v", "o", 30, {"y_datum": "named-edge"}, "a", 90),
    "v o bottom": ("v", "o", 30, {"y_datum": "view-bottom"}, "a", 30),
    "v s named": ("v", "s", 15, {"y_datum": "named-edge"}, "a", 75),
    "v s bottom": ("v", "s", 45, {"y_datum": "view-bottom"}, "a", 45),
    "u u toe": ("u", "u", 30, TOE, "b", 50),
    "u u heel": ("u", "u", 30, HEEL, "b", 30),
    "u o toe named": ("u", "o", 30, TOE | {"y_datum": "named-edge"}, "b", 30),
    "u o toe bottom": ("u", "o", 30, TOE | {"y_datum": "view-bottom"}, "b", 50),
    "u o heel named": ("u", "o", 30, HEEL | {"y_datum": "named-edge"}, "b", 50),
    "u o heel bottom": ("u", "o", 30, HEEL | {"y_datum": "view-bottom"}, "b", 30),
    "u s toe named": ("u", "s", 15, TOE | {"y_datum": "named-edge"}, "b", 25),
    "u s heel named": ("u", "s", 15, HEEL | {"y_datum": "named-edge"}, "b", 55),
    "h u rolled": ("h", "u", 30, {"h_view": "rolled"}, "a", 90),
    "h u upright": ("h", "u", 30, {"h_view": "upright"}, "a", 30),
    "h o rolled named": ("h", "o", 30, {"h_view": "rolled", "y_datum": "named-edge"}, "a", 30),
    "h s rolled named": ("h", "s", 15, {"h_view": "rolled", "y_datum": "named-edge"}, "a", 45),
    "h s upright named": ("h", "s", 15, {"h_view": "upright", "y_datum": "named-edge"}, "a", 75),
    "o u": ("o", "u", 30, TOE, "b", 30),
    "o o named": ("o", "o", 30, TOE | {"y_datum": "named-edge"}, "b", 50),
    "o s named": ("o", "s", 15, TOE | {"y_datum": "named-edge"}, "b", 55),
}
UNEQUAL = {"name": "L120*80*10", "height": "120.00", "flange": "80.00"}


@pytest.mark.parametrize("case", VIEWS, ids=lambda name: name.replace(" ", "-"))
def test_views_and_reference_letters(case):
    view, ref, y, settings, leg, gauge = VIEWS[case]
    # A hole in each outer face fixes the heel, so that inner faces are what they seem.
    fixed = ("  v 900.00u 60.00 10.00 0.00", "  u 900.00u 40.00 10.00 0.00")
    row = f"  {view}   100.00{ref}   {y:.2f}   10.00   0.00"
    part = part_of(nc("BO", *fixed, row, **UNEQUAL), **settings)
    found = [place for place in places(part, leg) if place[1] == 100.0]
    assert found == [("hole", 100.0, gauge)]


def test_the_leg_in_view_v_is_leg_a_even_when_it_is_the_shorter():
    row = "  v 100.00u 30.00 10.00 0.00"
    reading = read(nc("BO", row, name="L120*80*10", height="80.00", flange="120.00"))
    (placed,) = reading.parts
    section = placed.part.section
    assert (section.leg_a_mm, section.leg_b_mm) == (80.0, 120.0)
    assert section.designation == "L80x120x10"
    assert "names the other leg first" in said(reading, "nc-designation")[0]


@pytest.mark.parametrize(("inner", "outer"), [("o", "v"), ("h", "u")], ids=["v-and-o", "h-and-u"])
def test_the_opposite_hand_is_never_normalised(inner, outer):
    rows = (f"  {outer} 100.00u 50.00 10.00 0.00", f"  {inner} 100.00u 50.00 10.00 0.00")
    reading = read(nc("BO", *rows), h_view="rolled", **TOE)
    assert reading.parts == ()
    (message,) = said(reading, "nc-view-hand")
    assert "which is the opposite hand" in message


KINDS = {
    "through": ("18.00 0.00", Hole(id="f1", x_mm=50, y_mm=40, diameter_mm=18)),
    "blind": ("18.00 4.00", Hole(id="f1", x_mm=50, y_mm=40, diameter_mm=18, depth_mm=4)),
    "deeper than thick": ("18.00 12.00", Hole(id="f1", x_mm=50, y_mm=40, diameter_mm=18)),
    "as deep as thick": ("18.00 10.00", Hole(id="f1", x_mm=50, y_mm=40, diameter_mm=18)),
    "tapped": ("16.00g 0.00", Hole(id="f1", x_mm=50, y_mm=40, diameter_mm=16, thread="right")),
    "tapped left": ("16.00l 0.00", Hole(id="f1", x_mm=50, y_mm=40, diameter_mm=16, thread="left")),
    "mark": ("0.00m 0.00", CentreMark(id="f1", x_mm=50, y_mm=40)),
    "mark of a size": ("2.00m 1.00", CentreMark(id="f1", x_mm=50, y_mm=40)),
    "diameter 0": ("0.00 0.00", CentreMark(id="f1", x_mm=50, y_mm=40)),
    "three zeros": ("18.00 0.00 0.00 0.00 0.00", Hole(id="f1", x_mm=50, y_mm=40, diameter_mm=18)),
    "slot of no size": ("18.00 0.00l 0.00 0.00", Hole(id="f1", x_mm=50, y_mm=40, diameter_mm=18)),
}


@pytest.mark.parametrize("case", KINDS, ids=lambda name: name.replace(" ", "-"))
def test_kinds_of_holes(case):
    figures, feature = KINDS[case]
    part = part_of(flat("BO", f"  v 50.00u 40.00 {figures}"))
    assert part.legs.face.features == (feature,)


def test_the_kind_letter_may_stand_behind_y():
    part = part_of(flat("BO", "  v 50.00u 40.00g 16.00 0.00"))
    assert part.legs.face.features[0].thread == "right"


def test_a_countersink_joins_the_hole_on_its_centre():
    reading = read(flat("BO", "  v 50.00u 40.00 18.00 0.00", "  v 50.00u 40.00 36.00s 5.00"))
    (hole,) = reading.parts[0].part.legs.face.features
    assert (hole.diameter_mm, hole.countersink_diameter_mm) == (18.0, 36.0)
    assert said(reading, severity="warning") == [("nc-countersink", "warning", 28)]


BAD_HOLES = {
    "countersink alone": ("  v 50.00u 40.00 36.00s 5.00", "nc-countersink", "may be the hole"),
    "negative diameter": ("  v 50.00u 40.00 -18.00 0.00", "nc-hole", "less than 0"),
    "negative depth": ("  v 50.00u 40.00 18.00 -1.00", "nc-hole", "less than 0"),
    "tapped of no size": ("  v 50.00u 40.00 0.00g 0.00", "nc-hole", "is 0"),
    "slot of no diameter": ("  v 50.00u 40.00 0.00 0.00l 20.00", "nc-hole", "diameter is 0"),
    "slot letter missing": ("  v 50.00u 40.00 18.00 0.00 20.00", "nc-hole", "letter l that"),
    "negative slot": ("  v 50.00u 40.00 18.00 0.00l -20.00", "nc-hole", "less than 0"),
    "tapped slot": ("  v 50.00u 40.00 18.00g 0.00l 20.00", "nc-hole", "cannot also be"),
    "blind cut-out": ("  v 50.00u 40.00 18.00 2.00l 20.00 10.00", "nc-slot", "not go through"),
    "narrow edge": ("  o 50.00u 5.00 10.00 0.00", "nc-view-edge", "narrow edge"),
    "blind from the back": ("  h 50.00u 50.00 10.00 2.00", "nc-inner-face", "only outer faces"),
}


@pytest.mark.parametrize("case", BAD_HOLES, ids=lambda name: name.replace(" ", "-"))
def test_holes_that_are_refused(case):
    row, rule, words = BAD_HOLES[case]
    reading = read(flat("BO", row), h_view="rolled")
    assert reading.parts == ()
    assert [f.span.line for f in reading.findings if f.severity == "error"] == [27]
    assert words in said(reading, rule)[0]


def test_holes_given_twice_are_taken_once():
    row = "  v 100.00u 50.00 18.00 0.00"
    back = "  h 100.00u 50.00 18.00 0.00"
    for rows in ((row, row), (row, back)):
        reading = read(nc("BO", *rows))
        assert places(reading.parts[0].part, "a") == [("hole", 100.0, 50.0)]
        (message,) = said(reading, "nc-duplicate")
        assert message == (
            "the hole at x 100.00, 50.00 from the heel is already given in line 27; it was taken"
            " once"
        )


def test_two_sizes_on_one_centre_are_both_kept_and_told():
    reading = read(flat("BO", "  v 50.00u 40.00 18.00 0.00", "  v 50.00u 40.00 30.00 4.00"))
    assert len(reading.parts[0].part.legs.face.features) == 2
    assert "holes of 18 and 30 mm stand on one centre" in said(reading, "nc-same-centre")[0]


SLOTS = {
    # rows of 18 x 20 between centres at (240, 50), in the words of the fact sheet, section 5
    "level": ("20.00 0.00 0.00", {}, (250.0, 50.0, 38.0, 0.0)),
    "standing by height": ("0.00 20.00 0.00", {}, (240.0, 60.0, 38.0, 90.0)),
    "standing by angle": ("20.00 0.00 90.00", {}, (240.0, 60.0, 38.0, 90.0)),
    "turned": ("20.00 0.00 30.00", {}, (240 + 5 * math.sqrt(3), 55.0, 38.0, 30.0)),
    "turned by height": ("0.00 20.00 30.00", {}, (235.0, 50 + 5 * math.sqrt(3), 38.0, -60.0)),
    "middle": ("20.00 0.00 0.00", {"slot_reference": "middle"}, (240.0, 50.0, 38.0, 0.0)),
    "overall": ("38.00 0.00 0.00", {"slot_length": "overall"}, (250.0, 50.0, 38.0, 0.0)),
    "overall, middle": (
        "38.00 0.00 45.00",
        {"slot_length": "overall", "slot_reference": "middle"},
        (240.0, 50.0, 38.0, 45.0),
    ),
}


@pytest.mark.parametrize("case", SLOTS, ids=lambda name: name.replace(" ", "-"))
def test_slots(case):
    sizes, settings, expected = SLOTS[case]
    part = part_of(flat("BO", f"  v 240.00u 50.00 18.00 0.00l {sizes}"), **settings)
    (slot,) = part.legs.face.features
    assert isinstance(slot, Slot)
    assert slot.width_mm == 18.0
    found = (slot.x_mm, slot.y_mm, slot.length_mm, slot.angle_deg)
    assert found == pytest.approx(expected, abs=1e-6)


def test_a_turned_slot_on_the_other_leg_turns_with_the_view():
    row = "  u 240.00u 50.00 18.00 0.00l 20.00 0.00 30.00"
    toe = part_of(nc("BO", row), **TOE).legs.b.features[0]
    heel = part_of(nc("BO", row), **HEEL).legs.b.features[0]
    # In the view the slot rises to the right; with the toe at the bottom that is to the heel.
    assert (toe.y_mm, toe.angle_deg) == pytest.approx((45.0, -30.0))
    assert (heel.y_mm, heel.angle_deg) == pytest.approx((55.0, 30.0))
    assert toe.x_mm == heel.x_mm == pytest.approx(240 + 5 * math.sqrt(3))


def test_a_slot_size_that_cannot_be_overall_is_refused_under_that_setting():
    reading = read(flat("BO", "  v 240.00u 50.00 18.00 0.00l 10.00"), slot_length="overall")
    assert reading.parts == ()
    assert "is not more than the diameter of 18 mm" in said(reading, "nc-slot")[0]


def test_a_slot_of_two_sizes_is_an_opening_with_round_corners():
    part = part_of(flat("BO", "  v 240.00u 50.00 10.00 0.00l 40.00 20.00 90.00"))
    (opening,) = part.legs.face.features
    assert isinstance(opening, Opening)
    # Overall 50 x 30 with corners of radius 5, turned to stand: x 215 to 245, y 45 to 95.
    assert area(opening.contour) == pytest.approx(50 * 30 - (4 - math.pi) * 25)
    assert sorted({round(v.x_mm, 6) for v in opening.contour}) == [215, 220, 240, 245]
    assert sorted({round(v.y_mm, 6) for v in opening.contour}) == [45, 50, 90, 95]


STAMPS = {
    # lower left of 10 mm letters at x 300, y 20 in a view 100 across
    "v": ("v", 0, {}, "a", (300.0, 20.0, 0.0)),
    "v turned": ("v", 90, {}, "a", (300.0, 20.0, 90.0)),
    # Toe at the bottom: the letters' upper edge, 30 up, is the one nearest the heel.
    "u toe": ("u", 0, TOE, "b", (300.0, 70.0, 0.0)),
    "u heel": ("u", 0, HEEL, "b", (300.0, 20.0, 0.0)),
    # Reading upwards in the view, the letters' top looks left: their box is x 290 to 300.
    "u toe turned": ("u", 90, TOE, "b", (290.0, 80.0, -90.0)),
    "u toe on its head": ("u", 180, TOE, "b", (300.0, 90.0, 180.0)),
}


@pytest.mark.parametrize("case", STAMPS, ids=lambda name: name.replace(" ", "-"))
def test_stamps(case):
    view, angle, settings, leg, expected = STAMPS[case]
    part = part_of(nc("SI", f"  {view} 300.00u 20.00 {angle:.2f} 10rTQ-7"), **settings)
    (stamp,) = getattr(part.legs, leg).features
    assert (stamp.text, stamp.height_mm, stamp.may_move) == ("TQ-7", 10.0, True)
    found = (stamp.x_mm, stamp.from_heel_mm, stamp.angle_deg)
    assert found == pytest.approx(expected, abs=1e-6)


LETTERS = {
    "glued flag": ("10rW104", "W104", True),
    "no flag": ("10W104", "W104", False),
    "apart": ("10 W104", "W104", False),
    "text begins with r": ("10 r7", "r7", False),
    "flag and text with r": ("10rr7", "r7", True),
    "blanks and case": ("10rAb  cD 1", "Ab  cD 1", True),
    "umlaut": ("10rTräger", "Träger", True),
    "real height": ("10.00rW", "W", True),
    "comment signs": ("10r** a;b//c", "** a;b//c", True),
}


@pytest.mark.parametrize("case", LETTERS, ids=lambda name: name.replace(" ", "-"))
def test_letters_of_stamps(case):
    row, text, flag = LETTERS[case]
    part = part_of(flat("SI", f"  v 300.00u 20.00 0.00 {row}"))
    (stamp,) = part.legs.face.features
    assert (stamp.text, stamp.may_move) == (text, flag)


def test_a_stamp_that_spells_the_mark_follows_it():
    assert part_of(flat("SI", "  v 300.00u 20.00 0.00 10rK1")).legs.face.features == (
        Stamp(id="f1", x_mm=300.0, from_heel_mm=20.0, height_mm=10.0, may_move=True),
    )


@pytest.mark.parametrize("row", ["  v 300.00u 20.00 0.00 10r", "  v 300.00u 20.00 0.00 0rX"])
def test_a_stamp_without_letters_is_kept_as_it_stands(row):
    reading = read(flat("SI", row))
    assert reading.parts[0].part.legs.face.features == ()
    assert reading.parts[0].part.carried == (row,)
    assert said(reading, severity="warning") == [("nc-stamp", "warning", 27)]


def points(*rows, code="AK", view="v"):
    first, *rest = rows
    return (code, f"  {view} {first}", *(f"      {row}" for row in rest))


BOX = ("0.00u 0.00 0", "1000.00u 0.00 0", "1000.00u 100.00 0", "0.00u 100.00 0", "0.00u 0.00 0")
SHIFTED = (
    "20.00u 0.00 0",
    "1020.00u 0.00 0",
    "1020.00u 100.00 0",
    "20.00u 100.00 0",
    "20.00u 0.00 0",
)
CLIPPED = (
    "0.00u 0.00 0",
    "1000.00u 0.00 0",
    "1000.00u 100.00 0",
    "30.00u 100.00 0",
    "0.00u 60.00 0",
    "0.00u 0.00 0",
)


def test_a_contour_that_is_the_plain_rectangle_changes_nothing():
    assert part_of(flat(*points(*BOX))).legs.face.trims == ()
    assert part_of(nc(*points(*BOX), *points(*BOX, view="u"))).legs.b.trims == ()


@pytest.mark.parametrize("rows", [CLIPPED, CLIPPED[::-1], (*CLIPPED[2:], *CLIPPED[1:3])])
def test_a_contour_may_run_either_way_and_begin_anywhere(rows):
    part = part_of(flat(*points(*rows)))
    assert part.legs.face.trims == (Clip(end="start", side="upper", along_mm=30, across_mm=40),)


def test_views_and_letters_may_be_repeated_in_a_contour():
    part = part_of(flat("AK", *(f"  v {row}" for row in CLIPPED)))
    assert len(part.legs.face.trims) == 1


CONTOURS = {
    "not closed": (CLIPPED[:-1], "nc-contour-open", "is not closed"),
    "encloses nothing": (
        ("0.00u 0.00 0", "1000.00u 0.00 0", "500.00u 0.00 0", "0.00u 0.00 0"),
        "nc-contour",
        "encloses nothing",
    ),
    "crosses itself": (
        (BOX[0], BOX[2], "1000.00u 30.00 0", BOX[3], BOX[0]),
        "nc-contour",
        "crosses itself",
    ),
    "too short": (
        [row.replace("1000.00", "990.00") for row in BOX],
        "nc-contour-size",
        "from x 0.00 to 990.00 mm, the header's length is 1000.00 mm",
    ),
    "shifted": (
        SHIFTED,
        "nc-contour-size",
        "all x seem to be shifted by 20.00 mm; nothing was moved",
    ),
    "too wide": (
        [row.replace(" 100.00 ", " 101.00 ") for row in BOX],
        "nc-contour-size",
        "beyond the header's 100.00 mm",
    ),
    "corner letter t": (
        (BOX[0], BOX[1], "1000.00u 100.00t 12.00", *BOX[3:]),
        "nc-corner-letter",
        "t may mean a rounding tangent to both edges with radius 12 mm, w a relief hole",
    ),
    "corner letter w": (
        (BOX[0], BOX[1], "1000.00u 100.00w -12.00", *BOX[3:]),
        "nc-corner-letter",
        "w a relief hole of radius 12 mm",
    ),
    "arc that does not reach": (
        (BOX[0], BOX[1], "1000.00u 100.00 10.00", *BOX[3:]),
        "nc-arc-impossible",
        "radius 10 mm is less than half the 1000.00 mm between its ends",
    ),
}


@pytest.mark.parametrize("case", CONTOURS, ids=lambda name: name.replace(" ", "-"))
def test_contours_that_are_refused(case):
    rows, rule, words = CONTOURS[case]
    reading = read(flat(*points(*rows)), arc_sign="plus-left")
    assert reading.parts == ()
    assert any(words in message for message in said(reading, rule))


def test_small_gaps_and_repeats_are_put_right_and_told():
    rows = (CLIPPED[0], *CLIPPED[:-1], "0.00u 0.40 0")
    reading = read(flat(*points(*rows)))
    assert len(reading.parts[0].part.legs.face.trims) == 1
    assert ("nc-contour-open", "warning", 33) in said(reading)
    assert ("nc-point-repeated", "note", 28) in said(reading)


def test_two_contours_of_one_leg():
    twice = read(flat(*points(*CLIPPED), *points(*CLIPPED)))
    assert said(twice, severity="warning") == [("nc-duplicate", "warning", 34)]
    differ = read(flat(*points(*CLIPPED), *points(*BOX)))
    assert differ.parts == ()
    assert "has two outer contours that differ" in said(differ, "nc-contour-twice")[0]


def test_two_contours_in_one_block_are_told_apart():
    reading = read(nc(*points(*BOX), *points(*CLIPPED, view="u")[1:]), **TOE)
    (placed,) = reading.parts
    assert placed.part.legs.a.trims == ()
    assert len(placed.part.legs.b.trims) == 1
    assert ("nc-several-contours", "note", 26) in said(reading)


def test_a_contour_narrower_than_the_leg_is_told():
    rows = [row.replace(" 100.00 ", " 90.00 ") for row in BOX]
    reading = read(flat(*points(*rows)))
    assert "nowhere up to both edges" in said(reading, "nc-contour-size")[0]


def test_weld_preparation_is_kept_as_it_stands():
    rows = [*CLIPPED[:2], CLIPPED[2] + " 45.00 2.00 0.00 0.00", *CLIPPED[3:]]
    reading = read(flat(*points(*rows)))
    (placed,) = reading.parts
    assert placed.part.carried == ("      1000.00u 100.00 0 45.00 2.00 0.00 0.00",)
    assert said(reading, severity="warning") == [("nc-weld-preparation", "warning", 29)]


def test_a_rounding_tells_the_sign_of_the_arcs():
    corner = ("0.00u 0.00 0", "1000.00u 0.00 0", "1000.00u 80.00 {}", "980.00u 100.00 0")
    for sign in ("20.00", "-20.00"):
        rows = [row.format(sign) for row in (*corner, *BOX[3:])]
        part = part_of(flat(*points(*rows)))
        assert part.legs.face.trims == (Rounding(end="far", side="upper", radius_mm=20),)


def test_an_arc_set_against_its_tangents_is_told():
    rows = ("0.00u 0.00 0", "1000.00u 0.00 0", "1000.00u 80.00 20.00", "980.00u 100.00 0")
    reading = read(flat(*points(*rows, *BOX[3:])), arc_sign="plus-right")
    assert len(said(reading, "nc-arc-not-tangent")) == 1


def test_openings_and_circles():
    circle = ("500.00u 50.00 20.00", "540.00u 50.00 20.00", "500.00u 50.00 0.00")
    reading = read(flat(*points(*circle, code="IK")))
    assert reading.parts[0].part.legs.face.features == (
        Hole(id="f1", x_mm=520.0, y_mm=50.0, diameter_mm=40.0),
    )
    assert said(reading) == [("nc-contour-round", "note", 27)]
    triangle = ("500.00u 40.00 0", "540.00u 40.00 0", "520.00u 70.00 0", "500.00u 40.00 0")
    (opening,) = part_of(flat(*points(*triangle, code="IK"))).legs.face.features
    assert [(v.x_mm, v.y_mm) for v in opening.contour] == [(500, 40), (540, 40), (520, 70)]


def test_a_circle_of_four_arcs_tells_the_sign_of_the_arcs():
    rows = (
        "520.00u 30.00 -20.00",
        "540.00u 50.00 -20.00",
        "520.00u 70.00 -20.00",
        "500.00u 50.00 -20.00",
        "520.00u 30.00 0.00",
    )
    (hole,) = part_of(flat(*points(*rows, code="IK"))).legs.face.features
    assert hole == Hole(id="f1", x_mm=520.0, y_mm=50.0, diameter_mm=40.0)


def test_powder_and_punch_lines_are_marks_and_never_cuts():
    part = part_of(
        flat(
            *points("10.00u 10.00 0", "50.00u 10.00 0", code="PU"),
            *points(
                "10.00u 20.00 0", "50.00u 20.00 0", "50.00u 60.00 0", "10.00u 20.00 0", code="KO"
            ),
            *points("70.00u 20.00 0", code="KO"),
        )
    )
    first, second, third = part.legs.face.features
    assert isinstance(first, Scribe)
    assert isinstance(second, Scribe)
    assert (first.method, first.closed, len(first.line)) == ("powder", False, 2)
    assert (second.method, second.closed, len(second.line)) == ("punch", True, 3)
    assert third == CentreMark(id="f3", x_mm=70.0, y_mm=20.0)


@pytest.mark.parametrize(
    "rows",
    [
        ("BO", "  h 50.00u 50.00 0.00m 0.00"),
        ("SI", "  h 50.00u 50.00 0.00 10rK1"),
        ("PU", "  h 50.00u 50.00 0", "    90.00u 50.00 0"),
        ("PU", "  v 50.00u 50.00 0"),
    ],
    ids=["mark", "stamp", "line", "single-point"],
)
def test_marks_that_cannot_be_made_outside_are_kept_as_they_stand(rows):
    reading = read(flat(*rows), h_view="rolled")
    (placed,) = reading.parts
    assert placed.part.legs.face.features == ()
    assert placed.part.carried == rows[1:]


def test_header_cuts_without_a_contour_need_the_sign():
    open_ = read(flat(web_start="30.000"))
    assert open_.parts == ()
    (message,) = said(open_, "nc-reading-open")
    assert (
        'start cut of the face: long at the upper edge by 30 deg if mitre_sign is "plus-left",'
        ' long at the lower edge by 30 deg if mitre_sign is "plus-right"'
    ) in message
    part = part_of(flat(web_start="30.000", web_end="15.000"), mitre_sign="plus-left")
    # Turned to the left, the upper end of the trace lies nearer the start.
    assert part.ends.start.face_deg == 30.0
    assert part.ends.far.face_deg == -15.0


FLANGES = {
    "toe, seen in u": (TOE | {"flange_cut_view": "u"}, -30.0),
    "toe, seen in o": (TOE | {"flange_cut_view": "o"}, 30.0),
    "heel, seen in u": (HEEL | {"flange_cut_view": "u"}, 30.0),
    "heel, seen in o": (HEEL | {"flange_cut_view": "o"}, 30.0),
}


@pytest.mark.parametrize("case", FLANGES, ids=lambda name: name.replace(" ", "-"))
def test_flange_cuts_without_a_contour(case):
    settings, angle = FLANGES[case]
    part = part_of(nc(flange_start="30.000"), mitre_sign="plus-left", **settings)
    assert (part.ends.start.leg_a_deg, part.ends.start.leg_b_deg) == (0.0, angle)


def test_square_cuts_written_as_90_degrees():
    reading = read(flat(web_start="90.000", web_end="-90.000"))
    assert reading.parts[0].part.ends.start.face_deg == 0.0
    assert [line for _, _, line in said(reading, severity="warning")] == [18, 19]


MITRED = (
    "57.74u 0.00 0",
    "1000.00u 0.00 0",
    "1000.00u 100.00 0",
    "0.00u 100.00 0",
    "57.74u 0.00 0",
)


def test_a_header_cut_that_the_contour_shows_gives_its_exact_angle():
    part = part_of(flat(*points(*MITRED), web_start="30.000"))
    assert part.ends.start.face_deg == 30.0
    assert part.legs.face.trims == ()
    assert part_of(flat(*points(*MITRED))).ends.start.face_deg == 30.0


def test_a_header_cut_that_the_contour_does_not_show_is_refused():
    reading = read(flat(*points(*BOX), web_start="30.000"))
    assert reading.parts == ()
    assert "its contour (line 27) has no such edge there" in said(reading, "nc-cut-angle")[0]


def test_the_complement_of_a_cut_angle_is_told():
    reading = read(flat(*points(*MITRED), web_start="60.000"))
    assert reading.parts[0].part.ends.start.face_deg == pytest.approx(30.0)
    assert "is the complement" in said(reading, "nc-cut-angle")[0]


def test_a_bevel_through_a_flat_is_refused():
    reading = read(flat(flange_start="30.000"), mitre_sign="plus-left")
    assert reading.parts == ()
    assert "bevel a flat through its thickness" in said(reading, "nc-cut-angle")[0]


def test_a_through_cut_told_by_one_contour_and_the_header():
    part = part_of(nc(*points(*MITRED), web_start="30.000"))
    assert (part.ends.start.leg_a_deg, part.ends.start.leg_b_deg) == (30.0, 0.0)
    assert (part.legs.a.trims, part.legs.b.trims) == ((), ())


@pytest.mark.parametrize(("x", "y"), [(100.0, 30.0), (640.0, 55.0), (999.0, 12.5)])
def test_view_u_with_the_toe_at_the_bottom_is_the_outside_view(x, y):
    # From outside leg b's heel is at the top: v runs from 0 there down to minus the width.
    part = part_of(nc("BO", f"  u {x:.2f}u {y:.2f} 10.00 0.00"), **TOE)
    (hole,) = part.legs.b.features
    assert outside_point("b", hole.x_mm, hole.y_mm) == (x, y - 100.0)
