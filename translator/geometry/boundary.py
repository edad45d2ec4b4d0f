"""A contour made ready for many questions about distance.

Boxes around eight edges, around eight of those boxes, and so on, let a question pass over all
that is too far away: a contour of 10,000 corners answers in well under a millisecond.
"""

import heapq
import math
from collections.abc import Callable, Sequence
from functools import partial
from typing import Final, NamedTuple

from msgspec import Struct

from translator.geometry import edges
from translator.geometry.contours import area, contour_edges, crossings, merged, reversed_contour
from translator.geometry.edges import Edge, Near
from translator.geometry.nearness import gap
from translator.model import Vertex

_FAN: Final = 8

_CUSP: Final = 1e-6
"""A corner that turns back as sharply as this, by the sine of the angle left, is a cusp."""

Box = tuple[float, float, float, float]


class Seen(NamedTuple):
    """How a point lies to a boundary.

    ``signed_mm`` is the shortest distance, less than 0 where the point lies outside; ``x`` and
    ``y`` are the nearest point of the boundary.
    """

    signed_mm: float
    x: float
    y: float


class Boundary(Struct, frozen=True, kw_only=True):
    """The edges of a contour, run counter-clockwise, under levels of boxes.

    Attributes:
        edges: of the contour, in order.
        levels: boxes of the edges first, each further level around eight of the last.
        is_closed: False for a line that bounds nothing.
    """

    edges: tuple[Edge, ...]
    levels: tuple[tuple[Box, ...], ...]
    is_closed: bool

    def nearest(self, x: float, y: float) -> Near:
        """Return the point of the contour nearest to (x, y)."""
        return self._nearest(x, y)[0]

    def seen(self, x: float, y: float) -> Seen:
        """Return the shortest distance from (x, y), with its sign, and the point it leads to.

        Outside of an open line is everywhere. The contour must not cross itself.
        """
        near, index = self._nearest(x, y)
        is_inside = self.is_closed and self._is_left(index, near, x, y)
        return Seen(near.distance if is_inside else -near.distance, near.x, near.y)

    def gap(self, other: Edge) -> float:
        """Return the shortest distance to an edge in millimetres, 0 where they meet."""
        box = edges.bounds(other)
        if len(self.levels) > 1:
            to_box = partial(_box_to_box, box)
            return self._search(to_box, lambda edge: gap(edge, other))[0]
        best = math.inf
        for least, index in sorted(
            [(_box_to_box(b, box), i) for i, b in enumerate(self.levels[0])]
        ):
            if least >= best:
                break
            best = min(best, gap(self.edges[index], other))
        return best

    def signed(self, x: float, y: float) -> float:
        """Return the shortest distance from (x, y), less than 0 where it lies outside.

        Outside of an open line is everywhere. The contour must not cross itself.
        """
        return self.seen(x, y).signed_mm

    def contains(self, x: float, y: float) -> bool:
        """Tell whether a point lies inside or on the contour, which must not cross itself."""
        return self.signed(x, y) >= -1e-6  # noqa: PLR2004 - the pitch of the grid

    def _nearest(self, x: float, y: float) -> tuple[Near, int]:
        """Return the point nearest to (x, y) and the number of the edge it lies on."""
        if len(self.levels) > 1:
            index = self._search(
                lambda box: _point_to_box(box, x, y),
                lambda edge: edges.closest(edge, x, y).distance,
            )[1]
            return edges.closest(self.edges[index], x, y), index
        # The few edges of a usual outline, in the order in which the search would meet them.
        boxes = []
        for i, (left, low, right, high) in enumerate(self.levels[0]):  # _point_to_box, in place
            aside = left - x if x < left else x - right if x > right else 0.0
            beyond = low - y if y < low else y - high if y > high else 0.0
            boxes.append((math.hypot(aside, beyond), i))
        boxes.sort()
        found = boxes[0][1]
        best = edges.closest(self.edges[found], x, y)
        for least, index in boxes[1:]:
            if least >= best.distance:
                break
            near = edges.closest(self.edges[index], x, y)
            if near.distance < best.distance:
                best, found = near, index
        return best, found

    def _search(
        self, to_box: Callable[[Box], float], to_edge: Callable[[Edge], float]
    ) -> tuple[float, int]:
        """Return the least distance to an edge and that edge's number."""
        top = len(self.levels) - 1
        queue = [(to_box(box), top, index) for index, box in enumerate(self.levels[top])]
        heapq.heapify(queue)
        best, found = math.inf, 0
        while queue:
            least, level, index = heapq.heappop(queue)
            if least >= best:
                break
            if level == 0:
                away = to_edge(self.edges[index])
                if away < best:
                    best, found = away, index
                continue
            below = self.levels[level - 1]
            for child in range(index * _FAN, min(index * _FAN + _FAN, len(below))):
                heapq.heappush(queue, (to_box(below[child]), level - 1, child))
        return best, found

    def _is_left(self, index: int, near: Near, x: float, y: float) -> bool:
        """Tell whether a point lies left of the contour, seen from the edge nearest to it."""
        edge = self.edges[index]
        if (near.x, near.y) == (edge.ax, edge.ay):
            return self._is_left_of_corner(self.edges[index - 1], edge, x, y)
        if (near.x, near.y) == (edge.bx, edge.by):
            after = self.edges[(index + 1) % len(self.edges)]
            return self._is_left_of_corner(edge, after, x, y)
        if edge.bulge == 0.0:
            return edges.side(edge, x, y) >= 0.0
        return edges.in_disc(edge, x, y) == (edge.bulge > 0.0)

    def _is_left_of_corner(self, before: Edge, after: Edge, x: float, y: float) -> bool:
        ax, ay = edges.end_direction(before)
        bx, by = edges.start_direction(after)
        turn, ahead = ax * by - ay * bx, ax * bx + ay * by
        if ahead < 0.0 and abs(turn) <= _CUSP * -ahead:
            # A cusp: both directions say the same of either side, so count crossings instead.
            return sum(crossings(edge, x, y) for edge in self.edges) % 2 == 1
        rx, ry = x - after.ax, y - after.ay
        left_of_both = (ax * ry - ay * rx >= 0.0, bx * ry - by * rx >= 0.0)
        return all(left_of_both) if turn >= 0.0 else any(left_of_both)


