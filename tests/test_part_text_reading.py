"""Part text: what each spelling means, in exact figures.

Lengths are worked out by hand from 1 in. = 25.4 mm. The drawing arithmetic `7 @ 4" = 2'-4"` and
`2 @ 3" = 0'-6"` is printed in an old drafting handbook; so is the slip `5 @ 6" = 3'-0"`.
"""

import math

import pytest
from bmk_reading import in_inches, in_mm, on_face, on_inch_leg, on_leg, part, read, told

from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    CentreMark,
    Clip,
    Cope,
    Flat,
    FlatEnd,
    Hole,
    Leg,
    Notch,
    OutlineTrim,
    Part,
    Rounding,
    Slot,
    Stamp,
    Stated,
    Waiver,
    leg_names,
    leg_of,
    place_of,
)
from translator.readers import readers

SAMPLE = """\
units inch
order "TQ-7"   drawing "E-104"  revision "B"
grade A36

part C12 "beam clip" {
  section  L4x3-1/2x3/8
  length   11-1/2
  quantity 24
  leg a {
    holes 13/16  gauge 2-1/2  at 1-1/4, 3 @ 3         # first at 1-1/4, then three more spaces of 3
  }
  leg b {
    slots 13/16 x 1 across leg  gauge 2  spaces 1-1/4, 3 @ 3 = 9, 1-1/4 to end
    stamp mark at 5-1/4 from heel 1-1/8 height 3/8
  }
}

part B7 "brace" {
  section  L3x3x1/4     length 9'-4 1/2"    quantity 6
  mitre far 15deg from square, long at toe of leg a
  leg a { cope start toe 2 long x 1 deep radius 1/2   holes bolt 3/4 gauge 1-3/4 at 4, 6-1/2   holes bolt 3/4 gauge 2-1/16 at 12 }
  waive edge-distance-short on leg a hole 3 at 15/16 "RFI 17: engineer accepts" by "QA"
}
"""  # noqa: E501 - one long line, as people write it
XS = (31.75, 107.95, 184.15, 260.35)


def test_the_clip_of_the_sample():
    clip = read(SAMPLE).parts[0].part
    assert clip == Part(
        mark="C12",
        title="beam clip",
        order="TQ-7",
        drawing="E-104",
        revision="B",
        grade="A36",
        quantity=24,
        length_mm=292.1,
        units="inch",
        section=Angle(
            designation="L4x3-1/2x3/8",
            leg_a_mm=101.6,
            leg_b_mm=88.9,
            thickness_mm=9.525,
            root_radius_mm=9.525,
            toe_radius_mm=4.7625,
        ),
        ends=AngleEnds(),
        legs=AngleLegs(
            a=Leg(
                features=tuple(
                    Hole(id=f"a{n}", x_mm=x, y_mm=63.5, diameter_mm=20.6375)
                    for n, x in enumerate(XS, 1)
                )
            ),
            b=Leg(
                features=(
                    *(
                        Slot(
                            id=f"b{n}",
                            x_mm=x,
                            y_mm=50.8,
                            width_mm=20.6375,
                            length_mm=25.4,
                            angle_deg=90.0,
                        )
                        for n, x in enumerate(XS, 1)
                    ),
                    Stamp(id="b5", x_mm=133.35, from_heel_mm=28.575, height_mm=9.525),
                )
            ),
        ),
    )


def test_the_brace_of_the_sample():
    brace = read(SAMPLE).parts[1].part
    assert brace.length_mm == 2857.5
    assert brace.ends == AngleEnds(far=AngleEnd(leg_a_deg=15.0))
    assert brace.legs.a.trims == (
        Cope(end="start", side="toe", along_mm=50.8, across_mm=25.4, radius_mm=12.7),
    )
    at = [(101.6, 44.45), (165.1, 44.45), (304.8, 52.3875)]
    assert brace.legs.a.features == tuple(
        Hole(id=f"a{n}", x_mm=x, y_mm=y, diameter_mm=20.6375, bolt="3/4")
        for n, (x, y) in enumerate(at, 1)
    )
    assert brace.waivers == (
        Waiver(
            rule="edge-distance-short",
            leg="a",
            feature="a3",
            value=23.8125,
            reason="RFI 17: engineer accepts",
            by="QA",
        ),
    )


