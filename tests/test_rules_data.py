"""Rules on data: the exact words, just inside and just outside each limit.

Common practice and geometry; no published source.
"""

import tomllib

import pytest

from translator.batch.names import stems
from translator.batch.practice import read_practice
from translator.model import (
    Angle,
    AngleEnds,
    AngleLegs,
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Opening,
    Part,
    Placed,
    Stamp,
    Stated,
    Vertex,
)
from translator.rules import rules
from translator.rules._run import run
from translator.source import Span

PLACE = Span("p", 1, 1, 1, 1)
IN = 25.4
L90 = Angle(leg_a_mm=90.0, leg_b_mm=90.0, thickness_mm=10.0, root_radius_mm=11.0)
L44 = Angle(leg_a_mm=101.6, leg_b_mm=101.6, thickness_mm=9.525, root_radius_mm=9.525)
FB = Flat(width_mm=100.0, thickness_mm=10.0)


def _(*words):
    return "".join(words)


def prac(text):
    faults = []
    practice = read_practice(tomllib.loads(text), lambda *fault: faults.append(fault))
    assert not faults
    return practice


def hole(number, x, y=50.0, d=22.0, **more):
    return Hole(id=f"f{number}", x_mm=x, y_mm=y, diameter_mm=d, **more)


def flat(*features, **changes):
    fields = {
        "mark": "F1",
        "grade": "S275JR",
        "length_mm": 400.0,
        "section": FB,
        "legs": FlatLegs(face=Leg(features=features)),
        "ends": FlatEnds(),
    }
    return Part(**(fields | changes))


def ang(a=(), b=(), **changes):
    fields = {
        "mark": "A1",
        "grade": "S275JR",
        "length_mm": 400.0,
        "section": L90,
        "legs": AngleLegs(a=Leg(features=tuple(a)), b=Leg(features=tuple(b))),
        "ends": AngleEnds(),
    }
    return Part(**(fields | changes))


def ih(number, x, g=2.5, b=None, d=13 / 16, **more):
    """Return a hole in inches on a gauge, for a bolt."""
    inches = {"x_mm": x * IN, "y_mm": g * IN, "diameter_mm": d * IN}
    return Hole(id=f"f{number}", bolt=b, **inches, **more)


US, EU = prac('practice="us"'), prac('practice="eu"')
U = {"units": "inch", "section": L44, "length_mm": 292.1}


def sink(d, w, a=90.0):
    return hole(1, 100, d=d, countersink_diameter_mm=w, countersink_angle_deg=a)


def stamp(x, y=45.0, h=10.0, text="ABC", **more):
    return Stamp(id="f9", text=text, x_mm=x, from_heel_mm=y, height_mm=h, **more)


