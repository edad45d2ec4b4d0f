"""What a machine can't make: each reason just inside its limit and just outside, by 0.01 mm."""

import pytest
from machine_parts import (
    FB100,
    L90,
    angle,
    drill,
    flat,
    hole,
    machine,
    oblong,
    punch,
    said,
    slot,
    stamp,
    tool,
)

from translator.findings import Severity
from translator.machines import capable
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    CentreMark,
    Clip,
    Cope,
    FlatEnd,
    FlatEnds,
    Notch,
    Opening,
    OutlineTrim,
    Rounding,
    Scribe,
    Vertex,
)


def square(name, left, low, size):
    right, high = left + size, low + size
    places = ((left, low), (right, low), (right, high), (left, high))
    return Opening(id=name, contour=tuple(Vertex(x_mm=x, y_mm=y) for x, y in places))


def mitred(degrees, end="far", leg="a"):
    cut = AngleEnd(**{f"leg_{leg}_deg": degrees})
    return AngleEnds(**{end: cut})


SHEAR = {"kind": "shear", "cut": "single"}
SAW = {"kind": "saw", "kerf_mm": 5}
ONE_SIDE = {"left": {"least_deg": -30, "most_deg": 45}, "right": {"least_deg": -30, "most_deg": 45}}
MARKER = {
    "side": "both",
    "heights_mm": [10, 12.7],
    "characters": "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789",
    "from_heel": {"least_mm": 20, "most_mm": 70},
    "keep_out_mm": 5,
}

