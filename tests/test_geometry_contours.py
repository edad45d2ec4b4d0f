"""Contours: measures, containment, crossing and order, with the awkward cases."""

import math
import time
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LinearRing

from translator.geometry import edges
from translator.geometry.boundary import boundary, some_edges
from translator.geometry.contours import (
    area,
    arranged,
    bounds,
    closest,
    contains,
    crosses_itself,
    distance,
    flatten,
    mirrored_across,
    mirrored_along,
    perimeter,
    reversed_contour,
    vertex,
)
from translator.geometry.edges import Edge
from translator.geometry.nearness import gap
from translator.geometry.stops import SAME_STOP_MM
from translator.model import Vertex

HALF = 1.0
QUARTER = math.tan(math.pi / 8)


def ring(*corners):
    return tuple(vertex(*corner) for corner in corners)


SQUARE = ring((0, 0), (10, 0), (10, 10), (0, 10))
DISC = ring((-5, 0, HALF), (5, 0, HALF))
# A square of 10 with a half disc bulging out of its right side and one cut into its left.
BELLIED = ring((0, 0), (10, 0, HALF), (10, 10), (0, 10, -HALF))


def test_measures_of_shapes_with_arcs():
    assert area(DISC) == pytest.approx(25 * math.pi)
    assert area(reversed_contour(DISC)) == pytest.approx(-25 * math.pi)
    assert perimeter(DISC) == pytest.approx(10 * math.pi)
    assert bounds(DISC) == pytest.approx((-5, -5, 5, 5))
    assert area(BELLIED) == pytest.approx(100)
    assert perimeter(BELLIED) == pytest.approx(20 + 10 * math.pi)
    assert bounds(BELLIED) == pytest.approx((0, 0, 15, 10))
    assert area(()) == 0.0


POINTS = {
    "in the bulge": (14, 5, True),
    "beyond the bulge": (15.1, 5, False),
    "in the bulge, on its chord": (10, 5, True),
    "in the hollow": (3, 5, False),
    "in the hollow, on its chord": (0, 5, False),
    "behind the hollow": (5.5, 5, True),
    "on a corner": (0, 0, True),
    "on the arc": (15, 5, True),
    "level with a corner, outside": (-3, 0, False),
    "level with a corner, inside": (9.5, 9.999, True),
    "level with the upper edge, outside": (12, 10, False),
    "left of all": (-1, 5, False),
}


@pytest.mark.parametrize(("x", "y", "is_inside"), POINTS.values(), ids=POINTS)
def test_contains(x, y, is_inside):
    for way in (BELLIED, reversed_contour(BELLIED)):
        assert contains(way, x, y) is is_inside
        assert boundary(way).contains(x, y) is is_inside


def test_nothing_lies_in_an_empty_contour():
    assert not contains((), 0.0, 0.0)
    with pytest.raises(ValueError, match="two corners"):
        boundary(())


def test_distance_and_closest_point():
    assert distance(SQUARE, 3.0, 5.0) == pytest.approx(3.0)
    assert distance(SQUARE, 13.0, 14.0) == pytest.approx(5.0)
    assert distance(DISC, 0.0, 0.0) == pytest.approx(5.0)
    near = closest(DISC, 3.0, 4.0 + 1e-9)
    assert (near.x, near.y) == pytest.approx((3.0, 4.0), abs=1e-6)
    assert closest(BELLIED, 20.0, 5.0)[:3] == pytest.approx((5.0, 15.0, 5.0))


def test_a_nearly_straight_arc_loses_no_digits():
    # The sagitta of a bulge b over the chord c is b c / 2; the radius here is 250 km.
    flat = Edge(0.0, 0.0, 1000.0, 0.0, 1e-6)
    assert edges.closest(flat, 500.0, 1.0).distance == pytest.approx(1.0005, abs=1e-9)
    assert edges.segment_area(flat) == pytest.approx(1000 * 0.0005 * 2 / 3, rel=1e-9)
    middle = edges.pieces(flat, 2)[1]
    assert middle == pytest.approx((500.0, -0.0005), abs=1e-12)


