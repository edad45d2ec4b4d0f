"""Draw the leg itself: outline, heel, the other leg's lines, gauge lines."""

from collections.abc import Iterator
from typing import Final

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf import _view as view
from translator.emitters.dxf._clip import reach, spans
from translator.emitters.dxf._entities import Entity, Line, Polyline
from translator.emitters.dxf._layers import Layer
from translator.emitters.dxf._scale import Scale
from translator.geometry.contours import Contour, contour_edges
from translator.geometry.edges import Edge
from translator.model import Angle, Hole, LegName, Part, Slot, leg_of

_ON_GAUGES: Final = (Hole, Slot)

_OVERHANG: Final = 1.5
"""How far heel and gauge lines stand out beyond the ends, in letter heights."""

_MOST_CLIPPED: Final = 200_000
"""Gauge lines times corners of the outline; beyond, gauge lines run from end to end unclipped."""


def draw(part: Part, leg: LegName, contour: Contour, scale: Scale) -> Iterator[Entity]:
    """Yield the outline of a leg and the lines along it, in its outside view."""
    yield Polyline(layers.OUTLINE, view.corners(leg, contour))
    edges = contour_edges(contour)
    left, right = reach(contour)
    overhang = _OVERHANG * scale.letter_mm
    if isinstance(part.section, Angle):
        yield _along(layers.HEEL, leg, left - overhang, right + overhang, 0.0)
        inside = part.section.thickness_mm
        yield from _inside(layers.OTHER_LEG, leg, edges, inside)
        if part.section.root_radius_mm:
            tangent = inside + part.section.root_radius_mm
            yield from _inside(layers.FILLET, leg, edges, tangent)
    lines = gauges(part, leg)
    is_clipped = len(lines) * len(edges) <= _MOST_CLIPPED
    for y in lines:
        found = spans(edges, y) if is_clipped else []
        start, end = (found[0][0], found[-1][1]) if found else (left, right)
        yield _along(layers.GAUGE_LINE, leg, start - overhang, end + overhang, y)


def gauges(part: Part, leg: LegName) -> tuple[float, ...]:
    """Return y of every line of holes and slots, from the heel on, in mm."""
    features = leg_of(part, leg).features
    return tuple(sorted({f.y_mm for f in features if isinstance(f, _ON_GAUGES)}))


def _inside(layer: Layer, leg: LegName, edges: list[Edge], y: float) -> Iterator[Line]:
    for start, end in spans(edges, y):
        yield _along(layer, leg, start, end, y)


def _along(layer: Layer, leg: LegName, start: float, end: float, y: float) -> Line:
    return Line(layer, view.spot(leg, start, y), view.spot(leg, end, y))
