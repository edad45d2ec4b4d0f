"""Times of single things: hand-worked examples, textbook kinematics, and what must hold."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from translator.bars.times import (
    drill_travel_mm,
    feed_time_s,
    hits_time_s,
    move_time_s,
    oblique_area_mm2,
    point_length_mm,
    saw_time_s,
    stamp_time_s,
    turns_per_min,
)

SIZES = st.floats(0.01, 20_000.0)
RATES = st.floats(1.0, 5_000.0)


# Worked by hand from s = 1/2 a t^2 and v = a t, which every textbook of mechanics has.
@pytest.mark.parametrize(
    ("distance", "speed", "acceleration", "seconds"),
    [
        pytest.param(0.0, 600.0, 1200.0, 0.0, id="no way takes no time"),
        pytest.param(300.0, 600.0, 1200.0, 1.0, id="just reaches its speed: 0.5 s up, 0.5 s down"),
        pytest.param(900.0, 600.0, 1200.0, 2.0, id="150 mm up, 600 mm at speed (1 s), 150 mm down"),
        pytest.param(75.0, 600.0, 1200.0, 0.5, id="37.5 mm up in 0.25 s and down again"),
        pytest.param(-75.0, 600.0, 1200.0, 0.5, id="backwards takes as long"),
    ],
)
def test_a_move_from_rest_to_rest(distance, speed, acceleration, seconds):
    assert move_time_s(distance, speed, acceleration) == pytest.approx(seconds, rel=1e-12)


@settings(max_examples=200)
@given(SIZES, RATES, RATES)
def test_a_move_follows_its_own_speed(distance, speed, acceleration):
    """Add up the way in small steps of the speed that a machine would have at each moment."""
    seconds = move_time_s(distance, speed, acceleration)
    steps = 2_000
    way = 0.0
    for step in range(steps):
        t = (step + 0.5) / steps * seconds
        way += min(speed, acceleration * t, acceleration * (seconds - t)) * seconds / steps
    assert way == pytest.approx(distance, rel=2e-3)


@given(SIZES, SIZES, RATES, RATES)
def test_farther_takes_longer_and_one_move_beats_two(one, two, speed, acceleration):
    both = move_time_s(one + two, speed, acceleration)
    apart = move_time_s(one, speed, acceleration) + move_time_s(two, speed, acceleration)
    assert both >= move_time_s(max(one, two), speed, acceleration)
    assert both <= apart * (1 + 1e-12)


@given(SIZES, RATES, RATES, st.floats(1.01, 10.0))
def test_a_quicker_machine_is_never_slower(distance, speed, acceleration, factor):
    slow = move_time_s(distance, speed, acceleration)
    assert move_time_s(distance, speed * factor, acceleration) <= slow * (1 + 1e-12)
    assert move_time_s(distance, speed, acceleration * factor) <= slow * (1 + 1e-12)


def test_no_jump_where_the_triangle_becomes_a_trapezoid():
    speed, acceleration = 600.0, 1200.0
    there = speed**2 / acceleration
    below, above = (
        move_time_s(there - 1e-9, speed, acceleration),
        move_time_s(there + 1e-9, speed, acceleration),
    )
    assert below == pytest.approx(above, abs=1e-9)


# Worked by hand: 30 m/min at the rim of a 20 mm drill is 30,000 / (20 x 3.14159) = 477.46 turns.
def test_turns_of_a_drill():
    assert turns_per_min(30.0, 20.0) == pytest.approx(477.4648, abs=1e-4)
    assert turns_per_min(30.0, 20.0) * math.pi * 20.0 == pytest.approx(30_000.0)


# Textbooks of machining take the point of a 118 degree drill as 0.3 d (from memory).
@pytest.mark.parametrize(
    ("angle", "share"),
    [
        pytest.param(118.0, 0.3004, id="118 degrees: 0.3 d"),
        pytest.param(90.0, 0.5, id="90 degrees: half the diameter"),
        pytest.param(180.0, 0.0, id="flat: nothing"),
    ],
)
def test_the_point_of_a_drill(angle, share):
    assert point_length_mm(20.0, angle) == pytest.approx(20.0 * share, abs=1e-3)


def test_one_drilled_hole_by_hand():
    """A 20 mm hole through 10 mm at 30 m/min and 0.2 mm a turn.

    Travel 10 + 6.009 + 3 = 19.009 mm; 477.46 x 0.2 = 95.49 mm/min; 19.009 / 95.49 min = 11.94 s.
    """
    travel = drill_travel_mm(10.0, 20.0, 118.0, 3.0)
    assert travel == pytest.approx(19.009, abs=1e-3)
    assert feed_time_s(travel, turns_per_min(30.0, 20.0), 0.2) == pytest.approx(11.94, abs=0.01)


@given(st.floats(1.0, 50.0), st.floats(5.0, 60.0), st.floats(1.05, 3.0))
def test_thicker_steel_and_larger_holes_take_longer(depth, diameter, factor):
    def seconds(deep, wide):
        return feed_time_s(drill_travel_mm(deep, wide, 118.0, 3.0), turns_per_min(30.0, wide), 0.15)

    assert seconds(depth * factor, diameter) > seconds(depth, diameter)
    assert seconds(depth, diameter * factor) > seconds(depth, diameter)


def test_several_hits_have_one_move_less_than_hits():
    assert hits_time_s(1, 0.9, 5.0) == pytest.approx(0.9)
    assert hits_time_s(4, 0.9, 0.5) == pytest.approx(4 * 0.9 + 3 * 0.5)


# Worked by hand: 1,850 mm2 at 120 mm2/s is 15.42 s, with 6 s beside it 21.42 s.
def test_a_saw_cut():
    assert saw_time_s(1850.0, 120.0, 6.0) == pytest.approx(21.4167, abs=1e-4)


@pytest.mark.parametrize(
    ("left", "right", "factor"),
    [
        pytest.param(0.0, 0.0, 1.0, id="square"),
        pytest.param(45.0, 0.0, math.sqrt(2.0), id="45 degrees on one side"),
        pytest.param(0.0, -60.0, 2.0, id="60 degrees the other way"),
        pytest.param(
            45.0, 45.0, math.sqrt(3.0), id="both sides: the plane through a cube's corner"
        ),
    ],
)
def test_a_swung_cut_goes_through_more_steel(left, right, factor):
    assert oblique_area_mm2(1000.0, left, right) == pytest.approx(1000.0 * factor)


def test_the_area_of_a_swung_cut_against_a_solid():
    """Against a solid modeller: the face that a slanted plane leaves on a rectangular bar."""
    from manifold3d import Manifold

    bar = Manifold.cube((400.0, 100.0, 10.0), center=True)
    slope = math.tan(math.radians(30.0)), math.tan(math.radians(20.0))
    normal = (1.0, -slope[0], -slope[1])
    half = bar.trim_by_plane(normal, 0.0)
    # Surface of the half: what is left of the bar's own faces, and the cut; by symmetry of the
    # plane about the middle the faces along the bar are halved exactly.
    faces = (400.0 * 100.0 * 2 + 400.0 * 10.0 * 2) / 2.0 + 100.0 * 10.0
    assert half.surface_area() - faces == pytest.approx(
        oblique_area_mm2(100.0 * 10.0, 30.0, 20.0), rel=1e-6
    )


def test_a_stamp():
    assert stamp_time_s(4, 1.5, 0.5) == pytest.approx(3.5)
    assert stamp_time_s(0, 1.5, 0.5) == pytest.approx(1.5)
