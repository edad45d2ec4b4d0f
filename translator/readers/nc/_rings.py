"""Runs of points to rings of corners: closing, repeats, arcs."""

import math
from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from translator.geometry import edges
from translator.geometry.edges import Edge
from translator.readers.nc._arcs import ROUNDING_MM, Corner, bulge_of, tangent_sign
from translator.readers.nc._items import Remarks
from translator.readers.nc._outlines import SAME_MM
from translator.readers.nc._records import ContourRecord, PointRecord
from translator.readers.nc._views import Frame

_GAP_MM: Final = 1.0
"""A contour that ends this near to its first point was meant to be closed."""

_FEWEST: Final = 3
_LENS: Final = 2


class Run(Struct, frozen=True, kw_only=True):
    """A cleaned run of points in the model's frame.

    Attributes:
        points: (x, y from the heel), each once.
        radii: signed radius of the edge that leaves each point; of an open run the last is 0.
        lines: line of each point.
        is_closed: the last edge leads back to the first point.
    """

    points: tuple[tuple[float, float], ...]
    radii: tuple[float, ...]
    lines: tuple[int, ...]
    is_closed: bool


def run_of(contour: ContourRecord, frame: Frame, remarks: Remarks) -> Run:
    """Lay a run of points on its leg and drop repeats.

    Of points given twice the last radius counts: it is the one of the edge that leaves.
    """
    places: list[tuple[float, float]] = []
    kept: list[PointRecord] = []
    for point in contour.points:
        place = (point.x, frame.across(point.ref, point.y))
        if places and _gap(places[-1], place) <= SAME_MM:
            text = "points are repeated; each was taken once"
            remarks.note("nc-point-repeated", text, point.line)
            kept[-1] = point
            continue
        places.append(place)
        kept.append(point)
    closed = len(places) > _LENS and _gap(places[0], places[-1]) <= SAME_MM
    if closed:
        places.pop()
        kept.pop()
    return Run(
        points=tuple(places),
        radii=tuple(point.radius for point in kept),
        lines=tuple(point.line for point in kept),
        is_closed=closed,
    )


def close(run: Run, contour: ContourRecord, remarks: Remarks) -> Run:
    """Close a run that was meant to be closed; a wide gap is an error."""
    if run.is_closed:
        return run
    gap = _gap(run.points[0], run.points[-1])
    last = run.lines[-1]
    if gap > _GAP_MM or len(run.points) <= _FEWEST:
        text = (
            f"the contour of {contour.code} in view {contour.view} is not closed: its last point"
            f" lies {gap:.2f} mm from its first, more than {_GAP_MM:g} mm"
        )
        remarks.refuse("nc-contour-open", text, last)
        return run
    text = (
        f"the contour of {contour.code} in view {contour.view} misses its first point by"
        f" {gap:.2f} mm; it was closed there"
    )
    remarks.warn("nc-contour-open", text, last)
    return Run(points=run.points[:-1], radii=run.radii[:-1], lines=run.lines[:-1], is_closed=True)


def ring_of(run: Run, frame: Frame, arc_sign: str, remarks: Remarks) -> tuple[Corner, ...]:
    """Turn a run into corners with bulges in the model's frame.

    Args:
        run: the run; an open one keeps its first and last point.
        frame: the view it was given in.
        arc_sign: "plus-left" or "plus-right", seen in the view.
        remarks: where an arc that cannot be, or that is tangent the other way, is told.
    """
    sizes = bulges_of(run, remarks)
    sense = frame.sense * (1.0 if arc_sign == "plus-left" else -1.0)
    corners = []
    for index, (place, size) in enumerate(zip(run.points, sizes, strict=True)):
        sign = math.copysign(1.0, run.radii[index]) * sense
        wanted = tangent_sign(run.points, sizes, index) if size and run.is_closed else 0
        if wanted and wanted != sign:
            text = (
                f"arcs are not tangent to their neighbours under arc_sign {arc_sign}, and would be"
                " the other way round; the setting was kept"
            )
            remarks.warn("nc-arc-not-tangent", text, run.lines[index])
        corners.append(Corner(*place, sign * size))
    return tuple(corners)


