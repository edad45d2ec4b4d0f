"""Connection practice and process: the exact words, 0.01 mm inside and outside each limit.

Figures: AISC 360-22 Tables J3.3 to J3.5 and J3.4, EN 1993-1-8:2005 Table 3.3, EN 1090-2 Table
11, as they are typed a second time in test_outside_practice.py; worked out by hand beside the
cases. EN 1090-2 6.6.3, AS 4100, C2 since 360-10 and 360-05 in inches are from memory.

By hand. us, 3/4: edge 1 in., C2 1/16 oversize; M20: edge 26 mm, C2 3 mm for a short slot (26 mm
long; half of what it is shorter comes off) and 0.75 x 20 = 15 mm for a long one; M24: 2-2/3 x
24 = 64 mm, 3 x 24 = 72 mm. eu, M20 in 22 mm: 1.2 d0 = 26.4, 1.5 d0 = 33, 2.2 d0 = 48.4, 2.4 d0
= 52.8 mm; 1.2 x 21.5 = 25.8 mm. Long slots of M20 end at 2.5 d = 50 mm. AISC before 2000: t <=
20 mm + 1/8 in. = 23.175 mm. AS 4100: 5600 / 355 = 15.77 mm. Contact, t = 10 mm: 4 t + 40 = 80
mm, 14 t = 140 mm, 24 t = 240 mm; 12 x 20 mm is more than 150 mm. 3/4: C1 1-1/4, C2 3/4, C3 3/4
and 11/16 in.; gage 2-1/2 less 3/8: stagger 1-3/8 in. 7/8 on gage 2: 1-5/8 less a head of 35/64
is less than half a socket, 1-1/4 in.
"""

import time
import tomllib

import pytest

from translator.batch.practice import read_practice
from translator.model import (
    Angle,
    AngleEnds,
    AngleLegs,
    Cope,
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Part,
    Placed,
    Slot,
)
from translator.rules import rules
from translator.rules._bolts import meant_bolts
from translator.rules._run import run
from translator.source import Span

PLACE = Span("p", 1, 1, 1, 1)
IN = 25.4
L90 = Angle(leg_a_mm=90.0, leg_b_mm=90.0, thickness_mm=10.0, root_radius_mm=11.0)
L44 = Angle(leg_a_mm=101.6, leg_b_mm=101.6, thickness_mm=9.525, root_radius_mm=9.525)
FB = Flat(width_mm=100.0, thickness_mm=10.0)
L3 = Angle(leg_a_mm=76.2, leg_b_mm=76.2, thickness_mm=12.7, root_radius_mm=9.525)
FB5 = Flat(width_mm=150.0, thickness_mm=10.0)
F16 = Flat(width_mm=160.02, thickness_mm=10.0)
C = 'practice="eu"\n[contact]\nmarks=["F1"]\n'


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
    """A hole in inches on a gauge, for a bolt."""
    inches = {"x_mm": x * IN, "y_mm": g * IN, "diameter_mm": d * IN}
    return Hole(id=f"f{number}", bolt=b, **inches, **more)


US, EU = prac('practice="us"'), prac('practice="eu"')
U = {"units": "inch", "section": L44, "length_mm": 292.1}


def slot(number, x, y=50.0, w=22.0, l=50.0, a=0.0, **more):  # noqa: E741, PLR0917
    return Slot(id=f"f{number}", x_mm=x, y_mm=y, width_mm=w, length_mm=l, angle_deg=a, **more)


