"""The picture of a leg: the hand, the scale, what is shown of long pieces, balloons."""

import math
import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import parts

from translator.geometry.contours import bounds
from translator.geometry.frames import outside_point
from translator.geometry.outline import leg_outline
from translator.model import (
    Angle,
    AngleEnds,
    AngleLegs,
    Hole,
    Leg,
    Part,
    Slot,
    Stamp,
    Vertex,
    leg_names,
    leg_of,
    leg_width,
)
from translator.pages import _balloons as balloons
from translator.pages._layout import BREAK, ROOM, lay_out
from translator.pages._legs import Callout, leg_picture
from translator.pages._outside import path_of, slot_path, stamp_place
from translator.pages._picture import Balloon, Disc, Pane, Shape, Words, document
from translator.pages._svg import svg
from translator.pages.notebook import picture

NUMBER = r"-?[0-9.]+"
STEP = re.compile(rf"([MLA])({NUMBER}(?:[ ]{NUMBER})*)")


def clip(length=292.1, **legs):
    return Part(
        mark="C12",
        length_mm=length,
        section=Angle(leg_a_mm=101.6, leg_b_mm=88.9, thickness_mm=9.525, root_radius_mm=9.525),
        legs=AngleLegs(**{name: Leg(features=features) for name, features in legs.items()}),
        ends=AngleEnds(),
    )


def walked(path):
    """Return points along a path of M, L and A, arcs by the rules of SVG (1.1, F.6.5)."""
    points = []
    for letter, text in STEP.findall(path):
        values = [float(v) for v in text.split()]
        if letter in "ML":
            points.append((values[0], values[1]))
            continue
        radius, _, _, large, sweep, x, y = values
        assert large == 0
        points += _arc(points[-1], (x, y), radius, clockwise=bool(sweep))
    return points


def _arc(start, end, radius, *, clockwise):
    """Return points of an arc of at most half a turn; clockwise as y points down."""
    (ax, ay), (bx, by) = start, end
    half = math.hypot(bx - ax, by - ay) / 2.0
    radius = max(radius, half)
    height = math.sqrt(radius**2 - half**2)
    ux, uy = (bx - ax) / (2 * half), (by - ay) / (2 * half)
    side = 1.0 if clockwise else -1.0
    cx, cy = (ax + bx) / 2 - side * uy * height, (ay + by) / 2 + side * ux * height
    first, last = math.atan2(ay - cy, ax - cx), math.atan2(by - cy, bx - cx)
    turn = (last - first) % (2 * math.pi) if clockwise else -((first - last) % (2 * math.pi))
    return [
        (cx + radius * math.cos(first + turn * k / 8), cy + radius * math.sin(first + turn * k / 8))
        for k in range(1, 9)
    ]


def area(points):
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs) / 2.0


def parsed(text):
    return ET.fromstring(text)  # noqa: S314 - our own output


def everything(items):
    for item in items:
        yield item
        if isinstance(item, Pane):
            yield from everything(item.items)


@pytest.mark.parametrize(("leg", "sign"), [("a", -1.0), ("b", 1.0)])
def test_the_heel_is_at_the_bottom_of_leg_a_and_at_the_top_of_leg_b(leg, sign):
    hole = Hole(id="x1", x_mm=50.0, y_mm=63.5, diameter_mm=20.0)
    made = leg_picture(clip(**{leg: (hole,)}), leg, lay_out(clip()))
    (disc,) = [i for i in everything(made.items) if isinstance(i, Disc) and i.kind == "hole"]
    scale = lay_out(clip()).scale
    assert disc.x == pytest.approx(50.0 * scale)
    assert disc.y == pytest.approx(sign * 63.5 * scale)
    words = {i.text: i.y for i in made.items if isinstance(i, Words) and i.kind == "edge"}
    assert (words["heel"] > words["toe"]) is (leg == "a")


@pytest.mark.parametrize(("leg", "way"), [("a", "up"), ("b", "down")])
def test_a_turned_slot_leans_to_the_toe_on_either_leg(leg, way):
    slot = Slot(id="x1", x_mm=0.0, y_mm=0.0, width_mm=10.0, length_mm=40.0, angle_deg=45.0)
    points = walked(slot_path(leg, slot, 1.0))
    right = max(points, key=lambda p: p[0])
    assert (right[1] < 0.0) is (way == "up")
    assert abs(right[1]) > 8.0
    assert abs(area(points)) == pytest.approx(30.0 * 10.0 + math.pi * 25.0, rel=0.03)


