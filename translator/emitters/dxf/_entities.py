"""Entities of a drawing: values in millimetres of the outside view, and the room they take."""

import itertools
import math
from collections.abc import Iterable
from enum import Enum
from typing import Final, NamedTuple

from translator.emitters.dxf._layers import Layer
from translator.emitters.dxf._text import width
from translator.geometry.contours import merged
from translator.geometry.edges import Edge
from translator.geometry.edges import bounds as edge_bounds

UPRIGHT: Final = 90.0
"""Turn of letters that are read from the right, degrees."""

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


class Kind(Enum):
    """What a dimension measures: a place along or across, or a distance along or across."""

    ORDINATE_X = "x"
    ORDINATE_Y = "y"
    LENGTH = "length"
    WIDTH = "width"


class Dimension(NamedTuple):
    """A dimension, with the picture of it that programs show.

    Attributes:
        layer: its layer.
        kind: what it measures.
        origin: of an ordinate the datum, else a point of the dimension line.
        first: of an ordinate the point measured, else the first of two.
        second: of an ordinate where its leader ends, else the second of two.
        measure: what it measures, mm.
        text: what it says; None leaves that to the dimension style.
        middle: middle of the text.
        picture: lines and letters.
    """

    layer: Layer
    kind: Kind
    origin: Spot
    first: Spot
    second: Spot
    measure: float
    text: str | None
    middle: Spot
    picture: tuple[Line | Polyline | Text, ...]


Shape = Line | Circle | Polyline | Dot | Text
Entity = Shape | Dimension


def around(entities: Iterable[Entity]) -> Box:
    """Return the box around entities; there must be at least one."""
    return both(*map(_box, entities))


def both(*boxes: Box) -> Box:
    """Return the box around boxes."""
    left, bottom, right, top = zip(*boxes, strict=True)
    return Box(min(left), min(bottom), max(right), max(top))


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
        case Dimension():
            return around(entity.picture)


def _text_box(entity: Text) -> Box:
    (u, v), height = entity.at, entity.height
    room = width(entity.text) * height
    left = -room * entity.align / 2.0
    # A quarter of the height hangs below the baseline (g, j, p) or stands above (accents).
    low, high = -0.25 * height, 1.25 * height
    if not entity.turn:
        return Box(u + left, v + low, u + left + room, v + high)
    if entity.turn == UPRIGHT:
        return Box(u - high, v + left, u - low, v + left + room)
    turn = math.radians(entity.turn)
    along, across = math.cos(turn), math.sin(turn)
    us = [u + s * along - t * across for s in (left, left + room) for t in (low, high)]
    vs = [v + s * across + t * along for s in (left, left + room) for t in (low, high)]
    return Box(min(us), min(vs), max(us), max(vs))


def _polyline_box(entity: Polyline) -> Box:
    corners = entity.corners
    us, vs, bulges = zip(*corners, strict=True)
    if not any(bulges):
        return Box(min(us), min(vs), max(us), max(vs))
    ring = (*corners, corners[0]) if entity.closed else corners
    pairs = itertools.pairwise(ring)
    return Box(*merged(edge_bounds(Edge(*p[:2], *q[:2], p.bulge)) for p, q in pairs))
