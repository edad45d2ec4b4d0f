"""Contours and lines as rows of points with radii."""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

from translator.emitters.nc._frame import View
from translator.emitters.nc._spelling import point, rounded
from translator.geometry.contours import reversed_contour
from translator.model import Vertex

_FULLEST: Final = 0.7
"""Fuller arcs lose more than 0.01 mm when their radius is rounded; they are split in two."""

_HALF_CIRCLE: Final = 0.999999
"""From here on an arc is taken for a half circle, whose radius is half its chord."""

_Point = tuple[float, float, float]
"""x and y in the view, and the bulge there of the edge that leaves."""


def outline_rows(view: View, vertices: Sequence[Vertex]) -> Iterable[str]:
    """Yield the rows of an outer contour: to the left in the view, from its lowest left point."""
    ring = reversed_contour(vertices) if view.is_flipped else tuple(vertices)
    first = min(range(len(ring)), key=lambda i: (rounded(view.up(ring[i].y_mm)), ring[i].x_mm))
    yield from rows(view, (*ring[first:], *ring[:first]), is_closed=True)


def rows(view: View, vertices: Sequence[Vertex], *, is_closed: bool) -> Iterable[str]:
    """Yield the rows of a contour or line in its own order; a closed one repeats its first."""
    points = _without_repeats(_split(_turned(view, vertices, is_closed=is_closed)))
    for index, (x, y, bulge) in enumerate(points):
        after = points[index + 1] if index + 1 < len(points) else None
        radius = _radius((x, y), after[:2], bulge) if after is not None and bulge else 0.0
        yield point(view.letter if index == 0 else "", x, y, radius * view.arc_left)


def _turned(view: View, vertices: Sequence[Vertex], *, is_closed: bool) -> list[_Point]:
    ring = [*vertices, vertices[0]] if is_closed else list(vertices)
    points = [(view.along(v.x_mm), view.up(v.y_mm), v.bulge * view.sense) for v in ring]
    x, y, _ = points[-1]
    return [*points[:-1], (x, y, 0.0)]


def _split(points: Sequence[_Point]) -> list[_Point]:
    """Round all points, and split arcs whose radius would be told too coarsely."""
    result: list[_Point] = []
    for (ax, ay, bulge), (bx, by, _) in pairwise(points):
        if _FULLEST < abs(bulge) < _HALF_CIRCLE:
            sagitta = bulge / 2
            x = (ax + bx) / 2 + sagitta * (by - ay)
            y = (ay + by) / 2 - sagitta * (bx - ax)
            half = math.tan(math.atan(bulge) / 2)
            result += [(rounded(ax), rounded(ay), half), (rounded(x), rounded(y), half)]
        else:
            result.append((rounded(ax), rounded(ay), bulge))
    x, y, _ = points[-1]
    return [*result, (rounded(x), rounded(y), 0.0)]


def _without_repeats(points: Sequence[_Point]) -> list[_Point]:
    """Drop edges that rounding has left without a length."""
    result: list[_Point] = []
    for x, y, bulge in points:
        if result and result[-1][:2] == (x, y):
            result[-1] = (x, y, bulge)
        else:
            result.append((x, y, bulge))
    return result


def _radius(start: tuple[float, float], end: tuple[float, float], bulge: float) -> float:
    """Return the radius of an arc, positive when it turns left, never under half its chord."""
    half = math.hypot(end[0] - start[0], end[1] - start[1]) / 2
    size = abs(bulge)
    radius = half if size >= _HALF_CIRCLE else half * (1 + size * size) / (2 * size)
    return math.copysign(radius, bulge)
