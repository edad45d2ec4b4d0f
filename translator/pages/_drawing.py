"""Draw what a leg is made of: its outline, the lines along it, and what is made on it."""

import math
from collections.abc import Iterator
from typing import Final

from translator.emitters.dxf._clip import spans
from translator.geometry.clearance import extent, slot_centres
from translator.geometry.contours import Contour, bounds, contour_edges
from translator.geometry.frames import outside_sign
from translator.model import (
    Angle,
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
    leg_of,
    leg_width,
)
from translator.pages._outside import path_of, slot_path, spot, stamp_place, straight
from translator.pages._picture import Disc, Item, Shape, Words

_LETTER: Final = 0.62
"""Width of a letter to its height."""

_SMALLEST: Final = 7.5
_USUAL: Final = 11.0
"""Height of a name inside a hole, in units."""

_CAPITAL: Final = 0.72
"""Height of a capital to a font's size; a stamp's height is that of its letters."""

_ROOMY_LETTER: Final = 0.9
"""Width of a stamped letter to its height, on the safe side."""

_CROSS: Final = 6.0
_MOST_GAUGES: Final = 100
_OVERHANG: Final = 14.0

Stretch = tuple[float, float]
"""A stretch of x, in mm."""


def draw(
    part: Part, leg: LegName, contour: Contour, scale: float, within: Stretch
) -> Iterator[Item]:
    """Yield what is seen of a leg in a stretch of the piece, the lowest first.

    ``contour`` is the leg's outline, empty where it can't be told.
    """
    if contour:
        yield Shape("outline", path_of(leg, contour, scale))
    else:
        yield Shape("outline faulty", path_of(leg, _rectangle(part, leg), scale))
    yield from _along(part, leg, contour, scale)
    yield from _gauges(part, leg, scale, within)
    for feature in leg_of(part, leg).features:
        if _is_seen(part, leg, feature, within):
            yield from _feature(part, leg, feature, scale)


def ring(leg: LegName, feature: Feature, scale: float, kind: str, tag: str) -> Item:
    """Return the line around a feature that something is said about."""
    if isinstance(feature, Hole):
        x, y = spot(leg, feature.x_mm, feature.y_mm, scale)
        return Disc(kind, x, y, feature.diameter_mm / 2.0 * scale + 4.0, tag)
    box, room = extent(feature), 4.0 / scale
    if isinstance(feature, CentreMark | Stamp):
        room = 9.0 / scale
    left, right, low, high = box.left - room, box.right + room, box.low - room, box.high + room
    corners = ((left, low), (right, low), (right, high), (left, high))
    return Shape(kind, straight(leg, corners, scale) + "Z", tag)


def reach(part: Part, leg: LegName, feature: Feature) -> Stretch:
    """Return the stretch of the piece that a feature takes, a stamp with all its letters."""
    box = extent(feature)
    if not isinstance(feature, Stamp):
        return (box.left, box.right)
    text = part.mark if feature.text is None else feature.text
    turn = math.radians(feature.angle_deg)
    high = feature.height_mm
    across = high * outside_sign(leg) * math.sin(turn)
    ends = (0.0, len(text) * high * _ROOMY_LETTER * math.cos(turn))
    places = [feature.x_mm + end - side for end in ends for side in (0.0, across)]
    return (min(places), max(places))


def _is_seen(part: Part, leg: LegName, feature: Feature, within: Stretch) -> bool:
    left, right = reach(part, leg, feature)
    return right >= within[0] and left <= within[1]


def _rectangle(part: Part, leg: LegName) -> Contour:
    """Return the leg before any cut, for a part whose outline can't be told."""
    length, width = part.length_mm, leg_width(part.section, leg)
    return tuple(
        Vertex.model_construct(x_mm=x, y_mm=y, bulge=0.0)
        for x, y in ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    )


