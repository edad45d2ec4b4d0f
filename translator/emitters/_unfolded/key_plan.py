"""The key plan: a small sketch of the piece that shows which leg is which, and the hand.

It is looked at from the front, from above and from the left, so that both outer faces and the
start end show: leg a goes back from the heel, leg b hangs down from it. That is the solid of
the model (leg a's heel-to-toe is +Y, leg b's -Z, both seen from outside).
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from translator.emitters.dxf import _layers as layers
from translator.emitters.dxf._entities import (
    CENTRE,
    RIGHT,
    Box,
    Corner,
    Entity,
    Polyline,
    Spot,
    Text,
)
from translator.geometry.frames import solid_point
from translator.model import Flat, LegName, Part, leg_thickness, leg_width

LETTER_MM: Final = 1.8

_CLEAR_MM: Final = 2.5
_WORDS_MM: Final = 11.0
"""Room for the words left and right of the sketch."""

_BACK: Final = (-0.45, 0.45)
"""Where +Y, away from the eye, goes on paper."""

_LONG: Final = 2.2
"""Length of the sketch, in widths of its widest leg."""

_THINNEST: Final = 0.06
"""A thin piece is sketched a little thicker, in widths of its widest leg."""


def sketched(x: float, y: float, z: float) -> Spot:
    """Return where a point of the solid lies in the sketch, before it is scaled."""
    return Spot(x + _BACK[0] * y, z + _BACK[1] * y)


def key_plan(part: Part, room: Box) -> list[Entity]:
    """Draw the key plan into a room on paper."""
    is_flat = isinstance(part.section, Flat)
    legs: tuple[LegName, ...] = ("face",) if is_flat else ("a", "b")
    widths = {leg: leg_width(part.section, leg) for leg in legs}
    widest = max(widths.values())
    long, thick = _LONG * widest, max(leg_thickness(part.section), _THINNEST * widest)
    faces = {leg: _face(leg, long, width) for leg, width in widths.items()}
    end = _flat_end(widths["face"], thick) if is_flat else _end(widths["a"], widths["b"], thick)
    place = _fitted([*end, *(spot for face in faces.values() for spot in face)], room)
    drawn: list[Entity] = [_ring(map(place, end))]
    drawn += [_ring(map(place, face)) for face in faces.values()]
    for leg, width in widths.items():
        u, v = place(sketched(*solid_point(leg, long / 2.0, width / 2.0)))
        word = "FACE" if is_flat else f"LEG {leg.upper()}"
        drawn.append(Text(layers.NOTE, word, Spot(u, v - LETTER_MM / 2.0), LETTER_MM, align=CENTRE))
    if not is_flat:
        u, v = place(sketched(long, 0.0, 0.0))
        drawn.append(Text(layers.NOTE, "HEEL", Spot(u + 1.0, v - LETTER_MM / 2.0), LETTER_MM))
    # Left of what hangs down; a flat's end runs up to the left, so its word stands lower.
    y = 0.0 if is_flat else widths["b"] / 2.0
    u, v = place(sketched(*solid_point(legs[-1], 0.0, y)))
    start = Spot(u - _CLEAR_MM, v - LETTER_MM * (1.5 if is_flat else 0.5))
    drawn.append(Text(layers.NOTE, "START", start, LETTER_MM, align=RIGHT))
    return drawn


def _face(leg: LegName, long: float, width: float) -> list[Spot]:
    corners = ((0.0, 0.0), (long, 0.0), (long, width), (0.0, width))
    return [sketched(*solid_point(leg, x, y)) for x, y in corners]


def _end(leg_a: float, leg_b: float, thick: float) -> list[Spot]:
    """Return the start end of an angle: six corners from the heel by way of leg a."""
    corners = (
        solid_point("a", 0.0, 0.0),
        solid_point("a", 0.0, leg_a),
        solid_point("a", 0.0, leg_a, thick),
        solid_point("a", 0.0, thick, thick),
        solid_point("b", 0.0, leg_b, thick),
        solid_point("b", 0.0, leg_b),
    )
    return [sketched(*corner) for corner in corners]


def _flat_end(width: float, thick: float) -> list[Spot]:
    corners = ((0.0, 0.0), (width, 0.0), (width, thick), (0.0, thick))
    return [sketched(*solid_point("face", 0.0, y, depth)) for y, depth in corners]


def _ring(spots: Iterable[Spot]) -> Polyline:
    return Polyline(layers.KEY_PLAN, tuple(Corner(*spot) for spot in spots))


def _fitted(spots: Sequence[Spot], room: Box) -> Callable[[Spot], Spot]:
    """Return the placing of a sketch into the middle of a room, with words at either side."""
    left, right = min(s.u for s in spots), max(s.u for s in spots)
    low, high = min(s.v for s in spots), max(s.v for s in spots)
    across = room.right - room.left - 2.0 * _WORDS_MM
    scale = min(across / (right - left), (room.top - room.bottom) / (high - low))
    u = (room.left + room.right - scale * (left + right)) / 2.0
    v = (room.bottom + room.top - scale * (low + high)) / 2.0

    def place(spot: Spot) -> Spot:
        return Spot(u + scale * spot.u, v + scale * spot.v)

    return place
