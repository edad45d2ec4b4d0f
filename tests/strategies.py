"""Random sound parts for property tests: angles and flats with every kind of feature and trim.

``parts()`` gives parts whose outlines derive without faults. The values are lengths a shop
meets: hundredths of a millimetre, or 64ths of an inch. ``parts(nc=True)`` keeps to what the
trade's NC files can say: no bolts, processes, purposes, threads or countersinks, lines powdered
or punched, stamps with a text of their own, and values on 0.01 mm.
"""

import math
from dataclasses import dataclass, replace

from hypothesis import assume
from hypothesis import strategies as st

from translator.geometry.outline import leg_outline
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
    OutlineTrim,
    Part,
    Rounding,
    Scribe,
    Slot,
    Stamp,
    Vertex,
    leg_names,
    leg_width,
    on_grid,
)

INCH = 25.4
MARKS = st.text("ABCDEFGHJKLMNPRSTUVWXYZ0123456789-/", min_size=1, max_size=8)
WORDS = st.text(
    st.characters(min_codepoint=32, max_codepoint=0x2FF, exclude_categories=("Cc", "Cs", "Cn")),
    min_size=1,
    max_size=20,
)
LETTERS = st.text("ABCDEFGHJKLMNPRSTUVWXYZ0123456789", min_size=1, max_size=8)
MITRES = st.sampled_from([0.0, 0.0, 0.0, 5.0, 12.5, 22.5, 30.0, 45.0, -10.0, -30.0, -45.0])
BOLTS = st.sampled_from(["M12", "M16", "M20", "3/4", "7/8", "1", "1-1/8"])


@dataclass(frozen=True)
class Grid:
    """The pitch that drawn lengths lie on, and whether files of NC kind must carry them."""

    pitch_mm: float
    nc: bool = False

    def lengths(self, low, high):
        """Lengths from low to high on the pitch; low itself when nothing lies between."""
        first, last = math.ceil(low / self.pitch_mm), math.floor(high / self.pitch_mm)
        if last < first:
            return st.just(low)
        return st.integers(first, last).map(lambda n: on_grid(n * self.pitch_mm))


MM = Grid(0.01)
SIXTEENTHS = Grid(INCH / 16)
SIXTY_FOURTHS = Grid(INCH / 64)


def grids(*, nc=False):
    if nc:
        return st.just(replace(MM, nc=True))
    return st.sampled_from([MM, SIXTEENTHS, SIXTY_FOURTHS])


@st.composite
def angles(draw, grid=MM):
    t = draw(grid.lengths(3, 25))
    a, b = draw(grid.lengths(3 * t, 200)), draw(grid.lengths(3 * t, 200))
    if draw(st.booleans()):
        b = a
    radius = draw(st.sampled_from([0.0, 1.0])) * draw(grid.lengths(2, min(10, 1.9 * t)))
    toe = min(t, radius / 2) if draw(st.booleans()) else 0.0
    name = draw(st.none() | st.just("angle by hand"))
    return Angle(
        leg_a_mm=a,
        leg_b_mm=b,
        thickness_mm=t,
        root_radius_mm=radius,
        toe_radius_mm=round(toe, 2) if grid.nc else toe,
        designation=None if grid.nc else name,
    )


@st.composite
def flats(draw, grid=MM):
    t = draw(grid.lengths(3, 40))
    return Flat(width_mm=draw(grid.lengths(max(20, t), 300)), thickness_mm=t)


@st.composite
def sections(draw):
    grid = draw(grids())
    return draw(st.one_of(angles(grid), flats(grid)))


@dataclass(frozen=True)
class Field:
    """Where things may lie on a leg: trims keep to the ends and edges, features to the middle."""

    grid: Grid
    name: str
    width: float
    thickness: float
    left: float
    right: float
    end_zone: float
    low_edge: bool

    @property
    def low(self):
        return 0.3 * self.width if self.low_edge else 0.05 * self.width

    @property
    def high(self):
        return 0.7 * self.width


@st.composite
def holes(draw, field, number):
    d = draw(field.grid.lengths(2, max(2.0, min(40, 0.4 * field.width))))
    has_sink = not field.grid.nc and draw(st.integers(0, 5)) == 0
    return Hole(
        id=f"{field.name}{number}",
        **draw(places(field)),
        diameter_mm=d,
        depth_mm=draw(depths(field)),
        **({} if field.grid.nc else draw(wishes())),
        thread=None if field.grid.nc else draw(st.sampled_from([None, None, "right", "left"])),
        countersink_diameter_mm=2 * d if has_sink else None,
        countersink_angle_deg=90.0 if has_sink else None,
    )


@st.composite
def slots(draw, field, number):
    w = draw(field.grid.lengths(2, max(2.0, min(30, 0.3 * field.width))))
    extra = draw(field.grid.lengths(1, 60))
    angle = draw(st.sampled_from([0.0, 90.0, 45.0, -30.0, 12.345]))
    return Slot(
        id=f"{field.name}{number}",
        **draw(places(field)),
        width_mm=w,
        length_mm=w + extra,
        angle_deg=angle,
        depth_mm=None if field.grid.nc else draw(depths(field)),
        **({} if field.grid.nc else draw(wishes())),
    )


