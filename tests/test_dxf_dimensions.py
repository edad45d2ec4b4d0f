"""Dimensions of a leg drawing: they measure the model, say so, and stand clear of everything.

Measured by the independent reader; what should be dimensioned is taken from the part itself.
"""

import itertools
import math
import re

import pytest
from dense_parts import dense_parts
from dxf_parts import BEAM_CLIP, BRACE, COPED, SHEET_IDS, SHEETS, STRAP, hole
from dxf_reading import Sheet
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import STRtree
from shapely.geometry import LineString, Point, Polygon
from strategies import parts
from text_room import letters_boxes

from translator.emitters import EmitOptions
from translator.emitters.dxf import EMITTER, _drawing, _placing
from translator.emitters.dxf._entities import Circle, Dimension, Line, Polyline, Text
from translator.lengths.parse import parse_length
from translator.model import (
    AngleLegs,
    CentreMark,
    Hole,
    Leg,
    Slot,
    leg_names,
    leg_of,
    leg_width,
    on_grid,
)

SAME = 0.001
ONE = 0.006
"""Places that differ by less than half of 0.01 mm are dimensioned as one."""

INCH = 25.4


def sheet_of(part, leg):
    return Sheet(EMITTER.emit(part, EmitOptions(leg=leg)))


def is_dimensioned(feature):
    return isinstance(feature, Hole | Slot | CentreMark)


def said(text, units):
    """Return the millimetres that a dimension's text says; the last figure of a run."""
    figure = text.strip("()").rpartition("=")[2].strip()
    if figure.endswith("mm"):
        return float(figure[:-2])
    if units == "mm":
        return float(figure)
    return float(parse_length(figure, "inch"))


def run_places(dimension, units):
    """Return x of all places of a run told as ``3 @ 75 = 225``."""
    match = re.fullmatch(r"(\d+) @ (.*) = (.*)", dimension.text)
    count, pitch = int(match[1]), said(match[2], units)
    assert count * pitch == pytest.approx(said(match[3], units), abs=SAME)
    first = dimension.sheet.point(dimension.entity.dxf.defpoint2)[0]
    return [first + i * pitch for i in range(count + 1)]


def assert_true(part, leg):
    """Each dimension measures what it says, and each place of the part is dimensioned."""
    sheet = sheet_of(part, leg)
    dimensions = sheet.dimensions()
    for d in dimensions:
        assert d.measure == pytest.approx(d.stored, abs=SAME)
        if d.text.startswith("("):
            coarse = INCH / 32 if part.units == "inch" else 0.05
            assert said(d.text, part.units) == pytest.approx(d.measure, abs=coarse + SAME)
        else:
            assert said(d.text, part.units) == pytest.approx(d.measure, abs=SAME)
        # Millimetres are left to the style; anything else is told in the entity too.
        assert d.told == ("" if d.text == plain_mm(d, part.units) else d.text)
    assert {d.origin for d in sheet.dimensions("x", "y")} == {(0.0, 0.0)}
    features = [f for f in leg_of(part, leg).features if is_dimensioned(f)]
    runs = [d for d in sheet.dimensions("length") if "@" in d.text]
    told = [d.measure for d in sheet.dimensions("x")]
    told += [x for run in runs for x in run_places(run, part.units)]
    assert_each({f.x_mm for f in features} | {0.0, part.length_mm}, told)
    across = [d.measure for d in sheet.dimensions("y")]
    width = leg_width(part.section, leg)
    assert_each({f.y_mm for f in features} | {0.0, width}, across)
    (overall,) = [d for d in sheet.dimensions("length") if "@" not in d.text]
    assert overall.measure == pytest.approx(part.length_mm, abs=SAME)
    (whole,) = sheet.dimensions("width")
    assert whole.measure == pytest.approx(width, abs=SAME)
    return sheet


def plain_mm(dimension, units):
    """Return the text that the style makes of a measure: mm with no zeros at the end."""
    if units != "mm":
        return None
    return f"{dimension.measure:.3f}".rstrip("0").rstrip(".")


def assert_each(wanted, told):
    told = sorted(told)
    for value in wanted:
        assert min(abs(value - t) for t in told) <= ONE, value


