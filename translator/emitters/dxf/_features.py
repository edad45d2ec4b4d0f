"""Draw the features of a leg: what is cut or marked, with its centre line and its name."""

import math
from collections.abc import Iterator
from typing import Final

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf import _view as view
from translator.emitters.dxf._entities import (
    CENTRE,
    LEFT,
    RIGHT,
    Circle,
    Corner,
    Dot,
    Entity,
    Line,
    Polyline,
    Spot,
    Text,
)
from translator.emitters.dxf._layers import Layer
from translator.emitters.dxf._scale import Scale
from translator.emitters.dxf._text import width
from translator.geometry.contours import bounds
from translator.model import (
    CentreMark,
    Feature,
    Hole,
    LegName,
    Opening,
    Part,
    Scribe,
    Slot,
    Stamp,
)

_INNER: Final = 0.62
"""Length of the room for a name in a quarter of a round hole, in radii."""

_GAP: Final = 0.1
"""Free room between such a name and the centre lines, in radii."""

_QUARTERS: Final = ((True, True), (True, False), (False, False), (False, True))
"""Quarters of a hole in the order of filling: right or left of its middle, above or below."""

_LARGEST_NAME: Final = 0.3
"""Height of such a name at most, in radii."""

_LEAST_NAME_MM: Final = 0.1
"""Height of a name in an opening that has no room for one; a text must have a height."""

_CROSS_MM: Final = 3.0
"""Arm of the cross at a centre punch mark."""

_SCRIBE_LAYERS: Final = {
    "scribe": layers.SCRIBE,
    "powder": layers.POWDER_LINE,
    "punch": layers.PUNCH_LINE,
}


def draw(part: Part, leg: LegName, feature: Feature, scale: Scale) -> Iterator[Entity]:
    """Yield the entities of one feature in the outside view of its leg."""
    match feature:
        case Hole():
            yield from _hole(leg, feature, scale)
        case Slot():
            yield from _slot(leg, feature, scale)
        case Opening():
            yield from _opening(leg, feature, scale)
        case CentreMark():
            yield from _centre_mark(leg, feature)
        case Scribe():
            line = view.corners(leg, feature.line)
            yield Polyline(_SCRIBE_LAYERS[feature.method], line, feature.closed)
        case Stamp():
            yield Text(
                layers.STAMP,
                feature.text if feature.text is not None else part.mark,
                view.baseline(leg, feature),
                feature.height_mm,
                view.turned(leg, feature.angle_deg),
            )


def hole_layer(hole: Hole) -> Layer:
    """Return the layer of a round hole: what kind of work it is."""
    if hole.process == "mark-only":
        return layers.MARK_ONLY
    if hole.thread is not None:
        return layers.HOLE_TAPPED
    return layers.HOLE_THROUGH if hole.depth_mm is None else layers.HOLE_BLIND


def slot_layer(slot: Slot) -> Layer:
    """Return the layer of a slot: what kind of work it is."""
    if slot.process == "mark-only":
        return layers.MARK_ONLY
    return layers.SLOT if slot.depth_mm is None else layers.SLOT_BLIND


def _hole(leg: LegName, hole: Hole, scale: Scale) -> Iterator[Entity]:
    middle = view.spot(leg, hole.x_mm, hole.y_mm)
    radius = hole.diameter_mm / 2.0
    yield Circle(hole_layer(hole), middle, radius)
    reach = radius
    if hole.countersink_diameter_mm is not None:
        reach = max(radius, hole.countersink_diameter_mm / 2.0)
        yield Circle(layers.COUNTERSINK, middle, hole.countersink_diameter_mm / 2.0)
    yield _upright(middle, reach, scale)
    yield from _names(middle, radius, hole.id, _hole_words(hole))


def _hole_words(hole: Hole) -> tuple[str, ...]:
    if hole.process == "mark-only":
        return ("MARK",)
    words = (
        "TAP" if hole.thread is not None else "",
        "BLIND" if hole.depth_mm is not None else "",
        "CSK" if hole.countersink_diameter_mm is not None else "",
    )
    return tuple(filter(None, words))


def _slot(leg: LegName, slot: Slot, scale: Scale) -> Iterator[Entity]:
    middle = view.spot(leg, slot.x_mm, slot.y_mm)
    radius = slot.width_mm / 2.0
    half = slot.length_mm / 2.0 - radius
    turn = math.radians(view.turned(leg, slot.angle_deg))
    along, across = math.cos(turn), math.sin(turn)

    def corner(s: float, t: float, bulge: float) -> Corner:
        return Corner(middle.u + s * along - t * across, middle.v + s * across + t * along, bulge)

    # Counter-clockwise from the lower left, so both half circles bulge to the right: +1. The
    # shape is its own mirror image; only the direction of its axis knows the hand.
    outline = (
        corner(-half, -radius, 0.0),
        corner(half, -radius, 1.0),
        corner(half, radius, 0.0),
        corner(-half, radius, 1.0),
    )
    yield Polyline(slot_layer(slot), outline)
    yield _upright(middle, half * abs(across) + radius, scale)
    words = ("MARK",) if slot.process == "mark-only" else ("BLIND",) if slot.depth_mm else ()
    yield from _names(middle, radius, slot.id, words)


def _opening(leg: LegName, opening: Opening, scale: Scale) -> Iterator[Entity]:
    line = view.corners(leg, opening.contour)
    yield Polyline(layers.OPENING, line)
    left, low, right, high = bounds(opening.contour)
    u, v = view.spot(leg, (left + right) / 2.0, (low + high) / 2.0)
    height = min(scale.letter_mm, (right - left) / 2.0 / width(opening.id), (high - low) / 3.0)
    height = max(height, _LEAST_NAME_MM)
    yield Text(layers.LABEL, opening.id, Spot(u, v - height / 2.0), height, align=CENTRE)


def _centre_mark(leg: LegName, mark: CentreMark) -> Iterator[Entity]:
    u, v = view.spot(leg, mark.x_mm, mark.y_mm)
    yield Dot(layers.CENTRE_PUNCH, Spot(u, v))
    yield Line(layers.CENTRE_PUNCH, Spot(u - _CROSS_MM, v), Spot(u + _CROSS_MM, v))
    yield Line(layers.CENTRE_PUNCH, Spot(u, v - _CROSS_MM), Spot(u, v + _CROSS_MM))
    gap = _CROSS_MM / 3.0
    yield Text(layers.LABEL, mark.id, Spot(u + gap, v + gap), _CROSS_MM / 2.0)


def _upright(middle: Spot, reach: float, scale: Scale) -> Line:
    """Return the centre line across the leg; the one along it is the gauge line."""
    arm = reach * 1.25 + 1.0
    # One dash, a dot and a dash, whatever the scale of the drawing's long chain lines is.
    pattern = 2.0 * arm / (1.5 * layers.CHAIN.period_mm * scale.dashes)
    return Line(
        layers.CENTRE_LINE,
        Spot(middle.u, middle.v - arm),
        Spot(middle.u, middle.v + arm),
        min(1.0, pattern),
    )


def _names(middle: Spot, radius: float, name: str, words: tuple[str, ...]) -> Iterator[Text]:
    """Yield the name of a hole in its upper right quarter, words on its kind in the others."""
    gap = _GAP * radius
    for (right, up), text in zip(_QUARTERS, (name, *words), strict=False):
        height = min(_LARGEST_NAME, _INNER / width(text)) * radius
        foot = gap if up else -gap - height
        at = Spot(middle.u + (gap if right else -gap), middle.v + foot)
        yield Text(layers.LABEL, text, at, height, align=LEFT if right else RIGHT)
