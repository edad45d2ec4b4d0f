"""Net area: published examples, every way of small groups of holes, and hostile numbers."""

import itertools
import json
import time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from strategies import parts

from translator.conventions import Conventions
from translator.emitters import EmitOptions
from translator.emitters.part_json import EMITTER
from translator.geometry.computed import compute
from translator.geometry.identity import mirrored
from translator.geometry.netpath import CONVENTIONS, MOST_STEPS, net_path, net_path_along
from translator.geometry.sections import section_area_mm2
from translator.model import (
    Angle,
    AngleEnds,
    AngleLegs,
    CentreMark,
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Opening,
    Part,
    Slot,
    Vertex,
)
from translator.readers.part_json import READER
from translator.source import Source

INCH = 25.4
SQUARE_INCH = INCH * INCH


def hole(name, x, y, diameter, **more):
    return Hole(id=name, x_mm=x, y_mm=y, diameter_mm=diameter, **more)


def inch_hole(name, x, y, diameter):
    return hole(name, x * INCH, y * INCH, diameter * INCH)


def angle(section, a=(), b=(), **more):
    legs = AngleLegs(a=Leg(features=tuple(a)), b=Leg(features=tuple(b)))
    return Part(mark="B1", length_mm=3000.0, section=section, legs=legs, ends=AngleEnds(), **more)


def flat(*features, width=200.0, thickness=10.0, **more):
    return Part(
        mark="F1",
        length_mm=3000.0,
        section=Flat(width_mm=width, thickness_mm=thickness),
        legs=FlatLegs(face=Leg(features=features)),
        ends=FlatEnds(),
        **more,
    )


# A Beginner's Guide to the Steel Construction Manual (course guide), failure paths of an
# L6x4x3/8 with 7/8 in. bolts: developed width 6 + 4 - 3/8 = 9.625 in., hole 15/16 + 1/16 = 1 in.,
# g1 + g2 = 4.5 in. across the heel. The guide's sections have square corners.
L6X4 = Angle(leg_a_mm=6 * INCH, leg_b_mm=4 * INCH, thickness_mm=0.375 * INCH)
GUIDE = angle(
    L6X4,
    a=(inch_hole("D", 2, 4.75, 15 / 16), inch_hole("G", 4, 2.25, 15 / 16)),
    b=(inch_hole("L", 2, 2.25, 15 / 16),),
    units="inch",
)


def test_published_path_of_two_holes():
    """Path D-L of the guide: (9.625 - 2) x 3/8 = 2.86 in2."""
    found = net_path_along(GUIDE, (("a", "D"), ("b", "L")), "aisc")
    assert found.net_area_mm2 / SQUARE_INCH == pytest.approx(2.86, rel=0.002)


def test_published_path_with_two_staggers_one_across_the_heel():
    """Path D-G-L of the guide: s = 2, g = 2.5 and 4.125 in.; net width 7.27 in., 2.73 in2."""
    found = net_path_along(GUIDE, (("a", "D"), ("a", "G"), ("b", "L")), "aisc")
    assert found.net_area_mm2 / INCH / L6X4.thickness_mm == pytest.approx(7.27, rel=0.001)
    assert found.net_area_mm2 / SQUARE_INCH == pytest.approx(2.73, rel=0.002)
    assert net_path(GUIDE, "aisc") == found


def test_published_area_method():
    """Example 2 of the same guide: 20.0 in2, t = 0.415 in., three holes of 1 in., path A-D-K
    with s = g = 3 in. twice: 19.38 in2. The plate is laid out here; a way straight from A to
    K gives back 3 in., so A-D-K is the worst.
    """
    rows = [inch_hole(n, x, y, 15 / 16) for n, x, y in (("A", 2, 2), ("D", 5, 5), ("K", 8, 8))]
    made = flat(*rows, width=20.0 / 0.415 * INCH, thickness=0.415 * INCH, units="inch")
    found = net_path(made, "aisc")
    assert [name for _, name in found.path] == ["A", "D", "K"]
    assert found.gross_area_mm2 / SQUARE_INCH == pytest.approx(20.0)
    assert found.net_area_mm2 / SQUARE_INCH == pytest.approx(19.38, rel=0.0005)


def test_what_a_hole_counts():
    """1/16 in. more in an inch part, 2 mm more in a metric one (AISC 360 B4.3b); nothing more
    under EN 1993-1-1 6.2.2.2 (from memory)."""
    one = hole("f1", 100.0, 80.0, 22.0)
    taken = {
        (units, convention): net_path(flat(one, units=units), convention).holes_mm2
        for units in ("mm", "inch")
        for convention in CONVENTIONS
    }
    assert taken == {
        ("mm", "aisc"): pytest.approx(240.0),
        ("inch", "aisc"): pytest.approx(235.875),
        ("mm", "en"): pytest.approx(220.0),
        ("inch", "en"): pytest.approx(220.0),
    }