@pytest.mark.parametrize("bulge", [0.9e-3, 1.1e-3])
def test_the_series_for_flat_arcs_joins_the_exact_form(bulge):
    arc = Edge(0.0, 0.0, 100.0, 0.0, bulge)
    r, turn = edges.radius(arc), edges.turn(arc)
    assert edges.segment_area(arc) == pytest.approx(r * r / 2 * (turn - math.sin(turn)), rel=1e-6)


@settings(deadline=None)
@given(st.floats(-1, 1).map(lambda b: round(b, 9)), st.floats(0.001, 1.0))
def test_flattened_points_lie_on_the_arc_within_tolerance(bulge, tolerance):
    arc = Edge(0.0, 0.0, 30.0, 40.0, bulge)
    points = [*edges.points(arc, tolerance), (30.0, 40.0)]
    for (ax, ay), (bx, by) in pairwise(points):
        assert edges.closest(arc, ax, ay).distance < 1e-9
        middle = edges.closest(arc, (ax + bx) / 2, (ay + by) / 2)
        assert middle.distance <= tolerance + 1e-9


EDGE = st.builds(
    Edge,
    *(st.integers(0, 20).map(float) for _ in range(4)),
    st.sampled_from([0.0, 0.0, 0.3, -0.7, 1.0, -1.0]),
).filter(lambda e: (e.ax, e.ay) != (e.bx, e.by))


@settings(deadline=None, max_examples=60)
@given(EDGE, EDGE)
def test_the_gap_between_edges_is_that_of_their_points(p, q):
    from shapely.geometry import LineString

    lines = [LineString([*edges.points(e, 1e-5), (e.bx, e.by)]) for e in (p, q)]
    assert gap(p, q) == pytest.approx(lines[0].distance(lines[1]), abs=2e-4)
    assert gap(q, p) == pytest.approx(gap(p, q), abs=1e-9)


CROSSINGS = {
    "square": (SQUARE, False),
    "disc": (DISC, False),
    "bulge and hollow": (BELLIED, False),
    "bow tie": (ring((0, 0), (10, 10), (10, 0), (0, 10)), True),
    "edge through a corner": (ring((0, 0), (10, 0), (10, 10), (5, 0), (0, 10)), True),
    "corner on another corner": (ring((0, 0), (5, 5), (10, 0), (10, 10), (5, 5), (0, 10)), True),
    "edge back over itself": (ring((0, 0), (10, 0), (5, 0), (5, 5)), True),
    "edges that lie on each other": (
        ring((0, 0), (10, 0), (10, 5), (4, 5), (4, 0), (6, 0), (6, -3), (0, -3)),
        True,
    ),
    "arcs that cross": (ring((0, 0), (10, 0), (10, 4, HALF), (0, 4)), False),
    "arc through the opposite edge": (ring((0, 0), (10, 0), (10, 4, -HALF), (0, 4)), True),
    "two corners": (ring((0, 0), (10, 0)), True),
    "one corner repeated": (ring((0, 0), (10, 0), (10, 0), (0, 10)), False),
    "first corner repeated at the end": (ring((0, 0), (10, 0), (10, 10), (0, 0)), False),
    "touching arcs": (ring((0, 0), (8, 0, -HALF), (8, 8), (0, 8, -HALF)), True),
}


@pytest.mark.parametrize(("contour", "is_crossed"), CROSSINGS.values(), ids=CROSSINGS)
def test_crosses_itself(contour, is_crossed):
    assert crosses_itself(contour) is is_crossed
    assert crosses_itself(contour[1:] + contour[:1]) is is_crossed
    assert crosses_itself(reversed_contour(contour)) is is_crossed


CORNER = st.tuples(st.integers(0, 6), st.integers(0, 6))


@settings(deadline=None, max_examples=100)
@given(st.lists(CORNER, min_size=3, max_size=9, unique=True))
def test_straight_contours_cross_as_shapely_says(corners):
    assert crosses_itself(ring(*corners)) is not LinearRing(corners).is_simple


