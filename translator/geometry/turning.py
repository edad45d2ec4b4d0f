"""Turns and the mirror: the same piece lying another way round, and its opposite hand.

An angle's section is given back by one rigid turn: half a turn about the axis square to the
piece that lies in the bisector of its legs. It carries x to length - x and each point of one
leg to the other leg, at the same distance from the heel and the same depth. A flat has three:
about its thickness (the same face up), about its width and about its length (the back face up).
The mirror carries x to length - x and leaves every leg where it is.

All turns are exact on the grid, and doing one twice gives the part back, equal by ``==`` (an
explicit outline in the order that the model asks for, else it comes back in that order).
"""

import math

from msgspec import Struct

from translator.geometry.contours import arranged
from translator.lengths.grid import text_direction
from translator.model import (
    AngleEnd,
    AngleEnds,
    AngleLegs,
    CentreMark,
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
    Scribe,
    Slot,
    Stamp,
    Trim,
    Vertex,
    leg_width,
    on_grid,
    slot_direction,
)
from translator.model.features import Feature

_OTHER_SIDE = {"lower": "upper", "upper": "lower"}


class Flip(Struct, frozen=True, kw_only=True):
    """What a turn or mirror does to the coordinates of one leg, millimetres."""

    length: float
    width: float
    ends: bool
    edges: bool

    @property
    def is_reversed(self) -> bool:
        """True when left and right turns are exchanged in (x, y)."""
        return self.ends != self.edges

    def x(self, value: float) -> float:
        """Return where a place along the piece comes to lie."""
        return on_grid(self.length - value) if self.ends else value

    def y(self, value: float) -> float:
        """Return where a place across the leg comes to lie."""
        return on_grid(self.width - value) if self.edges else value

    def angle(self, degrees: float) -> float:
        """Return what becomes of an angle, or of a bulge."""
        return -degrees if self.is_reversed else degrees


def turned(part: Part) -> Part:
    """Return the piece turned end for end.

    An angle's legs change places, with their sizes, and the heel stays the heel. A flat keeps
    its face and its edges change places.
    """
    return _turned_flat(part, ends=True, edges=True) if _is_flat(part) else _turned_angle(part)


def turned_over(part: Part) -> Part:
    """Return a flat turned about its length, so that its back face lies up.

    What its face carries (blind holes, countersinks, marks, lines, stamps) would then be on the
    back; ask ``depends_on_face`` first.

    Raises:
        ValueError: for an angle, which has no such turn.
    """
    if not _is_flat(part):
        raise ValueError("an angle can't be turned over; only a flat can")
    return _turned_flat(part, ends=False, edges=True)


def turns(part: Part) -> tuple[Part, ...]:
    """Return the piece in every other way it may lie: one for an angle, one or three for a flat."""
    once = turned(part)
    if not _is_flat(part) or depends_on_face(part):
        return (once,)
    return (once, turned_over(part), turned_over(once))


def mirrored(part: Part) -> Part:
    """Return the opposite hand: x counted from the other end, every leg in its place.

    Letters can't be mirrored: a stamp stands in the mirrored place, readable, and is read from
    the other end.
    """
    if isinstance(part.legs, FlatLegs):
        return _turned_flat(part, ends=True, edges=False)
    legs, ends = part.legs, part.ends
    if isinstance(ends, FlatEnds):
        raise TypeError("an angle's legs with a flat's ends")
    a, b = (_flip(part, leg, ends=True, edges=False) for leg in ("a", "b"))
    return part.model_copy(
        update={
            "legs": AngleLegs(a=_flipped_leg(legs.a, a), b=_flipped_leg(legs.b, b)),
            "ends": AngleEnds(start=ends.far, far=ends.start),
        }
    )


def legs_exchanged(part: Part) -> Part:
    """Return the opposite hand of an angle: each leg in the other's place, x as it was.

    This is the mirror image in the plane between the legs. Turned end for end it lies as
    ``mirrored`` gives it, and it costs nothing: no feature is changed. Waivers are left as they
    are.

    Raises:
        TypeError: for a flat.
    """
    section, legs, ends = part.section, part.legs, part.ends
    if isinstance(section, Flat) or isinstance(legs, FlatLegs) or isinstance(ends, FlatEnds):
        raise TypeError("not an angle")
    return part.model_copy(
        update={
            "section": section.model_copy(
                update={"leg_a_mm": section.leg_b_mm, "leg_b_mm": section.leg_a_mm}
            ),
            "legs": AngleLegs.model_construct(a=legs.b, b=legs.a),
            "ends": AngleEnds(start=_exchanged(ends.start), far=_exchanged(ends.far)),
        }
    )


def depends_on_face(part: Part) -> bool:
    """Tell whether anything on a flat would show on the wrong side when it is turned over."""
    legs = part.legs
    return isinstance(legs, FlatLegs) and any(is_on_face(f) for f in legs.face.features)


def is_on_face(feature: Feature) -> bool:
    """Tell whether a feature of a flat would show on the wrong side when it is turned over."""
    if isinstance(feature, Hole | Slot):
        is_sunk = isinstance(feature, Hole) and feature.countersink_diameter_mm is not None
        return is_sunk or feature.depth_mm is not None or feature.process == "mark-only"
    return isinstance(feature, CentreMark | Scribe | Stamp)


