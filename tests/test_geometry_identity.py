"""Turns, the mirror, and what counts as the same piece."""

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from strategies import parts

from translator.geometry.clearance import slot_centres
from translator.geometry.contours import area, arranged
from translator.geometry.frames import outside_point, outside_sign, solid_point
from translator.geometry.identity import (
    keys,
    mirrored,
    opposite_hand,
    opposite_keys,
    piece_key,
    same_piece,
    turned,
    turned_over,
    turns,
)
from translator.geometry.mass import net_volume_mm3
from translator.geometry.outline import leg_outline
from translator.geometry.turning import legs_exchanged
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    Cope,
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    OutlineTrim,
    Part,
    Slot,
    Stamp,
    Waiver,
    leg_names,
    leg_of,
)

SLOW = settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
ANGLE = Angle(leg_a_mm=100.0, leg_b_mm=80.0, thickness_mm=10.0)
EQUAL = Angle(leg_a_mm=100.0, leg_b_mm=100.0, thickness_mm=10.0)
FLAT = Flat(width_mm=100.0, thickness_mm=10.0)


def angle(*, a=Leg(), b=Leg(), section=ANGLE, ends=AngleEnds(), mark="A1", **words):  # noqa: B008
    legs = AngleLegs(a=a, b=b)
    return Part(mark=mark, length_mm=1000.0, section=section, legs=legs, ends=ends, **words)


def flat(*features, mark="F1", **words):
    legs = FlatLegs(face=Leg(features=features))
    return Part(mark=mark, length_mm=500.0, section=FLAT, legs=legs, ends=FlatEnds(), **words)


def hole(number, x, y, d=22.0, **more):
    return Hole(id=f"a{number}", x_mm=float(x), y_mm=float(y), diameter_mm=d, **more)


def half_turn(part, point):
    """Half a turn of the solid about the axis square to X in the bisector of the legs.

    The matrix is 2 u u' - 1 with the axis u = (0, 1, -1) / sqrt 2, about the piece's middle.
    """
    u = np.array([0.0, 1.0, -1.0]) / math.sqrt(2)
    middle = np.array([part.length_mm / 2, 0.0, 0.0])
    return (2 * np.outer(u, u) - np.eye(3)) @ (np.array(point) - middle) + middle


@SLOW
@given(parts(kinds=("angle",)))
def test_an_angle_turned_is_the_solid_turned(part):
    other = {"a": "b", "b": "a"}
    after = turned(part)
    for leg in ("a", "b"):
        for one, two in zip(
            leg_of(part, leg).features, leg_of(after, other[leg]).features, strict=True
        ):
            for p, q in zip(marks_of(leg, one), marks_of(other[leg], two), strict=True):
                assert np.allclose(half_turn(part, p), q, atol=1e-5)


def marks_of(leg, feature):
    """Solid points that fix a feature, in an order that a rigid turn keeps."""
    if isinstance(feature, Stamp):
        return [solid_point(leg, *corner) for corner in letter_box(leg, feature)]
    if feature.kind in ("opening", "scribe"):
        line = feature.contour if feature.kind == "opening" else feature.line
        return [solid_point(leg, v.x_mm, v.y_mm) for v in line]
    return [solid_point(leg, feature.x_mm, feature.y_mm, depth) for depth in (0.0, 3.0)]


def letter_box(leg, stamp, wide=30.0):
    """Corners of the letters on a leg: bottom left, bottom right and top left as read.

    Drawn in the outside view from the model's words: the text starts at x and reads along its
    angle, upright for a reader outside; its edge nearest the heel (at angle 0) lies at
    ``from_heel``, which is the bottom on leg a and the top on leg b.
    """
    u, v = outside_point(leg, stamp.x_mm, stamp.from_heel_mm)
    turn = math.radians(stamp.angle_deg) * outside_sign(leg)
    reading = np.array([math.cos(turn), math.sin(turn)])
    up = np.array([-math.sin(turn), math.cos(turn)])
    corner = np.array([u, v])
    if leg == "b":
        corner = corner - up * stamp.height_mm
    corners = (corner, corner + reading * wide, corner + up * stamp.height_mm)
    return [(float(c[0]), float(c[1]) * outside_sign(leg)) for c in corners]


@SLOW
@given(parts())
def test_a_turn_twice_gives_the_part_back(part):
    assert turned(turned(part)) == part
    assert mirrored(mirrored(part)) == part
    if isinstance(part.section, Flat):
        assert turned_over(turned_over(part)) == part


@SLOW
@given(parts())
def test_a_turned_piece_is_the_same_piece_and_as_heavy(part):
    key = piece_key(part)
    for way in turns(part):
        assert piece_key(way) == key
        assert net_volume_mm3(way) == pytest.approx(net_volume_mm3(part), rel=1e-9)
        assert not any(leg_outline(way, leg).faults for leg in leg_names(way))


