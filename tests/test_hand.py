"""The hand: fold both drawings into a piece of steel and see that it is the right one.

A drawing on which leg b were mirrored would pass every test that looks at one sheet. So both
sheets are read with an independent reader and folded by what their notes say, and nothing
else: seen from outside, start end left, leg a above leg b, joined along the heel, is the
unfolded angle. The piece is compared with one that is built of cubes and cylinders by the
meaning of the model: X along the piece; leg a goes from the heel to +Y and looks outside to
+Z; leg b goes from the heel to -Z and looks outside to -Y.

No code of ``translator`` takes part in either, and a drawing made with any one flip of leg b
left out must be found out.
"""

import math

import numpy as np
import pytest
from dxf_reading import Sheet, tidy
from manifold3d import CrossSection, Manifold

from translator.emitters import EmitOptions
from translator.emitters.dxf import EMITTER, _view
from translator.emitters.dxf._entities import Spot
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    Cope,
    Hole,
    Leg,
    Opening,
    Part,
    Rounding,
    Slot,
    Stamp,
    Vertex,
)

L, A, B, T = 400.0, 120.0, 80.0, 10.0
FAR_A, FAR_B = 20.0, -12.0
HEEL_FAR = L - A * math.tan(math.radians(FAR_A))  # the toe of leg a is the outermost point
ROUND = 96
STAMP_DEPTH, STAMP_ROOM = 1.0, 4.0  # depth and length (in heights) of the mark for a stamp
SAME_MM3 = 25.0
"""Two solids that differ by less are one; arcs are cut into chords differently."""

HOLES = {"a": ((70.0, 75.0, 22.0), (150.0, 55.0, 14.0)), "b": ((90.0, 50.0, 18.0),)}
SLOTS = {"a": (230.0, 80.0, 18.0, 50.0, 45.0), "b": (190.0, 45.0, 14.0, 40.0, 45.0)}
STAMPS = {"a": (300.0, 40.0, 9.0, 30.0), "b": (280.0, 35.0, 8.0, 25.0)}
LABELS = {"a": "TQ-A", "b": "TQ-B"}
D_SHAPE = (330.0, 30.0, 12.0)
"""In leg b: x and y of the middle of the straight side, radius of the half circle, which lies
towards the toe."""

COPE_A = (60.0, 45.0, 20.0)
ROUNDING_B = 25.0


def leg(name):
    x, y, w, length, angle = SLOTS[name]
    sx, sy, height, turn = STAMPS[name]
    features = [
        Hole(id=f"{name}{i}", x_mm=u, y_mm=v, diameter_mm=d)
        for i, (u, v, d) in enumerate(HOLES[name])
    ]
    features += [
        Slot(id=f"{name}7", x_mm=x, y_mm=y, width_mm=w, length_mm=length, angle_deg=angle),
        Stamp(
            id=f"{name}8",
            text=LABELS[name],
            x_mm=sx,
            from_heel_mm=sy,
            height_mm=height,
            angle_deg=turn,
        ),
    ]
    if name == "a":
        along, across, radius = COPE_A
        cope = Cope(end="start", side="toe", along_mm=along, across_mm=across, radius_mm=radius)
        return Leg(features=tuple(features), trims=(cope,))
    # From left to right over the half circle by way of the toe: that turns to the right where
    # the toe is up, so the bulge is negative; the straight side leads back.
    dx, dy, r = D_SHAPE
    half = (Vertex(x_mm=dx - r, y_mm=dy, bulge=-1.0), Vertex(x_mm=dx + r, y_mm=dy))
    features.append(Opening(id="b9", contour=half))
    rounding = Rounding(end="start", side="toe", radius_mm=ROUNDING_B)
    return Leg(features=tuple(features), trims=(rounding,))


PIECES = {
    units: Part(
        mark="H1",
        length_mm=L,
        section=Angle(leg_a_mm=A, leg_b_mm=B, thickness_mm=T),
        legs=AngleLegs(a=leg("a"), b=leg("b")),
        ends=AngleEnds(far=AngleEnd(leg_a_deg=FAR_A, leg_b_deg=FAR_B)),
        units=units,
    )
    for units in ("mm", "inch")
}


