"""Tables of practice held against figures typed a second time from the published sources.

Each table names its source. Nothing here is read from the shipped data; the figures are as the
sources print them. "From memory" means that no copy of the page was at hand.
"""

from fractions import Fraction
from math import sqrt

import pytest

from translator.errors import UnknownNameError
from translator.tables import (
    bolts,
    clearances,
    distance_maxima,
    edge_distances,
    eurocode_distances,
    fitting_bolts,
    gauges,
    holes,
    spacing,
)
from translator.tables.figures import TRUSTS
from translator.tables.published import EDITIONS, edition_of, figure, number, table

LATER = ("360-10", "360-16", "360-22")


def inches(text):
    """Return a length typed as 1-1/4 or 13/16 in millimetres."""
    whole, _, rest = str(text).rpartition("-")
    return float(round((Fraction(whole or 0) + Fraction(rest)) * Fraction("25.4"), 6))


# --- holes ----------------------------------------------------------------------------------

J3_3 = {  # AISC 360-16 and 360-22 Table J3.3 (two open transcriptions)
    "1/2": "9/16 5/8 9/16 11/16 9/16 1-1/4",
    "5/8": "11/16 13/16 11/16 7/8 11/16 1-9/16",
    "3/4": "13/16 15/16 13/16 1 13/16 1-7/8",
    "7/8": "15/16 1-1/16 15/16 1-1/8 15/16 2-3/16",
    "1": "1-1/8 1-1/4 1-1/8 1-5/16 1-1/8 2-1/2",
    "1-1/8": "1-1/4 1-7/16 1-1/4 1-1/2 1-1/4 2-13/16",  # d + 1/8, d + 5/16, d + 3/8, 2.5 d
    "1-1/4": "1-3/8 1-9/16 1-3/8 1-5/8 1-3/8 3-1/8",
}
J3_3_BEFORE_2016 = {  # AISC 360-10 Table J3.3, RCSC 2009 Table 3.1 (open transcription, memory)
    **{name: J3_3[name] for name in ("1/2", "5/8", "3/4", "7/8")},
    "1": "1-1/16 1-1/4 1-1/16 1-5/16 1-1/16 2-1/2",
    "1-1/8": "1-3/16 1-7/16 1-3/16 1-1/2 1-3/16 2-13/16",
}
J3_3M = {  # AISC 360-05 Table J3.3M, Structural Steel Designer's Handbook Table 5.11
    "M16": "18 20 18 22 18 40",
    "M20": "22 24 22 26 22 50",
    "M22": "24 28 24 30 24 55",
    "M24": "27 30 27 32 27 60",
    "M27": "30 35 30 37 30 67",
    "M30": "33 38 33 40 33 75",
    "M36": "39 44 39 46 39 90",  # d + 3, d + 8, d + 10, 2.5 d
    "M42": "45 50 45 52 45 105",
}
EN_CLEARANCES = {  # EN 1090-2 Table 11, reprinted in a holing procedure (size groups from memory)
    "M12": (1, 3, 4), "M14": (1, 3, 4), "M16": (2, 4, 6), "M20": (2, 4, 6), "M22": (2, 4, 6),
    "M24": (2, 6, 8), "M27": (3, 8, 10), "M30": (3, 8, 10), "M36": (3, 8, 10),
}  # fmt: skip


def en_holes(bolt):
    d = int(bolt[1:])
    normal, oversize, short = EN_CLEARANCES[bolt]
    return f"{d + normal} {d + oversize} {d + normal} {d + short} {d + normal} {d * 2.5:g}"


def hole_cases():
    for editions, sizes in ((("360-16", "360-22"), J3_3), (("360-05", "360-10"), J3_3_BEFORE_2016)):
        for edition in editions:
            for bolt, row in sizes.items():
                yield pytest.param(bolt, "us", edition, [*map(inches, row.split())])
    for edition in EDITIONS["us"]:
        for bolt, row in J3_3M.items():
            yield pytest.param(bolt, "us", edition, [*map(float, row.split())])
    for bolt in EN_CLEARANCES:
        yield pytest.param(bolt, "eu", "2018", [*map(float, en_holes(bolt).split())])


