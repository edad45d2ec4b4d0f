"""The tables of angles held against sources outside this project.

The closed form is written out here once more on purpose, so that the project's own geometry is
no part of the check. Tolerances are those measured when the tables were put together.
"""

import math

import pytest
import shapely
from structuralcodes.geometry.profiles import LI, L

from translator.tables.angles import all_angles, by_sizes, find

EN = [row for row in all_angles() if row.standard == "EN 10056-1"]
US = [row for row in all_angles() if row.standard == "AISC"]

STEEL_KG_PER_MM2_M = 7850e-6
POUND_PER_FOOT = 0.45359237 / 0.3048
INCH = 25.4

# Printed masses that differ from the closed form by more than their rounding.
EN_ODD = {
    "L130x130x12",  # 23.53 computed, 23.6 printed: 0.785 times the rounded area
    "L200x200x18",  # 54.25 computed, 54.3 printed: a tie
    "L45x30x4",  # area 2.862 computed, 2.87 printed
    "L200x100x15",  # printed to four figures, 33.75
}

# structuralcodes 0.7.2 has other radii for these (open lists of the standard side with ours).
OTHER_RADII = {
    "L75x75x6": (10.0, 5.0),
    "L75x75x8": (10.0, 5.0),
    "L20x20x3": (3.5, 2.0),
    "L25x25x3": (3.5, 2.0),
    "L25x25x4": (3.5, 2.0),
}


def sharp_area(row):
    return row.thickness_mm * (row.leg_a_mm + row.leg_b_mm - row.thickness_mm)


def closed_form_area(row):
    """Two rectangles, the root fillet added, two toe roundings taken away."""
    corner = 1 - math.pi / 4
    return sharp_area(row) + corner * (row.root_radius_mm**2 - 2 * row.toe_radius_mm**2)


def three_figures(value):
    return float(f"{value:.3g}")


@pytest.mark.parametrize("row", EN, ids=lambda row: row.designation)
def test_en_mass_is_the_closed_form_rounded(row):
    # EN 10056-1 takes 7850 kg/m3 and prints three figures.
    mass = closed_form_area(row) * STEEL_KG_PER_MM2_M
    if row.designation in EN_ODD:
        assert row.mass_per_metre_kg == pytest.approx(mass, rel=0.004)
    else:
        assert row.mass_per_metre_kg == three_figures(mass)


@pytest.mark.parametrize("row", EN, ids=lambda row: row.designation)
def test_en_area_is_the_closed_form(row):
    assert row.area_mm2 == pytest.approx(closed_form_area(row), rel=0.0042)


def test_rows_that_differ_from_the_closed_form():
    differ = {
        row.designation
        for row in EN
        if row.mass_per_metre_kg != three_figures(closed_form_area(row) * STEEL_KG_PER_MM2_M)
    }
    # The area of 45x30x4 is the odd one; its mass rounds as it should.
    assert differ == EN_ODD - {"L45x30x4"}


@pytest.mark.parametrize("row", US, ids=lambda row: row.designation)
def test_us_weight_is_near_that_of_sharp_corners(row):
    # 490 lb/ft3 is the density of AISC's tables: 490/144 lb/ft for each square inch.
    pounds = 490 / 144 * sharp_area(row) / INCH**2
    assert row.mass_per_metre_kg == pytest.approx(pounds * POUND_PER_FOOT, rel=0.02)


@pytest.mark.parametrize("row", US, ids=lambda row: row.designation)
def test_us_area_has_fillet_and_toes(row):
    assert row.area_mm2 == pytest.approx(closed_form_area(row), rel=0.014)


@pytest.mark.parametrize(
    ("designation", "k_in"),
    # AISC Manual, Table 1-7, k of some sizes; from memory.
    [
        ("L8x8x1-1/8", 1.75),
        ("L6x4x3/8", 0.875),
        ("L4x4x1/2", 0.875),
        ("L4x3-1/2x3/8", 0.75),
        ("L3x3x1/4", 0.625),
        ("L2x2x1/8", 0.375),
    ],
)
def test_us_root_radius_is_k_less_the_thickness(designation, k_in):
    row = find(designation)
    assert (row.root_radius_mm + row.thickness_mm) / INCH == pytest.approx(k_in, abs=1e-9)


@pytest.mark.parametrize(
    ("designation", "pounds_per_foot", "square_inches"),
    # AISC Shapes Database v16.0, as printed.
    [
        ("L8x8x1-1/8", 56.9, 16.8),
        ("L6x4x3/8", 12.3, 3.61),
        ("L4x4x1/2", 12.8, 3.75),
        ("L4x3-1/2x3/8", 9.1, 2.68),
        ("L3x3x1/4", 4.9, 1.44),
        ("L2x2x1/8", 1.65, 0.491),
    ],
)
def test_us_figures_are_carried_over_in_metric_units(designation, pounds_per_foot, square_inches):
    row = find(designation)
    assert row.mass_per_metre_kg == pytest.approx(pounds_per_foot * POUND_PER_FOOT, rel=1e-6)
    assert row.area_mm2 == pytest.approx(square_inches * INCH**2, rel=1e-6)


SHARED = {
    name: kind(name) for kind in (L, LI) for name in kind.profiles() if find(name) is not None
}


def test_structuralcodes_shares_enough_sizes():
    # All 44 equal sizes of EN 10056-1 and 11 of its 47 unequal ones.
    assert len(SHARED) == 55
    assert set(OTHER_RADII) <= set(SHARED)


@pytest.mark.parametrize("name", SHARED)
def test_structuralcodes_outline(name):
    row, theirs = find(name), SHARED[name]
    assert by_sizes(theirs.h, theirs.b, theirs.t) is row
    if name in OTHER_RADII:
        assert (theirs.r1, theirs.r2) == OTHER_RADII[name]
        assert (row.root_radius_mm, row.toe_radius_mm) != OTHER_RADII[name]
        return
    assert (row.root_radius_mm, row.toe_radius_mm) == (theirs.r1, theirs.r2)
    ours = outline(row)
    assert ours.area == pytest.approx(closed_form_area(row), rel=1e-4)
    # Theirs stands on its short leg; ours lies on leg a, the long one.
    heel = shapely.bounds(theirs.polygon)[:2]
    moved = shapely.transform(theirs.polygon, lambda points: (points - heel)[:, ::-1])
    # Their arcs have few corners, so the difference is slivers along the fillets.
    assert moved.symmetric_difference(ours).area < 0.002 * ours.area
    assert row.mass_per_metre_kg == pytest.approx(moved.area * STEEL_KG_PER_MM2_M, rel=0.006)


def outline(row):
    """The section in its own plane, heel at the origin, made by set operations on circles."""
    a, b, t = row.leg_a_mm, row.leg_b_mm, row.thickness_mm
    root, toe = row.root_radius_mm, row.toe_radius_mm
    legs = shapely.box(0, 0, a, t).union(shapely.box(0, 0, t, b))
    fillet = shapely.box(t, t, t + root, t + root).difference(disc(t + root, t + root, root))
    toe_a = shapely.box(a - toe, t - toe, a, t).difference(disc(a - toe, t - toe, toe))
    toe_b = shapely.box(t - toe, b - toe, t, b).difference(disc(t - toe, b - toe, toe))
    return legs.union(fillet).difference(toe_a).difference(toe_b)


def disc(x, y, radius):
    return shapely.Point(x, y).buffer(radius, quad_segs=64)