# name: machine, part just inside (nothing is said), part just outside, what is said
LIMITS = {
    "flat where none is taken": (
        {"flats": None},
        angle(),
        flat(),
        ("section-not-taken", "the section is a flat, the machine takes none"),
    ),
    "angle where none is taken": (
        {"angles": None},
        flat(),
        angle(),
        ("section-not-taken", "the section is an angle, the machine takes none"),
    ),
    "leg too wide": (
        {"angles": {"leg": {"most_mm": 90}}},
        angle(),
        angle(section=Angle(leg_a_mm=90.0, leg_b_mm=90.01, thickness_mm=10.0)),
        (
            "section-not-taken",
            "leg b is 90.01 mm wide, more than the 90 mm that the machine takes",
        ),
    ),
    "leg too narrow": (
        {"angles": {"leg": {"least_mm": 90}}},
        angle(),
        angle(section=Angle(leg_a_mm=89.99, leg_b_mm=90.0, thickness_mm=10.0)),
        (
            "section-not-taken",
            "leg a is 89.99 mm wide, less than the 90 mm that the machine takes",
        ),
    ),
    "flat too wide": (
        {"flats": {"width": {"most_mm": 100}}},
        flat(),
        flat(section=FB100.model_copy(update={"width_mm": 100.01})),
        (
            "section-not-taken",
            "the flat is 100.01 mm wide, more than the 100 mm that the machine takes",
        ),
    ),
    "too thick": (
        {"angles": {"thickness": {"most_mm": 10}}},
        angle(),
        angle(section=L90.model_copy(update={"thickness_mm": 10.01})),
        (
            "thickness-not-taken",
            "the steel is 10.01 mm thick, more than the 10 mm that the machine takes",
        ),
    ),
    "flat too thin": (
        {"flats": {"thickness": {"least_mm": 10}}},
        flat(),
        flat(section=FB100.model_copy(update={"thickness_mm": 9.99})),
        (
            "thickness-not-taken",
            "the steel is 9.99 mm thick, less than the 10 mm that the machine takes",
        ),
    ),
    "too short": (
        {"piece_length": {"least_mm": 400}},
        angle(),
        angle(length_mm=399.99),
        (
            "piece-too-short",
            "the piece is 399.99 mm long, less than the 400 mm that the machine takes",
        ),
    ),
    "too long": (
        {"piece_length": {"most_mm": 400}},
        angle(),
        angle(length_mm=400.01),
        (
            "piece-too-long",
            "the piece is 400.01 mm long, more than the 400 mm that the machine takes",
        ),
    ),
    "too long for the carriage": (
        {"grip": {"travel_mm": 400}, "cut_off": SAW},
        angle(),
        angle(length_mm=400.01),
        (
            "piece-too-long",
            "the piece is 400.01 mm long, more than the 400 mm that the carriage travels",
        ),
    ),
    "too long for the bar with trim, kerf and tail": (
        {
            "grip": {"tail_mm": 200},
            "stock_length": {"most_mm": 615},
            "cut_off": {**SAW, "front_trim_mm": 10},
        },
        angle(),
        angle(length_mm=400.01),
        (
            "piece-too-long",
            (
                "the piece takes 615.01 mm of bar with trim, cut and tail, more than the 615 mm of"
                " the longest bar"
            ),
        ),
    ),
    "too long for the bar with a slug": (
        {
            "stock_length": {"most_mm": 416},
            "cut_off": {"kind": "shear", "cut": "slug", "slug_mm": 16},
        },
        angle(),
        angle(length_mm=400.01),
        (
            "piece-too-long",
            (
                "the piece takes 416.01 mm of bar with trim, cut and tail, more than the 416 mm of"
                " the longest bar"
            ),
        ),
    ),
    "no tool of the size": (
        {"stations": [punch()]},
        angle([hole("a1", diameter=22.05)]),
        angle([hole("a1", diameter=22.06)]),
        (
            "hole-without-tool",
            "hole a1 is 22.06 mm, the nearest tool on the left side is 22 mm (4)",
        ),
    ),
    "no tool of the size, in inches": (
        {"stations": [punch(tool("2", 20.6375))], "hole_size_tolerance_mm": 0.0},
        angle([hole("a1", diameter=20.6375)], units="inch"),
        angle([hole("a1", diameter=20.6475)], units="inch"),
        (
            "hole-without-tool",
            "hole a1 is 0.8129 in., the nearest tool on the left side is 13/16 in. (2)",
        ),
    ),
    "no drill of the size": (
        {"stations": [drill()]},
        angle([hole("a1", diameter=21.95)]),
        angle([hole("a1", diameter=21.94)]),
        (
            "drill-size-not-held",
            "hole a1 is 21.94 mm, the nearest drill on the left side is 22 mm (4)",
        ),
    ),
    "no drill of the size where a drill is wished": (
        {"stations": [punch(), drill(tool("D", 20.0))]},
        angle([hole("a1")]),
        angle([hole("a1", process="drill")]),
        (
            "drill-size-not-held",
            "hole a1 is 22 mm, the nearest drill on the left side is 20 mm (D)",
        ),
    ),
    "only a slot tool": (
        {"stations": [punch(oblong())]},
        angle([slot("a1")]),
        angle([hole("a1")]),
        ("hole-without-tool", "hole a1 is 22 mm, no tool is held on the left side"),
    ),
    "no tool for reaming, too large": (
        {"stations": [punch(tool("3", 20.0))]},
        angle([hole("a1", process="sub-punch-and-ream")]),
        angle([hole("a1", diameter=21.99, process="sub-punch-and-ream")]),
        (
            "hole-without-tool",
            (
                "hole a1 is 21.99 mm, to be punched small and reamed, the nearest tool on the left"
                " side is 20 mm (3)"
            ),
        ),
    ),
    "slot too long": (
        {"stations": [punch(oblong())]},
        angle([slot("a1", length=24.05)]),
        angle([slot("a1", length=24.06)]),
        ("slot-without-tool", "slot a1 is 18 x 24.06 mm, no tool on the left side makes it"),
    ),
    "slot too wide for several hits": (
        {"stations": [punch(tool("3", 18.0, several_hits=True))]},
        angle([slot("a1", width=18.05)]),
        angle([slot("a1", width=18.06)]),
        ("slot-without-tool", "slot a1 is 18.06 x 24 mm, no tool on the left side makes it"),
    ),
    "slot where several hits are not allowed": (
        {"stations": [punch(tool("3", 18.0))]},
        angle([hole("a1", diameter=18.0)]),
        angle([slot("a1")]),
        ("slot-without-tool", "slot a1 is 18 x 24 mm, no tool on the left side makes it"),
    ),
    "slot of another direction": (
        {"stations": [punch(oblong(angle_deg=90))]},
        angle([slot("a1", angle_deg=90.0)]),
        angle([slot("a1", angle_deg=89.99)]),
        (
            "slot-without-tool",
            "slot a1 lies at -89.99 deg to the way the bar travels, tool 7 of its size at 90 deg",
        ),
    ),
    "gauge too small": (
        {"stations": [punch(from_heel={"least_mm": 50})]},
        angle([hole("a1")]),
        angle([hole("a1", y=49.99)]),
        (
            "gauge-out-of-reach",
            "hole a1 is 49.99 mm from the heel, less than the 50 mm that station P1 reaches",
        ),
    ),
    "gauge too large": (
        {"stations": [punch(from_heel={"most_mm": 50})]},
        angle(b=[hole("b1")]),
        angle(b=[hole("b1", y=50.01)]),
        (
            "gauge-out-of-reach",
            "hole b1 is 50.01 mm from the heel, more than the 50 mm that station P1 reaches",
        ),
    ),
    "too near the toe": (
        {"stations": [punch(from_toe={"least_mm": 40})]},
        angle([hole("a1")]),
        angle([hole("a1", y=50.01)]),
        (
            "gauge-out-of-reach",
            "hole a1 is 39.99 mm from the toe, less than the 40 mm that station P1 reaches",
        ),
    ),
    "too far from the toe": (
        {"stations": [punch(from_toe={"most_mm": 40})]},
        angle([hole("a1")]),
        angle([hole("a1", y=49.99)]),
        (
            "gauge-out-of-reach",
            "hole a1 is 40.01 mm from the toe, more than the 40 mm that station P1 reaches",
        ),
    ),
    "end of a slot in several hits": (
        {"stations": [punch(tool("3", 18.0, several_hits=True), from_heel={"most_mm": 53})]},
        angle([slot("a1", angle_deg=90.0)]),
        angle([slot("a1", y=50.01, angle_deg=90.0)]),
        (
            "gauge-out-of-reach",
            "slot a1 is 53.01 mm from the heel, more than the 53 mm that station P1 reaches",
        ),
    ),
    "flat, either edge at the heel's place": (
        {"flats": {"side": "left"}, "stations": [punch(from_heel={"least_mm": 60})]},
        flat(hole("f1", y=40.0)),
        flat(hole("f1", y=40.01)),
        (
            "gauge-out-of-reach",
            "hole f1 is 40.01 mm from the lower edge, less than the 60 mm that station P1 reaches",
        ),
    ),
    "too thick for the tool in its grade": (
        {
            "stations": [
                punch(tool(thickness_limits=[{"grade": "S275", "most_mm": 10}, {"most_mm": 5}]))
            ]
        },
        angle([hole("a1")]),
        angle([hole("a1")], section=L90.model_copy(update={"thickness_mm": 10.01})),
        (
            "steel-too-thick-for-tool",
            "hole a1 goes through 10.01 mm, more than the 10 mm that tool 4 takes in S275",
        ),
    ),
    "too thick for the tool in any grade": (
        {
            "stations": [
                punch(tool(thickness_limits=[{"grade": "S275", "most_mm": 20}, {"most_mm": 10}]))
            ]
        },
        angle([hole("a1")]),
        angle([hole("a1")], grade="S355", section=L90.model_copy(update={"thickness_mm": 10.01})),
        (
            "steel-too-thick-for-tool",
            "hole a1 goes through 10.01 mm, more than the 10 mm that tool 4 takes",
        ),
    ),
    "die in the other leg": (
        {"stations": [punch(clearances={"die_to_other_leg_mm": 29})]},
        angle([hole("a1")]),
        angle([hole("a1", y=49.99)]),
        (
            "hole-too-near-other-leg",
            (
                "the edge of hole a1 is 28.99 mm from the inside of the other leg, less than the"
                " 29 mm that the die of station P1 needs"
            ),
        ),
    ),
    "stripper in the other leg": (
        {
            "stations": [
                punch(
                    enters="inside",
                    clearances={"die_to_other_leg_mm": 99, "stripper_to_other_leg_mm": 29},
                )
            ]
        },
        angle([hole("a1")]),
        angle([hole("a1", y=49.99)]),
        (
            "hole-too-near-other-leg",
            (
                "the edge of hole a1 is 28.99 mm from the inside of the other leg, less than the"
                " 29 mm that the stripper of station P1 needs"
            ),
        ),
    ),
    "foot of a drill in the other leg": (
        {"stations": [drill(enters="inside", clearances={"stripper_to_other_leg_mm": 29})]},
        angle([hole("a1")]),
        angle([hole("a1", y=49.99)]),
        (
            "hole-too-near-other-leg",
            (
                "the edge of hole a1 is 28.99 mm from the inside of the other leg, less than the"
                " 29 mm that the drill's foot of station D1 needs"
            ),
        ),
    ),
    "toe too thin for the die": (
        {"stations": [punch(clearances={"die_to_edge_mm": 29})]},
        angle([hole("a1")]),
        angle([hole("a1", y=50.01)]),
        (
            "edge-thin-for-die",
            (
                "the edge of hole a1 is 28.99 mm from the toe, less than the 29 mm that the die of"
                " station P1 needs"
            ),
        ),
    ),
    "lower edge of a flat too thin for the die": (
        {"stations": [punch(clearances={"die_to_edge_mm": 29})]},
        flat(hole("f1", y=40.0)),
        flat(hole("f1", y=39.99)),
        (
            "edge-thin-for-die",
            (
                "the edge of hole f1 is 28.99 mm from the lower edge, less than the 29 mm that the"
                " die of station P1 needs"
            ),
        ),
    ),
    "web too thin for the die": (
        {"stations": [punch(clearances={"die_to_hole_mm": 10, "stripper_to_hole_mm": 6})]},
        angle([hole("a1", x=100.0), hole("a2", x=132.0)]),
        angle([hole("a1", x=100.0), hole("a2", x=131.99)]),
        (
            "web-thin-for-die",
            "hole a2 leaves 9.99 mm to hole a1, less than the 10 mm that station P1 needs",
        ),
    ),
    "web too thin for the stripper": (
        {"stations": [punch(clearances={"die_to_hole_mm": 6, "stripper_to_hole_mm": 10})]},
        angle([hole("a1", y=30.0), hole("a2", y=62.0)]),
        angle([hole("a1", y=30.0), hole("a2", y=61.99)]),
        (
            "web-thin-for-die",
            "hole a2 leaves 9.99 mm to hole a1, less than the 10 mm that station P1 needs",
        ),
    ),
    "hole near the start": (
        {"stations": [punch()], "cut_off": {**SHEAR, "least_hole_to_cut_mm": 15}},
        angle([hole("a1", x=26.0)]),
        angle([hole("a1", x=25.99)]),
        (
            "hole-near-shear",
            (
                "the edge of hole a1 is 14.99 mm from the start end, less than the 15 mm that the"
                " shear needs"
            ),
        ),
    ),
    "slot near the far end": (
        {"stations": [punch(oblong())], "cut_off": {**SHEAR, "least_hole_to_cut_mm": 15}},
        angle(b=[slot("b1", x=373.0)]),
        angle(b=[slot("b1", x=373.01)]),
        (
            "hole-near-shear",
            (
                "the edge of slot b1 is 14.99 mm from the far end, less than the 15 mm that the"
                " shear needs"
            ),
        ),
    ),
    "hole near a mitred cut": (
        {
            "stations": [punch()],
            "cut_off": {**SHEAR, "least_hole_to_cut_mm": 15, "angles": {**ONE_SIDE}},
        },
        # The cut runs from x = 310 at the heel to 400 at the toe, at 45 degrees.
        angle([hole("a1", x=323.23)], ends=mitred(45.0)),
        angle([hole("a1", x=323.25)], ends=mitred(45.0)),
        (
            "hole-near-shear",
            (
                "the edge of hole a1 is 14.986 mm from the far end, less than the 15 mm that the"
                " shear needs"
            ),
        ),
    ),
    "section too large for the shear": (
        # t (a + b - t) + (1 - pi / 4) r^2 = 1700 + 25.967 mm2, the closed form of EN 10056-1
        {"cut_off": {**SHEAR, "capacities": [{"area_mm2": 1726}]}},
        angle(),
        angle(section=L90.model_copy(update={"thickness_mm": 10.01})),
        (
            "shear-overloaded",
            "the section has 1727.57 mm2, more than the 1726 mm2 that the shear parts",
        ),
    ),
    "grade too strong for the shear": (
        {
            "cut_off": {
                **SHEAR,
                "capacities": [{"grade": "S355", "area_mm2": 1500}, {"area_mm2": 2000}],
            }
        },
        angle(),
        angle(grade="S355JR"),
        (
            "shear-overloaded",
            "the section has 1725.97 mm2, more than the 1500 mm2 that the shear parts in S355",
        ),
    ),
    "mitre on a square shear": (
        {"cut_off": SHEAR},
        angle(ends=mitred(0.004)),
        angle(ends=mitred(0.01)),
        (
            "mitre-on-square-shear",
            "the far end is cut at 0.01 deg on leg a, the shear only cuts square",
        ),
    ),
    "mitre on a square saw": (
        {"cut_off": SAW},
        angle(),
        angle(ends=mitred(15.0, leg="b")),
        (
            "cut-angle-out-of-range",
            (
                "the cut of the far end is swung -15 deg on the right side, the saw goes from 0 to"
                " 0 deg there"
            ),
        ),
    ),
    "mitre beyond the saw": (
        {"cut_off": {**SAW, "angles": ONE_SIDE}},
        # Long at the toe: -45 would be the swing at the trailing end, +45 at the leading one.
        angle(ends=mitred(45.0)),
        angle(ends=mitred(45.01)),
        (
            "cut-angle-out-of-range",
            (
                "the cut of the far end is swung -45.01 deg on the left side, the saw goes from"
                " -30 to 45 deg there"
            ),
        ),
    ),
    "mitre on both legs": (
        {"cut_off": {**SAW, "angles": ONE_SIDE}},
        angle(ends=AngleEnds(far=AngleEnd(leg_a_deg=10.0), start=AngleEnd(leg_b_deg=10.0))),
        angle(ends=AngleEnds(far=AngleEnd(leg_a_deg=10.0, leg_b_deg=-5.0))),
        (
            "cut-angle-out-of-range",
            (
                "the far end is cut at 10 deg on leg a and -5 deg on leg b, the saw is swung on one"
                " side at a time"
            ),
        ),
    ),
    "hole at the dead end": (
        {"stations": [drill()], "grip": {"tail_mm": 150}},
        angle([hole("a1", x=60.0), hole("a2", x=250.0)]),
        angle([hole("a1", x=60.0), hole("a2", x=250.01)]),
        (
            "hole-in-dead-end",
            (
                "hole a2 is 149.99 mm from the trailing end, less than the 150 mm that can't be"
                " brought under the tools"
            ),
        ),
    ),
    "hand work not offered": (
        {"second_work": []},
        angle(),
        angle(trims=[Cope(end="start", side="toe", along_mm=50.0, across_mm=25.0)]),
        (
            "second-work-not-offered",
            (
                "the cope at the start end of leg a is cut by hand, which is no second work of this"
                " machine"
            ),
        ),
    ),
    # notes
    "letters of another height": (
        {"marker": MARKER},
        angle([stamp("a1", height=10.05)]),
        angle([stamp("a1", height=10.06)]),
        (
            "stamp-height-not-set",
            "stamp a1 is 10.06 mm high, the nearest letters of the marker are 10 mm",
        ),
    ),
    "letters that are missing": (
        {"marker": MARKER},
        angle([stamp("a1", text="TQ 7")]),
        angle([stamp("a1", text="TQ-7/1-2")]),
        ("stamp-letter-missing", "stamp a1 needs - /, which the marker does not have"),
    ),
    "letters of the mark that are missing": (
        {"marker": MARKER},
        angle([stamp("a1")]),
        angle([stamp("a1")], mark="A1.2"),
        ("stamp-letter-missing", "stamp a1 needs ., which the marker does not have"),
    ),
    "stamp too near the heel": (
        {"marker": MARKER},
        angle([stamp("a1", near=20.0)]),
        angle([stamp("a1", near=19.99)]),
        (
            "stamp-out-of-reach",
            "stamp a1 is 19.99 mm from the heel, less than the 20 mm that the marker reaches",
        ),
    ),
    "stamp upside down too near the heel": (
        # The letters hang from their point towards the heel when they read backwards.
        {"marker": MARKER},
        angle([stamp("a1", near=30.0, angle_deg=180.0)]),
        angle([stamp("a1", near=29.99, angle_deg=180.0)]),
        (
            "stamp-out-of-reach",
            "stamp a1 is 19.99 mm from the heel, less than the 20 mm that the marker reaches",
        ),
    ),
    "stamp near a hole": (
        {"stations": [drill()], "marker": MARKER},
        angle([hole("a1"), stamp("a2", x=216.0, near=45.0)]),
        angle([hole("a1"), stamp("a2", x=215.99, near=45.0)]),
        (
            "stamp-crowded",
            (
                "the letters of stamp a2 are 4.99 mm from hole a1, less than the 5 mm that the"
                " marker needs"
            ),
        ),
    ),
    "stamp near an end": (
        {"marker": MARKER},
        angle([stamp("a1", x=383.0)]),
        angle([stamp("a1", x=383.01)]),
        (
            "stamp-crowded",
            (
                "the letters of stamp a1 are 4.99 mm from the far end, less than the 5 mm that the"
                " marker needs"
            ),
        ),
    ),
    "stamp across the bar": (
        {"marker": MARKER},
        angle([stamp("a1", angle_deg=180.0)]),
        angle([stamp("a1", angle_deg=90.0)]),
        ("stamp-without-marker", "stamp a1 reads at 90 deg, the marker only along the bar"),
    ),
    "no marker": (
        {},
        angle(),
        angle([stamp("a1")]),
        ("stamp-without-marker", "stamp a1 is struck by hand: the machine has no marker"),
    ),
    "tool in the crib": (
        {"stations": [punch(tool(), tool("9", 26.0, place="crib", change_time_s=240))]},
        angle([hole("a1")]),
        angle([hole("a1", diameter=26.0), hole("a2", x=100.0, diameter=26.0)]),
        ("tool-in-crib", "tool 9 (26 mm) of station P1 is in the crib, 240 s to change"),
    ),
}