@st.composite
def openings(draw, field, number):
    at = draw(places(field))
    x, y = at["x_mm"], at["y_mm"]
    half = draw(field.grid.lengths(2, max(2.0, 0.2 * field.width)))
    r = draw(st.sampled_from([0.0, 0.5])) * half
    if r == 0.0:
        corners = ((x - half, y - half), (x + half, y - half), (x + half, y + half))
        contour = tuple(Vertex(x_mm=u, y_mm=v) for u, v in corners)
    elif draw(st.booleans()):
        contour = (Vertex(x_mm=x - r, y_mm=y, bulge=1.0), Vertex(x_mm=x + r, y_mm=y, bulge=1.0))
    else:
        quarter = math.tan(math.pi / 8)
        contour = (
            Vertex(x_mm=x - half, y_mm=y - half),
            Vertex(x_mm=x + half - r, y_mm=y - half, bulge=quarter),
            Vertex(x_mm=x + half, y_mm=y - half + r),
            Vertex(x_mm=x + half, y_mm=y + half),
            Vertex(x_mm=x - half, y_mm=y + half),
        )
    return Opening(id=f"{field.name}{number}", contour=contour)


@st.composite
def centre_marks(draw, field, number):
    return CentreMark(id=f"{field.name}{number}", **draw(places(field)))


@st.composite
def scribes(draw, field, number):
    ends = [draw(places(field)) for _ in range(draw(st.integers(2, 4)))]
    corners = list(dict.fromkeys((end["x_mm"], end["y_mm"]) for end in ends))
    assume(len(corners) > 1)
    methods = ("powder", "punch") if field.grid.nc else ("scribe", "powder", "punch")
    bulges = st.sampled_from([0.0, 0.0, 0.25, -0.5])
    return Scribe(
        id=f"{field.name}{number}",
        method=draw(st.sampled_from(methods)),
        closed=len(corners) > 2 and draw(st.booleans()),
        line=tuple(Vertex(x_mm=x, y_mm=y, bulge=draw(bulges)) for x, y in corners),
    )


@st.composite
def stamps(draw, field, number):
    at = draw(places(field))
    return Stamp(
        id=f"{field.name}{number}",
        text=draw(LETTERS) if field.grid.nc else draw(st.none() | LETTERS | WORDS),
        x_mm=at["x_mm"],
        from_heel_mm=at["y_mm"],
        height_mm=draw(st.sampled_from([6.0, 10.0])),
        angle_deg=draw(st.sampled_from([0.0, 90.0, 180.0, -45.0])),
        may_move=draw(st.booleans()),
    )


@st.composite
def places(draw, field):
    return {
        "x_mm": draw(field.grid.lengths(field.left, field.right)),
        "y_mm": draw(field.grid.lengths(field.low, field.high)),
    }


@st.composite
def depths(draw, field):
    if draw(st.integers(0, 4)):
        return None
    return draw(field.grid.lengths(1, field.thickness))


@st.composite
def wishes(draw):
    bolt = draw(st.none() | BOLTS)
    processes = st.sampled_from([None, "drill", "punch", "sub-punch-and-ream", "mark-only"])
    return {
        "bolt": bolt,
        "purpose": draw(st.sampled_from([None, "rod", "vent"])) if bolt is None else None,
        "process": draw(processes),
    }


FEATURES = (holes, holes, slots, openings, centre_marks, scribes, stamps)


@st.composite
def corner_trims(draw, field, end, side):
    """Draw one trim for a corner, or none; it keeps to a quarter of the width."""
    along = draw(field.grid.lengths(0.4 * field.end_zone, 0.8 * field.end_zone))
    across = draw(field.grid.lengths(0.05 * field.width, 0.25 * field.width))
    kind = draw(st.sampled_from(["none", "cope", "clip", "rounding"]))
    if kind == "cope":
        share = draw(st.sampled_from([0.0, 0.5, 1.0]))
        radius = _down(share * min(along, across) / 2, field.grid)
        return (Cope(end=end, side=side, along_mm=along, across_mm=across, radius_mm=radius),)
    if kind == "clip":
        return (Clip(end=end, side=side, along_mm=along, across_mm=across),)
    if kind == "rounding":
        radius = _down(across / 3, field.grid)
        return (Rounding(end=end, side=side, radius_mm=radius),) if radius > 0 else ()
    return ()


def _down(value, grid):
    return on_grid(math.floor(value / grid.pitch_mm + 1e-9) * grid.pitch_mm)


@st.composite
def heel_copes(draw, field, end):
    """Draw a cope at the heel of an angle's leg, or none."""
    if draw(st.integers(0, 3)):
        return ()
    t = field.thickness
    along = draw(field.grid.lengths(0.4 * field.end_zone, 0.8 * field.end_zone))
    across = draw(field.grid.lengths(t, max(t, 0.5 * field.width)))
    radius = _down(draw(st.sampled_from([0.0, 1.0])) * min(across - t, along / 2), field.grid)
    return (Cope(end=end, side="heel", along_mm=along, across_mm=across, radius_mm=radius),)


