"""Recognising ends and trims gives the contours back, exact or rounded to 0.01 mm."""

from hypothesis import HealthCheck, Phase, event, given, settings
from strategies import parts

from translator.geometry.contours import vertex
from translator.geometry.outline import leg_outline
from translator.geometry.recognise import recognise
from translator.model import (
    Angle,
    AngleLegs,
    Flat,
    FlatLegs,
    Leg,
    OutlineTrim,
    Part,
    leg_names,
    leg_of,
)

SLOW = settings(
    max_examples=40,
    deadline=None,
    phases=(Phase.generate,),
    suppress_health_check=list(HealthCheck),
)
ANGLE = Angle(leg_a_mm=100.0, leg_b_mm=80.0, thickness_mm=10.0)
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
