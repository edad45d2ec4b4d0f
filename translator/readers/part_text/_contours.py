"""Contours of part text: points joined by lines and arcs.

An arc is told by a point it runs through, by its radius and the side it bows to, or by the
bulge of the part model. None of these depends on which way the leg is looked at.
"""

import math
from fractions import Fraction
from types import MappingProxyType
from typing import Final, NamedTuple

from translator.findings import Severity
from translator.model import Opening, OutlineTrim, Scribe, Vertex
from translator.readers.part_text._amounts import grid, length, size
from translator.readers.part_text._book import SYNTAX, RefusalError, told
from translator.readers.part_text._features import Made, written_id
from translator.readers.part_text._figures import decimal
from translator.readers.part_text._scope import Scope
from translator.syntax.tree import Extent, Node, Word

_TOWARDS: Final = MappingProxyType(
    {
        "START": (-1, 0),
        "FAR": (1, 0),
        "HEEL": (0, -1),
        "LOWER": (0, -1),
        "TOE": (0, 1),
        "UPPER": (0, 1),
    }
)
_ON_LINE_MM: Final = 1e-6
_HALF_CIRCLE_MM: Final = 1e-3
"""A radius this much under half the distance of its ends is read as the half circle."""


class _Corner(NamedTuple):
    x: Fraction
    y: Fraction
    bulge: float
    extent: Extent


def openings(statement: Node, scope: Scope) -> list[Made] | None:
    """Return the opening of a statement; None when there was a fault, which is noted."""
    contour = _contour(statement, scope, is_closed=True)
    if contour is None:
        return None
    return [Made(Opening, {"contour": contour}, written_id(statement.node("id")), statement.extent)]


def scribes(statement: Node, scope: Scope) -> list[Made] | None:
    """Return the scribed line of a statement; None when there was a fault, which is noted."""
    is_closed = statement.node("close") is not None or statement.node("arc_close") is not None
    line = _contour(statement, scope, is_closed=is_closed)
    if line is None:
        return None
    method = statement.word("POWDER", "PUNCH")
    fields = {
        "method": "scribe" if method is None else method.type.lower(),
        "closed": is_closed,
        "line": line,
    }
    return [Made(Scribe, fields, written_id(statement.node("id")), statement.extent)]


def outline(statement: Node, scope: Scope) -> OutlineTrim | None:
    """Return the outline of a leg; None when there was a fault, which is noted.

    Raises:
        pydantic.ValidationError: for an outline of fewer than three corners.
    """
    contour = _contour(statement, scope, is_closed=True)
    return None if contour is None else OutlineTrim(contour=contour)


def _contour(statement: Node, scope: Scope, *, is_closed: bool) -> tuple[Vertex, ...] | None:
    try:
        corners = _corners(statement, scope)
    except RefusalError as refusal:
        scope.refuse(refusal)
        return None
    if is_closed and len(corners) > 1 and corners[0][:2] == corners[-1][:2]:
        if statement.node("close") is None:
            # Walked back to the first corner, which closes a contour as a person draws it.
            corners.pop()
        else:
            message = "With `close`, the last corner is the first one again: leave one out."
            scope.book.say("corner-twice", message, corners[-1].extent, Severity.WARNING)
    return tuple(
        Vertex(x_mm=grid(corner.x), y_mm=grid(corner.y), bulge=corner.bulge) for corner in corners
    )


def _corners(statement: Node, scope: Scope) -> list[_Corner]:
    corners: list[_Corner] = []
    for part in statement.nodes("point", "line_to", "arc_to", "arc_close"):
        point = part if part.name == "point" else part.node("point")
        corner = corners[0] if point is None else _corner(point, scope)
        if part.name in ("arc_to", "arc_close"):
            if corners[-1].bulge:
                raise RefusalError(
                    "contradiction",
                    "`bulge` and `arc` both tell the edge that leaves this corner.",
                    corners[-1].extent,
                )
            corners[-1] = corners[-1]._replace(bulge=_arc(part, corners[-1], corner, scope))
        if point is not None:
            corners.append(corner)
    return corners