@pytest.mark.parametrize("leg", ["a", "b"])
def test_an_arc_bulges_to_the_side_that_the_model_says(leg):
    # From (0, 0) to (20, 0), bulge +1: a half circle that leaves towards -y (counter-clockwise
    # about its middle, y towards the toe).
    line = (Vertex(x_mm=0.0, y_mm=0.0, bulge=1.0), Vertex(x_mm=20.0, y_mm=0.0))
    points = walked(path_of(leg, line, 1.0, closed=False))
    deepest = max(points, key=lambda p: abs(p[1]))
    assert abs(deepest[1]) == pytest.approx(10.0, abs=0.02)
    u, v = outside_point(leg, 10.0, -10.0)
    assert (deepest[0], -deepest[1]) == (pytest.approx(u, abs=0.2), pytest.approx(v, abs=0.1))


@settings(max_examples=25, deadline=None)
@given(parts())
def test_every_outline_is_the_derived_one_seen_from_outside(part):
    for leg in leg_names(part):
        contour = leg_outline(part, leg).contour
        points = walked(path_of(leg, contour, 1.0))
        left, low, right, high = bounds(contour)
        corners = [outside_point(leg, x, y) for x in (left, right) for y in (low, high)]
        us, vs = [u for u, _ in corners], [-v for _, v in corners]
        # Eight chords an arc stay within a few hundredths of its radius.
        slack = 0.03 * max(leg_width(part.section, leg), 1.0) + 0.02
        assert min(x for x, _ in points) == pytest.approx(min(us), abs=slack)
        assert max(x for x, _ in points) == pytest.approx(max(us), abs=slack)
        assert min(y for _, y in points) == pytest.approx(min(vs), abs=slack)
        assert max(y for _, y in points) == pytest.approx(max(vs), abs=slack)
        # A contour runs counter-clockwise with y towards the toe: on screen, where y points
        # down, that stays so on leg a and turns over on leg b.
        assert (area(points) < 0.0) is (leg != "b")


def test_a_stamp_reads_from_outside_with_its_heel_edge_where_it_is_said():
    stamp = Stamp(id="x1", x_mm=10.0, from_heel_mm=30.0, height_mm=10.0, angle_deg=0.0)
    assert stamp_place("a", stamp, 1.0) == (10.0, -30.0, 0.0)
    # On leg b the heel is above: the letters' heads are at 30 from the heel, their feet at 40.
    assert stamp_place("b", stamp, 1.0) == (10.0, 40.0, 0.0)
    turned = stamp.model_copy(update={"angle_deg": 90.0})
    assert stamp_place("a", turned, 1.0)[2] == -90.0
    assert stamp_place("b", turned, 1.0)[2] == 90.0


@settings(max_examples=25, deadline=None)
@given(parts())
def test_one_scale_and_every_feature_inside_a_window(part):
    layout = lay_out(part)
    ordered = layout.windows
    assert all(w.start_mm < w.stop_mm for w in ordered)
    assert all(a.stop_mm <= b.start_mm for a, b in pairwise(ordered))
    for window in ordered:
        assert window.left + (window.stop_mm - window.start_mm) * layout.scale <= ROOM + 0.1
    assert layout.rows <= 12
    for leg in leg_names(part):
        for feature in leg_of(part, leg).features:
            if isinstance(feature, Hole | Slot) and 0.0 < feature.x_mm < part.length_mm:
                assert any(w.start_mm <= feature.x_mm <= w.stop_mm for w in ordered)


def test_a_long_bar_is_broken_where_nothing_is_made():
    holes = tuple(
        Hole(id=f"a{n}", x_mm=x, y_mm=50.0, diameter_mm=20.0)
        for n, x in enumerate((60.0, 160.0, 5900.0), start=1)
    )
    layout = lay_out(clip(length=6000.0, a=holes))
    assert [w.row for w in layout.windows] == [0, 0]
    first, second = layout.windows
    assert (first.opens, first.closes, second.opens, second.closes) == (False, True, True, False)
    assert second.left == pytest.approx(
        (first.stop_mm - first.start_mm) * layout.scale + BREAK, abs=0.01
    )
    made = leg_picture(clip(length=6000.0, a=holes), "a", layout)
    assert sum(isinstance(i, Shape) and i.kind == "break" for i in made.items) == 2


def test_a_long_bar_full_of_holes_goes_on_in_rows_and_no_cut_splits_a_hole():
    holes = tuple(
        Hole(id=f"a{n}", x_mm=60.0 + 80.0 * n, y_mm=50.0, diameter_mm=22.0) for n in range(70)
    )
    part = clip(length=5700.0, a=holes)
    layout = lay_out(part)
    assert layout.rows > 2
    assert layout.scale * 101.6 >= 100.0
    for hole in holes:
        for window in layout.windows[:-1]:
            assert abs(window.stop_mm - hole.x_mm) >= 11.0
    texts = [i.text for i in leg_picture(part, "a", layout).items if isinstance(i, Words)]
    assert f"row 1 of {layout.rows}: x from 0.0 to {layout.windows[0].stop_mm:.1f} mm" in texts