CASES = [
    pytest.param(
        flat(grade=None), EU, [("grade-missing", "note", "no grade is stated")], id="no-grade"
    ),
    pytest.param(
        flat(grade="  "), EU, [("grade-missing", "note", "no grade is stated")], id="blank-grade"
    ),
    pytest.param(
        flat(grade="A527-50"),
        EU,
        [("grade-unknown", "warning", "A527-50 is not in the tables of grades")],
        id="unknown-grade",
    ),
    pytest.param(
        flat(grade="A572"),
        EU,
        [
            (
                "grade-unknown",
                "warning",
                _("A572 does not say its grade: A572-42, A572-50, A572-55, A572-60 ", "or A572-65"),
            )
        ],
        id="ambiguous-grade",
    ),
    pytest.param(
        flat(grade="300W"), prac('practice="eu"\n[stock]\n300W=true'), [], id="unknown-but-stocked"
    ),
    pytest.param(flat(grade="St 37-2"), EU, [], id="older-name"),
    pytest.param(
        flat(grade="A36", section=Flat(width_mm=100.0, thickness_mm=25.41)),
        prac('practice="eu"\n[stock]\nA36="1in"'),
        [
            (
                "grade-not-stocked",
                "warning",
                _("A36 of 25.41 mm is not kept by the shop, whose thickest is 25.4 mm"),
            )
        ],
        id="stock-thickness",
    ),
    pytest.param(
        flat(grade="A36", section=Flat(width_mm=100.0, thickness_mm=25.4)),
        prac('practice="eu"\n[stock]\nA36="1in"'),
        [],
        id="stock-thickness-in",
    ),
    pytest.param(
        flat(grade="S275J2"),
        prac('practice="eu"\n[stock]\nS275JR=true'),
        [("grade-not-stocked", "warning", "S275J2 is not kept by the shop")],
        id="stock-quality",
    ),
    pytest.param(
        flat(grade="ST44-2"), prac('practice="eu"\n[stock]\nS275JR=true'), [], id="stock-older-name"
    ),
    pytest.param(
        flat(mark="12-B/1"),
        EU,
        [
            (
                "mark-unsafe",
                "note",
                _("the mark 12-B/1 can't be a file name as it stands: it holds '/'"),
            )
        ],
        id="mark-slash",
    ),
    pytest.param(
        flat(mark=".F1"),
        EU,
        [
            (
                "mark-unsafe",
                "note",
                _("the mark .F1 can't be a file name as it stands: it begins with '.'"),
            )
        ],
        id="mark-dot",
    ),
    pytest.param(
        flat(mark="F 1"),
        EU,
        [("mark-unsafe", "note", "the mark F 1 can't be a file name as it stands: it holds ' '")],
        id="mark-blank",
    ),
    pytest.param(
        flat(mark="com1"),
        EU,
        [
            (
                "mark-unsafe",
                "note",
                _(
                    "the mark com1 can't be a file name as it stands: some systems ",
                    "keep this name for themselves",
                ),
            )
        ],
        id="mark-reserved",
    ),
    pytest.param(
        flat(mark="NUL.x"),
        EU,
        [
            (
                "mark-unsafe",
                "note",
                _(
                    "the mark NUL.x can't be a file name as it stands: some systems ",
                    "keep this name for themselves",
                ),
            )
        ],
        id="mark-reserved-ext",
    ),
    pytest.param(
        flat(mark="F" * 121),
        EU,
        [
            (
                "mark-unsafe",
                "note",
                _(
                    "the mark ",
                    "F" * 120,
                    "... ",
                    "can't be a file name as it stands: it has 121 characters, more ",
                    "than 120",
                ),
            )
        ],
        id="mark-long",
    ),
    pytest.param(flat(mark="F" * 120), EU, [], id="mark-plain"),
    pytest.param(
        flat(mark="FÄ1"),
        EU,
        [("mark-unsafe", "note", "the mark FÄ1 can't be a file name as it stands: it holds 'Ä'")],
        id="mark-not-ascii",
    ),
    pytest.param(
        flat(units="inch", length_mm=294.64),
        EU,
        [("value-off-inch-grid", "note", "the length is 11.6 in., not a whole 64th of an inch")],
        id="off-grid-length",
    ),
    pytest.param(
        ang([ih(1, 3.1)], **U),
        EU,
        [
            (
                "hole-fits-no-bolt",
                "note",
                "hole f1 is 13/16 in. wide, the hole of no bolt known here",
            ),
            ("value-off-inch-grid", "note", "x of hole f1 is 3.1 in., not a whole 64th of an inch"),
        ],
        id="off-grid-x",
    ),
    pytest.param(
        ang([Hole(id="f1", x_mm=76.2, y_mm=63.5, diameter_mm=20.7)], **U),
        EU,
        [
            (
                "hole-fits-no-bolt",
                "note",
                "hole f1 is 0.815 in. wide, the hole of no bolt known here",
            ),
            (
                "value-off-inch-grid",
                "note",
                _("the diameter of hole f1 is 0.815 in., not a whole 64th of an inch"),
            ),
        ],
        id="off-grid-diameter",
    ),
    pytest.param(
        ang([Hole(id="f1", x_mm=76.5, y_mm=63.5, diameter_mm=22.0)], **U),
        EU,
        [],
        id="metric-on-purpose",
    ),
    pytest.param(flat(hole(1, 33.33)), EU, [], id="grid-in-mm-file"),
    pytest.param(
        flat(stated=Stated(saw_length_mm=399.94)),
        EU,
        [
            (
                "saw-length-differs",
                "warning",
                _("the stated saw length is 399.94 mm, shorter than the piece of 400 ", "mm"),
            )
        ],
        id="saw",
    ),
    pytest.param(flat(stated=Stated(saw_length_mm=399.95)), EU, [], id="saw-in"),
    pytest.param(flat(stated=Stated(saw_length_mm=430.0)), EU, [], id="saw-longer"),
    pytest.param(
        flat(stated=Stated(paint_area_per_metre_m2=0.227)),
        EU,
        [
            (
                "stated-paint-differs",
                "note",
                _("the stated paint area is 0.227 m2/m, that of the section is 0.22 ", "m2/m"),
            )
        ],
        id="paint",
    ),
    pytest.param(flat(stated=Stated(paint_area_per_metre_m2=0.2266)), EU, [], id="paint-in"),
    pytest.param(
        flat(hole(1, 60.0), stamp(70.99)),
        EU,
        [("stamp-over-hole", "warning", "stamp f9 lies over a hole by 0.01 mm")],
        id="stamp-over",
    ),
    pytest.param(flat(hole(1, 60.0), stamp(71.01)), EU, [], id="stamp-over-in"),
    pytest.param(
        flat(hole(1, 60.0), stamp(70.99, may_move=True)),
        EU,
        [("stamp-over-hole", "note", "stamp f9 lies over a hole by 0.01 mm")],
        id="stamp-over-may",
    ),
    pytest.param(
        flat(
            Opening(
                id="f1",
                contour=(
                    Vertex(x_mm=50.0, y_mm=40.0),
                    Vertex(x_mm=80.0, y_mm=40.0),
                    Vertex(x_mm=80.0, y_mm=60.0),
                ),
            ),
            stamp(79.0, y=50.0),
        ),
        EU,
        [("stamp-over-hole", "warning", "stamp f9 lies over an opening by 1 mm")],
        id="stamp-over-opening",
    ),
    pytest.param(
        flat(hole(1, 60.0, process="mark-only"), stamp(60.0)), EU, [], id="stamp-marked-hole"
    ),
    pytest.param(
        flat(hole(1, 100, depth_mm=10.0)),
        EU,
        [
            (
                "blind-hole-through",
                "warning",
                "hole f1 is 10 mm deep, not less than the thickness of 10 mm",
            )
        ],
        id="blind",
    ),
    pytest.param(flat(hole(1, 100, depth_mm=9.99)), EU, [], id="blind-in"),
    pytest.param(
        flat(sink(18.0, 38.02)),
        EU,
        [
            (
                "countersink-too-deep",
                "warning",
                _(
                    "the countersink of hole f1 is 10.01 mm deep, more than the ",
                    "thickness of 10 mm",
                ),
            )
        ],
        id="sink-deep",
    ),
    pytest.param(flat(sink(18.0, 38.0)), EU, [], id="sink-deep-in"),
    pytest.param(
        flat(sink(18.0, 18.0)),
        EU,
        [
            (
                "countersink-not-wider",
                "error",
                _("the countersink of hole f1 is 18 mm wide, no wider than the hole ", "of 18 mm"),
            )
        ],
        id="sink-narrow",
    ),
    pytest.param(flat(sink(18.0, 18.01)), EU, [], id="sink-narrow-in"),
    pytest.param(
        flat(hole(1, 100, d=20.02, thread="right")),
        EU,
        [
            (
                "tapped-hole-thin",
                "warning",
                _("hole f1 has 10 mm of thread, less than 10.01 mm for a thread of ", "20.02 mm"),
            )
        ],
        id="tapped",
    ),
    pytest.param(flat(hole(1, 100, d=20.0, thread="right")), EU, [], id="tapped-in"),
    pytest.param(
        flat(hole(1, 100, d=12.0, thread="right", depth_mm=5.99)),
        EU,
        [
            (
                "tapped-hole-thin",
                "warning",
                _("hole f1 has 5.99 mm of thread, less than 6 mm for a thread of 12 ", "mm"),
            )
        ],
        id="tapped-blind",
    ),
    pytest.param(
        flat(*(hole(n, 60.0 * n) for n in (1, 2, 3)), hole(4, 240.0, 50.06)),
        EU,
        [
            (
                "hole-off-its-line",
                "note",
                _("hole f4 is on gauge 50.06 mm, 0.06 mm off the line of 3 others on ", "50 mm"),
            )
        ],
        id="line",
    ),
    pytest.param(
        flat(*(hole(n, 60.0 * n) for n in (1, 2, 3)), hole(4, 240.0, 50.05)), EU, [], id="line-in"
    ),
    pytest.param(
        flat(*(hole(n, 60.0 * n) for n in (1, 2, 3)), hole(4, 240.0, 51.61)), EU, [], id="line-far"
    ),
    pytest.param(
        flat(*(hole(n, 60.0 * n) for n in (1, 2)), hole(4, 240.0, 51.0)), EU, [], id="line-two"
    ),
]