@pytest.mark.parametrize(("part", "leg"), SHEETS, ids=SHEET_IDS)
def test_dimensions_of_the_examples_are_true(part, leg):
    assert_true(part, leg)


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts())
def test_dimensions_of_any_part_are_true(part):
    for leg in leg_names(part):
        assert_true(part, leg)


@pytest.mark.parametrize("part", list(dense_parts(6, seed=11)), ids=lambda p: p.mark)
def test_dimensions_of_crowded_parts_are_true(part):
    for leg in leg_names(part):
        assert_true(part, leg)


def test_an_ordinate_measures_its_own_hole():
    """Its point is the centre of a hole at that place, not only somewhere at that distance."""
    for part, leg in SHEETS:
        sheet = sheet_of(part, leg)
        sign = -1 if leg == "b" else 1
        centres = [(f.x_mm, sign * f.y_mm) for f in leg_of(part, leg).features if is_dimensioned(f)]
        lines = sheet.dimensions("x")
        for value in {x for x, _ in centres}:
            at = [d.at for d in lines if abs(d.measure - value) < SAME]
            for u, v in at:
                assert min(math.dist((u, v), c) for c in centres) < SAME


# --- what they say -------------------------------------------------------------------------


def texts(part, leg, *kinds):
    return [d.text for d in sheet_of(part, leg).dimensions(*kinds)]


@pytest.mark.parametrize(
    ("part", "leg", "along", "across", "distances"),
    [
        (
            BEAM_CLIP,
            "a",
            ["0", "1-1/4", "10-1/4", "11-1/2"],
            ["0", "2-1/2", "4"],
            ["3 @ 3 = 9", "11-1/2", "4"],
        ),
        (
            BEAM_CLIP,
            "b",
            ["0", "1-1/4", "10-1/4", "11-1/2"],
            ["3-1/2", "2", "0"],  # from bottom to top: the heel is above
            ["3 @ 3 = 9", "11-1/2", "3-1/2"],
        ),
        (
            BRACE,
            "a",
            # The heel corner of the mitre: 112-1/2 less 3 tan 15 deg, that is 111-11/16.
            ["0", "2", "4", "6-1/2", "1'-0\"", "(9'-3 11/16\")", "9'-4 1/2\""],
            ["0", "1-3/4", "2", "2-1/16", "3"],
            ["9'-4 1/2\"", "3"],
        ),
        (
            STRAP,
            "face",
            # The lower corner of the cut: 220 less 100 tan 12 deg.
            ["0", "40", "90", "130", "150", "(198.7)", "220"],
            ["0", "30", "50", "70", "100"],
            ["220", "100"],
        ),
    ],
    ids=["C12-a", "C12-b", "B7-a", "F1"],
)
def test_dimensions_say(part, leg, along, across, distances):
    assert texts(part, leg, "x") == along
    assert texts(part, leg, "y") == across
    assert texts(part, leg, "length", "width") == distances


def row(units, *xs):
    holes = tuple(hole(f"a{i}", x, 60.0, 14.0) for i, x in enumerate(xs, 1))
    return told(COPED, units=units, length_mm=900.0, legs=AngleLegs(a=Leg(features=holes)))


def told(part, **fields):
    return type(part)(**{n: fields.get(n, getattr(part, n)) for n in type(part).model_fields})


@pytest.mark.parametrize(
    ("part", "runs"),
    [
        (row("mm", 80, 155, 230, 305), ["3 @ 75 = 225"]),
        (row("mm", 80, 155, 230), []),
        (row("mm", 80, 155, 230, 306), []),
        (row("mm", 80, 155, 230, 305, 400, 495, 590), ["3 @ 75 = 225", "3 @ 95 = 285"]),
        (row("inch", *(50.8 + 76.2 * i for i in range(6))), ["5 @ 3 = 1'-3\""]),
        (row("inch", *(50.8 + 50.8 * i for i in range(4))), ["3 @ 2 = 6"]),
    ],
    ids=["three spaces", "two spaces", "not equal", "two runs", "over a foot", "under a foot"],
)
def test_equal_spaces_are_told_as_such(part, runs):
    assert [t for t in texts(part, "a", "length") if "@" in t] == runs