# --- from the drawings ---------------------------------------------------------------------


def sheets(part):
    return {name: Sheet(EMITTER.emit(part, EmitOptions(leg=name))) for name in ("a", "b")}


def section(ring):
    polygon = CrossSection([np.array(tidy(ring))])
    # The reader gives a ring whichever way it was drawn.
    return polygon if polygon.area() > 0 else CrossSection([np.array(tidy(ring)[::-1])])


def plate(sheet):
    """The steel of one sheet: from the paper, which is the outer face, away from the eye."""
    (outline,) = sheet.rings("LEG-OUTLINE")
    cut = section(outline)
    for u, v, r in sheet.circles("HOLE-THROUGH"):
        cut -= CrossSection.circle(r, ROUND).translate((u, v))
    for ring in sheet.rings("SLOT", "OPENING"):
        cut -= section(ring)
    steel = Manifold.extrude(cut, T).translate((0, 0, -T))
    for letters in sheet.letters("STAMP"):
        steel -= flag(letters)
    return steel


def flag(letters):
    """A mark that shows how letters lie: foot of the first, foot of the last, head of the first."""
    h = letters.height
    triangle = CrossSection([np.array([(0, 0), (STAMP_ROOM * h, 0), (0, h)])])
    return (
        Manifold.extrude(triangle, 2 * STAMP_DEPTH)
        .translate((0, 0, -STAMP_DEPTH))
        .rotate((0, 0, letters.turn_deg))
        .translate((*letters.foot, 0))
    )


def folded(pair):
    """Fold leg b back, away from the eye, about the heel line (the u axis of both sheets).

    The eye sees u to the right, v up and looks against w. What lies below the heel (v < 0)
    goes back (w < 0): a quarter turn about u that takes v to w.
    """
    return plate(pair["a"]) + plate(pair["b"]).rotate((90, 0, 0))


# --- from the meaning of the model ---------------------------------------------------------


def prism(shape):
    """A shape of x and y on a leg, cut straight through it: z from 0 (outer face) inwards."""
    return Manifold.extrude(shape, T + 2).translate((0, 0, -1))


def meant_leg(name):
    """A leg with x along, y to the toe and z from the outer face inwards (for leg b)."""
    width = A if name == "a" else B
    slope = math.tan(math.radians(FAR_A if name == "a" else FAR_B))
    steel = Manifold.cube((L + 100, width, T))
    beyond = [(HEEL_FAR, 0), (HEEL_FAR + 300, 0), (HEEL_FAR + 300, width)]
    beyond += [(HEEL_FAR + slope * width, width)]
    steel -= prism(CrossSection([np.array(beyond)]))
    for x, y, d in HOLES[name]:
        steel -= prism(CrossSection.circle(d / 2, ROUND).translate((x, y)))
    x, y, w, length, angle = SLOTS[name]
    way = np.array((math.cos(math.radians(angle)), math.sin(math.radians(angle))))
    discs = [
        CrossSection.circle(w / 2, ROUND).translate(tuple(np.array((x, y)) + s * way))
        for s in ((length - w) / 2, (w - length) / 2)
    ]
    steel -= prism(CrossSection.batch_hull(discs))
    return steel - trims(name, width)


def trims(name, width):
    if name == "a":
        along, across, r = COPE_A
        whole = CrossSection.square((along + 1, across + 1)).translate((-1, width - across))
        corner = CrossSection.square((r, r)).translate((along - r, width - across))
        disc = CrossSection.circle(r, ROUND).translate((along - r, width - across + r))
        return prism(whole - (corner - disc))
    r = ROUNDING_B
    corner = CrossSection.square((r + 1, r + 1)).translate((-1, width - r))
    rounded = corner - CrossSection.circle(r, ROUND).translate((r, width - r))
    x, y, radius = D_SHAPE
    disc = CrossSection.circle(radius, ROUND).translate((x, y))
    toe_half = CrossSection.square((4 * radius, 2 * radius)).translate((x - 2 * radius, y))
    return prism(rounded) + prism(disc ^ toe_half)


