"""Entities of a drawing: values in millimetres of the outside view, and their spelling in DXF."""

import itertools
import math
from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from translator.emitters.dxf._layers import TEXT_STYLE, Layer
from translator.emitters.dxf._text import escaped, width
from translator.geometry.contours import merged
from translator.geometry.edges import Edge
from translator.geometry.edges import bounds as edge_bounds

DECIMALS: Final = 9
"""Decimals of a coordinate: an inch drawing is as sharp as the model's grid of 0.000001 mm."""

BULGE_DECIMALS: Final = 12

LEFT: Final = 0
CENTRE: Final = 1
RIGHT: Final = 2


class Spot(NamedTuple):
    """A place in the outside view: u to the right, v up, in mm."""

    u: float
    v: float


class Corner(NamedTuple):
    """A corner of a polyline and the bulge of the edge that leaves it, + = counter-clockwise."""

    u: float
    v: float
    bulge: float = 0.0


class Box(NamedTuple):
    """An upright box around something, in mm."""

    left: float
    bottom: float
    right: float
    top: float


class Line(NamedTuple):
    """A straight line; ``pattern`` scales its dashes once more."""

    layer: Layer
    start: Spot
    end: Spot
    pattern: float = 1.0


class Circle(NamedTuple):
    """A circle."""

    layer: Layer
    centre: Spot
    radius: float


class Polyline(NamedTuple):
    """Straight edges and arcs, closed or open."""

    layer: Layer
    corners: tuple[Corner, ...]
    closed: bool = True


class Dot(NamedTuple):
    """A point."""

    layer: Layer
    at: Spot


class Text(NamedTuple):
    """One line of text on its baseline; ``turn`` is in degrees, + = counter-clockwise."""

    layer: Layer
    text: str
    at: Spot
    height: float
    turn: float = 0.0
    align: int = LEFT


Entity = Line | Circle | Polyline | Dot | Text


def around(entities: Iterable[Entity]) -> Box:
    """Return the box around entities; there must be at least one."""
    return both(*(_box(entity) for entity in entities))


def both(*boxes: Box) -> Box:
    """Return the box around boxes."""
    return Box(*merged(boxes))


def number(value: float, decimals: int = DECIMALS) -> str:
    """Spell a number without an exponent, without trailing zeros and never as -0.0."""
    text = f"{value:.{decimals}f}".rstrip("0")
    if text.endswith("."):
        text += "0"
    return "0.0" if text == "-0.0" else text


def spelled(entities: Iterable[Entity], unit_mm: float, first: int, owner: str) -> Iterator[str]:
    """Spell entities with running handles.

    Args:
        entities: what to write, in mm.
        unit_mm: millimetres in one unit of the drawing.
        first: handle of the first one.
        owner: handle of the block record that holds them.
    """
    for handle, entity in enumerate(entities, first):
        kind, groups = _groups(entity, unit_mm)
        yield (
            f"  0\n{kind}\n  5\n{handle:X}\n330\n{owner}\n100\nAcDbEntity\n"
            f"  8\n{entity.layer.name}\n{groups}"
        )


def _groups(entity: Entity, unit: float) -> tuple[str, str]:
    match entity:
        case Line():
            scale = "" if entity.pattern == 1.0 else f" 48\n{number(entity.pattern)}\n"
            ends = f"{_place(10, entity.start, unit)}{_place(11, entity.end, unit)}"
            return "LINE", f"{scale}100\nAcDbLine\n{ends}"
        case Circle():
            middle = _place(10, entity.centre, unit)
            return "CIRCLE", f"100\nAcDbCircle\n{middle} 40\n{number(entity.radius / unit)}\n"
        case Polyline():
            return "LWPOLYLINE", _polyline(entity, unit)
        case Dot():
            return "POINT", f"100\nAcDbPoint\n{_place(10, entity.at, unit)}"
        case Text():
            return "TEXT", _text(entity, unit)


def _place(code: int, at: Spot, unit: float) -> str:
    u, v = number(at.u / unit), number(at.v / unit)
    return f" {code}\n{u}\n {code + 10}\n{v}\n {code + 20}\n0.0\n"


def _polyline(entity: Polyline, unit: float) -> str:
    pieces = [
        f"100\nAcDbPolyline\n 90\n{len(entity.corners)}\n 70\n{int(entity.closed)}\n 43\n0.0\n"
    ]
    for u, v, bulge in entity.corners:
        pieces.append(f" 10\n{number(u / unit)}\n 20\n{number(v / unit)}\n")
        if bulge:
            pieces.append(f" 42\n{number(bulge, BULGE_DECIMALS)}\n")
    return "".join(pieces)


def _text(entity: Text, unit: float) -> str:
    # An aligned text is placed by its second point; the first is then only a hint.
    turn = f" 50\n{number(entity.turn)}\n" if entity.turn else ""
    align = f" 72\n{entity.align}\n{_place(11, entity.at, unit)}" if entity.align else ""
    return (
        f"100\nAcDbText\n{_place(10, entity.at, unit)} 40\n{number(entity.height / unit)}\n"
        f"  1\n{escaped(entity.text)}\n{turn}  7\n{TEXT_STYLE}\n{align}100\nAcDbText\n"
    )


def _box(entity: Entity) -> Box:
    match entity:
        case Line():
            (u, v), (w, z) = entity.start, entity.end
            return Box(min(u, w), min(v, z), max(u, w), max(v, z))
        case Circle():
            (u, v), r = entity.centre, entity.radius
            return Box(u - r, v - r, u + r, v + r)
        case Polyline():
            return _polyline_box(entity)
        case Dot():
            return Box(*entity.at, *entity.at)
        case Text():
            return _text_box(entity)


def _text_box(entity: Text) -> Box:
    (u, v), height = entity.at, entity.height
    room = width(entity.text) * height
    left = -room * entity.align / 2.0
    # A quarter of the height hangs below the baseline (g, j, p) or stands above (accents).
    low, high = -0.25 * height, 1.25 * height
    if not entity.turn:
        return Box(u + left, v + low, u + left + room, v + high)
    turn = math.radians(entity.turn)
    along, across = math.cos(turn), math.sin(turn)
    return both(
        *(
            Box(x, y, x, y)
            for s in (left, left + room)
            for t in (low, high)
            for x, y in [(u + s * along - t * across, v + s * across + t * along)]
        )
    )


def _polyline_box(entity: Polyline) -> Box:
    corners = entity.corners
    ring = (*corners, corners[0]) if entity.closed else corners
    pairs = itertools.pairwise(ring)
    return Box(*merged(edge_bounds(Edge(*p[:2], *q[:2], p.bulge)) for p, q in pairs))
