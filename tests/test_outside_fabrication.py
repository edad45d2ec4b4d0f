"""Grades, punching, forces and tolerances held against figures typed a second time.

Each table names its source. Nothing here is read from the shipped data; the figures are as the
sources print them. "From memory" means that no copy of the page was at hand.
"""

from fractions import Fraction
from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from translator.errors import UnknownNameError
from translator.tables import cutting_forces, grades, punching, tolerances
from translator.tables.published import table


def inches(text):
    """Return a length typed as 1-1/4 or 13/16 in millimetres."""
    whole, _, rest = str(text).rpartition("-")
    return float(round((Fraction(whole or 0) + Fraction(rest)) * Fraction("25.4"), 6))


# --- grades ----------------------------------------------------------------------------------

ASTM = {  # ksi, AISC 360 table in open transcription and a materials textbook: Fy, Fu least, most
    "A36": (36, 58, 80), "A572-42": (42, 60, None), "A572-50": (50, 65, None),
    "A572-55": (55, 70, None), "A572-60": (60, 75, None), "A572-65": (65, 80, None),
    "A529-50": (50, 65, 100), "A529-55": (55, 70, 100), "A588": (50, 70, None),
    "A992": (50, 65, None), "A709-36": (36, 58, 80), "A709-50": (50, 65, None),
    "A709-50W": (50, 70, None),
}  # fmt: skip
EN_10025_2 = {  # EN 10025-2:2004 Table 7 (public reprint): Fy at 16, 40, 63, 80, 100 mm; Fu
    "S235": ((235, 225, 215, 215, 215), (360, 510)),
    "S275": ((275, 265, 255, 245, 235), (410, 560)),
    "S355": ((355, 345, 335, 325, 315), (470, 630)),
    "S450J0": ((450, 430, 410, 390, 380), (550, 720)),
}
KSI = 6.894757  # MPa


@pytest.mark.parametrize(("grade", "row"), ASTM.items())
def test_strength_of_astm_grades(grade, row):
    found = grades.strength(grade, 9.525)
    ksi = (found.yield_mpa / KSI, found.tensile_least_mpa / KSI)
    assert ksi == pytest.approx(row[:2], rel=1e-6)
    most = found.tensile_most_mpa
    assert (most and round(most / KSI, 4)) == row[2]


@pytest.mark.parametrize(("grade", "row"), EN_10025_2.items())
def test_strength_of_en_grades(grade, row):
    yields, (least, most) = row
    thickest = (16.0, 40.0, 63.0, 80.0, 100.0)
    found = [grades.strength(grade, thickness) for thickness in thickest]
    assert tuple(strength.yield_mpa for strength in found) == yields
    assert {(s.tensile_least_mpa, s.tensile_most_mpa) for s in found} == {(least, most)}
    just_over = [grades.strength(grade, thickness + 0.01) for thickness in thickest]
    assert tuple(s.yield_mpa for s in just_over[:-1]) == yields[1:]
    assert just_over[-1] is None


def test_tensile_strength_under_3_mm():
    # the same page of EN 10025-2
    thin = [grades.strength(name, 2.99) for name in ("S235JR", "S275JR", "S355JR")]
    assert [(s.tensile_least_mpa, s.tensile_most_mpa) for s in thin] == [
        (360, 510),
        (430, 580),
        (510, 680),
    ]
    assert grades.strength("S275JR", 3.0).tensile_least_mpa == 410
    assert grades.strength("S450J0", 2.99) is None


def test_a588_by_thickness_from_memory():
    found = [grades.strength("A588", inches(t)) for t in ("4", "5", "8")]
    assert [round(s.yield_mpa / KSI) for s in found] == [50, 46, 42]
    assert grades.strength("A588", inches("9")) is None


SPELLINGS = {
    "A36": ("A36", "a36", "ASTM A36", "A36/A36M", "A36M", "A 36", "ASTM A-36", "A36-36"),
    "A572-50": (
        *("A572-50", "A572 Gr 50", "A572 GR. 50", "A572 Grade 50", "A572GR50", "A572/50"),
        *("ASTM A572/A572M Gr. 50", "A572 (50)", "A572M-345", "A572\u201350", "A572 G50"),
    ),
    "A588": ("A588", "A588 Gr B", "A588-A", "ASTM A588 Grade 50"),
    "A709-50W": ("A709-50W", "A709 Gr 50W", "A709M Gr. 345W", "A709-50WT2"),
    "S275JR": ("S275JR", "s275jr", "S 275 JR", "EN 10025-2 S275JR", "S275JR EN 10025-2:2004"),
    "S355J2+N": ("S355J2+N", "S 355 J2 +N", "S355J2N", "EN 10025-2:2019 - S355J2+N"),
    "S355J0": ("S355J0", "S355JO", "1.0553"),
    "S235JR": ("S235JR", "St37-2", "ST 37-2", "S235JRG2", "1.0038"),
    "S355J2": ("S355J2", "S355J2G3", "St52-3", "1.0577"),
    "S275": ("S275", "43A"),
}