def _corner(point: Node, scope: Scope) -> _Corner:
    x, y = (length(value, scope.frame) for value in point.values())
    bulge = point.node("bulge")
    number = None if bulge is None else bulge.word("NUMBER")
    value = 0.0
    if bulge is not None and number is not None:
        value = decimal(number, minus=bulge.has("MINUS"))
        if abs(value) > 1:
            raise RefusalError(
                "arc-too-long",
                f"A bulge of {value:g} is more than a half circle, which is 1: cut the arc in two.",
                bulge.extent,
            )
    return _Corner(x, y, value, point.extent)


def _arc(part: Node, begin: _Corner, end: _Corner, scope: Scope) -> float:
    chord_x, chord_y = float(end.x - begin.x), float(end.y - begin.y)
    if math.hypot(chord_x, chord_y) <= _ON_LINE_MM:
        raise RefusalError("arc-impossible", "This arc ends where it begins.", part.extent)
    through = part.node("through")
    if through is not None:
        return _arc_through(through, begin, end, scope)
    (bowed,) = part.nodes("bowed")
    return _arc_bowed(bowed, chord_x, chord_y, scope)


def _arc_through(through: Node, begin: _Corner, end: _Corner, scope: Scope) -> float:
    """Return the bulge of the arc over a third point.

    The angle at that point between the two ends is the same anywhere on the arc: it is 180
    degrees less half the arc's own angle, whatever the circle.
    """
    x, y = (float(length(value, scope.frame)) for value in through.values())
    to_begin = (float(begin.x) - x, float(begin.y) - y)
    to_end = (float(end.x) - x, float(end.y) - y)
    if min(math.hypot(*to_begin), math.hypot(*to_end)) <= _ON_LINE_MM:
        raise RefusalError(
            "arc-impossible",
            "The point that this arc runs through is one of its ends.",
            through.extent,
        )
    cross = to_begin[0] * to_end[1] - to_begin[1] * to_end[0]
    dot = to_begin[0] * to_end[0] + to_begin[1] * to_end[1]
    half_arc = math.pi - abs(math.atan2(cross, dot))
    if half_arc > math.pi / 2 + _ON_LINE_MM:
        raise RefusalError(
            "arc-too-long", "This arc is more than a half circle: cut it in two.", through.extent
        )
    # Seen from the third point, begin lies before end in the sense opposite to the arc's turn.
    return min(math.tan(half_arc / 2), 1.0) * (1.0 if cross < 0 else -1.0) if cross else 0.0


def _arc_bowed(bowed: Node, chord_x: float, chord_y: float, scope: Scope) -> float:
    side = bowed.its(*_TOWARDS)
    radius = float(size(bowed.values()[0], scope.frame, "radius"))
    _check_side(side, scope)
    half = math.hypot(chord_x, chord_y) / 2
    if radius < half - _HALF_CIRCLE_MM:
        raise RefusalError(
            "arc-impossible",
            f"A radius of {told(_exact(radius), scope.units)} is too small: the ends of the arc are"
            f" {told(_exact(2 * half), scope.units)} apart.",
            bowed.extent,
        )
    towards = _TOWARDS[side.type]
    # An arc that turns from +x towards +y bows to the right of its way.
    right = chord_y * towards[0] - chord_x * towards[1]
    if abs(right) <= _ON_LINE_MM:
        raise RefusalError(
            "arc-impossible",
            f"This arc runs straight along `{side.text}`, so it can't bow to it.",
            bowed.extent,
        )
    half_angle = math.asin(min(half / radius, 1.0))
    return math.tan(half_angle / 2) * (1.0 if right > 0 else -1.0)


def _check_side(side: Word, scope: Scope) -> None:
    fits = {True: ("HEEL", "TOE"), False: ("LOWER", "UPPER"), None: ()}[scope.is_flat]
    if side.type in fits:
        raise RefusalError(SYNTAX, wrong_side(side, is_flat=scope.is_flat is True), side.extent)


def wrong_side(side: Word, *, is_flat: bool) -> str:
    """Return the sentence for a side that the section does not have."""
    if is_flat:
        return f"A flat has the edges `lower` and `upper`, not `{side.text}`."
    return f"An angle's leg has the sides `heel` and `toe`, not `{side.text}`."


def _exact(mm: float) -> Fraction:
    return Fraction(str(round(mm, 6)))
