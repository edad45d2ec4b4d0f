"""Recognising ends and trims gives the contours back, exact or rounded to 0.01 mm."""

import time

import pytest
from hypothesis import HealthCheck, Phase, event, given, settings
from strategies import parts

from translator.geometry.contours import vertex
from translator.geometry.outline import leg_outline
from translator.geometry.recognise import recognise
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    Cope,
    Flat,
    FlatEnds,
    FlatLegs,
    Leg,
    OutlineTrim,
    Part,
    leg_names,
    leg_of,
)

SLOW = settings(
    max_examples=25,
    deadline=None,
    phases=(Phase.generate,),
    suppress_health_check=list(HealthCheck),
)
ANGLE = Angle(leg_a_mm=100.0, leg_b_mm=80.0, thickness_mm=10.0)
FLAT = Flat(width_mm=80.0, thickness_mm=10.0)
PLAIN = tuple(vertex(x, y) for x, y in ((0, 0), (900, 0), (900, 80), (0, 80)))


def contours_of(part):
    return {leg: leg_outline(part, leg).contour for leg in leg_names(part)}


def rounded(contour):
    return tuple(vertex(round(v.x_mm, 2), round(v.y_mm, 2), v.bulge) for v in contour)


def rebuilt(part, found):
    legs = {name: Leg(trims=found.trims[name]) for name in leg_names(part)}
    built = FlatLegs(**legs) if isinstance(part.section, Flat) else AngleLegs(**legs)
    return Part(
        mark=part.mark,
        length_mm=part.length_mm,
        section=part.section,
        legs=built,
        ends=found.ends,
    )


def told(trims):
    return sorted(trim.model_dump_json() for trim in trims)


@SLOW
@given(parts(explicit=False))
def test_exact_contours_give_the_very_trims_back(part):
    found = recognise(part.section, part.length_mm, contours_of(part))
    again = rebuilt(part, found)
    assert contours_of(again) == contours_of(part) or _is_near(again, part, 1e-5)
    assert not any(isinstance(t, OutlineTrim) for leg in found.trims.values() for t in leg)
    same = found.ends == part.ends and all(
        told(found.trims[leg]) == told(leg_of(part, leg).trims) for leg in leg_names(part)
    )
    event("the same words" if same else "other words")


@SLOW
@given(parts(explicit=False, nc=True))
def test_rounded_contours_are_recognised_within_their_rounding(part):
    given_contours = {leg: rounded(c) for leg, c in contours_of(part).items()}
    found = recognise(part.section, part.length_mm, given_contours)
    again = rebuilt(part, found)
    event(str(any(isinstance(t, OutlineTrim) for leg in found.trims.values() for t in leg)))
    assert _is_near(again, part, 0.03)


def _is_near(one, two, tolerance):
    for leg in leg_names(one):
        a, b = leg_outline(one, leg).contour, leg_outline(two, leg).contour
        if len(a) != len(b):
            return False
        for v, w in zip(a, b, strict=True):
            if abs(v.x_mm - w.x_mm) > tolerance or abs(v.y_mm - w.y_mm) > tolerance:
                return False
    return True


def ring(*corners):
    return tuple(vertex(*corner) for corner in corners)


def kinds(found):
    return {leg: [trim.kind for trim in trims] for leg, trims in found.trims.items()}


def faults_of(found):
    legs = AngleLegs(**{leg: Leg(trims=found.trims[leg]) for leg in ("a", "b")})
    part = Part(mark="A1", length_mm=900.0, section=ANGLE, legs=legs, ends=found.ends)
    return [fault for leg in ("a", "b") for fault in leg_outline(part, leg).faults]


def test_a_plain_rectangle_is_no_trim():
    found = recognise(FLAT, 900.0, {"face": PLAIN})
    assert found.ends == FlatEnds()
    assert kinds(found) == {"face": []}
    assert recognise(FLAT, 900.0, {}) == found


def test_a_contour_may_run_either_way_from_anywhere_and_repeat_a_corner():
    wild = (*PLAIN[2:], *PLAIN[:2], PLAIN[1])[::-1]
    assert kinds(recognise(FLAT, 900.0, {"face": wild})) == {"face": []}


def test_a_through_cut_is_recognised_when_both_legs_meet_at_one_heel():
    contours = {
        "a": ring((0, 0), (873.21, 0), (900, 100), (0, 100)),
        "b": ring((0, 0), (873.21, 0), (859.1, 80), (0, 80)),
    }
    found = recognise(ANGLE, 900.0, contours)
    assert found.ends == AngleEnds(far=AngleEnd(leg_a_deg=15.0, leg_b_deg=-10.0))
    assert kinds(found) == {"a": [], "b": []}


def test_end_lines_that_do_not_meet_at_the_heel_stay_outlines():
    contours = {
        "a": ring((0, 0), (873.21, 0), (900, 100), (0, 100)),
        "b": ring((0, 0), (900, 0), (900, 80), (0, 80)),
    }
    found = recognise(ANGLE, 900.0, contours)
    assert "outline" in kinds(found)["a"] + kinds(found)["b"]
    assert any("takes the corner from both legs" in fault.message for fault in faults_of(found))