@pytest.mark.parametrize(("bolt", "practice", "edition", "row"), [*hole_cases()])
def test_holes_of_a_bolt(bolt, practice, edition, row):
    sizes = holes.hole_sizes(bolt, practice, edition)
    assert [
        *(sizes.standard.mm, sizes.oversize.mm),
        *(sizes.short_slot_w.mm, sizes.short_slot_l.mm, sizes.long_slot_w.mm, sizes.long_slot_l.mm),
    ] == row
    assert holes.standard_hole_mm(bolt, practice, edition) == row[0]
    assert edition in sizes.source.reference


@pytest.mark.parametrize(
    ("bolt", "practice"),
    [("3/4", "eu"), ("M39", "eu"), ("M12", "us"), ("M33", "us"), ("9/16", "us"), ("3/8", "us")],
)
def test_no_hole_where_the_practice_has_none(bolt, practice):
    assert holes.hole_sizes(bolt, practice) is None
    assert holes.standard_hole(bolt, practice) is None
    assert holes.classify_hole(20.0, bolt, practice) is None
    assert holes.classify_slot(20.0, 30.0, bolt, practice) is None


SLOTS = {  # inches; AISC FAQ 5.1.1: "a 13/16 x 1-1/4 slot for a 3/4 bolt is a long slot"
    ("13/16", "1-1/4", "3/4"): "long",
    ("13/16", "1", "3/4"): "short",
    ("13/16", "1-7/8", "3/4"): "long",
    ("13/16", "1-15/16", "3/4"): "too-long",
    ("7/8", "1", "3/4"): "too-wide",
    ("11/16", "1", "3/4"): "undersize",
    ("1-1/8", "1-5/16", "1"): "short",
}


@pytest.mark.parametrize(("slot", "kind"), SLOTS.items())
def test_class_of_a_slot(slot, kind):
    width, length, bolt = slot
    assert holes.classify_slot(inches(width), inches(length), bolt, "us") == kind


def test_slot_one_hundredth_past_the_short_slot_is_long():
    assert holes.classify_slot(20.64, 25.4, "3/4", "us") == "short"
    assert holes.classify_slot(20.64, 25.41, "3/4", "us") == "long"


HOLES = [  # the classes follow from the tables above; 14 mm for M12: EN 1090-2, from memory
    (19.0, "3/4", "us", "undersize"),
    (19.05, "3/4", "us", "close"),
    (20.64, "3/4", "us", "standard"),  # 13/16 in. as written to 0.01 mm
    (20.65, "3/4", "us", "oversize"),
    (23.81, "3/4", "us", "oversize"),
    (23.82, "3/4", "us", "too-large"),
    (21.5, "M20", "eu", "close"),
    (22.0, "M20", "eu", "standard"),
    (22.01, "M20", "eu", "oversize"),
    (24.01, "M20", "eu", "too-large"),
    (13.0, "M12", "eu", "standard"),
    (14.0, "M12", "eu", "customary"),
    (14.01, "M12", "eu", "oversize"),
]


@pytest.mark.parametrize(("diameter", "bolt", "practice", "kind"), HOLES)
def test_class_of_a_hole(diameter, bolt, practice, kind):
    assert holes.classify_hole(diameter, bolt, practice) == kind


def test_one_inch_hole_changed_in_2016():
    # "standard holes of 1 in. and larger bolts 1/8 in. over", trade magazine, 2015
    assert holes.classify_hole(inches("1-1/8"), "1", "us", "360-16") == "standard"
    assert holes.classify_hole(inches("1-1/8"), "1", "us", "360-10") == "oversize"
    assert holes.classify_hole(inches("1-1/16"), "1", "us", "360-22") == "close"


# --- bolts inferred --------------------------------------------------------------------------

INFERRED = [  # standard holes as above; ISO 273 (M12 to M16 and medium M20 printed, rest memory)
    (20.6375, "us", "3/4", "standard"), (20.64, "us", "3/4", "standard"),
    (20.6, "us", "3/4", "standard"), (17.5, "us", "5/8", "standard"),
    (28.575, "us", "1", "standard"), (26.99, "us", "1", "other edition"),
    (22.0, "us", "M20", "standard"), (27.0, "us", "M24", "standard"),
    (15.875, "us", "1/2", "oversize"), (14.0, "us", "M12", "customary"),
    (22.225, "us", None, None), (65.0, "us", None, None),
    (13.0, "eu", "M12", "standard"), (14.0, "eu", "M12", "customary"),
    (17.5, "eu", "M16", "customary"), (21.5, "eu", "M20", "customary"),
    (13.5, "eu", "M12", "customary"), (17.0, "eu", "M16", "customary"),
    (22.0, "eu", "M20", "standard"), (24.0, "eu", "M22", "standard"),
    (26.0, "eu", "M24", "standard"), (33.0, "eu", "M30", "standard"),
    (20.6375, "eu", None, None), (3.0, "eu", None, None),
]  # fmt: skip


