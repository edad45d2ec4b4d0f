"""How a part lies in a machine, what is tried, and the load on the press."""

import math
import re
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from machine_parts import (
    BOTH,
    FB100,
    L90,
    angle,
    drill,
    flat,
    hole,
    machine,
    oblong,
    punch,
    read,
    said,
    slot,
    stamp,
    tool,
)
from pydantic import ValidationError
from strategies import parts

from translator.findings import Severity
from translator.geometry.ends import end_x
from translator.geometry.frames import solid_point
from translator.geometry.turning import mirrored, turned
from translator.machines import Placement, capable
from translator.machines.handling import leg_a_side
from translator.machines.lay import lay
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    FlatEnd,
    FlatEnds,
    leg_names,
    slot_direction,
)
from translator.rules import rules
from translator.tables.grades import strength

SAMPLES = Path(__file__).parent.parent / "samples" / "machines"
NAMES = ("punch-and-drill-line", "drill-and-saw-line", "hand-bench")
SLOW = settings(
    max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True
)


def sample(name):
    made, findings = read((SAMPLES / f"{name}.machine.json").read_bytes())
    assert findings == ()
    return made


SLANTED = {
    "stations": [
        punch(
            *(oblong(str(n), 10.0 + n, 20.0 + n, angle_deg=30.0) for n in range(20)), side="left"
        ),
        drill(tool(), side="right", enters="inside"),
    ],
    "cut_off": {
        "kind": "saw",
        "kerf_mm": 5,
        "angles": {
            "left": {"least_deg": -20, "most_deg": 45},
            "right": {"least_deg": -45, "most_deg": 10},
        },
    },
    "marker": {"side": "left", "heights_mm": [10], "from_heel": {"least_mm": 20, "most_mm": 60}},
}
MACHINES = {name: sample(name) for name in NAMES} | {"slanted": machine(**SLANTED)}


# How a bar lies, proved on the solid


def cross(p, q):
    return (p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0])


def dot(p, q):
    return sum(a * b for a, b in zip(p, q, strict=True))


def travel(lead_end):
    """The way the bar travels in the part's solid: towards the end that leads."""
    return (-1.0, 0.0, 0.0) if lead_end == "start" else (1.0, 0.0, 0.0)


@pytest.mark.parametrize("lead_end", ["start", "far"])
@pytest.mark.parametrize("heel", ["down", "up"])
def test_the_side_of_leg_a_follows_from_the_solid(lead_end, heel):
    toe_a, toe_b = solid_point("a", 0.0, 1.0), solid_point("b", 0.0, 1.0)
    up = tuple(
        (a + b) * (1.0 if heel == "down" else -1.0) for a, b in zip(toe_a, toe_b, strict=True)
    )
    right = cross(travel(lead_end), up)
    side = "right" if dot(right, toe_a) > 0.0 else "left"
    assert dot(right, toe_a) == -dot(right, toe_b) != 0.0
    assert leg_a_side(lead_end, heel) == side
    assert Placement(lead_end=lead_end, heel=heel, leg_a=side)
    with pytest.raises(ValidationError, match="mirror image"):
        Placement(lead_end=lead_end, heel=heel, leg_a={"left": "right", "right": "left"}[side])


@pytest.mark.parametrize("number", [0, 1])
@pytest.mark.parametrize("degrees", [0.0, 90.0, 30.0, -60.0])
def test_directions_follow_from_the_solid(number, degrees):
    """A slot's direction from the way of travel towards the toe, on legs and on a flat."""
    for part in (angle(), flat()):
        one = machine(flats={"side": "left"})
        laid = lay(one, part, one.placements[number])
        way = travel(laid.placement.lead_end)
        for leg, own in laid.legs.items():
            toe = solid_point(leg, 0.0, -1.0 if own.is_flipped else 1.0)
            along = solid_point(
                leg, math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
            )
            expected = math.degrees(math.atan2(dot(along, toe), dot(along, way)))
            assert own.direction(degrees) == pytest.approx(slot_direction(expected), abs=1e-6)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("number", [0, 1])
