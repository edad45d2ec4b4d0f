"""How a piece may lie on a bar: which end leads, which side its legs are on, what its ends take."""

import math
from typing import Final, Literal

from msgspec import Struct

from translator.bars.plan_model import PlannedPiece
from translator.bars.program_cuts import Plane, leading, trailing, widths
from translator.bars.program_lying import lying
from translator.machines import Capability, capable, capable_as
from translator.machines.handling import Placement
from translator.machines.profile import Machine
from translator.machines.ranges import Side
from translator.model import Angle, Part, Placed
from translator.source import printable

_SQUARE_DEG: Final = 1e-6

BarLay = tuple[Literal["down", "up"], Side | None]
"""How a bar lies: its heel, and the side of its longer leg where one is longer."""


class Lie(Struct, frozen=True, kw_only=True):
    """One way for a piece to lie on a bar.

    Attributes:
        placement: how it lies in the machine.
        long_leg: side of the longer leg; None where both are alike, and for a flat.
        lead: plane of its leading end, with the piece's outermost point there at 0.
        trail: plane of its trailing end, counted alike.
        lead_over: how far its steel reaches beyond that outermost point, millimetres; the
            inside of a toe does where both legs are mitred.
        trail_over: the same at the trailing end.
    """

    placement: Placement
    long_leg: Side | None
    lead: Plane
    trail: Plane
    lead_over: float
    trail_over: float

    @property
    def lay(self) -> BarLay:
        """How the bar must lie for it."""
        return self.placement.heel, self.long_leg

    @property
    def stretch(self) -> float:
        """How much more its cuts take along the bar than a square one: at least 1."""
        return max(stretch(self.lead), stretch(self.trail))


def stretch(plane: Plane) -> float:
    """Return how much more of a bar a cut along a plane takes than a square one."""
    slopes = (math.tan(math.radians(angle)) for angle in plane.angles.values())
    return math.sqrt(1.0 + math.fsum(slope * slope for slope in slopes))


def is_square(plane: Plane) -> bool:
    """Tell whether a plane is square to the bar."""
    return all(abs(angle) <= _SQUARE_DEG for angle in plane.angles.values())


class Able(Struct, frozen=True, kw_only=True):
    """What a machine can do with a part on a bar.

    Attributes:
        lies: ways it may lie, those that serve alike, in the profile's order; empty = none.
        capability: what the machine says of it in the first of them, or of the part.
    """

    lies: tuple[Lie, ...]
    capability: Capability


def able(machine: Machine, placed: Placed) -> Able:
    """Return the ways in which a machine makes a part with the least work beside it."""
    part = placed.part
    tried = [(placement, capable_as(machine, part, placement)) for placement in machine.placements]
    fit = [(placement, one) for placement, one in tried if one.verdict != "not"]
    if not fit:
        return Able(lies=(), capability=capable(machine, part))
    least = min(_work(one) for _, one in fit)
    chosen = [(placement, one) for placement, one in fit if _work(one) == least]
    lies = tuple(_lie(machine, placed, placement) for placement, _ in chosen)
    return Able(lies=lies, capability=chosen[0][1])


def _work(capability: Capability) -> tuple[int, int]:
    crib = sum(1 for reason in capability.reasons if reason.rule == "tool-in-crib")
    return len(capability.second_work), crib


def _lie(machine: Machine, placed: Placed, placement: Placement) -> Lie:
    part = placed.part
    piece = PlannedPiece(
        number=1,
        mark=part.mark,
        index=1,
        count=1,
        length_mm=part.length_mm,
        lead_mm=0.0,
        placement=placement,
        source=printable(placed.places[""].path),
    )
    own = lying(piece, placed, machine)
    lead, trail = leading(own), trailing(own)
    sides = widths(own)
    thickness = part.section.thickness_mm
    return Lie(
        placement=placement,
        long_leg=_long_leg(part, sides),
        lead=lead,
        trail=trail,
        lead_over=max(0.0, -_extreme(lead, sides, thickness, -1.0)),
        trail_over=max(0.0, _extreme(trail, sides, thickness, 1.0) - part.length_mm),
    )


def _long_leg(part: Part, sides: dict[Side, float]) -> Side | None:
    section = part.section
    if not isinstance(section, Angle) or section.leg_a_mm == section.leg_b_mm:
        return None
    return max(sides, key=lambda side: sides[side])


def _extreme(plane: Plane, sides: dict[Side, float], thickness: float, way: float) -> float:
    """Return the greatest (way 1) or least (way -1) bar coordinate of the steel on a plane."""
    slopes = {side: -math.tan(math.radians(plane.angles.get(side, 0.0))) for side in sides}
    names = list(sides)
    corners = [dict.fromkeys(names, 0.0)]
    for name in names:
        others = [other for other in names if other != name]
        corners.append({name: sides[name], **dict.fromkeys(others, 0.0)})
        corners.append({name: sides[name], **dict.fromkeys(others, thickness)})
    if len(names) == 1:
        corners = corners[:2]
    reach = [math.fsum(slopes[n] * c[n] for n in names) for c in corners]
    return plane.heel + (max(reach) if way > 0 else min(reach))