def _along(part: Part, leg: LegName, contour: Contour, scale: float) -> Iterator[Item]:
    """Yield the heel, and where the other leg and its fillet end on the inner face."""
    section = part.section
    if not isinstance(section, Angle):
        return
    edges = contour_edges(contour or _rectangle(part, leg))
    lines = [("inner", section.thickness_mm)]
    if section.root_radius_mm:
        lines.append(("fillet", section.thickness_mm + section.root_radius_mm))
    for kind, y in lines:
        for left, right in spans(edges, y):
            yield Shape(kind, straight(leg, ((left, y), (right, y)), scale))
    for edge in edges:
        if edge.ay == edge.by == 0.0 and not edge.bulge:
            yield Shape("heel", straight(leg, ((edge.ax, 0.0), (edge.bx, 0.0)), scale))


def _gauges(part: Part, leg: LegName, scale: float, within: Stretch) -> Iterator[Item]:
    rows: dict[float, list[float]] = {}
    for feature in leg_of(part, leg).features:
        if isinstance(feature, Hole | Slot):
            rows.setdefault(feature.y_mm, []).append(feature.x_mm)
    if len(rows) > _MOST_GAUGES:
        return
    room = _OVERHANG / scale
    for y, xs in rows.items():
        start, stop = max(min(xs) - room, within[0]), min(max(xs) + room, within[1])
        if start < stop:
            yield Shape("gauge", straight(leg, ((start, y), (stop, y)), scale))


def _feature(part: Part, leg: LegName, feature: Feature, scale: float) -> Iterator[Item]:
    match feature:
        case Hole():
            yield from _hole(leg, feature, scale)
        case Slot():
            yield Shape(f"slot{_manner(feature)}", slot_path(leg, feature, scale), feature.id)
            middle = spot(leg, feature.x_mm, feature.y_mm, scale)
            yield from _name(middle, feature.width_mm * scale, feature.id)
            if feature.length_mm > 1.2 * feature.width_mm:
                yield Shape("axis", straight(leg, slot_centres(feature), scale), feature.id)
        case Opening():
            yield Shape("opening", path_of(leg, feature.contour, scale), feature.id)
            left, low, right, high = bounds(feature.contour)
            middle = spot(leg, (left + right) / 2.0, (low + high) / 2.0, scale)
            yield from _name(middle, min(right - left, high - low) * scale, feature.id)
        case CentreMark():
            x, y = spot(leg, feature.x_mm, feature.y_mm, scale)
            yield _cross("mark", x, y, _CROSS, feature.id)
        case Scribe():
            path = path_of(leg, feature.line, scale, closed=feature.closed)
            yield Shape(f"scribe {feature.method}", path, feature.id)
        case Stamp():
            x, y, turn = stamp_place(leg, feature, scale)
            text = part.mark if feature.text is None else feature.text
            size = feature.height_mm * scale / _CAPITAL
            yield Words("stamp", x, y, text, "start", size, turn)


def _hole(leg: LegName, hole: Hole, scale: float) -> Iterator[Item]:
    x, y = spot(leg, hole.x_mm, hole.y_mm, scale)
    radius = hole.diameter_mm / 2.0 * scale
    if hole.countersink_diameter_mm:
        yield Disc("sunk", x, y, hole.countersink_diameter_mm / 2.0 * scale, hole.id)
    yield Disc(f"hole{_manner(hole)}", x, y, radius, hole.id)
    yield from _name((x, y), 2.0 * radius, hole.id)


def _manner(feature: Hole | Slot) -> str:
    """Return what tells a hole's line apart where it is not simply made through."""
    if feature.process == "mark-only":
        return " marked"
    if isinstance(feature, Hole) and feature.thread is not None:
        return " tapped"
    return " blind" if feature.depth_mm is not None else ""


def _name(middle: tuple[float, float], room: float, name: str) -> Iterator[Item]:
    """Yield a feature's id inside it where it can be read there, else a cross at its middle."""
    size = min(_USUAL, 0.86 * room / (_LETTER * len(name)))
    if size >= _SMALLEST:
        yield Words("name", middle[0], middle[1] + 0.36 * size, name, "middle", size)
    else:
        yield _cross("centre", *middle, min(3.0, room / 2.0), name)


def _cross(kind: str, x: float, y: float, arm: float, tag: str) -> Shape:
    f = "{:.2f}".format
    path = f"M{f(x - arm)} {f(y)}L{f(x + arm)} {f(y)}M{f(x)} {f(y - arm)}L{f(x)} {f(y + arm)}"
    return Shape(kind, path, tag)
