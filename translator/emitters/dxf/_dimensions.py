"""Draw dimensions: where their lines and letters go, so that no two texts touch.

Ordinates are read from their own end of a leader that may step aside to make room; distances
stand above a dimension line with oblique strokes at its ends (ISO 129 habits of structural
work). Places are those of the drawing, whatever its scale; values come with them.
"""

from collections.abc import Sequence
from typing import Final, NamedTuple

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf._entities import (
    CENTRE,
    LEFT,
    RIGHT,
    UPRIGHT,
    Corner,
    Dimension,
    Kind,
    Line,
    Polyline,
    Spot,
    Text,
    new,
)
from translator.emitters.dxf._placing import spread
from translator.emitters.dxf._text import width

PITCH: Final = 1.6
"""From one text to the next beside it, in letter heights; a text's own room is 1.5."""

ROW: Final = 2.2
"""From one dimension line to the next, in letter heights."""

_LIFT: Final = 0.4
"""From the dimension line to the foot of its letters, in letter heights."""

GAP: Final = 0.35
"""Free room at the foot of an extension line and before a text, in letter heights."""

_STUB: Final = 0.6
"""Straight end of a leader before its text, in letter heights."""

_OVERSHOOT: Final = 0.5
"""How far an extension line goes beyond the dimension line, in letter heights."""

STROKE: Final = 0.35
"""Half length of an oblique stroke along either axis, in letter heights."""

_STEEPEST: Final = 10.0
"""Greatest depth of the zone in which leaders step aside, in letter heights."""


_Bend = tuple[float, float, float]
"""A corner of a leader, its bulge 0."""


class Words(NamedTuple):
    """What a dimension says, and whether the dimension style writes the very same."""

    text: str
    is_plain: bool = False


class Mark(NamedTuple):
    """A place to dimension.

    Attributes:
        value: its distance from the datum, mm.
        words: what is written.
        at: the point measured.
        begin: v (along) or u (across) at which its leader begins.
    """

    value: float
    words: Words
    at: Spot
    begin: float


class Side(NamedTuple):
    """A side of the drawing that ordinates are written on.

    Attributes:
        edge: where what is drawn ends there.
        way: 1.0 above or right of it, -1.0 below or left.
        clear: straight run of leaders from the edge on, for dimension lines between them.
        letter: letter height.
    """

    edge: float
    way: float
    clear: float
    letter: float


def ordinates_along(marks: Sequence[Mark], datum: Spot, side: Side) -> list[Dimension]:
    """Dimension places along the piece above or below it; marks rise from left to right."""
    made = []
    h, way = side.letter, side.way
    places = spread([mark.at.u for mark in marks], PITCH * h)
    straight = side.edge + way * side.clear
    beside = straight + way * _depth([m.at.u for m in marks], places, h)
    end = beside + way * _STUB * h
    foot = end + way * GAP * h
    for mark, u in zip(marks, places, strict=True):
        value, (text, is_plain), measured, begin = mark
        foot_u = measured.u
        path = _leader(
            (foot_u, begin, 0.0), (foot_u, straight, 0.0), (u, beside, 0.0), (u, end, 0.0)
        )
        # Rotated letters run upwards, so below the leg their end lies at the leader.
        at = new(Spot, (u + h / 2.0, foot))
        align = LEFT if way > 0.0 else RIGHT
        letters = new(Text, (layers.DIMENSION, text, at, h, UPRIGHT, align))
        middle = new(Spot, (u, foot + way * width(text) * h / 2.0))
        told = None if is_plain else text
        made.append(
            Dimension(
                layers.DIMENSION,
                Kind.ORDINATE_X,
                datum,
                measured,
                new(Spot, (u, end)),
                value,
                told,
                middle,
                (path, letters),
            )
        )
    return made


def ordinates_across(marks: Sequence[Mark], datum: Spot, side: Side) -> list[Dimension]:
    """Dimension places across the leg left or right of it; marks rise from bottom to top."""
    made = []
    h, way = side.letter, side.way
    places = spread([mark.at.v for mark in marks], PITCH * h)
    straight = side.edge + way * side.clear
    beside = straight + way * _depth([m.at.v for m in marks], places, h)
    end = beside + way * _STUB * h
    foot = end + way * GAP * h
    for mark, v in zip(marks, places, strict=True):
        value, (text, is_plain), measured, begin = mark
        foot_v = measured.v
        path = _leader(
            (begin, foot_v, 0.0), (straight, foot_v, 0.0), (beside, v, 0.0), (end, v, 0.0)
        )
        at = new(Spot, (foot, v - h / 2.0))
        align = LEFT if way > 0.0 else RIGHT
        letters = new(Text, (layers.DIMENSION, text, at, h, 0.0, align))
        middle = new(Spot, (foot + way * width(text) * h / 2.0, v))
        told = None if is_plain else text
        made.append(
            Dimension(
                layers.DIMENSION,
                Kind.ORDINATE_Y,
                datum,
                measured,
                new(Spot, (end, v)),
                value,
                told,
                middle,
                (path, letters),
            )
        )
    return made