@st.composite
def notches(draw, field, side):
    if draw(st.integers(0, 3)):
        return ()
    middle = (field.left + field.right) / 2
    left = draw(field.grid.lengths(field.left, middle))
    right = draw(field.grid.lengths(middle + 1, field.right))
    across = draw(field.grid.lengths(0.05 * field.width, 0.25 * field.width))
    share = draw(st.sampled_from([0.0, 0.5, 1.0]))
    radius = _down(share * min((right - left) / 2, across), field.grid)
    return (Notch(side=side, x_from_mm=left, x_to_mm=right, across_mm=across, radius_mm=radius),)


@st.composite
def legs(draw, field, *, sides, is_angle):
    trims = []
    for end in ("start", "far"):
        trims += draw(corner_trims(field, end, sides[1]))
        if is_angle:
            trims += draw(heel_copes(field, end)) if field.low_edge else ()
        else:
            trims += draw(corner_trims(field, end, sides[0]))
    trims += draw(notches(field, sides[1]))
    if not is_angle:
        trims += draw(notches(field, sides[0]))
    count = draw(st.integers(0, 4))
    features = tuple(
        draw(draw(st.sampled_from(FEATURES))(field, number)) for number in range(1, count + 1)
    )
    return Leg(features=features, trims=tuple(draw(st.permutations(trims))))


@st.composite
def parts(draw, *, nc=False, explicit=True, kinds=("angle", "flat")):
    """Draw a sound part.

    Args:
        draw: given by hypothesis.
        nc: keep to what NC files can carry.
        explicit: let some legs have the outline they derive told corner by corner.
        kinds: which sections to draw from.
    """
    grid = draw(grids(nc=nc))
    is_angle = draw(st.sampled_from(kinds)) == "angle"
    section = draw(angles(grid) if is_angle else flats(grid))
    if is_angle:
        pairs = [AngleEnd(leg_a_deg=draw(MITRES), leg_b_deg=draw(MITRES)) for _ in range(2)]
        ends = AngleEnds(start=pairs[0], far=pairs[1])
        turns = [pair.leg_a_deg for pair in pairs] + [pair.leg_b_deg for pair in pairs]
        widest = max(section.leg_a_mm, section.leg_b_mm)
    else:
        ends = FlatEnds(start=FlatEnd(face_deg=draw(MITRES)), far=FlatEnd(face_deg=draw(MITRES)))
        turns, widest = [ends.start.face_deg, ends.far.face_deg], section.width_mm
    reach = widest * max(math.tan(math.radians(abs(turn))) for turn in turns)
    zone = 3 * reach + 40
    length = draw(grid.lengths(2 * zone + 100, 2 * zone + 3000))
    built = {}
    heel_leg = draw(st.sampled_from(["a", "b"]))
    for name in ("a", "b") if is_angle else ("face",):
        field = Field(
            grid=grid,
            name=name[0],
            width=leg_width(section, name),
            thickness=section.thickness_mm,
            left=zone,
            right=length - zone,
            end_zone=zone,
            low_edge=name == heel_leg or not is_angle,
        )
        sides = ("heel", "toe") if is_angle else ("lower", "upper")
        built[name] = draw(legs(field, sides=sides, is_angle=is_angle))
    part = Part(
        mark=draw(MARKS),
        quantity=draw(st.integers(1, 99)),
        grade=draw(st.sampled_from(["S235JR", "S355J2", "A36"])),
        length_mm=length,
        section=section,
        legs=AngleLegs(**built) if is_angle else FlatLegs(**built),
        ends=ends,
        units="mm" if grid.pitch_mm == MM.pitch_mm else "inch",
        **({} if nc else draw(words())),
    )
    assume(all(not leg_outline(part, name).faults for name in leg_names(part)))
    if explicit and not nc and draw(st.integers(0, 9)) == 0:
        return told_by_outline(part)
    return part


@st.composite
def words(draw):
    """Draw what a part says beside its shape."""
    maybe = st.none() | WORDS
    return {
        "title": draw(maybe),
        "order": draw(maybe),
        "drawing": draw(maybe),
        "revision": draw(st.none() | LETTERS),
        "finish": draw(st.sampled_from([None, "galvanised", "primer"])),
        "remarks": tuple(draw(st.lists(WORDS, max_size=2))),
        "second_work": tuple(draw(st.lists(WORDS, max_size=1))),
    }


def told_by_outline(part):
    """Return the part with the outline of each leg told corner by corner."""
    built = {
        name: Leg(
            features=getattr(part.legs, name).features,
            trims=(OutlineTrim(contour=leg_outline(part, name).contour),),
        )
        for name in leg_names(part)
    }
    is_flat = isinstance(part.section, Flat)
    fresh = {"legs": FlatLegs(**built) if is_flat else AngleLegs(**built)}
    return Part(**{name: fresh.get(name, getattr(part, name)) for name in type(part).model_fields})
