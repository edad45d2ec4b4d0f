"""Outlines of known parts, corner by corner, and what can't be cut."""

import math

import pytest

from translator.geometry.contours import area
from translator.geometry.ends import end_x, heel_x, outermost_x, plane_x
from translator.geometry.outline import leg_outline
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    Clip,
    Cope,
    Flat,
    FlatEnd,
    FlatEnds,
    FlatLegs,
    Leg,
    Notch,
    OutlineTrim,
    Part,
    Rounding,
    Vertex,
    on_grid,
)

ANGLE = Angle(leg_a_mm=100.0, leg_b_mm=80.0, thickness_mm=10.0)
FLAT = Flat(width_mm=100.0, thickness_mm=10.0)
IN_CORNER = round(-math.tan(math.pi / 8), 9)
OUT_CORNER = -IN_CORNER


def angle(a=(), b=(), *, start=(0.0, 0.0), far=(0.0, 0.0), length=1000.0):
    ends = AngleEnds(
        start=AngleEnd(leg_a_deg=start[0], leg_b_deg=start[1]),
        far=AngleEnd(leg_a_deg=far[0], leg_b_deg=far[1]),
    )
    legs = AngleLegs(a=Leg(trims=tuple(a)), b=Leg(trims=tuple(b)))
    return Part(mark="A1", length_mm=length, section=ANGLE, legs=legs, ends=ends)


def flat(*trims, start=0.0, far=0.0, length=1000.0):
    ends = FlatEnds(start=FlatEnd(face_deg=start), far=FlatEnd(face_deg=far))
    legs = FlatLegs(face=Leg(trims=trims))
    return Part(mark="F1", length_mm=length, section=FLAT, legs=legs, ends=ends)


def outline_trim(*corners):
    return OutlineTrim(contour=tuple(Vertex(x_mm=float(x), y_mm=float(y)) for x, y in corners))


def told(outline):
    return [(v.x_mm, v.y_mm, v.bulge) if v.bulge else (v.x_mm, v.y_mm) for v in outline.contour]


def cope(end, side, along, across, radius=0.0):
    return Cope(end=end, side=side, along_mm=along, across_mm=across, radius_mm=radius)


def clip(end, side, along, across):
    return Clip(end=end, side=side, along_mm=along, across_mm=across)


def notch(side, left, right, across, radius=0.0):
    return Notch(side=side, x_from_mm=left, x_to_mm=right, across_mm=across, radius_mm=radius)


T15 = on_grid(100 * math.tan(math.radians(15)))
LONG_AT_B = on_grid(80 * math.tan(math.radians(40)))