def test_a_flat_lies_as_the_leg_of_that_side_does(side, number):
    """Outer face outwards: toe, outer face and travel have the hand of the leg on that side."""
    one = machine(flats={"side": side})
    laid = lay(one, flat(), one.placements[number])
    own = laid.legs["face"]
    legs = lay(one, angle(), one.placements[number]).legs
    (leg,) = (leg for leg, lies in legs.items() if lies.side == side)

    def hand(name, toe_sign):
        toe = solid_point(name, 0.0, toe_sign)
        outward = tuple(-v for v in solid_point(name, 0.0, 0.0, 1.0))
        return dot(travel(laid.placement.lead_end), cross(toe, outward))

    assert own.side == side
    assert hand("face", -1.0 if own.is_flipped else 1.0) == hand(leg, 1.0)
    assert own.from_heel(30.0) == (70.0 if own.is_flipped else 30.0)


@pytest.mark.parametrize("end", ["start", "far"])
@pytest.mark.parametrize("number", [0, 1])
@pytest.mark.parametrize("kind", ["a", "b", "face"])
def test_the_swing_of_a_cut_follows_from_the_solid(kind, number, end):
    """Positive: the cut lies farther the way the bar travels at the toe than at the heel."""
    if kind == "face":
        part = flat(ends=FlatEnds(**{end: FlatEnd(face_deg=25.0)}))
    else:
        part = angle(ends=AngleEnds(**{end: AngleEnd(**{f"leg_{kind}_deg": 25.0})}))
    raw = {"flats": {"side": "left"}, "cut_off": {"kind": "saw", "kerf_mm": 5}}
    placements = [BOTH[number]]
    one = machine(**raw, placements=placements)
    own = lay(one, part, one.placements[0]).legs[kind]
    near, across = (own.width, 0.0) if own.is_flipped else (0.0, own.width)
    at_heel, at_toe = (solid_point(kind, end_x(part, end, kind, y), y) for y in (near, across))
    line = tuple(q - p for p, q in zip(at_heel, at_toe, strict=True))
    toe = solid_point(kind, 0.0, across - near)
    swing = math.degrees(
        math.atan2(dot(line, travel(BOTH[number]["lead_end"])), dot(line, toe) / own.width)
    )
    (reason,) = capable(one, part).reasons
    assert reason.rule == "cut-angle-out-of-range"
    assert reason.value == pytest.approx(swing, abs=1e-6)
    assert abs(swing) == pytest.approx(25.0, abs=1e-6)


def rules_of(capability):
    return sorted((r.rule, r.severity.value) for r in capability.reasons)


@given(part=parts())
@SLOW
@pytest.mark.parametrize("name", MACHINES)
def test_a_piece_turned_end_for_end_is_the_same_piece(name, part):
    """Both feeds are tried, so the way a piece is drawn changes nothing."""
    line, other = MACHINES[name], turned(part)
    assert capable(line, part).verdict == capable(line, other).verdict
    start, far = (line.model_copy(update={"placements": (one,)}) for one in line.placements)
    for one, two in ((start, far), (far, start)):
        assert rules_of(capable(one, part)) == rules_of(capable(two, other))


def mirror_image(one):
    """The same machine seen in a mirror that stands along the way of travel."""
    other = {"left": "right", "right": "left", "both": "both"}
    ends = {"start": "far", "far": "start"}
    raw = one.model_dump()
    for placement in raw["placements"]:
        placement |= {
            "lead_end": ends[placement["lead_end"]],
            "leg_a": other[placement["leg_a"]],
        }
    for holder in (*raw["stations"], raw["flats"], raw["marker"], raw["grip"]):
        if holder is not None:
            holder["side"] = other[holder["side"]]
    angles = raw["cut_off"]["angles"]
    if angles is not None:
        angles |= {"left": angles["right"], "right": angles["left"]}
    return type(one).model_validate(raw)


@given(part=parts())
@SLOW
@pytest.mark.parametrize("name", MACHINES)
def test_the_opposite_hand_on_the_mirrored_machine(name, part):
    """Whatever sign a side, a swing or a direction has: a mirror must not change the verdict."""
    one = capable(MACHINES[name], part)
    two = capable(mirror_image(MACHINES[name]), mirrored(part))
    assert one.verdict == two.verdict
    assert rules_of(one) == rules_of(two)


# What is tried


LINE = {"stations": [punch(tool(), oblong(angle_deg=90), side="left"), drill(side="right")]}