def test_the_sample_gives_no_finding():
    assert told(SAMPLE) == []


def test_every_element_of_the_sample_has_its_place():
    clip, brace = read(SAMPLE).parts
    spans = {
        "": (5, 1, 5, 21),
        "mark": (5, 6, 5, 9),
        "title": (5, 10, 5, 21),
        "section": (6, 3, 6, 24),
        "length": (7, 3, 7, 18),
        "quantity": (8, 3, 8, 14),
        "grade": (3, 1, 3, 10),
        "order": (2, 1, 2, 13),
        "legs.a.a1": (10, 34, 10, 39),
        "legs.a.a4": (10, 41, 10, 46),
        "legs.b.b5": (14, 5, 14, 51),
    }
    assert {name: tuple(clip.places[name][1:]) for name in spans} == spans
    assert place_of(clip, "legs.a.a2").path == "shop/x.bmk"
    assert tuple(brace.places["ends.far"][1:]) == (20, 3, 20, 52)
    assert tuple(brace.places["legs.a.trims.0"][1:]) == (21, 11, 21, 52)
    assert tuple(brace.places["legs.a.a3"][1:]) == (21, 127, 21, 129)
    assert tuple(brace.places["waivers.0"][1:]) == (22, 3, 22, 88)
    for placed in (clip, brace):
        for leg in leg_names(placed.part):
            for feature in leg_of(placed.part, leg).features:
                assert f"legs.{leg}.{feature.id}" in placed.places


def test_the_reader_is_found_by_its_room():
    assert [reader.name for reader in readers()].count("bmk") == 1


POSITIONS = {
    "at 40": [40],
    "at 40, 110, 180": [40, 110, 180],
    "at 40,\n 110 ,\n\t180": [40, 110, 180],
    "at 40, 2 @ 70": [40, 110, 180],
    "at 40, 2@70": [40, 110, 180],
    "at 40, 2 @ 70 = 140, 250": [40, 110, 180, 250],
    "at 40, 0 @ 70": [40],
    "at 40, 0 @ 70 = 0, 90": [40, 90],
    "at 40, (4 - 2) @ 35 * 2": [40, 110, 180],
    "at 0": [0],
    "at -5, 5": [-5, 5],
    "at - 5": [-5],
    "at 20, 60 from far": [280, 240],
    "from far at 20, 2 @ 20": [280, 260, 240],
    "at 20 from start": [20],
    "spaces 40, 2 @ 70": [40, 110, 180],
    "spaces 40, 2 @ 70, 120 to end": [40, 110, 180],
    "spaces 40, 2 @ 70 total 180": [40, 110, 180],
    "spaces 40, 2 @ 70 = 140, 120 to end total 300": [40, 110, 180],
    "spaces 40, 60 from far": [260, 200],
    "spaces 40, 60, 200 to end from far": [260, 200],
    "spaces 300 to end": [],
    "at 1in, 2in": [25.4, 50.8],
    'at 1", 1\'-0 1/2"': [25.4, 317.5],
    "at 10 + 3 * 5 - 4 / 2": [23],
    "at 2 * (10 + 5) - (3 - 1) * 4": [22],
    "at -(3 - 13)": [10],
    "at 1in + 4.6mm": [30],
    "at 3 * 1in": [76.2],
    "at 254mm / 1in": [10],
    "at 100 / 3": [33.333333],
    "at 200 / 3": [66.666667],
    "at .5": [0.5],
}