CONTOURS = {
    "plain rectangle": (flat(), "face", [(0, 0), (1000, 0), (1000, 100), (0, 100)]),
    "mitre long at the upper edge": (
        flat(far=45.0),
        "face",
        [(0, 0), (900, 0), (1000, 100), (0, 100)],
    ),
    "mitre long at the lower edge": (
        flat(far=-45.0),
        "face",
        [(0, 0), (1000, 0), (900, 100), (0, 100)],
    ),
    "both ends mitred": (
        flat(start=45.0, far=45.0),
        "face",
        [(100, 0), (900, 0), (1000, 100), (0, 100)],
    ),
    "through cut, leg a long at its toe": (
        angle(far=(15.0, 0.0)),
        "a",
        [(0, 0), (1000 - T15, 0), (1000, 100), (0, 100)],
    ),
    "the same cut on leg b lies at the heel's x": (
        angle(far=(15.0, 0.0)),
        "b",
        [(0, 0), (1000 - T15, 0), (1000 - T15, 80), (0, 80)],
    ),
    "through cut, the leg that reaches out farthest holds the end": (
        angle(far=(15.0, 40.0)),
        "a",
        [
            (0, 0),
            (on_grid(1000 - LONG_AT_B), 0),
            (on_grid(1000 - LONG_AT_B + T15), 100),
            (0, 100),
        ],
    ),
    "through cut, one leg long at the heel": (
        angle(start=(45.0, -45.0)),
        "b",
        [(100, 0), (1000, 0), (1000, 80), (180, 80)],
    ),
    "cope": (
        flat(cope("far", "upper", 60.0, 30.0)),
        "face",
        [(0, 0), (1000, 0), (1000, 70), (940, 70), (940, 100), (0, 100)],
    ),
    "cope with an inside radius turns clockwise": (
        flat(cope("start", "upper", 60.0, 30.0, 10.0)),
        "face",
        [
            (0, 0),
            (1000, 0),
            (1000, 100),
            (60, 100),
            (60, 80, IN_CORNER),
            (50, 70),
            (0, 70),
        ],
    ),
    "cope on a mitre is measured from the outermost point": (
        flat(cope("far", "upper", 60.0, 30.0), far=45.0),
        "face",
        [(0, 0), (900, 0), (970, 70), (940, 70), (940, 100), (0, 100)],
    ),
    "cope at the short corner of a mitre": (
        flat(cope("far", "lower", 150.0, 30.0), far=45.0),
        "face",
        [(0, 0), (850, 0), (850, 30), (930, 30), (1000, 100), (0, 100)],
    ),
    "clip": (
        flat(clip("far", "upper", 40.0, 20.0)),
        "face",
        [(0, 0), (1000, 0), (1000, 80), (960, 100), (0, 100)],
    ),
    "clip at the lower start corner begins the outline": (
        flat(clip("start", "lower", 40.0, 20.0)),
        "face",
        [(40, 0), (1000, 0), (1000, 100), (0, 100), (0, 20)],
    ),
    "clips that meet in a point": (
        flat(clip("far", "lower", 40.0, 50.0), clip("far", "upper", 30.0, 50.0)),
        "face",
        [(0, 0), (960, 0), (1000, 50), (970, 100), (0, 100)],
    ),
    "rounding of a square corner": (
        flat(Rounding(end="far", side="upper", radius_mm=25.0)),
        "face",
        [(0, 0), (1000, 0), (1000, 75, OUT_CORNER), (975, 100), (0, 100)],
    ),
    "notches in both edges of a flat": (
        flat(notch("lower", 200.0, 300.0, 20.0), notch("upper", 400.0, 500.0, 30.0, 5.0)),
        "face",
        [
            (0, 0),
            (200, 0),
            (200, 20),
            (300, 20),
            (300, 0),
            (1000, 0),
            (1000, 100),
            (500, 100),
            (500, 75, IN_CORNER),
            (495, 70),
            (405, 70, IN_CORNER),
            (400, 75),
            (400, 100),
            (0, 100),
        ],
    ),
    "notch with a full round bottom": (
        flat(notch("upper", 400.0, 420.0, 30.0, 10.0)),
        "face",
        [
            (0, 0),
            (1000, 0),
            (1000, 100),
            (420, 100),
            (420, 80, IN_CORNER),
            (410, 70, IN_CORNER),
            (400, 80),
            (400, 100),
            (0, 100),
        ],
    ),
    "a notch that touches a cope becomes one cut": (
        flat(cope("start", "upper", 60.0, 30.0), notch("upper", 60.0, 90.0, 20.0)),
        "face",
        [(0, 0), (1000, 0), (1000, 100), (90, 100), (90, 80), (60, 80), (60, 70), (0, 70)],
    ),
    "cope at the heel": (
        angle(a=[cope("start", "heel", 50.0, 30.0, 5.0)]),
        "a",
        [
            (50, 0),
            (1000, 0),
            (1000, 100),
            (0, 100),
            (0, 30),
            (45, 30, IN_CORNER),
            (50, 25),
        ],
    ),
    "cope at the heel takes the corner from the other leg": (
        angle(a=[cope("start", "heel", 50.0, 30.0, 5.0)]),
        "b",
        [(50, 0), (1000, 0), (1000, 80), (0, 80), (0, 10), (50, 10)],
    ),
    "copes at the heel of both legs: each keeps its own depth": (
        angle(a=[cope("start", "heel", 50.0, 30.0)], b=[cope("start", "heel", 50.0, 20.0)]),
        "b",
        [(50, 0), (1000, 0), (1000, 80), (0, 80), (0, 20), (50, 20)],
    ),
    "cope at the heel of a mitre lies at one x on both legs": (
        angle(b=[cope("far", "heel", 150.0, 30.0)], far=(45.0, 0.0)),
        "a",
        [(0, 0), (750, 0), (750, 10), (910, 10), (1000, 100), (0, 100)],
    ),
    "an outline stands for itself": (
        flat(outline_trim((0, 10), (50, 0), (1000, 0), (900, 100), (0, 100))),
        "face",
        [(50, 0), (1000, 0), (900, 100), (0, 100), (0, 10)],
    ),
    "an outline told clockwise is turned": (
        flat(outline_trim((0, 0), (0, 100), (1000, 100), (1000, 0))),
        "face",
        [(0, 0), (1000, 0), (1000, 100), (0, 100)],
    ),
}