@pytest.mark.parametrize(("fields", "inside", "outside", "expected"), LIMITS.values(), ids=LIMITS)
def test_just_inside_and_just_outside(fields, inside, outside, expected):
    one = machine(**fields)
    assert said(one, inside) == (
        [("second-work-needed", "hole a1 is reamed to 22 mm by hand after the machine")]
        if "reamed" in expected[1]
        else []
    )
    assert said(one, outside) == [expected]


def test_a_value_and_its_limit_are_told_with_their_unit():
    one = machine(stations=[punch(from_heel={"least_mm": 50})])
    (reason,) = capable(one, angle([hole("a1", y=49.99)])).reasons
    assert (reason.element, reason.value, reason.limit, reason.unit) == (
        "legs.a.a1",
        49.99,
        50.0,
        "mm",
    )
    assert reason.severity is Severity.ERROR


NC_ROUNDING = {
    "gauge": ({"stations": [punch(from_heel={"least_mm": 50.8})]}, [hole("a1", y=50.796)]),
    "size": ({"stations": [punch(tool("2", 20.6375))]}, [hole("a1", diameter=20.64)]),
}


@pytest.mark.parametrize(("fields", "features"), NC_ROUNDING.values(), ids=NC_ROUNDING)
def test_what_an_nc_file_rounded_is_no_fault(fields, features):
    assert said(machine(**fields), angle(features)) == []