@pytest.mark.parametrize(("spelled", "expected"), POSITIONS.items(), ids=POSITIONS)
def test_positions(spelled, expected):
    piece = part(on_leg(f"holes 5 gauge 50 {spelled}"))
    assert [hole.x_mm for hole in piece.legs.a.features] == expected


INCH_POSITIONS = {
    "at 1-1/4, 3 @ 3": [31.75, 107.95, 184.15, 260.35],
    "at 1 1/4, 3 @ 3 = 9": [31.75, 107.95, 184.15, 260.35],
    "at 1\u00bc": [31.75],
    "at 2 * 1-1/4 + (3 - 1) * 3": [215.9],
    'spaces 1", 7 @ 1" = 0\'-7"': [25.4 * n for n in range(1, 9)],
    'spaces 2 @ 3" = 0\'-6"': [76.2, 152.4],
    "at 1/64": [0.396875],
    "at 25.4mm": [25.4],
    "at 11 - 0.5": [266.7],
    "at 11-1/2": [292.1],
    "at 6 - 1 + 1/2": [139.7],
}


@pytest.mark.parametrize(("spelled", "expected"), INCH_POSITIONS.items(), ids=INCH_POSITIONS)
def test_positions_in_inches(spelled, expected):
    piece = part(on_inch_leg(f"holes 1/2 gauge 2 {spelled}"))
    assert [hole.x_mm for hole in piece.legs.a.features] == pytest.approx(expected, abs=1e-9)


def test_the_slip_of_a_handbook_is_found():
    assert told(on_inch_leg('holes 1/2 gauge 2 spaces 1, 5 @ 6" = 3\'-0"')) == [
        "5:38 sum-differs: 5 @ 6 in. is 30 in., not 36 in."
    ]


def test_a_grid_is_counted_line_by_line():
    piece = part(on_leg("holes 18 gauge 40, 70 at 30, 2 @ 60"))
    assert [(hole.id, hole.x_mm, hole.y_mm) for hole in piece.legs.a.features] == [
        ("a1", 30, 40),
        ("a2", 90, 40),
        ("a3", 150, 40),
        ("a4", 30, 70),
        ("a5", 90, 70),
        ("a6", 150, 70),
    ]


@pytest.mark.parametrize("word", ["gauge", "gage", "backmark", "Gauge"])
def test_words_for_the_gauge(word):
    assert part(on_leg(f"hole 18 {word} 50 at 40")).legs.a.features[0].y_mm == 50


HOLES = {
    "hole 18": {"diameter_mm": 18},
    "hole \u00d818": {"diameter_mm": 18},
    "hole \u00f8 18": {"diameter_mm": 18},
    "hole \u2300 18": {"diameter_mm": 18},
    "hole dia 18": {"diameter_mm": 18},
    'hole diameter 3/4"': {"diameter_mm": 19.05},
    "hole 22 bolt M20": {"diameter_mm": 22, "bolt": "M20"},
    "hole 23 bolt m 20": {"diameter_mm": 23, "bolt": "M20"},
    "hole 30 bolt 1-1/8": {"diameter_mm": 30, "bolt": "1-1/8"},
    'hole 30 bolt 1 1/8"': {"diameter_mm": 30, "bolt": "1-1/8"},
    "hole 20 bolt \u00be": {"diameter_mm": 20, "bolt": "3/4"},
    "hole 9 rod": {"diameter_mm": 9, "purpose": "rod"},
    "hole 9 vent": {"diameter_mm": 9, "purpose": "vent"},
    "hole 9 depth 4": {"diameter_mm": 9, "depth_mm": 4},
    "hole 9 tapped": {"diameter_mm": 9, "thread": "right"},
    "hole 9 tapped right": {"diameter_mm": 9, "thread": "right"},
    "hole 9 tapped left": {"diameter_mm": 9, "thread": "left"},
    "hole 9 countersunk 18": {"diameter_mm": 9, "countersink_diameter_mm": 18},
    "hole 9 countersunk 18 angle 82deg": {
        "diameter_mm": 9,
        "countersink_diameter_mm": 18,
        "countersink_angle_deg": 82,
    },
    "hole 9 countersunk angle 90\u00b0": {"diameter_mm": 9, "countersink_angle_deg": 90},
    "hole 9 drill only": {"diameter_mm": 9, "process": "drill"},
    "hole 9 drill": {"diameter_mm": 9, "process": "drill"},
    "hole 9 punch": {"diameter_mm": 9, "process": "punch"},
    "hole 9 sub-punch and ream": {"diameter_mm": 9, "process": "sub-punch-and-ream"},
    "hole 9 mark only": {"diameter_mm": 9, "process": "mark-only"},
    'hole 9 id "x7"': {"diameter_mm": 9, "id": "x7"},
    "hole 9 id x7": {"diameter_mm": 9, "id": "x7"},
}


