"""Whatever the model accepts is measured without an exception, sound or not."""

import math
from itertools import pairwise

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from translator.geometry.clearance import clear_distance, edge_distance, extent, near_pairs
from translator.geometry.computed import compute
from translator.geometry.contours import area, crosses_itself
from translator.geometry.identity import opposite_keys, piece_key, turns
from translator.geometry.recognise import recognise
from translator.geometry.turning import mirrored, turned
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    CentreMark,
    Clip,
    Cope,
    Flat,
    FlatEnd,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Notch,
    Opening,
    OutlineTrim,
    Part,
    Rounding,
    Scribe,
    Slot,
    Stamp,
    Vertex,
    leg_names,
    leg_of,
)

PLACE = st.one_of(
    st.sampled_from([0.0, 10.0, 50.0, 100.0, -1_000_000.0, 1_000_000.0]),
    st.floats(-1e6, 1e6),
    st.integers(-20, 120).map(float),
)
SIZE = st.one_of(st.sampled_from([1e-6, 1.0, 10.0, 50.0, 100.0, 1_000_000.0]), st.floats(1e-6, 1e6))
TURN = st.one_of(st.sampled_from([0.0, 45.0, -45.0, 88.999, -88.999]), st.floats(-88.9, 88.9))
BULGE = st.one_of(st.sampled_from([0.0, 0.0, 1.0, -1.0, 1e-9]), st.floats(-1, 1))
VERTEX = st.builds(Vertex, x_mm=PLACE, y_mm=PLACE, bulge=BULGE)
END = st.sampled_from(["start", "far"])


def made(builder, **fields):
    """Build a model value from drawn fields, leaving out those that it refuses."""

    def build(values):
        try:
            return builder(**values)
        except ValueError:
            return None

    return st.fixed_dictionaries(fields).map(build).filter(lambda value: value is not None)


def trims(*sides):
    side = st.sampled_from(sides)
    return st.one_of(
        made(Cope, end=END, side=side, along_mm=SIZE, across_mm=SIZE, radius_mm=SIZE),
        made(Cope, end=END, side=side, along_mm=SIZE, across_mm=SIZE),
        made(Clip, end=END, side=side, along_mm=SIZE, across_mm=SIZE),
        made(Rounding, end=END, side=side, radius_mm=SIZE),
        made(Notch, side=side, x_from_mm=PLACE, x_to_mm=PLACE, across_mm=SIZE, radius_mm=SIZE),
        made(OutlineTrim, contour=st.lists(VERTEX, min_size=3, max_size=8).map(tuple)),
    )


FEATURE = st.one_of(
    made(Hole, id=st.just("a1"), x_mm=PLACE, y_mm=PLACE, diameter_mm=SIZE),
    made(
        Slot,
        id=st.just("a1"),
        x_mm=PLACE,
        y_mm=PLACE,
        width_mm=SIZE,
        length_mm=SIZE,
        angle_deg=st.floats(-360, 360),
    ),
    made(Opening, id=st.just("a1"), contour=st.lists(VERTEX, min_size=2, max_size=6).map(tuple)),
    made(CentreMark, id=st.just("a1"), x_mm=PLACE, y_mm=PLACE),
    made(
        Scribe,
        id=st.just("a1"),
        closed=st.booleans(),
        line=st.lists(VERTEX, min_size=2, max_size=6).map(tuple),
    ),
    made(
        Stamp,
        id=st.just("a1"),
        x_mm=PLACE,
        from_heel_mm=PLACE,
        height_mm=SIZE,
        angle_deg=st.floats(-360, 360),
    ),
)


@st.composite
def wild_parts(draw):
    is_flat = draw(st.booleans())
    features = [
        feature.model_copy(update={"id": f"a{number}"})
        for number, feature in enumerate(draw(st.lists(FEATURE, max_size=3)), 1)
    ]
    if is_flat:
        section = draw(made(Flat, width_mm=SIZE, thickness_mm=SIZE))
        cut = draw(st.lists(trims("lower", "upper"), max_size=5))
        legs = FlatLegs(face=Leg(features=tuple(features), trims=tuple(cut)))
        ends = FlatEnds(start=FlatEnd(face_deg=draw(TURN)), far=FlatEnd(face_deg=draw(TURN)))
    else:
        section = draw(
            made(Angle, leg_a_mm=SIZE, leg_b_mm=SIZE, thickness_mm=SIZE, root_radius_mm=SIZE)
            | made(Angle, leg_a_mm=SIZE, leg_b_mm=SIZE, thickness_mm=SIZE)
        )
        cut_a, cut_b = (draw(st.lists(trims("heel", "toe"), max_size=4)) for _ in range(2))
        legs = AngleLegs(
            a=Leg(features=tuple(features), trims=tuple(cut_a)), b=Leg(trims=tuple(cut_b))
        )
        pairs = [AngleEnd(leg_a_deg=draw(TURN), leg_b_deg=draw(TURN)) for _ in range(2)]
        ends = AngleEnds(start=pairs[0], far=pairs[1])
    return Part(mark="W", length_mm=draw(SIZE), section=section, legs=legs, ends=ends)


@settings(
    max_examples=25,
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
@given(wild_parts())
def test_wild_parts_are_measured_or_told_as_faults(part):
    found = compute(part)
    assert math.isfinite(found.mass_kg)
    assert math.isfinite(found.net_mass_kg)
    assert math.isfinite(found.paint_area_m2)
    for leg, computed in found.legs.items():
        assert math.isfinite(computed.face_area_net_mm2)
        if not found.faults:
            assert area(computed.outline) > 0
            assert not crosses_itself(computed.outline)
        features = leg_of(part, leg).features
        if len(computed.outline) > 1:
            for feature in features:
                assert math.isfinite(edge_distance(feature, computed.outline).edge_mm)
        for one, two in pairwise(features):
            assert math.isfinite(clear_distance(one, two))
            assert extent(one).left <= extent(one).right
        assert len(list(near_pairs(features, 1.0))) <= 3
    assert all(fault.message for fault in found.faults)


@settings(
    max_examples=25,
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
@given(wild_parts())
def test_wild_parts_are_turned_and_recognised_without_an_exception(part):
    key = piece_key(part)
    assert all(isinstance(piece_key(way), str) for way in turns(part))
    assert key == piece_key(part.model_copy(update={"mark": "other"}))
    assert len(opposite_keys(part)) == 2
    assert mirrored(part).length_mm == turned(part).length_mm == part.length_mm
    contours = {leg: compute(part).legs[leg].outline for leg in leg_names(part)}
    found = recognise(part.section, part.length_mm, contours)
    assert found is None or set(found.trims) == set(leg_names(part))
