"""Closed contours of straight lines and true arcs, in the model's frame.

A contour is a tuple of vertices, closed from its last to its first; each vertex carries the
bulge of the edge that leaves it. "Counter-clockwise" speaks of the frame with y upwards, in
which the material lies left of a leg's outline.
"""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

from translator.geometry import crossing, edges
from translator.geometry.edges import Edge, Near
from translator.lengths.grid import angle_on_grid
from translator.model import Vertex, on_grid

Contour = tuple[Vertex, ...]

ON_CONTOUR_MM: Final = 1e-6
"""A point this near to a contour lies on it: the pitch of the model's grid."""

_CROSSING_TOLERANCE_MM = 0.02
_FEWEST_PIECES = 4
_MOST_PIECES = 64
_PIECES_IN_ALL = 20_000


def contour_edges(contour: Sequence[Vertex], *, closed: bool = True) -> list[Edge]:
    """Return the edges of a contour, or of an open line with ``closed`` False."""
    ring = [*contour, contour[0]] if closed and contour else contour
    return [Edge(p.x_mm, p.y_mm, q.x_mm, q.y_mm, p.bulge) for p, q in pairwise(ring)]


def area(contour: Sequence[Vertex]) -> float:
    """Return the area inside a contour in mm2, positive when it runs counter-clockwise."""
    if not contour:
        return 0.0
    x0, y0 = contour[0].x_mm, contour[0].y_mm
    return math.fsum(
        ((e.ax - x0) * (e.by - y0) - (e.bx - x0) * (e.ay - y0)) / 2.0 + edges.segment_area(e)
        for e in contour_edges(contour)
    )


def perimeter(contour: Sequence[Vertex]) -> float:
    """Return the length of a contour in millimetres."""
    return math.fsum(edges.length(e) for e in contour_edges(contour))


def bounds(contour: Sequence[Vertex], *, closed: bool = True) -> tuple[float, float, float, float]:
    """Return the least x and y and the greatest x and y, arcs counted.

    Raises:
        ValueError: for a contour without vertices.
    """
    return merged(edges.bounds(e) for e in contour_edges(contour, closed=closed))


def merged(
    boxes: Iterable[tuple[float, float, float, float]],
) -> tuple[float, float, float, float]:
    """Return the box around boxes given as least x, least y, greatest x, greatest y.

    Raises:
        ValueError: when there is none.
    """
    left, low, right, high = zip(*boxes, strict=True)
    return (min(left), min(low), max(right), max(high))


def flatten(
    contour: Sequence[Vertex], tolerance_mm: float, *, closed: bool = True
) -> list[tuple[float, float]]:
    """Return the contour as points on it; no chord lies farther off than the tolerance.

    The first point is not repeated at the end.
    """
    result = [
        point
        for edge in contour_edges(contour, closed=closed)
        for point in edges.points(edge, tolerance_mm)
    ]
    if not closed and contour:
        result.append((contour[-1].x_mm, contour[-1].y_mm))
    return result


def closest(contour: Sequence[Vertex], x: float, y: float) -> Near:
    """Return the point of a contour nearest to (x, y).

    Raises:
        ValueError: for a contour without vertices.
    """
    return min((edges.closest(e, x, y) for e in contour_edges(contour)), key=lambda n: n.distance)


def distance(contour: Sequence[Vertex], x: float, y: float) -> float:
    """Return the shortest distance from (x, y) to a contour, inside or out, in millimetres."""
    return closest(contour, x, y).distance


def contains(contour: Sequence[Vertex], x: float, y: float) -> bool:
    """Tell whether a point lies inside a contour or on it, whichever way the contour runs."""
    if not contour:
        return False
    every = contour_edges(contour)
    if any(edges.closest(e, x, y).distance <= ON_CONTOUR_MM for e in every):
        return True
    return sum(crossings(e, x, y) for e in every) % 2 == 1


def crossings(edge: Edge, x: float, y: float) -> int:
    """Count how often the ray from (x, y) towards +x crosses an edge, up to parity.

    An arc counts as its chord and the segment between both: one that holds the point turns
    the parity. A point on the chord itself counts as lying right of a rising chord and above
    a level one, the side that the ray's half-open rule puts it on.
    """
    side = edges.side(edge, x, y)
    upward = edge.by > edge.ay
    spans = (edge.ay > y) != (edge.by > y)
    on_the_left = (edge.by, -edge.bx) < (edge.ay, -edge.ax)
    is_left = side > 0.0 or (side == 0.0 and on_the_left)
    count = 1 if spans and is_left == upward else 0
    if edge.bulge != 0.0 and is_left != (edge.bulge > 0.0) and edges.in_disc(edge, x, y):
        count += 1
    return count