@pytest.mark.parametrize(("spelled", "fields"), HOLES.items(), ids=HOLES)
def test_holes(spelled, fields):
    found = part(on_leg(f"{spelled} gauge 50 at 40")).legs.a.features
    floats = {k: float(v) if isinstance(v, int) else v for k, v in fields.items()}
    assert found == (Hole(**{"id": "a1", "x_mm": 40.0, "y_mm": 50.0} | floats),)


BOLTS = {
    # bolt: millimetres of the standard hole. AISC 360-22 Table J3.3: d + 1/16 in. to 7/8, from
    # 1 in. d + 1/8. EN 1090-2 Table 11: 1 mm for M12 and M14, 2 mm for M16 to M24, then 3 mm.
    "1/2": 9 / 16 * 25.4,
    "5/8": 11 / 16 * 25.4,
    "3/4": 13 / 16 * 25.4,
    "7/8": 15 / 16 * 25.4,
    "1": 9 / 8 * 25.4,
    "1-1/8": 1.25 * 25.4,
    "1-1/2": 1.625 * 25.4,
    "M12": 13,
    "M14": 15,
    "M16": 18,
    "M20": 22,
    "M24": 26,
    "M27": 30,
    "M30": 33,
    "M36": 39,
}


@pytest.mark.parametrize(("bolt", "diameter"), BOLTS.items(), ids=BOLTS)
def test_a_bolt_alone_gives_its_standard_hole(bolt, diameter):
    (hole,) = part(on_leg(f"hole bolt {bolt} gauge 50 at 40")).legs.a.features
    assert (hole.bolt, hole.diameter_mm) == (bolt, pytest.approx(diameter, abs=1e-9))


SLOTS = {
    "18 x 22 along leg": 0.0,
    "18 x 22 along": 0.0,
    "18x22 across leg": 90.0,
    "18X22 across": 90.0,
    "18\u00d722 turned 45deg": 45.0,
    "18 x 22 turned -45deg": -45.0,
    "18 x 22 turned 135 degrees": -45.0,
    "18 x 22 at 30deg": 30.0,
    "18 x 22 turned 90deg": 90.0,
    "18 x 22 turned -90deg": 90.0,
    "18 x 22 turned 12.345deg": 12.345,
    "18 x 22 turned 22-1/2deg": 22.5,
    "18 x 22 turned -22 1/2 \u00b0": -22.5,
}


@pytest.mark.parametrize(("spelled", "angle"), SLOTS.items(), ids=SLOTS)
def test_slots(spelled, angle):
    found = part(on_leg(f"slots {spelled} gauge 50 at 40 bolt M16")).legs.a.features
    sizes = {"width_mm": 18.0, "length_mm": 22.0, "angle_deg": angle}
    assert found == (Slot(id="a1", x_mm=40.0, y_mm=50.0, bolt="M16", **sizes),)


