"""Parts for the drawing tests, invented for the Tern Quay walkway (order TQ-7)."""

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
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Notch,
    Opening,
    Part,
    Rounding,
    Scribe,
    Slot,
    Stamp,
    Vertex,
    leg_names,
)

INCH = 25.4


def hole(name, x, y, d, **more):
    return Hole(id=name, x_mm=x, y_mm=y, diameter_mm=d, **more)


def slot(name, at, size, angle=0.0, **more):
    (x, y), (w, length) = at, size
    return Slot(id=name, x_mm=x, y_mm=y, width_mm=w, length_mm=length, angle_deg=angle, **more)


def line(*corners):
    return tuple(Vertex(x_mm=x, y_mm=y, bulge=b) for x, y, b in corners)


BEAM_CLIP = Part(
    mark="C12",
    title="beam clip",
    quantity=24,
    grade="A36",
    length_mm=11.5 * INCH,
    section=Angle(
        designation="L4x3-1/2x3/8",
        leg_a_mm=4 * INCH,
        leg_b_mm=3.5 * INCH,
        thickness_mm=0.375 * INCH,
        root_radius_mm=0.375 * INCH,
    ),
    order="TQ-7",
    drawing="E-104",
    revision="B",
    units="inch",
    legs=AngleLegs(
        a=Leg(
            features=tuple(
                hole(f"a{i + 1}", (1.25 + 3 * i) * INCH, 2.5 * INCH, 13 / 16 * INCH)
                for i in range(4)
            )
        ),
        b=Leg(
            features=(
                *(
                    slot(
                        f"b{i + 1}",
                        ((1.25 + 3 * i) * INCH, 2 * INCH),
                        (13 / 16 * INCH, INCH),
                        90.0,
                        bolt="3/4",
                    )
                    for i in range(4)
                ),
                Stamp(
                    id="b5",
                    x_mm=5.25 * INCH,
                    from_heel_mm=1.125 * INCH,
                    height_mm=0.375 * INCH,
                ),
            )
        ),
    ),
    ends=AngleEnds(),
)

BRACE = Part(
    mark="B7",
    title="brace",
    quantity=6,
    grade="A36",
    length_mm=112.5 * INCH,
    section=Angle(
        designation="L3x3x1/4", leg_a_mm=3 * INCH, leg_b_mm=3 * INCH, thickness_mm=0.25 * INCH
    ),
    order="TQ-7",
    drawing="E-104",
    units="inch",
    legs=AngleLegs(
        a=Leg(
            features=(
                hole("a1", 4 * INCH, 1.75 * INCH, 13 / 16 * INCH, bolt="3/4"),
                hole("a2", 6.5 * INCH, 1.75 * INCH, 13 / 16 * INCH, bolt="3/4"),
                hole("a3", 12 * INCH, (2 + 1 / 16) * INCH, 13 / 16 * INCH, bolt="3/4"),
            ),
            trims=(
                Cope(
                    end="start",
                    side="toe",
                    along_mm=2 * INCH,
                    across_mm=INCH,
                    radius_mm=0.5 * INCH,
                ),
            ),
        ),
    ),
    ends=AngleEnds(far=AngleEnd(leg_a_deg=15.0)),
    second_work=("saw the far end",),
    remarks=("two coats of primer; see the general notes on drawing E-101",),
)

COPED = Part(
    mark="K3",
    title="coped angle",
    quantity=2,
    grade="S355J2",
    length_mm=480.0,
    section=Angle(
        leg_a_mm=150.0, leg_b_mm=100.0, thickness_mm=12.0, root_radius_mm=12.0, toe_radius_mm=6.0
    ),
    order="TQ-7",
    drawing="E-110",
    finish="galvanised",
    legs=AngleLegs(
        a=Leg(
            features=(
                hole("a1", 90.0, 90.0, 22.0),
                hole("a2", 160.0, 90.0, 22.0, depth_mm=8.0),
                hole("a3", 230.0, 90.0, 20.0, thread="right"),
                hole(
                    "a4",
                    300.0,
                    90.0,
                    18.0,
                    countersink_diameter_mm=32.0,
                    countersink_angle_deg=90.0,
                ),
                hole("a5", 370.0, 60.0, 22.0, process="mark-only"),
                slot("a6", (400.0, 110.0), (22.0, 60.0), 45.0),
                Opening(
                    id="a7",
                    contour=line((200, 30, 0.0), (260, 30, 1.0), (260, 60, 0.0), (200, 60, 0.0)),
                ),
            ),
            trims=(
                Cope(end="start", side="toe", along_mm=60.0, across_mm=50.0, radius_mm=20.0),
                Rounding(end="far", side="toe", radius_mm=30.0),
            ),
        ),
        b=Leg(
            features=(
                hole("b1", 90.0, 55.0, 22.0, purpose="rod"),
                slot("b2", (180.0, 55.0), (18.0, 40.0), 30.0, depth_mm=5.0),
                CentreMark(id="b3", x_mm=250.0, y_mm=55.0),
                Stamp(
                    id="b4",
                    text="K3/é",
                    x_mm=270.0,
                    from_heel_mm=40.0,
                    height_mm=12.0,
                    angle_deg=20.0,
                    may_move=True,
                ),
                Scribe(id="b5", method="powder", line=line((380, 25, 0.4), (440, 70, 0.0))),
                Scribe(
                    id="b6", line=line((300, 20, 0.0), (340, 20, 0.0), (340, 30, 0.0)), closed=True
                ),
                Scribe(id="b7", method="punch", line=line((30, 90, 0.0), (60, 90, 0.0))),
            ),
            trims=(Clip(end="far", side="toe", along_mm=40.0, across_mm=30.0),),
        ),
    ),
    ends=AngleEnds(start=AngleEnd(leg_a_deg=5.0, leg_b_deg=-10.0)),
)

STRAP = Part(
    mark="F1",
    title="gusset strap",
    quantity=8,
    length_mm=220.0,
    section=Flat(designation="FB100x10", width_mm=100.0, thickness_mm=10.0),
    legs=FlatLegs(
        face=Leg(
            features=(
                hole("f1", 40.0, 30.0, 18.0),
                hole("f2", 40.0, 70.0, 18.0),
                slot("f3", (150.0, 50.0), (18.0, 50.0)),
                Stamp(id="f4", x_mm=80.0, from_heel_mm=44.0, height_mm=8.0),
            ),
            trims=(
                Rounding(end="start", side="upper", radius_mm=25.0),
                Notch(side="upper", x_from_mm=90.0, x_to_mm=130.0, across_mm=20.0, radius_mm=8.0),
            ),
        )
    ),
    ends=FlatEnds(far=FlatEnd(face_deg=12.0)),
)

EXAMPLES = (BEAM_CLIP, BRACE, COPED, STRAP)
SHEETS = [(part, leg) for part in EXAMPLES for leg in leg_names(part)]
SHEET_IDS = [f"{part.mark}-{leg}" for part, leg in SHEETS]
