"""How long a machine takes for one thing: pure formulas, millimetres, seconds, degrees.

Kinematics of a move that starts and ends at rest under a constant acceleration are those of any
textbook of mechanics; drilling time is length of feed over feed rate, as textbooks of machining
have it. Nothing here knows a machine: figures come from ``figures``.
"""

import math
from typing import Final

SECONDS_PER_MINUTE: Final = 60.0
_MM_PER_M: Final = 1000.0


def move_time_s(distance_mm: float, speed_mm_per_s: float, acceleration_mm_per_s2: float) -> float:
    """Return the time of a move from rest to rest.

    Short moves never reach the greatest speed v: half the way speeding up, half slowing down,
    t = 2 sqrt(s / a) (triangle). From s = v2 / a on it is reached: t = s / v + v / a (trapezoid).
    Speeding up and slowing down go at the same rate.
    """
    distance = abs(distance_mm)
    if distance * acceleration_mm_per_s2 < speed_mm_per_s**2:
        return 2.0 * math.sqrt(distance / acceleration_mm_per_s2)
    return distance / speed_mm_per_s + speed_mm_per_s / acceleration_mm_per_s2


def turns_per_min(cutting_speed_m_per_min: float, diameter_mm: float) -> float:
    """Return the turns in a minute at which a tool's rim has a speed: n = 1000 v / (pi d)."""
    return _MM_PER_M * cutting_speed_m_per_min / (math.pi * diameter_mm)


def point_length_mm(diameter_mm: float, point_angle_deg: float) -> float:
    """Return how far a drill's point stands out before its full diameter; 0 for a flat one.

    Half the diameter over the tangent of half the point's angle: 0.3 d at 118 degrees.
    """
    half = math.radians(point_angle_deg) / 2.0
    return diameter_mm / 2.0 * math.cos(half) / math.sin(half)


def feed_time_s(travel_mm: float, turns: float, feed_mm_per_rev: float) -> float:
    """Return the time of a travel at a feed: its length over turns times feed."""
    return travel_mm / (turns * feed_mm_per_rev) * SECONDS_PER_MINUTE


def drill_travel_mm(
    depth_mm: float, diameter_mm: float, point_angle_deg: float, allowance_mm: float
) -> float:
    """Return how far a drill goes at its feed for one hole.

    The depth, the length of the point until the full diameter is through, and an allowance for
    the start above the steel and the breakthrough below it.
    """
    return depth_mm + point_length_mm(diameter_mm, point_angle_deg) + allowance_mm


def hits_time_s(hits: int, stroke_s: float, between_s: float) -> float:
    """Return the time of some hits of a punch with a move between each and the next."""
    return hits * stroke_s + (hits - 1) * between_s


def oblique_area_mm2(area_mm2: float, left_deg: float, right_deg: float) -> float:
    """Return the area of a bar's section along a cut that is swung on either side.

    A plane x = m y + n z cuts a prism along x in area sqrt(1 + m2 + n2) times its section.
    """
    slopes = math.tan(math.radians(left_deg)), math.tan(math.radians(right_deg))
    return area_mm2 * math.hypot(1.0, *slopes)


def saw_time_s(area_mm2: float, feed_mm2_per_s: float, beside_s: float) -> float:
    """Return the time of a saw cut: area over rate, and what a cut takes besides."""
    return area_mm2 / feed_mm2_per_s + beside_s


def stamp_time_s(letters: int, beside_s: float, letter_s: float) -> float:
    """Return the time of a stamp: each letter, and what a stamp takes besides."""
    return letters * letter_s + beside_s
