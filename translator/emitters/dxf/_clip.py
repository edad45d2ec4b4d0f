"""Clip a line along the piece to an outline."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from translator.geometry import edges
from translator.geometry.contours import Contour
from translator.geometry.edges import Edge

_SHORTEST_MM: Final = 1e-6
"""A stretch must be longer than the pitch of the model's grid."""


def reach(outline: Contour) -> tuple[float, float]:
    """Return the least and the greatest x of an outline, arcs counted."""
    xs = [corner.x_mm for corner in outline]
    before = outline[-1]
    for here in outline:
        if before.bulge:
            arc = Edge(before.x_mm, before.y_mm, here.x_mm, here.y_mm, before.bulge)
            left, _, right, _ = edges.bounds(arc)
            xs += (left, right)
        before = here
    return min(xs), max(xs)


def spans(outline: Sequence[Edge], y: float) -> list[tuple[float, float]]:
    """Return the stretches of x in which the line at y lies inside a closed outline, in order.

    A corner at y itself counts for one of its edges.
    """
    crossings: list[float] = []
    for edge in outline:
        if edge.bulge:
            crossings += _crossings(edge, y)
        elif (edge.ay <= y) != (edge.by <= y):
            crossings.append(edge.ax + (edge.bx - edge.ax) * (y - edge.ay) / (edge.by - edge.ay))
    crossings.sort()
    pairs = zip(crossings[0::2], crossings[1::2], strict=True)
    return [(start, end) for start, end in pairs if end - start > _SHORTEST_MM]


def _crossings(edge: Edge, y: float) -> Iterator[float]:
    """Yield x wherever an arc crosses y."""
    middle, radius = edges.centre(edge), edges.radius(edge)
    for before, after in pairwise(_turning_points(edge, middle, radius)):
        if (before <= y) != (after <= y):
            # Between two turning points an arc keeps to one side of its centre.
            rise = min(abs(y - middle[1]), radius)
            is_right = (edge.bulge > 0.0) == (after > before)
            yield middle[0] + math.sqrt(radius**2 - rise**2) * (1.0 if is_right else -1.0)


def _turning_points(edge: Edge, middle: tuple[float, float], radius: float) -> list[float]:
    """Return y where an arc begins, turns from up to down or back, and ends."""
    x, y = middle
    extremes = [(x, y + side) for side in (radius, -radius) if edges.in_sweep(edge, x, y + side)]
    extremes.sort(key=lambda p: math.hypot(p[0] - edge.ax, p[1] - edge.ay))
    return [edge.ay, *(p[1] for p in extremes), edge.by]
