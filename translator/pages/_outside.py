"""From the model's frame of a leg to the picture; the hand comes from ``geometry.frames``.

Places here are in units of the drawing before it is cut into windows: x grows with the
model's x, y points down as a picture's does.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

from translator.emitters.dxf._view import baseline, turned
from translator.geometry.frames import outside_point, outside_sign
from translator.model import LegName, Slot, Stamp, Vertex
from translator.pages._picture import number


def spot(leg: LegName, x: float, y: float, scale: float) -> tuple[float, float]:
    """Return a place of a leg."""
    u, v = outside_point(leg, x, y)
    return (u * scale, -v * scale + 0.0)


def path_of(leg: LegName, line: Sequence[Vertex], scale: float, *, closed: bool = True) -> str:
    """Return a contour or line as the data of a path, arcs as arcs."""
    if not line:
        return ""
    ring = [*line, line[0]] if closed else line
    return _moved(spot(leg, line[0].x_mm, line[0].y_mm, scale)) + "".join(
        _edge(leg, one, two, scale) for one, two in pairwise(ring)
    )


def slot_path(leg: LegName, slot: Slot, scale: float) -> str:
    """Return the outline of a slot as the data of a path."""
    radius = slot.width_mm / 2.0
    half = slot.length_mm / 2.0 - radius
    turn = math.radians(slot.angle_deg)
    along, across = math.cos(turn), math.sin(turn)

    def corner(s: float, t: float, bulge: float) -> Vertex:
        return Vertex.model_construct(
            x_mm=slot.x_mm + s * along - t * across,
            y_mm=slot.y_mm + s * across + t * along,
            bulge=bulge,
        )

    outline = (
        corner(-half, -radius, 0.0),
        corner(half, -radius, 1.0),
        corner(half, radius, 0.0),
        corner(-half, radius, 1.0),
    )
    return path_of(leg, outline, scale)


def stamp_place(leg: LegName, stamp: Stamp, scale: float) -> tuple[float, float, float]:
    """Return where the baseline of a stamp begins, and its turn clockwise in degrees."""
    at = baseline(leg, stamp)
    return (at.u * scale, -at.v * scale + 0.0, -turned(leg, stamp.angle_deg) + 0.0)


def straight(leg: LegName, points: Sequence[tuple[float, float]], scale: float) -> str:
    """Return straight lines from place to place as the data of a path."""
    first, *rest = [spot(leg, x, y, scale) for x, y in points]
    return _moved(first) + "".join(f"L{number(x)} {number(y)}" for x, y in rest)


def _moved(at: tuple[float, float]) -> str:
    return f"M{number(at[0])} {number(at[1])}"


def _edge(leg: LegName, one: Vertex, two: Vertex, scale: float) -> str:
    x, y = spot(leg, two.x_mm, two.y_mm, scale)
    if not one.bulge:
        return f"L{number(x)} {number(y)}"
    chord = math.hypot(two.x_mm - one.x_mm, two.y_mm - one.y_mm)
    radius = chord * (1.0 + one.bulge**2) / (4.0 * abs(one.bulge)) * scale
    # In a picture y points down: what turns counter-clockwise has the sweep flag 0.
    sweep = int(one.bulge * outside_sign(leg) < 0.0)
    return f"A{number(radius)} {number(radius)} 0 0 {sweep} {number(x)} {number(y)}"
