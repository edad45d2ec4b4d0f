"""Distances of features to outlines and to each other, checked against shapely."""

import math
import time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon
from strategies import parts

from translator.geometry.boundary import boundary
from translator.geometry.clearance import (
    clear_distance,
    edge_distance,
    extent,
    near_pairs,
    slot_centres,
)
from translator.geometry.contours import contains, distance, flatten, vertex
from translator.geometry.outline import leg_outline
from translator.model import CentreMark, Hole, Opening, Scribe, Slot, Stamp, leg_names, leg_of

FINE = 1e-4
SQUARE = tuple(vertex(x, y) for x, y in ((0, 0), (100, 0), (100, 60), (0, 60)))
SLOW = settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))


def hole(x, y, d=20.0, name="a1"):
    return Hole(id=name, x_mm=float(x), y_mm=float(y), diameter_mm=d)


def shape_of(feature):
    """The area or line that shapely sees, arcs in chords within 0.0001 mm."""
    if isinstance(feature, Hole):
        return Point(feature.x_mm, feature.y_mm).buffer(feature.diameter_mm / 2, quad_segs=256)
    if isinstance(feature, Slot):
        return LineString(slot_centres(feature)).buffer(feature.width_mm / 2, quad_segs=256)
    if isinstance(feature, Opening):
        return Polygon(flatten(feature.contour, FINE))
    if isinstance(feature, Scribe):
        points = flatten(feature.line, FINE, closed=feature.closed)
        return LineString([*points, points[0]] if feature.closed else points)
    if isinstance(feature, Stamp):
        return Point(feature.x_mm, feature.from_heel_mm)
    return Point(feature.x_mm, feature.y_mm)


HOLE_TABLE = {
    "inside": (hole(30, 20), 10.0, 20.0),
    "touching the edge": (hole(10, 30), 0.0, 10.0),
    "breaking the edge": (hole(4, 30), -6.0, 4.0),
    "outside": (hole(-15, 30), -25.0, -15.0),
    "beside a corner": (hole(-3, -4), -15.0, -5.0),
    "centred on the edge": (hole(0, 30), -10.0, 0.0),
}


@pytest.mark.parametrize(("feature", "edge", "centre"), HOLE_TABLE.values(), ids=HOLE_TABLE)
def test_hole_to_the_edge_of_a_plate(feature, edge, centre):
    found = edge_distance(feature, SQUARE)
    assert found.edge_mm == pytest.approx(edge)
    assert found.centre_mm == pytest.approx(centre)
    assert found.end_centres_mm == ()


def test_slot_tells_both_end_centres():
    slot = Slot(id="a1", x_mm=50.0, y_mm=20.0, width_mm=10.0, length_mm=30.0, angle_deg=90.0)
    found = edge_distance(slot, SQUARE)
    assert found.end_centres_mm == pytest.approx((10.0, 30.0))
    assert found.centre_mm == pytest.approx(20.0)
    assert found.edge_mm == pytest.approx(5.0)
    assert (found.outline_x_mm, found.outline_y_mm) == pytest.approx((50.0, 0.0))


def test_slot_through_a_thin_tongue_breaks_the_edge_though_its_ends_are_inside():
    corners = ((0, 0), (100, 0), (100, 60), (55, 60), (50, 10), (45, 60), (0, 60))
    contour = tuple(vertex(x, y) for x, y in corners)
    slot = Slot(id="a1", x_mm=70.0, y_mm=30.0, width_mm=10.0, length_mm=110.0)
    assert edge_distance(slot, contour).edge_mm <= -5.0


