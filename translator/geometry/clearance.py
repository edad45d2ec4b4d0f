"""How far features lie from the outline and from each other, shortest way, with signs.

Distances are millimetres on a leg's outer face and less than 0 where a feature breaks the
outline, lies outside it, or overlaps another.
"""

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from translator.geometry.boundary import Boundary, boundary
from translator.geometry.contours import Contour, bounds, contour_edges
from translator.geometry.edges import Edge, points
from translator.geometry.nearness import gap
from translator.model import CentreMark, Hole, Opening, Scribe, Slot, Stamp
from translator.model.features import Feature


class EdgeDistance(Struct, frozen=True, kw_only=True):
    """How a feature lies to the outline.

    Attributes:
        edge_mm: from the feature's own edge: what steel is left. A mark, line or stamp has no
            width; its edge is the line itself, a stamp's the one point it is placed by.
        centre_mm: from the centre of a hole, the middle of a slot, the middle of the extent of
            an opening or line, the point of a mark or stamp.
        end_centres_mm: from the centres of a slot's two end radii; empty for anything else.
        outline_x_mm: x of the point of the outline nearest to the centre.
        outline_y_mm: y of that point.
    """

    edge_mm: float
    centre_mm: float
    end_centres_mm: tuple[float, ...]
    outline_x_mm: float
    outline_y_mm: float


class Extent(Struct, frozen=True, kw_only=True):
    """The box around a feature, millimetres."""

    left: float
    low: float
    right: float
    high: float