HAND = {
    "clip": (
        [Clip(end="far", side="toe", along_mm=20.0, across_mm=20.0)],
        "clip at the far end of leg a",
    ),
    "rounding": (
        [Rounding(end="far", side="toe", radius_mm=20.0)],
        "rounding at the far end of leg a",
    ),
    "notch": (
        [Notch(side="toe", x_from_mm=100.0, x_to_mm=150.0, across_mm=20.0)],
        "notch at 100 mm of leg a",
    ),
    "outline": (
        [
            OutlineTrim(
                contour=tuple(
                    Vertex(x_mm=x, y_mm=y)
                    for x, y in (
                        (0.0, 0.0),
                        (400.0, 0.0),
                        (400.0, 70.0),
                        (350.0, 90.0),
                        (0.0, 90.0),
                    )
                )
            )
        ],
        "outline of leg a",
    ),
}


@pytest.mark.parametrize(("trims", "name"), HAND.values(), ids=HAND)
def test_cuts_of_the_outline_are_second_work(trims, name):
    found = capable(machine(), angle(trims=trims))
    assert found.verdict == "with second work"
    assert found.second_work == (name,)
    assert [(r.rule, r.message, r.severity.value, r.element) for r in found.reasons] == [
        (
            "second-work-needed",
            f"the {name} is cut by hand after the machine",
            "note",
            "legs.a.trims.0",
        )
    ]