SQUARE = tuple(
    Vertex(x_mm=x, y_mm=y) for x, y in ((100.0, 50.0), (130.0, 50.0), (130.0, 90.0), (100.0, 90.0))
)
TAKEN = {
    "through": (hole("f1", 100.0, 80.0, 22.0), 220.0),
    "blind": (hole("f1", 100.0, 80.0, 22.0, depth_mm=4.0), 88.0),
    "deeper than the plate": (hole("f1", 100.0, 80.0, 22.0, depth_mm=40.0), 220.0),
    # 32 down to 22 at 90 degrees is 5 deep: two triangles of 5 x 5 / 2 beside the hole.
    "countersunk": (
        hole("f1", 100.0, 80.0, 22.0, countersink_diameter_mm=32.0, countersink_angle_deg=90.0),
        245.0,
    ),
    # From 62 at 90 degrees it is 42 wide at the back: the mean of 62 and 42 times 10.
    "countersunk through": (
        hole("f1", 100.0, 80.0, 22.0, countersink_diameter_mm=62.0, countersink_angle_deg=90.0),
        520.0,
    ),
    "countersink without an angle": (
        hole("f1", 100.0, 80.0, 22.0, countersink_diameter_mm=32.0),
        220.0,
    ),
    "slot along": (Slot(id="f1", x_mm=100.0, y_mm=80.0, width_mm=22.0, length_mm=62.0), 220.0),
    "slot across": (
        Slot(id="f1", x_mm=100.0, y_mm=80.0, width_mm=22.0, length_mm=62.0, angle_deg=90.0),
        620.0,
    ),
    "slot askew": (  # 22 + (62 - 22) sin 30
        Slot(id="f1", x_mm=100.0, y_mm=80.0, width_mm=22.0, length_mm=62.0, angle_deg=30.0),
        420.0,
    ),
    "opening": (Opening(id="f1", contour=SQUARE), 400.0),
}


@pytest.mark.parametrize(("feature", "taken"), TAKEN.values(), ids=TAKEN.keys())
def test_what_a_feature_takes(feature, taken):
    found = net_path(flat(feature), "en")
    assert found.holes_mm2 == pytest.approx(taken)
    assert found.net_area_mm2 == pytest.approx(2000.0 - taken)


def test_no_holes():
    found = net_path(flat(CentreMark(id="f1", x_mm=50.0, y_mm=50.0)), "aisc")
    assert (found.path, found.net_area_mm2, found.gross_area_mm2) == ((), 2000.0, 2000.0)


def test_holes_on_one_line_count_once():
    row = [hole(f"f{n}", 100.0 + 70 * n, 80.0, 22.0) for n in range(4)]
    assert net_path(flat(*row), "en").net_area_mm2 == pytest.approx(1780.0)


def test_a_stagger_saves_or_does_not():
    """s^2 / 4g of 100^2 / (4 x 60) = 41.7 mm is more than a hole, 40^2 / 240 = 6.7 is not."""
    for step, net, count in ((100.0, 1780.0, 1), (40.0, 2000.0 - 440.0 + 1600.0 / 24.0, 2)):
        two = (hole("f1", 100.0, 60.0, 22.0), hole("f2", 100.0 + step, 120.0, 22.0))
        found = net_path(flat(*two), "en")
        assert found.net_area_mm2 == pytest.approx(net)
        assert len(found.path) == count


def test_across_the_heel():
    """Gauges 50 and 45 of an angle 10 thick: g = 50 + 45 - 10 = 85; 30^2 / 340 given back."""
    made = angle(
        Angle(leg_a_mm=100.0, leg_b_mm=80.0, thickness_mm=10.0),
        a=(hole("a1", 100.0, 50.0, 22.0),),
        b=(hole("b1", 130.0, 45.0, 18.0),),
    )
    found = net_path(made, "en")
    assert found.path == (("a", "a1"), ("b", "b1"))
    assert found.gross_area_mm2 == pytest.approx(1700.0)
    assert found.staggers_mm2 == pytest.approx(9000.0 / 340.0)
    assert found.net_area_mm2 == pytest.approx(1700.0 - 400.0 + 9000.0 / 340.0)


@pytest.mark.parametrize(
    ("path", "why"),
    [
        ((("a", "a9"),), "a9 takes nothing out of the section"),
        ((("b", "L"), ("a", "D")), "a way goes on across the section from hole to hole"),
        ((("a", "D"), ("a", "D")), "a way goes on across the section from hole to hole"),
    ],
)
def test_a_way_that_is_none(path, why):
    with pytest.raises(ValueError, match=why):
        net_path_along(GUIDE, path, "aisc")