def comb(count, *, angle):
    """A comb of long teeth that lies at an angle: every box around a tooth meets every other."""
    corners = []
    for n in range(count):
        corners += [(3.0 * n, 0.0), (3.0 * n, 1000.0), (3.0 * n + 1, 1000.0), (3.0 * n + 1, 0.0)]
    corners += [(3.0 * count, 0.0), (3.0 * count, -10.0), (0.0, -10.0)]
    c, s = math.cos(angle), math.sin(angle)
    return ring(*((c * x - s * y, s * x + c * y) for x, y in corners))


@pytest.mark.parametrize("angle", [0.0, math.pi / 4])
def test_ten_thousand_corners_are_judged_fast(angle):
    contour = comb(2499, angle=angle)
    began = time.process_time()
    assert not crosses_itself(contour)
    assert time.process_time() - began < 10.0  # well under 1 s without a tracer


def test_ten_thousand_arcs_are_judged_fast():
    contour = tuple(
        Vertex(x_mm=v.x_mm, y_mm=v.y_mm, bulge=0.2) for v in comb(2499, angle=math.pi / 4)
    )
    began = time.process_time()
    assert crosses_itself(contour)
    assert time.process_time() - began < 10.0  # well under 1 s without a tracer


def test_arranged_begins_at_the_heel_and_runs_along_it():
    wild = ring((0, 10), (0, 10), (0, 0), (10, 0), (10, 10), (20, 10), (10, 10))
    assert arranged(wild) == SQUARE
    assert arranged(arranged(wild)) == SQUARE
    assert arranged(reversed_contour(BELLIED)) == BELLIED
    assert arranged(ring((1, 1), (1, 1))) == ()


def test_a_line_that_only_comes_and_goes_leaves_nothing():
    assert len(arranged(ring((0, 0), (10, 0), (5, 0)))) < 3


@given(st.integers(1, 4), st.booleans())
def test_reversing_and_mirroring_twice_changes_nothing(shift, is_bellied):
    contour = BELLIED if is_bellied else DISC
    shifted = contour[shift % len(contour) :] + contour[: shift % len(contour)]
    assert reversed_contour(reversed_contour(shifted)) == shifted
    assert mirrored_along(mirrored_along(shifted, 123.456), 123.456) == shifted
    assert mirrored_across(mirrored_across(shifted, 77.7), 77.7) == shifted
    assert area(mirrored_along(shifted, 50.0)) == pytest.approx(-area(shifted))
    assert bounds(mirrored_across(BELLIED, 10.0)) == pytest.approx((0, 0, 15, 10))


def test_an_open_line_is_measured_without_its_closing_edge():
    line = ring((0, 0), (10, 0), (10, 10, HALF))
    assert flatten(line, 0.1, closed=False) == [(0, 0), (10, 0), (10, 10)]
    assert bounds(line, closed=False) == (0, 0, 10, 10)
    assert boundary(line, closed=False).signed(5.0, 3.0) == -3.0
    assert SAME_STOP_MM == 0.05


def test_edges_without_length_or_bulge_are_measured_too():
    dot = Edge(3.0, 4.0, 3.0, 4.0, 0.5)
    assert edges.closest(dot, 0.0, 0.0).distance == pytest.approx(5.0)
    assert edges.radius(Edge(0.0, 0.0, 1.0, 0.0, 0.0)) == math.inf
    assert edges.pieces(Edge(0.0, 0.0, 8.0, 0.0, 0.0), 2) == [(0.0, 0.0), (4.0, 0.0)]
    assert reversed_contour(()) == ()


def test_some_edges_bound_nothing():
    some = some_edges([Edge(0.0, 0.0, 10.0, 0.0, 0.0)])
    assert some.signed(5.0, 3.0) == -3.0
    assert some.gap(Edge(0.0, 7.0, 10.0, 7.0, 0.0)) == pytest.approx(7.0)
    with pytest.raises(ValueError, match="no edges"):
        some_edges([])