def test_work_on_features_is_second_work():
    features = [
        square("a1", 20.0, 40.0, 20.0),
        Scribe(id="a2", line=(Vertex(x_mm=0.0, y_mm=40.0), Vertex(x_mm=400.0, y_mm=40.0))),
        hole("a3", countersink_diameter_mm=40.0),
        hole("a4", x=300.0, thread="right"),
        hole("a5", x=350.0, process="sub-punch-and-ream"),
    ]
    one = machine(stations=[punch(tool(), tool("3", 18.0))])
    found = capable(one, angle(features, second_work=("galvanize",)))
    assert [r.message for r in found.reasons] == [
        "opening a1 is cut out by hand after the machine",
        "scribed line a2 is drawn by hand after the machine",
        "hole a3 is countersunk by hand after the machine",
        "hole a4 is drilled and tapped by hand after the machine",
        "hole a5 is reamed to 22 mm by hand after the machine",
        'the part asks for "galvanize", which is done by hand after the machine',
    ]
    assert found.second_work == (
        "opening a1",
        "scribed line a2",
        "countersink of hole a3",
        "tapping of hole a4",
        "reaming of hole a5",
        "galvanize",
    )
    assert [(way.feature, way.tool) for way in found.ways] == [("a3", "4"), ("a5", "3")]


