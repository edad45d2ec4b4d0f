"""No false alarms: customary pieces are clean, daily work gives only what is listed here.

Geometry of the customary pieces: AISC Manual Part 10 (double-angle connections) and European
web cleats, both from memory.
"""

import re

import pytest

from translator.batch.practice import read_practice
from translator.conventions import Conventions
from translator.findings import Severity
from translator.pipeline import Input, examine
from translator.readers import readers
from translator.rules._practice import Practice
from translator.source import Source

BMK = next(reader for reader in readers() if re.fullmatch(reader.pattern, "x.bmk"))
US, EU = Practice(code="us"), Practice(code="eu")


def _found(text, practice):
    one = Input(
        source=Source(path="x.bmk", data=text.encode()),
        reader=BMK,
        conventions=Conventions(),
        practice=practice,
    )
    return examine([one]).verdict.findings


def _above_notes(text, practice):
    found = _found(text, practice)
    return [(f.rule, f.severity.value, f.message) for f in found if f.severity is not Severity.NOTE]


def _rules(text, practice, *severities):
    return {f.rule for f in _found(text, practice) if f.severity in severities}


US_PART = """\
units inch
grade A36
part C1 {{
  section {section}
  length {length}
  leg a {{ holes {hole} gauge {a} at 1-1/4, {more} @ 3 }}
  leg b {{ holes {hole} gauge {b} at 1-1/4, {more} @ 3 }}
}}
"""

CLIPS = [  # sections and usual gages of double-angle connections, from memory
    *(("L4x3-1/2x" + t, "2-1/2", "2") for t in ("1/4", "5/16", "3/8", "1/2")),
    *(("L5x3-1/2x" + t, "3", "2") for t in ("5/16", "3/8", "1/2")),
    *(("L4x4x" + t, "2-1/2", "2-1/2") for t in ("1/4", "3/8", "1/2", "5/8")),
    ("L3-1/2x3-1/2x3/8", "2", "2"),
    ("L4x3x3/8", "2-1/2", "1-3/4"),
    ("L6x4x1/2", "3-1/2", "2-1/2"),
]


# Gage 2, less 3/8, less a head of 35/64, leaves 1-5/64 in.: a socket of 2-1/2 in. does not go in
# beside the bolt of the other leg in whatever order. Staggered clips of that size are clean.
HOPELESS = {("L3-1/2x3-1/2x3/8", "7/8"): {"opposite-bolts-close"}}


@pytest.mark.parametrize("rows", [2, 5])
@pytest.mark.parametrize("bolt", ["3/4", "7/8"])
@pytest.mark.parametrize(("section", "a", "b"), CLIPS)
@pytest.mark.parametrize("is_stated", [True, False], ids=["stated", "inferred"])
def test_double_angle_clips_are_clean(section, a, b, bolt, rows, is_stated):  # noqa: PLR0917
    hole = f"bolt {bolt}" if is_stated else {"3/4": "13/16", "7/8": "15/16"}[bolt]
    length = f"{2 + 3 * (rows - 1)}-1/2"
    text = US_PART.format(section=section, length=length, a=a, b=b, hole=hole, more=rows - 1)
    expected = HOPELESS.get((section, bolt), set()) if is_stated else set()
    assert {rule for rule, *_ in _above_notes(text, US)} == expected
    assert _above_notes(text, Practice()) == _above_notes(text, US)


EU_PART = """\
units mm
grade S275JR
part K1 {{
  section {section}
  length {length}
  leg a {{ holes bolt {bolt} gauge {a} at 40, {more} @ 70 }}
  leg b {{ holes bolt {bolt} gauge {b} at 40, {more} @ 70 }}
}}
"""

CLEATS = [
    ("L90x90x10", "M20", 50, 50),
    ("L90x90x8", "M16", 50, 50),
    ("L100x100x10", "M20", 55, 55),
    ("L100x100x12", "M24", 55, 55),
    ("L150x90x10", "M20", 55, 50),
    ("L80x80x8", "M20", 45, 45),
]


