"""One edge of a contour: a straight line or a circular arc given by its bulge.

The arithmetic is done in the chord's own frame (u along the chord from its middle, v to its
left), in which nothing cancels however flat the arc is: with the chord c and the bulge b the
centre lies at v = k = c (1 - b^2) / (4 b) and the radius is r = c (1 + b^2) / (4 |b|), so that
k^2 - r^2 = -c^2 / 4 exactly.
"""

import math
from typing import Final, NamedTuple

FLAT_BULGE: Final = 1e-3
"""Below this bulge the area of the arc's segment is taken from a series; it errs by 1e-13."""

MOST_PIECES: Final = 8192
"""No arc is flattened into more pieces than this."""


class Edge(NamedTuple):
    """An edge from a to b, millimetres; the bulge is the tangent of a quarter of its turn."""

    ax: float
    ay: float
    bx: float
    by: float
    bulge: float


class Near(NamedTuple):
    """The nearest point of something and how far away it is, millimetres."""

    distance: float
    x: float
    y: float


def chord(edge: Edge) -> float:
    """Return the straight distance between an edge's ends."""
    return math.hypot(edge.bx - edge.ax, edge.by - edge.ay)


def radius(edge: Edge) -> float:
    """Return the radius of an arc; infinity for a straight edge."""
    if edge.bulge == 0.0:
        return math.inf
    return chord(edge) * (1.0 + edge.bulge**2) / (4.0 * abs(edge.bulge))


def turn(edge: Edge) -> float:
    """Return the angle an edge turns through in radians, positive to the left."""
    return 4.0 * math.atan(edge.bulge)


def centre(edge: Edge) -> tuple[float, float]:
    """Return the centre of an arc.

    Raises:
        ZeroDivisionError: for a straight edge.
    """
    rise = (1.0 - edge.bulge**2) / (4.0 * edge.bulge)
    return (
        (edge.ax + edge.bx) / 2.0 - (edge.by - edge.ay) * rise,
        (edge.ay + edge.by) / 2.0 + (edge.bx - edge.ax) * rise,
    )


def length(edge: Edge) -> float:
    """Return the length along an edge."""
    if edge.bulge == 0.0:
        return chord(edge)
    return radius(edge) * abs(turn(edge))


def segment_area(edge: Edge) -> float:
    """Return the area between an edge and its chord, positive where the edge turns left."""
    b = edge.bulge
    if b == 0.0:
        return 0.0
    square = (edge.bx - edge.ax) ** 2 + (edge.by - edge.ay) ** 2
    if abs(b) < FLAT_BULGE:
        return square * (b / 3.0 + b**3 / 15.0)
    sine = 4.0 * b * (1.0 - b * b) / (1.0 + b * b) ** 2
    return square * (1.0 + b * b) ** 2 / (32.0 * b * b) * (turn(edge) - sine)


def side(edge: Edge, x: float, y: float) -> float:
    """Return the cross product of the chord and the way to a point: positive on its left."""
    return (edge.bx - edge.ax) * (y - edge.ay) - (edge.by - edge.ay) * (x - edge.ax)


def start_direction(edge: Edge) -> tuple[float, float]:
    """Return the direction of travel at the edge's beginning; its length is the chord's."""
    return _turned(edge, -1.0)


def end_direction(edge: Edge) -> tuple[float, float]:
    """Return the direction of travel at the edge's end; its length is the chord's."""
    return _turned(edge, 1.0)


def _turned(edge: Edge, way: float) -> tuple[float, float]:
    b = edge.bulge
    cosine = (1.0 - b * b) / (1.0 + b * b)
    sine = way * 2.0 * b / (1.0 + b * b)
    dx, dy = edge.bx - edge.ax, edge.by - edge.ay
    return (dx * cosine - dy * sine, dx * sine + dy * cosine)


def bounds(edge: Edge) -> tuple[float, float, float, float]:
    """Return the least x and y and the greatest x and y of an edge."""
    left, right = min(edge.ax, edge.bx), max(edge.ax, edge.bx)
    low, high = min(edge.ay, edge.by), max(edge.ay, edge.by)
    if edge.bulge != 0.0:
        (cx, cy), r = centre(edge), radius(edge)
        if in_sweep(edge, cx - r, cy):
            left = min(left, cx - r)
        if in_sweep(edge, cx + r, cy):
            right = max(right, cx + r)
        if in_sweep(edge, cx, cy - r):
            low = min(low, cy - r)
        if in_sweep(edge, cx, cy + r):
            high = max(high, cy + r)
    return (left, low, right, high)