@pytest.mark.parametrize(("diameter", "practice", "bolt", "fit"), INFERRED)
def test_bolt_a_hole_is_meant_for(diameter, practice, bolt, fit):
    assert fitting_bolts.infer_bolt(diameter, practice) == bolt
    found = fitting_bolts.fitting_bolt(diameter, practice)
    assert (found and found.fit) == fit


CUSTOMARY = {  # holes beside the standard one, mm, and whose they are
    # ISO 273: M12, M14, M16 on reference pages, the rest from memory (fine, medium, coarse)
    "M6": (6.4, 6.6, 7), "M8": (8.4, 9, 10), "M10": (10.5, 11, 12), "M12": (13.5, 14.5),
    "M14": (15.5, 16.5), "M16": (17, 17.5, 18.5), "M18": (19,), "M20": (21,), "M22": (23,),
    "M24": (25,), "M27": (28, 32), "M30": (31, 35), "M33": (34,), "M36": (37, 42),
}  # fmt: skip
TOWERS = {  # EN 1090-2 Table 11, note: 0.5 mm less clearance (from memory)
    "M12": 12.5, "M16": 17.5, "M20": 21.5, "M22": 23.5, "M24": 25.5, "M27": 29.5, "M30": 32.5,
    "M36": 38.5,
}  # fmt: skip
LOOSE = {"M12": 14, "M14": 16}  # 2 mm clearance, EN 1090-2 Table 11, note (from memory)
SMALL = {"1/4": "5/16", "3/8": "7/16"}  # 1/16 in. clearance: common practice, no source


def test_customary_holes():
    eu = [(bolt, mm) for bolt, row in CUSTOMARY.items() for mm in row]
    eu += [*TOWERS.items(), *LOOSE.items()]
    assert [fitting_bolts.infer_bolt(float(mm), "eu") for _, mm in eu] == [b for b, _ in eu]
    us = [(bolt, inches(hole)) for bolt, hole in SMALL.items()] + [*LOOSE.items()]
    assert [fitting_bolts.infer_bolt(float(mm), "us") for _, mm in us] == [b for b, _ in us]
    nominal = {float(mm) for _, mm in eu + us} | {13.0}  # M12 under us: the hole of EN 1090-2
    for row in table("customary_holes.csv"):
        bolt = bolts.read_bolt(row["bolt"])
        assert figure(row["hole"], bolt.unit).mm in nominal


@pytest.mark.parametrize("practice", EDITIONS)
def test_the_standard_hole_of_a_bolt_leads_back_to_it(practice):
    seen = 0
    for edition in EDITIONS[practice]:
        for bolt in bolts.INCH_BOLTS + bolts.METRIC_BOLTS:
            mm = holes.standard_hole_mm(bolt, practice, edition)
            if mm is not None:
                seen += 1
                assert fitting_bolts.infer_bolt(mm, practice, edition) == bolt
    assert seen >= 22


def test_the_older_hole_for_one_inch_is_not_taken_for_metric():
    found = fitting_bolts.fitting_bolt(inches("1-1/16"), "us", "360-22")
    assert (found.bolt, found.kind) == ("1", "standard hole of 360-10")
    assert fitting_bolts.infer_bolt(inches("1-1/16"), "us", "360-10") == "1"


# --- edges -----------------------------------------------------------------------------------

J3_4 = {  # now: AISC 360-16 p. 16.1-131 (public copy); sheared: 360-05 column, from memory
    "1/2": ("3/4", "7/8"),
    "5/8": ("7/8", "1-1/8"),
    "3/4": ("1", "1-1/4"),
    "7/8": ("1-1/8", "1-1/2"),
    "1": ("1-1/4", "1-3/4"),
    "1-1/8": ("1-1/2", "2"),
    "1-1/4": ("1-5/8", "2-1/4"),
    "1-1/2": ("1-7/8", "2-5/8"),  # 1-1/4 d, 1-3/4 d
}
J3_4M = {  # now: the same page; sheared: Structural Steel Designer's Handbook Table 5.13
    "M16": (22, 28), "M20": (26, 34), "M22": (28, 38), "M24": (30, 42), "M27": (34, 48),
    "M30": (38, 52), "M36": (46, 64), "M40": (50, 70),  # over M36: 1.25 d, 1.75 d
}  # fmt: skip
EDGES = {bolt: (inches(now), inches(old)) for bolt, (now, old) in J3_4.items()} | J3_4M