def test_what_the_shop_makes_by_hand_is_no_plain_no():
    one = machine(second_work=["hole", "slot", "mitre"], cut_off=SHEAR, stations=[punch()])
    part = angle([hole("a1", diameter=30.0), slot("a2", x=100.0)], ends=mitred(15.0, end="start"))
    found = capable(one, part)
    assert found.verdict == "with second work"
    assert found.second_work == ("hole a1", "slot a2", "mitre of the start end")
    assert [r.message for r in found.reasons] == [
        (
            "hole a1 is made by hand after the machine; on the machine hole a1 is 30 mm, the"
            " nearest tool on the left side is 22 mm (4)"
        ),
        (
            "slot a2 is made by hand after the machine; on the machine slot a2 is 18 x 24 mm, no"
            " tool on the left side makes it"
        ),
        (
            "the start end is cut to its mitre by hand after the machine; the start end is cut at"
            " 15 deg on leg a, the shear only cuts square"
        ),
    ]


MARKS = {
    "a drill spots": ([drill()], "", "D1"),
    "a centre punch": ([punch(tool(), {"number": "8", "shape": "centre"})], "8", "P1"),
}


@pytest.mark.parametrize(("stations", "number", "name"), MARKS.values(), ids=MARKS)
def test_centres_are_marked(stations, number, name):
    part = angle(
        [CentreMark(id="a1", x_mm=60.0, y_mm=50.0), hole("a2", diameter=99.0, process="mark-only")]
    )
    found = capable(machine(stations=stations), part)
    assert found.verdict == "complete"
    assert [(w.feature, w.station, w.tool, w.process) for w in found.ways] == [
        ("a1", name, number, "mark"),
        ("a2", name, number, "mark"),
    ]