X, Y, Z = np.eye(3)
TOE = {"a": Y, "b": -Z}
OUTSIDE = {"a": Z, "b": -Y}


def meant_letters(name):
    """Foot of the first letter, reading direction and up, of a stamp as the model means it.

    It reads from outside, so reading x up = outside. Its point is the left end of the edge
    that is nearest the heel; the angle turns about it, from +X towards the toe.
    """
    x, from_heel, height, angle = STAMPS[name]
    turn = math.radians(angle)
    reading = math.cos(turn) * X + math.sin(turn) * TOE[name]
    away = -math.sin(turn) * X + math.cos(turn) * TOE[name]  # from the heel, before turning
    up = np.cross(OUTSIDE[name], reading)
    point = x * X + from_heel * TOE[name]
    foot = point if up @ away > 0 else point + height * away
    return foot, reading, up, height


def meant_flag(name):
    foot, reading, up, height = meant_letters(name)
    frame = np.column_stack((reading, up, OUTSIDE[name], foot))
    triangle = CrossSection([np.array([(0, 0), (STAMP_ROOM * height, 0), (0, height)])])
    mark = Manifold.extrude(triangle, 2 * STAMP_DEPTH).translate((0, 0, -STAMP_DEPTH))
    return mark.transform(frame)


def meant():
    # Leg a: inwards is -Z, so x, y, z become X, Y, -Z (mirrored, as a leg seen from inside);
    # leg b: inwards is +Y, so they become X, -Z, Y.
    leg_a = meant_leg("a").transform(np.column_stack((X, Y, -Z, 0 * X)))
    leg_b = meant_leg("b").transform(np.column_stack((X, -Z, Y, 0 * X)))
    return (leg_a - meant_flag("a")) + (leg_b - meant_flag("b"))


def difference(one, other):
    return (one - other).volume() + (other - one).volume()


@pytest.fixture(scope="module", name="piece")
def _piece():
    return folded(sheets(PIECES["mm"]))


@pytest.fixture(scope="module", name="target")
def _target():
    return meant()


# --- the comparison ------------------------------------------------------------------------


@pytest.mark.parametrize("units", PIECES)
def test_the_folded_drawings_are_the_piece_that_is_meant(units, target):
    steel = folded(sheets(PIECES[units]))
    assert steel.volume() > 100_000
    assert difference(steel, target) < SAME_MM3


def test_the_legs_stay_one_solid(piece):
    assert len(piece.decompose()) == 1


PROBES = [
    ((70, 75, -5), False, "hole of leg a, 75 from the heel"),
    ((70, 120 - 75, -5), True, "the same, 75 from the toe"),
    ((90, 5, -50), False, "hole of leg b, 50 from the heel"),
    ((90, 5, -30), True, "the same, 50 from the toe"),
    ((90, 50, -5), True, "the same on leg a"),
    ((240, 90, -5), False, "slot of leg a goes up with x"),
    ((240, 70, -5), True, "and not down"),
    ((198, 5, -53), False, "slot of leg b goes to the toe with x"),
    ((198, 5, -37), True, "and not to the heel"),
    ((330, 5, -38), False, "half circle of leg b on the toe side"),
    ((330, 5, -24), True, "and not on the heel side"),
    ((30, 90, -5), False, "cope of leg a at the toe"),
    ((57, 78, -5), True, "its round inside corner"),
    ((30, 5, -70), True, "no cope in leg b"),
    ((3, 5, -77), False, "rounded toe corner of leg b"),
    ((3, 5, -3), True, "the heel is whole at the start end"),
    ((HEEL_FAR - 1, 1, -1), True, "the heel is whole at the far end"),
    ((HEEL_FAR + 1, 1, -0.5), False, "and ends there"),
    ((L - 5, A - 3, -5), True, "leg a is long at the toe"),
    ((HEEL_FAR - 5, 5, -78), False, "leg b is short at the toe"),
    ((200, -1, 1), False, "outside of the heel"),
    ((200, 20, -20), False, "between the legs"),
]