@pytest.mark.parametrize(("bolt", "now", "sheared"), [(b, *row) for b, row in EDGES.items()])
def test_least_edge_distance_aisc(bolt, now, sheared):
    for edition in LATER:
        for is_sheared in (False, True):  # one column since 2010
            limit = edge_distances.edge_distance_min(bolt, "us", edition, is_sheared=is_sheared)
            assert limit.mm == now
            assert limit.source.trust == "published copy"
    old = edge_distances.edge_distance_min(bolt, "us", "360-05", is_sheared=True)
    assert old.mm == sheared
    assert edge_distances.edge_distance_min(bolt, "us", "360-05").mm == now


@pytest.mark.parametrize(
    ("bolt", "mm"), [("3/4", 31.75), ("7/8", 31.75), ("1", 31.75), ("M22", 32), ("M24", 32)]
)
def test_sheared_end_of_a_clip_under_360_05(bolt, mm):
    # 1-1/4 in. (32 mm) allowed at the ends of beam connection angles, note to Table J3.4
    limit = edge_distances.edge_distance_min(
        bolt, "us", "360-05", is_sheared=True, is_beam_connection_end=True
    )
    assert limit.mm == mm


C2 = {  # AISC 360-05 Tables J3.5 and J3.5M, p. 16.1-108 (public copy); later from memory
    "1/2": ("1/16", "1/8", "3/8"), "5/8": ("1/16", "1/8", "15/32"),
    "3/4": ("1/16", "1/8", "9/16"), "7/8": ("1/16", "1/8", "21/32"), "1": ("1/8", "1/8", "3/4"),
    "1-1/8": ("1/8", "3/16", "27/32"), "1-1/4": ("1/8", "3/16", "15/16"),
    "1-1/2": ("1/8", "3/16", "1-1/8"),
}  # fmt: skip
C2M = {
    "M16": (2, 3, 12), "M20": (2, 3, 15), "M22": (2, 3, 16.5), "M24": (3, 3, 18),
    "M27": (3, 5, 20.25), "M30": (3, 5, 22.5), "M36": (3, 5, 27), "M42": (3, 5, 31.5),
}  # fmt: skip
INCREMENTS = {bolt: tuple(map(inches, row)) for bolt, row in C2.items()} | C2M
OPENINGS = ("oversize", "short-slot-across", "long-slot-across")


@pytest.mark.parametrize(("bolt", "row"), INCREMENTS.items())
@pytest.mark.parametrize("edition", EDITIONS["us"])
def test_increment_of_the_edge_distance(bolt, row, edition):
    found = [edge_distances.edge_increment_c2(bolt, opening, edition) for opening in OPENINGS]
    assert [limit.mm for limit in found] == [*row]
    assert {limit.source.is_from_memory for limit in found} == {edition != "360-05"}
    assert edge_distances.edge_increment_c2(bolt, "slot-along", edition).mm == 0
    assert edge_distances.edge_increment_c2(bolt, "standard", edition) is None


def test_increment_drops_by_half_of_the_unused_slot():
    # note to Table J3.5: 3/4 bolt, slot 1/8 in. shorter than the 1 in. of the table
    c2 = edge_distances.edge_increment_c2
    assert c2("3/4", "short-slot-across", slot_length_mm=22.225).mm == inches("1/16")
    assert c2("3/4", "short-slot-across", slot_length_mm=25.4).mm == inches("1/8")
    assert c2("3/4", "short-slot-across", slot_length_mm=40.0).mm == inches("1/8")
    assert c2("3/4", "short-slot-across", slot_length_mm=1.0).mm == 0
    assert c2("M20", "long-slot-across", slot_length_mm=40.0).mm == 10
    assert c2("3/4", "slot-along", slot_length_mm=22.0).mm == 0