@pytest.mark.parametrize(("part", "practice", "expected"), CASES)
def test_what_is_said_about_data(part, practice, expected):
    placed = Placed(part=part, places={"": PLACE})
    found = run([placed], rules(), practices=[practice]).findings[0]
    assert [(f.rule, f.severity.value, f.message) for f in found] == expected


def _set(*parts):
    placed = [Placed(part=part, places={"": PLACE}) for part in parts]
    found = run(placed, rules(), practices=[US] * len(parts)).findings
    return [
        (number, f.rule, f.severity.value, f.message)
        for number, said in enumerate(found)
        for f in said
    ]


NOTE = "note"
ONE = hole(1, 50.0, 40.0)
OVER = hole(1, 350.0, 60.0)  # turned end for end
ALONG = hole(1, 350.0, 40.0)  # the opposite hand
L9 = Angle(leg_a_mm=90.0, leg_b_mm=60.0, thickness_mm=8.0)

SETS = [
    pytest.param(
        (flat(ONE), flat(ONE, mark="F2")),
        [(1, "same-piece-two-marks", NOTE, "F2 is the same piece as F1")],
        id="same-piece",
    ),
    pytest.param(
        (flat(ONE), flat(ONE, mark="F2"), flat(ONE, mark="F3"), flat(ONE, mark="F2")),
        [
            (1, "same-piece-two-marks", NOTE, "F2 is the same piece as F1"),
            (2, "same-piece-two-marks", NOTE, "F3 is the same piece as F1"),
            (3, "duplicate-mark", "warning", "F2 is given again, the same piece as before"),
        ],
        id="same-piece-thrice",
    ),
    pytest.param((flat(ONE), flat(ONE, mark="F2", order="TQ-8")), [], id="other-order"),
    pytest.param((flat(ONE), flat(ONE, mark="F2", grade="S355J2")), [], id="other-grade"),
    pytest.param(
        (flat(ONE, revision="A"), flat(ALONG, revision="B"), flat(ONE, mark="F2", revision="A")),
        [
            (0, "duplicate-mark", NOTE, "revision A of F1 is replaced by revision B"),
            (2, "piece-turned-end-for-end", NOTE, "F2 is F1 turned end for end"),
        ],
        id="an-older-revision-does-not-count",
    ),
    pytest.param(
        (flat(ONE), flat(OVER, mark="F2")),
        [(1, "piece-turned-end-for-end", NOTE, "F2 is F1 turned end for end")],
        id="flat-turned",
    ),
    pytest.param(
        (
            ang([ONE], section=L9),
            ang([hole(1, 350.0, 40.0)], section=L9, mark="A2"),
        ),
        [
            (
                1,
                "opposite-hand-not-called",
                NOTE,
                "A2 is the opposite hand of A1, and neither says so",
            )
        ],
        id="opposite-hand",
    ),
    *(
        pytest.param(
            (
                ang([ONE], section=L9, mark=one),
                ang([ALONG], section=L9, mark=two, title=title),
            ),
            [],
            id=f"called-{one}-{two}-{title}",
        )
        for one, two, title in (
            ("A1", "A1R", None),
            ("A1-L", "A1-R", None),
            ("A1", "A1x", None),
            ("A1", "A2", "brace, opposite hand"),
            ("A1", "A2", "mirrored"),
        )
    ),
    pytest.param(
        (ang([ONE], section=L9), ang([ALONG], section=L9, mark="A2", title="to the handrail")),
        [
            (
                1,
                "opposite-hand-not-called",
                NOTE,
                "A2 is the opposite hand of A1, and neither says so",
            )
        ],
        id="a-handrail-is-no-hand",
    ),
    pytest.param(
        (flat(mark="F1a"), flat(mark="F1A", length_mm=300.0)),
        [(1, "marks-differ-in-case", "warning", "F1A and F1a differ in capitals only")],
        id="capitals",
    ),
]


