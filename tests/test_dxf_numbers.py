"""Numbers, handles and boxes of a drawing: made quickly, and the same as made plainly."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import parts

from translator.emitters.dxf import _clip, _layers, _numbers
from translator.emitters.dxf._entities import (
    CENTRE,
    UPRIGHT,
    Box,
    Circle,
    Corner,
    Dimension,
    Dot,
    Kind,
    Line,
    Polyline,
    Spot,
    Text,
    around,
)
from translator.emitters.dxf._text import width
from translator.geometry.contours import bounds
from translator.geometry.outline import leg_outline
from translator.model import Vertex, leg_names

LENGTHS = st.floats(-1_000_000.0, 1_000_000.0)


@given(LENGTHS, st.sampled_from([1.0, 25.4]))
def test_a_length_is_spelled_as_its_number_is(mm, unit_mm):
    assert _numbers.Numbers(unit_mm)[mm] == _numbers.number(mm / unit_mm)


@pytest.mark.parametrize(
    ("mm", "spelled"),
    [
        (0.0, "0.0"),
        (-0.0, "0.0"),
        (-1e-12, "0.0"),
        (25.4, "1.0"),
        (-25.4, "-1.0"),
        (2540.0, "100.0"),
        (3.175, "0.125"),
        (1.0, "0.039370079"),
    ],
)
def test_lengths_in_inches(mm, spelled):
    assert _numbers.Numbers(25.4)[mm] == spelled


def test_numbers_kept_at_hand_are_bounded_and_stay_right(monkeypatch):
    monkeypatch.setattr(_numbers, "_MOST_NUMBERS", 3)
    numbers = _numbers.Numbers(1.0)
    for value in (1.0, 2.0, 3.0, 4.0, 1.0, 2.0, 5.0, 6.0, 7.0):
        assert numbers[value] == f"{value:.1f}"
        assert len(numbers) <= 3


def test_handles_count_up_past_those_at_hand():
    found = list(itertools.islice(_numbers.handles(0x1000), 5000))
    assert found == [f"{number:X}" for number in range(0x1000, 0x1000 + 5000)]


LETTERS = width("HEEL") * 2.0
SHAPES = {
    "line": (Line(_layers.HEEL, Spot(3.0, 1.0), Spot(-2.0, 5.0)), (-2.0, 1.0, 3.0, 5.0)),
    "circle": (Circle(_layers.HEEL, Spot(1.0, 2.0), 3.0), (-2.0, -1.0, 4.0, 5.0)),
    "dot": (Dot(_layers.HEEL, Spot(1.0, 2.0)), (1.0, 2.0, 1.0, 2.0)),
    "half circle, closed": (
        Polyline(_layers.HEEL, (Corner(0.0, 0.0), Corner(4.0, 0.0, 1.0))),
        (0.0, 0.0, 4.0, 2.0),
    ),
    "the arc that would close an open line is not there": (
        Polyline(_layers.HEEL, (Corner(0.0, 0.0), Corner(4.0, 0.0, 1.0)), closed=False),
        (0.0, 0.0, 4.0, 0.0),
    ),
    "level text": (
        Text(_layers.NOTE, "HEEL", Spot(1.0, 1.0), 2.0),
        (1.0, 0.5, 1.0 + LETTERS, 3.5),
    ),
    "upright text about its middle": (
        Text(_layers.NOTE, "HEEL", Spot(1.0, 1.0), 2.0, UPRIGHT, CENTRE),
        (-1.5, 1.0 - LETTERS / 2.0, 1.5, 1.0 + LETTERS / 2.0),
    ),
    "text upside down": (
        Text(_layers.NOTE, "HEEL", Spot(1.0, 1.0), 2.0, 180.0),
        (1.0 - LETTERS, -1.5, 1.0, 1.5),
    ),
}


@pytest.mark.parametrize(("shape", "box"), SHAPES.values(), ids=SHAPES)
def test_the_box_around(shape, box):
    assert around([shape]) == pytest.approx(box)
    at = Spot(0.0, 0.0)
    told = Dimension(_layers.DIMENSION, Kind.LENGTH, at, at, at, 1.0, None, at, (shape,))
    assert around([told]) == pytest.approx(box)
    left, bottom, right, top = box
    beside = Box(left - 1.0, bottom + 0.25, left, top + 2.0)
    assert around([shape], beside) == pytest.approx((left - 1.0, bottom, right, top + 2.0))


def test_how_far_an_outline_with_round_ends_goes():
    corners = ((0.0, 0.0, 0.0), (100.0, 0.0, 1.0), (100.0, 50.0, 0.0), (0.0, 50.0, 1.0))
    outline = tuple(Vertex(x_mm=x, y_mm=y, bulge=b) for x, y, b in corners)
    assert _clip.reach(outline) == pytest.approx((-25.0, 125.0))


@settings(max_examples=40)
@given(parts())
def test_how_far_an_outline_goes(part):
    for leg in leg_names(part):
        contour = leg_outline(part, leg).contour
        left, _, right, _ = bounds(contour)
        assert _clip.reach(contour) == (left, right)
