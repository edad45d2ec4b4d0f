"""Bars of one or a few pieces made by hand, for tests of bar programs."""

from bar_orders import NAMES, placed, shop

from translator.bars.plan_model import Drop, PlannedBar, PlannedCut, PlannedPiece
from translator.bars.program import program_of
from translator.machines.handling import BOTH_FEEDS
from translator.model import (
    Angle,
    AngleEnds,
    AngleLegs,
    Flat,
    FlatEnds,
    FlatLegs,
    Leg,
    Part,
)

PUNCHING, SAWING, BENCH = NAMES
START, FAR = BOTH_FEEDS
L90 = Angle(leg_a_mm=90.0, leg_b_mm=90.0, thickness_mm=9.0, root_radius_mm=11.0)
L100X75 = Angle(leg_a_mm=100.0, leg_b_mm=75.0, thickness_mm=9.0, root_radius_mm=10.0)


def part(a=(), b=(), **fields):
    given = {
        "mark": "W1",
        "grade": "S275JR",
        "length_mm": 300.0,
        "section": L90,
        "legs": AngleLegs(a=Leg(features=tuple(a)), b=Leg(features=tuple(b))),
        "ends": AngleEnds(),
    }
    return Part(**(given | fields))


def flat(*features, **fields):
    given = {
        "mark": "F1",
        "grade": "S275JR",
        "length_mm": 300.0,
        "section": Flat(width_mm=100.0, thickness_mm=10.0),
        "legs": FlatLegs(face=Leg(features=features)),
        "ends": FlatEnds(),
    }
    return Part(**(given | fields))


def piece(one, number=1, lead=10.0, placement=START, **more):
    given = {
        "number": number,
        "mark": one.mark,
        "index": number,
        "count": number,
        "length_mm": one.length_mm,
        "lead_mm": lead,
        "placement": placement,
        "source": "w.bmk",
    }
    return PlannedPiece(**(given | more))


def slug(heel, serves, *, loss=16.0, kind="slug", **pieces):
    return PlannedCut(kind=kind, serves=serves, heel_mm=heel, loss_mm=loss, **pieces)


def bar(*pieces, cuts=None, length=6000.0, loss=16.0, kind="slug", **more):
    """A bar with square pieces: trimmed in front, one cut behind each of them."""
    if cuts is None:
        cuts = [slug(pieces[0].lead_mm - loss, "behind", behind=1, loss=loss, kind=kind)]
        for one in pieces:
            after = [other.number for other in pieces if other.number == one.number + 1]
            serves = {"behind": after[0]} if after else {}
            cuts.append(
                slug(
                    one.trail_mm,
                    "both" if after else "ahead",
                    ahead=one.number,
                    loss=loss,
                    kind=kind,
                    **serves,
                )
            )
    given = {
        "number": 1,
        "group": 1,
        "pattern": 1,
        "stock": "S1",
        "length_mm": length,
        "heat": "H4711",
        "section": "L90x90x9",
        "grade": "S275JR",
        "front_trim_mm": 10.0,
        "pieces": pieces,
        "cuts": tuple(cuts),
        "tail_mm": 203.2,
        "drop": Drop(length_mm=5000.0, kind="remnant", label="R7"),
    }
    return PlannedBar(**(given | more))


def program(one, parts, name=PUNCHING, own=None):
    own = own or shop(name)
    return program_of(one, [placed(p, "w.bmk", 10) for p in parts], own.model)


def stops(one):
    return [step for step in one.steps if step.kind == "stop"]


def refusals(one):
    assert one.steps == ()
    return [(fault.rule, fault.message) for fault in one.refused]


def worked(stop):
    """What tools of stations do at a stop."""
    return [op for op in stop.operations if op.kind == "operation"]