@pytest.mark.parametrize("rows", [1, 5])
@pytest.mark.parametrize(("section", "bolt", "a", "b"), CLEATS)
def test_web_cleats_are_clean(section, bolt, a, b, rows):
    text = EU_PART.format(
        section=section, length=80 + 70 * (rows - 1), bolt=bolt, a=a, b=b, more=rows - 1
    )
    assert _found(text, EU) == ()
    assert _found(text, Practice()) == ()


# --- daily work ----------------------------------------------------------------------------

US_LEGS = [  # leg, section, usual gages (AISC Manual Table 1-7A, from open transcriptions)
    ("8", "L8x8x1/2", ("4-1/2",)),
    ("8", "L8x8x1/2", ("3", "6")),
    ("7", "L7x4x1/2", ("4",)),
    ("7", "L7x4x1/2", ("2-1/2", "5-1/2")),
    ("6", "L6x6x3/8", ("3-1/2",)),
    ("6", "L6x6x3/8", ("2-1/4", "4-3/4")),
    ("5", "L5x5x3/8", ("3",)),
    ("5", "L5x5x3/8", ("2", "3-3/4")),
    ("4", "L4x4x3/8", ("2-1/2",)),
    ("3-1/2", "L3-1/2x3-1/2x5/16", ("2",)),
    ("3", "L3x3x1/4", ("1-3/4",)),
    ("2-1/2", "L2-1/2x2-1/2x1/4", ("1-3/8",)),
    ("2", "L2x2x3/16", ("1-1/8",)),
    ("1-3/4", "L1-3/4x1-3/4x3/16", ("1",)),
    ("1-1/2", "L1-1/2x1-1/2x3/16", ("7/8",)),
    ("1-3/8", "L1-3/8x1-3/8x3/16", ("7/8",)),
    ("1-1/4", "L1-1/4x1-1/4x3/16", ("3/4",)),
    ("1", "L1x1x1/8", ("5/8",)),
]

EDGE, SPACING = "edge-distance-short", "spacing-short"
US_WARNINGS = {
    # The second line is 1-3/4 in. from the first: less than 2-2/3 d of 2 and of 2-1/3 in.
    ("5", 2, "3/4"): {SPACING},
    ("5", 2, "7/8"): {SPACING},
    # 7/8 in. are left to the toe; 1 in. for 3/4 and 1-1/8 in. for 7/8.
    ("2", 1, "3/4"): {EDGE},
    ("2", 1, "7/8"): {EDGE},
    # 3/4, 5/8, 1/2 and 1/2 in. are left: legs for smaller bolts.
    ("1-3/4", 1, "3/4"): {EDGE},
    ("1-3/4", 1, "7/8"): {EDGE},
    ("1-1/2", 1, "3/4"): {EDGE},
    ("1-1/2", 1, "7/8"): {EDGE},
    ("1-3/8", 1, "3/4"): {EDGE},
    ("1-3/8", 1, "7/8"): {EDGE},
    ("1-1/4", 1, "3/4"): {EDGE},
    ("1-1/4", 1, "7/8"): {EDGE},
}


@pytest.mark.parametrize(("bolt", "hole"), [("3/4", "13/16"), ("7/8", "15/16")])
@pytest.mark.parametrize(("leg", "section", "gages"), US_LEGS)
def test_every_us_leg_at_its_usual_gage(leg, section, gages, bolt, hole):
    """The bolt is not stated, so that nothing but a broken edge is an error."""
    lines = ", ".join(gages)
    text = f"""\
units inch
grade A36
part B1 {{
  section {section}
  length 4'-0
  leg a {{ holes {hole} gauge {lines} at 2, 3 @ 3 }}
}}
"""
    errors = _rules(text, US, Severity.ERROR)
    warnings = _rules(text, US, Severity.WARNING)
    if leg == "1":  # 3/8 in. are left to the toe, less than either hole's radius
        assert errors == {"feature-breaks-edge"}
    else:
        assert errors == set()
        assert warnings == US_WARNINGS.get((leg, len(gages), bolt), set())