def test_edge_of_a_slotted_hole_carries_the_weaker_trust():
    edge = edge_distances.edge_distance_min("3/4", "us", "360-22")
    total = edge.plus(edge_distances.edge_increment_c2("3/4", "short-slot-across", "360-22"))
    assert (total.text, total.mm) == ("1-1/8 in.", 28.575)
    assert total.source.reference == (
        "AISC 360-22 Table J3.4 and AISC 360-22 Table J3.5, from memory"
    )


def test_less_than_one_diameter_needs_the_engineer():
    # note to AISC 360-16 Table J3.4
    assert edge_distances.edge_distance_for_approval("7/8").mm == 22.225


# --- EN 1993-1-8 Table 3.3 (two public copies; the staggered rule from memory) ---------------

TABLE_3_3 = {"e1": 26.4, "e2": 26.4, "e3": 33.0, "e4": 33.0, "p1": 48.4, "p2": 52.8}


@pytest.mark.parametrize(("symbol", "mm"), TABLE_3_3.items())
def test_least_distances_of_a_22_mm_hole(symbol, mm):
    limit = eurocode_distances.eurocode_minimum(symbol, 22.0)
    assert limit.mm == mm
    assert limit.source.reference == "EN 1993-1-8:2005 Table 3.3"


def test_least_distances_of_m20_under_eu():
    assert edge_distances.edge_distance_min("M20", "eu").mm == 26.4
    assert spacing.spacing_min("M20", "eu").mm == 48.4
    assert spacing.spacing_min("M20", "eu", is_across_load=True).mm == 52.8
    assert spacing.clear_distance_min("M20", "eu") is None
    assert edge_distances.edge_distance_min("3/4", "eu") is None
    assert spacing.spacing_min("3/4", "eu") is None


def test_staggered_rows_come_closer():
    found = eurocode_distances.staggered_minimum(22.0)
    assert (found.across.mm, found.diagonal.mm) == (26.4, 52.8)
    assert found.across.source.is_from_memory
    assert found.diagonal.source.is_from_memory


MAXIMA = [  # AISC 360-16 J3.5 (public copy) and EN 1993-1-8 Table 3.3; thickness, limit in mm
    ("edge", "us", "exposed", "inch", 9.525, 114.3),  # 12 t
    ("edge", "us", "exposed", "inch", 25.4, 152.4),  # 6 in.
    ("edge", "us", "weathering", "mm", 20.0, 150.0),
    ("spacing", "us", "exposed", "inch", 9.525, 228.6),  # 24 t
    ("spacing", "us", "sheltered", "inch", 25.4, 304.8),  # 12 in.
    ("spacing", "us", "exposed", "mm", 20.0, 300.0),
    ("spacing", "us", "weathering", "mm", 10.0, 140.0),  # 14 t
    ("spacing", "us", "weathering", "inch", 25.4, 177.8),  # 7 in.
    ("spacing", "us", "weathering", "mm", 20.0, 180.0),
    ("edge", "eu", "exposed", "mm", 10.0, 80.0),  # 4 t + 40
    ("edge", "eu", "sheltered", "mm", 10.0, None),
    ("edge", "eu", "weathering", "mm", 10.0, 125.0),  # the larger of 8 t and 125
    ("edge", "eu", "weathering", "mm", 20.0, 160.0),
    ("spacing", "eu", "exposed", "mm", 10.0, 140.0),  # 14 t
    ("spacing", "eu", "sheltered", "mm", 20.0, 200.0),
    ("spacing", "eu", "weathering", "mm", 20.0, 175.0),
]


@pytest.mark.parametrize("row", MAXIMA)
def test_largest_distances(row):
    what, practice, exposure, units, thickness, mm = row
    largest = {"edge": distance_maxima.edge_distance_max, "spacing": distance_maxima.spacing_max}
    for edition in EDITIONS[practice]:
        limit = largest[what](thickness, practice, edition, exposure=exposure, units=units)
        assert (limit and limit.mm) == mm


def test_largest_spacing_of_inner_rows_in_tension():
    assert distance_maxima.inner_tension_spacing_max(10.0).mm == 280
    assert distance_maxima.inner_tension_spacing_max(20.0).mm == 400


