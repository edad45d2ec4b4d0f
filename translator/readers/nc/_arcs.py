"""Points with radii to corners with bulges; which way an arc turns, and the tangent test."""

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

ROUNDING_MM: Final = 0.02
"""Radius and half chord are each given to 0.01 mm; a half circle may miss by this much."""

_HALF_CIRCLE_MM: Final = 0.0125
"""A radius that exceeds half the chord by less is that of a half circle, all being rounded."""

_TANGENT_DEG: Final = 1.5
_SHARPEST_DEG: Final = 6.0
"""Arcs that turn less than this are tangent enough either way; they prove nothing."""


class Corner(NamedTuple):
    """A corner in the view or in the model: x, y, and the bulge of the edge that leaves it."""

    x: float
    y: float
    bulge: float


def bulge_of(chord: float, radius: float) -> float | None:
    """Return the unsigned bulge of an arc up to 180 degrees; None when it does not reach."""
    half = chord / 2
    size = abs(radius)
    if size < half + _HALF_CIRCLE_MM:
        return 1.0 if half - size <= ROUNDING_MM else None
    return half / (size + math.sqrt(size * size - half * half))


def turned(chord_deg: float, bulge: float) -> tuple[float, float]:
    """Return the directions in degrees in which an arc leaves its start and meets its end."""
    half = math.degrees(2 * math.atan(bulge))
    return chord_deg - half, chord_deg + half


def tangent_sign(corners: Sequence[tuple[float, float]], bulges: Sequence[float], i: int) -> int:
    """Return which way an arc of a closed contour must turn to be tangent to its neighbours.

    Args:
        corners: the closed contour's corners, without repeats.
        bulges: unsigned bulge of the edge that leaves each corner.
        i: the arc's corner.

    Returns:
        1 for left, -1 for right, 0 when neither or both are tangent to straight neighbours at
        both ends, or when the arc is too short to tell.
    """
    count = len(corners)
    before, behind = (i - 1) % count, (i + 1) % count
    if bulges[before] or bulges[behind] or count < 3:  # noqa: PLR2004 - an arc and two lines
        return 0
    bulge = bulges[i]
    if math.degrees(4 * math.atan(bulge)) < _SHARPEST_DEG:
        return 0
    chord = _direction(corners, i)
    slack = _TANGENT_DEG + math.degrees(ROUNDING_MM / max(_radius(corners, i, bulge), ROUNDING_MM))
    fits = []
    for sign in (1, -1):
        leaves, meets = turned(chord, sign * bulge)
        off = max(
            _apart(leaves, _direction(corners, before)), _apart(meets, _direction(corners, behind))
        )
        if off <= slack:
            fits.append(sign)
    return fits[0] if len(fits) == 1 else 0


def _direction(corners: Sequence[tuple[float, float]], i: int) -> float:
    (ax, ay), (bx, by) = corners[i], corners[(i + 1) % len(corners)]
    return math.degrees(math.atan2(by - ay, bx - ax))


def _radius(corners: Sequence[tuple[float, float]], i: int, bulge: float) -> float:
    (ax, ay), (bx, by) = corners[i], corners[(i + 1) % len(corners)]
    return math.hypot(bx - ax, by - ay) * (1 + bulge * bulge) / (4 * bulge)


def _apart(first: float, second: float) -> float:
    return abs((first - second + 180.0) % 360.0 - 180.0)
