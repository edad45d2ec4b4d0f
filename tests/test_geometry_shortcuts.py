"""Shorter ways to a result give the same result; what is kept at hand is kept for one part."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from strategies import parts

from translator.geometry import outline
from translator.geometry.at_hand import at_hand
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    Flat,
    FlatEnd,
    FlatEnds,
    FlatLegs,
    Part,
    leg_names,
)

SLOW = settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
DEGREES = st.sampled_from([0.0, 0.0, 30.0, -30.0, 45.0, -45.0, 80.0, 0.001])
LENGTHS = st.sampled_from([100.0, 100.000001, 57.735027, 57.74, 200.0, 115.470054, 1000.0])


@st.composite
def short_pieces(draw):
    """Pieces without trims whose ends come close to each other, or cross."""
    length = draw(LENGTHS)
    if draw(st.booleans()):
        ends = FlatEnds(start=FlatEnd(face_deg=draw(DEGREES)), far=FlatEnd(face_deg=draw(DEGREES)))
        section = Flat(width_mm=100.0, thickness_mm=10.0)
        return Part(mark="F1", length_mm=length, section=section, legs=FlatLegs(), ends=ends)
    start, far = (AngleEnd(leg_a_deg=draw(DEGREES), leg_b_deg=draw(DEGREES)) for _ in range(2))
    section = Angle(leg_a_mm=100.0, leg_b_mm=80.0, thickness_mm=10.0)
    ends = AngleEnds(start=start, far=far)
    return Part(mark="A1", length_mm=length, section=section, legs=AngleLegs(), ends=ends)


@SLOW
@given(part=st.one_of(parts(), short_pieces()))
def test_a_leg_without_trims_has_the_corners_that_walking_gives(part):
    fresh = part.model_copy()
    short = [outline.leg_outline(part, leg) for leg in leg_names(part)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(outline, "_untrimmed", lambda *_: None)
        assert [outline.leg_outline(fresh, leg) for leg in leg_names(part)] == short


def test_a_result_is_kept_for_the_part_itself_and_for_few_parts():
    asked = []

    @at_hand(2)
    def length(part, more):
        asked.append(part.mark)
        return part.length_mm + more

    one, two, three = (_flat(mark) for mark in ("F1", "F2", "F3"))
    assert [length(one, 1.0), length(one, 1.0), length(one, 2.0)] == [301.0, 301.0, 302.0]
    assert asked == ["F1", "F1"]
    assert length(one.model_copy(), 1.0) == 301.0  # equal, yet another object
    assert asked == ["F1"] * 3
    assert [length(two, 1.0), length(three, 1.0), length(one, 1.0)] == [301.0] * 3
    assert asked == [*["F1"] * 3, "F2", "F3", "F1"]


def test_a_part_kept_at_hand_is_never_taken_for_one_made_after_it():
    @at_hand(2)
    def mark(part):
        return part.mark

    assert [mark(_flat(f"F{n}")) for n in range(50)] == [f"F{n}" for n in range(50)]


def _flat(mark):
    section = Flat(width_mm=100.0, thickness_mm=10.0)
    return Part(mark=mark, length_mm=300.0, section=section, legs=FlatLegs(), ends=FlatEnds())