def crosses_itself(contour: Sequence[Vertex]) -> bool:
    """Tell whether a contour crosses, touches or runs back over itself.

    Straight edges are judged exactly, arcs as polygons that stay within 0.02 mm of them (four
    to 64 pieces an arc; fewer when a contour has more than 300 arcs, so that 10,000 corners
    are judged within a second). The time grows as n log n.
    """
    every = contour_edges(contour)
    arcs = sum(1 for edge in every if edge.bulge != 0.0)
    most = max(_FEWEST_PIECES, min(_MOST_PIECES, _PIECES_IN_ALL // max(arcs, 1)))
    points: list[tuple[float, float]] = []
    for edge in every:
        fine = len(edges.points(edge, _CROSSING_TOLERANCE_MM)) if edge.bulge != 0.0 else 1
        least = _FEWEST_PIECES if edge.bulge != 0.0 else 1
        points.extend(edges.pieces(edge, min(max(fine, least), most)))
    return not crossing.is_simple(points)


def reversed_contour(contour: Sequence[Vertex]) -> Contour:
    """Return the same contour run the other way, beginning at the same vertex."""
    if not contour:
        return ()
    backwards = [contour[0], *contour[:0:-1]]
    bulges = [vertex.bulge for vertex in contour[::-1]]
    return tuple(
        v.model_copy(update={"bulge": -b + 0.0}) for v, b in zip(backwards, bulges, strict=True)
    )


def mirrored_along(contour: Sequence[Vertex], length_mm: float) -> Contour:
    """Return a contour with x counted from the other end: x becomes length - x.

    The vertices keep their order, so the sense of running is reversed.
    """
    return tuple(vertex(length_mm - v.x_mm, v.y_mm, -v.bulge) for v in contour)


def mirrored_across(contour: Sequence[Vertex], width_mm: float) -> Contour:
    """Return a contour with y counted from the other edge: y becomes width - y.

    The vertices keep their order, so the sense of running is reversed.
    """
    return tuple(vertex(v.x_mm, width_mm - v.y_mm, -v.bulge) for v in contour)


def vertex(x: float, y: float, bulge: float = 0.0) -> Vertex:
    """Return a vertex on the grid.

    It is not held against the model's greatest length: a corner derived from a faulty part may
    lie beyond it, and the fault is told, not raised.
    """
    return Vertex.model_construct(x_mm=on_grid(x), y_mm=on_grid(y), bulge=angle_on_grid(bulge))


def arranged(contour: Sequence[Vertex]) -> Contour:
    """Bring a closed contour into the order of a leg's outline.

    Edges without length are dropped and lines that run straight back over the last one are
    taken out; the rest runs counter-clockwise, beginning at the vertex of least y and, among
    those, of least x.
    """
    clean = _without_spikes(_without_repeats(contour))
    if area(clean) < 0.0:
        clean = reversed_contour(clean)
    if not clean:
        return ()
    first = min(range(len(clean)), key=lambda i: (clean[i].y_mm, clean[i].x_mm))
    return (*clean[first:], *clean[:first])


def _without_repeats(contour: Sequence[Vertex]) -> Contour:
    return tuple(
        v
        for v, after in zip(contour, [*contour[1:], *contour[:1]], strict=True)
        if (v.x_mm, v.y_mm) != (after.x_mm, after.y_mm)
    )


def _without_spikes(contour: Contour) -> Contour:
    """Take out vertices at which a straight line runs back over itself."""
    ring = list(contour)
    index = unchanged = 0
    while len(ring) > 2 and unchanged < len(ring):  # noqa: PLR2004
        index %= len(ring)
        before, here, after = ring[index - 1], ring[index], ring[(index + 1) % len(ring)]
        is_straight = before.bulge == here.bulge == 0.0
        if _is_same_place(here, after) or (is_straight and _runs_back(before, here, after)):
            del ring[index]
            index, unchanged = index - 1, 0
        else:
            index, unchanged = index + 1, unchanged + 1
    return tuple(ring)


def _is_same_place(p: Vertex, q: Vertex) -> bool:
    return (p.x_mm, p.y_mm) == (q.x_mm, q.y_mm)


def _runs_back(before: Vertex, here: Vertex, after: Vertex) -> bool:
    return crossing.is_spike(
        crossing.snapped(before.x_mm, before.y_mm),
        crossing.snapped(here.x_mm, here.y_mm),
        crossing.snapped(after.x_mm, after.y_mm),
    )