def _is_flat(part: Part) -> bool:
    return isinstance(part.section, Flat)


def _turned_angle(part: Part) -> Part:
    section, legs, ends = part.section, part.legs, part.ends
    if isinstance(section, Flat) or isinstance(legs, FlatLegs) or isinstance(ends, FlatEnds):
        raise TypeError("not an angle")
    a, b = (_flip(part, leg, ends=True, edges=False) for leg in ("a", "b"))
    return part.model_copy(
        update={
            "section": section.model_copy(
                update={"leg_a_mm": section.leg_b_mm, "leg_b_mm": section.leg_a_mm}
            ),
            "legs": AngleLegs(a=_flipped_leg(legs.b, b), b=_flipped_leg(legs.a, a)),
            "ends": AngleEnds(start=_exchanged(ends.far), far=_exchanged(ends.start)),
            "waivers": tuple(
                waiver.model_copy(update={"leg": {"a": "b", "b": "a"}.get(waiver.leg or "")})
                for waiver in part.waivers
            ),
        }
    )


def _exchanged(end: AngleEnd) -> AngleEnd:
    return AngleEnd(leg_a_deg=end.leg_b_deg, leg_b_deg=end.leg_a_deg)


def _turned_flat(part: Part, *, ends: bool, edges: bool) -> Part:
    legs, cuts = part.legs, part.ends
    if isinstance(legs, AngleLegs) or isinstance(cuts, AngleEnds):
        raise TypeError("not a flat")
    flip = _flip(part, "face", ends=ends, edges=edges)
    first, last = (cuts.far, cuts.start) if ends else (cuts.start, cuts.far)
    if edges:
        first, last = _tilted(first), _tilted(last)
    return part.model_copy(
        update={
            "legs": FlatLegs(face=_flipped_leg(legs.face, flip)),
            "ends": FlatEnds(start=first, far=last),
        }
    )


def _tilted(end: FlatEnd) -> FlatEnd:
    return FlatEnd(face_deg=-end.face_deg)


def _flip(part: Part, leg: str, *, ends: bool, edges: bool) -> Flip:
    return Flip(length=part.length_mm, width=leg_width(part.section, leg), ends=ends, edges=edges)


def _flipped_leg(leg: Leg, flip: Flip) -> Leg:
    return leg.model_copy(
        update={
            "features": tuple(_flipped_feature(f, flip) for f in leg.features),
            "trims": tuple(flipped_trim(t, flip) for t in leg.trims),
        }
    )


def _flipped_feature(feature: Feature, flip: Flip) -> Feature:
    return feature.model_copy(update=moved(feature, flip))


def moved(feature: Feature, flip: Flip) -> dict[str, object]:
    """Return what a turn or mirror changes in a feature: field -> new value."""
    if isinstance(feature, Stamp):
        return _flipped_stamp(feature, flip)
    if isinstance(feature, Opening):
        return {"contour": _flipped_line(feature.contour, flip)}
    if isinstance(feature, Scribe):
        return {"line": _flipped_line(feature.line, flip)}
    changed: dict[str, object] = {"x_mm": flip.x(feature.x_mm), "y_mm": flip.y(feature.y_mm)}
    if isinstance(feature, Slot):
        changed["angle_deg"] = slot_direction(flip.angle(feature.angle_deg))
    return changed


def _flipped_stamp(stamp: Stamp, flip: Flip) -> dict[str, object]:
    """Return a stamp's new place and angle.

    Where (x, y) keeps its hand the letters turn about with the face. Else they take the flipped
    box: the corner that was their far edge's left end becomes the point they are placed by,
    both when they come to lie on the other leg (there the point is the letters' other edge) and
    when they are mirrored (there the text is turned round to stay readable).
    """
    x, y, degrees = stamp.x_mm, stamp.from_heel_mm, stamp.angle_deg
    if flip.is_reversed:
        x -= stamp.height_mm * math.sin(math.radians(degrees))
        y += stamp.height_mm * math.cos(math.radians(degrees))
        degrees = 180.0 - degrees if flip.ends else -degrees
    else:
        degrees += 180.0
    return {
        "x_mm": on_grid(flip.length - x if flip.ends else x),
        "from_heel_mm": on_grid(flip.width - y if flip.edges else y),
        "angle_deg": text_direction(degrees),
    }


def _flipped_line(line: tuple[Vertex, ...], flip: Flip) -> tuple[Vertex, ...]:
    return tuple(
        v.model_copy(
            update={
                "x_mm": flip.x(v.x_mm),
                "y_mm": flip.y(v.y_mm),
                "bulge": flip.angle(v.bulge) + 0.0,
            }
        )
        for v in line
    )


def flipped_trim(trim: Trim, flip: Flip) -> Trim:
    """Return a trim as a turn or mirror leaves it."""
    if isinstance(trim, OutlineTrim):
        return trim.model_copy(update={"contour": arranged(_flipped_line(trim.contour, flip))})
    update: dict[str, object] = {}
    if flip.edges:
        update["side"] = _OTHER_SIDE[trim.side]
    if isinstance(trim, Notch):
        if flip.ends:
            update |= {"x_from_mm": flip.x(trim.x_to_mm), "x_to_mm": flip.x(trim.x_from_mm)}
    elif flip.ends:
        update["end"] = "far" if trim.end == "start" else "start"
    return trim.model_copy(update=update)