@pytest.mark.parametrize(("part", "leg", "corners"), CONTOURS.values(), ids=CONTOURS)
def test_outline(part, leg, corners):
    outline = leg_outline(part, leg)
    assert outline.faults == ()
    assert told(outline) == corners
    assert area(outline.contour) > 0


def test_rounding_of_a_mitred_corner_touches_both_lines():
    # Tangent to two lines that meet at 45 degrees: it touches them r / tan(22.5) away.
    outline = leg_outline(flat(Rounding(end="far", side="upper", radius_mm=10.0), far=45.0), "face")
    reach = 10 / math.tan(math.radians(22.5))
    assert outline.faults == ()
    low, high = outline.contour[2], outline.contour[3]
    assert (high.x_mm, high.y_mm) == (on_grid(1000 - reach), 100.0)
    away = reach / math.sqrt(2)
    assert (low.x_mm, low.y_mm) == (on_grid(1000 - away), on_grid(100 - away))
    assert low.bulge == pytest.approx(math.tan(math.radians(135) / 4))


def test_end_lines_and_planes():
    part = angle(start=(45.0, -30.0), far=(-45.0, 0.0))
    assert heel_x(part, "start") == 100.0
    assert end_x(part, "start", "a", 100.0) == 0.0
    assert end_x(part, "start", "b", 80.0) == on_grid(100 + 80 * math.tan(math.radians(30)))
    assert heel_x(part, "far") == 1000.0
    assert end_x(part, "far", "a", 100.0) == 900.0
    assert outermost_x(part, "far", "b") == 1000.0
    # Both traces meet the plane, so a point off both faces adds both slopes.
    expected = 100 - 20 + 30 * math.tan(math.radians(30))
    assert plane_x(part, "start", 20.0, 30.0) == pytest.approx(expected)
    assert plane_x(flat(far=45.0), "far", 40.0, 5.0) == pytest.approx(940.0)