def test_places_inside_a_run_have_no_ordinate_unless_another_line_needs_it():
    xs = [80.0, 155.0, 230.0, 305.0]
    assert not {"155", "230"} & set(texts(row("mm", *xs), "a", "x"))
    holes = [*(hole(f"a{i}", x, 60.0, 14.0) for i, x in enumerate(xs)), hole("a9", 155.0, 100, 14)]
    part = told(row("mm"), legs=AngleLegs(a=Leg(features=tuple(holes))))
    assert "155" in texts(part, "a", "x")
    assert "230" not in texts(part, "a", "x")


def test_two_lines_with_the_same_places_share_one_run():
    xs = [80.0, 155.0, 230.0, 305.0]
    holes = [hole(f"a{i}{y}", x, y, 14.0) for y in (50, 100) for i, x in enumerate(xs)]
    part = told(row("mm"), legs=AngleLegs(a=Leg(features=tuple(holes))))
    assert [t for t in texts(part, "a", "length") if "@" in t] == ["3 @ 75 = 225"]
    assert not {"155", "230"} & set(texts(part, "a", "x"))


def test_places_that_only_rounding_tells_apart_are_one():
    holes = [hole("a1", 80.0, 60.0, 14.0), hole("a2", 200.0, 60.001068, 14.0)]
    holes += [hole("a3", 300.0, 60.02, 14.0), hole("a4", 400.123456, 60.0, 14.0)]
    part = told(row("mm"), legs=AngleLegs(a=Leg(features=tuple(holes))))
    assert texts(part, "a", "y") == ["0", "60", "60.02", "150"]
    assert "400.123" in texts(part, "a", "x")


def test_a_run_without_room_for_its_words_is_told_one_by_one():
    holes = [hole(f"a{i}", 100.0 + 2.0 * i, 60.0, 1.0) for i in range(4)]
    part = told(row("mm"), legs=AngleLegs(a=Leg(features=tuple(holes))))
    assert [t for t in texts(part, "a", "length") if "@" in t] == []
    assert {"100", "102", "104", "106"} <= set(texts(part, "a", "x"))


def test_places_beyond_number_are_left_to_the_schedule_and_said_so():
    holes = [hole(f"a{i}", 100.0 + 0.25 * i, 60.0 + i % 2, 0.1 + 0.0001 * i) for i in range(1200)]
    holes = [hole(h.id, h.x_mm + 0.001 * (i % 7), h.y_mm, 0.1) for i, h in enumerate(holes)]
    sheet = sheet_of(told(row("mm"), legs=AngleLegs(a=Leg(features=tuple(holes)))), "a")
    assert [d.text for d in sheet.dimensions("x")] == ["0", "900"]
    (note,) = [n for n in sheet.notes() if "too close" in n]
    assert re.match(r"1\d{3} places are too close to dimension; the schedule has them\.", note)


def test_more_runs_than_can_be_read_are_told_one_by_one():
    holes = [
        hole(f"a{j}-{i}", 50.0 + j + (10.0 + 0.1 * j) * i, 40.0 + 2.0 * j, 1.0)
        for j in range(45)
        for i in range(5)
    ]
    part = told(row("mm"), legs=AngleLegs(a=Leg(features=tuple(holes))))
    assert [t for t in texts(part, "a", "length") if "@" in t] == []
    assert len(texts(part, "a", "x")) > 100


# --- they stand clear ----------------------------------------------------------------------


def shape(entity):
    if isinstance(entity, Circle):
        return Point(entity.centre).buffer(entity.radius, 8)
    points = [(c.u, c.v) for c in entity.corners]
    if entity.layer.name == "LEG-OUTLINE":
        return LineString([*points, points[0]])
    return Polygon(points).buffer(max(math.dist(*p) for p in itertools.pairwise(points)) / 2.0)