FEEDS = {
    "drilled on leg a": (angle([hole("a1", process="drill")]), "complete", "far"),
    "drilled on leg b": (angle(b=[hole("b1", process="drill")]), "complete", "start"),
    "slot on leg a": (angle([slot("a1", angle_deg=90.0)]), "complete", "start"),
    "slot on leg b": (angle(b=[slot("b1", angle_deg=90.0)]), "complete", "far"),
    "either": (angle([hole("a1")], [hole("b1")]), "complete", "start"),
    "drilled on both": (
        angle([hole("a1", process="drill")], [hole("b1", process="drill")]),
        "not",
        "start",
    ),
    "slots on both": (
        angle([slot("a1", angle_deg=90.0)], [slot("b1", angle_deg=90.0)]),
        "not",
        "start",
    ),
    "slot and punched on one side": (
        angle([slot("a1", angle_deg=90.0)], [hole("b1", process="punch")]),
        "not",
        "start",
    ),
}


@pytest.mark.parametrize(("part", "verdict", "lead_end"), FEEDS.values(), ids=FEEDS)
def test_both_feeds_are_tried(part, verdict, lead_end):
    found = capable(machine(**LINE), part)
    assert (found.verdict, found.feed.lead_end) == (verdict, lead_end)


def test_one_feed_only_where_the_profile_names_one():
    one = machine(**LINE, placements=[{"lead_end": "start", "leg_a": "left"}])
    part = angle([hole("a1", process="drill")])
    assert said(one, part) == [
        (
            "leg-process-mismatch",
            "hole a1 is to be drilled, but leg a lies left, where holes are only punched",
        )
    ]


def test_heel_up_serves_where_the_profile_allows_it():
    placements = [{"lead_end": "start", "heel": heel, "leg_a": side} for heel, side in HEELS]
    one = machine(**LINE, placements=placements)
    found = capable(one, angle([hole("a1", process="drill")]))
    assert (found.verdict, found.feed.heel, found.feed.leg_a) == ("complete", "up", "right")


HEELS = (("down", "left"), ("up", "right"))

MISMATCHES = {
    "punched where holes are drilled": (
        {"stations": [drill()]},
        hole("a1", process="punch"),
        "hole a1 is to be punched, but leg a lies left, where holes are only drilled",
    ),
    "blind where holes are punched": (
        {"stations": [punch()]},
        hole("a1", depth_mm=6.0),
        "hole a1 is 6 mm deep, not through, but leg a lies left, where holes are only punched",
    ),
    "blind where drills come from inside": (
        {"stations": [drill(enters="inside")]},
        hole("a1", depth_mm=6.0),
        (
            "hole a1 is 6 mm deep, not through, but leg a lies left, where holes are not drilled"
            " from outside"
        ),
    ),
    "where the machine makes nothing": (
        {"stations": []},
        hole("a1"),
        "hole a1 can't be made: leg a lies left, where the machine makes no holes",
    ),
}


@pytest.mark.parametrize(("fields", "feature", "message"), MISMATCHES.values(), ids=MISMATCHES)
def test_a_process_that_the_leg_does_not_have(fields, feature, message):
    assert said(machine(**fields), angle([feature])) == [("leg-process-mismatch", message)]


def test_a_hole_that_may_be_sub_punched_may_be_drilled():
    """UFGS-05055A 2.2.3: drilled, or sub-punched and reamed."""
    found = capable(machine(stations=[drill()]), angle([hole("a1", process="sub-punch-and-ream")]))
    assert (found.verdict, found.reasons) == ("complete", ())


def test_the_tool_that_breaks_no_limit_is_taken():
    small = punch(name="P1", from_heel={"most_mm": 40})
    large = punch(tool("9"), name="P2", from_heel={"least_mm": 40})
    one = machine(stations=[small, large])
    found = capable(one, angle([hole("a1", x=60.0, y=35.0), hole("a2")]))
    assert found.verdict == "complete"
    assert [(w.leg, w.feature, w.station, w.tool, w.hits) for w in found.ways] == [
        ("a", "a1", "P1", "4", 1),
        ("a", "a2", "P2", "9", 1),
    ]


def test_a_loaded_tool_is_taken_before_one_in_the_crib():
    one = machine(stations=[punch(tool("1", place="crib"), tool("2"))])
    found = capable(one, angle([hole("a1")]))
    assert [w.tool for w in found.ways] == ["2"]
    assert found.reasons == ()


def test_a_feed_that_needs_no_crib_is_taken_first():
    stations = [punch(tool("1", place="crib"), side="left"), drill(side="right")]
    found = capable(machine(stations=stations), angle([hole("a1")]))
    assert (found.feed.lead_end, found.reasons) == ("far", ())