@pytest.mark.parametrize(("place", "steel"), [p[:2] for p in PROBES], ids=[p[2] for p in PROBES])
def test_probe(place, steel, piece):
    grain = Manifold.cube((0.2, 0.2, 0.2), center=True).translate(place)
    assert ((piece ^ grain).volume() > 0.5 * grain.volume()) is steel


@pytest.mark.parametrize("name", ["a", "b"])
def test_a_stamp_lies_and_reads_as_meant(name):
    (letters,) = sheets(PIECES["mm"])[name].letters("STAMP")
    assert letters.text == LABELS[name]
    turn = math.radians(letters.turn_deg)
    on_paper = [
        np.array((*letters.foot, 0.0)),
        np.array((math.cos(turn), math.sin(turn), 0.0)),
        np.array((-math.sin(turn), math.cos(turn), 0.0)),
    ]
    fold = np.eye(3) if name == "a" else np.column_stack((X, Z, -Y))
    for drawn, expected in zip(on_paper, meant_letters(name)[:3], strict=True):
        assert fold @ drawn == pytest.approx(expected, abs=1e-6)


def test_the_mitre_is_one_plane():
    """The end edges of both legs lie in the plane whose traces have the two angles."""
    pair = sheets(PIECES["mm"])
    corners = {}
    for name, width in (("a", A), ("b", B)):
        (ring,) = pair[name].rings("LEG-OUTLINE")
        heel = max(u for u, v in ring if abs(v) < 1e-6)
        toe = max(u for u, v in ring if abs(abs(v) - width) < 1e-6)
        corners[name] = (heel, toe)
    assert corners["a"][0] == pytest.approx(corners["b"][0], abs=1e-6)
    heel = corners["a"][0] * X
    toe_a = corners["a"][1] * X + A * TOE["a"]
    toe_b = corners["b"][1] * X + B * TOE["b"]
    normal = np.cross(toe_a - heel, toe_b - heel)
    assert normal / normal[0] == pytest.approx(
        (1.0, -math.tan(math.radians(FAR_A)), math.tan(math.radians(FAR_B))), abs=1e-6
    )
    assert heel[0] == pytest.approx(HEEL_FAR, abs=1e-6)


# --- any one flip left out must be found out -----------------------------------------------

MUTANTS = {
    "no flip at all": {
        "outside_sign": lambda _leg: 1.0,
        "outside_point": lambda _leg, x, y: (x, y),
    },
    "points not flipped": {"spot": lambda _leg, x, y: Spot(x, y)},
    "angles not turned": {"turned": lambda _leg, degrees: degrees},
    "bulges not turned": {"bent": lambda _leg, bulge: bulge},
    "letters hang from the wrong edge": {"head_down": lambda _leg: 0.0},
    "bulges turned on both legs": {"bent": lambda _leg, bulge: -bulge},
    "the other leg flipped": {
        "outside_sign": lambda leg: -1.0 if leg == "a" else 1.0,
        "outside_point": lambda leg, x, y: (x, -y if leg == "a" else y),
    },
}


@pytest.mark.parametrize("mutant", MUTANTS)
def test_a_wrong_hand_is_found_out(mutant, monkeypatch, target):
    for name, wrong in MUTANTS[mutant].items():
        monkeypatch.setattr(_view, name, wrong)
    assert difference(folded(sheets(PIECES["mm"])), target) > 4 * SAME_MM3


@pytest.mark.parametrize(
    "swap",
    [
        lambda pair: {"a": pair["b"], "b": pair["a"]},
        lambda pair: {"a": pair["a"], "b": pair["a"]},
    ],
    ids=["sheets exchanged", "one sheet twice"],
)
def test_exchanged_sheets_are_found_out(swap, target):
    assert difference(folded(swap(sheets(PIECES["mm"]))), target) > 4 * SAME_MM3