FAULTS = {
    "two trims on a corner": (
        flat(clip("far", "upper", 40.0, 20.0), cope("far", "upper", 30.0, 30.0)),
        "face",
        "legs.face.trims.1",
        (
            "a cope where the far end's upper corner has a trim already; a corner takes one,"
            " a further shape is told as an outline"
        ),
        None,
        None,
    ),
    "cope through the whole width": (
        flat(cope("far", "upper", 60.0, 100.0)),
        "face",
        "legs.face.trims.0",
        (
            "the cope at the far end's upper corner is 100 mm deep, not less than the leg's"
            " width of 100 mm"
        ),
        100.0,
        100.0,
    ),
    "cope that does not reach its corner": (
        flat(cope("far", "lower", 80.0, 30.0), far=45.0),
        "face",
        "legs.face.trims.0",
        (
            "the cope at the far end's lower corner is 80 mm long, not more than the 100 mm"
            " that the end cut itself takes there"
        ),
        80.0,
        100.0,
    ),
    "copes that meet": (
        flat(cope("far", "lower", 60.0, 50.0), cope("far", "upper", 60.0, 50.0)),
        "face",
        "legs.face.trims.1",
        (
            "the cope at the far end's lower corner reaches to y = 50 mm, and the cope at the"
            " far end's upper corner already begins at y = 50 mm"
        ),
        50.0,
        50.0,
    ),
    "cope into a notch": (
        flat(cope("start", "upper", 250.0, 30.0), notch("upper", 200.0, 300.0, 20.0)),
        "face",
        "legs.face.trims.1",
        (
            "the cope at the start end's upper corner reaches to x = 250 mm, and the notch"
            " from 200 mm to 300 mm already begins at x = 200 mm"
        ),
        250.0,
        200.0,
    ),
    "notch off the piece": (
        flat(notch("upper", 900.0, 1100.0, 20.0)),
        "face",
        "legs.face.trims.0",
        (
            "the notch from 900 mm to 1100 mm reaches to x = 1100 mm, and the far end already"
            " begins at x = 1000 mm"
        ),
        1100.0,
        1000.0,
    ),
    "notch through the whole width": (
        flat(notch("upper", 200.0, 300.0, 120.0)),
        "face",
        "legs.face.trims.0",
        "the notch from 200 mm to 300 mm is 120 mm deep, not less than the leg's width of 100 mm",
        120.0,
        100.0,
    ),
    "notches that leave nothing between": (
        flat(notch("lower", 200.0, 300.0, 60.0), notch("upper", 250.0, 350.0, 60.0)),
        "face",
        "legs.face",
        "the trims of the face cross or touch each other",
        None,
        None,
    ),
    "clip longer than the end": (
        flat(clip("far", "upper", 40.0, 120.0)),
        "face",
        "legs.face.trims.0",
        "the clip at the far end's upper corner takes 120 mm of the end, which is 100 mm long",
        120.0,
        100.0,
    ),
    "rounding longer than the end": (
        flat(Rounding(end="far", side="upper", radius_mm=120.0)),
        "face",
        "legs.face.trims.0",
        (
            "the rounding at the far end's upper corner has a radius of 120 mm, more than the"
            " 100 mm that fits the end"
        ),
        120.0,
        100.0,
    ),
    "cope radius that the slope of a mitre leaves no room for": (
        flat(cope("far", "upper", 60.0, 40.0, 40.0), far=45.0),
        "face",
        "legs.face.trims.0",
        "a radius of 40 mm is more than the 20 mm that fits between its neighbours",
        40.0,
        20.0,
    ),
    "end cuts that meet": (
        flat(start=-45.0, far=-45.0, length=150.0),
        "face",
        "length",
        "the length of 150 mm is less than the 200 mm at which both end cuts meet on the face",
        150.0,
        200.0,
    ),
    "clip at the heel of an angle": (
        angle(a=[clip("far", "heel", 40.0, 20.0)]),
        "a",
        "legs.a.trims.0",
        (
            "a clip at the heel of an angle cuts both legs at once and can't be told on one"
            " leg; use a cope, or give both legs an outline"
        ),
        None,
        None,
    ),
    "notch at the heel of an angle": (
        angle(a=[notch("heel", 200.0, 300.0, 20.0)]),
        "a",
        "legs.a.trims.0",
        (
            "a notch from 200 mm to 300 mm at the heel of an angle cuts both legs at once and"
            " can't be told on one leg; give both legs an outline"
        ),
        None,
        None,
    ),
    "heel cope less deep than the leg is thick": (
        angle(a=[cope("far", "heel", 40.0, 8.0)]),
        "a",
        "legs.a.trims.0",
        (
            "the cope at the heel is 8 mm deep, less than the 10 mm of the thickness; it"
            " would leave the corner of the angle half cut"
        ),
        8.0,
        10.0,
    ),
    "heel cope whose radius reaches into the other leg": (
        angle(a=[cope("far", "heel", 40.0, 14.0, 5.0)]),
        "a",
        "legs.a.trims.0",
        (
            "the cope at the heel is 14 mm deep, less than the 15 mm of the thickness and the"
            " cope's radius; it would leave the corner of the angle half cut"
        ),
        14.0,
        15.0,
    ),
    "heel copes that disagree": (
        angle(a=[cope("far", "heel", 40.0, 20.0)], b=[cope("far", "heel", 50.0, 20.0)]),
        "b",
        "legs.b.trims.0",
        (
            "the cope at the heel of leg b ends at x = 950 mm, that of leg a at x = 960 mm;"
            " both cut the one heel, so they must agree"
        ),
        950.0,
        960.0,
    ),
    "heel cope that the other leg's toe cope meets": (
        angle(a=[cope("far", "heel", 40.0, 20.0)], b=[cope("far", "toe", 40.0, 70.0)]),
        "b",
        "legs.b.trims.0",
        (
            "the cope at the far end's heel of leg a, which cuts leg b too, reaches to y = 10"
            " mm, and the cope at the far end's toe corner already begins at y = 10 mm"
        ),
        10.0,
        10.0,
    ),
    "outline beside another trim": (
        flat(
            outline_trim((0, 0), (1000, 0), (1000, 100), (0, 100)), clip("far", "upper", 9.0, 9.0)
        ),
        "face",
        "legs.face.trims.0",
        (
            "1 more trim beside an outline of the face, which stands alone: it is the whole"
            " shape of the leg"
        ),
        1.0,
        0.0,
    ),
    "outline that crosses itself": (
        flat(outline_trim((0, 0), (1000, 0), (0, 100), (1000, 90))),
        "face",
        "legs.face.trims.0",
        "the outline of the face crosses itself",
        None,
        None,
    ),
    "outline without area": (
        flat(outline_trim((0, 0), (1000, 0), (500, 0))),
        "face",
        "legs.face.trims.0",
        "the outline of the face leaves no material",
        None,
        None,
    ),
    "outline of one point": (
        flat(outline_trim((5, 5), (5, 5), (5, 5))),
        "face",
        "legs.face.trims.0",
        "the outline of the face leaves no material",
        None,
        None,
    ),
    "outline that cuts the end of the heel twice": (
        angle(
            a=[
                outline_trim(
                    *((0, 0), (400, 0), (400, 20), (500, 20), (500, 0), (1000, 0)),
                    *((1000, 100), (0, 100)),
                )
            ],
            b=[outline_trim((0, 0), (400, 0), (400, 10), (1000, 10), (1000, 80), (0, 80))],
        ),
        "a",
        "legs.a.trims.0",
        (
            "the outline of leg a keeps 2 stretches of the heel, that of leg b keeps 1; a cut at"
            " the heel takes the corner from both legs"
        ),
        2.0,
        1.0,
    ),
    "outline off the leg": (
        flat(outline_trim((0, 0), (1000, 0), (1000, 100.2), (0, 100))),
        "face",
        "legs.face.trims.0",
        "the outline of the face reaches y = 100.2 mm, beyond the leg's width of 100 mm",
        100.2,
        100.0,
    ),
    "outline that cuts the heel of one leg alone": (
        angle(a=[outline_trim((50, 0), (1000, 0), (1000, 100), (0, 100), (0, 30), (50, 30))]),
        "a",
        "legs.a.trims.0",
        (
            "the outline of leg a leaves the heel at x = 50 mm, that of leg b at x = 0 mm; a"
            " cut at the heel takes the corner from both legs"
        ),
        50.0,
        0.0,
    ),
    "outline that cuts the middle of the heel of one leg alone": (
        angle(
            a=[
                outline_trim(
                    (0, 0),
                    (400, 0),
                    (400, 20),
                    (500, 20),
                    (500, 0),
                    (1000, 0),
                    (1000, 100),
                    (0, 100),
                )
            ]
        ),
        "a",
        "legs.a.trims.0",
        (
            "the outline of leg a leaves the heel at x = 400 mm, that of leg b at x = 1000"
            " mm; a cut at the heel takes the corner from both legs"
        ),
        400.0,
        1000.0,
    ),
}