def bulges_of(run: Run, remarks: Remarks) -> tuple[float, ...]:
    """Return the unsigned bulge of the edge that leaves each point."""
    sizes = []
    count = len(run.points)
    for index, radius in enumerate(run.radii):
        is_last = index == count - 1
        if radius == 0.0 or count < _LENS or (is_last and not run.is_closed):
            sizes.append(0.0)
            continue
        chord = _gap(run.points[index], run.points[(index + 1) % count])
        size = bulge_of(chord, radius)
        if size is None:
            text = (
                f"arc radius {abs(radius):g} mm is less than half the {chord:.2f} mm between its"
                f" ends (more than {ROUNDING_MM:g} mm short)"
            )
            remarks.refuse("nc-arc-impossible", text, run.lines[index])
            size = 1.0
        sizes.append(size)
    return tuple(sizes)


def turned_left(ring: Sequence[Corner]) -> tuple[Corner, ...]:
    """Return a closed ring run counter-clockwise (y up), whichever way it was given."""
    if _area(ring) >= 0.0:
        return tuple(ring)
    backwards = [ring[0], *ring[:0:-1]]
    bulges = [corner.bulge for corner in ring[::-1]]
    return tuple(Corner(c.x, c.y, -b + 0.0) for c, b in zip(backwards, bulges, strict=True))


def _area(ring: Sequence[Corner]) -> float:
    """Return the signed area of a ring, arcs counted."""
    total = 0.0
    for index, corner in enumerate(ring):
        after = ring[(index + 1) % len(ring)]
        total += (corner.x * after.y - after.x * corner.y) / 2
        if corner.bulge:
            half = math.hypot(after.x - corner.x, after.y - corner.y) / 2
            turn = 4 * math.atan(corner.bulge)
            radius = half / math.sin(abs(turn) / 2)
            total += radius * radius / 2 * (turn - math.sin(turn))
    return total


def box_of(ring: Sequence[Corner]) -> tuple[float, float, float, float]:
    """Return the least x and y and the greatest x and y of a closed ring, arcs counted."""
    boxes = []
    for index, corner in enumerate(ring):
        after = ring[(index + 1) % len(ring)]
        edge = Edge(corner.x, corner.y, after.x, after.y, corner.bulge)
        boxes.append(edges.bounds(edge))
    left, low, right, high = zip(*boxes, strict=True)
    return min(left), min(low), max(right), max(high)


def round_of(ring: Sequence[Corner]) -> tuple[float, float, float] | None:
    """Return centre and radius of a ring that is exactly a circle, else None."""
    centres, radii, turn = [], [], 0.0
    for index, corner in enumerate(ring):
        if not corner.bulge:
            return None
        after = ring[(index + 1) % len(ring)]
        rise = (1 - corner.bulge**2) / (4 * corner.bulge)
        centres.append(
            (
                (corner.x + after.x) / 2 - (after.y - corner.y) * rise,
                (corner.y + after.y) / 2 + (after.x - corner.x) * rise,
            )
        )
        chord = math.hypot(after.x - corner.x, after.y - corner.y)
        radii.append(chord * (1 + corner.bulge**2) / (4 * abs(corner.bulge)))
        turn += 4 * math.atan(corner.bulge)
    if len(ring) < _LENS or abs(abs(turn) - math.tau) > ROUNDING_MM:
        return None
    x, y = (math.fsum(c[i] for c in centres) / len(ring) for i in (0, 1))
    radius = math.fsum(radii) / len(ring)
    off = max(*(_gap(c, (x, y)) for c in centres), *(abs(r - radius) for r in radii))
    return (x, y, radius) if off <= ROUNDING_MM else None


def _gap(p: tuple[float, float], q: tuple[float, float]) -> float:
    return math.hypot(p[0] - q[0], p[1] - q[1])