@pytest.mark.parametrize(
    "words", ["centre punch", "center mark", "pop marks", "pop mark", "Centre Marks"]
)
def test_centre_marks(words):
    found = part(on_leg(f"{words} gauge 50 at 40, 60")).legs.a.features
    assert found == tuple(CentreMark(id=f"a{n}", x_mm=20.0 + 20 * n, y_mm=50.0) for n in (1, 2))


def test_stamps():
    spelled = 'stamp "A ""1""" angle -90deg may move at 40 from far from heel 50 height 8 id top'
    (stamp,) = part(on_leg(spelled)).legs.a.features
    assert stamp == Stamp(
        id="top",
        text='A "1"',
        x_mm=260.0,
        from_heel_mm=50.0,
        height_mm=8.0,
        angle_deg=-90.0,
        may_move=True,
    )
    (stamp,) = part(on_face("stamp mark at 4 from lower edge 5 height 8")).legs.face.features
    assert stamp == Stamp(id="f1", x_mm=4.0, from_heel_mm=5.0, height_mm=8.0)


QUARTER = math.tan(math.pi / 8)
CONTOURS = {
    # closed from (0, 0): corners as x, y, bulge
    "from 0,0 to 9,0 to 9,9": [(0, 0, 0), (9, 0, 0), (9, 9, 0)],
    "from 0,0 to 9,0 to 9,9 close": [(0, 0, 0), (9, 0, 0), (9, 9, 0)],
    "from 0,0 to 9,0 to 9,9 to 0,0": [(0, 0, 0), (9, 0, 0), (9, 9, 0)],
    "from -1,- 2 to 3 + 4, 2 * 3": [(-1, -2, 0), (7, 6, 0)],
    "from 0,0 bulge 0.5 to 9,0 bulge -0.25": [(0, 0, 0.5), (9, 0, -0.25)],
    # counter-clockwise about (0, 10) from the bottom to the right: a quarter, bulge tan(90/4)
    "from 0,0 arc radius 10 bowed far to 10,10": [(0, 0, QUARTER), (10, 10, 0)],
    "from 0,0 arc radius 10 bowed heel to 10,10": [(0, 0, QUARTER), (10, 10, 0)],
    "from 0,0 arc radius 10 bowed start to 10,10": [(0, 0, -QUARTER), (10, 10, 0)],
    "from 0,0 arc radius 10 bowed toe to 10,10": [(0, 0, -QUARTER), (10, 10, 0)],
    "from 0,0 arc radius 5 bowed heel to 10,0": [(0, 0, 1), (10, 0, 0)],
    "from 0,0 arc radius 5 bowed toe to 10,0": [(0, 0, -1), (10, 0, 0)],
    "from 10,0 arc radius 5 bowed toe to 0,0": [(10, 0, 1), (0, 0, 0)],
    "from 0,0 arc through 5,-5 to 10,0": [(0, 0, 1), (10, 0, 0)],
    "from 0,0 arc through 5,5 to 10,0": [(0, 0, -1), (10, 0, 0)],
    "from 10,0 arc through 5,5 to 0,0": [(10, 0, 1), (0, 0, 0)],
    "from 0,0 arc through 6,2 to 10,10": [(0, 0, QUARTER), (10, 10, 0)],
    "from 0,0 arc through 5,0 to 10,0": [(0, 0, 0), (10, 0, 0)],
    "from 0,0 to 10,0 arc radius 5 bowed toe close": [(0, 0, 0), (10, 0, 1)],
    "from 0,0 to 10,0 arc radius 5 bowed toe to 0,0": [(0, 0, 0), (10, 0, 1)],
}


@pytest.mark.parametrize(("spelled", "corners"), CONTOURS.items(), ids=CONTOURS)
def test_contours(spelled, corners):
    (opening,) = part(on_leg(f"opening {spelled}")).legs.a.features
    found = [(v.x_mm, v.y_mm, v.bulge) for v in opening.contour]
    assert found == [pytest.approx(corner, abs=1e-9) for corner in corners]