@pytest.mark.parametrize("case", FAULTS.values(), ids=FAULTS)
def test_fault(case):
    part, leg, element, message, value, limit = case
    (fault,) = leg_outline(part, leg).faults
    assert (fault.element, fault.message) == (element, message)
    assert (fault.value, fault.limit) == (value, limit)


def test_a_fault_of_one_leg_is_told_once():
    part = angle(a=[cope("far", "heel", 40.0, 8.0)])
    assert leg_outline(part, "b").faults == ()


def test_a_heel_cut_told_by_both_outlines_is_sound():
    part = angle(
        a=[outline_trim((50, 0), (1000, 0), (1000, 100), (0, 100), (0, 30), (50, 30))],
        b=[outline_trim((50, 0), (1000, 0), (1000, 80), (0, 80), (0, 10), (50, 10))],
    )
    assert leg_outline(part, "a").faults == leg_outline(part, "b").faults == ()


def test_a_heel_cut_told_by_an_outline_and_a_cope_is_sound():
    part = angle(
        a=[outline_trim((50, 0), (1000, 0), (1000, 100), (0, 100), (0, 30), (50, 30))],
        b=[cope("start", "heel", 50.0, 10.0)],
    )
    assert leg_outline(part, "a").faults == leg_outline(part, "b").faults == ()


def test_a_heel_told_in_two_pieces_is_one_heel():
    part = angle(a=[outline_trim((0, 0), (400, 0), (1000, 0), (1000, 100), (0, 100))])
    assert leg_outline(part, "a").faults == ()
