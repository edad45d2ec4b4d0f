"""The words of a piece in each way it may lie are those of the piece turned that way."""

import pytest
from hypothesis import HealthCheck, given, settings
from strategies import parts

from translator.geometry.identity import piece_key
from translator.geometry.telling import AS_TOLD, ENDS_EXCHANGED, SIDES_EXCHANGED, TURNED, Telling
from translator.geometry.turning import legs_exchanged, mirrored, turned, turned_over
from translator.model import (
    Angle,
    AngleEnds,
    AngleLegs,
    Cope,
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Part,
    Stamp,
)

SLOW = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


def told(part, way=AS_TOLD):
    return Telling(part).told(way)


@SLOW
@given(parts(kinds=("angle",)))
def test_an_angle_is_told_as_the_turned_angle_is(part):
    assert told(part, TURNED) == told(turned(part))
    assert told(part, SIDES_EXCHANGED) == told(legs_exchanged(part))
    assert told(part, ENDS_EXCHANGED) == told(mirrored(part))
    assert told(part, ENDS_EXCHANGED) == told(legs_exchanged(turned(part)))


@SLOW
@given(parts(kinds=("flat",)))
def test_a_flat_is_told_as_the_turned_flat_is(part):
    assert told(part, TURNED) == told(turned(part))
    assert told(part, SIDES_EXCHANGED) == told(turned_over(part))
    assert told(part, ENDS_EXCHANGED) == told(mirrored(part))


HOLE = Hole(id="a1", x_mm=40.0, y_mm=50.0, diameter_mm=22.0, bolt="M20")
ANGLE = Part(
    mark="A1",
    length_mm=1000.0,
    grade="S355",
    section=Angle(leg_a_mm=100.0, leg_b_mm=80.0, thickness_mm=10.0),
    legs=AngleLegs(
        a=Leg(features=(HOLE, Stamp(id="a2", x_mm=100.0, from_heel_mm=30.0, height_mm=10.0))),
        b=Leg(trims=(Cope(end="far", side="heel", along_mm=60.0, across_mm=30.0),)),
    ),
    ends=AngleEnds(),
)
FLAT = Part(
    mark="F1",
    length_mm=300.0,
    section=Flat(width_mm=100.0, thickness_mm=10.0),
    legs=FlatLegs(face=Leg(features=(HOLE,))),
    ends=FlatEnds(),
)
SPELT = {
    "angle": (
        ANGLE,
        (
            "(((100.0, 80.0, 10.0), 1000.0, 'S355', None, [], {'start': {'leg_a_deg': 0.0,"
            " 'leg_b_deg': 0.0}, 'far': {'leg_a_deg': 0.0, 'leg_b_deg': 0.0}}), [('a', [\"('heel',"
            " 'far', 60.0, 10.0, 0.0)\"]), ('b', [\"('heel', 'far', 60.0, 30.0, 0.0)\"])],"
            " [[\"(None, 'hole', 40.0, 50.0, 22.0, None, None, None, None)\"], []])"
            " [[\"('stamp', 100.0, 30.0, 10.0, 0.0)\"], []]"
        ),
    ),
    "flat": (
        FLAT,
        (
            "(((100.0, 10.0), 300.0, None, None, [], {'start': {'face_deg': 0.0}, 'far':"
            " {'face_deg': 0.0}}), [('face', [])], [[\"(None, 'hole', 260.0, 50.0, 22.0, None,"
            ' None, None, None)"]]) [[]]'
        ),
    ),
}


@pytest.mark.parametrize(("part", "text"), SPELT.values(), ids=SPELT)
def test_a_piece_is_spelt_as_ever(part, text):
    # A manifest of a release keeps a hash of it: another spelling would make all pieces new.
    assert piece_key(part) == text
