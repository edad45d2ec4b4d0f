"""Draw the features of a leg: what is cut or marked, with its centre line and its name."""

import math
from collections.abc import Sequence
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
    new,
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

_CHAIN: Final = 1.5 * layers.CHAIN.period_mm

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


def draw(part: Part, leg: LegName, feature: Feature, scale: Scale) -> Sequence[Entity]:
    """Return the entities of one feature in the outside view of its leg."""
    match feature:
        case Hole():
            return _hole(leg, feature, scale)
        case Slot():
            return _slot(leg, feature, scale)
        case Opening():
            return _opening(leg, feature, scale)
        case CentreMark():
            return _centre_mark(leg, feature)
        case Scribe():
            line = view.corners(leg, feature.line)
            return (Polyline(_SCRIBE_LAYERS[feature.method], line, feature.closed),)
        case Stamp():
            text = feature.text if feature.text is not None else part.mark
            turn = view.turned(leg, feature.angle_deg)
            at = view.baseline(leg, feature)
            return (Text(layers.STAMP, text, at, feature.height_mm, turn),)


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


def _hole(leg: LegName, hole: Hole, scale: Scale) -> list[Entity]:
    middle = view.spot(leg, hole.x_mm, hole.y_mm)
    radius = hole.diameter_mm / 2.0
    drawn: list[Entity] = [Circle(hole_layer(hole), middle, radius)]
    reach = radius
    if hole.countersink_diameter_mm is not None:
        reach = max(radius, hole.countersink_diameter_mm / 2.0)
        drawn.append(Circle(layers.COUNTERSINK, middle, hole.countersink_diameter_mm / 2.0))
    drawn.append(_upright(middle, reach, scale))
    drawn += _names(middle, radius, hole.id, _hole_words(hole))
    return drawn


def _hole_words(hole: Hole) -> tuple[str, ...]:
    if hole.process == "mark-only":
        return ("MARK",)
    words = (
        "TAP" if hole.thread is not None else "",
        "BLIND" if hole.depth_mm is not None else "",
        "CSK" if hole.countersink_diameter_mm is not None else "",
    )
    return tuple([word for word in words if word])


def _slot(leg: LegName, slot: Slot, scale: Scale) -> list[Entity]:
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
    words = ("MARK",) if slot.process == "mark-only" else ("BLIND",) if slot.depth_mm else ()
    return [
        Polyline(slot_layer(slot), outline),
        _upright(middle, half * abs(across) + radius, scale),
        *_names(middle, radius, slot.id, words),
    ]


def _opening(leg: LegName, opening: Opening, scale: Scale) -> list[Entity]:
    line = view.corners(leg, opening.contour)
    left, low, right, high = bounds(opening.contour)
    u, v = view.spot(leg, (left + right) / 2.0, (low + high) / 2.0)
    height = min(scale.letter_mm, (right - left) / 2.0 / width(opening.id), (high - low) / 3.0)
    height = max(height, _LEAST_NAME_MM)
    name = Text(layers.LABEL, opening.id, Spot(u, v - height / 2.0), height, align=CENTRE)
    return [Polyline(layers.OPENING, line), name]


def _centre_mark(leg: LegName, mark: CentreMark) -> list[Entity]:
    u, v = view.spot(leg, mark.x_mm, mark.y_mm)
    gap = _CROSS_MM / 3.0
    return [
        Dot(layers.CENTRE_PUNCH, Spot(u, v)),
        Line(layers.CENTRE_PUNCH, Spot(u - _CROSS_MM, v), Spot(u + _CROSS_MM, v)),
        Line(layers.CENTRE_PUNCH, Spot(u, v - _CROSS_MM), Spot(u, v + _CROSS_MM)),
        Text(layers.LABEL, mark.id, Spot(u + gap, v + gap), _CROSS_MM / 2.0),
    ]


def _upright(middle: Spot, reach: float, scale: Scale) -> Line:
    """Return the centre line across the leg; the one along it is the gauge line."""
    arm = reach * 1.25 + 1.0
    # One dash, a dot and a dash, whatever the scale of the drawing's long chain lines is.
    pattern = 2.0 * arm / (_CHAIN * scale.dashes)
    u, v = middle
    start, end = new(Spot, (u, v - arm)), new(Spot, (u, v + arm))
    return new(Line, (layers.CENTRE_LINE, start, end, min(1.0, pattern)))


def _names(middle: Spot, radius: float, name: str, words: tuple[str, ...]) -> list[Text]:
    """Return the name of a hole in its upper right quarter, words on its kind in the others."""
    gap = _GAP * radius
    drawn = []
    for (right, up), text in zip(_QUARTERS, (name, *words), strict=False):
        height = min(_LARGEST_NAME, _INNER / width(text)) * radius
        foot = gap if up else -gap - height
        at = new(Spot, (middle.u + (gap if right else -gap), middle.v + foot))
        drawn.append(new(Text, (layers.LABEL, text, at, height, 0.0, LEFT if right else RIGHT)))
    return drawn