CLEAR_TABLE = {
    "holes": (hole(0, 0), hole(50, 0), 30.0),
    "holes that overlap": (hole(0, 0), hole(15, 0), -5.0),
    "hole and slot": (
        hole(0, 0),
        Slot(id="a2", x_mm=50.0, y_mm=0.0, width_mm=10.0, length_mm=30.0),
        25.0,
    ),
    "slots crosswise": (
        Slot(id="a2", x_mm=0.0, y_mm=0.0, width_mm=10.0, length_mm=30.0),
        Slot(id="a3", x_mm=40.0, y_mm=0.0, width_mm=10.0, length_mm=30.0, angle_deg=90.0),
        20.0,
    ),
    "hole inside an opening": (hole(50, 30), Opening(id="a4", contour=SQUARE), -40.0),
    "hole beside an opening": (hole(130, 30), Opening(id="a4", contour=SQUARE), 20.0),
    "mark and hole": (CentreMark(id="a5", x_mm=0.0, y_mm=30.0), hole(0, 0), 20.0),
}


@pytest.mark.parametrize(("one", "two", "clear"), CLEAR_TABLE.values(), ids=CLEAR_TABLE)
def test_clear_distance(one, two, clear):
    assert clear_distance(one, two) == pytest.approx(clear)
    assert clear_distance(two, one) == pytest.approx(clear)


@SLOW
@given(parts())
def test_features_lie_to_the_outline_as_shapely_says(part):
    for leg in leg_names(part):
        contour = leg_outline(part, leg).contour
        outline = Polygon(flatten(contour, FINE))
        for feature in leg_of(part, leg).features:
            found = edge_distance(feature, contour)
            shape = shape_of(feature)
            if outline.contains(shape):
                expected = outline.exterior.distance(shape)
                assert found.edge_mm == pytest.approx(expected, abs=1e-3)
            else:
                assert found.edge_mm < 1e-3


@SLOW
@given(parts())
def test_features_lie_to_each_other_as_shapely_says(part):
    for leg in leg_names(part):
        features = leg_of(part, leg).features
        for index, one in enumerate(features):
            for two in features[:index]:
                clear = clear_distance(one, two)
                expected = shape_of(one).distance(shape_of(two))
                if expected > 1e-3:
                    assert clear == pytest.approx(expected, abs=1e-3)
                else:
                    assert clear < 2e-3
                box = extent(one)
                assert shape_of(one).bounds == pytest.approx(
                    (box.left, box.low, box.right, box.high), abs=1e-3
                )


@SLOW
@given(parts(), st.floats(-0.2, 1.2), st.floats(-0.3, 1.3))
def test_points_lie_to_the_outline_as_shapely_says(part, share_x, share_y):
    for leg in leg_names(part):
        contour = leg_outline(part, leg).contour
        outline = Polygon(flatten(contour, FINE))
        x, y = share_x * part.length_mm, share_y * 100.0
        away = outline.exterior.distance(Point(x, y))
        assert distance(contour, x, y) == pytest.approx(away, abs=1e-3)
        if away > 1e-3:
            is_inside = outline.contains(Point(x, y))
            assert contains(contour, x, y) == is_inside
            signed = boundary(contour).signed(x, y)
            assert (signed > 0) == is_inside
            assert abs(signed) == pytest.approx(away, abs=1e-3)


def test_near_pairs_are_those_within_reach():
    row = [hole(30 * n, 0, name=f"a{n + 1}") for n in range(5)]
    assert list(near_pairs(row, 10.0)) == [(0, 1), (1, 2), (2, 3), (3, 4)]
    assert list(near_pairs(row, 9.9)) == []
    assert len(list(near_pairs(row, 40.0))) == 7


def test_many_holes_in_a_toothed_outline_are_measured_fast():
    count = 2500
    teeth = []
    for n in range(count):
        left = 4.0 * n
        teeth += [(left, 50), (left + 1, 50), (left + 1, 10), (left + 3, 10), (left + 3, 50)]
    corners = [(0, 0), (4.0 * count, 0), (4.0 * count, 50), *reversed(teeth)]
    outline = tuple(vertex(x, y) for x, y in corners)
    began = time.process_time()
    edge = boundary(outline)
    nearest = [edge_distance(hole(7.0 * n + 2, 5, d=2.0), edge).edge_mm for n in range(1, 1000)]
    assert time.process_time() - began < 10.0  # well under 1 s without a tracer
    assert min(nearest) == pytest.approx(4.0)
    assert not math.isnan(sum(nearest))