SCRIBES = {
    "scribe from 0,0 to 9,0": ("scribe", False),
    "scribe powder from 0,0 to 9,0": ("powder", False),
    "scribe punch from 0,0 to 9,0 to 9,9 close": ("punch", True),
    "scribe from 0,0 to 9,0 to 9,9 to 0,0": ("scribe", False),
    "scribe from 0,0 to 9,0 arc radius 9 bowed toe close": ("scribe", True),
}


@pytest.mark.parametrize(("spelled", "fields"), SCRIBES.items(), ids=SCRIBES)
def test_scribed_lines(spelled, fields):
    (scribe,) = part(on_leg(spelled)).legs.a.features
    assert (scribe.method, scribe.closed) == fields


TRIMS = {
    "cope start toe 20 long x 10 deep radius 5": Cope(
        end="start", side="toe", along_mm=20.0, across_mm=10.0, radius_mm=5.0
    ),
    "cope at far toe 10 deep x 20 long": Cope(end="far", side="toe", along_mm=20.0, across_mm=10.0),
    "notch at far heel 20 long x 10 deep": Cope(
        end="far", side="heel", along_mm=20.0, across_mm=10.0
    ),
    "notch start toe 20 long x 10 deep": Cope(
        end="start", side="toe", along_mm=20.0, across_mm=10.0
    ),
    "clip far toe 10 x 20": Clip(end="far", side="toe", along_mm=10.0, across_mm=20.0),
    "snipe at start toe 10x20": Clip(end="start", side="toe", along_mm=10.0, across_mm=20.0),
    "clip far toe 20 deep x 10 long": Clip(end="far", side="toe", along_mm=10.0, across_mm=20.0),
    "round start toe radius 25": Rounding(end="start", side="toe", radius_mm=25.0),
    "notch toe from 100 to 160 deep 30 radius 4": Notch(
        side="toe", x_from_mm=100.0, x_to_mm=160.0, across_mm=30.0, radius_mm=4.0
    ),
    "notch toe from 100 to 160 deep 30": Notch(
        side="toe", x_from_mm=100.0, x_to_mm=160.0, across_mm=30.0
    ),
}


@pytest.mark.parametrize(("spelled", "trim"), TRIMS.items(), ids=TRIMS)
def test_trims(spelled, trim):
    assert part(on_leg(spelled)).legs.a.trims == (trim,)


def test_trims_of_a_flat():
    piece = part(on_face("round far upper edge radius 9  clip start lower 5 x 6"))
    assert piece.legs.face.trims == (
        Rounding(end="far", side="upper", radius_mm=9.0),
        Clip(end="start", side="lower", along_mm=5.0, across_mm=6.0),
    )


def test_an_outline():
    (trim,) = part(on_face("outline from 0,0 to 300,0 to 300,100 to 0,100 close")).legs.face.trims
    assert isinstance(trim, OutlineTrim)
    assert [(v.x_mm, v.y_mm) for v in trim.contour] == [(0, 0), (300, 0), (300, 100), (0, 100)]


MITRES = {
    "mitre far 15deg from square, long at toe of leg a": ("far", "leg_a_deg", 15.0),
    "miter far 15\u00b0 long at heel of leg a": ("far", "leg_a_deg", -15.0),
    "mitre start 15 deg, long at toe of leg b": ("start", "leg_b_deg", 15.0),
    "mitre start 7.5deg from square long at heel of leg b": ("start", "leg_b_deg", -7.5),
}


@pytest.mark.parametrize(("spelled", "cut"), MITRES.items(), ids=MITRES)
def test_mitres(spelled, cut):
    end, leg, degrees = cut
    assert part(in_mm(spelled)).ends == AngleEnds(**{end: AngleEnd(**{leg: degrees})})


