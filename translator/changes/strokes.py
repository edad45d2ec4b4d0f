"""Features as strokes of an overlay: their lines, the cross over what is gone, a second ring."""

from typing import Final

from translator.geometry.clearance import extent
from translator.geometry.contours import Contour
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
    Vertex,
    leg_width,
)
from translator.pages._outside import path_of, slot_path, spot, stamp_place
from translator.pages._picture import Words

_CROSS: Final = 6.0
_RING: Final = 3.5
_CAPITAL: Final = 0.72
"""Height of a capital to a font's size; a stamp's height is that of its letters."""


def anchor(feature: Feature) -> tuple[float, float]:
    """Return the middle of a feature, or the point that a stamp is placed by, mm."""
    if isinstance(feature, Stamp):
        return (feature.x_mm, feature.from_heel_mm)
    box = extent(feature)
    return ((box.left + box.right) / 2.0, (box.low + box.high) / 2.0)


def shape_of(leg: LegName, feature: Feature, scale: float) -> str:
    """Return the lines of a feature as the data of a path; nothing for a stamp."""
    match feature:
        case Hole():
            return _circle(leg, feature, scale)
        case Slot():
            return slot_path(leg, feature, scale) + "Z"
        case Opening():
            return path_of(leg, feature.contour, scale)
        case Scribe():
            return path_of(leg, feature.line, scale, closed=feature.closed)
        case CentreMark():
            return _two_lines(spot(leg, feature.x_mm, feature.y_mm, scale), _CROSS, is_upright=True)
        case Stamp():
            return ""


def _circle(leg: LegName, hole: Hole, scale: float) -> str:
    x, y = spot(leg, hole.x_mm, hole.y_mm, scale)
    r = hole.diameter_mm / 2.0 * scale
    f = "{:.2f}".format
    arc = f"A{f(r)} {f(r)} 0 1 0"
    return f"M{f(x - r)} {f(y)}{arc} {f(x + r)} {f(y)}{arc} {f(x - r)} {f(y)}Z"


def words_of(leg: LegName, feature: Feature, scale: float, kind: str, part: Part) -> Words:
    """Return the letters of a stamp where they stand."""
    if not isinstance(feature, Stamp):
        raise TypeError("only a stamp has letters")
    x, y, turn = stamp_place(leg, feature, scale)
    text = part.mark if feature.text is None else feature.text
    return Words(kind, x, y, text, "start", feature.height_mm * scale / _CAPITAL, turn)


def cross(leg: LegName, feature: Feature, scale: float) -> str:
    """Return the lines that cross out a feature."""
    box = extent(feature)
    arm = max(_CROSS, 0.6 * scale * min(box.right - box.left, box.high - box.low))
    return _two_lines(spot(leg, *anchor(feature), scale), arm, is_upright=False)


def _two_lines(middle: tuple[float, float], arm: float, *, is_upright: bool) -> str:
    (x, y), f = middle, "{:.2f}".format
    if is_upright:
        return f"M{f(x - arm)} {f(y)}L{f(x + arm)} {f(y)}M{f(x)} {f(y - arm)}L{f(x)} {f(y + arm)}"
    return (
        f"M{f(x - arm)} {f(y - arm)}L{f(x + arm)} {f(y + arm)}"
        f"M{f(x - arm)} {f(y + arm)}L{f(x + arm)} {f(y - arm)}"
    )


def second_ring(leg: LegName, feature: Feature, scale: float) -> str:
    """Return a second line around a feature that was added."""
    if isinstance(feature, Hole):
        wide = feature.diameter_mm + 2.0 * _RING / scale
        return _circle(leg, feature.model_copy(update={"diameter_mm": wide}), scale)
    if isinstance(feature, Slot):
        more = 2.0 * _RING / scale
        wider = {"width_mm": feature.width_mm + more, "length_mm": feature.length_mm + more}
        return slot_path(leg, feature.model_copy(update=wider), scale) + "Z"
    box, room = extent(feature), _RING / scale
    low, high = (box.left - room, box.low - room), (box.right + room, box.high + room)
    corners = (low, (high[0], low[1]), high, (low[0], high[1]))
    return path_of(
        leg, [Vertex.model_construct(x_mm=x, y_mm=y, bulge=0.0) for x, y in corners], scale
    )


def outline_path(part: Part, leg: LegName, contour: Contour, scale: float) -> str:
    """Return the outline of a leg, or its bare rectangle where the outline is not known."""
    if contour:
        return path_of(leg, contour, scale)
    length, width = part.length_mm, leg_width(part.section, leg)
    corners = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    return path_of(
        leg, [Vertex.model_construct(x_mm=x, y_mm=y, bulge=0.0) for x, y in corners], scale
    )