def boundary(contour: Sequence[Vertex], *, closed: bool = True) -> Boundary:
    """Make a contour ready, whichever way it runs; or an open line.

    Raises:
        ValueError: when there are fewer than two vertices.
    """
    if len(contour) < 2:  # noqa: PLR2004
        raise ValueError("a contour needs at least two corners")
    if closed and area(contour) < 0.0:
        contour = reversed_contour(contour)
    drawn = contour_edges(contour, closed=closed)
    every = tuple(e for e in drawn if (e.ax, e.ay) != (e.bx, e.by)) or (drawn[0],)
    return Boundary(edges=every, levels=_levels(every), is_closed=closed)


def some_edges(chosen: Sequence[Edge]) -> Boundary:
    """Make some edges of a contour ready to ask how far they are; they bound nothing.

    Raises:
        ValueError: when there are none.
    """
    if not chosen:
        raise ValueError("there are no edges")
    return Boundary(edges=tuple(chosen), levels=_levels(chosen), is_closed=False)


def _levels(every: Sequence[Edge]) -> tuple[tuple[Box, ...], ...]:
    levels = [tuple(edges.bounds(edge) for edge in every)]
    while len(levels[-1]) > _FAN:
        last = levels[-1]
        levels.append(
            tuple(merged(last[at : at + _FAN]) for at in range(0, len(last), _FAN)),
        )
    return tuple(levels)


def _point_to_box(box: Box, x: float, y: float) -> float:
    left, low, right, high = box
    aside = left - x if x < left else x - right if x > right else 0.0
    beyond = low - y if y < low else y - high if y > high else 0.0
    return math.hypot(aside, beyond)


def _box_to_box(box: Box, other: Box) -> float:
    return math.hypot(
        max(box[0] - other[2], other[0] - box[2], 0.0),
        max(box[1] - other[3], other[1] - box[3], 0.0),
    )