@pytest.mark.parametrize(
    ("text", "name"), [(text, name) for name, texts in SPELLINGS.items() for text in texts]
)
def test_grade_as_people_write_it(text, name):
    reading = grades.read_grade(text)
    assert reading.fault is None
    assert reading.grade.name == name
    assert grades.strength(text, 10.0) is not None


FAULTS = {
    "A572": "A572 does not say its grade: A572-42, A572-50, A572-55, A572-60 or A572-65.",
    "A529": "A529 does not say its grade: A529-50 or A529-55.",
    "A500 Gr B": "A500 Gr B is not in the tables of grades.",
    "S355NL": "S355NL is not in the tables of grades.",  # EN 10025-3
    "S355J2W": "S355J2W is not in the tables of grades.",  # EN 10025-5
    "S235K2": "S235K2 is not in the tables of grades.",
    "A36/A572-50": "A36/A572-50 is not in the tables of grades.",
    "mild steel": "mild steel is not in the tables of grades.",
    "": "The grade is blank.",
    "x" * 100: f"{'x' * 40}... is not the name of a grade.",
}


@pytest.mark.parametrize(("text", "fault"), FAULTS.items())
def test_grade_that_is_not_in_the_tables(text, fault):
    reading = grades.read_grade(text)
    assert (reading.grade, reading.fault) == (None, fault)
    assert grades.strength(text, 10.0) is None


@given(st.text(max_size=70))
def test_any_text_as_a_grade_is_read_or_refused(text):
    reading = grades.read_grade(text)
    assert (reading.grade is None) == (reading.fault is not None)


def test_every_grade_reads_as_itself():
    assert len(grades.all_grades()) == 13 + 3 + 3 + 4 + 1
    for name in grades.all_grades():
        assert grades.read_grade(name).grade.name == name
    for row in table("grade_names.csv"):
        assert grades.read_grade(row["name"]).grade.name == row["grade"]


# --- punching --------------------------------------------------------------------------------

THREE_QUARTER = {"hole_mm": 20.6375, "bolt": "3/4"}
M20 = {"hole_mm": 22.0, "bolt": "M20"}
PUNCHED = [
    # AISC M2.5 before 2000 (two handbooks): t <= d + 1/8 in.
    ("aisc-before-2000", THREE_QUARTER, 22.225, "published copy"),
    # UFGS-05055A 2.2.3 (public copy): t <= d
    ("ufgs", THREE_QUARTER, 19.05, "published copy"),
    # the rest from memory: EN 1090-2:2008+A1 6.6.3, AASHTO 11.4.8, AS 4100 14.3.5.1, CSA S16
    ("en-1090-2", {**M20, "execution_class": 2}, 22.0, "memory"),
    ("en-1090-2", {**M20, "execution_class": 3}, 3.0, "memory"),
    ("aashto", {**M20, "steel": "carbon"}, 19.05, "memory"),
    ("aashto", {**M20, "steel": "high-strength"}, 15.875, "memory"),
    ("aashto", {**M20, "steel": "quenched"}, 12.7, "memory"),
    ("as-4100", {**M20, "yield_mpa": 280.0}, 20.0, "memory"),
    ("as-4100", {**M20, "yield_mpa": 361.0}, 0.0, "memory"),
    ("csa-s16", M20, 24.0, "memory"),
    ("tool", {**M20, "steel": "carbon"}, 22.0, "common practice"),
    ("tool", {**M20, "steel": "stainless"}, 11.0, "common practice"),
]


@pytest.mark.parametrize(("code", "hole", "mm", "trust"), PUNCHED)
def test_thickest_steel_to_punch(code, hole, mm, trust):
    limit = punching.thickest_punched(code, punching.PunchedHole(**hole))
    assert (limit.mm, limit.source.trust) == (mm, trust)


def test_every_code_was_looked_at():
    assert {row[0] for row in PUNCHED} == set(punching.punching_codes())


def test_a_code_says_nothing_of_what_is_not_known():
    bare = punching.PunchedHole(hole_mm=22.0)
    assert [c for c in punching.punching_codes() if punching.thickest_punched(c, bare)] == []