def assert_clear(part, leg):
    drawn = _drawing.drawn(part, leg)
    entities = [*drawn.entities, *drawn.table.entities]
    dimensions = [e for e in entities if isinstance(e, Dimension)]
    own = [t for d in dimensions for t in d.picture if isinstance(t, Text)]
    assert len(own) == len(dimensions) >= 7
    rooms = letters_boxes(own)
    others = letters_boxes([e for e in entities if isinstance(e, Text)])
    holes = ("HOLE-THROUGH", "SLOT", "LEG-OUTLINE")
    shapes = [shape(e) for e in entities if e.layer.name in holes]
    tree = STRtree([*rooms, *others, *shapes])
    for one, other in tree.query(rooms, predicate="intersects").T:
        assert one == other, own[one].text
    lines = []
    for index, d in enumerate(dimensions):
        for e in d.picture:
            if isinstance(e, Line):
                lines.append((index, LineString([e.start, e.end])))
            elif isinstance(e, Polyline):
                lines.append((index, LineString([(c.u, c.v) for c in e.corners])))
    tree = STRtree([line for _, line in lines])
    for room, line in tree.query(rooms, predicate="intersects").T:
        raise AssertionError((own[room].text, dimensions[lines[line][0]].picture))


DENSE = list(dense_parts(200))


def test_there_are_crowds_to_look_at():
    counts = [len(leg_of(p, leg_names(p)[0]).features) for p in DENSE]
    assert len(DENSE) == 200
    assert sum(c > 40 for c in counts) > 50
    assert {p.units for p in DENSE} == {"mm", "inch"}


@pytest.mark.parametrize("start", range(0, 200, 20))
def test_no_text_of_a_dimension_touches_anything(start):
    """No other text, hole, slot, outline, nor any line of a dimension."""
    for part in DENSE[start : start + 20]:
        for leg in leg_names(part):
            assert_clear(part, leg)


@pytest.mark.parametrize(("part", "leg"), SHEETS, ids=SHEET_IDS)
def test_texts_of_the_examples_stand_clear(part, leg):
    assert_clear(part, leg)


def test_the_file_has_the_texts_where_they_were_planned():
    for part in DENSE[:200:40]:
        for leg in leg_names(part):
            planned = [e for e in _drawing.drawn(part, leg).entities if isinstance(e, Dimension)]
            found = sheet_of(part, leg).dimensions()
            for d, read in zip(planned, found, strict=True):
                (text,) = [e for e in d.picture if isinstance(e, Text)]
                at = read.letters.dxf.align_point if text.align else read.letters.dxf.insert
                assert read.sheet.point(at) == pytest.approx(text.at, abs=1e-5)
                height = read.letters.dxf.height * read.sheet.unit
                assert height == pytest.approx(text.height, abs=1e-5)
                assert (read.text, read.letters.dxf.rotation) == (text.text, text.turn)


# --- places along a line -------------------------------------------------------------------


@given(
    st.lists(st.integers(-40_000, 40_000).map(lambda n: n / 4), max_size=40).map(sorted),
    st.integers(1, 200).map(lambda n: n / 4),
)
def test_places_are_spread_apart_in_order_and_no_further_than_needed(wishes, pitch):
    placed = _placing.spread(wishes, pitch)
    assert len(placed) == len(wishes)
    assert all(q - p >= pitch - 1e-6 for p, q in itertools.pairwise(placed))
    if all(q - p >= pitch for p, q in itertools.pairwise(wishes)):
        assert placed == wishes
    # A group that was moved together sits about the middle of its wishes.
    assert sum(placed) == pytest.approx(sum(wishes), abs=1e-5)


@pytest.mark.parametrize(
    ("spans", "chosen"),
    [
        ([], []),
        ([(0, 3), (3, 5)], [0, 0]),
        ([(0, 3), (2, 5), (3, 4), (5, 6)], [0, 1, 0, 0]),
    ],
)
def test_runs_that_overlap_stand_in_rows(spans, chosen):
    assert _placing.rows(spans) == chosen


def test_the_widest_gap_is_found():
    assert _placing.widest_gap(0.0, 10.0, [0.0, 1.0, 3.0, 10.0, 12.0]) == (3.0, 10.0)
    assert _placing.widest_gap(0.0, 10.0, []) == (0.0, 10.0)
    assert _placing.widest_gap(0.0, 10.0, [5.0]) == (0.0, 5.0)


def test_values_on_the_grid_stay_there():
    assert on_grid(_placing.spread([0.1, 0.2], 5.0)[0]) != 0.1
    assert _placing.spread([0.1, 20.2], 5.0) == [0.1, 20.2]