def test_a_mark_that_nothing_makes_is_a_note():
    part = angle([CentreMark(id="a1", x_mm=60.0, y_mm=50.0), hole("a2", process="mark-only")])
    found = capable(machine(stations=[punch()]), part)
    assert found.verdict == "with second work"
    assert [(r.rule, r.severity.value, r.message) for r in found.reasons] == [
        (
            "mark-without-tool",
            "note",
            "the centre mark a1 is marked by hand: no station of the left side marks it on leg a",
        ),
        (
            "mark-without-tool",
            "note",
            (
                "the centre of hole a2 is marked by hand: no station of the left side marks it on"
                " leg a"
            ),
        ),
    ]


def test_a_stamp_that_may_move_is_not_held_to_its_place():
    one = machine(marker=MARKER, stations=[drill()])
    crowded = [hole("a1"), stamp("a2", near=5.0, may_move=True)]
    assert said(one, angle(crowded)) == []


def test_drilled_holes_need_no_web_and_no_edge_for_a_die():
    clearances = {"die_to_hole_mm": 50, "die_to_edge_mm": 50, "die_to_other_leg_mm": 50}
    one = machine(stations=[drill(clearances=clearances)])
    assert said(one, angle([hole("a1", x=100.0), hole("a2", x=125.0)])) == []


