"""What the rules pass over because nothing can be near there changes no finding."""

from itertools import starmap

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    Hole,
    Leg,
    Part,
    Placed,
    Slot,
    Stamp,
)
from translator.rules import (
    _edge_distances,
    _pairs,
    holes_overlap,
    opposite_bolts_close,
    rules,
    stamp_off_leg,
    stamp_over_hole,
)
from translator.rules._judged import Bench, judge
from translator.rules._practice import Practice
from translator.source import whole_file

BENCHES = [Bench.of(rules(), Practice(code=code), ()) for code in ("us", "eu")]
X, Y = st.integers(0, 40).map(lambda n: n * 10.0), st.integers(1, 20).map(lambda n: n * 5.0)
BOLTS = st.sampled_from([None, None, "3/4", "M20"])


def _hole(x, y, diameter, bolt):
    return Hole(id="x", x_mm=x, y_mm=y, diameter_mm=diameter, bolt=bolt)


def _slot(x, y, width, bolt, angle):
    sizes = {"width_mm": width, "length_mm": 2.0 * width, "angle_deg": angle}
    return Slot(id="x", x_mm=x, y_mm=y, bolt=bolt, **sizes)


def _stamp(x, y):
    return Stamp(id="x", x_mm=x, from_heel_mm=y, height_mm=10.0)


WIDTHS = st.sampled_from([14.0, 18.0, 20.6375, 22.0, 26.0])
MADE = st.one_of(
    st.builds(_hole, X, Y, WIDTHS, BOLTS),
    st.builds(_hole, X, Y, WIDTHS, BOLTS),
    st.builds(_slot, X, Y, WIDTHS, BOLTS, st.sampled_from([0.0, 90.0, 30.0])),
    st.builds(_stamp, X, Y),
)


def _leg(name, made):
    named = starmap(
        lambda n, f: f.model_copy(update={"id": f"{name}{n}"}), enumerate(made, start=1)
    )
    return Leg(features=tuple(named))


@st.composite
def crowded(draw):
    """An angle with so much on it that most rules have something to say."""
    a, b = (_leg(name, draw(st.lists(MADE, max_size=12))) for name in ("a", "b"))
    mitre = AngleEnd(leg_a_deg=draw(st.sampled_from([0.0, 20.0, -15.0])))
    return Part(
        mark="A1",
        length_mm=400.0,
        units=draw(st.sampled_from(["mm", "inch"])),
        section=Angle(leg_a_mm=100.0, leg_b_mm=100.0, thickness_mm=10.0, root_radius_mm=12.0),
        legs=AngleLegs(a=a, b=b),
        ends=AngleEnds(far=mitre),
    )


@pytest.mark.parametrize("bench", BENCHES, ids=("us", "eu"))
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(part=crowded())
def test_a_shortcut_changes_no_finding(bench, part):
    placed = Placed(part=part, places={"": whole_file("a.json")})
    short = judge(placed, bench).findings
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(_pairs, "_FEW", 0)
        patch.setattr(_edge_distances, "_is_clear", lambda *_: False)
        patch.setattr(holes_overlap, "_may_overlap", lambda *_: True)
        patch.setattr(stamp_over_hole, "_may_be_over", lambda *_: True)
        patch.setattr(stamp_off_leg, "_is_well_inside", lambda *_: False)
        patch.setattr(opposite_bolts_close, "beside_each_other", lambda bolted, _: bolted)
        assert judge(placed, bench).findings == short
