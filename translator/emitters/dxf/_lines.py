"""Draw the leg itself: outline, heel, the other leg's lines, gauge lines."""

from collections.abc import Iterator
from typing import Final

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf import _view as view
from translator.emitters.dxf._entities import RIGHT, Entity, Line, Polyline, Spot, Text
from translator.emitters.dxf._layers import Layer
from translator.emitters.dxf._scale import Scale
from translator.geometry.contours import Contour, bounds, flatten
from translator.model import Angle, Hole, LegName, Part, Slot, leg_of, leg_width

_OVERHANG: Final = 1.5
"""How far heel and gauge lines stand out beyond the ends, in letter heights."""

_CLIP_TOLERANCE_MM: Final = 0.01
"""A helping line ends this near to an arc of the outline; straight edges are met exactly."""


def draw(part: Part, leg: LegName, contour: Contour, scale: Scale) -> Iterator[Entity]:
    """Yield the outline of a leg and the lines along it, in its outside view."""
    yield Polyline(layers.OUTLINE, view.corners(leg, contour))
    points = flatten(contour, _CLIP_TOLERANCE_MM)
    if isinstance(part.section, Angle):
        yield from _heel(part.section, leg, contour, scale)
        inside = part.section.thickness_mm
        yield from _inside(layers.OTHER_LEG, leg, points, inside)
        if part.section.root_radius_mm:
            tangent = inside + part.section.root_radius_mm
            yield from _inside(layers.FILLET, leg, points, tangent)
    left, _, right, _ = bounds(contour)
    overhang = _OVERHANG * scale.letter_mm
    for y in gauges(part, leg):
        found = spans(points, y)
        start, end = (found[0][0], found[-1][1]) if found else (left, right)
        yield _along(layers.GAUGE_LINE, leg, start - overhang, end + overhang, y)


def gauges(part: Part, leg: LegName) -> tuple[float, ...]:
    """Return y of every line of holes and slots, from the heel on, in mm."""
    features = leg_of(part, leg).features
    return tuple(sorted({f.y_mm for f in features if isinstance(f, Hole | Slot)}))


def spans(points: list[tuple[float, float]], y: float) -> list[tuple[float, float]]:
    """Return the stretches of x in which the line at y lies inside a polygon."""
    crossings = []
    for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True):
        if (y0 <= y) != (y1 <= y):
            crossings.append(x0 + (x1 - x0) * (y - y0) / (y1 - y0))
    crossings.sort()
    return list(zip(crossings[0::2], crossings[1::2], strict=True))


def _heel(section: Angle, leg: LegName, contour: Contour, scale: Scale) -> Iterator[Entity]:
    left, _, right, _ = bounds(contour)
    overhang = _OVERHANG * scale.letter_mm
    yield _along(layers.HEEL, leg, left - overhang, right + overhang, 0.0)
    toe = leg_width(section, leg)
    height = min(scale.letter_mm, toe / 8.0)
    for word, y in (("HEEL", 0.0), ("TOE", toe)):
        u, v = view.spot(leg, left - overhang - height, y)
        yield Text(layers.NOTE, word, Spot(u, v - height / 2.0), height, align=RIGHT)


def _inside(
    layer: Layer, leg: LegName, points: list[tuple[float, float]], y: float
) -> Iterator[Line]:
    for start, end in spans(points, y):
        yield _along(layer, leg, start, end, y)


def _along(layer: Layer, leg: LegName, start: float, end: float, y: float) -> Line:
    return Line(layer, view.spot(leg, start, y), view.spot(leg, end, y))