def test_a_slot_in_several_hits_counts_them():
    """Each hit moves on by half the tool: 30 mm of way with 20 mm of tool are three and one."""
    one = machine(stations=[punch(tool("1", 20.0, several_hits=True))])
    found = capable(one, angle([slot("a1", width=20.0, length=50.0)]))
    assert [(w.tool, w.hits) for w in found.ways] == [("1", 4)]


TURNED_TOOLS = {
    "along leg a": ("a", 30.0, -30.0, "start"),
    "along leg a, from the far end": ("a", 30.0, 30.0, "far"),
    "along leg b": ("b", 30.0, -30.0, "start"),
    "along leg b, from the far end": ("b", 30.0, 30.0, "far"),
}


@pytest.mark.parametrize(("leg", "turn", "stands", "feed"), TURNED_TOOLS.values(), ids=TURNED_TOOLS)
def test_a_slanted_slot_needs_the_feed_that_fits_its_tool(leg, turn, stands, feed):
    one = machine(stations=[punch(oblong(angle_deg=stands))])
    feature = slot(f"{leg}1", angle_deg=turn)
    found = capable(one, angle(**{leg: [feature]}))
    assert (found.verdict, found.feed.lead_end) == ("complete", feed)


def test_a_tool_that_turns_serves_every_direction():
    one = machine(stations=[punch(oblong(turns=True))])
    assert said(one, angle([slot("a1", angle_deg=17.0)])) == []


def test_the_first_reason_or_the_work_that_is_left():
    one = machine(stations=[punch()], marker={"side": "left", "heights_mm": [10]})
    assert capable(one, angle()).why == ""
    both = capable(one, angle([stamp("a1")], [stamp("b1")]))
    assert (both.verdict, both.why, both.second_work) == (
        "with second work",
        "stamp b1",
        ("stamp b1",),
    )
    fault = capable(one, angle([stamp("a1"), hole("a2", diameter=9.0)]))
    assert fault.why == "hole a2 is 9 mm, the nearest tool on the left side is 22 mm (4)"


def test_a_section_that_is_not_taken_is_said_alone():
    one = machine(flats=None, stations=[])
    assert said(one, flat(hole("f1"))) == [
        ("section-not-taken", "the section is a flat, the machine takes none")
    ]


# The load on the press

PRESSED = {
    # Strength of Materials (classic textbook), problem 115
    "20 mm in 25 mm at 350 MPa": (20.0, 25.0, 350.0, 549.8, 0.0005),
    # exam question bank
    "20 mm in 1.5 mm at 300 MPa": (20.0, 1.5, 300.0, 28.3, 0.002),
    # physics textbook problem, blog page with solution
    "10 mm in 5 mm at 276 MPa": (10.0, 5.0, 276.0, 43.353, 0.0005),
    # worked example on a calculator page
    "10 mm in 3 mm at 350 MPa": (10.0, 3.0, 350.0, 32.986, 0.0005),
    # worked example, printed as 200 kN
    "14.6 mm in 12.7 mm at 345 MPa": (14.6, 12.7, 345.0, 200.0, 0.006),
}


@pytest.mark.parametrize(
    ("diameter", "thickness", "tau", "published", "tolerance"), PRESSED.values(), ids=PRESSED
)
def test_the_load_of_published_examples(diameter, thickness, tau, published, tolerance):
    one = machine(
        stations=[punch(tool("1", diameter), force_kn=1.0, shear_factor=0.5)],
        steels=[{"grade": "example", "tensile_most_mpa": 2.0 * tau}],
    )
    section = FB100.model_copy(update={"thickness_mm": thickness})
    part = flat(hole("f1", diameter=diameter), section=section, grade="example")
    (reason,) = capable(one, part).reasons
    assert reason.rule == "punch-overloaded"
    assert reason.unit == "kN"
    assert reason.value == pytest.approx(published, rel=tolerance)


def test_a_slot_loads_the_press_by_its_whole_outline():
    """Perimeter 2 (24 - 18) + 18 pi = 68.549 mm; times 10 mm times 0.5 x 1000 MPa."""
    one = machine(
        stations=[punch(oblong(turns=True), force_kn=1.0, shear_factor=0.5)],
        steels=[{"grade": "example", "tensile_most_mpa": 1000.0}],
    )
    (reason,) = capable(one, angle([slot("a1")], grade="example")).reasons
    assert reason.value == pytest.approx(342.743, rel=1e-5)