COARSE = st.integers(0, 12).map(lambda n: 10.0 * n + 20.0)
SPOTS = st.lists(st.tuples(st.sampled_from("ab"), COARSE, COARSE), max_size=8)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(SPOTS, st.sampled_from([6.0, 18.0, 40.0]), st.sampled_from(CONVENTIONS))
def test_no_way_is_worse(spots, diameter, convention):
    """Every way of a small group, by a sum written out here: angle 150 x 150 x 12."""
    made = {"a": [], "b": []}
    for n, (leg, x, y) in enumerate(spots):
        made[leg].append(hole(f"{leg}{n}", x, y, diameter))
    part = angle(Angle(leg_a_mm=150.0, leg_b_mm=150.0, thickness_mm=12.0), **made)
    width = diameter + (2.0 if convention == "aisc" else 0.0)
    unfolded = [(y - 6.0 if leg == "b" else 6.0 - y, x) for leg, x, y in spots]
    most = 0.0
    for count in range(1, len(unfolded) + 1):
        for chosen in itertools.combinations(sorted(unfolded), count):
            steps = list(itertools.pairwise(chosen))
            if all(two[0] > one[0] for one, two in steps):
                saved = sum((t[1] - o[1]) ** 2 / (4 * (t[0] - o[0])) for o, t in steps)
                most = max(most, count * width - saved)
    found = net_path(part, convention)
    assert found.gross_area_mm2 == pytest.approx(12.0 * 288.0)
    assert found.net_area_mm2 == pytest.approx(max(0.0, 12.0 * (288.0 - most)))
    assert net_path_along(part, found.path, convention) == found


@settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(parts())
def test_a_mirror_changes_no_area(part):
    for convention in CONVENTIONS:
        found, other = net_path(part, convention), net_path(mirrored(part), convention)
        assert found.net_area_mm2 == pytest.approx(other.net_area_mm2, abs=1e-3)
        assert 0.0 <= found.net_area_mm2 <= found.gross_area_mm2 == section_area_mm2(part.section)


def test_en_is_never_less_than_aisc():
    assert net_path(GUIDE, "en").net_area_mm2 > net_path(GUIDE, "aisc").net_area_mm2


def _rows(count):
    rows = {
        leg: [hole(f"{leg}{y}-{n}", 20.0 + 16.0 * n, y, 14.0) for y in ys for n in range(count)]
        for leg, ys in (("a", (50.0, 90.0, 140.0)), ("b", (50.0, 90.0)))
    }
    return angle(Angle(leg_a_mm=200.0, leg_b_mm=150.0, thickness_mm=15.0), **rows)


def test_thousands_of_holes_on_gauge_lines_are_told_quickly():
    many, few = _rows(180), _rows(8)
    start = time.process_time()
    found = net_path(many, "en")
    assert time.process_time() - start < 1.0
    assert found.net_area_mm2 == pytest.approx(net_path(few, "en").net_area_mm2)


def _read(document):
    source = Source(path="B1.part.json", data=json.dumps(document).encode())
    reading = READER.lower(READER.parse(source), Conventions())
    assert reading.parts[0].part == GUIDE
    return [(f.rule, f.message) for f in reading.findings]


def test_a_document_tells_it_and_is_held_to_it():
    document = json.loads(EMITTER.emit(GUIDE, EmitOptions()))
    net = document["computed"]["net_section"]
    assert net["aisc"]["net_area_mm2"] == pytest.approx(2.73 * SQUARE_INCH, rel=0.002)
    assert net["aisc"]["path"] == [
        {"leg": "a", "feature": "D"},
        {"leg": "a", "feature": "G"},
        {"leg": "b", "feature": "L"},
    ]
    assert net["en"]["net_area_mm2"] > net["aisc"]["net_area_mm2"]
    assert _read(document) == []
    del net["en"]
    assert _read(document) == []
    net["aisc"]["path"][0]["feature"] = "L"
    ((rule, message),) = _read(document)
    assert rule == "computed-stale"
    assert message.startswith("computed.net_section.aisc.path[0].feature is")
    del document["computed"]["net_section"]
    assert _read(document) == []


def test_what_would_take_too_long_is_not_told():
    crowd = [
        hole(f"f{n}", 100.0 + n * 7 % 400, 1.0 + n * 0.04, 14.0) for n in range(MOST_STEPS // 50)
    ]
    start = time.process_time()
    crowded = flat(*crowd, width=500.0)
    assert net_path(crowded, "en") is None
    assert time.process_time() - start < 2.0
    assert compute(crowded).net_paths == ()