@SLOW
@given(parts())
def test_the_mirror_image_of_an_outline_is_the_outline_of_the_mirror_image(part):
    image = mirrored(part)
    for leg in leg_names(part):
        one, two = leg_outline(part, leg).contour, leg_outline(image, leg).contour
        assert len(one) == len(two)
        assert area(two) == pytest.approx(area(one))
        reflected = sorted((part.length_mm - v.x_mm, v.y_mm) for v in one)
        assert np.allclose(reflected, sorted((v.x_mm, v.y_mm) for v in two), atol=2e-6)


@SLOW
@given(parts(), st.randoms(use_true_random=False))
def test_words_and_order_do_not_make_another_piece(part, random):
    legs = {}
    for name in leg_names(part):
        leg = leg_of(part, name)
        shuffled = random.sample(leg.features, len(leg.features))
        renamed = tuple(f.model_copy(update={"id": f"z{name}{n}"}) for n, f in enumerate(shuffled))
        trims = tuple(random.sample(leg.trims, len(leg.trims)))
        legs[name] = Leg(features=renamed, trims=trims)
    other = part.model_copy(
        update={"legs": type(part.legs)(**legs), "mark": "other", "quantity": 7, "title": "t"}
    )
    assert same_piece(part, other)


STAMPED = Leg(
    features=(
        Stamp(id="a9", text="X", x_mm=100.0, from_heel_mm=50.0, height_mm=10.0, angle_deg=0.0),
    )
)


def test_a_stamp_on_a_turned_angle_lies_on_the_other_leg_and_reads_from_the_far_end():
    after = turned(angle(a=STAMPED))
    (stamp,) = after.legs.b.features
    assert (stamp.x_mm, stamp.from_heel_mm, stamp.angle_deg) == (900.0, 60.0, 180.0)


def test_a_stamp_on_the_opposite_hand_fills_the_mirrored_box():
    (stamp,) = mirrored(angle(a=STAMPED)).legs.a.features
    assert (stamp.x_mm, stamp.from_heel_mm, stamp.angle_deg) == (900.0, 60.0, 180.0)
    box = letter_box("a", STAMPED.features[0])
    image = letter_box("a", stamp)
    assert min(1000 - x for x, _ in box) == pytest.approx(min(x for x, _ in image))
    assert max(y for _, y in box) == pytest.approx(max(y for _, y in image))
    assert min(y for _, y in box) == pytest.approx(min(y for _, y in image))


def test_turning_an_angle_exchanges_sizes_ends_and_waivers():
    waiver = Waiver(rule="edge-distance-short", leg="a", feature="a1", reason="agreed")
    ends = AngleEnds(start=AngleEnd(leg_a_deg=10.0, leg_b_deg=-5.0))
    after = turned(angle(a=Leg(features=(hole(1, 50, 60),)), ends=ends, waivers=(waiver,)))
    assert (after.section.leg_a_mm, after.section.leg_b_mm) == (80.0, 100.0)
    assert after.ends == AngleEnds(far=AngleEnd(leg_a_deg=-5.0, leg_b_deg=10.0))
    assert after.legs.b.features[0].x_mm == 950.0
    assert after.waivers[0].leg == "b"


ONE_HOLE = Leg(features=(hole(1, 50, 60),))
FAR_HOLE = Leg(features=(hole(1, 950, 60),))
SAME_TABLE = {
    "unequal angle, legs exchanged": (
        angle(a=ONE_HOLE),
        angle(b=FAR_HOLE, section=Angle(leg_a_mm=80.0, leg_b_mm=100.0, thickness_mm=10.0)),
        True,
    ),
    "equal angle, hole at the other end of the same leg": (
        angle(a=ONE_HOLE, section=EQUAL),
        angle(a=FAR_HOLE, section=EQUAL),
        False,
    ),
    "equal angle, hole at the other end of the other leg": (
        angle(a=ONE_HOLE, section=EQUAL),
        angle(b=FAR_HOLE, section=EQUAL),
        True,
    ),
    "another grade": (angle(a=ONE_HOLE, grade="S235JR"), angle(a=ONE_HOLE, grade="S355J2"), False),
    "another finish": (angle(a=ONE_HOLE, finish="galvanised"), angle(a=ONE_HOLE), False),
    "another bolt": (
        angle(a=Leg(features=(hole(1, 50, 60, bolt="M20"),))),
        angle(a=ONE_HOLE),
        True,
    ),
    "flat turned over": (flat(hole(1, 50, 30)), flat(hole(1, 50, 70)), True),
    "flat turned in its face": (flat(hole(1, 50, 30)), flat(hole(1, 450, 70)), True),
    "flat with a blind hole turned over": (
        flat(hole(1, 50, 30, depth_mm=5.0)),
        flat(hole(1, 50, 70, depth_mm=5.0)),
        False,
    ),
    "flat with a blind hole turned in its face": (
        flat(hole(1, 50, 30, depth_mm=5.0)),
        flat(hole(1, 450, 70, depth_mm=5.0)),
        True,
    ),
    "flat with a hole to be marked only, turned over": (
        flat(hole(1, 50, 30, process="mark-only")),
        flat(hole(1, 50, 70, process="mark-only")),
        False,
    ),
    "the corner at the heel, told on one leg or on both": (
        angle(
            a=Leg(trims=(Cope(end="far", side="heel", along_mm=50.0, across_mm=40.0),)),
            section=EQUAL,
        ),
        angle(
            b=Leg(trims=(Cope(end="start", side="heel", along_mm=50.0, across_mm=40.0),)),
            a=Leg(trims=(Cope(end="start", side="heel", along_mm=50.0, across_mm=10.0),)),
            section=EQUAL,
        ),
        True,
    ),
}