LOADS = {
    # 22 mm in 10 mm of S275JR: the highest tensile strength is 560 MPa (EN 10025-2:2004 Table 7)
    "metric": ("mm", "S275JR", L90, 22.0, 290.28),
    # 13/16 in. in 3/8 in. of A36: 80 ksi, 551.58 MPa (ASTM A36)
    "inch": (
        "inch",
        "A36",
        Angle(leg_a_mm=101.6, leg_b_mm=88.9, thickness_mm=9.525, root_radius_mm=9.525),
        20.6375,
        255.47,
    ),
}


@pytest.mark.parametrize(
    ("units", "grade", "section", "diameter", "load"), LOADS.values(), ids=LOADS
)
def test_the_press_just_holds_and_just_does_not(units, grade, section, diameter, load):
    part = angle([hole("a1", diameter=diameter)], section=section, grade=grade, units=units)

    def of(force):
        return machine(
            stations=[punch(tool("1", diameter), name="P1", force_kn=force, shear_factor=0.75)]
        )

    assert said(of(load + 0.01), part) == []
    assert said(of(load - 0.01), part) == [
        (
            "punch-overloaded",
            (
                f"hole a1 needs {load} kN in {grade}, more than the {round(load - 0.01, 2)} kN of"
                " station P1"
            ),
        )
    ]


def test_a_hundredth_of_a_millimetre_of_steel_tips_the_press():
    one = machine(stations=[punch(force_kn=290.3, shear_factor=0.75)])
    thicker = L90.model_copy(update={"thickness_mm": 10.01})
    assert said(one, angle([hole("a1")])) == []
    assert [rule for rule, _ in said(one, angle([hole("a1")], section=thicker))] == [
        "punch-overloaded"
    ]


def test_a_strength_from_memory_only_warns():
    assert strength("A709-36", 10.0).source.is_from_memory
    one = machine(stations=[punch(force_kn=200.0, shear_factor=0.75)])
    found = capable(one, angle([hole("a1")], grade="A709-36"))
    (reason,) = found.reasons
    assert (reason.rule, reason.severity) == ("punch-overloaded", Severity.WARNING)
    assert reason.message == (
        "hole a1 needs 285.92 kN in A709-36, more than the 200 kN of station P1 (its highest"
        " tensile strength is from memory)"
    )
    assert found.verdict == "complete"


PRESS = {"stations": [punch(force_kn=400, shear_factor=0.75)]}

UNCHECKED = {
    "no grade": (
        PRESS,
        None,
        "the load on the press is not checked: no grade is stated",
    ),
    "a grade that no table has": (
        PRESS,
        "Domex 700",
        "the load on the press is not checked: the grade Domex 700 is not known",
    ),
    "a grade without a highest strength": (
        PRESS,
        "A572-50",
        (
            "the load on the press is not checked: the standard sets no highest tensile strength"
            " for A572-50"
        ),
    ),
    "a tool without a limit for the grade": (
        {"stations": [punch(tool(thickness_limits=[{"grade": "A36", "most_mm": 5}]))]},
        "S275JR",
        "tool 4 has no limit of thickness for S275JR: it is not checked",
    ),
    "a shear without a capacity for the grade": (
        {
            "stations": [punch()],
            "cut_off": {
                "kind": "shear",
                "cut": "single",
                "capacities": [{"grade": "A36", "area_mm2": 5}],
            },
        },
        None,
        "the shear has no capacity for a part without a grade: it is not checked",
    ),
}


@pytest.mark.parametrize(("fields", "grade", "message"), UNCHECKED.values(), ids=UNCHECKED)
def test_what_is_not_checked_is_said(fields, grade, message):
    found = capable(machine(**fields), angle([hole("a1")], grade=grade))
    assert found.unchecked == (message,)
    assert [(r.rule, r.severity, r.element) for r in found.reasons] == [
        ("load-not-checked", Severity.NOTE, "grade")
    ]
    assert found.verdict == "complete"


def test_nothing_is_said_of_a_grade_that_is_not_needed():
    assert said(machine(stations=[drill()]), angle([hole("a1")], grade=None)) == []
    assert said(machine(**PRESS), angle(grade=None)) == []


def test_an_assumed_grade_is_said():
    one = machine(**PRESS, assumed_grade="A36")
    found = capable(one, angle([hole("a1")], grade=None))
    assert found.unchecked == ("no grade is stated; A36 is assumed",)
    assert capable(one, angle([hole("a1")], grade="S275")).unchecked == ()
    heavy = machine(stations=[punch(force_kn=280, shear_factor=0.75)], assumed_grade="A36")
    assert [r.rule for r in capable(heavy, angle([hole("a1")], grade=None)).reasons] == [
        "punch-overloaded"
    ]