def test_clause_follows_the_edition():
    # 360-22 has J3.4 for spacing and J3.6 for the maxima (the latter from a transcription)
    assert spacing.spacing_min("3/4", "us", "360-16").source.title == "AISC 360-16 J3.3"
    assert spacing.spacing_min("3/4", "us", "360-22").source.title == "AISC 360-22 J3.4"
    edge = distance_maxima.edge_distance_max
    assert edge(10.0, "us", "360-16").source.reference == "AISC 360-16 J3.5"
    assert edge(10.0, "us", "360-22").source.reference == "AISC 360-22 J3.6, from memory"


# --- spacing ---------------------------------------------------------------------------------


@pytest.mark.parametrize("edition", EDITIONS["us"])
def test_spacing_aisc(edition):
    # 2-2/3 d least, 3 d preferred: handbook and open transcriptions
    assert spacing.spacing_min("3/4", "us", edition).mm == 50.8
    assert spacing.spacing_min("7/8", "us", edition).mm == 59.266667
    assert spacing.spacing_min("M24", "us", edition).mm == 64
    assert spacing.spacing_preferred("3/4", edition).text == "2-1/4 in."
    assert spacing.spacing_preferred("M20", edition).mm == 60


def test_clear_distance_came_with_360_16():
    clear = {e: spacing.clear_distance_min("3/4", "us", e) for e in EDITIONS["us"]}
    assert {e: limit and limit.mm for e, limit in clear.items()} == {
        "360-22": 19.05,
        "360-16": 19.05,
        "360-10": None,
        "360-05": None,
    }
    assert clear["360-22"].source.trust == "transcription"
    assert clear["360-16"].source.is_from_memory


# --- gauges ----------------------------------------------------------------------------------

TABLE_1_7A = {  # AISC Manual Table 1-7A, 13th to 16th ed. (two open transcriptions): g; g1 and g2
    "8": ("4-1/2", "3", "3"), "7": ("4", "2-1/2", "3"), "6": ("3-1/2", "2-1/4", "2-1/2"),
    "5": ("3", "2", "1-3/4"), "4": ("2-1/2",), "3-1/2": ("2",), "3": ("1-3/4",),
    "2-1/2": ("1-3/8",), "2": ("1-1/8",), "1-3/4": ("1",), "1-1/2": ("7/8",), "1-3/8": ("7/8",),
    "1-1/4": ("3/4",), "1": ("5/8",),
    # one transcription only, another contradicts it:
    "12": ("6", "3", "2-1/2", "2-1/2", "2-1/2"), "10": ("5", "3", "2-1/2", "2-1/2"),
}  # fmt: skip
BACK_MARKS = {  # from memory: UK handbooks, then DIN 997, heel to each line
    25: [(15,), (15,)], 30: [(20,), (17,)], 35: [(18,)], 40: [(23,), (22,)], 45: [(25,), (25,)],
    50: [(28,), (30,)], 55: [(30,)], 60: [(35,), (35,)], 65: [(35,), (35,)], 70: [(40,), (40,)],
    75: [(45,), (40,)], 80: [(45,), (45,)], 90: [(50,), (50,)], 100: [(55,), (55,)],
    110: [(45, 70)], 120: [(45, 95), (50, 80)], 125: [(45, 95)], 130: [(50, 90)],
    140: [(55, 95)], 150: [(55, 110), (60, 105)], 160: [(60, 115)], 180: [(60, 135)],
    200: [(75, 150), (55, 110, 165), (65, 150)], 20: [(12,)],
}  # fmt: skip


@pytest.mark.parametrize(("leg", "row"), TABLE_1_7A.items())
def test_usual_gauges_aisc(leg, row):
    single, *steps = map(inches, row)
    double, at = [], 0.0
    for step in steps:
        at += step
        double.append(round(at, 6))
    expected = [[single]] + ([double] if double else [])
    found = gauges.usual_gauges(inches(leg), "us")
    assert [[line.mm for line in gauge.lines] for gauge in found] == expected
    assert {gauge.is_doubtful for gauge in found} == {leg in ("12", "10")}


@pytest.mark.parametrize(("leg", "rows"), BACK_MARKS.items())
def test_back_marks_from_memory(leg, rows):
    found = gauges.usual_gauges(float(leg), "eu")
    assert [tuple(line.mm for line in gauge.lines) for gauge in found] == rows
    assert all(gauge.source.is_from_memory for gauge in found)