@pytest.mark.parametrize("length", [0.5, 20.0, 1_000_000.0])
def test_pieces_of_any_length_are_drawn(length):
    part = clip(length=length)
    for leg in ("a", "b"):
        made = leg_picture(part, leg, lay_out(part))
        assert 0.0 < made.height < 3000.0
        assert parsed(svg(made)).tag.endswith("svg")


WISHES = st.lists(st.tuples(st.floats(0.0, 760.0), st.floats(20.0, 70.0)), min_size=1, max_size=90)


@settings(max_examples=200, deadline=None)
@given(WISHES)
def test_no_balloon_lies_on_another_and_all_lie_in_the_band(wishes):
    found = balloons.seats(wishes, 0.0, 820.0)
    assert len(found) == len(wishes)
    seated = [(s.tier, s.x, w) for s, (_, w) in zip(found, wishes, strict=True) if s is not None]
    for tier in {t for t, *_ in seated}:
        row = sorted((x, w) for t, x, w in seated if t == tier)
        for (ax, aw), (bx, bw) in pairwise(row):
            assert bx - ax >= (aw + bw) / 2.0 + balloons.GAP - 1e-6
        assert row[0][0] - row[0][1] / 2.0 >= -1e-6
        assert row[-1][0] + row[-1][1] / 2.0 <= 820.0 + 1e-6
    wanted = sum(w + balloons.GAP for _, w in wishes)
    if wanted < 0.7 * 820.0:
        assert len(seated) == len(wishes)


def test_a_lone_balloon_sits_over_its_place():
    (seat,) = balloons.seats([(100.0, 20.0)], 0.0, 820.0)
    assert (seat.x, seat.tier) == (100.0, 0)


def test_a_balloon_points_at_its_hole_from_the_toe_side():
    hole = Hole(id="a1", x_mm=100.0, y_mm=60.0, diameter_mm=20.0)
    part = clip(a=(hole,), b=(hole.model_copy(update={"id": "b1"}),))
    layout = lay_out(part)
    for leg, is_above in (("a", True), ("b", False)):
        note = Callout(x=100.0, y=60.0, text="7", clear_mm=10.0, tag="7")
        made = leg_picture(part, leg, layout, [note])
        (balloon,) = [i for i in made.items if isinstance(i, Balloon)]
        assert balloon.text == "7"
        assert (balloon.y < balloon.to_y) is is_above
        pane = next(i for i in made.items if isinstance(i, Pane))
        middle = (
            100.0 * layout.scale - pane.left + pane.x,
            pane.y - pane.top - (60.0 * layout.scale if leg == "a" else -60.0 * layout.scale),
        )
        away = math.hypot(balloon.to_x - middle[0], balloon.to_y - middle[1])
        assert away == pytest.approx(10.0 * layout.scale + 4.0, abs=0.1)


HOSTILE = '"><img src=x onerror=alert(1)><script>\u202e\u2028&amp;'


def test_svg_is_well_formed_whatever_a_mark_holds():
    stamp = Stamp(id="a1", text=HOSTILE, x_mm=10.0, from_heel_mm=30.0, height_mm=10.0)
    part = clip(a=(stamp,)).model_copy(update={"mark": HOSTILE, "title": HOSTILE})
    root = parsed(picture(part)._repr_svg_())
    tags = {element.tag.rpartition("}")[2] for element in root.iter()}
    assert tags <= {"svg", "style", "text", "path", "circle", "rect"}
    shown = HOSTILE.replace("\u202e", "\\u202e").replace("\u2028", "\\u2028")
    assert shown in [element.text for element in root.iter() if element.tag.endswith("text")]
    assert not [k for element in root.iter() for k in element.attrib if k.startswith("on")]


def test_a_part_draws_both_legs_in_a_notebook_and_the_model_does_not():
    part = clip()
    text = picture(part)._repr_svg_()
    assert text.startswith("<svg")
    assert "leg a, outside face, start end left" in text
    assert "leg b, outside face, start end left" in text
    assert not [name for name in dir(type(part)) if name.startswith("_repr_svg")]


def test_the_same_picture_is_spelled_for_the_script():
    part = clip(a=(Hole(id="a1", x_mm=50.0, y_mm=60.0, diameter_mm=20.0),))
    made = leg_picture(part, "a", lay_out(part), [Callout(x=50.0, y=60.0, text="1", tag="1")])
    said = document(made)
    letters = {Shape: "s", Disc: "d", Words: "w", Balloon: "b", Pane: "p"}
    assert [item[0] for item in said["items"]] == [letters[type(item)] for item in made.items]
    (pane,) = [item for item in said["items"] if item[0] == "p"]
    (disc,) = [item for item in pane[7] if item[:2] == ["d", "hole"]]
    scale = lay_out(part).scale
    assert disc[2:] == [
        round(50.0 * scale, 2),
        round(-60.0 * scale, 2),
        round(10.0 * scale, 2),
        "a1",
    ]
