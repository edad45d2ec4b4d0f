"""Outlines, areas and masses against outside tools and published figures.

shapely measures the outlines, manifold3d cuts the same piece out of a solid bar by its own
means (an extruded section, planes and prisms), and tables of the trade give masses.
"""

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from manifold3d import CrossSection, FillRule, Manifold
from shapely.geometry import Point, Polygon, box
from strategies import parts, sections

from translator.geometry.contours import area, bounds, crosses_itself, flatten, perimeter
from translator.geometry.ends import end_angle_deg
from translator.geometry.mass import (
    DENSITY_KG_PER_MM3,
    face_area_gross_mm2,
    face_area_net_mm2,
    gross_mass_kg,
    mass_per_metre_kg,
    net_mass_kg,
    net_volume_mm3,
)
from translator.geometry.outline import leg_outline
from translator.geometry.paint import paint_area_m2
from translator.geometry.sections import (
    section_area_mm2,
    section_centroid,
    section_perimeter_mm,
)
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    Clip,
    Cope,
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Notch,
    Part,
    Rounding,
    Slot,
    leg_names,
    leg_of,
    leg_width,
)

SLOW = settings(
    max_examples=15,
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
FINE = 1e-4
POUND = 0.45359237
FOOT = 304.8
BIG = 10_000.0


def polygon_of(section):
    """Outline of a section: an angle's leg a along +x, its leg b along +y, 1024 pieces a circle."""
    t = section.thickness_mm
    if isinstance(section, Flat):
        return box(0, 0, section.width_mm, t)
    a, b = section.leg_a_mm, section.leg_b_mm
    r1, r2 = section.root_radius_mm, section.toe_radius_mm
    shape = box(0, 0, a, t).union(box(0, 0, t, b))
    fine = {"quad_segs": 256}
    if r1:
        fillet = box(t, t, t + r1, t + r1).difference(Point(t + r1, t + r1).buffer(r1, **fine))
        shape = shape.union(fillet)
    if r2:
        for x, y in ((a, t), (t, b)):
            corner = box(x - r2, y - r2, x, y)
            shape = shape.difference(corner.difference(Point(x - r2, y - r2).buffer(r2, **fine)))
    return shape


@SLOW
@given(sections())
def test_sections_are_as_shapely_measures_them(section):
    shape = polygon_of(section)
    assert section_area_mm2(section) == pytest.approx(shape.area, rel=1e-4)
    assert section_perimeter_mm(section) == pytest.approx(shape.length, rel=1e-4)
    centroid = (shape.centroid.x, shape.centroid.y)
    assert section_centroid(section) == pytest.approx(centroid, rel=1e-3)


@SLOW
@given(parts())
def test_outlines_are_as_shapely_measures_them(part):
    for leg in leg_names(part):
        contour = leg_outline(part, leg).contour
        shape = Polygon(flatten(contour, FINE))
        assert shape.is_valid
        assert shape.exterior.is_ccw
        assert not crosses_itself(contour)
        assert area(contour) == pytest.approx(shape.area, rel=1e-6)
        assert perimeter(contour) == pytest.approx(shape.length, rel=1e-5)
        assert bounds(contour) == pytest.approx(shape.bounds, abs=2e-4)
        left, low, right, high = shape.bounds
        assert left >= -1e-5
        assert right <= part.length_mm + 1e-5
        assert low >= -1e-5
        assert high <= leg_width(part.section, leg) + 1e-5


def test_face_area_less_holes_is_as_shapely_measures_it():
    features = (
        Hole(id="a1", x_mm=100.0, y_mm=50.0, diameter_mm=22.0),
        Slot(id="a2", x_mm=200.0, y_mm=50.0, width_mm=18.0, length_mm=40.0, angle_deg=30.0),
        Hole(id="a3", x_mm=300.0, y_mm=50.0, diameter_mm=22.0, depth_mm=4.0),
        Hole(id="a4", x_mm=400.0, y_mm=50.0, diameter_mm=22.0, depth_mm=10.0),
    )
    legs = FlatLegs(face=Leg(features=features))
    part = Part(
        mark="F1",
        length_mm=500.0,
        section=Flat(width_mm=100.0, thickness_mm=10.0),
        legs=legs,
        ends=FlatEnds(),
    )
    round_hole = Point(0, 0).buffer(11, quad_segs=512).area
    slot = box(0, 0, 22, 18).area
    slot += Point(0, 0).buffer(9, quad_segs=512).area
    assert face_area_gross_mm2(part, "face") == pytest.approx(50_000)
    net = face_area_net_mm2(part, "face")
    assert net == pytest.approx(50_000 - 2 * round_hole - slot, rel=1e-6)
    volume = 500_000 - round_hole * (10 + 4 + 10) - slot * 10
    assert net_volume_mm3(part) == pytest.approx(volume, rel=1e-6)


# --- the solid ------------------------------------------------------------------------------


def bar(part, zone):
    """The section, leg a along +Y and leg b along -Z, drawn out along X beyond both ends."""
    points = np.array(polygon_of(part.section).exterior.coords)[:-1]
    points = points * np.array([1.0, -1.0])
    section = CrossSection([points[::-1]], FillRule.NonZero)
    drawn = section.extrude(part.length_mm + 2 * zone)
    lying = np.array([[0, 0, 1, -zone], [1, 0, 0, 0], [0, 1, 0, 0]], dtype=float)
    return drawn.transform(lying)


def trimmed_by_ends(part, solid):
    """Cut by both planes, whose outermost points on the outer faces are 0 and the length."""
    for end, out in (("start", -1.0), ("far", 1.0)):
        a, b = (math.tan(math.radians(end_angle_deg(part, end, leg))) for leg in ("a", "b"))
        section = part.section
        reach = max(0.0, a * section.leg_a_mm, b * section.leg_b_mm)
        heel = reach if end == "start" else part.length_mm - reach
        # Inside: out * (X - heel) <= Y tan a - Z tan b.
        normal = np.array([-out, a, -b])
        size = np.linalg.norm(normal)
        solid = solid.trim_by_plane(tuple(normal / size), float(-out * heel / size))
    return solid


def prism(part, leg, region):
    """A region of a leg's face, cut one thickness deep and out to the free side."""
    t = part.section.thickness_mm
    cut = region.extrude(BIG)
    if leg == "a":
        place = np.array([[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, -t]], dtype=float)
    else:
        place = np.array([[1, 0, 0, 0], [0, 0, 1, t - BIG], [0, -1, 0, 0]], dtype=float)
    return cut.transform(place)


def rectangle(x0, y0, x1, y1):
    (x0, x1), (y0, y1) = sorted((x0, x1)), sorted((y0, y1))
    return CrossSection.square((x1 - x0, y1 - y0)).translate((x0, y0))


def disc(x, y, r):
    return CrossSection.circle(r, 720).translate((x, y))


def cope_region(part, leg, trim):
    """The rectangle of a cope with its inside corner rounded, out beyond the end and edge."""
    width = leg_width(part.section, leg)
    into = 1.0 if trim.end == "start" else -1.0
    up = 1.0 if trim.side == "heel" else -1.0
    turn = math.tan(math.radians(end_angle_deg(part, trim.end, leg)))
    heel = bar_heel(part, trim.end)
    outermost = min(into * heel, into * (heel - into * width * turn)) * into
    x, y = outermost + into * trim.along_mm, (0.0 if up > 0 else width) + up * trim.across_mm
    out_x, out_y = x - into * BIG / 4, y - up * BIG / 4
    r = trim.radius_mm
    region = rectangle(out_x, out_y, x, y - up * r) + rectangle(out_x, out_y, x - into * r, y)
    return region + disc(x - into * r, y - up * r, r) if r else region


def bar_heel(part, end):
    a, b = (math.tan(math.radians(end_angle_deg(part, end, leg))) for leg in ("a", "b"))
    reach = max(0.0, a * part.section.leg_a_mm, b * part.section.leg_b_mm)
    return reach if end == "start" else part.length_mm - reach


def notch_region(part, leg, trim):
    width = leg_width(part.section, leg)
    bottom, r = width - trim.across_mm, trim.radius_mm
    left, right = trim.x_from_mm, trim.x_to_mm
    region = rectangle(left, bottom + r, right, BIG / 4)
    if r == 0.0:
        return region
    region += rectangle(left + r, bottom, right - r, BIG / 4) if right - left > 2 * r else region
    return region + disc(left + r, bottom + r, r) + disc(right - r, bottom + r, r)


def solid_of(part):
    solid = trimmed_by_ends(part, bar(part, 600.0))
    for leg in ("a", "b"):
        for trim in leg_of(part, leg).trims:
            make = cope_region if isinstance(trim, Cope) else notch_region
            solid = solid - prism(part, leg, make(part, leg, trim))
    return solid


def face_of(solid, leg):
    """The solid a hair under a leg's outer face, in the plane of X and Y or of X and -Z."""
    hair = 1e-4
    if leg == "a":
        return solid.slice(-hair)
    turned = solid.transform(np.array([[1, 0, 0, 0], [0, 0, 1, 0], [0, -1, 0, 0]], dtype=float))
    return turned.slice(-hair)


def sharp(part):
    """The part with a sharp-cornered section, no features, and only copes and notches."""
    legs = {
        name: Leg(trims=tuple(t for t in leg_of(part, name).trims if isinstance(t, Cope | Notch)))
        for name in ("a", "b")
    }
    section = part.section.model_copy(update={"root_radius_mm": 0.0, "toe_radius_mm": 0.0})
    return part.model_copy(update={"legs": AngleLegs(**legs), "section": section})


@SLOW
@given(parts(kinds=("angle",), explicit=False))
def test_mitred_coped_angle_is_the_solid_cut_from_a_bar(drawn):
    part = sharp(drawn)
    solid = solid_of(part)
    assert len(solid.decompose()) == 1
    assert net_volume_mm3(part) == pytest.approx(solid.volume(), rel=2e-5)
    for leg in ("a", "b"):
        found = face_of(solid, leg).area()
        assert face_area_gross_mm2(part, leg) == pytest.approx(found, rel=2e-5)


@SLOW
@given(parts(kinds=("angle",), explicit=False))
def test_through_cuts_leave_one_solid_of_the_exact_volume(drawn):
    bare = drawn.model_copy(update={"legs": AngleLegs()})
    solid = trimmed_by_ends(bare, bar(bare, 600.0))
    assert len(solid.decompose()) == 1
    assert net_volume_mm3(bare) == pytest.approx(solid.volume(), rel=1e-4)
    faces = [face_of(solid, leg).bounds() for leg in ("a", "b")]
    assert min(face[0] for face in faces) == pytest.approx(0.0, abs=1e-3)
    assert max(face[2] for face in faces) == pytest.approx(bare.length_mm, abs=1e-3)


def test_clip_and_rounding_are_followed_to_first_order():
    section = Angle(leg_a_mm=100.0, leg_b_mm=100.0, thickness_mm=10.0)
    trims = (
        Clip(end="start", side="toe", along_mm=40.0, across_mm=30.0),
        Rounding(end="far", side="toe", radius_mm=25.0),
    )
    part = Part(
        mark="A1",
        length_mm=600.0,
        section=section,
        legs=AngleLegs(a=Leg(trims=trims)),
        ends=AngleEnds(start=AngleEnd(leg_b_deg=30.0), far=AngleEnd(leg_b_deg=-30.0)),
    )
    solid = trimmed_by_ends(part, bar(part, 600.0))
    outline = Polygon(flatten(leg_outline(part, "a").contour, FINE))
    # A cut straight down from the face: all that stands over the corner beyond the trim's line.
    reach = 100.0 * math.tan(math.radians(30.0))
    corners = [(reach + 40.0, 100.0), (reach, 70.0), (reach - 52.0, 31.0), (reach - 60.0, 100.0)]
    clipped = solid - prism(part, "a", CrossSection([np.array(corners)], FillRule.NonZero))
    taken = solid.volume() - clipped.volume()
    mine = net_volume_mm3(part.model_copy(update={"legs": AngleLegs()})) - net_volume_mm3(
        part.model_copy(update={"legs": AngleLegs(a=Leg(trims=trims[:1]))})
    )
    assert mine == pytest.approx(taken, rel=0.03)
    assert outline.area == pytest.approx(area(leg_outline(part, "a").contour), rel=1e-6)


@SLOW
@given(
    st.sampled_from(["start", "far"]),
    st.sampled_from([-40.0, -15.0, 0.0, 15.0, 40.0]),
    st.sampled_from([-40.0, -15.0, 0.0, 15.0, 40.0]),
    st.floats(12.0, 60.0),
)
def test_cope_at_the_heel_shows_on_both_faces_as_in_the_solid(end, leg_a_deg, leg_b_deg, across):
    section = Angle(leg_a_mm=90.0, leg_b_mm=120.0, thickness_mm=9.0)
    cope = Cope(end=end, side="heel", along_mm=160.0, across_mm=round(across, 2), radius_mm=3.0)
    part = Part(
        mark="A1",
        length_mm=800.0,
        section=section,
        legs=AngleLegs(a=Leg(trims=(cope,))),
        ends=AngleEnds(**{end: AngleEnd(leg_a_deg=leg_a_deg, leg_b_deg=leg_b_deg)}),
    )
    solid = solid_of(part)
    assert net_volume_mm3(part) == pytest.approx(solid.volume(), rel=1e-5)
    for leg in ("a", "b"):
        outline = leg_outline(part, leg)
        assert not outline.faults
        assert area(outline.contour) == pytest.approx(face_of(solid, leg).area(), rel=1e-5)


def test_the_solid_has_a_volume_to_be_held_against():
    cube = Manifold.cube((1.0, 2.0, 3.0))
    assert cube.volume() == pytest.approx(6.0)


# --- published figures ------------------------------------------------------------------------


def inches(value):
    return value * 25.4


def flat(width, thickness, length):
    return Part(
        mark="F1",
        length_mm=length,
        section=Flat(width_mm=width, thickness_mm=thickness),
        legs=FlatLegs(),
        ends=FlatEnds(),
    )


def angle(a, b, t, length, *, r1=0.0, r2=0.0, name=None):
    section = Angle(
        designation=name,
        leg_a_mm=a,
        leg_b_mm=b,
        thickness_mm=t,
        root_radius_mm=r1,
        toe_radius_mm=r2,
    )
    return Part(mark="A1", length_mm=length, section=section, legs=AngleLegs(), ends=AngleEnds())


PUBLISHED_MASS_KG = {
    # 490 lb/ft3, the trade's density of steel, over 144: arithmetic. 7850 kg/m3 is 0.012 % more.
    "one square inch, one foot, 3.4028 lb": (flat(25.4, 25.4, FOOT), 3.4028 * POUND, 2e-4),
    # AISC Manual, bar tables (from memory).
    "flat 4 x 3/8 at 5.1 lb/ft": (flat(inches(4), inches(0.375), FOOT), 5.1 * POUND, 2e-3),
    # AISC Manual, plate tables: 40.8 lb/ft2 for each inch (from memory).
    "plate 1 in. at 40.8 lb/ft2": (flat(FOOT, inches(1), FOOT), 40.8 * POUND, 1e-3),
    # EN 10058 (from memory).
    "flat 100 x 10 at 7.85 kg/m": (flat(100.0, 10.0, 1000.0), 7.85, 1e-9),
    # EN 10056-1:1998: 15.0 kg/m times the length.
    "L 100 x 100 x 10, 6 m at 15.0 kg/m": (
        angle(100.0, 100.0, 10.0, 6000.0, r1=12.0, r2=6.0, name="L100x100x10"),
        90.0,
        1e-9,
    ),
    # AISC Shapes Database: 12.8 lb/ft times the length.
    "L4x4x1/2, 10 ft at 12.8 lb/ft": (
        angle(inches(4), inches(4), inches(0.5), 10 * FOOT, name="L4x4x1/2"),
        128 * POUND,
        1e-6,
    ),
}


@pytest.mark.parametrize(
    ("part", "mass", "tolerance"), PUBLISHED_MASS_KG.values(), ids=PUBLISHED_MASS_KG
)
def test_mass_as_published(part, mass, tolerance):
    assert gross_mass_kg(part) == pytest.approx(mass, rel=tolerance)


def test_unlisted_angle_weighs_by_its_area():
    section = Angle(leg_a_mm=101.0, leg_b_mm=77.0, thickness_mm=7.7, root_radius_mm=5.0)
    expected = section_area_mm2(section) * DENSITY_KG_PER_MM3 * 1000
    assert mass_per_metre_kg(section) == pytest.approx(expected)


def test_net_mass_of_a_plain_angle_meets_the_table():
    # EN 10056-1 closed form: 15.04 kg/m from the section with its radii, printed as 15.0.
    part = angle(100.0, 100.0, 10.0, 6000.0, r1=12.0, r2=6.0)
    assert net_mass_kg(part) == pytest.approx(90.0, rel=5e-3)
    assert net_mass_kg(part) == pytest.approx(90.21776, rel=1e-6)


# Painting surface in m2 per metre, EN 10056-1 style tables of the trade (from memory).
PAINT_PER_METRE = {
    "L 50 x 50 x 5": (angle(50.0, 50.0, 5.0, 1000.0, r1=7.0, r2=3.5), 0.194),
    "L 100 x 100 x 10": (angle(100.0, 100.0, 10.0, 1000.0, r1=12.0, r2=6.0), 0.390),
    "L 150 x 150 x 15": (angle(150.0, 150.0, 15.0, 1000.0, r1=16.0, r2=8.0), 0.586),
    "flat 100 x 10": (flat(100.0, 10.0, 1000.0), 0.220),
}


@pytest.mark.parametrize(("part", "per_metre"), PAINT_PER_METRE.values(), ids=PAINT_PER_METRE)
def test_paint_area(part, per_metre):
    assert section_perimeter_mm(part.section) / 1000 == pytest.approx(per_metre, abs=6e-4)
    both_ends = 2 * section_area_mm2(part.section) / 1e6
    assert paint_area_m2(part) == pytest.approx(per_metre + both_ends, abs=6e-4)