def test_the_shops_own_strength_goes_before_the_tables():
    steels = [{"grade": "A572-50", "tensile_most_mpa": 600}]
    one = machine(stations=[punch(force_kn=300, shear_factor=0.75)], steels=steels)
    found = capable(one, angle([hole("a1")], grade="A572 Gr. 50"))
    assert [(r.rule, round(r.value, 2)) for r in found.reasons] == [("punch-overloaded", 311.02)]


# The whole


def test_every_reason_has_its_rule_and_every_rule_its_reason():
    room = Path(__file__).parent.parent / "translator" / "machines"
    source = "".join(path.read_text(encoding="utf-8") for path in sorted(room.glob("*.py")))
    words = set(re.findall(r'"([a-z]+(?:-[a-z]+)+)"', source))
    named = {rule.name for rule in rules() if rule.scope == "machine"}
    assert len(named) == 30
    assert named <= words
    made = set(re.findall(r'(?:rule=|_note\(|_short_or_long\(\s*|part, )"([a-z-]+)"', source))
    made |= set(re.findall(r'rule="([a-z-]+)" if [a-z_]+ else "([a-z-]+)"', source)[0])
    assert made - {"field-missing", "field-wrong", "field-unknown", "start", "far"} == named


def test_reasons_point_at_elements_of_the_part():
    part = angle([hole("a1", diameter=9.0)], trims=[], length_mm=100.0)
    one = machine(
        piece_length={"least_mm": 200}, stations=[punch()], angles={"leg": {"most_mm": 50}}
    )
    assert [r.element for r in capable(one, part).reasons] == [
        "section",
        "section",
        "length",
        "legs.a.a1",
    ]


def test_faults_come_before_notes():
    part = angle([stamp("a1"), hole("a2", diameter=9.0)])
    severities = [r.severity for r in capable(machine(stations=[punch()]), part).reasons]
    assert severities == [Severity.ERROR, Severity.NOTE]


@given(part=parts())
@SLOW
def test_whatever_the_part_a_machine_answers(part):
    for one in MACHINES.values():
        before = part.model_dump_json()
        found = capable(one, part)
        assert part.model_dump_json() == before
        assert found == capable(one, part)
        faults = [r for r in found.reasons if r.severity is Severity.ERROR]
        assert (found.verdict == "not") == bool(faults)
        assert (found.verdict == "with second work") == (not faults and bool(found.second_work))
        assert {way.leg for way in found.ways} <= set(leg_names(part))


HOSTILE = {
    "all at one place": [hole(f"a{i}", y=50.0 + i % 7 * 1e-5) for i in range(3000)],
    "a column": [hole(f"a{i}", y=0.03 * (i + 1)) for i in range(3000)],
    "stamps and holes": [hole(f"a{i}", x=i / 10.0) for i in range(1500)]
    + [stamp(f"s{i}", x=i / 10.0) for i in range(1500)],
}


@pytest.mark.parametrize("features", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_part_takes_no_time(features):
    start = time.process_time()
    webs = {"die_to_hole_mm": 10, "stripper_to_hole_mm": 6}
    marker = {"side": "both", "heights_mm": [10], "keep_out_mm": 3}
    one = machine(stations=[punch(from_heel={"most_mm": 60}, clearances=webs)], marker=marker)
    found = capable(one, angle(features))
    assert time.process_time() - start < 5.0
    assert found.verdict == "not"


def test_pairs_that_were_not_compared_are_said():
    webs = {"die_to_hole_mm": 1, "stripper_to_hole_mm": 1}
    one = machine(
        stations=[punch(tool("1", 0.5), clearances=webs)],
        marker={"side": "both", "heights_mm": [10], "keep_out_mm": 1},
    )
    holes = [hole(f"a{i}", y=0.6 * i + 1.0, diameter=0.5) for i in range(145)]
    assert (
        "web-thin-for-die",
        "more than 10000 pairs of holes lie close together on leg a; the rest was not compared",
    ) in said(one, angle(holes))
    stamps = [stamp(f"s{i}", x=40.0) for i in range(70)]
    assert ("stamp-crowded", "70 stamps and 145 holes are on leg a, too many to compare") in said(
        one, angle([*holes, *stamps])
    )