CASES = [
    pytest.param(ang([ih(1, 1, b="3/4")], **U), US, [], id="us-end-1in-in"),
    pytest.param(
        ang([Hole(id="f1", x_mm=25.39, y_mm=63.5, diameter_mm=20.6375, bolt="3/4")], **U),
        US,
        [
            (
                "end-distance-short",
                "error",
                _(
                    "hole f1 is 0.9996 in. from the end, less than 1 in. (bolt 3/4 as ",
                    "stated; AISC 360-22 Table J3.4)",
                ),
            )
        ],
        id="us-end-0-01",
    ),
    pytest.param(
        ang([ih(1, 15 / 16)], **U),
        US,
        [
            (
                "end-distance-short",
                "warning",
                _(
                    "hole f1 is 15/16 in. from the end, less than 1 in. (taken as a ",
                    "3/4 bolt from the 13/16 in. hole; AISC 360-22 Table J3.4)",
                ),
            )
        ],
        id="us-end-inferred",
    ),
    pytest.param(
        ang([Hole(id="f1", x_mm=25.39, y_mm=63.5, diameter_mm=20.64)]),
        US,
        [
            (
                "end-distance-short",
                "warning",
                _(
                    "hole f1 is 25.39 mm from the end, less than 25.4 mm (1 in.) ",
                    "(taken as a 3/4 bolt from the 20.64 mm hole; AISC 360-22 Table ",
                    "J3.4)",
                ),
            )
        ],
        id="us-end-mm-part",
    ),
    pytest.param(
        ang([ih(1, 11 / 16, b="3/4")], **U),
        US,
        [
            (
                "end-distance-short",
                "error",
                _(
                    "hole f1 is 11/16 in. from the end, less than 1 in. (bolt 3/4 as ",
                    "stated; AISC 360-22 Table J3.4); less than the bolt's diameter, ",
                    "which the engineer of record must approve",
                ),
            )
        ],
        id="us-under-d",
    ),
    pytest.param(
        flat(hole(1, 25.99, bolt="M20")),
        US,
        [
            (
                "end-distance-short",
                "error",
                _(
                    "hole f1 is 25.99 mm from the end, less than 26 mm (bolt M20 as ",
                    "stated; AISC 360-22 Table J3.4M)",
                ),
            )
        ],
        id="us-j3-4m",
    ),
    pytest.param(flat(hole(1, 26.0, bolt="M20")), US, [], id="us-j3-4m-in"),
    pytest.param(
        ang([ih(1, 1.0625 - 0.01 / 25.4, b="3/4", d=15 / 16)], **U),
        US,
        [
            (
                "end-distance-short",
                "warning",
                _(
                    "hole f1 is 1.0621 in. from the end, less than 1-1/16 in. (bolt ",
                    "3/4 as stated; AISC 360-22 Table J3.4 and AISC 360-22 Table J3.5, ",
                    "from memory)",
                ),
            ),
            (
                "hole-oversize",
                "note",
                _(
                    "hole f1 of 15/16 in. is oversize: the standard hole is 13/16 in. ",
                    "(bolt 3/4 as stated; AISC 360-22 Table J3.3, from an open ",
                    "transcription)",
                ),
            ),
        ],
        id="us-oversize-c2",
    ),
    pytest.param(
        ang([ih(1, 1.0625, b="3/4", d=15 / 16)], **U),
        US,
        [
            (
                "hole-oversize",
                "note",
                _(
                    "hole f1 of 15/16 in. is oversize: the standard hole is 13/16 in. ",
                    "(bolt 3/4 as stated; AISC 360-22 Table J3.3, from an open ",
                    "transcription)",
                ),
            )
        ],
        id="us-oversize-c2-in",
    ),
    pytest.param(
        flat(slot(1, 28.99, l=26.0, bolt="M20")),
        US,
        [
            (
                "end-distance-short",
                "warning",
                _(
                    "slot f1 is 28.99 mm from the end, less than 29 mm (bolt M20 as ",
                    "stated; AISC 360-22 Table J3.4M and AISC 360-22 Table J3.5M, from ",
                    "memory)",
                ),
            )
        ],
        id="us-short-slot-ahead",
    ),
    pytest.param(flat(slot(1, 29.0, l=26.0, bolt="M20")), US, [], id="us-short-slot-ahead-in"),
    pytest.param(flat(slot(1, 28.0, l=24.0, bolt="M20")), US, [], id="us-short-slot-reduced"),
    pytest.param(
        flat(slot(1, 27.99, l=24.0, bolt="M20")),
        US,
        [
            (
                "end-distance-short",
                "warning",
                _(
                    "slot f1 is 27.99 mm from the end, less than 28 mm (bolt M20 as ",
                    "stated; AISC 360-22 Table J3.4M and AISC 360-22 Table J3.5M, from ",
                    "memory)",
                ),
            )
        ],
        id="us-short-slot-reduced-too",
    ),
    pytest.param(
        flat(slot(1, 40.99, l=50.0, bolt="M20")),
        US,
        [
            (
                "end-distance-short",
                "warning",
                _(
                    "slot f1 is 40.99 mm from the end, less than 41 mm (bolt M20 as ",
                    "stated; AISC 360-22 Table J3.4M and AISC 360-22 Table J3.5M, from ",
                    "memory)",
                ),
            )
        ],
        id="us-long-slot",
    ),
    pytest.param(flat(slot(1, 41.0, l=50.0, bolt="M20")), US, [], id="us-long-slot-in"),
    pytest.param(
        flat(slot(1, 26.0, l=50.0, a=90.0, bolt="M20")), US, [], id="us-slot-across-end-beside"
    ),
    pytest.param(
        flat(slot(1, 200, y=59.01, l=50.0, a=90.0, bolt="M20")),
        US,
        [
            (
                "edge-distance-short",
                "warning",
                _(
                    "slot f1 is 40.99 mm from the edge, less than 41 mm (bolt M20 as ",
                    "stated; AISC 360-22 Table J3.4M and AISC 360-22 Table J3.5M, from ",
                    "memory)",
                ),
            )
        ],
        id="us-slot-across-edge",
    ),
    pytest.param(
        flat(hole(1, 26.39, bolt="M20"), hole(2, 300.0, 26.39)),
        EU,
        [
            (
                "edge-distance-short",
                "warning",
                _(
                    "hole f2 is 26.39 mm from the edge, less than 26.4 mm (taken as an ",
                    "M20 bolt from the 22 mm hole; EN 1993-1-8:2005 Table 3.3)",
                ),
            ),
            (
                "end-distance-short",
                "error",
                _(
                    "hole f1 is 26.39 mm from the end, less than 26.4 mm (bolt M20 as ",
                    "stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            ),
        ],
        id="eu",
    ),
    pytest.param(flat(hole(1, 26.4, bolt="M20"), hole(2, 300.0, 26.4)), EU, [], id="eu-in"),
    pytest.param(flat(hole(1, 25.8, d=21.5, bolt="M20")), EU, [], id="eu-tower-d0"),
    pytest.param(
        flat(slot(1, 46.99, bolt="M20")),
        EU,
        [
            (
                "end-distance-short",
                "error",
                _(
                    "the axis of slot f1 is 32.99 mm from the end, less than 33 mm ",
                    "(bolt M20 as stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            )
        ],
        id="eu-slot-e4",
    ),
    pytest.param(flat(slot(1, 47.0, bolt="M20")), EU, [], id="eu-slot-e4-in"),
    pytest.param(
        flat(slot(1, 200.0, 67.01, bolt="M20")),
        EU,
        [
            (
                "edge-distance-short",
                "error",
                _(
                    "the axis of slot f1 is 32.99 mm from the edge, less than 33 mm ",
                    "(bolt M20 as stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            )
        ],
        id="eu-slot-e3",
    ),
    pytest.param(
        ang([hole(1, 200, 26.3)]),
        EU,
        [
            (
                "hole-in-fillet",
                "warning",
                _(
                    "the edge of hole f1 is 15.3 mm from the heel, less than thickness ",
                    "and root radius, 21 mm",
                ),
            )
        ],
        id="toe-only",
    ),
    pytest.param(
        ang([ih(1, 1.25 - 0.01 / 25.4, b="1", d=17 / 16)], **U),
        prac('practice="us"\nedition="360-10"'),
        [
            (
                "end-distance-short",
                "error",
                _(
                    "hole f1 is 1.2496 in. from the end, less than 1-1/4 in. (bolt 1 ",
                    "as stated; AISC 360-10 Table J3.4)",
                ),
            )
        ],
        id="360-10-1in",
    ),
    pytest.param(
        ang([ih(1, 1 - 0.01 / 25.4, b="3/4")], **U),
        prac('practice="us"\nedition="360-05"'),
        [
            (
                "end-distance-short",
                "warning",
                _(
                    "hole f1 is 0.9996 in. from the end, less than 1 in. (bolt 3/4 as ",
                    "stated; AISC 360-05 Table J3.4, from memory)",
                ),
            )
        ],
        id="360-05-memory",
    ),
    pytest.param(
        ang([ih(1, 1.25 - 0.01 / 25.4, b="3/4")], **U),
        prac('practice="us"\nedition="360-05"'),
        [
            (
                "sheared-end-distance-short",
                "warning",
                _(
                    "hole f1 is 1.2496 in. from the end, less than 1-1/4 in. if it is ",
                    "sheared (bolt 3/4 as stated; AISC 360-05 Table J3.4, from memory)",
                ),
            )
        ],
        id="sheared",
    ),
    pytest.param(
        ang([ih(1, 1.25, b="7/8", d=15 / 16)], **U),
        prac('practice="us"\nedition="360-05"'),
        [],
        id="sheared-7-8-beam-end",
    ),
    pytest.param(
        flat(hole(1, 33.99, bolt="M20")),
        prac('practice="us"\nedition="360-05"'),
        [
            (
                "sheared-end-distance-short",
                "warning",
                _(
                    "hole f1 is 33.99 mm from the end, less than 34 mm if it is ",
                    "sheared (bolt M20 as stated; AISC 360-05 Table J3.4M)",
                ),
            )
        ],
        id="sheared-flat-m20",
    ),
    pytest.param(
        ang(
            [hole(1, 86.39, 60.0, bolt="M20")],
            legs=AngleLegs(
                a=Leg(
                    features=(hole(1, 86.39, 50.0, bolt="M20"),),
                    trims=(Cope(end="start", side="toe", along_mm=60.0, across_mm=45.0),),
                )
            ),
        ),
        EU,
        [
            (
                "end-distance-short",
                "error",
                _(
                    "hole f1 is 26.39 mm from the end, less than 26.4 mm (bolt M20 as ",
                    "stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            )
        ],
        id="cope",
    ),
    pytest.param(
        flat(hole(1, 60, bolt="M24", d=27.0), hole(2, 124.0, bolt="M24", d=27.0)),
        US,
        [
            (
                "spacing-below-preferred",
                "note",
                _(
                    "hole f2 is 64 mm from its neighbour, centre to centre, less than ",
                    "the preferred 72 mm (bolt M24 as stated; AISC 360-22 J3.4, from ",
                    "an open transcription)",
                ),
            )
        ],
        id="us-spacing-in",
    ),
    pytest.param(
        flat(hole(1, 60, bolt="M24", d=27.0), hole(2, 123.99, bolt="M24", d=27.0)),
        US,
        [
            (
                "spacing-short",
                "error",
                _(
                    "hole f2 is 63.99 mm from its neighbour, centre to centre, less ",
                    "than 64 mm (bolt M24 as stated; AISC 360-22 J3.4, from an open ",
                    "transcription)",
                ),
            )
        ],
        id="us-spacing",
    ),
    pytest.param(
        flat(hole(1, 60, bolt="M20"), hole(2, 123.99, bolt="M24", d=27.0)),
        US,
        [
            (
                "spacing-short",
                "error",
                _(
                    "hole f2 is 63.99 mm from its neighbour, centre to centre, less ",
                    "than 64 mm (bolt M20 as stated; bolt M24 as stated; AISC 360-22 ",
                    "J3.4, from an open transcription)",
                ),
            )
        ],
        id="us-spacing-larger",
    ),
    pytest.param(
        flat(hole(1, 60, bolt="M24", d=27.0), hole(2, 123.99, d=27.0)),
        US,
        [
            (
                "spacing-short",
                "warning",
                _(
                    "hole f2 is 63.99 mm from its neighbour, centre to centre, less ",
                    "than 64 mm (bolt M24 as stated; taken as an M24 bolt from the 27 ",
                    "mm hole; AISC 360-22 J3.4, from an open transcription)",
                ),
            )
        ],
        id="us-spacing-mixed-stated",
    ),
    pytest.param(
        flat(hole(1, 60, bolt="M24", d=27.0), hole(2, 131.99, bolt="M24", d=27.0)),
        US,
        [
            (
                "spacing-below-preferred",
                "note",
                _(
                    "hole f2 is 71.99 mm from its neighbour, centre to centre, less ",
                    "than the preferred 72 mm (bolt M24 as stated; AISC 360-22 J3.4, ",
                    "from an open transcription)",
                ),
            )
        ],
        id="us-pref",
    ),
    pytest.param(
        flat(hole(1, 60, bolt="M24", d=27.0), hole(2, 132.0, bolt="M24", d=27.0)),
        US,
        [],
        id="us-pref-in",
    ),
    pytest.param(
        flat(slot(1, 100, bolt="M20"), slot(2, 169.99, bolt="M20")),
        US,
        [
            (
                "clear-distance-short",
                "error",
                _(
                    "slot f2 leaves 19.99 mm clear to its neighbour, less than 20 mm ",
                    "(bolt M20 as stated; AISC 360-22 J3.4, from an open ",
                    "transcription)",
                ),
            )
        ],
        id="us-clear",
    ),
    pytest.param(
        flat(slot(1, 100, bolt="M20"), slot(2, 170.0, bolt="M20")), US, [], id="us-clear-in"
    ),
    pytest.param(
        flat(slot(1, 100, bolt="M20"), slot(2, 169.99, bolt="M20")),
        prac('practice="us"\nedition="360-16"'),
        [
            (
                "clear-distance-short",
                "warning",
                _(
                    "slot f2 leaves 19.99 mm clear to its neighbour, less than 20 mm ",
                    "(bolt M20 as stated; AISC 360-16 J3.3, from memory)",
                ),
            )
        ],
        id="360-16-clear-memory",
    ),
    pytest.param(
        flat(slot(1, 100, bolt="M20"), slot(2, 165.0, bolt="M20")),
        prac('practice="us"\nedition="360-10"'),
        [],
        id="360-10-none",
    ),
    pytest.param(
        flat(hole(1, 60, bolt="M20"), hole(2, 108.39, bolt="M20")),
        EU,
        [
            (
                "spacing-short",
                "error",
                _(
                    "hole f2 is 48.39 mm from its neighbour, centre to centre, less ",
                    "than 48.4 mm (bolt M20 as stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            )
        ],
        id="eu-p1",
    ),
    pytest.param(flat(hole(1, 60, bolt="M20"), hole(2, 108.4, bolt="M20")), EU, [], id="eu-p1-in"),
    pytest.param(
        flat(hole(1, 200, 40.0, bolt="M20"), hole(2, 200.0, 92.79, bolt="M20"), section=FB5),
        EU,
        [
            (
                "spacing-short",
                "warning",
                _(
                    "hole f2 is 52.79 mm from its neighbour across the leg, centre to ",
                    "centre, less than 52.8 mm, which holds if the load runs along the ",
                    "piece (bolt M20 as stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            )
        ],
        id="eu-p2-aligned",
    ),
    pytest.param(
        flat(hole(1, 200, 40.0, bolt="M20"), hole(2, 200.0, 92.8, bolt="M20"), section=FB5),
        EU,
        [],
        id="eu-p2-aligned-in",
    ),
    pytest.param(
        flat(hole(1, 200, 40.0), hole(2, 200.0, 92.79), section=FB5),
        EU,
        [
            (
                "spacing-short",
                "note",
                _(
                    "hole f2 is 52.79 mm from its neighbour across the leg, centre to ",
                    "centre, less than 52.8 mm, which holds if the load runs along the ",
                    "piece (taken as an M20 bolt from the 22 mm hole; EN 1993-1-8:2005 ",
                    "Table 3.3)",
                ),
            )
        ],
        id="eu-p2-inferred",
    ),
    pytest.param(
        flat(hole(1, 200, 40.0, bolt="M20"), hole(2, 240.0, 74.4, bolt="M20"), section=FB5),
        EU,
        [
            (
                "spacing-short",
                "warning",
                _(
                    "hole f2 is 52.758 mm from its neighbour across the leg, centre to ",
                    "centre, less than 52.8 mm, which holds if the load runs along the ",
                    "piece (bolt M20 as stated; EN 1993-1-8:2005 Table 3.3, from ",
                    "memory)",
                ),
            )
        ],
        id="eu-stagger",
    ),
    pytest.param(
        flat(hole(1, 200, 40.0, bolt="M20"), hole(2, 240.1, 74.5, bolt="M20"), section=FB5),
        EU,
        [],
        id="eu-stagger-in",
    ),
    pytest.param(
        flat(hole(1, 200, 40.0, bolt="M20"), hole(2, 250.0, 50.0, bolt="M20"), section=FB5),
        EU,
        [],
        id="eu-rows-near",
    ),
    pytest.param(
        flat(hole(1, 60, bolt="M20"), hole(2, 105, bolt="M20"), hole(3, 150, bolt="M20")),
        EU,
        [
            (
                "spacing-short",
                "error",
                _(
                    "hole f2 is 45 mm from its neighbour, centre to centre, less than ",
                    "48.4 mm (bolt M20 as stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            ),
            (
                "spacing-short",
                "error",
                _(
                    "hole f3 is 45 mm from its neighbour, centre to centre, less than ",
                    "48.4 mm (bolt M20 as stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            ),
        ],
        id="eu-row-of-three",
    ),
    pytest.param(
        ang(
            [hole(1, 200, 45.0, bolt="M20"), hole(2, 200.0, 95.0, bolt="M20")],
            section=Angle(leg_a_mm=125.0, leg_b_mm=125.0, thickness_mm=12.0, root_radius_mm=12.0),
        ),
        EU,
        [
            (
                "spacing-short",
                "note",
                _(
                    "hole f2 is 50 mm from its neighbour across the leg, centre to ",
                    "centre, less than 52.8 mm, which holds if the load runs along the ",
                    "piece (bolt M20 as stated; EN 1993-1-8:2005 Table 3.3); 45 mm and ",
                    "95 mm are usual lines of the leg: UK handbooks, spacing of holes ",
                    "in angles, from memory",
                ),
            ),
        ],
        id="customary",
    ),
    pytest.param(
        flat(hole(1, 60, d=50.0), hole(2, 114.99, d=50.0)),
        EU,
        [
            (
                "thin-web-between-holes",
                "warning",
                _(
                    "hole f2 leaves 4.99 mm of steel to its neighbour, less than 5 mm; ",
                    "the thickness is 10 mm",
                ),
            )
        ],
        id="web",
    ),
    pytest.param(flat(hole(1, 60, d=50.0), hole(2, 115.0, d=50.0)), EU, [], id="web-in"),
    pytest.param(
        flat(hole(1, 60, d=50.0, process="punch"), hole(2, 119.99, d=50.0)),
        EU,
        [
            (
                "thin-web-between-holes",
                "warning",
                _(
                    "hole f2 leaves 9.99 mm of steel to its neighbour, less than 10 ",
                    "mm; the thickness is 10 mm",
                ),
            )
        ],
        id="web-punched",
    ),
    pytest.param(
        flat(hole(1, 100, d=50.0, y=70.01)),
        EU,
        [
            (
                "thin-web-at-edge",
                "warning",
                _(
                    "hole f1 leaves 4.99 mm of steel to the edge, less than 5 mm; the ",
                    "thickness is 10 mm",
                ),
            )
        ],
        id="web-edge",
    ),
    pytest.param(
        flat(hole(1, 100, d=50.0, y=65.0, process="punch")), EU, [], id="web-edge-punch-in"
    ),
    pytest.param(
        flat(hole(1, 100, d=50.0, y=65.01, process="punch")),
        EU,
        [
            (
                "thin-web-at-edge",
                "warning",
                _(
                    "hole f1 leaves 9.99 mm of steel to the edge, less than 10 mm; the ",
                    "thickness is 10 mm",
                ),
            )
        ],
        id="web-edge-punch",
    ),
    pytest.param(
        flat(
            hole(1, 100, d=50.8, y=70.0),
            section=Flat(width_mm=101.6, thickness_mm=12.7),
            units="inch",
        ),
        EU,
        [
            (
                "thin-web-at-edge",
                "warning",
                _(
                    "hole f1 leaves 0.2441 in. of steel to the edge, less than 1/4 ",
                    "in.; the thickness is 1/2 in.",
                ),
            )
        ],
        id="web-inch",
    ),
    pytest.param(
        flat(hole(1, 100, d=20.0, bolt="M20")),
        EU,
        [
            (
                "hole-is-bolt-size",
                "warning",
                _(
                    "hole f1 of 20 mm leaves no play for bolt M20 as stated; its ",
                    "standard hole is 22 mm (EN 1090-2:2018 Table 11)",
                ),
            )
        ],
        id="hole-size",
    ),
    pytest.param(
        flat(hole(1, 100, d=20.24, bolt="M20")),
        EU,
        [
            (
                "hole-is-bolt-size",
                "warning",
                _(
                    "hole f1 of 20.24 mm leaves only 0.24 mm of play for bolt M20 as ",
                    "stated; its standard hole is 22 mm (EN 1090-2:2018 Table 11)",
                ),
            )
        ],
        id="hole-size-0-24",
    ),
    pytest.param(flat(hole(1, 100, d=20.25, bolt="M20")), EU, [], id="hole-size-0-25"),
    pytest.param(
        flat(hole(1, 100, d=19.05)),
        US,
        [
            (
                "hole-is-bolt-size",
                "warning",
                _(
                    "hole f1 of 19.05 mm leaves no play for a 3/4 bolt; its standard ",
                    "hole is 13/16 in. (AISC 360-22 Table J3.3, from an open ",
                    "transcription)",
                ),
            )
        ],
        id="hole-3-4",
    ),
    pytest.param(
        flat(hole(1, 100, d=19.05)),
        prac(""),
        [
            (
                "hole-is-bolt-size",
                "warning",
                _(
                    "hole f1 of 19.05 mm leaves no play for a 3/4 bolt; its standard ",
                    "hole is 13/16 in. (AISC 360-22 Table J3.3, from an open ",
                    "transcription)",
                ),
            )
        ],
        id="hole-19-05-auto",
    ),
    pytest.param(
        flat(hole(1, 100, d=19.99, bolt="M20")),
        EU,
        [
            (
                "hole-smaller-than-bolt",
                "error",
                "hole f1 is 19.99 mm wide, too small for bolt M20 as stated",
            )
        ],
        id="smaller",
    ),
    pytest.param(
        flat(hole(1, 100, d=19.5)),
        EU,
        [("hole-fits-no-bolt", "note", "hole f1 is 19.5 mm wide, the hole of no bolt known here")],
        id="no-bolt",
    ),
    pytest.param(
        flat(hole(1, 100, d=22.01, bolt="M20")),
        EU,
        [
            (
                "hole-oversize",
                "note",
                _(
                    "hole f1 of 22.01 mm is oversize: the standard hole is 22 mm (bolt ",
                    "M20 as stated; EN 1090-2:2018 Table 11)",
                ),
            )
        ],
        id="oversize",
    ),
    pytest.param(flat(hole(1, 100, d=14.0, bolt="M12")), EU, [], id="m12-14"),
    pytest.param(
        flat(hole(1, 100, d=14.01, bolt="M12")),
        EU,
        [
            (
                "hole-oversize",
                "note",
                _(
                    "hole f1 of 14.01 mm is oversize: the standard hole is 13 mm (bolt ",
                    "M12 as stated; EN 1090-2:2018 Table 11)",
                ),
            )
        ],
        id="m12-14-01",
    ),
    pytest.param(
        flat(hole(1, 100, d=24.01, bolt="M20")),
        EU,
        [
            (
                "hole-too-large-for-bolt",
                "error",
                _(
                    "hole f1 of 24.01 mm is larger than the oversize hole of 24 mm ",
                    "(bolt M20 as stated; EN 1090-2:2018 Table 11)",
                ),
            )
        ],
        id="too-large",
    ),
    pytest.param(
        flat(slot(1, 100, l=26.01, bolt="M20")),
        EU,
        [
            (
                "slot-longer-than-short",
                "note",
                _(
                    "slot f1 is 26.01 mm long, more than the 26 mm of a short slot, ",
                    "and counts as a long one (bolt M20 as stated; EN 1090-2:2018 ",
                    "Table 11)",
                ),
            )
        ],
        id="slot-26-01",
    ),
    pytest.param(
        ang([Slot(id="f1", x_mm=100.0, y_mm=63.5, width_mm=20.6375, length_mm=31.75)], **U),
        US,
        [
            (
                "slot-longer-than-short",
                "note",
                _(
                    "slot f1 is 1-1/4 in. long, more than the 1 in. of a short slot, ",
                    "and counts as a long one (taken as a 3/4 bolt from the 13/16 in. ",
                    "slot; AISC 360-22 Table J3.3, from an open transcription)",
                ),
            )
        ],
        id="slot-13-16x1-1-4",
    ),
    pytest.param(
        flat(slot(1, 100, l=50.01, bolt="M20")),
        EU,
        [
            (
                "slot-too-long",
                "error",
                _(
                    "slot f1 is 50.01 mm long, more than the 50 mm of a long slot ",
                    "(bolt M20 as stated; EN 1090-2:2018 Table 11)",
                ),
            )
        ],
        id="slot-too-long",
    ),
    pytest.param(
        flat(slot(1, 100, l=50.01)),
        EU,
        [
            (
                "slot-too-long",
                "note",
                _(
                    "slot f1 is 50.01 mm long, more than the 50 mm of a long slot ",
                    "(taken as an M20 bolt from the 22 mm slot; EN 1090-2:2018 Table ",
                    "11)",
                ),
            )
        ],
        id="slot-too-long-inf",
    ),
    pytest.param(
        flat(slot(1, 100, w=22.01, bolt="M20")),
        EU,
        [
            (
                "slot-too-wide",
                "error",
                _(
                    "slot f1 is 22.01 mm wide, more than the 22 mm of a slot (bolt M20 ",
                    "as stated; EN 1090-2:2018 Table 11)",
                ),
            )
        ],
        id="slot-wide",
    ),
    pytest.param(
        flat(slot(1, 100, l=23.49)),
        EU,
        [
            (
                "slot-hardly-longer",
                "warning",
                _(
                    "slot f1 is only 1.49 mm longer than wide; less than 1.5 mm is no ",
                    "slot of any table",
                ),
            )
        ],
        id="slot-hardly",
    ),
    pytest.param(
        flat(hole(1, 100, d=14.0, bolt="M12")),
        US,
        [
            (
                "bolt-not-in-practice",
                "note",
                _(
                    "hole f1 is for bolt M12, which the tables of AISC 360 do not ",
                    "have; its size is not checked",
                ),
            )
        ],
        id="bolt-none",
    ),
    pytest.param(
        flat(hole(1, 100, d=20.6375, bolt="3/4")),
        EU,
        [
            (
                "bolt-not-in-practice",
                "note",
                _(
                    "hole f1 is for bolt 3/4, which the tables of EN 1090-2 do not ",
                    "have; its size is not checked",
                ),
            )
        ],
        id="bolt-none-eu",
    ),
    pytest.param(ang([ih(1, 3, b="1", d=17 / 16)], **U), US, [], id="360-22-1-1-16-for-1"),
    pytest.param(
        ang([ih(1, 4, g=1.625 - 0.01 / IN, b="3/4")], **U),
        US,
        [
            (
                "bolt-near-other-leg",
                "warning",
                _(
                    "hole f1 is 1.2496 in. from the inside of the other leg, less than ",
                    "the 1-1/4 in. to tighten it (bolt 3/4 as stated; AISC Manual LRFD ",
                    "2nd ed. Table 8-4)",
                ),
            )
        ],
        id="c1",
    ),
    pytest.param(ang([ih(1, 4, g=1.625, b="3/4")], **U), US, [], id="c1-in"),
    pytest.param(
        ang([ih(1, 4, g=1.625 - 0.01 / IN)], **U),
        US,
        [
            (
                "bolt-near-other-leg",
                "note",
                _(
                    "hole f1 is 1.2496 in. from the inside of the other leg, less than ",
                    "the 1-1/4 in. to tighten it (taken as a 3/4 bolt from the 13/16 ",
                    "in. hole; AISC Manual LRFD 2nd ed. Table 8-4)",
                ),
            )
        ],
        id="c1-inferred",
    ),
    pytest.param(
        ang([ih(1, 4, g=1.125 - 0.01 / IN, b="3/4")], **U),
        US,
        [
            (
                "bolt-near-other-leg",
                "warning",
                _(
                    "hole f1 is 0.7496 in. from the inside of the other leg, less than ",
                    "the 3/4 in. to enter it (bolt 3/4 as stated; AISC Manual LRFD 2nd ",
                    "ed. Table 8-4)",
                ),
            ),
            (
                "hole-in-fillet",
                "warning",
                _(
                    "the edge of hole f1 is 0.7184 in. from the heel, less than ",
                    "thickness and root radius, 3/4 in.",
                ),
            ),
            (
                "washer-on-fillet",
                "warning",
                _(
                    "hole f1 is 0.3746 in. from the end of the fillet, less than 11/16 ",
                    "in. for a clipped washer (bolt 3/4 as stated; AISC Manual LRFD ",
                    "2nd ed. Table 8-4)",
                ),
            ),
        ],
        id="c2",
    ),
    pytest.param(
        ang([ih(1, 4, g=1.75, b="7/8", d=15 / 16)], units="inch", section=L3, length_mm=292.1),
        US,
        [
            (
                "bolt-near-other-leg",
                "note",
                _(
                    "hole f1 is 1-1/4 in. from the inside of the other leg, less than ",
                    "the 1-3/8 in. to tighten it (bolt 7/8 as stated; AISC Manual LRFD ",
                    "2nd ed. Table 8-4)",
                ),
            )
        ],
        id="c1-usual",
    ),
    pytest.param(
        ang([ih(1, 4, g=1.625 - 0.01 / IN)], units="inch", section=L3, length_mm=292.1),
        US,
        [
            (
                "bolt-near-other-leg",
                "note",
                _(
                    "hole f1 is 1.1246 in. from the inside of the other leg, less than ",
                    "the 1-1/4 in. to tighten it (taken as a 3/4 bolt from the 13/16 ",
                    "in. hole; AISC Manual LRFD 2nd ed. Table 8-4)",
                ),
            ),
            (
                "washer-on-fillet",
                "note",
                _(
                    "hole f1 is 0.7496 in. from the end of the fillet, less than 3/4 ",
                    "in. for a round washer; it needs a clipped one (taken as a 3/4 ",
                    "bolt from the 13/16 in. hole; AISC Manual LRFD 2nd ed. Table 8-4)",
                ),
            ),
        ],
        id="c3-round",
    ),
    pytest.param(
        ang([ih(1, 4, g=1.5625 - 0.01 / IN, b="3/4")], units="inch", section=L3, length_mm=292.1),
        US,
        [
            (
                "bolt-near-other-leg",
                "warning",
                _(
                    "hole f1 is 1.0621 in. from the inside of the other leg, less than ",
                    "the 1-1/4 in. to tighten it (bolt 3/4 as stated; AISC Manual LRFD ",
                    "2nd ed. Table 8-4)",
                ),
            ),
            (
                "washer-on-fillet",
                "warning",
                _(
                    "hole f1 is 0.6871 in. from the end of the fillet, less than 11/16 ",
                    "in. for a clipped washer (bolt 3/4 as stated; AISC Manual LRFD ",
                    "2nd ed. Table 8-4)",
                ),
            ),
        ],
        id="c3-clipped",
    ),
    pytest.param(ang([hole(1, 100, y=34.0, bolt="M20")]), US, [], id="metric-none"),
    pytest.param(
        ang([ih(1, 4, b="3/4")], [ih(2, 4, g=2.5, b="3/4")], **U),
        US,
        [
            (
                "opposite-bolts-close",
                "note",
                _(
                    "hole f2 is 0 in. along the piece from a bolt of the other leg, ",
                    "less than 1-3/8 in. to tighten both; tighten one first or set the ",
                    "heads inside (bolt 3/4 as stated; AISC Manual LRFD 2nd ed. Table ",
                    "8-4)",
                ),
            )
        ],
        id="opposed",
    ),
    pytest.param(
        ang([ih(1, 4, b="3/4")], [ih(2, 5.5 - 0.01 / IN, g=2.5, b="3/4")], **U),
        US,
        [],
        id="opposed-p-1-1-2-0-01",
    ),
    pytest.param(
        ang([ih(1, 4, b="3/4")], [ih(2, 5.5, g=2.5, b="3/4")], **U), US, [], id="opposed-p-1-1-2"
    ),
    pytest.param(
        ang(
            [ih(1, 4, g=2, b="7/8", d=15 / 16)],
            [ih(2, 4, g=2, b="7/8", d=15 / 16), ih(3, 8, g=2, b="7/8", d=15 / 16)],
            **U,
        ),
        US,
        [
            (
                "opposite-bolts-close",
                "warning",
                _(
                    "hole f2 is 0 in. along the piece from a bolt of the other leg, ",
                    "less than 2-1/16 in. to tighten both; no order helps (bolt 7/8 as ",
                    "stated; AISC Manual LRFD 2nd ed. Table 8-4)",
                ),
            )
        ],
        id="hopeless",
    ),
    pytest.param(
        flat(hole(1, 100, d=9.99, process="punch")),
        EU,
        [
            (
                "punched-hole-too-small",
                "warning",
                _(
                    "hole f1 of 9.99 mm is to be punched in 10 mm, more than 9.99 mm ",
                    "(EN 1090-2:2008+A1 6.6.3, from memory)",
                ),
            )
        ],
        id="punch-eu",
    ),
    pytest.param(flat(hole(1, 100, d=10.0, process="punch")), EU, [], id="punch-eu-in"),
    pytest.param(
        flat(hole(1, 100, process="punch")),
        prac('practice="eu"\nexecution_class=3'),
        [
            (
                "punched-hole-not-reamed",
                "warning",
                _(
                    "hole f1 is to be punched full size in 10 mm, more than 3 mm for ",
                    "execution class 3 (EN 1090-2:2008+A1 6.6.3, from memory)",
                ),
            )
        ],
        id="punch-eu-3",
    ),
    pytest.param(
        flat(hole(1, 100, d=9.0, process="punch")),
        prac('practice="eu"\nexecution_class=4'),
        [
            (
                "punched-hole-too-small",
                "warning",
                _(
                    "hole f1 of 9 mm is to be punched in 10 mm, more than 9 mm (EN ",
                    "1090-2:2008+A1 6.6.3, from memory)",
                ),
            )
        ],
        id="punch-eu-3-t",
    ),
    pytest.param(
        flat(hole(1, 100, d=9.0, process="sub-punch-and-ream")),
        prac('practice="eu"\nexecution_class=4'),
        [
            (
                "punched-hole-too-small",
                "warning",
                _(
                    "hole f1 of 9 mm is to be punched in 10 mm, more than 9 mm (EN ",
                    "1090-2:2008+A1 6.6.3, from memory)",
                ),
            )
        ],
        id="punch-eu-3-small",
    ),
    pytest.param(
        flat(hole(1, 100, d=9.99, process="punch")),
        US,
        [
            (
                "punched-hole-too-small",
                "warning",
                _(
                    "hole f1 of 9.99 mm is to be punched in 10 mm, more than 9.99 mm ",
                    "(common practice, no source)",
                ),
            )
        ],
        id="punch-us",
    ),
    pytest.param(
        flat(
            hole(1, 100, d=22.0, bolt="M20", process="punch"),
            section=Flat(width_mm=100.0, thickness_mm=23.19),
        ),
        prac('practice="us"\npunching="aisc-before-2000"'),
        [
            (
                "punched-hole-too-small",
                "error",
                _(
                    "hole f1 of 22 mm is to be punched in 23.19 mm, more than 23.175 ",
                    "mm (0.912 in.) (AISC ASD 1989 M2.5)",
                ),
            )
        ],
        id="punch-old",
    ),
    pytest.param(
        flat(
            hole(1, 100, d=22.0, bolt="M20", process="punch"),
            section=Flat(width_mm=100.0, thickness_mm=23.18),
        ),
        prac('practice="us"\npunching="aisc-before-2000"'),
        [],
        id="punch-old-in",
    ),
    pytest.param(
        flat(
            hole(1, 100, d=22.0, bolt="M20", process="punch"),
            grade="S355JR",
            section=Flat(width_mm=100.0, thickness_mm=16.0),
        ),
        prac('practice="eu"\npunching="as-4100"'),
        [
            (
                "punched-hole-too-small",
                "warning",
                _(
                    "hole f1 of 22 mm is to be punched in 16 mm, more than 15.77 mm ",
                    "(AS 4100 14.3.5.1, from memory)",
                ),
            )
        ],
        id="punch-as4100",
    ),
    pytest.param(
        flat(
            hole(1, 100, d=22.0, bolt="M20", process="punch"),
            grade="S450J0",
            section=Flat(width_mm=100.0, thickness_mm=6.0),
        ),
        prac('practice="eu"\npunching="as-4100"'),
        [
            (
                "punched-hole-too-small",
                "warning",
                _(
                    "hole f1 of 22 mm is to be punched in 6 mm, and this steel may not ",
                    "be punched at all (AS 4100 14.3.5.1, from memory)",
                ),
            )
        ],
        id="punch-as4100-not",
    ),
    pytest.param(
        ang([hole(1, 100, y=52.0)]),
        prac('practice="eu"\n[gauges]\nusual=true'),
        [
            (
                "gauge-not-usual",
                "warning",
                _(
                    "hole f1 is on gauge 52 mm; usual on leg a of 90 mm: 50 mm (UK ",
                    "handbooks, spacing of holes in angles, from memory; DIN 997, ",
                    "from memory)",
                ),
            )
        ],
        id="gauge",
    ),
    pytest.param(
        ang([hole(1, 100, y=50.5)]),
        prac('practice="eu"\n[gauges]\nusual=true'),
        [],
        id="gauge-in-5",
    ),
    pytest.param(
        ang([hole(1, 100, y=50.0)]),
        prac('practice="eu"\n[gauges]\n"90mm"=["45mm","55mm"]'),
        [
            (
                "gauge-not-usual",
                "warning",
                _(
                    "hole f1 is on gauge 50 mm; usual on leg a of 90 mm: 45 mm, 55 mm ",
                    "(the shop's gauges)",
                ),
            )
        ],
        id="gauge-shop",
    ),
    pytest.param(
        flat(hole(1, 80, y=80.01, bolt="M20"), hole(2, 319.99, y=80.01, bolt="M20"), section=F16),
        prac(C),
        [
            (
                "edge-distance-long",
                "error",
                _(
                    "hole f2 in the outer line is 80.01 mm from the far end, more than ",
                    "80 mm (bolt M20 as stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            ),
            (
                "edge-distance-long",
                "error",
                _(
                    "hole f1 in the outer line is 80.01 mm from the upper edge, more ",
                    "than 80 mm (bolt M20 as stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            ),
            (
                "spacing-long",
                "error",
                _(
                    "hole f2 is 239.99 mm from the bolt before it, more than 140 mm ",
                    "(bolt M20 as stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            ),
        ],
        id="e-max",
    ),
    pytest.param(
        flat(hole(1, 80, y=80.01, bolt="M20"), hole(2, 310.0, y=80.01, bolt="M20"), section=F16),
        prac(C + 'exposure="sheltered"'),
        [
            (
                "spacing-long",
                "error",
                _(
                    "hole f2 is 230 mm from the bolt before it, more than 140 mm (bolt ",
                    "M20 as stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            )
        ],
        id="e-max-sheltered",
    ),
    pytest.param(
        flat(hole(1, 200, y=150.01, bolt="M20"), section=Flat(width_mm=300.02, thickness_mm=20.0)),
        prac(C.replace("eu", "us")),
        [
            (
                "edge-distance-long",
                "warning",
                _(
                    "hole f1 in the outer line is 150.01 mm from the nearest edge, ",
                    "more than 150 mm (bolt M20 as stated; AISC 360-22 J3.6, from ",
                    "memory)",
                ),
            )
        ],
        id="us-e-max",
    ),
    pytest.param(
        flat(hole(1, 60, bolt="M20"), hole(2, 200.01, bolt="M20"), hole(3, 340.0, bolt="M20")),
        prac(C),
        [
            (
                "spacing-long",
                "error",
                _(
                    "hole f2 is 140.01 mm from the bolt before it, more than 140 mm ",
                    "(bolt M20 as stated; EN 1993-1-8:2005 Table 3.3)",
                ),
            )
        ],
        id="p-max",
    ),
    pytest.param(
        flat(hole(1, 60, bolt="M20"), hole(2, 300.01, bolt="M20"), hole(3, 340.0)),
        prac(C.replace("eu", "us")),
        [
            (
                "spacing-long",
                "warning",
                _(
                    "hole f2 is 240.01 mm from the bolt before it, more than 240 mm ",
                    "(bolt M20 as stated; AISC 360-22 J3.6, from memory)",
                ),
            ),
            (
                "spacing-short",
                "warning",
                _(
                    "hole f3 is 39.99 mm from its neighbour, centre to centre, less ",
                    "than 53.33 mm (bolt M20 as stated; taken as an M20 bolt from the ",
                    "22 mm hole; AISC 360-22 J3.4, from an open transcription)",
                ),
            ),
        ],
        id="p-max-us",
    ),
]


@pytest.mark.parametrize(("part", "practice", "expected"), CASES)
def test_what_is_said_about_a_connection(part, practice, expected):
    """Values moved by 0.01 mm are off the grid of inches, which is not what is tested here."""
    placed = Placed(part=part, places={"": PLACE})
    found = run([placed], rules(), practices=[practice]).findings[0]
    said = [(f.rule, f.severity.value, f.message) for f in found]
    assert [one for one in said if one[0] != "value-off-inch-grid"] == expected


MEANT = [  # part's units, hole -> code and bolt under auto
    ("mm", 22.0, "eu", "M20"),
    ("mm", 14.0, "eu", "M12"),
    ("mm", 21.5, "eu", "M20"),
    ("mm", 20.64, "us", "3/4"),  # an inch hole in a detailer's file
    ("mm", 17.46, "us", "5/8"),  # and not M16 of a tower, 17.5 mm
    ("mm", 17.5, "eu", "M16"),
    ("mm", 27.0, "us", "M24"),  # the M24 hole of AISC Table J3.3M
    ("mm", 26.0, "eu", "M24"),
    ("inch", 20.6375, "us", "3/4"),
    ("inch", 22.0, "us", "M20"),
    ("inch", 14.0, "us", "M12"),
    ("mm", 19.6, None, None),
]


@pytest.mark.parametrize(("units", "diameter", "code", "bolt"), MEANT)
def test_the_code_of_a_hole_is_that_of_the_hole_it_fits_best(units, diameter, code, bolt):
    one = hole(1, 100.0, d=diameter)
    found = meant_bolts([("face", one)], units, prac("")).get("f1")
    assert (found and found.code, found and found.name) == (code, bolt)


@pytest.mark.parametrize(
    ("bolt", "units", "code"),
    [("3/4", "mm", "us"), ("3/4", "inch", "us"), ("M20", "mm", "eu"), ("M20", "inch", "eu")],
)
def test_the_code_of_a_stated_bolt_is_that_of_its_unit(bolt, units, code):
    one = hole(1, 100.0, d=30.0, bolt=bolt)
    found = meant_bolts([("face", one)], units, prac(""))["f1"]
    assert (found.code, found.is_stated, found.words) == (code, True, f"bolt {bolt} as stated")
    named = meant_bolts([("face", one)], units, prac('practice="us"'))["f1"]
    assert named.code == "us"


NO_BOLT = [
    pytest.param({"purpose": "rod"}, id="rod"),
    pytest.param({"purpose": "vent"}, id="vent"),
    pytest.param({"process": "mark-only"}, id="only-marked"),
    pytest.param({"process": "mark-only", "bolt": "M20"}, id="only-marked-for-a-bolt"),
    pytest.param({"thread": "right"}, id="tapped"),
    pytest.param({"depth_mm": 5.0}, id="blind"),
]


@pytest.mark.parametrize("more", NO_BOLT)
def test_holes_that_no_bolt_goes_through(more):
    assert meant_bolts([("face", hole(1, 100.0, **more))], "mm", EU) == {}


@pytest.mark.parametrize("more", [{"process": "drill"}, {"process": "punch"}, {}])
def test_the_way_a_hole_is_made_does_not_change_its_bolt(more):
    assert meant_bolts([("face", hole(1, 100.0, **more))], "mm", EU)["f1"].name == "M20"


def test_a_hole_that_is_only_marked_is_no_hole():
    """No rule says anything of it, wherever it lies on the leg."""
    marked = [hole(n, x, y, process="mark-only") for n, (x, y) in enumerate(((5, 50), (200, 85)))]
    near = hole(7, 10.0, 50.0, d=30.0, process="mark-only")
    part = ang([*marked, near])
    found = run([Placed(part=part, places={"": PLACE})], rules(), practices=[EU]).findings[0]
    assert found == ()


def test_what_may_rest_on_memory_never_makes_an_error():
    """Rules whose reference names memory alone are warnings at most, whatever is stated."""
    for case in CASES:
        _, _, expected = case.values
        for _, severity, message in expected:
            assert severity != "error" or "from memory" not in message


CROWDS = [
    pytest.param([hole(i, 10 + i % 60 * 6.0, 5 + i // 60 * 1.8) for i in range(1500)], id="net"),
    pytest.param([hole(i, 50 + i * 0.02) for i in range(1500)], id="row"),
    pytest.param(
        [hole(i, 50 + i % 7 * 1e-5, d=8.0 + i * 0.01, bolt="M20") for i in range(1500)],
        id="all-sizes",
    ),
]


@pytest.mark.parametrize("holes", CROWDS)
def test_a_hostile_number_of_bolts_takes_no_time(holes):
    start = time.process_time()
    for practice in (US, EU):
        run([Placed(part=flat(*holes), places={"": PLACE})], rules(), practices=[practice])
    assert time.process_time() - start < 6.0


def test_bolts_in_both_legs_by_the_hundred_take_no_time():
    legs = [[ih(n + at, 1 + n * 0.1, b="3/4") for n in range(500)] for at in (0, 500)]
    start = time.process_time()
    run(
        [Placed(part=ang(*legs, **U | {"length_mm": 3000.0}), places={"": PLACE})],
        rules(),
        practices=[US],
    )
    assert time.process_time() - start < 6.0