UK_LEGS = [  # UK handbooks, spacing of holes in angles, with the largest bolt (from memory)
    ("L200x200x20", (75, 150), "M30"),
    ("L200x200x16", (55, 110, 165), "M20"),
    ("L150x150x12", (55, 110), "M20"),
    ("L120x120x12", (45, 95), "M20"),
    ("L100x100x10", (55,), "M24"),
    ("L90x90x8", (50,), "M24"),
    ("L80x80x8", (45,), "M20"),
    ("L75x75x8", (45,), "M20"),
    ("L70x70x7", (40,), "M20"),
    ("L65x65x7", (35,), "M20"),
    ("L60x60x6", (35,), "M16"),
    ("L50x50x5", (28,), "M12"),
    ("L45x45x4.5", (25,), "M12"),
    ("L40x40x4", (23,), "M12"),
]
UK_STANDARD = {"M12": 13, "M16": 18, "M20": 22, "M24": 26, "M30": 33}
UK_NOTES = {
    # 50 mm between the lines, less than 2.4 x 22 = 52.8 mm: usual back marks, so a note.
    "L120x120x12": {SPACING},
    # 75 mm between the lines, less than 2.4 x 33 = 79.2 mm: the same.
    "L200x200x20": {SPACING},
}
# 25 mm are left from the second line to the toe, less than 1.2 x 22 = 26.4 mm: EN 1993-1-8 itself
# does not allow M20 there, whatever the handbook says. Inferred it is a warning.
UK_EDGES = {"L120x120x12"}


@pytest.mark.parametrize("is_stated", [True, False], ids=["stated", "inferred"])
@pytest.mark.parametrize(("section", "lines", "bolt"), UK_LEGS)
def test_every_uk_leg_with_its_largest_usual_bolt(section, lines, bolt, is_stated):
    hole = f"bolt {bolt}" if is_stated else UK_STANDARD[bolt]
    marks = ", ".join(map(str, lines))
    text = f"""\
units mm
grade S275JR
part B1 {{
  section {section}
  length 600
  leg a {{ holes {hole} gauge {marks} at 60, 3 @ 100 }}
}}
"""
    severity = "error" if is_stated else "warning"
    expected = {(EDGE, severity)} if section in UK_EDGES else set()
    assert {(rule, weight) for rule, weight, _ in _above_notes(text, EU)} == expected
    assert _rules(text, EU, Severity.NOTE) - {"section-assumed"} == UK_NOTES.get(section, set())


DIN_LEGS = [  # DIN 997, largest hole of each leg (from memory)
    ("L20x20x3", (12,), 4.3),
    ("L25x25x3", (15,), 6.4),
    ("L30x30x3", (17,), 8.4),
    ("L35x35x4", (18,), 11),
    ("L40x40x4", (22,), 11),
    ("L45x45x4.5", (25,), 13),
    ("L50x50x5", (30,), 13),
    ("L60x60x6", (35,), 17),
    ("L65x65x7", (35,), 21),
    ("L70x70x7", (40,), 21),
    ("L75x75x8", (40,), 23),
    ("L80x80x8", (45,), 23),
    ("L90x90x9", (50,), 25),
    ("L100x100x10", (55,), 25),
    ("L120x120x12", (50, 80), 25),
    ("L130x130x12", (50, 90), 25),
    ("L150x150x15", (60, 105), 28),
    ("L180x180x18", (60, 135), 28),
    ("L200x200x20", (65, 150), 28),
]
DIN_NOTES = {
    # Rows 30 mm apart, staggered by 50 mm: 58.3 mm the straight way, less than 2.4 x 25 = 60 mm;
    # usual back marks, so a note.
    "L120x120x12": {SPACING},
}


