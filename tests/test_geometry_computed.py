"""Frames, stops, countersinks and the computed block."""

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from strategies import parts

from translator.geometry.computed import compute
from translator.geometry.frames import outside_point, outside_sign, solid_point
from translator.geometry.mass import removed_mm3
from translator.geometry.outline import leg_outline
from translator.geometry.stops import Stop, feature_x, stops
from translator.model import (
    Angle,
    AngleEnds,
    AngleLegs,
    CentreMark,
    Clip,
    Hole,
    Leg,
    Opening,
    Part,
    Scribe,
    Slot,
    Stamp,
    Vertex,
    leg_names,
    leg_of,
)

ANGLE = Angle(leg_a_mm=100.0, leg_b_mm=80.0, thickness_mm=10.0)


def hole(name, x, **more):
    return Hole(id=name, x_mm=x, y_mm=50.0, diameter_mm=20.0, **more)


def part(a=(), b=(), trims=()):
    legs = AngleLegs(a=Leg(features=a, trims=trims), b=Leg(features=b))
    return Part(mark="A1", length_mm=1000.0, section=ANGLE, legs=legs, ends=AngleEnds())


def test_outside_views():
    assert outside_point("a", 10.0, 20.0) == (10.0, 20.0)
    assert outside_point("face", 10.0, 20.0) == (10.0, 20.0)
    assert outside_point("b", 10.0, 20.0) == (10.0, -20.0)
    assert str(outside_point("b", 10.0, 0.0)[1]) == "0.0"
    assert [outside_sign(leg) for leg in ("a", "b", "face")] == [1.0, -1.0, 1.0]


@pytest.mark.parametrize(("leg", "outwards"), [("a", (0, 0, 1)), ("b", (0, -1, 0))])
def test_the_outside_view_is_what_an_eye_outside_sees(leg, outwards):
    """The view's right and up span the face, and right x up points to the eye."""
    origin = np.array(solid_point(leg, 0.0, 0.0))
    right = np.array(solid_point(leg, 1.0, 0.0)) - origin
    toe = np.array(solid_point(leg, 0.0, 1.0)) - origin
    up = toe * outside_point(leg, 0.0, 1.0)[1]
    assert np.allclose(np.cross(right, up), outwards)
    inwards = np.array(solid_point(leg, 0.0, 0.0, 1.0)) - origin
    assert np.allclose(inwards, -np.array(outwards))


def test_both_legs_share_the_heel():
    assert solid_point("a", 5.0, 0.0) == solid_point("b", 5.0, 0.0) == (5.0, 0.0, 0.0)


def test_features_of_both_legs_share_a_stop():
    made = part(
        a=(hole("a1", 200.0), hole("a2", 100.0), hole("a3", 100.06)),
        b=(hole("b1", 100.05), hole("b2", 200.0)),
    )
    assert stops(made) == (
        Stop(x_mm=100.0, operations=(("a", "a2"), ("b", "b1"))),
        Stop(x_mm=100.06, operations=(("a", "a3"),)),
        Stop(x_mm=200.0, operations=(("a", "a1"), ("b", "b2"))),
    )


PLACES = {
    "slot": (
        Slot(id="a1", x_mm=70.0, y_mm=50.0, width_mm=10.0, length_mm=30.0, angle_deg=45.0),
        70.0,
    ),
    "mark": (CentreMark(id="a1", x_mm=12.5, y_mm=50.0), 12.5),
    "stamp": (Stamp(id="a1", x_mm=33.0, from_heel_mm=50.0, height_mm=10.0), 33.0),
    "opening": (
        Opening(
            id="a1",
            contour=(
                Vertex(x_mm=10.0, y_mm=50.0, bulge=1.0),
                Vertex(x_mm=30.0, y_mm=50.0, bulge=1.0),
            ),
        ),
        20.0,
    ),
    "scribed line": (
        Scribe(id="a1", line=(Vertex(x_mm=80.0, y_mm=50.0), Vertex(x_mm=60.0, y_mm=10.0))),
        60.0,
    ),
}


