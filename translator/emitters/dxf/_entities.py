"""Entities of a drawing: values in millimetres of the outside view, and the room they take."""

import math
from collections.abc import Callable, Iterable, Mapping
from enum import Enum
from typing import Any, Final, NamedTuple

from translator.emitters.dxf._layers import Layer
from translator.emitters.dxf._text import width
from translator.geometry.edges import Edge
from translator.geometry.edges import bounds as edge_bounds

UPRIGHT: Final = 90.0
"""Turn of letters that are read from the right, degrees."""

LEFT: Final = 0
CENTRE: Final = 1
RIGHT: Final = 2


new: Final = tuple.__new__
"""Makes a named tuple of the tuple it is given, ``new(Spot, (u, v))``: twice as fast as its own
maker, which drawings of thousands of places can tell."""


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


def around(entities: Iterable[Entity], beside: Box | None = None) -> Box:
    """Return the box around entities and what is beside them; there must be at least one."""
    us: list[float] = []
    vs: list[float] = []
    if beside is not None:
        us += (beside.left, beside.right)
        vs += (beside.bottom, beside.top)
    for entity in entities:
        _REACHED[type(entity)](entity, us, vs)
    return Box(min(us), min(vs), max(us), max(vs))


def both(*boxes: Box) -> Box:
    """Return the box around boxes."""
    left, bottom, right, top = zip(*boxes, strict=True)
    return Box(min(left), min(bottom), max(right), max(top))


def _line(entity: Line, us: list[float], vs: list[float]) -> None:
    (u, v), (w, z) = entity.start, entity.end
    us += (u, w)
    vs += (v, z)


def _circle(entity: Circle, us: list[float], vs: list[float]) -> None:
    (u, v), r = entity.centre, entity.radius
    us += (u - r, u + r)
    vs += (v - r, v + r)


def _dot(entity: Dot, us: list[float], vs: list[float]) -> None:
    us.append(entity.at.u)
    vs.append(entity.at.v)


def _polyline(entity: Polyline, us: list[float], vs: list[float]) -> None:
    last = entity.corners[-1] if entity.closed else None
    for corner in entity.corners:
        u, v, bulge = corner
        us.append(u)
        vs.append(v)
        if last is not None and last.bulge:
            left, low, right, high = edge_bounds(Edge(last.u, last.v, u, v, last.bulge))
            us += (left, right)
            vs += (low, high)
        last = corner if bulge else None


def _text(entity: Text, us: list[float], vs: list[float]) -> None:
    (u, v), height = entity.at, entity.height
    room = width(entity.text) * height
    left = -room * entity.align / 2.0
    # A quarter of the height hangs below the baseline (g, j, p) or stands above (accents).
    low, high = -0.25 * height, 1.25 * height
    if not entity.turn:
        us += (u + left, u + left + room)
        vs += (v + low, v + high)
    elif entity.turn == UPRIGHT:
        us += (u - high, u - low)
        vs += (v + left, v + left + room)
    else:
        turn = math.radians(entity.turn)
        along, across = math.cos(turn), math.sin(turn)
        corners = [(s, t) for s in (left, left + room) for t in (low, high)]
        us += [u + s * along - t * across for s, t in corners]
        vs += [v + s * across + t * along for s, t in corners]


def _dimension(entity: Dimension, us: list[float], vs: list[float]) -> None:
    for shape in entity.picture:
        _REACHED[type(shape)](shape, us, vs)


_REACHED: Final[Mapping[type[Entity], Callable[[Any, list[float], list[float]], None]]] = {
    Line: _line,
    Circle: _circle,
    Polyline: _polyline,
    Dot: _dot,
    Text: _text,
    Dimension: _dimension,
}
"""What adds the outermost places of a kind of entity to those along and across."""
