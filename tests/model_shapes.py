"""Shapes of the model as polygons, worked out without the code that is tested."""

import math

from dxf_reading import tidy
from shapely.geometry import LineString, Point, Polygon

from translator.model import Hole, Opening, Slot, leg_of


def edge_points(p, q, pieces=360):
    """Points of an edge by its bulge, by complex numbers (not the way of the code's geometry)."""
    start, end, bulge = complex(p.x_mm, p.y_mm), complex(q.x_mm, q.y_mm), p.bulge
    if bulge == 0:
        return [(start.real, start.imag)]
    turn = 4 * math.atan(bulge)
    # Turning by the whole angle about the centre takes the start to the end.
    spin = complex(math.cos(turn), math.sin(turn))
    centre = (end - start * spin) / (1 - spin)
    steps = [turn * i / pieces for i in range(pieces)]
    points = [centre + (start - centre) * complex(math.cos(s), math.sin(s)) for s in steps]
    return [(p.real, p.imag) for p in points]


def ring_of(contour, sign):
    ring = []
    for p, q in zip(contour, contour[1:] + contour[:1], strict=True):
        ring += edge_points(p, q)
    return Polygon(tidy([(x, sign * y) for x, y in ring]))


def slot_shape(slot, sign):
    reach = (slot.length_mm - slot.width_mm) / 2
    dx = reach * math.cos(math.radians(slot.angle_deg))
    dy = reach * math.sin(math.radians(slot.angle_deg))
    ends = [(slot.x_mm + s * dx, sign * (slot.y_mm + s * dy)) for s in (-1, 1)]
    return LineString(ends).buffer(slot.width_mm / 2, 64)


def steel_of(part, leg, contour):
    """The steel of a leg seen from outside: its outline less holes, slots and openings."""
    sign = -1.0 if leg == "b" else 1.0
    steel = ring_of(contour, sign)
    for f in leg_of(part, leg).features:
        if isinstance(f, Hole):
            steel -= Point(f.x_mm, sign * f.y_mm).buffer(f.diameter_mm / 2, 64)
        elif isinstance(f, Slot):
            steel -= slot_shape(f, sign)
        elif isinstance(f, Opening):
            steel -= ring_of(f.contour, sign)
    return steel