@pytest.mark.parametrize(("one", "two", "is_same"), SAME_TABLE.values(), ids=SAME_TABLE)
def test_same_piece(one, two, is_same):
    assert same_piece(one, two) is is_same
    assert same_piece(two, one) is is_same


OPPOSITE_TABLE = {
    "angle with one hole": (angle(a=ONE_HOLE), angle(a=FAR_HOLE), True),
    "equal angle, found by the turn": (
        angle(a=ONE_HOLE, section=EQUAL),
        angle(b=ONE_HOLE, section=EQUAL),
        True,
    ),
    "a symmetrical piece is the same, not opposite": (angle(), angle(), False),
    "a flat without a face is never opposite": (
        flat(hole(1, 50, 30)),
        flat(hole(1, 450, 30)),
        False,
    ),
    "a flat with a face may be": (
        flat(hole(1, 50, 30, depth_mm=5.0)),
        flat(hole(1, 450, 30, depth_mm=5.0)),
        True,
    ),
    "another stamp does not matter": (
        angle(a=Leg(features=(*ONE_HOLE.features, *STAMPED.features))),
        angle(a=FAR_HOLE),
        True,
    ),
    "another piece": (angle(a=ONE_HOLE), angle(a=Leg(features=(hole(1, 949, 60),))), False),
}


@pytest.mark.parametrize(("one", "two", "is_opposite"), OPPOSITE_TABLE.values(), ids=OPPOSITE_TABLE)
def test_opposite_hand(one, two, is_opposite):
    assert opposite_hand(one, two) is is_opposite
    assert opposite_hand(two, one) is is_opposite


def test_opposite_keys_find_pairs_without_looking_at_parts():
    own, mirror = opposite_keys(angle(a=ONE_HOLE))
    assert opposite_keys(angle(a=FAR_HOLE)) == (mirror, own)


@SLOW
@given(parts(kinds=("angle",)))
def test_exchanging_the_legs_gives_the_mirror_image_turned_end_for_end(part):
    # The mirror image in the plane between the legs is that across the length, turned.
    expected = turned(mirrored(part))
    assert legs_exchanged(part).model_copy(update={"waivers": expected.waivers}) == expected


@SLOW
@given(parts())
def test_keys_of_a_piece_and_of_its_mirror_image_change_places(part):
    own, mirror = keys(part), keys(mirrored(part))
    assert (own.hand, own.mirror) == (mirror.mirror, mirror.hand)


def test_a_flat_has_no_legs_to_exchange():
    with pytest.raises(TypeError, match="not an angle"):
        legs_exchanged(flat())


def test_an_angle_can_not_be_turned_over():
    with pytest.raises(ValueError, match="only a flat"):
        turned_over(angle())


def test_a_part_forced_together_from_two_kinds_is_refused():
    angle_with_flat_ends = angle().model_copy(update={"ends": FlatEnds()})
    flat_with_angle_ends = flat().model_copy(update={"ends": AngleEnds()})
    for move in (turned, mirrored):
        for part in (angle_with_flat_ends, flat_with_angle_ends):
            with pytest.raises(TypeError):
                move(part)


def test_an_outline_is_turned_with_its_corners_in_order():
    contour = leg_outline(flat(), "face").contour
    part = flat().model_copy(
        update={"legs": FlatLegs(face=Leg(trims=(OutlineTrim(contour=contour),)))}
    )
    assert turned(part) == part
    assert same_piece(part, mirrored(part))


@SLOW
@given(parts(kinds=("angle",)))
def test_a_turned_slot_points_the_turned_way(part):
    after = turned(part)
    for leg, other in (("a", "b"), ("b", "a")):
        for one, two in zip(leg_of(part, leg).features, leg_of(after, other).features, strict=True):
            if isinstance(one, Slot):
                ends = sorted(solid_point(other, *c) for c in slot_centres(two))
                moved = [half_turn(part, solid_point(leg, *c)) for c in slot_centres(one)]
                straight = np.allclose(ends, moved, atol=1e-5)
                assert straight or np.allclose(ends, moved[::-1], atol=1e-5)


@SLOW
@given(parts())
def test_a_turned_outline_stays_in_the_order_of_the_model(part):
    for way in turns(part):
        for leg in leg_names(way):
            contour = leg_outline(way, leg).contour
            assert contour == arranged(contour)