def in_sweep(edge: Edge, x: float, y: float) -> bool:
    """Tell whether a point lies in the angle that an arc opens at its centre."""
    u, v, c = _in_chord_frame(edge, x, y)
    b = abs(edge.bulge)
    v = v if edge.bulge > 0 else -v
    deep = c * (1.0 - b * b) / 4.0
    return c / 2.0 * (deep - b * v) >= abs(deep * u)


def in_disc(edge: Edge, x: float, y: float) -> bool:
    """Tell whether a point lies inside the full circle of an arc."""
    return _power(edge, x, y) < 0.0


def closest(edge: Edge, x: float, y: float) -> Near:
    """Return the point of an edge nearest to (x, y)."""
    if edge.bulge == 0.0:
        return _closest_straight(edge, x, y)
    if in_sweep(edge, x, y):
        (cx, cy), r = centre(edge), radius(edge)
        away = math.hypot(x - cx, y - cy)
        if away == 0.0:
            return Near(r, edge.ax, edge.ay)
        gap = _power(edge, x, y) / (away + r)
        return Near(abs(gap), x - (x - cx) / away * gap, y - (y - cy) / away * gap)
    to_a = math.hypot(x - edge.ax, y - edge.ay)
    to_b = math.hypot(x - edge.bx, y - edge.by)
    return Near(to_a, edge.ax, edge.ay) if to_a <= to_b else Near(to_b, edge.bx, edge.by)


def points(edge: Edge, tolerance_mm: float) -> list[tuple[float, float]]:
    """Return an edge as points, its end left out, none farther off than the tolerance."""
    if edge.bulge == 0.0:
        return [(edge.ax, edge.ay)]
    r = radius(edge)
    step = 2.0 * math.acos(max(1.0 - tolerance_mm / r, -1.0)) if r > 0 else math.pi
    count = min(MOST_PIECES, max(1, math.ceil(abs(turn(edge)) / max(step, 1e-12) - 1e-9)))
    return pieces(edge, count)


def pieces(edge: Edge, count: int) -> list[tuple[float, float]]:
    """Return the beginnings of ``count`` equal pieces of an edge."""
    dx, dy = (edge.bx - edge.ax) / 2.0, (edge.by - edge.ay) / 2.0
    mx, my = (edge.ax + edge.bx) / 2.0, (edge.ay + edge.by) / 2.0
    result = [(edge.ax, edge.ay)]
    half = turn(edge) / 2.0
    for index in range(1, count):
        if edge.bulge == 0.0:
            u, v = 2.0 * index / count - 1.0, 0.0
        else:
            # At the angle phi from the arc's middle: u = r sin phi, v = k - r cos phi, over c/2.
            phi = half * (2.0 * index / count - 1.0)
            u = math.sin(phi) / math.sin(half)
            v = -2.0 * math.sin((half + phi) / 2.0) * math.sin((half - phi) / 2.0) / math.sin(half)
        result.append((mx + u * dx - v * dy, my + u * dy + v * dx))
    return result


def _closest_straight(edge: Edge, x: float, y: float) -> Near:
    dx, dy = edge.bx - edge.ax, edge.by - edge.ay
    square = dx * dx + dy * dy
    share = 0.0
    if square > 0.0:
        share = ((x - edge.ax) * dx + (y - edge.ay) * dy) / square
        share = min(1.0, max(0.0, share))
    px, py = edge.ax + share * dx, edge.ay + share * dy
    if 0.0 < share < 1.0:
        return Near(abs(side(edge, x, y)) / math.sqrt(square), px, py)
    if share == 1.0:
        px, py = edge.bx, edge.by
    return Near(math.hypot(x - px, y - py), px, py)


def _in_chord_frame(edge: Edge, x: float, y: float) -> tuple[float, float, float]:
    c = chord(edge)
    if c == 0.0:
        return (math.hypot(x - edge.ax, y - edge.ay), 0.0, 0.0)
    ex, ey = (edge.bx - edge.ax) / c, (edge.by - edge.ay) / c
    rx, ry = x - (edge.ax + edge.bx) / 2.0, y - (edge.ay + edge.by) / 2.0
    return (rx * ex + ry * ey, ry * ex - rx * ey, c)


def _power(edge: Edge, x: float, y: float) -> float:
    """Return the squared distance to the arc's centre less the squared radius."""
    u, v, c = _in_chord_frame(edge, x, y)
    rise = c * (1.0 - edge.bulge**2) / (4.0 * edge.bulge)
    return (u - c / 2.0) * (u + c / 2.0) + v * (v - 2.0 * rise)