def slot_centres(slot: Slot) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return the centres of a slot's end radii, first the one at the axis' tail.

    The axis points along ``angle_deg``, so the first has the lesser x, or the lesser y for a
    slot across the leg.
    """
    half = (slot.length_mm - slot.width_mm) / 2.0
    dx, dy = _direction(slot.angle_deg)
    return (
        (slot.x_mm - half * dx, slot.y_mm - half * dy),
        (slot.x_mm + half * dx, slot.y_mm + half * dy),
    )


def extent(feature: Feature) -> Extent:
    """Return the box around a feature; for a stamp the point it is placed by."""
    if isinstance(feature, Hole):
        x, y, radius = feature.x_mm, feature.y_mm, feature.diameter_mm / 2.0
        return Extent(left=x - radius, low=y - radius, right=x + radius, high=y + radius)
    if isinstance(feature, Opening):
        left, low, right, high = bounds(feature.contour)
    elif isinstance(feature, Scribe):
        left, low, right, high = bounds(feature.line, closed=feature.closed)
    else:
        (core,), radius = _core(feature)
        left, right = min(core.ax, core.bx) - radius, max(core.ax, core.bx) + radius
        low, high = min(core.ay, core.by) - radius, max(core.ay, core.by) + radius
    return Extent(left=left, low=low, right=right, high=high)


def edge_distance(feature: Feature, outline: Contour | Boundary) -> EdgeDistance:
    """Measure how a feature lies to a leg's outline.

    Args:
        feature: on the same leg.
        outline: a sound outline; give the ``boundary`` of it when asking for many features.

    Raises:
        ValueError: for an outline of fewer than two vertices.
    """
    edge = outline if isinstance(outline, Boundary) else boundary(outline)
    if isinstance(feature, Hole):
        # What most features are; all of a hole lies at its one point.
        x, y, radius = feature.x_mm, feature.y_mm, feature.diameter_mm / 2.0
        seen = edge.seen(x, y)
        return EdgeDistance(
            edge_mm=seen.signed_mm - radius,
            centre_mm=seen.signed_mm,
            end_centres_mm=(),
            outline_x_mm=seen.x,
            outline_y_mm=seen.y,
        )
    seen = edge.seen(*_middle(feature))
    ends: tuple[float, ...] = ()
    if isinstance(feature, Slot):
        ends = tuple(edge.signed(*end) for end in slot_centres(feature))
    return EdgeDistance(
        edge_mm=_to_edge(feature, edge, seen.signed_mm, ends),
        centre_mm=seen.signed_mm,
        end_centres_mm=ends,
        outline_x_mm=seen.x,
        outline_y_mm=seen.y,
    )


def clear_distance(one: Feature, two: Feature) -> float:
    """Return the clear distance between the edges of two features of one leg.

    0 where openings or lines touch or cross without either reaching into the other.
    """
    (core_one, r_one), (core_two, r_two) = _core(one), _core(two)
    if len(core_one) > len(core_two):
        core_one, core_two, one, two = core_two, core_one, two, one
    other = _boundary_of(two, core_two)
    between = min(other.gap(edge) for edge in core_one) if other else gap(core_one[0], core_two[0])
    depth = max(_depth(one, two), _depth(two, one))
    return (-depth if depth > 0.0 else between) - r_one - r_two


def near_pairs(features: Sequence[Feature], within_mm: float) -> Iterator[tuple[int, int]]:
    """Yield the numbers of features whose boxes lie within a distance of each other.

    Each pair comes once, the lesser number first; the order of the pairs is by x.
    """
    boxes = [extent(feature) for feature in features]
    active: list[int] = []
    for index in sorted(range(len(boxes)), key=lambda i: (boxes[i].left, i)):
        here = boxes[index]
        active = [i for i in active if boxes[i].right + within_mm >= here.left]
        for i in active:
            if boxes[i].low - within_mm <= here.high and here.low <= boxes[i].high + within_mm:
                yield (min(i, index), max(i, index))
        active.append(index)


def _to_edge(
    feature: Feature, outline: Boundary, at_middle: float, at_ends: tuple[float, ...]
) -> float:
    """Return the distance from a feature's edge, given those of its middle and a slot's ends."""
    core, radius = _core(feature)
    if isinstance(feature, Opening | Scribe):
        spots = [*((e.ax, e.ay) for e in core), (core[-1].bx, core[-1].by)]
        spots.extend(point for e in core for point in points(e, 0.01)[1:])
        deepest = min(outline.signed(*spot) for spot in spots)
    else:
        deepest = min((at_middle, *at_ends))
        if not at_ends:
            # All of a hole, mark or stamp lies at its one point.
            return deepest - radius
    if deepest < 0.0:
        return deepest - radius
    return min(outline.gap(e) for e in core) - radius


def _core(feature: Feature) -> tuple[list[Edge], float]:
    """Return the lines a feature is drawn along, and the radius of the round tool on them."""
    if isinstance(feature, Slot):
        (ax, ay), (bx, by) = slot_centres(feature)
        return [Edge(ax, ay, bx, by, 0.0)], feature.width_mm / 2.0
    if isinstance(feature, Opening):
        return contour_edges(feature.contour), 0.0
    if isinstance(feature, Scribe):
        return contour_edges(feature.line, closed=feature.closed), 0.0
    x, y = _middle(feature)
    radius = feature.diameter_mm / 2.0 if isinstance(feature, Hole) else 0.0
    return [Edge(x, y, x, y, 0.0)], radius


def _middle(feature: Feature) -> tuple[float, float]:
    if isinstance(feature, Stamp):
        return (feature.x_mm, feature.from_heel_mm)
    if isinstance(feature, Hole | Slot | CentreMark):
        return (feature.x_mm, feature.y_mm)
    box = extent(feature)
    return ((box.left + box.right) / 2.0, (box.low + box.high) / 2.0)


def _boundary_of(feature: Feature, core: Sequence[Edge]) -> Boundary | None:
    if isinstance(feature, Opening):
        return boundary(feature.contour)
    if isinstance(feature, Scribe) and len(core) > 1:
        return boundary(feature.line, closed=feature.closed)
    return None


def _depth(inner: Feature, outer: Feature) -> float:
    """Return how deep the lines of a feature reach into an opening, 0 when they do not."""
    if not isinstance(outer, Opening):
        return 0.0
    edge = boundary(outer.contour)
    core = _core(inner)[0]
    return max(0.0, *(edge.signed(e.ax, e.ay) for e in core), edge.signed(core[-1].bx, core[-1].by))


def _direction(degrees: float) -> tuple[float, float]:
    """Return the unit vector of an angle, exact for the right angles."""
    if degrees % 90.0 == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(degrees // 90.0) % 4]
    return (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