def test_sub_punching():
    inch = punching.PunchedHole(**THREE_QUARTER)
    metric = punching.PunchedHole(**M20, execution_class=3)
    # at least 1/16 in. under the bolt (handbook p. 3.13); 1/8 in. small (UFGS); 2 mm (memory)
    assert punching.largest_sub_punch("aisc-before-2000", inch).text == "11/16 in."
    assert punching.largest_sub_punch("ufgs", inch).text == "11/16 in."
    assert punching.largest_sub_punch("en-1090-2", metric).mm == 20
    assert punching.thickest_sub_punched("en-1090-2", metric).mm == 22
    assert punching.thickest_sub_punched("ufgs", inch) is None
    assert punching.largest_sub_punch("aashto", inch) is None


FORCES = [  # published examples: hole, thickness, shear strength, kN as printed, its last place
    (20, 25, 350, 549.8, 0.05),  # Strength of Materials, problem 115
    (20, 1.5, 300, 28.3, 0.05),  # examination question bank
    (10, 5, 276, 43.353, 0.0015),  # physics textbook, printed cut off
    (10, 3, 350, 32.986, 0.001),  # worked example of a calculator page
    (200, 3, 300, 565.487, 0.0005),  # exercise of Fundamentals of Modern Manufacturing, computed
    (14.6, 12.7, 345, 200, 1.5),  # printed 200, exactly 201
]


@pytest.mark.parametrize(("d", "t", "tau", "kn", "place"), FORCES)
def test_published_punching_forces(d, t, tau, kn, place):
    perimeter = cutting_forces.hole_perimeter_mm(d)
    assert cutting_forces.punching_force_kn(perimeter, t, tau) == pytest.approx(kn, abs=place)


def test_published_shear_force():
    # encyclopaedia article on shear force: 25 mm bar of 800 MPa, ratio 0.6, 235.6 kN
    tau = 800 * cutting_forces.shear_factor("usual").usual
    assert cutting_forces.shear_force_kn(pi / 4 * 25**2, tau) == pytest.approx(235.6, abs=0.05)


def test_slot_perimeter_is_a_hole_that_is_drawn_out():
    assert cutting_forces.slot_perimeter_mm(20, 20) == cutting_forces.hole_perimeter_mm(20)
    assert cutting_forces.slot_perimeter_mm(20, 50) == pytest.approx(20 * pi + 60)


FACTORS = {  # usual, low, high; 0.58 to 0.62 printed, 0.6 of AISC J4 transcribed, the rest memory
    "distortion-energy": (0.577, 0.577, 0.577), "usual": (0.6, 0.58, 0.62),
    "aisc-rupture": (0.6, 0.6, 0.6), "manufacturing": (0.7, 0.7, 0.7), "tool": (0.75, 0.75, 0.8),
}  # fmt: skip


def test_shear_factors():
    found = {f.name: (f.usual, f.low, f.high) for f in cutting_forces.shear_factors()}
    assert found == FACTORS
    assert FACTORS["distortion-energy"][0] == pytest.approx(1 / sqrt(3), abs=5e-4)


@pytest.mark.parametrize(
    ("material", "mm"), [("aluminium", 0.135), ("soft-steel", 0.18), ("hard-steel", 0.225)]
)
def test_die_clearance(material, mm):
    # Fundamentals of Modern Manufacturing: 3 mm and 0.075 give 0.225 mm a side
    found = cutting_forces.die_clearance(3, material)
    assert found.per_side_mm == pytest.approx(mm)
    assert found.die_mm(20) == pytest.approx(20 + 2 * mm)


# --- tolerances ------------------------------------------------------------------------------