UK_BOLTS = {  # from memory, UK handbooks: the largest usual bolt
    50: "M12", 60: "M16", 65: "M20", 70: "M20", 75: "M20", 80: "M20", 90: "M24", 100: "M24",
    120: "M20", 125: "M20", 150: "M20",
}  # fmt: skip
DIN_HOLES = {50: 13, 60: 17, 70: 21, 80: 23, 90: 25, 100: 25}  # from memory, DIN 997


def test_largest_usual_bolts_and_holes_from_memory():
    uk = {leg: gauges.usual_gauges(float(leg), "eu")[0].largest_bolt for leg in UK_BOLTS}
    assert uk == UK_BOLTS
    din = {leg: gauges.usual_gauges(float(leg), "eu")[-1].largest_hole.mm for leg in DIN_HOLES}
    assert din == DIN_HOLES


def test_every_gauge_was_looked_at_and_lies_on_its_leg():
    us, eu = gauges.all_gauges("us"), gauges.all_gauges("eu")
    assert {gauge.leg.mm for gauge in us} == {inches(leg) for leg in TABLE_1_7A}
    assert {gauge.leg.mm for gauge in eu} == set(BACK_MARKS)
    for gauge in us + eu:
        ends = [0.0, *(line.mm for line in gauge.lines), gauge.leg.mm]
        assert ends == sorted(set(ends))


@pytest.mark.parametrize(
    ("leg", "gauge", "practice", "answer"),
    [
        (101.6, 63.5, "us", True),
        (101.6, 64.0, "us", True),  # rounded to whole millimetres
        (101.6, 64.01, "us", False),
        (152.4, 120.65, "us", True),  # second line of a 6 in. leg
        (100.0, 55.0, "us", None),  # no such leg
        (100.0, 55.0, "eu", True),
        (100.0, 50.0, "eu", False),
        (150.0, 110.0, "eu", True),
    ],
)
def test_gauge_is_usual(leg, gauge, practice, answer):
    assert gauges.is_usual_gauge(leg, gauge, practice) is answer


# --- room for the wrench ---------------------------------------------------------------------

TABLE_8_4 = {  # AISC Manual LRFD 2nd ed. p. 8-13 (two scans): socket H1 H2 C1 C2 C3 C3-clipped
    "5/8": "1-3/4 25/64 1-1/4 1 11/16 11/16 9/16",
    "3/4": "2-1/4 15/32 1-3/8 1-1/4 3/4 3/4 11/16",
    "7/8": "2-1/2 35/64 1-1/2 1-3/8 7/8 7/8 13/16",
    "1": "2-5/8 39/64 1-5/8 1-7/16 15/16 1 7/8",
    "1-1/8": "2-7/8 11/16 1-7/8 1-9/16 1-1/16 1-1/8 1",
    "1-1/4": "3-1/8 25/32 2 1-11/16 1-1/8 1-1/4 1-1/8",
    "1-3/8": "3-1/4 27/32 2-1/8 1-3/4 1-1/4 1-3/8 1-1/4",
    "1-1/2": "3-1/2 15/16 2-1/4 1-7/8 1-5/16 1-1/2 1-5/16",  # C1 is not readable in the scans
}


@pytest.mark.parametrize(("bolt", "row"), TABLE_8_4.items())
def test_room_for_the_wrench(bolt, row):
    room = clearances.wrench_room(bolt)
    assert [
        *(room.socket.mm, room.head.mm, room.shank.mm, room.tighten.mm, room.enter.mm),
        *(room.clear_fillet.mm, room.clear_fillet_clipped.mm),
    ] == [*map(inches, row.split())]
    assert room.doubtful == (("C1",) if bolt == "1-1/2" else ())


@pytest.mark.parametrize("bolt", TABLE_8_4)
def test_tightening_clearance_is_half_a_socket_and_an_eighth(bolt):
    room = clearances.wrench_room(bolt)
    assert room.tighten.value == room.socket.value / 2 + Fraction(1, 8)


NUTS = {  # heavy hex nuts, ASME B18.2.2, inches, from memory: across corners, height
    "5/8": (1.227, 0.609),
    "3/4": (1.443, 0.734),
    "7/8": (1.660, 0.859),
    "1": (1.876, 0.984),
    "1-1/8": (2.093, 1.109),
}
WASHER = 0.177  # the thickest F436 washer, inches, from memory