def test_holes_of_both_legs_share_no_web():
    one = machine(stations=[punch(clearances={"die_to_hole_mm": 50})])
    assert said(one, angle([hole("a1")], [hole("b1")])) == []


def test_a_machine_that_does_not_cut_asks_nothing_of_the_ends():
    assert said(machine(), angle(ends=mitred(60.0))) == []


def test_a_mitre_that_is_sawn_afterwards_is_sheared_square_first():
    cut = {**SHEAR, "least_hole_to_cut_mm": 15}
    one = machine(stations=[punch()], cut_off=cut, second_work=["mitre"])
    # At y = 50 the mitre is 40 mm short of the toe's end, the hole 15 mm off the square cut.
    part = angle([hole("a1", x=374.0)], ends=mitred(45.0))
    assert [rule for rule, _ in said(one, part)] == ["second-work-needed"]
    nearer = angle([hole("a1", x=374.01)], ends=mitred(45.0))
    assert [rule for rule, _ in said(one, nearer)] == ["hole-near-shear", "second-work-needed"]


def test_a_flat_mitred_beyond_the_saw():
    swing = {"least_deg": -30, "most_deg": 45}
    one = machine(flats={"side": "left"}, cut_off={**SAW, "angles": {"left": swing}})
    # Lying on the left with the start end leading, the lower edge is at the heel's place: the
    # trailing end would be swung -40; with the far end leading the flat lies the other way.
    assert said(one, flat(ends=FlatEnds(far=FlatEnd(face_deg=40.0)))) == [
        (
            "cut-angle-out-of-range",
            (
                "the cut of the far end is swung -40 deg on the left side, the saw goes from -30"
                " to 45 deg there"
            ),
        )
    ]
    assert said(one, flat(ends=FlatEnds(far=FlatEnd(face_deg=-40.0)))) == []
