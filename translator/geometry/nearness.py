"""The shortest way between two edges, straight or round."""

import math
from collections.abc import Iterator

from translator.geometry import edges
from translator.geometry.edges import Edge


def gap(p: Edge, q: Edge) -> float:
    """Return the shortest distance between two edges in millimetres, 0 where they meet."""
    if _meet(p, q):
        return 0.0
    best = min(
        edges.closest(q, p.ax, p.ay).distance,
        edges.closest(q, p.bx, p.by).distance,
        edges.closest(p, q.ax, q.ay).distance,
        edges.closest(p, q.bx, q.by).distance,
    )
    if p.bulge == q.bulge == 0.0:
        return best
    for arc, other in ((p, q), (q, p)):
        for x, y in _facing(arc, other):
            best = min(best, edges.closest(other, x, y).distance)
    return best


def _facing(arc: Edge, other: Edge) -> Iterator[tuple[float, float]]:
    """Yield the inner points of an arc that can be nearest to another edge.

    They lie on the normal of a line, or on the line through both centres.
    """
    if arc.bulge == 0.0:
        return
    cx, cy = edges.centre(arc)
    if other.bulge == 0.0:
        dx, dy = other.ay - other.by, other.bx - other.ax
    else:
        ox, oy = edges.centre(other)
        dx, dy = ox - cx, oy - cy
    size = math.hypot(dx, dy)
    if size == 0.0:
        return
    r = edges.radius(arc)
    for way in (r / size, -r / size):
        x, y = cx + dx * way, cy + dy * way
        if edges.in_sweep(arc, x, y):
            yield (x, y)


def _meet(p: Edge, q: Edge) -> bool:
    if p.bulge == q.bulge == 0.0:
        return _lines_meet(p, q)
    if p.bulge == 0.0:
        return _line_meets_arc(p, q)
    if q.bulge == 0.0:
        return _line_meets_arc(q, p)
    return _arcs_meet(p, q)


def _lines_meet(p: Edge, q: Edge) -> bool:
    """Tell whether two lines cross; lines that only touch are 0 apart at an end anyway."""
    a, b = edges.side(p, q.ax, q.ay), edges.side(p, q.bx, q.by)
    c, d = edges.side(q, p.ax, p.ay), edges.side(q, p.bx, p.by)
    return (a > 0.0) != (b > 0.0) and (c > 0.0) != (d > 0.0) and (a != b) and (c != d)


def _line_meets_arc(line: Edge, arc: Edge) -> bool:
    (cx, cy), r = edges.centre(arc), edges.radius(arc)
    size = edges.chord(line)
    if size == 0.0:
        return False
    dx, dy = (line.bx - line.ax) / size, (line.by - line.ay) / size
    foot = (cx - line.ax) * dx + (cy - line.ay) * dy
    off = (cx - line.ax) * dy - (cy - line.ay) * dx
    if abs(off) > r:
        return False
    half = math.sqrt((r - off) * (r + off))
    return any(
        0.0 <= s <= size and edges.in_sweep(arc, line.ax + s * dx, line.ay + s * dy)
        for s in (foot - half, foot + half)
    )


def _arcs_meet(p: Edge, q: Edge) -> bool:
    (px, py), r = edges.centre(p), edges.radius(p)
    (qx, qy), s = edges.centre(q), edges.radius(q)
    between = math.hypot(qx - px, qy - py)
    if between == 0.0 or not abs(r - s) <= between <= r + s:
        return False
    along = (between * between + (r - s) * (r + s)) / (2.0 * between)
    half = math.sqrt(max(0.0, (r - along) * (r + along)))
    ex, ey = (qx - px) / between, (qy - py) / between
    return any(
        edges.in_sweep(p, x, y) and edges.in_sweep(q, x, y)
        for x, y in (
            (px + along * ex - half * ey, py + along * ey + half * ex),
            (px + along * ex + half * ey, py + along * ey - half * ex),
        )
    )