def test_a_compound_mitre_is_two_statements():
    ends = part(
        in_mm("mitre far 10deg long at toe of leg a  mitre far 5deg long at heel of leg b")
    ).ends
    assert ends.far == AngleEnd(leg_a_deg=10.0, leg_b_deg=-5.0)


def test_mitres_of_a_flat():
    spelled = "mitre far 30deg, long at upper edge  mitre start 9deg long at lower of face"
    ends = part(in_mm(spelled, section="FB100x10")).ends
    assert (ends.far, ends.start) == (FlatEnd(face_deg=30.0), FlatEnd(face_deg=-9.0))


SECTIONS = {
    "section L90x90x10": ("L90x90x10", 11.0),
    "section RSA 90x90x10": ("L90x90x10", 11.0),
    "section angle 90 x 90 x 10": ("L90x90x10", 11.0),
    'section "L 90 x 90 x 10"': ("L90x90x10", 11.0),
    "section L90X90X10   quantity 3": ("L90x90x10", 11.0),
    "section L90x90x10}": ("L90x90x10", 11.0),
    'section L3-1/2"x3-1/2"x5/16"': ("L3-1/2x3-1/2x5/16", 9.525),
}


@pytest.mark.parametrize(("spelled", "expected"), SECTIONS.items(), ids=SECTIONS)
def test_sections(spelled, expected):
    text = f"units mm\npart P1 {{ length 300 {spelled}\n"
    section = part(text if "}" in text else f"{text}}}").section
    assert (section.designation, section.root_radius_mm) == expected


def test_sections_by_their_sizes():
    spelled = 'angle leg a 4in leg b 80 thickness 10 root 5 toe 2 called "odd ""one"""'
    assert part(in_mm("", section=spelled)).section == Angle(
        designation='odd "one"',
        leg_a_mm=101.6,
        leg_b_mm=80.0,
        thickness_mm=10.0,
        root_radius_mm=5.0,
        toe_radius_mm=2.0,
    )
    assert part(in_mm("", section="flat width 90 thickness 9")).section == Flat(
        width_mm=90.0, thickness_mm=9.0
    )


def test_what_else_a_part_says():
    piece = part(
        in_mm(
            'qty 3 grade "S355 J2+N" job 7/12 drawing "" rev 2 phase "north" lot L1 finish paint'
            ' remark "one" remark two second work "cope by hand" carried "AK v"'
            " stated mass 12.25 kg/m paint 0.35m\u00b2/m saw length 301"
        )
    )
    assert piece.model_dump(
        include={
            *("quantity", "grade", "order", "drawing", "revision", "phase", "lot", "finish"),
            *("remarks", "second_work", "carried", "units"),
        }
    ) == {
        "quantity": 3,
        "grade": "S355 J2+N",
        "order": "7/12",
        "drawing": "",
        "revision": "2",
        "phase": "north",
        "lot": "L1",
        "finish": "paint",
        "remarks": ("one", "two"),
        "second_work": ("cope by hand",),
        "carried": ("AK v",),
        "units": "mm",
    }
    assert piece.stated == Stated(
        mass_per_metre_kg=12.25, paint_area_per_metre_m2=0.35, saw_length_mm=301.0
    )


WAIVERS = {
    'waive x-y "r"': {},
    'waive x-y on leg b "r"': {"leg": "b"},
    'waive x-y on leg a hole 2 "r"': {"leg": "a", "feature": "a3"},
    'waive x-y on leg a slot 1 "r"': {"leg": "a", "feature": "a2"},
    'waive x-y on leg a a2 "r"': {"leg": "a", "feature": "a2"},
    'waive x-y on leg a id "a2" "r"': {"leg": "a", "feature": "a2"},
    'waive x-y on a2 "r"': {"feature": "a2"},
    'waive x-y "r" at 3deg': {"value": 3.0},
    'waive x-y at 2.5% "r"': {"value": 2.5},
    'waive x-y at 1in "r"': {"value": 25.4},
    'waive x-y at -4 "r"': {"value": -4.0},
    'waive x-y "r" by "Q A"': {"by": "Q A"},
    'waive x-y by QA "r" until revision C': {"by": "QA", "until_revision": "C"},
    'waive x-y "r" until 2027-01-31': {"until_date": "2027-01-31"},
    'waive "on" "r"': {"rule": "on"},
    'waive grade "r"': {"rule": "grade"},
}