@pytest.mark.parametrize(("section", "lines", "hole"), DIN_LEGS)
def test_every_din_leg_with_its_largest_hole(section, lines, hole):
    """Two rows are staggered, as the table means them."""
    rows = [f"holes {hole} gauge {line} at {60 + 50 * n}, 3 @ 100" for n, line in enumerate(lines)]
    text = f"""\
units mm
grade S235JR
part B1 {{
  section {section}
  length 600
  leg a {{
    {chr(10).join(rows)}
  }}
}}
"""
    assert _above_notes(text, EU) == []
    assert _rules(text, EU, Severity.NOTE) - {"section-assumed"} == DIN_NOTES.get(section, set())


@pytest.mark.parametrize(
    ("hole", "bolt"), [(14, "M12"), (13, "M12"), (16, "M14"), (17.5, "M16"), (21.5, "M20")]
)
def test_holes_of_daily_work_are_no_faults(hole, bolt):
    """2 mm for M12 and M14; half a millimetre less in towers: stated or not, nothing is said."""
    for words in (f"{hole}", f"{hole} bolt {bolt}"):
        text = f"""\
units mm
grade S275JR
part B1 {{
  section L90x90x8
  length 600
  leg a {{ holes {words} gauge 50 at 60, 3 @ 100 }}
}}
"""
        assert _found(text, EU) == ()


def test_a_long_brace_holed_at_both_ends_only():
    """3 m between the bolts: greatest distances are for parts in contact only."""
    text = """\
units mm
grade S275JR
part B1 {
  section L80x80x8
  length 3000
  leg a { holes bolt M20 gauge 45 at 40, 110   holes bolt M20 gauge 45 at 40, 110 from far }
}
part B2 {
  section FB80x8
  length 3000
  face { holes 18 gauge 40 at 30, 85   holes 18 gauge 40 at 30, 85 from far }
}
"""
    assert _found(text, EU) == ()
    assert _found(text, Practice()) == ()


QUIET = [
    pytest.param("holes 30 rod gauge 50 at 60", id="rod"),
    pytest.param("holes 19.7 vent gauge 70 at 60", id="vent"),
    pytest.param("holes 30 gauge 60 at 30 mark only", id="only-marked"),
    pytest.param("holes 9 gauge 50 at 60", id="thin-hole-without-a-process"),
    pytest.param("holes 22 gauge 50 at 26.4", id="just-far-enough"),
    pytest.param("slots 22 x 50 along leg gauge 50 at 100", id="long-slot"),
    pytest.param("holes 22 gauge 37 at 100", id="no-usual-gauge"),
]


@pytest.mark.parametrize("work", QUIET)
def test_nothing_is_said_about(work):
    text = f"""\
units mm
grade S275JR
part A1 {{
  section L90x90x10
  length 400
  leg a {{ {work} }}
}}
"""
    assert _found(text, EU) == ()


def test_an_inferred_bolt_never_makes_an_error():
    """Everything that is wrong with a bolt nobody stated is a warning."""
    text = """\
units mm
grade S275JR
part A1 {
  section L90x90x10
  length 400
  leg a { holes 22 gauge 66 at 22, 60 }
  leg b { slots 22 x 60 along leg gauge 60 at 100   holes 22 gauge 60 at 145 }
}
"""
    found = _found(text, EU)
    assert {f.rule for f in found} == {
        "end-distance-short",
        EDGE,
        SPACING,
        "slot-too-long",
    }
    assert Severity.ERROR not in {f.severity for f in found}


def test_the_settings_of_a_shop_are_read():
    """Guard for the helper: a practice as the settings file gives it changes the verdict."""
    practice = read_practice({"practice": "eu", "limits": {"end-distance-short": "70mm"}}, _never)
    text = EU_PART.format(section="L90x90x10", length=220, bolt="M20", a=50, b=50, more=2)
    assert _rules(text, practice, Severity.ERROR) == {"end-distance-short"}


def _never(*fault):
    raise AssertionError(fault)