@pytest.mark.parametrize(("parts", "expected"), SETS)
def test_what_is_said_about_a_set(parts, expected):
    bolts = ("hole-fits-no-bolt", "edge-distance-short", "hole-in-fillet")
    assert [one for one in _set(*parts) if one[1] not in bolts] == expected


@pytest.mark.parametrize(
    "mark",
    ["C12", "12-B.1_x+2", "a/b", ".x", "-x", "NUL", "com9.txt", "COM", "F\u00c4", "F" * 121, "x "],
)
def test_a_mark_is_unsafe_when_its_files_are_called_otherwise(mark):
    """The rule and the room that names files must mean the same."""
    found = {f[1] for f in _set(flat(mark=mark))}
    assert ("mark-unsafe" in found) == (stems([("", mark)])["", mark] != mark)


def test_a_part_that_its_file_calls_opposite_is_called_so():
    """Whatever its mark: the place of the word is kept beside the part."""
    one = Placed(part=ang([ONE], section=L9), places={"": PLACE})
    other = ang([ALONG], section=L9, mark="A2")
    for places, expected in (({}, True), ({"opposite": PLACE}, False)):
        two = Placed(part=other, places={"": PLACE, **places})
        found = run([one, two], rules(), practices=[US, US]).findings[1]
        assert any(f.rule == "opposite-hand-not-called" for f in found) is expected