@pytest.mark.parametrize(("spelled", "fields"), WAIVERS.items(), ids=WAIVERS)
def test_waivers(spelled, fields):
    features = (
        "hole 18 gauge 50 at 40 slot 18 x 30 along leg gauge 50 at 80 hole 18 gauge 50 at 160"
    )
    piece = part(in_mm(f"{spelled} leg a {{ {features} }}"))
    assert piece.waivers == (Waiver(**{"rule": "x-y", "reason": "r"} | fields),)


MARKS = {
    "C12": "C12",
    "12-B/1": "12-B/1",
    "1001": "1001",
    "3A": "3A",
    "part": "part",
    "\u00dc.1_2+3": "\u00dc.1_2+3",
    '"P 1"': "P 1",
    '"5"""': '5"',
    "\u201cP 1\u201d": "P 1",
    '"a#b"': "a#b",
}


@pytest.mark.parametrize(("spelled", "mark"), MARKS.items(), ids=MARKS)
def test_marks(spelled, mark):
    assert part(f"units mm part {spelled} {{section L90x90x10 length 90}}").mark == mark


def test_settings_hold_for_the_parts_that_follow():
    text = (
        "units mm part A { section FB50x5 length 9 }\n"
        "grade S275 order 1 part B { section FB50x5 length 9 grade S355 }\n"
        "units inch order 2 part C { section FB2x1/4 length 9 }\n"
    )
    assert [
        (p.part.mark, p.part.grade, p.part.order, p.part.length_mm) for p in read(text).parts
    ] == [("A", None, None, 9.0), ("B", "S355", "1", 9.0), ("C", "S275", "2", 228.6)]


def test_keywords_may_be_large_and_are_not_reserved():
    text = (
        "UNITS MM PART gauge { Section L90X90X10 LENGTH 300 Leg A { Hole 18 Gage 50 At 40 ID at } }"
    )
    piece = part(text)
    assert (piece.mark, piece.legs.a.features[0].id) == ("gauge", "at")


LINE_ENDS = {"unix": "\n", "dos": "\r\n", "old": "\r"}


@pytest.mark.parametrize("end", LINE_ENDS.values(), ids=LINE_ENDS)
def test_line_ends_and_byte_order_marks(end):
    text = "\ufeffunits mm # one\n# two\npart P1 {\n section L90x90x10\n length 300x\n}\n"
    reading = read(text.replace("\n", end).encode())
    assert [(f.span.line, f.span.column) for f in reading.findings] == [(5, 9)]


def test_windows_text_is_read_with_a_note():
    reading = read('units mm part "\u00dc1" { section L90x90x10 length 300 }'.encode("cp1252"))
    assert reading.parts[0].part.mark == "\u00dc1"
    assert [(f.severity, f.rule) for f in reading.findings] == [("note", "encoding-assumed")]


def test_the_units_are_not_needed_where_every_length_says_its_own():
    piece = part("part P1 { section RSA 90x90x10 length 300mm quantity 4 }")
    assert (piece.length_mm, piece.units, piece.quantity) == (300.0, "mm", 4)


def test_sections_taken_for_granted_are_noted():
    found = read(in_inches("").replace("L4x4x3/8", "PL3/8x4")).findings
    assert [(f.severity, f.rule) for f in found] == [("note", "section-assumed")]


def test_a_long_sum_is_no_matter():
    text = " + ".join(["0.001"] * 5000)
    assert part(on_leg(f"hole 18 gauge 50 at {text}")).legs.a.features[0].x_mm == 5.0