@pytest.mark.parametrize(("feature", "x"), PLACES.values(), ids=PLACES)
def test_where_a_feature_is_worked(feature, x):
    assert feature_x(feature) == x
    assert stops(part(a=(feature,))) == (Stop(x_mm=x, operations=(("a", "a1"),)),)


@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(parts())
def test_every_feature_has_one_stop(made):
    found = [operation for stop in stops(made) for operation in stop.operations]
    every = [(leg, f.id) for leg in leg_names(made) for f in leg_of(made, leg).features]
    assert sorted(found) == sorted(every)
    places = [stop.x_mm for stop in stops(made)]
    assert places == sorted(places)


DISC = math.pi * 100.0
REMOVED = {
    "through": (hole("a1", 50.0), DISC * 10),
    "blind": (hole("a1", 50.0, depth_mm=4.0), DISC * 4),
    "deeper than the leg": (hole("a1", 50.0, depth_mm=40.0), DISC * 10),
    # A cone from 30 down to 20 at 90 degrees is 5 deep: pi 5/12 (900 + 600 + 400) in all.
    "countersunk": (
        hole("a1", 50.0, countersink_diameter_mm=30.0, countersink_angle_deg=90.0),
        DISC * 5 + math.pi * 5 / 12 * 1900,
    ),
    # From 50 at 90 degrees it meets the back of the leg at 30: pi 10/12 (2500 + 1500 + 900).
    "countersunk through": (
        hole("a1", 50.0, countersink_diameter_mm=50.0, countersink_angle_deg=90.0),
        math.pi * 10 / 12 * 4900,
    ),
    "countersink without an angle": (hole("a1", 50.0, countersink_diameter_mm=30.0), DISC * 10),
    "slot": (
        Slot(id="a1", x_mm=50.0, y_mm=50.0, width_mm=20.0, length_mm=50.0),
        (DISC + 600) * 10,
    ),
    "mark": (CentreMark(id="a1", x_mm=12.5, y_mm=50.0), 0.0),
}


@pytest.mark.parametrize(("feature", "volume"), REMOVED.values(), ids=REMOVED)
def test_what_a_feature_takes_out(feature, volume):
    assert removed_mm3(feature, 10.0) == pytest.approx(volume)


def test_computed_holds_all_of_a_part():
    made = part(
        a=(hole("a1", 50.0),), trims=(Clip(end="far", side="toe", along_mm=20.0, across_mm=10.0),)
    )
    found = compute(made)
    assert list(found.legs) == ["a", "b"]
    assert found.legs["a"].outline == leg_outline(made, "a").contour
    assert found.legs["a"].face_area_gross_mm2 == pytest.approx(100_000 - 100)
    assert found.legs["a"].face_area_net_mm2 == pytest.approx(100_000 - 100 - DISC)
    assert found.legs["b"].face_area_net_mm2 == pytest.approx(80_000)
    assert found.section_area_mm2 == pytest.approx(1700)
    assert found.mass_kg == pytest.approx(13.345)
    assert found.net_mass_kg == pytest.approx((1_700_000 - 1000 - 10 * DISC) * 7.85e-6)
    assert found.mass_per_metre_kg == pytest.approx(13.345)
    assert found.paint_area_m2 == pytest.approx((360 * 1000 + 2 * 1700) / 1e6)
    assert [net.convention for net in found.net_paths] == ["aisc", "en"]
    assert [net.net_area_mm2 for net in found.net_paths] == pytest.approx([1480, 1500])
    assert {net.path for net in found.net_paths} == {(("a", "a1"),)}
    assert found.stops == stops(made)
    assert found.faults == ()


def test_computed_tells_the_faults_of_all_legs():
    made = part(trims=(Clip(end="far", side="heel", along_mm=20.0, across_mm=10.0),))
    assert [fault.element for fault in compute(made).faults] == ["legs.a.trims.0"]