HEEL_A = ring((50, 0), (900, 0), (900, 100), (0, 100), (0, 30), (50, 30))
HEEL_B = ring((50, 0), (900, 0), (900, 80), (0, 80), (0, 10), (50, 10))


def test_a_cut_at_the_heel_is_one_cope_when_both_legs_show_it():
    found = recognise(ANGLE, 900.0, {"a": HEEL_A, "b": HEEL_B})
    assert kinds(found) == {"a": ["cope"], "b": []}
    assert found.trims["a"][0] == Cope(end="start", side="heel", along_mm=50.0, across_mm=30.0)


def test_the_corner_alone_is_a_cope_of_leg_a():
    corner = ring((50, 0), (900, 0), (900, 100), (0, 100), (0, 10), (50, 10))
    found = recognise(ANGLE, 900.0, {"a": corner, "b": HEEL_B})
    assert kinds(found) == {"a": ["cope"], "b": []}


def test_a_cut_at_the_heel_of_one_leg_alone_leaves_the_other_leg_as_given_and_is_a_fault():
    found = recognise(ANGLE, 900.0, {"a": HEEL_A})
    assert kinds(found) == {"a": ["cope"], "b": ["outline"]}
    (fault,) = faults_of(found)
    assert fault.message.startswith("the outline of leg b leaves the heel at x = 0 mm, that of")


def test_one_leg_of_its_own_shape_does_not_spoil_the_other():
    star = ring((0, 0), (900, 0), (900, 80), (500, 80), (450, 33), (400, 80), (0, 80))
    coped = ring((0, 0), (900, 0), (900, 100), (60, 100), (60, 70), (0, 70))
    found = recognise(ANGLE, 900.0, {"a": coped, "b": star})
    assert kinds(found) == {"a": ["cope"], "b": ["outline"]}
    assert found.trims["b"][0].contour == star


def test_what_is_no_contour_is_not_recognised():
    assert recognise(FLAT, 900.0, {"face": ring((0, 0), (900, 0), (400, 0))}) is None
    assert recognise(FLAT, 900.0, {"face": ring((0, 0), (0, 0))}) is None


def test_a_contour_that_crosses_itself_stays_an_outline():
    found = recognise(FLAT, 900.0, {"face": ring((0, 0), (900, 0), (0, 80), (900, 80))})
    assert kinds(found) == {"face": ["outline"]}


def test_a_flat_with_a_clip_and_a_mitre_takes_the_square_line_for_the_end():
    clipped = ring((0, 0), (900, 0), (900, 50), (880, 80), (0, 80))
    (trim,) = recognise(FLAT, 900.0, {"face": clipped}).trims["face"]
    assert (trim.kind, trim.along_mm, trim.across_mm) == ("clip", 20.0, 30.0)


def test_thousands_of_corners_are_looked_at_fast():
    teeth = []
    for n in range(1200):
        left = 100 + 4.0 * n
        teeth += [(left, 80), (left + 1, 80), (left + 1, 40), (left + 3, 40), (left + 3, 80)]
    corners = ring((0, 0), (20_000, 0), (20_000, 80), *teeth[::-1], (0, 80))[:4_990]
    began = time.process_time()
    found = recognise(FLAT, 20_000.0, {"face": corners})
    assert kinds(found) == {"face": ["outline"]}
    assert time.process_time() - began < 10.0  # well under 1 s without a tracer


ODD_SHAPES = {
    "a slanting notch": ring(
        *((0, 0), (900, 0), (900, 80), (500, 80), (480, 60), (420, 60), (400, 80), (0, 80))
    ),
    "a step of three at an end": ring(
        *((0, 0), (900, 0), (900, 20), (880, 20), (880, 40), (860, 40), (860, 60)),
        *((840, 60), (840, 80), (0, 80)),
    ),
    "a triangle": ring((0, 0), (900, 0), (900, 80)),
    "no line along the toe": ring((0, 0), (900, 0), (900, 70), (450, 79), (0, 70)),
}


@pytest.mark.parametrize("contour", ODD_SHAPES.values(), ids=ODD_SHAPES)
def test_other_shapes_stay_outlines(contour):
    found = recognise(FLAT, 900.0, {"face": contour})
    assert kinds(found) == {"face": ["outline"]}
    assert found.trims["face"][0].contour == contour


def test_both_legs_keep_a_heel_cope_that_is_deeper_than_the_corner():
    deep = ring((50, 0), (900, 0), (900, 80), (0, 80), (0, 25), (50, 25))
    found = recognise(ANGLE, 900.0, {"a": HEEL_A, "b": deep})
    assert kinds(found) == {"a": ["cope"], "b": ["cope"]}
    assert found.trims["b"][0].across_mm == 25.0