class Distance(NamedTuple):
    """A distance to dimension.

    Attributes:
        measure: the distance in mm.
        words: what is written.
        first: the left or lower of the two points measured.
        second: the other.
    """

    measure: float
    words: Words
    first: Spot
    second: Spot


def distance_along(
    distance: Distance,
    line: float,
    letter: float,
    *,
    middle: float | None = None,
    lines_from: tuple[float, float] | None = None,
) -> Dimension:
    """Dimension a distance along the piece.

    Args:
        distance: what is measured.
        line: v of the dimension line.
        letter: letter height.
        middle: u of the middle of the text; else that of the line.
        lines_from: v at which its two extension lines begin; else it has none.
    """
    measure, (text, is_plain), left, right = distance
    along = middle if middle is not None else (left.u + right.u) / 2.0
    way = 1.0 if lines_from is None or line >= lines_from[0] else -1.0
    ends = (left, right)
    picture: list[Line | Polyline | Text] = [
        Line(layers.DIMENSION, new(Spot, (left.u, line)), new(Spot, (right.u, line))),
        _stroke(left.u, line, letter),
        _stroke(right.u, line, letter),
    ]
    beyond = line + way * _OVERSHOOT * letter
    for end, begin in zip(ends, lines_from or (), strict=False):
        start = begin + way * GAP * letter
        picture.append(
            Line(layers.DIMENSION, new(Spot, (end.u, start)), new(Spot, (end.u, beyond)))
        )
    room = width(text) * letter
    if room + 2.0 * (STROKE + GAP) * letter > right.u - left.u:
        along = right.u + (_OVERSHOOT + GAP) * letter + room / 2.0
    foot = new(Spot, (along, line + _LIFT * letter))
    picture.append(Text(layers.DIMENSION, text, foot, letter, align=CENTRE))
    return Dimension(
        layers.DIMENSION,
        Kind.LENGTH,
        new(Spot, (left.u, line)),
        left,
        right,
        measure,
        None if is_plain else text,
        new(Spot, (along, foot.v + letter / 2.0)),
        tuple(picture),
    )


def distance_across(distance: Distance, line: float, letter: float, lines_from: float) -> Dimension:
    """Dimension a distance across the leg on a line at u, right of both points.

    Args:
        distance: what is measured.
        line: u of the dimension line.
        letter: letter height.
        lines_from: u before which its extension lines must not begin.
    """
    measure, (text, is_plain), low, high = distance
    up = (low.v + high.v) / 2.0
    beyond = line + _OVERSHOOT * letter
    picture: list[Line | Polyline | Text] = [
        Line(layers.DIMENSION, new(Spot, (line, low.v)), new(Spot, (line, high.v)))
    ]
    for end in (low, high):
        picture.append(_stroke(line, end.v, letter))
        start = new(Spot, (max(end.u, lines_from) + GAP * letter, end.v))
        picture.append(Line(layers.DIMENSION, start, new(Spot, (beyond, end.v))))
    room = width(text) * letter
    if room + 2.0 * (STROKE + GAP) * letter > high.v - low.v:
        foot = new(Spot, (beyond + GAP * letter, up - letter / 2.0))
        middle = new(Spot, (foot.u + room / 2.0, up))
        picture.append(Text(layers.DIMENSION, text, foot, letter))
    else:
        foot = new(Spot, (line - _LIFT * letter, up))
        middle = new(Spot, (foot.u - letter / 2.0, up))
        picture.append(Text(layers.DIMENSION, text, foot, letter, UPRIGHT, CENTRE))
    return Dimension(
        layers.DIMENSION,
        Kind.WIDTH,
        new(Spot, (line, low.v)),
        low,
        high,
        measure,
        None if is_plain else text,
        middle,
        tuple(picture),
    )


def _depth(wishes: Sequence[float], places: Sequence[float], letter: float) -> float:
    """Return how deep the zone is in which leaders step aside; 0 when none does."""
    furthest = max([abs(p - w) for p, w in zip(places, wishes, strict=True)], default=0.0)
    if furthest == 0.0:
        return 0.0
    return min(max(letter, furthest / 2.0), _STEEPEST * letter)


def _leader(first: _Bend, turn: _Bend, back: _Bend, last: _Bend) -> Polyline:
    """Return the line through points, without those that are no bend."""
    if turn[0] == back[0] or turn[1] == back[1]:
        straight = (new(Corner, first), new(Corner, last))
        return new(Polyline, (layers.DIMENSION, straight, False))
    path = (new(Corner, first), new(Corner, turn), new(Corner, back), new(Corner, last))
    return new(Polyline, (layers.DIMENSION, path, False))


def _stroke(u: float, v: float, letter: float) -> Line:
    s = STROKE * letter
    return Line(layers.DIMENSION, new(Spot, (u - s, v - s)), new(Spot, (u + s, v + s)))
