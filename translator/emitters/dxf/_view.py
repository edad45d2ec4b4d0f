"""From the model's frame of a leg to its outside view; the only place that knows the hand.

The outside view shows the start end at the left. Leg a and a flat have the heel (the lower
edge) at the bottom; leg b has it at the top, so there v runs from 0 down and every angle and
bulge changes its sign. Letters read from outside on either leg.
"""

import math
from collections.abc import Iterable

from translator.emitters.dxf._entities import Corner, Spot, new
from translator.geometry.frames import outside_point, outside_sign
from translator.model import LegName, Stamp, Vertex


def spot(leg: LegName, x: float, y: float) -> Spot:
    """Return a place of a leg in its outside view."""
    return new(Spot, outside_point(leg, x, y))


def turned(leg: LegName, degrees: float) -> float:
    """Return a direction in the outside view, counter-clockwise from u."""
    return degrees * outside_sign(leg) + 0.0


def bent(leg: LegName, bulge: float) -> float:
    """Return a bulge in the outside view, + = counter-clockwise."""
    return bulge * outside_sign(leg) + 0.0


def corners(leg: LegName, line: Iterable[Vertex]) -> tuple[Corner, ...]:
    """Return a contour or line in the outside view, its vertices in the same order."""
    return tuple(
        [
            new(
                Corner,
                (*outside_point(leg, v.x_mm, v.y_mm), bent(leg, v.bulge) if v.bulge else 0.0),
            )
            for v in line
        ]
    )


def baseline(leg: LegName, stamp: Stamp) -> Spot:
    """Return where the baseline of a stamp's letters begins in the outside view.

    The stamp's own point is the left end of the edge nearest the heel, and its angle turns
    about that point. On leg a that edge is the foot of the letters; on leg b, with the heel
    at the top, it is their head, so the baseline lies one letter height further down.
    """
    u, v = spot(leg, stamp.x_mm, stamp.from_heel_mm)
    drop = stamp.height_mm * head_down(leg)
    turn = math.radians(turned(leg, stamp.angle_deg))
    return Spot(u + drop * math.sin(turn), v - drop * math.cos(turn))


def head_down(leg: LegName) -> float:
    """Return 1.0 on leg b, where the heads of the letters look to the heel, else 0.0."""
    return 1.0 if outside_sign(leg) < 0.0 else 0.0