def needed_stagger(bolt, clearance):
    """Return the stagger at which a socket and 1/8 in. pass the nut and the shank, in inches."""
    room = clearances.wrench_room(bolt)
    reach = float(room.socket.value) / 2 + 0.125
    across, height = NUTS[bolt]
    corners = ((across / 2, height + WASHER), (float(Fraction(number(bolt))) / 2, room.shank.value))

    def beside(x, y):
        off = max(clearance - float(y), 0.0)
        return x + sqrt(reach**2 - off**2) if off < reach else 0.0

    return max(beside(x, y) for x, y in corners)


@pytest.mark.parametrize("bolt", NUTS)
def test_staggers_are_what_the_socket_needs(bolt):
    """The scanned table against plain geometry: within 5/64 in. for each of its 61 pairs."""
    rows = [row for row in table("bolt_staggers.csv") if row["bolt"] == bolt]
    assert len(rows) >= 10
    for row in rows:
        clearance = number(row["F"])
        assert (number(row["P"]) * 16).denominator == (clearance * 8).denominator == 1
        least = clearances.stagger_min(bolt, float(clearance) * 25.4).least
        assert least.mm / 25.4 == pytest.approx(needed_stagger(bolt, float(clearance)), abs=5 / 64)


@pytest.mark.parametrize("bolt", NUTS)
def test_more_clearance_never_needs_more_stagger(bolt):
    room = clearances.wrench_room(bolt)
    enough = room.tighten.mm + room.shank.mm
    steps = [room.tighten.mm - 1 + n * 0.25 for n in range(200)]
    found = [clearances.stagger_min(bolt, mm) for mm in steps]
    least = [stagger.least.mm for stagger in found]
    assert least == sorted(least, reverse=True)
    assert [s.is_possible for s in found] == [mm >= room.tighten.mm for mm in steps]
    assert [mm == 0 for mm in least] == [mm >= enough for mm in steps]
    assert least[0] > 0
    assert least[-1] == 0


def test_no_clearances_for_other_bolts():
    assert clearances.wrench_room("M20") is None
    assert clearances.stagger_min("M20", 40.0) is None
    assert clearances.stagger_min("1-1/4", 60.0) is None  # that column is not readable


# --- names and data --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "mm"), [("M20", 20.0), ("3/4", 19.05), ("1", 25.4), ("1-1/8", 28.575), ("M7", 7.0)]
)
def test_bolt_names(name, mm):
    assert bolts.read_bolt(name).diameter.mm == mm


@pytest.mark.parametrize("name", ["", "m20", "M0", "20mm", "3/0", "0/4", "1 1/8", "M20x50", "-1"])
def test_what_is_no_bolt(name):
    with pytest.raises(UnknownNameError, match="is no bolt"):
        bolts.read_bolt(name)


def test_unknown_names_are_told():
    with pytest.raises(UnknownNameError, match="'uk' is no practice: it is 'us' or 'eu'"):
        edition_of("uk")
    with pytest.raises(UnknownNameError, match="'360-99' is no edition of the practice 'us'"):
        holes.hole_sizes("3/4", "us", "360-99")
    with pytest.raises(UnknownNameError, match="no exposure"):
        distance_maxima.spacing_max(10.0, "us", exposure="wet")


TABLES = (
    *("bolt_clearances.csv", "bolt_holes.csv", "bolt_staggers.csv", "customary_holes.csv"),
    *("die_clearances.csv", "distance_maxima.csv", "edge_distances.csv", "edge_increments.csv"),
    *("eurocode_minima.csv", "grade_names.csv", "punching_limits.csv", "shear_factors.csv"),
    *("spacings.csv", "steel_grades.csv", "tolerances.csv", "usual_gauges.csv"),
)


@pytest.mark.parametrize("name", TABLES)
def test_every_row_has_a_source_and_a_trust(name):
    rows = table(name)
    assert rows
    for row in rows:
        assert row["source"]
        assert row["trust"] in TRUSTS
        assert None not in row  # a cell too many
        assert None not in row.values()  # a cell too few


@pytest.mark.parametrize("cell", ["d", "2 e", "x", "d + ", "1/8 +"])
def test_a_cell_that_says_nothing_is_a_fault_of_the_table(cell):
    with pytest.raises(ValueError, match="a table has the cell"):
        figure(cell, "mm", Fraction(20))