TOLERANCES = [  # standard, quantity, size, size of the share, class, units, deviations in mm
    # EN 10056-2:1993, a stockist's page that reprints it; over 200 from memory
    ("EN 10056-2", "leg", 50.0, 0, None, None, (-1.0, 1.0)),
    ("EN 10056-2", "leg", 90.0, 0, None, None, (-2.0, 2.0)),
    ("EN 10056-2", "leg", 150.0, 0, None, None, (-3.0, 3.0)),
    ("EN 10056-2", "leg", 200.0, 0, None, None, (-4.0, 4.0)),
    ("EN 10056-2", "leg", 250.0, 0, None, None, (-4.0, 6.0)),
    ("EN 10056-2", "thickness", 5.0, 0, None, None, (-0.5, 0.5)),
    ("EN 10056-2", "thickness", 10.0, 0, None, None, (-0.75, 0.75)),
    ("EN 10056-2", "thickness", 15.0, 0, None, None, (-1.0, 1.0)),
    ("EN 10056-2", "thickness", 16.0, 0, None, None, (-1.2, 1.2)),
    ("EN 10056-2", "squareness", 100.0, 0, None, None, (-1.0, 1.0)),
    ("EN 10056-2", "squareness", 150.0, 0, None, None, (-1.5, 1.5)),
    ("EN 10056-2", "squareness", 200.0, 0, None, None, (-2.0, 2.0)),
    ("EN 10056-2", "squareness", 250.0, 0, None, None, (-3.0, 3.0)),
    # from memory
    ("EN 10056-2", "straightness", 150.0, 6000, None, None, (-24.0, 24.0)),
    ("EN 10056-2", "straightness", 200.0, 6000, None, None, (-12.0, 12.0)),
    ("EN 10056-2", "straightness", 200.1, 6000, None, None, (-6.0, 6.0)),
    ("EN 10056-2", "mass", 4.0, 0, None, None, (-6.0, 6.0)),
    ("EN 10056-2", "mass", 10.0, 0, None, None, (-4.0, 4.0)),
    # ASTM A6, from memory
    ("ASTM A6", "leg", 101.6, 0, None, None, (-2.38125, 3.175)),
    ("ASTM A6", "leg", 152.4, 0, None, None, (-3.175, 3.175)),
    ("ASTM A6", "leg", 203.2, 0, None, None, (-3.175, 4.7625)),
    ("ASTM A6", "leg", 63.5, 0, None, None, (-1.5875, 1.5875)),
    ("ASTM A6", "leg", 50.8, 0, None, None, (-1.190625, 1.190625)),
    ("ASTM A6", "leg", 25.4, 0, None, None, (-0.79375, 0.79375)),
    ("ASTM A6", "squareness", 101.6, 101.6, None, None, (-2.38125, 2.38125)),
    ("ASTM A6", "straightness", 101.6, 1524.0, None, None, (-3.175, 3.175)),
    ("ASTM A6", "straightness", 50.8, 1524.0, None, None, (-6.35, 6.35)),
    # AISC 303 6.4, from memory
    ("AISC 303", "cut length", 9144.0, 0, None, "inch", (-1.5875, 1.5875)),
    ("AISC 303", "cut length", 9144.1, 0, None, "inch", (-3.175, 3.175)),
    ("AISC 303", "cut length", 9000.0, 0, None, "mm", (-2.0, 2.0)),
    ("AISC 303", "cut length, both ends finished", 300.0, 0, None, None, (-0.79375, 0.79375)),
    # EN 1090-2:2018 Annex B, from memory
    ("EN 1090-2", "cut length", 3000.0, 3000, 1, None, (-2.6, 2.6)),
    ("EN 1090-2", "cut length", 3000.0, 3000, 2, None, (-2.3, 2.3)),
    ("EN 1090-2", "hole in its group", 0.0, 0, 1, None, (-2.0, 2.0)),
    ("EN 1090-2", "hole in its group", 0.0, 0, 2, None, (-1.0, 1.0)),
    ("EN 1090-2", "hole to cut end", 0.0, 0, 1, None, (0.0, 3.0)),
    ("EN 1090-2", "hole to cut end", 0.0, 0, 2, None, (0.0, 2.0)),
    # EN 1090-2 6.6.2 (works instruction); RCSC through AISC FAQ 5.1.1 and 2.4.3
    ("EN 1090-2", "hole diameter", 0.0, 0, None, None, (-0.5, 0.5)),
    ("RCSC", "hole diameter", 0.0, 0, None, None, (None, 0.79375)),
    ("RCSC", "burr", 0.0, 0, None, None, (None, 1.5875)),
]


@pytest.mark.parametrize("row", TOLERANCES)
def test_tolerances(row):
    standard, quantity, size, of, cls, units, mm = row
    found = tolerances.tolerance(standard, quantity, size, tolerance_class=cls, units=units)
    assert found.deviations(of) == mm


def test_tolerances_that_were_not_typed_twice_are_few():
    typed = {(row[0], row[1]) for row in TOLERANCES}
    shipped = {(s, q) for s in tolerances.standards() for q in tolerances.quantities(s)}
    assert typed <= shipped
    assert shipped - typed == {
        ("EN 10056-2", "bar length"),
        ("EN 1090-2", "cut length, both ends finished"),
        ("EN 1090-2", "hole group"),
        ("EN 1090-2", "spacing of hole groups"),
        ("EN 1090-2", "spacing of two groups that join one piece"),
        ("EN 1090-2", "squareness of a cut end"),
    }


def test_unknown_names_are_told():
    with pytest.raises(UnknownNameError, match="'aisc' is no punching code"):
        punching.thickest_punched("aisc", punching.PunchedHole(hole_mm=20.0))
    with pytest.raises(UnknownNameError, match="no tolerance 'leg' of 'RCSC'"):
        tolerances.tolerance("RCSC", "leg", 50.0)
    with pytest.raises(UnknownNameError, match="no shear factor"):
        cutting_forces.shear_factor("guess")
    with pytest.raises(UnknownNameError, match="no material"):
        cutting_forces.die_clearance(3, "cheese")
